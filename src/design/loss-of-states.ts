import type { BranchTable } from "./branch-table";
import { SLACK, type Heard, type LossBound } from "./heard";
import { humpCheck, type OuterHeard } from "./hump-check";
import { levelFloor } from "./level-floor";
import type { NodeSums } from "./node-sums";
import { firstLooks, spreadOrder } from "./spread-order";

/** The loss of single states by plain levels, and which limits they keep. */
export function lossOfStates(
  heard: Heard,
  tables: readonly BranchTable[],
  { voltages, voltagesAt, place, overloaded, overload, throughSource }: NodeSums,
  outer: OuterHeard | undefined,
  unspared?: (nodes: Int32Array, at: number) => boolean,
): Pick<LossBound, "exact" | "beyond"> {
  const { points: n, weights, fixed, perVolt, constant, beside, source, loads } = heard;
  const [G, K, C] = [tables.length, weights.length, voltages.length];
  const tooHigh = outer === undefined ? undefined : humpCheck(outer, tables, fixed);
  const inside = new Float64Array(K);
  const levels = new Float64Array(n * K);
  const shares = Float64Array.from({ length: n * K }, (_, i) => weights[i % K]! / n);
  const order = spreadOrder(n);
  const [firstLook, secondLook] = firstLooks(n);
  const floor = levelFloor(heard);
  const behind = new Float64Array(3);

  /** |p|² over |1 + Z·Y|² of what was placed. */
  const squareAt = (f: number, k: number, through: number): number => {
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
    return (re * re + im * im) / through;
  };
  const throughAt = (f: number): number => {
    if (source === undefined) return 1;
    throughSource(f, behind);
    return behind[0]! * behind[0]! + behind[1]! * behind[1]!;
  };

  const exact = (nodes: Int32Array, nodesAt: number, enough = Infinity): number => {
    for (let g = 0; g < G; g++) if (tables[g]!.beyond[-1 - nodes[nodesAt + g]!] === 1) return Infinity;
    place(nodes, nodesAt);
    if (loads > 0 && overloaded()) return Infinity;
    floor.begin();
    for (let f = 0; f < n; f++) {
      const through = throughAt(f);
      for (let k = 0; k < K; k++) {
        const square = squareAt(f, k, through);
        if (!(square > 0)) return Infinity;
        levels[f * K + k] = square;
        if (floor.held) floor.hear(k, Math.sqrt(square));
      }
    }
    if (floor.broken()) return Infinity;
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
    if (unspared?.(nodes, nodesAt) === true) return Infinity;
    if (tooHigh === undefined) return loss;
    inside.fill(-Infinity);
    for (let i = 0; i < n * K; i++) inside[i % K] = Math.max(inside[i % K]!, levels[i]!);
    return tooHigh(nodes, nodesAt, inside, mean) ? Infinity : loss;
  };

  const beyond = (nodes: Int32Array, nodesAt: number, enough: number): number => {
    place(nodes, nodesAt);
    const load = loads > 0 ? Math.max(0, overload() - 1 - SLACK) : 0;
    if (load >= enough || !floor.held) return load;
    floor.begin();
    for (let f = 0; f < n; f++) {
      const through = throughAt(f);
      for (let k = 0; k < K; k++) floor.hear(k, Math.sqrt(squareAt(f, k, through)));
    }
    const missing = floor.missing();
    return missing > SLACK ? load + missing : load;
  };
  return { exact, beyond };
}
