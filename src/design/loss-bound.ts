import type { BranchTable } from "./branch-table";
import { humpCheck, type OuterHeard } from "./hump-check";
import type { StateTree } from "./state-tree";

/** What is heard, at n frequencies and K places; the target's shape and any stated level are divided out of all pressures. */
export interface Heard {
  readonly points: number;
  /** Weights of the places, their sum 1. */
  readonly weights: Float64Array;
  /** Whether the place's target has a stated level: 0 then, after the division. */
  readonly fixed: readonly boolean[];
  /** ln of the level that was divided out, by place. */
  readonly offsets: Float64Array;
  /** Per volt at a channel's terminals, with the channel's sign: [frequency][place][channel], re and im in turn. */
  readonly perVolt: Float64Array;
  /** What the branches without choices give per volt at `in`: [frequency][place]. */
  readonly constant: Float64Array;
  /** What is heard beside the network: [frequency][place]. */
  readonly beside: Float64Array | undefined;
  /** Ω of the source, by frequency. */
  readonly source: { readonly re: Float64Array; readonly im: Float64Array } | undefined;
  /** S of the branches without choices: on the frequencies (behind a source), then on the load's. */
  readonly constantAdmittance: Float64Array;
  /** Frequencies of the load. */
  readonly loads: number;
  /** S: the largest input admittance allowed. */
  readonly largestAdmittance: number;
  /** ln of the least mean level. */
  readonly leastLevel: number;
  /** Which place is the axis, −1 where none is, and the ln of the least mean level there. */
  readonly axis: number;
  readonly leastAxis: number;
}

/** Bounds and exact values of the loss of states together, in units of ln² amplitude. */
export interface LossBound {
  /** A value that no choice of states below the nodes undercuts; Infinity where every one of them breaks a limit. Above `enough` any such value will do. */
  readonly below: (nodes: Int32Array, at: number, enough?: number) => number;
  /** The loss of single states, Infinity beyond a limit. Nodes must be leaves. What is `enough` or more isn't held to every limit. */
  readonly exact: (nodes: Int32Array, at: number, enough?: number) => number;
}

/** Level (ln) that stands for silence. */
const SILENT = -500;
/** Rounding that limits are widened by. */
const SLACK = 1e-9;

export function lossBound(
  heard: Heard,
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  outer: OuterHeard | undefined,
  unspared?: (nodes: Int32Array, at: number) => boolean,
): LossBound {
  const tooHigh = outer === undefined ? undefined : humpCheck(outer, tables, heard.fixed);
  const {
    points: n,
    weights,
    fixed,
    offsets,
    perVolt,
    constant,
    beside,
    source,
    constantAdmittance,
    loads,
    largestAdmittance,
    leastLevel,
    axis,
    leastAxis,
  } = heard;
  const [G, K] = [tables.length, weights.length];
  const channelCount = tables.reduce((sum, { channels }) => sum + channels.length, 0);
  const size = perVolt.length >> 1;
  const absolute = new Float64Array(size);
  for (let i = 0; i < size; i++) absolute[i] = Math.hypot(perVolt[2 * i]!, perVolt[2 * i + 1]!) * (1 + 1e-15);
  const besideSize =
    beside === undefined
      ? undefined
      : Float64Array.from({ length: n * K }, (_, i) => Math.hypot(beside[2 * i]!, beside[2 * i + 1]!) * (1 + 1e-15));
  const widths = tables.map(({ width }) => width);
  const most = Math.max(1, ...widths);
  const zero = new Float64Array(most);
  // Of each branch: where the numbers of its node stand.
  const arrays: Float64Array[] = tables.map(({ table }) => table);
  const spreads: Float64Array[] = tables.map(() => zero);
  const [arrayAt, spreadAt] = [new Int32Array(G), new Int32Array(G)];
  const channelBranch = Int32Array.from(tables.flatMap(({ channels }, g) => channels.map(() => g)));
  const channelPlace = Int32Array.from(tables.flatMap(({ channels }) => channels.map((_, c) => c * n)));
  const sourceAt = Int32Array.from(tables, ({ channels }) => channels.length * n);
  const loadAt = Int32Array.from(tables, ({ width }) => width - loads);
  const now = new Float64Array(3 * channelCount);
  const inside = new Float64Array(K);
  const [lows, highs] = [new Float64Array(n * K), new Float64Array(n * K)];
  const shares = Float64Array.from({ length: n * K }, (_, i) => weights[i % K]! / n);
  const [anyFree, anyFixed] = [fixed.some((is) => !is), fixed.some((is) => is)];
  const order = spreadOrder(n);
  const [firstLook, secondLook] = n >= 12 ? [(n >> 2) - 1, (n >> 1) - 1] : [-1, -1];
  const levelled = leastLevel > -Infinity;
  const cutAdmittance = largestAdmittance * (1 + SLACK);
  const cutLevel = leastLevel - SLACK;
  const axial = axis >= 0 && leastAxis > -Infinity;
  const cutAxis = axial ? n * (leastAxis - SLACK - offsets[axis]!) : -Infinity;
  /** Centre of 1 + Z·Y: re, im, radius. */
  const behind = new Float64Array(3);

  const place = (nodes: Int32Array, at: number): void => {
    for (let g = 0; g < G; g++) {
      const node = nodes[at + g]!;
      if (node < 0) {
        arrays[g] = tables[g]!.table;
        arrayAt[g] = (-1 - node) * 2 * widths[g]!;
        spreads[g] = zero;
        spreadAt[g] = 0;
      } else {
        arrays[g] = trees[g]!.centres;
        arrayAt[g] = node * 2 * widths[g]!;
        spreads[g] = trees[g]!.radii;
        spreadAt[g] = node * widths[g]!;
      }
    }
  };
  const overloaded = (): boolean => {
    const from = constantAdmittance.length - 2 * loads;
    for (let j = 0; j < loads; j++) {
      let re = constantAdmittance[from + 2 * j]!;
      let im = constantAdmittance[from + 2 * j + 1]!;
      let r = 0;
      for (let g = 0; g < G; g++) {
        const at = loadAt[g]! + j;
        re += arrays[g]![arrayAt[g]! + 2 * at]!;
        im += arrays[g]![arrayAt[g]! + 2 * at + 1]!;
        r += spreads[g]![spreadAt[g]! + at]!;
      }
      if (re * re + im * im > (cutAdmittance + r) * (cutAdmittance + r)) return true;
    }
    return false;
  };
  const throughSource = (f: number): void => {
    let re = constantAdmittance[2 * f]!;
    let im = constantAdmittance[2 * f + 1]!;
    let r = 0;
    for (let g = 0; g < G; g++) {
      const at = sourceAt[g]! + f;
      re += arrays[g]![arrayAt[g]! + 2 * at]!;
      im += arrays[g]![arrayAt[g]! + 2 * at + 1]!;
      r += spreads[g]![spreadAt[g]! + at]!;
    }
    const zr = source!.re[f]!;
    const zi = source!.im[f]!;
    behind[0] = 1 + zr * re - zi * im;
    behind[1] = zr * im + zi * re;
    behind[2] = r * Math.sqrt(zr * zr + zi * zi) * (1 + 1e-12);
  };

  const exact = (nodes: Int32Array, nodesAt: number, enough = Infinity): number => {
    for (let g = 0; g < G; g++) if (tables[g]!.beyond[-1 - nodes[nodesAt + g]!] === 1) return Infinity;
    place(nodes, nodesAt);
    if (loads > 0 && overloaded()) return Infinity;
    let sum = 0;
    let weight = 0;
    let level = 0;
    let onAxis = 0;
    let loss = 0;
    for (let f = 0; f < n; f++) {
      let lnBehind = 0;
      if (source !== undefined) {
        throughSource(f);
        lnBehind = 0.5 * Math.log(behind[0]! * behind[0]! + behind[1]! * behind[1]!);
      }
      for (let k = 0; k < K; k++) {
        const i = f * K + k;
        let re = constant[2 * i]!;
        let im = constant[2 * i + 1]!;
        if (beside !== undefined) {
          re += beside[2 * i]! * (source === undefined ? 1 : behind[0]!) - (source === undefined ? 0 : beside[2 * i + 1]! * behind[1]!);
          im += beside[2 * i + 1]! * (source === undefined ? 1 : behind[0]!) + (source === undefined ? 0 : beside[2 * i]! * behind[1]!);
        }
        for (let c = 0; c < channelCount; c++) {
          const g = channelBranch[c]!;
          const at = arrayAt[g]! + 2 * (channelPlace[c]! + f);
          const hr = arrays[g]![at]!;
          const hi = arrays[g]![at + 1]!;
          const p = 2 * (i * channelCount + c);
          re += perVolt[p]! * hr - perVolt[p + 1]! * hi;
          im += perVolt[p]! * hi + perVolt[p + 1]! * hr;
        }
        const square = re * re + im * im;
        if (!(square > 0)) return Infinity;
        const value = 0.5 * Math.log(square) - lnBehind;
        lows[i] = value;
        if (k === axis) onAxis += value;
        level += shares[i]! * (value + offsets[k]!);
        if (!fixed[k]!) {
          sum += shares[i]! * value;
          weight += shares[i]!;
        }
      }
    }
    if ((levelled && level < cutLevel) || (axial && onAxis < cutAxis)) return Infinity;
    const mean = weight > 0 ? sum / weight : 0;
    for (let i = 0; i < n * K; i++) {
      const d = lows[i]! - (fixed[i % K]! ? 0 : mean);
      loss += shares[i]! * d * d;
    }
    if (loss >= enough) return loss;
    if (unspared?.(nodes, nodesAt) === true) return Infinity;
    if (tooHigh === undefined) return loss;
    inside.fill(-Infinity);
    for (let i = 0; i < n * K; i++) inside[i % K] = Math.max(inside[i % K]!, lows[i]!);
    return tooHigh(nodes, nodesAt, inside, mean) ? Infinity : loss;
  };

  const below = (nodes: Int32Array, nodesAt: number, enough = Infinity): number => {
    place(nodes, nodesAt);
    if (loads > 0 && overloaded()) return Infinity;
    let loss = 0;
    let level = 0;
    let onAxis = 0;
    let guess = 0;
    let weight = 0;
    let tallestLow = -Infinity;
    let lowestHigh = Infinity;
    for (let turn = 0; turn < n; turn++) {
      const f = order[turn]!;
      for (let c = 0; c < channelCount; c++) {
        const g = channelBranch[c]!;
        const inside = channelPlace[c]! + f;
        now[3 * c] = arrays[g]![arrayAt[g]! + 2 * inside]!;
        now[3 * c + 1] = arrays[g]![arrayAt[g]! + 2 * inside + 1]!;
        now[3 * c + 2] = spreads[g]![spreadAt[g]! + inside]!;
      }
      let least = 1;
      let largest = 1;
      if (source !== undefined) {
        throughSource(f);
        const middle = Math.sqrt(behind[0]! * behind[0]! + behind[1]! * behind[1]!);
        least = middle - behind[2]!;
        largest = middle + behind[2]!;
      }
      for (let k = 0; k < K; k++) {
        const i = f * K + k;
        let re = constant[2 * i]!;
        let im = constant[2 * i + 1]!;
        let r = 0;
        if (beside !== undefined) {
          re += beside[2 * i]! * (source === undefined ? 1 : behind[0]!) - (source === undefined ? 0 : beside[2 * i + 1]! * behind[1]!);
          im += beside[2 * i + 1]! * (source === undefined ? 1 : behind[0]!) + (source === undefined ? 0 : beside[2 * i]! * behind[1]!);
          if (source !== undefined) r += besideSize![i]! * behind[2]!;
        }
        let p = i * channelCount;
        for (let c = 0; c < channelCount; c++, p++) {
          const hr = now[3 * c]!;
          const hi = now[3 * c + 1]!;
          const pr = perVolt[2 * p]!;
          const pi = perVolt[2 * p + 1]!;
          re += pr * hr - pi * hi;
          im += pr * hi + pi * hr;
          r += absolute[p]! * now[3 * c + 2]!;
        }
        const middle = Math.sqrt(re * re + im * im);
        const low = (middle - r) / largest;
        const high = least > 0 ? (middle + r) / least : Infinity;
        const share = shares[i]!;
        if (axial && k === axis) onAxis += Math.log(high);
        if (fixed[k]!) {
          if (low > 1) {
            const d = Math.log(low);
            loss += share * d * d;
          } else if (high < 1) {
            const d = Math.log(high);
            loss += share * d * d;
          }
          if (levelled) level += share * (Math.log(high) + offsets[k]!);
        } else {
          const a = low > 0 ? Math.max(SILENT, Math.log(low)) : SILENT;
          const b = Math.max(SILENT, Math.log(high));
          lows[turn * K + k] = a;
          highs[turn * K + k] = b;
          if (a > tallestLow) tallestLow = a;
          if (b < lowestHigh) lowestHigh = b;
          if (levelled) level += share * (b + offsets[k]!);
          guess += share * (a < b - 2 ? b - 1 : (a + b) / 2);
          weight += share;
        }
      }
      // Some of the terms are a bound as well: where they are enough, the rest isn't looked at.
      if (turn === firstLook || turn === secondLook) {
        const some =
          anyFree && tallestLow > lowestHigh ? loss + leastDistance(guess / weight, tallestLow, lowestHigh, (turn + 1) * K) : loss;
        if (some >= enough) return some;
      }
    }
    if ((levelled && level < cutLevel) || (axial && onAxis < cutAxis)) return Infinity;
    if (anyFree && tallestLow > lowestHigh) loss += leastDistance(guess / weight, tallestLow, lowestHigh, n * K);
    return loss;
  };

  /** The least weighted square distance of one common level to all intervals of the free places, by Newton's method held in a bracket. */
  const leastDistance = (start: number, upper: number, lower: number, terms: number): number => {
    // Above every low end or below every high end nothing can be gained.
    let from = lower;
    let to = upper;
    let L = start;
    if (!(L > from && L < to)) L = (from + to) / 2;
    for (let round = 0; ; round++) {
      let value = 0;
      let slope = 0;
      let curvature = 0;
      let pull = 0;
      for (let i = 0; i < terms; i++) {
        if (anyFixed && fixed[i % K]!) continue;
        const share = shares[i]!;
        const d = lows[i]! > L ? lows[i]! - L : highs[i]! < L ? highs[i]! - L : 0;
        if (d === 0) continue;
        value += share * d * d;
        slope -= share * d;
        pull += share * (L + d);
        curvature += share;
      }
      if (slope > 0) to = L;
      else from = L;
      const next = pull / curvature;
      // A convex function lies above its tangents: at most the slope times the bracket is to be gained.
      const left = Math.abs(slope) * (to - from);
      if (left <= 1e-13 * value || round === 24 || curvature === 0 || Math.abs(next - L) < 1e-14 * Math.max(1, Math.abs(L)))
        return Math.max(0, value - 2 * left);
      L = next > from && next < to ? next : (from + to) / 2;
    }
  };
  return { below, exact };
}

/** Numbers below n so that the first of them lie spread over all: every fourth, then those between. */
function spreadOrder(n: number): Int32Array {
  return Int32Array.from(
    [0, 2, 1, 3].flatMap((first) => Array.from({ length: Math.ceil((n - first) / 4) }, (_, i) => first + 4 * i)).filter((at) => at < n),
  );
}
