import type { Goal } from "../assessment";
import { shapeOf } from "../assessment/internal";
import { predict, type Loudspeaker } from "../loudspeaker";
import { logGrid } from "../numeric";
import type { Band } from "../assessment";

/** What of the sound is compared with the target: levels at nodes, each of a weighted sum of |p|² over the frequencies. */
export interface HeardLevels {
  /** Hz, at which |p|² is needed. */
  readonly frequencies: Float64Array;
  /** By node: the first frequency that counts, and the weights from there on, their sum 1. */
  readonly rows: readonly { readonly first: number; readonly weights: Float64Array }[];
  /** What each node counts, their sum 1. */
  readonly shares: Float64Array;
  /** By place and node, dB: the target without its level. */
  readonly shapes: readonly Float64Array[];
}

/** Half a third of an octave, in ln f. */
const HALF = Math.LN2 / 6;
/** Nodes per octave where the loss is of third-octave powers: more than three to a band. */
const NODES = 12;
/** Most frequencies of the finest grid. */
const MOST = 800;

/** Levels at stated frequencies, or of third-octave powers over the band; `most`: at how many frequencies at most. */
export function heardLevels(box: Loudspeaker, goal: Goal, band: Band, distance: number, most: number): HeardLevels {
  const shapesAt = (at: Float64Array) => goal.places.map((place) => at.map(shapeOf(goal, place)));
  if (goal.frequencies !== undefined) {
    const frequencies = thinned(goal.frequencies, most);
    return {
      frequencies,
      rows: Array.from(frequencies, (_, first) => ({ first, weights: Float64Array.of(1) })),
      shares: frequencies.map(() => 1 / frequencies.length),
      shapes: shapesAt(frequencies),
    };
  }
  const { frequencies: all } = predict(box, { places: goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation })) });
  const [low, high] = [band.from * Math.exp(-HALF), band.to * Math.exp(HALF)];
  const [first, last] = [Math.max(0, all.findIndex((f) => f > low) - 1), all.findIndex((f) => f >= high)];
  const frequencies = thinned(all.slice(first, last < 0 ? all.length : last + 1), Math.min(MOST, most));
  const x = frequencies.map(Math.log);
  const octaves = Math.log2(band.to / band.from);
  const nodes = logGrid(band.from, band.to, Math.max(3, Math.ceil(NODES * octaves) + 1));
  const shares = nodes.map((_, i) => (i === 0 || i === nodes.length - 1 ? 0.5 : 1) / (nodes.length - 1));
  return { frequencies, rows: Array.from(nodes, (node) => window(x, Math.log(node))), shares, shapes: shapesAt(nodes) };
}

/** The mean over a third of an octave of what is straight between the points. */
function window(x: Float64Array, at: number): { readonly first: number; readonly weights: Float64Array } {
  const [a, b] = [Math.max(x[0]!, at - HALF), Math.min(x[x.length - 1]!, at + HALF)];
  const all = new Float64Array(x.length);
  let [first, last] = [x.length, 0];
  for (let i = 0; i + 1 < x.length; i++) {
    const [l, r] = [Math.max(a, x[i]!), Math.min(b, x[i + 1]!)];
    if (!(r > l)) continue;
    const middle = (l + r) / 2;
    all[i]! += ((r - l) * (x[i + 1]! - middle)) / (x[i + 1]! - x[i]!) / (b - a);
    all[i + 1]! += ((r - l) * (middle - x[i]!)) / (x[i + 1]! - x[i]!) / (b - a);
    [first, last] = [Math.min(first, i), i + 1];
  }
  return { first, weights: all.slice(first, last + 1) };
}

/** Every so-manieth, the ends included. */
export function thinned(grid: Float64Array, most: number): Float64Array {
  if (grid.length <= most) return grid;
  return Float64Array.from({ length: most }, (_, i) => grid[Math.round((i * (grid.length - 1)) / (most - 1))]!);
}
