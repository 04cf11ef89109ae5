import { element, fragment, pixels, type Markup } from "../markup";
import { haloed, SIZE, textAt } from "../plot-shapes";
import { nodeNames, type Box, type Point } from "./node-names";
import { pixelsOf } from "../text-width";
import { LIGHT } from "../theme";
import type { Piece } from "./pieces";

/** Half the length of a symbol with its leads, px. */
export const HALF = 20;
/** From one line of text to the next, px. */
export const LINE = 16;

/** What is drawn so far, in px. */
export interface Sheet {
  /** A wire along its corners, each straight above or beside the one before. */
  wire(...points: readonly Point[]): void;
  /** A symbol about its centre. `forward`: its first node is at the left, or above. */
  symbol(piece: Piece, x: number, y: number, upright: boolean, forward: boolean): void;
  /** A point at which a node's name may stand. */
  anchor(node: string, x: number, y: number): void;
  terminal(label: string, node: string, x: number, y: number): void;
  markup(): Markup;
}

/** The parts to be marked. */
export interface Marks {
  readonly changed: ReadonlySet<string>;
  readonly reused: ReadonlySet<string>;
}

/** The lines beside a symbol. */
export function linesOf(piece: Piece, marks: Marks): readonly string[] {
  return [...piece.texts, ...(marks.reused.has(piece.part) ? ["reused"] : [])].filter((text) => text !== "");
}

/** Room for the lines, px. */
export function widthOf(lines: readonly string[]): number {
  return Math.ceil(Math.max(...lines.map((line) => pixelsOf(line, SIZE)))) + 8;
}

/** Outlines after IEC 60617 along x: a box for a resistor, half circles for a coil, plates, a box with a horn for a driver, a crossed box for what has no symbol of its own; `HALF` to each side. */
const outlines = {
  resistor: "M-20 0H-13M13 0H20M-13 -5.5H13V5.5H-13Z",
  inductor: "M-20 0H-16A4 4 0 0 1 -8 0A4 4 0 0 1 0 0A4 4 0 0 1 8 0A4 4 0 0 1 16 0H20",
  capacitor: "M-20 0H-3M3 0H20M-3 -10V10M3 -10V10",
  box: "M-20 0H-13M13 0H20M-13 -8H13V8H-13ZM-13 8L13 -8",
  driver: "M-20 0H-9M9 0H20M-9 -6H9V6H-9ZM-9 -6L-16 -17H16L9 -6",
} as const;

export function sheetOf(marks: Marks): Sheet {
  const segments: (readonly [Point, Point])[] = [];
  const ends: Point[] = [];
  const above: Markup[] = [];
  const boxes: Box[] = [];
  const anchors = new Map<string, Point[]>();
  const anchor = (node: string, point: Point): unknown => anchors.set(node, [...(anchors.get(node) ?? []), point]);
  const ink = { class: "dn-stroke", stroke: LIGHT.ink, "stroke-width": 1.5, fill: "none" };
  return {
    wire(...points) {
      for (let k = 1; k < points.length; k++) {
        const [a, b] = [points[k - 1]!, points[k]!];
        if (a[0] !== b[0] || a[1] !== b[1]) segments.push([a, b]);
      }
    },
    symbol(piece, x, y, upright, forward) {
      const [head, tail]: [Point, Point] = upright
        ? [
            [x, y - HALF],
            [x, y + HALF],
          ]
        : [
            [x - HALF, y],
            [x + HALF, y],
          ];
      ends.push(head, tail);
      const [first, second] = forward ? [head, tail] : [tail, head];
      const lines = linesOf(piece, marks);
      const sign = forward ? -1 : 1;
      const dot = upright ? ([x - 9, y + sign * 15] as const) : ([x + sign * 15, y + 9] as const);
      const wide = piece.symbol === "driver" ? 24 : 17;
      const left = upright ? x + wide : x;
      const top = upright ? y + 5 - ((lines.length - 1) * LINE) / 2 : y - (piece.symbol === "driver" ? 24 : 16) - (lines.length - 1) * LINE;
      // Set bold, which is wider.
      const designator = 1.12 * pixelsOf(lines[0]!, SIZE);
      const texts = lines.map((line, k) =>
        textAt(left, top + k * LINE, line, {
          ...(upright ? {} : { "text-anchor": "middle" }),
          ...(k === 0 ? { "font-weight": 600 } : { class: "dn-quiet", fill: LIGHT.quiet }),
        }),
      );
      anchor(forward ? piece.from : piece.to, head);
      anchor(forward ? piece.to : piece.from, tail);
      const half = lines.map((line) => 1.12 * pixelsOf(line, SIZE));
      boxes.push(
        upright ? [x - 14, y - HALF, x + wide, y + HALF] : [x - HALF - 1, y - 18, x + HALF + 1, y + 26],
        ...(upright && piece.symbol === "driver"
          ? ([
              [x - 21, y - 24, x - 6, y - 6],
              [x - 21, y + 8, x - 6, y + 26],
            ] as const)
          : []),
        ...half.map((room, k): Box => [
          (upright ? left : left - room / 2) - 4,
          top + k * LINE - 14,
          (upright ? left + room : left + room / 2) + 4,
          top + k * LINE + 5,
        ]),
      );
      const polarity = (at: Point, text: string): Markup =>
        upright
          ? haloed(at[0] - 13, at[1] + (at === head ? 9 : 1), text, "middle")
          : haloed(at[0] + (at === head ? 4 : -4), at[1] + 19, text, "middle");
      above.push(
        element(
          "g",
          { "data-part": piece.part, "data-ends": [...first, ...second].map(pixels).join(" ") },
          element("path", {
            ...ink,
            d: outlines[piece.symbol],
            transform: `translate(${pixels(x)} ${pixels(y)})${upright ? " rotate(90)" : ""}`,
          }),
          piece.dotted ? [element("circle", { class: "dn-ink", fill: LIGHT.ink, cx: dot[0], cy: dot[1], r: 2.5 })] : [],
          piece.symbol === "driver" ? [polarity(first, "+"), polarity(second, "−")] : [],
          marks.changed.has(piece.part)
            ? [
                element("rect", {
                  ...ink,
                  x: (upright ? left : left - designator / 2) - 3,
                  y: top - 13,
                  width: designator + 6,
                  height: 17,
                  rx: 3,
                }),
              ]
            : [],
          texts,
        ),
      );
    },
    anchor: (node, x, y) => void anchor(node, [x, y]),
    terminal(label, node, x, y) {
      boxes.push([x - 24, y - 24, x + 24, y + 6]);
      above.push(
        element(
          "g",
          { "data-node": node, "data-ends": `${pixels(x)} ${pixels(y)}` },
          element("circle", { class: "dn-stroke dn-fill", stroke: LIGHT.ink, fill: LIGHT.paper, "stroke-width": 1.5, cx: x, cy: y, r: 4 }),
          textAt(x, y - 10, label, { "text-anchor": "middle", "font-weight": 600 }),
        ),
      );
    },
    markup() {
      const d = segments.map(([a, b]) => `M${pixels(a[0])} ${pixels(a[1])}L${pixels(b[0])} ${pixels(b[1])}`).join("");
      const dots = junctions(segments, ends).map(([cx, cy]) => element("circle", { class: "dn-ink", fill: LIGHT.ink, cx, cy, r: 3 }));
      return fragment(element("path", { ...ink, class: "dn-stroke dn-wire", d }), dots, above, nodeNames(anchors, boxes, segments));
    },
  };
}

/** Where wires and symbols leave in three or more directions; wires that only cross have no end there. */
function junctions(segments: readonly (readonly [Point, Point])[], ends: readonly Point[]): Point[] {
  const points = new Map(segments.flat().map((point) => [point.map(pixels).join(" "), point]));
  return Array.from(points.values()).filter(([x, y]) => {
    const directions = new Set<string>();
    const towards = ([px, py]: Point): unknown => directions.add(`${Math.sign(px - x)} ${Math.sign(py - y)}`);
    for (const [a, b] of segments) {
      const onA = a[0] === x && a[1] === y;
      const onB = b[0] === x && b[1] === y;
      const inside = (a[0] === x && b[0] === x && (a[1] - y) * (b[1] - y) < 0) || (a[1] === y && b[1] === y && (a[0] - x) * (b[0] - x) < 0);
      if (onB || inside) towards(a);
      if (onA || inside) towards(b);
    }
    for (let k = 0; k + 1 < ends.length; k += 2) {
      const [head, tail] = [ends[k]!, ends[k + 1]!];
      if (head[0] === x && head[1] === y) towards(tail);
      if (tail[0] === x && tail[1] === y) towards(head);
    }
    return directions.size >= 3;
  });
}
