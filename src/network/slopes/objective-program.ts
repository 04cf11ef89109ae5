import { pairKey, type Elimination } from "../solve/elimination";
import { OP } from "../kernels/generated/operations";
import { NOTHING, ONE, type OutputPair, type Value } from "../solve/program-values";
import { programBuilder, type ProgramBuilder } from "../solve/program-builder";
import { PSEUDO } from "../solve/code-writer";
import type { Program } from "../solve/program";
import { groupOf, slopeTablesOf, type SlopeTable } from "../solve/slope-tables";
import { injectedBy, reduction } from "./beyond";
import { productsOf } from "./products";
import { slopesAlone, slopesInSeries, type SlopeOfSums } from "./slopes-of-sums";
import { weightedSum } from "./weighted-sum";
import { branchState } from "../state";

/** Where one value's slope comes from: sums of the program, and what turns them into ∂loss/∂value. */
export interface SlopeSource {
  readonly branch: number;
  readonly index: number;
  readonly slope: SlopeOfSums;
}

/** A program whose sum 0 is the loss Σ w·(|Σ H_k·V_k|²/T − 1)². Given tables: the H_k in order, then 1/T with w. */
export interface ObjectiveProgram {
  readonly program: Program;
  readonly slopes: readonly SlopeSource[];
}

/** Writes the objective's program: voltages of the pairs, weighted sum, error; and the slopes by the values wanted, if any. */
export function objectiveProgram(
  elimination: Elimination,
  pairs: readonly OutputPair[],
  wanted: readonly { readonly branch: number; readonly index: number }[] = [],
): ObjectiveProgram {
  const { circuit, rootOf } = elimination;
  const builder = programBuilder(elimination);
  const gradient = wanted.length > 0;
  const across = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const branches = [...new Set(wanted.map(({ branch }) => branch))].filter((branch) => {
    const { from, to } = circuit.branches[branch]!;
    return rootOf[from] !== rootOf[to] && branchState(circuit.branches[branch]!, false) === "finite";
  });
  const groupsOf = new Map(
    branches.flatMap((branch) => {
      const group = groupOf(elimination, branch);
      return group === undefined ? [] : [[branch, group] as const];
    }),
  );
  // The error's slope is injected as a current at the pairs' nodes, and arrives at whatever is eliminated after them.
  const injected = gradient ? injectedBy(elimination, pairs) : new Set<number>();
  const merged = (branch: number): OutputPair => [rootOf[across(branch)[0]]!, rootOf[across(branch)[1]]!];
  const apart = branches.filter((branch) => !groupsOf.has(branch));
  const reduced = reduction(
    elimination,
    injected,
    apart.map((branch) => ({ pair: merged(branch), current: circuit.branches[branch]!.law.kernel !== undefined })),
  );
  const { squares, meshes, uses, beyond, series } = reduced;
  const direct = [...reduced.direct];
  // Of coupled coils every voltage meets every other.
  for (const group of new Set(groupsOf.values())) direct.push(...group.branches.map(across));
  const demand = builder.demand([...pairs, ...direct]);
  builder.forward({ ratios: new Set([...demand.keys(), ...squares]), inverses: injected, meshes });
  const voltage = builder.backward(demand, ONE);
  const pressure = weightedSum(
    builder,
    pairs.map(([a, b]) => voltage(a, b)),
  );
  builder.emit(OP.powerError, pressure, pairs.length, 0);
  const slopes: SlopeSource[] = [];
  const tables: SlopeTable[] = [];
  let sums = 1;
  /** Σ −q·∂Y over the tables of a value, each times the product of its voltages. */
  const tabled = (branch: number, index: number, sign: 1 | -1, productOfTable: (table: SlopeTable) => number | undefined): void => {
    let total: number | undefined;
    for (const table of slopeTablesOf(elimination, branch, index)) {
      const q = productOfTable(table);
      if (q === undefined) continue;
      const number = tables.push(table) - 1;
      if (total === undefined) builder.emit(PSEUDO.timesSlope, (total = builder.take()), q, number);
      else builder.emit(PSEUDO.timesSlopeAdd, total, q, number);
    }
    if (total === undefined) return;
    builder.emit(OP.sumReal, sums, total);
    builder.release(total);
    const own = sums++;
    slopes.push({ branch, index, slope: (_, sum) => -sign * sum(own) });
  };
  const listed = (branch: number, laws: readonly SlopeOfSums[]): number => {
    laws.forEach((slope, index) => slopes.push({ branch, index, slope }));
    return laws.length;
  };
  if (gradient) {
    const currents = new Map<number, number>();
    pairs.forEach(([a, b], index) => {
      for (const [node, sign] of [
        [rootOf[a]!, 1],
        [rootOf[b]!, -1],
      ] as const) {
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
    const adjoint = builder.backward(builder.demand(direct), NOTHING, builder.inject(currents));
    const { productOf, used, squareOf, squareUsed } = productsOf(builder, reduced, voltage, adjoint);
    const crossed = new Map<string, number | undefined>();
    /** Voltage times adjoint voltage of a pair of coils, both ways round. */
    const crossOf = (first: number, second: number): number | undefined => {
      const key = `${first},${second}`;
      if (crossed.has(key)) return crossed.get(key);
      const pairsOf =
        first === second
          ? [[first, second]]
          : [
              [first, second],
              [second, first],
            ];
      const terms = pairsOf.flatMap(([a, b]) => product(builder, voltage(...across(a!)), adjoint(...across(b!))) ?? []);
      const [slot, more] = terms;
      if (slot !== undefined && more !== undefined) builder.emit(OP.add, slot, more);
      crossed.set(key, slot);
      return slot;
    };
    for (const branch of branches) {
      const group = groupsOf.get(branch);
      const indices = wanted.filter((each) => each.branch === branch).map(({ index }) => index);
      if (group !== undefined) {
        for (const index of indices)
          tabled(branch, index, 1, ({ entry }) => crossOf(group.branches[entry![0]]!, group.branches[entry![1]]!));
        continue;
      }
      const [a, b] = merged(branch);
      const { kernel } = circuit.branches[branch]!.law;
      const step = kernel === undefined ? undefined : series(a, b);
      if (kernel !== undefined && step !== undefined) {
        const { slot, sign } = squareOf(step);
        if (slot !== NOTHING) {
          builder.emit({ resistance: OP.sumReal, coil: OP.seriesCoil, capacitor: OP.seriesCapacitor }[kernel], sums, slot);
          sums += listed(branch, slopesInSeries(sign, sums)[kernel]);
        }
        squareUsed(step);
        continue;
      }
      const [v, lambda] = [voltage(a, b), adjoint(a, b)];
      if (kernel === "resistance" && uses.get(pairKey(a, b)) === 1 && beyond(a, b) === undefined && v.slot >= 0 && lambda.slot >= 0) {
        // Nobody else asks for the product.
        builder.emit(OP.sumProduct, sums, v.slot, lambda.slot);
        sums += listed(branch, slopesAlone(v.sign === lambda.sign ? 1 : -1, sums)[kernel]);
        continue;
      }
      const { slot, sign } = productOf(a, b);
      if (slot === NOTHING) continue;
      if (kernel === undefined) for (const index of indices) tabled(branch, index, sign, () => slot);
      else {
        if (kernel === "resistance") builder.emit(OP.sumReal, sums, slot);
        else builder.emit(kernel === "coil" ? OP.slopeCoil : OP.slopeCapacitor, sums, branch, slot);
        sums += listed(branch, slopesAlone(sign, sums)[kernel]);
      }
      used(a, b);
    }
  }
  return {
    program: {
      code: Int32Array.from(builder.code),
      slots: builder.slots(),
      constants: new Map(),
      outputs: 0,
      sums,
      given: pairs.length + 1,
      slopes: tables,
    },
    slopes,
  };
}

function product(builder: ProgramBuilder, v: Value, lambda: Value): number | undefined {
  if (v.slot === NOTHING || lambda.slot === NOTHING) return undefined;
  const slot = builder.take();
  const positive = v.sign === lambda.sign;
  if (v.slot === ONE) builder.emit(positive ? OP.move : OP.negate, slot, lambda.slot);
  else builder.emit(positive ? OP.multiply : OP.multiplyNegate, slot, v.slot, lambda.slot);
  return slot;
}
