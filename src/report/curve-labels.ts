import type { Run } from "./polyline";
import { pixelsOf } from "./text-width";
import { largest } from "./value-axis";

/** A label set beside the curve it names. */
export interface PlacedLabel {
  readonly index: number;
  /** Left end and middle of the text, px. */
  readonly x: number;
  readonly y: number;
  /** From the curve to the text, px: x, y, x, y. */
  readonly leader: readonly [number, number, number, number];
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const LINE = 13.5;
/** More curves than this that end inside the plot get a legend: searching a place for each would not end well. */
const MOST_INSIDE = 8;

/**
 * Places a label at the end of each curve: those that end at the right in one column, moved apart where they would
 * touch, those that leave the plot elsewhere beside their end, where nothing else is in the way.
 *
 * @returns the labels, or `undefined` when they cannot all be placed; with `thin`, those that fit
 */
export function placeLabels(
  labels: readonly string[],
  curves: readonly (readonly Run[])[],
  width: number,
  height: number,
  fontSize: number,
  thin: boolean,
): readonly PlacedLabel[] | undefined {
  const ends = curves.map((runs) => lastPoint(runs, height));
  const drawn = ends.flatMap((end, index) => (end === undefined ? [] : [{ index, end }]));
  const edge = largest(
    drawn.filter(({ end }) => end.kind === "stops").map(({ end }) => end.x),
    0,
  );
  const atEdge = drawn
    .filter(({ end }) => end.kind === "stops" && end.x > edge - 24)
    .sort((a, b) => a.end.y - b.end.y || a.index - b.index);
  const inside = drawn.filter((item) => !atEdge.includes(item));

  // Thinned labels are every second, third… of the list counted from its last, so that the steps between them are equal.
  const room = Math.max(1, Math.floor(height / LINE));
  let column = atEdge;
  if (atEdge.length > room) {
    if (!thin) return undefined;
    for (let every = 2; column.length > room; every++) column = atEdge.filter(({ index }) => (labels.length - 1 - index) % every === 0);
  }
  const rows = spread(
    column.map(({ end }) => end.y),
    LINE,
    LINE / 2,
    height - LINE / 2,
  );
  const placed: PlacedLabel[] = column.map(({ index, end }, place) => {
    const y = rows[place]!;
    return { index, x: edge + 18, y, leader: [end.x + 2, end.y, edge + 15, y] };
  });

  if (inside.length > MOST_INSIDE && !thin) return undefined;
  const boxes = placed.map((label) => boxOf(label.x, label.y, pixelsOf(labels[label.index]!, fontSize)));
  for (const { index, end } of inside.slice(0, MOST_INSIDE)) {
    const label = beside(index, pixelsOf(labels[index]!, fontSize), end, curves, boxes, width, height);
    if (label === undefined) {
      if (thin) continue;
      return undefined;
    }
    placed.push(label);
    boxes.push(boxOf(label.x, label.y, pixelsOf(labels[index]!, fontSize)));
  }
  return placed;
}

interface End {
  readonly x: number;
  readonly y: number;
  /** Whether the curve's data stop there, or it leaves the plot at the top or bottom. */
  readonly kind: "stops" | "leaves";
}

/** The last point of a curve that is inside of the plot, with the place where it leaves interpolated. */
function lastPoint(runs: readonly Run[], height: number): End | undefined {
  const visible = (y: number): boolean => y >= 0 && y <= height;
  for (let r = runs.length - 1; r >= 0; r--) {
    const run = runs[r]!;
    for (let i = run.length - 2; i >= 0; i -= 2) {
      const x = run[i]!;
      const y = run[i + 1]!;
      if (!visible(y)) continue;
      if (i === run.length - 2) return { x, y, kind: "stops" };
      const nextY = run[i + 3]!;
      const bound = nextY > height ? height : 0;
      return { x: x + ((run[i + 2]! - x) * (bound - y)) / (nextY - y), y: bound, kind: "leaves" };
    }
  }
  return undefined;
}

/**
 * Moves sorted positions apart until neighbours are at least `gap` from each other, by as little as possible in the
 * sense of least squares, and keeps them within `low`…`high`.
 */
export function spread(positions: readonly number[], gap: number, low: number, high: number): number[] {
  const blocks: { sum: number; count: number }[] = [];
  for (const [index, position] of positions.entries()) {
    blocks.push({ sum: position - index * gap, count: 1 });
    while (blocks.length > 1) {
      const last = blocks[blocks.length - 1]!;
      const before = blocks[blocks.length - 2]!;
      if (before.sum / before.count <= last.sum / last.count) break;
      blocks.splice(-2, 2, { sum: before.sum + last.sum, count: before.count + last.count });
    }
  }
  const top = Math.max(low, high - (positions.length - 1) * gap);
  const means = blocks.flatMap(({ sum, count }) => new Array<number>(count).fill(sum / count));
  return means.map((mean, index) => Math.min(top, Math.max(low, mean)) + index * gap);
}

function boxOf(x: number, y: number, textWidth: number): Box {
  return { left: x - 2, right: x + textWidth + 2, top: y - LINE / 2, bottom: y + LINE / 2 };
}

/** A free place for a label around the end of a curve that does not reach the right edge. */
function beside(
  index: number,
  textWidth: number,
  end: End,
  curves: readonly (readonly Run[])[],
  boxes: readonly Box[],
  width: number,
  height: number,
): PlacedLabel | undefined {
  for (const rise of [0, 14, 28, 42, 60, 80]) {
    for (const shift of [10, 22, -(textWidth + 10), -(textWidth + 22), 40, -(textWidth + 40)]) {
      const inward = end.y > height / 2 ? -1 : 1;
      const x = end.x + shift;
      const y = Math.max(LINE, Math.min(height - LINE, end.y + inward * (rise + (end.kind === "leaves" ? LINE : 0))));
      const box = boxOf(x, y, textWidth);
      if (box.left < 2 || box.right > width - 2 || boxes.some((other) => overlap(box, other))) continue;
      if (curves.some((runs) => runs.some((run) => crosses(run, box)))) continue;
      const near = nearestOnCurve(curves[index]!, end, y);
      const side = near[0] < x ? x - 3 : x + textWidth + 3;
      return { index, x, y, leader: [near[0], near[1], side, y] };
    }
  }
  return undefined;
}

/** The point of a curve, among those just before its end, that is nearest in height to a label. */
function nearestOnCurve(runs: readonly Run[], end: End, y: number): readonly [number, number] {
  let best: readonly [number, number] = [end.x, end.y];
  for (const run of runs) {
    for (let i = 0; i < run.length; i += 2) {
      const x = run[i]!;
      if (x > end.x || x < end.x - 60) continue;
      if (Math.abs(run[i + 1]! - y) < Math.abs(best[1] - y)) best = [x, run[i + 1]!];
    }
  }
  return best;
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Whether any segment of a run passes through a box. */
function crosses(run: Run, box: Box): boolean {
  for (let i = 0; i < run.length; i += 2) {
    const x = run[i]!;
    const y = run[i + 1]!;
    const nextX = run[i + 2] ?? x;
    const nextY = run[i + 3] ?? y;
    if (nextX < box.left || x > box.right) continue;
    const at = (edge: number): number => (nextX === x ? y : y + ((nextY - y) * (Math.min(Math.max(edge, x), nextX) - x)) / (nextX - x));
    const a = nextX === x ? y : at(box.left);
    const b = nextX === x ? nextY : at(box.right);
    if (Math.max(a, b) >= box.top && Math.min(a, b) <= box.bottom) return true;
  }
  return false;
}
