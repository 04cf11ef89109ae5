import type { Elimination } from "./elimination";
import { OP } from "./kernels/operations";
import { NOTHING, ONE, programBuilder, type OutputPair, type ProgramBuilder, type Value } from "./program-builder";
import type { Program } from "./program";
import { branchState } from "./state";

/** Where one value's slope comes from: a sum of the program and the factor that turns it into ∂loss/∂value. */
export interface SlopeSource {
  readonly branch: number;
  readonly index: number;
  readonly sum: number;
  /** What the sum is multiplied by, given the branch's values. */
  readonly factor: (values: ArrayLike<number>) => number;
}

/** A program whose sum 0 is the loss Σ w·(|Σ H_k·V_k|²/T − 1)². Given tables: the H_k in order, then 1/T with w. */
export interface ObjectiveProgram {
  readonly program: Program;
  readonly slopes: readonly SlopeSource[];
}

/** Writes the objective's program: voltages of the pairs, weighted sum, error; with `gradient` also the slopes by every value that a kernel knows. */
export function objectiveProgram(elimination: Elimination, pairs: readonly OutputPair[], gradient: boolean): ObjectiveProgram {
  const { circuit, rootOf, order, neighbours } = elimination;
  const builder = programBuilder(elimination);
  const branches = gradient ? circuit.branches.flatMap(({ from, to, law }, index) => (law.kernel !== undefined && rootOf[from] !== rootOf[to] && branchState(circuit.branches[index]!, false) === "finite" ? [index] : [])) : [];
  const across = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const asked = [...pairs, ...branches.map(across)];
  const demand = builder.demand(asked);

  // The error's slope is injected as a current at the pairs' nodes, and arrives at whatever is eliminated after them.
  const injected = new Set<number>();
  if (gradient) {
    for (const pair of pairs) for (const node of pair) if (rootOf[node]! > 1) injected.add(rootOf[node]!);
    order.forEach((node, step) => {
      if (injected.has(node)) for (const neighbour of neighbours[step]!) if (neighbour > 1) injected.add(neighbour);
    });
  }
  builder.forward(new Set(demand.keys()), injected);
  const voltage = builder.backward(demand, ONE);
  const pressure = weightedSum(builder, pairs.map(([a, b]) => voltage(a, b)));
  builder.emit(OP.powerError, pressure, pairs.length, 0);
  const slopes: SlopeSource[] = [];
  let sums = 1;
  if (gradient) {
    const currents = new Map<number, number>();
    pairs.forEach(([a, b], index) => {
      for (const [node, sign] of [[rootOf[a]!, 1], [rootOf[b]!, -1]] as const) {
        if (node <= 1) continue;
        const present = currents.get(node);
        const slot = builder.take();
        builder.emit(OP.timesTable, slot, pressure, index);
        if (sign < 0) builder.emit(OP.negate, slot, slot);
        if (present === undefined) currents.set(node, slot);
        else {
          builder.emit(OP.add, present, slot);
          builder.release(slot);
        }
      }
    });
    const adjoint = builder.backward(builder.demand(branches.map(across)), NOTHING, builder.inject(currents));
    const products = new Map<string, number | undefined>();
    for (const branch of branches) {
      const [from, to] = across(branch);
      const key = `${rootOf[from]},${rootOf[to]}`;
      if (!products.has(key)) products.set(key, product(builder, voltage(from, to), adjoint(from, to)));
      const slot = products.get(key);
      if (slot === undefined) continue;
      sums += slopesOf(builder, branch, circuit.branches[branch]!.law.kernel!, slot, sums, slopes);
    }
  }
  return { program: { code: Int32Array.from(builder.code), slots: builder.slots(), constants: new Map(), outputs: 0, sums, given: pairs.length + 1 }, slopes };
}

/** Σ H_k·V_k in a slot of its own. */
function weightedSum(builder: ProgramBuilder, voltages: readonly Value[]): number {
  const target = builder.take();
  let fresh = true;
  voltages.forEach(({ slot, sign }, index) => {
    if (slot === NOTHING || slot === ONE) throw new RangeError("a pair of the objective must lie behind the network");
    if (sign > 0) builder.emit(fresh ? OP.timesTable : OP.timesTableAdd, target, slot, index);
    else {
      const turned = builder.take();
      builder.emit(OP.negate, turned, slot);
      builder.emit(fresh ? OP.timesTable : OP.timesTableAdd, target, turned, index);
      builder.release(turned);
    }
    fresh = false;
  });
  return target;
}

function product(builder: ProgramBuilder, v: Value, lambda: Value): number | undefined {
  if (v.slot === NOTHING || lambda.slot === NOTHING) return undefined;
  const slot = builder.take();
  const positive = v.sign === lambda.sign;
  if (v.slot === ONE) builder.emit(positive ? OP.move : OP.negate, slot, lambda.slot);
  else builder.emit(positive ? OP.multiply : OP.multiplyNegate, slot, v.slot, lambda.slot);
  return slot;
}

/** ∂loss/∂value = Re Σ −q·∂Y/∂value with q the product of voltage and adjoint voltage; see the kernels for the sums. */
function slopesOf(builder: ProgramBuilder, branch: number, kernel: "resistance" | "coil" | "capacitor", slot: number, sum: number, slopes: SlopeSource[]): number {
  const plain = (sign: 1 | -1) => () => sign;
  if (kernel === "resistance") {
    builder.emit(OP.sumReal, sum, slot);
    slopes.push({ branch, index: 0, sum, factor: (values) => 1 / values[0]! ** 2 });
    return 1;
  }
  if (kernel === "coil") {
    builder.emit(OP.slopeCoil, sum, branch, slot);
    slopes.push({ branch, index: 0, sum, factor: plain(-1) }, { branch, index: 1, sum: sum + 1, factor: plain(1) });
    return 2;
  }
  builder.emit(OP.slopeCapacitor, sum, branch, slot);
  slopes.push({ branch, index: 0, sum, factor: plain(1) }, { branch, index: 1, sum: sum + 1, factor: plain(-1) }, { branch, index: 2, sum: sum + 2, factor: plain(-1) });
  return 3;
}
