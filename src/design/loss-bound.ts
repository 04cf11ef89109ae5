import type { BranchTable } from "./branch-table";
import type { Heard, LossBound } from "./heard";
import type { OuterHeard } from "./hump-check";
import { LevelFloor } from "./level-floor";
import { LossOfStates } from "./loss-of-states";
import { nearestLevel } from "./nearest-level";
import { magnitudes, NodeSums } from "./node-sums";
import type { SparingCheck } from "./sparing-check";
import { firstLooks, spreadOrder } from "./spread-order";
import type { StateTree } from "./state-tree";
import { vectorBound, type VectorBound } from "./vector-bound";

/** Bounds of the loss of plain levels at stated frequencies: |p| of nodes together lies about the sum of their centres, no farther than the sum of their radii. */
export class PlainLossBound implements LossBound {
  private readonly heard: Heard;
  private readonly sums: NodeSums;
  private readonly states: LossOfStates;
  private readonly vectors: VectorBound | undefined;
  private readonly floor: LevelFloor;
  private readonly absolute: Float64Array;
  private readonly besideSize: Float64Array | undefined;
  private readonly now: Float64Array;
  private readonly lows: Float64Array;
  private readonly highs: Float64Array;
  private readonly distance: ReturnType<typeof nearestLevel>;
  private readonly anyFree: boolean;
  private readonly order: Int32Array;
  /** Centre of 1 + Z·Y: re, im, radius. */
  private readonly behind = new Float64Array(3);

  constructor(
    heard: Heard,
    tables: readonly BranchTable[],
    trees: readonly StateTree[],
    outer: OuterHeard | undefined,
    sparing: SparingCheck | undefined,
  ) {
    const { points: n, weights, fixed, perVolt, beside } = heard;
    const K = weights.length;
    this.heard = heard;
    this.sums = new NodeSums(heard, tables, trees);
    this.states = new LossOfStates(heard, tables, this.sums, outer, sparing);
    this.floor = new LevelFloor(heard);
    this.vectors = vectorBound(heard, tables, trees, this.floor);
    this.absolute = magnitudes(perVolt);
    this.besideSize = beside === undefined ? undefined : magnitudes(beside);
    this.now = new Float64Array(3 * this.sums.voltages.length);
    [this.lows, this.highs] = [new Float64Array(n * K), new Float64Array(n * K)];
    const shares = this.lows.map((_, i) => (fixed[i % K]! ? 0 : weights[i % K]! / n));
    this.distance = nearestLevel({ lows: this.lows, highs: this.highs, shares });
    this.anyFree = fixed.some((is) => !is);
    this.order = spreadOrder(n);
  }

  below(nodes: Int32Array, at: number, enough = Infinity): number {
    this.sums.place(nodes, at);
    if (this.heard.loads > 0 && this.sums.overloaded()) return Infinity;
    return (enough < Infinity ? this.vectors?.below(nodes, at, enough) : undefined) ?? this.placed(enough);
  }

  exact(nodes: Int32Array, at: number, enough = Infinity): number {
    const bound = enough < Infinity ? this.vectors?.below(nodes, at, enough) : undefined;
    return bound !== undefined && bound >= enough ? bound : this.states.exact(nodes, at, enough);
  }

  beyond(nodes: Int32Array, at: number, enough: number): number {
    return this.states.beyond(nodes, at, enough);
  }

  /** The bound of what was placed, one number at a time. */
  private placed(enough: number): number {
    const { sums, floor, now, lows, highs, absolute, besideSize, anyFree, behind } = this;
    const { points: n, weights, fixed, perVolt, constant, beside, source } = this.heard;
    const { voltages, voltagesAt, radii, radiiAt } = sums;
    const [K, C] = [weights.length, voltages.length];
    const [firstLook, secondLook] = firstLooks(n);
    floor.begin();
    let loss = 0;
    let tallestLow = 0;
    let lowestHigh = Infinity;
    for (let turn = 0; turn < n; turn++) {
      const f = this.order[turn]!;
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
        sums.throughSource(f, behind);
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
        if (floor.held) floor.hear(k, high);
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
            ? loss + this.distance((turn + 1) * K, tallestLow, lowestHigh, enough - loss)
            : loss;
        if (some >= enough) return some;
      }
    }
    if (floor.broken()) return Infinity;
    return anyFree && tallestLow > lowestHigh ? loss + this.distance(n * K, tallestLow, lowestHigh, enough - loss) : loss;
  }
}
