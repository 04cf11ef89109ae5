import { pixelsOf } from "../text-width";
import { general, levels } from "./general-layout";
import type { Hung } from "./ladder-layout";
import type { Piece } from "./pieces";
import type { Marks, Sheet } from "./sheet";

/** Px between two strips, and from the flag of a node to the first symbol. */
const [GAP, REACH] = [46, 26];

/** A drawing in several strips below each other. */
export interface Strips {
  readonly width: number;
  readonly height: number;
  /** Draws with the first line at `y`; `left` is where flags begin. */
  draw(sheet: Sheet, left: number, y: number): void;
}

/**
 * A network that is too wide for one drawing, in strips: each is a drawing of its own, and a node that is in several has a flag with its name in each.
 */
export function strips(pieces: readonly Piece[], marks: Marks, room: number, fontSize: number): Strips {
  const order = levels(pieces, "in", "gnd");
  const span = ({ from, to }: Piece): readonly number[] => [order.indexOf(from), order.indexOf(to)].sort((a, b) => a - b);
  const sorted = [...pieces].sort((a, b) => span(a)[0]! - span(b)[0]! || span(a)[1]! - span(b)[1]!);
  const flag = Math.max(48, ...order.map((node) => Math.ceil(1.12 * pixelsOf(node, fontSize))));
  const block = (group: readonly Piece[]): Hung => {
    const nodes = order.filter((node) => group.some(({ from, to }) => from === node || to === node));
    return general(group, nodes[0]!, nodes.at(-1)!, marks);
  };
  const groups: Piece[][] = [];
  for (const piece of sorted) {
    const group = groups.at(-1);
    if (group !== undefined && flag + REACH + block([...group, piece]).width <= room) group.push(piece);
    else groups.push([piece]);
  }
  const blocks = groups.map((group) => block(group));
  const holds = (group: readonly Piece[], node: string): boolean => group.some(({ from, to }) => from === node || to === node);
  return {
    width: flag + REACH + Math.max(...blocks.map(({ width }) => width)),
    height: blocks.reduce((sum, { down }) => sum + down, GAP * (blocks.length - 1)),
    draw(sheet, left, y) {
      let top = y;
      for (const [index, one] of blocks.entries()) {
        const lines = new Map<string, readonly [number, number]>();
        const seen: Sheet = {
          ...sheet,
          anchor: (node, x, height) => {
            if (!lines.has(node)) lines.set(node, [x, height]);
            sheet.anchor(node, x, height);
          },
        };
        one.draw(seen, left + flag + REACH, top, top + one.down);
        for (const [node, [x, height]] of lines) {
          const elsewhere = groups.some((group, other) => other !== index && holds(group, node));
          if (!elsewhere && node !== "in" && node !== "gnd") continue;
          const at = left + flag / 2;
          sheet.wire([at, height], [x, height]);
          sheet.terminal(node, node, at, height);
        }
        top += one.down + GAP;
      }
    },
  };
}
