import type { Hung } from "./ladder-layout";
import type { Piece } from "./pieces";
import { HALF, linesOf, widthOf, type Marks } from "./sheet";

const PORT = 24;
const ROW = 2 * HALF + 32;

/**
 * Any network: each node is a level line, each symbol hangs in a column below the upper of its two nodes; symbols that share no row share a column. Wires may
 * cross lines, but no line and no other column touches a symbol or a text.
 */
export function general(pieces: readonly Piece[], first: string, last: string, marks: Marks): Hung {
  const nodes = levels(pieces, first, last);
  const level = (node: string): number => nodes.indexOf(node);
  const span = ({ from, to }: Piece): readonly [number, number] => [Math.min(level(from), level(to)), Math.max(level(from), level(to))];
  const columns = [...pieces].sort((a, b) => span(a)[0] - span(b)[0] || span(a)[1] - span(b)[1]);
  const { ports, width } = placed(columns.map((piece) => ({ span: span(piece), room: PORT + 28 + widthOf(linesOf(piece, marks)) + 16 })));
  const loops = columns.some(({ from, to }) => from === last && to === last);
  const down = (nodes.length - 1) * ROW;
  const at = (node: string): number[] => columns.flatMap(({ from, to }, k) => (from === node || to === node ? [ports[k]!] : []));
  return {
    width,
    up: 0,
    down: down + (loops ? ROW : 0),
    port: Math.min(...at(first)),
    foot: loops ? width : Math.max(...at(last)),
    draw(sheet, x, y, bottom) {
      const height = (node: string): number => (node === last ? bottom - (loops ? ROW : 0) : y + level(node) * ROW);
      for (const node of nodes) {
        const places = at(node)
          .map((port) => x + port)
          .sort((a, b) => a - b);
        if (places.length === 0) continue;
        sheet.anchor(node, places[0]!, height(node));
        for (let k = 1; k < places.length; k++) sheet.wire([places[k - 1]!, height(node)], [places[k]!, height(node)]);
      }
      if (loops) sheet.wire([x + Math.max(...at(last)), height(last)], [x + width, height(last)], [x + width, bottom]);
      for (const [k, piece] of columns.entries()) {
        const port = x + ports[k]!;
        const forward = level(piece.from) <= level(piece.to);
        const [top, foot] = [height(forward ? piece.from : piece.to), height(forward ? piece.to : piece.from)];
        const centre = top + ROW / 2;
        sheet.wire([port, top], [port, centre - HALF]);
        sheet.symbol(piece, port, centre, true, forward);
        if (top === foot)
          sheet.wire([port, centre + HALF], [port, centre + HALF + 6], [port - 22, centre + HALF + 6], [port - 22, top], [port, top]);
        else sheet.wire([port, centre + HALF], [port, foot]);
      }
    },
  };
}

/** Where each symbol's column is: the first in which no other takes its rows. */
function placed(symbols: readonly { readonly span: readonly [number, number]; readonly room: number }[]): {
  readonly ports: readonly number[];
  readonly width: number;
} {
  const columns: { taken: (readonly [number, number])[]; room: number }[] = [];
  const chosen = symbols.map(({ span: [top, foot], room }) => {
    const end = Math.max(foot, top + 1);
    let index = columns.findIndex(({ taken }) => taken.every(([from, to]) => end <= from || top >= to));
    if (index < 0) index = columns.push({ taken: [], room: 0 }) - 1;
    const column = columns[index]!;
    column.taken.push([top, end]);
    column.room = Math.max(column.room, room);
    return index;
  });
  const starts = [0];
  for (const { room } of columns) starts.push(starts.at(-1)! + room);
  return { ports: chosen.map((index) => starts[index]! + PORT), width: starts.at(-1)! };
}

/** The nodes from the first outwards, the last at the end. */
export function levels(pieces: readonly Piece[], first: string, last: string): string[] {
  const seen = new Set([first]);
  const reach = (): void => {
    for (const node of seen) {
      for (const { from, to } of pieces) {
        if (from === node && to !== last) seen.add(to);
        if (to === node && from !== last) seen.add(from);
      }
    }
  };
  reach();
  for (const { from, to } of pieces) {
    for (const node of [from, to]) if (node !== last) seen.add(node);
    reach();
  }
  return [...seen, last];
}
