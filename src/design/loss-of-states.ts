import type { BranchTable } from "./branch-table";
import { SLACK, type Heard } from "./heard";
import { HumpCheck, type OuterHeard } from "./hump-check";
import { LevelFloor } from "./level-floor";
import type { NodeSums } from "./node-sums";
import type { SparingCheck } from "./sparing-check";
import { firstLooks, spreadOrder } from "./spread-order";

/** The loss of single states by plain levels, and which limits they keep. */
export class LossOfStates {
  private readonly heard: Heard;
  private readonly tables: readonly BranchTable[];
  private readonly sums: NodeSums;
  private readonly sparing: SparingCheck | undefined;
  private readonly humps: HumpCheck | undefined;
  private readonly inside: Float64Array;
  private readonly levels: Float64Array;
  private readonly shares: Float64Array;
  private readonly order: Int32Array;
  private readonly floor: LevelFloor;
  private readonly behind = new Float64Array(3);

  constructor(
    heard: Heard,
    tables: readonly BranchTable[],
    sums: NodeSums,
    outer: OuterHeard | undefined,
    sparing: SparingCheck | undefined,
  ) {
    const { points: n, weights, fixed } = heard;
    [this.heard, this.tables, this.sums, this.sparing] = [heard, tables, sums, sparing];
    this.humps = outer === undefined ? undefined : new HumpCheck(outer, tables, fixed);
    this.inside = new Float64Array(weights.length);
    this.levels = new Float64Array(n * weights.length);
    this.shares = this.levels.map((_, i) => weights[i % weights.length]! / n);
    this.order = spreadOrder(n);
    this.floor = new LevelFloor(heard);
  }

  /** The loss of what single states make, Infinity beyond a limit; what is `enough` or more isn't held to every limit. */
  exact(nodes: Int32Array, nodesAt: number, enough: number): number {
    const { tables, sums, levels, shares, order, inside } = this;
    const { points: n, weights, fixed, loads } = this.heard;
    const K = weights.length;
    for (let g = 0; g < tables.length; g++) if (tables[g]!.beyond[-1 - nodes[nodesAt + g]!] === 1) return Infinity;
    sums.place(nodes, nodesAt);
    if (loads > 0 && sums.overloaded()) return Infinity;
    if (!this.heardSquares()) return Infinity;
    const [firstLook, secondLook] = firstLooks(n);
    let sum = 0;
    let squares = 0;
    let weight = 0;
    let stated = 0;
    // Deviations are taken from a level nearby, so that their squares keep their digits.
    let near: number | undefined;
    for (let turn = 0; turn < n; turn++) {
      const f = order[turn]!;
      for (let k = 0; k < K; k++) {
        const i = f * K + k;
        const value = 0.5 * Math.log(levels[i]!);
        levels[i] = value;
        const share = shares[i]!;
        if (fixed[k]!) stated += share * value * value;
        else {
          near ??= value;
          const d = value - near;
          sum += share * d;
          squares += share * d * d;
          weight += share;
        }
      }
      // What some of the frequencies deviate by alone is no more than all do.
      if (turn === firstLook || turn === secondLook) {
        const some = (stated + (weight > 0 ? squares - (sum * sum) / weight : 0)) * (1 - 1e-9);
        if (some >= enough) return some;
      }
    }
    const mean = near === undefined ? 0 : near + sum / weight;
    let loss = 0;
    for (let i = 0; i < n * K; i++) {
      const d = levels[i]! - (fixed[i % K]! ? 0 : mean);
      loss += shares[i]! * d * d;
    }
    if (loss >= enough) return loss;
    if (this.sparing?.unspared(nodes, nodesAt) === true) return Infinity;
    if (this.humps === undefined) return loss;
    inside.fill(-Infinity);
    for (let i = 0; i < n * K; i++) inside[i % K] = Math.max(inside[i % K]!, levels[i]!);
    return this.humps.tooHigh(nodes, nodesAt, inside, mean) ? Infinity : loss;
  }

  /** About how far single states are beyond the limits of load and level: 0 within them. */
  beyond(nodes: Int32Array, nodesAt: number, enough: number): number {
    const { sums, floor } = this;
    sums.place(nodes, nodesAt);
    const load = this.heard.loads > 0 ? Math.max(0, sums.overload() - 1 - SLACK) : 0;
    if (load >= enough || !floor.held) return load;
    // What is silent somewhere misses its level without end.
    this.heardSquares();
    const missing = floor.missing();
    return missing > SLACK ? load + missing : load;
  }

  /** |p|² over |1 + Z·Y|² of what was placed, to `levels` and the floor; false where it is nothing somewhere, or too quiet. */
  private heardSquares(): boolean {
    const { sums, levels, floor, behind } = this;
    const { points: n, weights, perVolt, constant, beside, source } = this.heard;
    const { voltages, voltagesAt } = sums;
    const [K, C] = [weights.length, voltages.length];
    floor.begin();
    let silent = false;
    for (let f = 0; f < n; f++) {
      let through = 1;
      if (source !== undefined) {
        sums.throughSource(f, behind);
        through = behind[0]! * behind[0]! + behind[1]! * behind[1]!;
      }
      for (let k = 0; k < K; k++) {
        const i = f * K + k;
        let re = constant[2 * i]!;
        let im = constant[2 * i + 1]!;
        if (beside !== undefined) {
          re += beside[2 * i]! * (source === undefined ? 1 : behind[0]!) - (source === undefined ? 0 : beside[2 * i + 1]! * behind[1]!);
          im += beside[2 * i + 1]! * (source === undefined ? 1 : behind[0]!) + (source === undefined ? 0 : beside[2 * i]! * behind[1]!);
        }
        let p = 2 * i * C;
        for (let c = 0; c < C; c++, p += 2) {
          const array = voltages[c]!;
          const at = voltagesAt[c]! + 2 * f;
          const hr = array[at]!;
          const hi = array[at + 1]!;
          re += perVolt[p]! * hr - perVolt[p + 1]! * hi;
          im += perVolt[p]! * hi + perVolt[p + 1]! * hr;
        }
        const square = (re * re + im * im) / through;
        if (!(square > 0)) silent = true;
        levels[i] = square;
        if (floor.held) floor.hear(k, Math.sqrt(square));
      }
    }
    return !silent && !floor.broken();
  }
}
