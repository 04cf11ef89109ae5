import { element, type Markup } from "../markup";
import { pixelsOf } from "../text-width";
import { LIGHT } from "../theme";

export type Point = readonly [x: number, y: number];
/** Left, top, right, bottom, px. */
export type Box = readonly [number, number, number, number];

/** Size of a node's name, px; smaller than a designator, and slanted, so that nobody takes it for one. */
const SIZE = 11;
const HEIGHT = 11;
/** More names than this would be looked for in vain, and for long. */
const MOST = 120;

/** The name of each inner node beside one of its points, where nothing else stands: what finds no room isn't named. */
export function nodeNames(
  anchors: ReadonlyMap<string, readonly Point[]>,
  boxes: readonly Box[],
  segments: readonly (readonly [Point, Point])[],
): Markup[] {
  const taken: Box[] = [
    ...boxes,
    ...segments.map(([a, b]): Box => [
      Math.min(a[0], b[0]) - 2,
      Math.min(a[1], b[1]) - 2,
      Math.max(a[0], b[0]) + 2,
      Math.max(a[1], b[1]) + 2,
    ]),
  ];
  if (anchors.size > MOST || taken.length === 0) return [];
  const limits = taken.reduce<Box>(
    (whole, box) => [Math.min(whole[0], box[0]), Math.min(whole[1], box[1]), Math.max(whole[2], box[2]), Math.max(whole[3], box[3])],
    taken[0]!,
  );
  const inside = (box: Box): boolean => box[0] >= limits[0] && box[1] >= limits[1] && box[2] <= limits[2] && box[3] <= limits[3];
  return Array.from(anchors).flatMap(([node, points]) => {
    if (node === "in" || node === "gnd") return [];
    const width = Math.ceil(1.05 * pixelsOf(node, SIZE)) + 1;
    for (const [x, y] of points) {
      for (const box of around(x, y, width)) {
        if (!inside(box) || taken.some((other) => box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3]))
          continue;
        taken.push(box);
        return [
          element(
            "text",
            { class: "dn-quiet", fill: LIGHT.quiet, "font-size": SIZE, "font-style": "italic", x: box[0], y: box[3] - 2 },
            node,
          ),
        ];
      }
    }
    return [];
  });
}

/** The four places beside a point: above first. */
function around(x: number, y: number, width: number): readonly Box[] {
  const [above, below] = [
    [y - HEIGHT - 3, y - 3],
    [y + 3, y + HEIGHT + 3],
  ] as const;
  return [
    [x - 3 - width, ...above, x - 3],
    [x + 3, ...above, x + 3 + width],
    [x - 3 - width, ...below, x - 3],
    [x + 3, ...below, x + 3 + width],
  ].map(([left, top, bottom, right]): Box => [left!, top!, right!, bottom!]);
}
