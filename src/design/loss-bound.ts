import type { BranchTable } from "./branch-table";
import type { Heard, LossBound } from "./heard";
import type { OuterHeard } from "./hump-check";
import { levelFloor } from "./level-floor";
import { lossOfStates } from "./loss-of-states";
import { nearestLevel } from "./nearest-level";
import { magnitudes, nodeSums } from "./node-sums";
import { firstLooks, spreadOrder } from "./spread-order";
import type { StateTree } from "./state-tree";
import { vectorBound } from "./vector-bound";

/** Bounds of the loss of plain levels at stated frequencies: |p| of nodes together lies about the sum of their centres, no farther than the sum of their radii. */
export function lossBound(
  heard: Heard,
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  outer: OuterHeard | undefined,
  unspared?: (nodes: Int32Array, at: number) => boolean,
): LossBound {
  const { points: n, weights, fixed, perVolt, constant, beside, source, loads } = heard;
  const K = weights.length;
  const sums = nodeSums(heard, tables, trees);
  const { voltages, voltagesAt, radii, radiiAt, place, overloaded, throughSource } = sums;
  const C = voltages.length;
  const absolute = magnitudes(perVolt);
  const besideSize = beside === undefined ? undefined : magnitudes(beside);
  const now = new Float64Array(3 * C);
  const shares = Float64Array.from({ length: n * K }, (_, i) => (fixed[i % K]! ? 0 : weights[i % K]! / n));
  const [lows, highs] = [new Float64Array(n * K), new Float64Array(n * K)];
  const distance = nearestLevel({ lows, highs, shares });
  const anyFree = fixed.some((is) => !is);
  const order = spreadOrder(n);
  const [firstLook, secondLook] = firstLooks(n);
  const floor = levelFloor(heard);
  const { held } = floor;
  /** Centre of 1 + Z·Y: re, im, radius. */
  const behind = new Float64Array(3);

  const vectors = vectorBound(heard, tables, trees, floor);
  const below = (nodes: Int32Array, nodesAt: number, enough = Infinity): number => {
    place(nodes, nodesAt);
    if (loads > 0 && overloaded()) return Infinity;
    const swift = enough < Infinity ? vectors?.below(nodes, nodesAt, enough, true) : undefined;
    if (swift !== undefined) return swift;
    floor.begin();
    let loss = 0;
    let tallestLow = 0;
    let lowestHigh = Infinity;
    for (let turn = 0; turn < n; turn++) {
      const f = order[turn]!;
      for (let c = 0; c < C; c++) {
        const array = voltages[c]!;
        const at = voltagesAt[c]! + 2 * f;
        now[3 * c] = array[at]!;
        now[3 * c + 1] = array[at + 1]!;
        now[3 * c + 2] = radii[c]![radiiAt[c]! + f]!;
      }
      let least = 1;
      let largest = 1;
      if (source !== undefined) {
        throughSource(f, behind);
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
        let p = i * C;
        for (let c = 0; c < C; c++, p++) {
          const hr = now[3 * c]!;
          const hi = now[3 * c + 1]!;
          const pr = perVolt[2 * p]!;
          const pi = perVolt[2 * p + 1]!;
          re += pr * hr - pi * hi;
          im += pr * hi + pi * hr;
          r += absolute[p]! * now[3 * c + 2]!;
        }
        const middle = Math.sqrt(re * re + im * im);
        const low = middle > r ? (middle - r) / largest : 0;
        const high = least > 0 ? (middle + r) / least : Infinity;
        if (held) floor.hear(k, high);
        if (fixed[k]!) {
          const d = low > 1 ? Math.log(low) : high < 1 ? Math.log(high) : 0;
          loss += (weights[k]! / n) * d * d;
        } else {
          lows[turn * K + k] = low;
          highs[turn * K + k] = high;
          if (low > tallestLow) tallestLow = low;
          if (high < lowestHigh) lowestHigh = high;
        }
      }
      // Some of the terms are a bound as well: where they are enough, the rest isn't looked at.
      if (turn === firstLook || turn === secondLook) {
        // From the middle of the bracket none is farther than half of it.
        const half = tallestLow > lowestHigh ? (tallestLow / lowestHigh - 1) / 2 : 0;
        const some =
          anyFree && ((turn + 1) / n) * half * half > enough - loss
            ? loss + distance((turn + 1) * K, tallestLow, lowestHigh, enough - loss)
            : loss;
        if (some >= enough) return some;
      }
    }
    if (floor.broken()) return Infinity;
    return anyFree && tallestLow > lowestHigh ? loss + distance(n * K, tallestLow, lowestHigh, enough - loss) : loss;
  };
  const own = lossOfStates(heard, tables, sums, outer, unspared);
  const exact = (nodes: Int32Array, at: number, enough = Infinity): number => {
    const swift = enough < Infinity ? vectors?.below(nodes, at, enough, false) : undefined;
    return swift !== undefined && swift >= enough ? swift : own.exact(nodes, at, enough);
  };
  return { ...own, below, exact };
}
