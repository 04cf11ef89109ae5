import type { BandCell } from "./band-cells";
import type { BranchTable } from "./branch-table";
import { leastDistance } from "./least-distance";
import { SLACK, type Heard, type LossBound } from "./heard";
import { magnitudes, NodeSums } from "./node-sums";
import type { StateTree } from "./state-tree";

/** The frequencies known at a place, and the cells of its judged band over them. */
export interface PlaceBand {
  readonly first: number;
  /** One after the last. */
  readonly end: number;
  readonly cells: readonly BandCell[];
}

/** Level (ln) that stands for silence. */
const SILENT = -500;
/** From here on, relative to a cell's power, its levels may be too unlike to be bounded from their mean. */
const UNLIKE = 0.75;

/**
 * Bounds of the loss of third-octave powers, in units of ln² amplitude: of each part of each place's band, between which numbers the mean level lies; the square of a mean is no more than the mean of squares. The mean of levels lies
 * below the level of the mean power (Jensen), and above it less what their variance can take away. Also of single states it is a bound: their loss is `lossOf`'s.
 *
 * @param silence what counts as silence, in squares of the heard pressures, by place
 * @param truth of single states: the loss itself
 */
export function bandBound(
  heard: Heard,
  bands: readonly PlaceBand[],
  silence: readonly number[],
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  truth: (nodes: Int32Array, at: number) => number,
): LossBound {
  const { points: n, weights, fixed, offsets, perVolt, constant, beside, source, loads, leastLevel, axis, leastAxis } = heard;
  const K = weights.length;
  const sums = new NodeSums(heard, tables, trees);
  const { voltages, voltagesAt, radii, radiiAt } = sums;
  const C = voltages.length;
  const absolute = magnitudes(perVolt);
  const [low, high, step] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  const most = bands.reduce((sum, { cells }) => sum + cells.length, 0);
  const [lows, highs, shares] = [new Float64Array(most), new Float64Array(most), new Float64Array(most)];
  /** 1 + Z·Y by frequency: re, im, radius; what it may be at least and at most. */
  const behind = Float64Array.from({ length: 5 * n }, (_, i) => (i % 5 === 0 || i % 5 > 2 ? 1 : 0));
  const one = new Float64Array(3);
  const throughSource = (): boolean => {
    if (source === undefined) return true;
    for (let f = 0; f < n; f++) {
      sums.throughSource(f, one);
      const [re, im, r] = [one[0]!, one[1]!, one[2]!];
      const middle = Math.hypot(re, im);
      behind.set([re, im, r, middle - r, middle + r], 5 * f);
      if (!(middle - r > 0)) return false;
    }
    return true;
  };
  /** Between which squares |p|² lies at a place's frequencies, and what lies between neighbours. */
  const hear = (k: number, first: number, end: number): void => {
    for (let f = first; f < end; f++) {
      const i = f * K + k;
      let re = constant[2 * i]!;
      let im = constant[2 * i + 1]!;
      let r = 0;
      if (beside !== undefined) {
        const [br, bi] = [beside[2 * i]!, beside[2 * i + 1]!];
        re += br * behind[5 * f]! - bi * behind[5 * f + 1]!;
        im += bi * behind[5 * f]! + br * behind[5 * f + 1]!;
        r += Math.hypot(br, bi) * behind[5 * f + 2]!;
      }
      for (let c = 0; c < C; c++) {
        const [array, h] = [voltages[c]!, voltagesAt[c]! + 2 * f];
        const [hr, hi] = [array[h]!, array[h + 1]!];
        const p = i * C + c;
        re += perVolt[2 * p]! * hr - perVolt[2 * p + 1]! * hi;
        im += perVolt[2 * p]! * hi + perVolt[2 * p + 1]! * hr;
        r += absolute[p]! * radii[c]![radiiAt[c]! + f]!;
      }
      const middle = Math.sqrt(re * re + im * im);
      const a = middle > r ? (middle - r) / behind[5 * f + 4]! : 0;
      const b = (middle + r) / behind[5 * f + 3]!;
      low[f] = a * a * (1 - 1e-13);
      high[f] = b * b * (1 + 1e-13);
    }
    for (let f = first; f + 1 < end; f++) {
      const [up, down] = [high[f + 1]! - low[f]!, high[f]! - low[f + 1]!];
      step[f] = up > down ? up : down;
    }
    step[end - 1] = 0;
  };

  const below = (nodes: Int32Array, nodesAt: number, enough = Infinity): number => {
    sums.place(nodes, nodesAt);
    if (loads > 0 && sums.overloaded()) return Infinity;
    if (!throughSource()) return 0;
    let [loss, level, count] = [0, 0, 0];
    for (let k = 0; k < K; k++) {
      const { first: from, end, cells } = bands[k]!;
      hear(k, from, end);
      let own = offsets[k]!;
      for (const cell of cells) {
        const { weights: counts, strays, ends, apart, beyond, shape } = cell;
        const first = from + cell.first;
        let [least, largest, stray] = [0, 0, 0];
        for (let i = 0; i < counts.length; i++) {
          least += counts[i]! * low[first + i]!;
          largest += counts[i]! * high[first + i]!;
          stray += strays[i]! * step[first + i]!;
        }
        largest = (largest + stray) * (1 + 1e-12) + silence[k]!;
        least = (least - stray) * (1 - 1e-12);
        const upper = Math.max(SILENT, 0.5 * Math.log(largest)) - shape;
        let lower = SILENT;
        if (least > 0) {
          let [floor, top, steepest] = [Infinity, 0, 0];
          for (let e = 0; e < ends.length; e++) {
            const [i0, i1] = ends[e]!;
            for (let i = from + i0; i < from + i1; i++) {
              if (low[i]! < floor) floor = low[i]!;
              if (high[i]! > top) top = high[i]!;
            }
            const last = Math.min(end - 1, from + i1 + 2);
            for (let i = Math.max(from, from + i0 - 3); i < last; i++) if (step[i]! > steepest) steepest = step[i]!;
          }
          const half = (apart * (top - floor + beyond * steepest)) / least;
          // ln(1 + z) is at least z less z²/2(1 + u) for any z of at least u below 0.
          if (2 * half < UNLIKE) lower = Math.max(SILENT, 0.5 * (Math.log(least) - (0.5 * half * half) / (1 - 2 * half)) - shape);
        }
        const share = weights[k]! * cell.share;
        own += cell.share * upper;
        if (fixed[k]!) {
          const d = lower > 0 ? lower : upper < 0 ? upper : 0;
          loss += share * d * d;
        } else {
          lows[count] = lower;
          highs[count] = upper;
          shares[count++] = share;
        }
      }
      if (k === axis && own < leastAxis - SLACK) return Infinity;
      level += weights[k]! * own;
      if (k + 1 < K || leastLevel === -Infinity) {
        const some = loss + leastDistance(lows, highs, shares, count);
        if (some >= enough || k + 1 === K) return some;
      }
    }
    if (level < leastLevel - SLACK) return Infinity;
    return loss + leastDistance(lows, highs, shares, count);
  };

  return {
    below,
    exact(nodes, at, enough = Infinity) {
      for (let g = 0; g < tables.length; g++) if (tables[g]!.beyond[-1 - nodes[at + g]!] === 1) return Infinity;
      const bound = below(nodes, at, enough);
      return bound >= enough ? bound : truth(nodes, at);
    },
    beyond(nodes, at) {
      sums.place(nodes, at);
      return loads > 0 ? Math.max(0, sums.overload() - 1 - SLACK) : 0;
    },
  };
}
