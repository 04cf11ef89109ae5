import { pairKey, type Elimination } from "../solve/elimination";
import { OP } from "../kernels/generated/operations";
import type { Program } from "../solve/program";
import { NOTHING, ONE, type OutputPair, type Value } from "../solve/program-values";
import { programBuilder } from "../solve/program-builder";
import { PSEUDO } from "../solve/code-writer";
import { injectedBy, reduction, type Beyond } from "./beyond";
import { groupOf, slopeTablesOf, type SlopeTable } from "../solve/slope-tables";

/** One derivative that the program puts out: of output pair `pair` by value `index` of `branch`. */
export interface JacobianEntry {
  readonly pair: number;
  readonly branch: number;
  readonly index: number;
}

/** A program for ∂V/∂value. What isn't in `entries` is 0: outputs don't hang on the values of other branches of a parallel network. */
export interface JacobianProgram {
  readonly program: Program;
  /** By output of the program. */
  readonly entries: readonly JacobianEntry[];
}

const SLOPES = {
  resistance: [OP.resistanceSlope],
  coil: [OP.inductanceSlope, OP.dcrSlope],
  capacitor: [OP.capacitanceSlope, OP.esrSlope, OP.lossSlope],
} as const;

/** The same of what is in series: from the current times the admittance of it all, and the branch's values. */
const IN_SERIES = {
  resistance: [OP.negate],
  coil: [OP.seriesInductanceSlope, OP.negate],
  capacitor: [OP.seriesCapacitanceSlope, OP.negate, OP.seriesLossSlope],
} as const;

/**
 * Writes the adjoint method for several outputs: with V the branch's voltage and λ the voltage that a current of 1 A into
 * the output makes across the branch, ∂output/∂value = −λ·V·∂Y/∂value. V·∂Y/∂value is made once for all outputs. Given table 0 is 1 at
 * every frequency.
 */
export function jacobianProgram(
  elimination: Elimination,
  pairs: readonly OutputPair[],
  wanted: readonly { readonly branch: number; readonly index: number }[],
): JacobianProgram {
  const { circuit, rootOf } = elimination;
  const builder = programBuilder(elimination);
  const across = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const merged = (branch: number): OutputPair => [rootOf[across(branch)[0]]!, rootOf[across(branch)[1]]!];
  const injected = injectedBy(elimination, pairs);
  const alone = wanted.filter(({ branch }) => groupOf(elimination, branch) === undefined && merged(branch)[0] !== merged(branch)[1]);
  const coupled = wanted.filter(({ branch }) => groupOf(elimination, branch) !== undefined);
  const coils = [...new Set(coupled.flatMap(({ branch }) => groupOf(elimination, branch)!.branches))];
  const { direct, squares, meshes, beyond, series } = reduction(
    elimination,
    injected,
    alone.map(({ branch }) => ({ pair: merged(branch), current: circuit.branches[branch]!.law.kernel !== undefined })),
  );
  const demand = builder.demand([...direct, ...coils.map(across)]);
  builder.forward({ ratios: new Set([...demand.keys(), ...injected, ...squares]), inverses: injected, meshes });
  const tables: SlopeTable[] = [];
  const entries: JacobianEntry[] = [];
  /** By value: V·∂Y/∂value, and the pair whose λ it meets. */
  const driven: {
    readonly branch: number;
    readonly index: number;
    readonly slot: number;
    readonly sign: 1 | -1;
    readonly pair: OutputPair;
  }[] = [];
  let voltage!: (a: number, b: number) => Value;
  const drives = () => {
    voltage = builder.backward(demand, ONE);
    const known = new Map<number, Value & { readonly pair: OutputPair }>();
    /** What λ between the nodes of `pair` is multiplied by. */
    const drive = (a: number, b: number): Value & { readonly pair: OutputPair } => {
      const key = pairKey(a, b);
      const before = known.get(key);
      if (before !== undefined) return before;
      const step = beyond(a, b);
      const inner = step === undefined ? { ...voltage(a, b), pair: [a, b] as const } : drive(step.third, step.other);
      let made = inner;
      if (step !== undefined && inner.slot !== NOTHING) {
        const ratio = builder.ratio(step.node, step.third);
        made = { ...inner, slot: builder.take() };
        if (inner.slot === ONE) builder.emit(OP.multiply, made.slot, ratio, ratio);
        else builder.emit(OP.squareTimes, made.slot, ratio, inner.slot);
      }
      known.set(key, made);
      return made;
    };
    const driving = new Map<number, Value & { readonly pair: OutputPair }>();
    /** The current of what is in series through a node, times the admittance of it all: what λ across it all is multiplied by. */
    const current = ({ node, third, other }: Beyond): Value & { readonly pair: OutputPair } => {
      const before = driving.get(node);
      if (before !== undefined) return before;
      const base = drive(third, other);
      const made = base.slot === NOTHING ? base : { ...base, slot: builder.take() };
      const mesh = builder.mesh(node);
      if (base.slot === ONE) builder.emit(OP.multiply, made.slot, mesh, mesh);
      else if (base.slot !== NOTHING) builder.emit(OP.squareTimes, made.slot, mesh, base.slot);
      driving.set(node, made);
      return made;
    };
    for (const { branch, index } of alone) {
      const { kernel } = circuit.branches[branch]!.law;
      const step = kernel === undefined ? undefined : series(...merged(branch));
      if (kernel !== undefined && step !== undefined) {
        const { slot: square, sign, pair } = current(step);
        if (square === NOTHING) continue;
        const slot = kept.pop()!;
        const operation = IN_SERIES[kernel][index]!;
        if (operation === OP.negate || operation === OP.seriesInductanceSlope) builder.emit(operation, slot, square);
        else builder.emit(operation, slot, branch, square);
        driven.push({ branch, index, slot, sign, pair });
        continue;
      }
      const { slot: v, sign, pair } = drive(...merged(branch));
      if (v === NOTHING) continue;
      const slot = kept.pop()!;
      if (v === ONE) builder.emit(OP.table, slot, 0);
      const by = v === ONE ? slot : v;
      if (kernel === undefined) builder.emit(PSEUDO.timesSlope, slot, by, tables.push(slopeTablesOf(elimination, branch, index)[0]!) - 1);
      else builder.emit(SLOPES[kernel][index]!, slot, branch, by);
      driven.push({ branch, index, slot, sign, pair });
    }
  };
  const kept = alone.map(() => builder.take());
  // Of coupled coils every voltage meets every other: they stay.
  if (coupled.length === 0) builder.within(drives);
  else drives();
  const meetings = coupled.map(({ branch, index }) => {
    const group = groupOf(elimination, branch)!;
    return {
      branch,
      index,
      parts: slopeTablesOf(elimination, branch, index).map((table) => {
        const [first, second] = table.entry!.map((place) => group.branches[place]!) as [number, number];
        return {
          number: tables.push(table) - 1,
          meeting:
            first === second
              ? [[first, first]]
              : [
                  [first, second],
                  [second, first],
                ],
        };
      }),
    };
  });
  pairs.forEach(([a, b], pair) => builder.within(() => putOut(rootOf[a]!, rootOf[b]!, pair)));
  return {
    program: {
      code: Int32Array.from(builder.code),
      slots: builder.slots(),
      constants: new Map(),
      outputs: entries.length,
      sums: 0,
      given: 1,
      slopes: tables,
    },
    entries,
  };

  function putOut(a: number, b: number, pair: number): void {
    if (a === b) return;
    const currents = new Map<number, number>();
    for (const [node, other, negative] of [
      [a, b, false],
      [b, a, true],
    ] as const) {
      if (node <= 1) continue;
      if (other <= 1 && !negative) currents.set(node, ONE);
      else {
        const slot = builder.take();
        builder.emit(OP.table, slot, 0);
        if (negative) builder.emit(OP.negate, slot, slot);
        currents.set(node, slot);
      }
    }
    if (currents.size === 0) return;
    const adjoint = builder.backward(demand, NOTHING, builder.inject(currents));
    for (const { branch, index, slot, sign, pair: met } of driven) {
      const lambda = adjoint(...met);
      if (lambda.slot === NOTHING) continue;
      builder.emit(lambda.sign === sign ? OP.outProductNegated : OP.outProduct, entries.length, slot, lambda.slot);
      entries.push({ pair, branch, index });
    }
    for (const { branch, index, parts } of meetings) {
      let total: number | undefined;
      for (const { number, meeting } of parts) {
        for (const [first, second] of meeting) {
          const [v, lambda] = [voltage(...across(first!)), adjoint(...across(second!))];
          if (v.slot === NOTHING || lambda.slot === NOTHING) continue;
          const product = builder.take();
          const positive = v.sign !== lambda.sign;
          if (v.slot === ONE) builder.emit(positive ? OP.move : OP.negate, product, lambda.slot);
          else builder.emit(positive ? OP.multiply : OP.multiplyNegate, product, v.slot, lambda.slot);
          if (total === undefined) builder.emit(PSEUDO.timesSlope, (total = builder.take()), product, number);
          else builder.emit(PSEUDO.timesSlopeAdd, total, product, number);
          builder.release(product);
        }
      }
      if (total === undefined) continue;
      builder.emit(OP.out, entries.length, total);
      builder.release(total);
      entries.push({ pair, branch, index });
    }
  }
}
