import type { Goal, GoalLoss } from "../assessment";
import { heardWithPartner, shapeOf } from "../assessment/internal";
import { predict, type Loudspeaker } from "../loudspeaker";
import { logGrid } from "../numeric";

/** What of the sound is compared with the target: levels at nodes, each of a weighted sum of |p|² over the frequencies. */
export interface HeardLevels {
  /** Hz, at which |p|² is needed. */
  readonly frequencies: Float64Array;
  /** By place, the band of frequencies that was measured there: the first, and the one after the last. */
  readonly known: readonly { readonly first: number; readonly end: number }[];
  /** By place and node: the first frequency that counts, and the weights from there on, their sum 1. A place has its nodes in its own band. */
  readonly rows: readonly (readonly { readonly first: number; readonly weights: Float64Array }[])[];
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

/** Levels at stated frequencies, or of third-octave powers over each place's band; `most`: at how many frequencies at most. */
export function heardLevels(box: Loudspeaker, goal: Goal, { distance, places }: GoalLoss, most: number): HeardLevels {
  if (goal.frequencies !== undefined) {
    const frequencies = thinned(goal.frequencies, most);
    return {
      frequencies,
      known: places.map(() => ({ first: 0, end: frequencies.length })),
      rows: places.map(() => Array.from(frequencies, (_, first) => ({ first, weights: Float64Array.of(1) }))),
      shares: frequencies.map(() => 1 / frequencies.length),
      shapes: goal.places.map((place) => frequencies.map(shapeOf(goal, place))),
    };
  }
  const { frequencies: all, places: heard } = predict(box, {
    places: goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation })),
  });
  const low = Math.min(...places.map(({ band }) => band.from)) * Math.exp(-HALF);
  const high = Math.max(...places.map(({ band }) => band.to)) * Math.exp(HALF);
  const [first, last] = [Math.max(0, all.findIndex((f) => f > low) - 1), all.findIndex((f) => f >= high)];
  const frequencies = thinned(all.slice(first, last < 0 ? all.length : last + 1), Math.min(MOST, most));
  const octaves = Math.max(...places.map(({ band }) => Math.log2(band.to / band.from)));
  const count = Math.max(3, Math.ceil(NODES * octaves) + 1);
  const own = places.map(({ band }, k) => {
    const { frequencies: measured } = heardWithPartner(goal, goal.places[k]!, heard[k]!.sum);
    const beyond = frequencies.findIndex((f) => f > measured[measured.length - 1]!);
    const known = { first: frequencies.findIndex((f) => f >= measured[0]!), end: beyond < 0 ? frequencies.length : beyond };
    const x = frequencies.subarray(known.first, known.end).map(Math.log);
    const nodes = logGrid(band.from, band.to, count);
    return {
      known,
      rows: Array.from(nodes, (node) => {
        const { first: at, weights } = window(x, Math.log(node));
        return { first: known.first + at, weights };
      }),
      shapes: nodes.map(shapeOf(goal, goal.places[k]!)),
    };
  });
  return {
    frequencies,
    known: own.map(({ known }) => known),
    rows: own.map(({ rows }) => rows),
    shares: Float64Array.from({ length: count }, (_, i) => (i === 0 || i === count - 1 ? 0.5 : 1) / (count - 1)),
    shapes: own.map(({ shapes }) => shapes),
  };
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
