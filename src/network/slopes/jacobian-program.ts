import type { Elimination } from "../solve/elimination";
import { OP } from "../kernels/generated/operations";
import type { Program } from "../solve/program";
import { NOTHING, ONE, programBuilder, PSEUDO, type OutputPair } from "../solve/program-builder";
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

/**
 * Writes the adjoint method for several outputs: with V the branch's voltage and λ the voltage that a current of 1 A into
 * the output makes across the branch, ∂output/∂value = −λ·V·∂Y/∂value. Given table 0 is 1 at every frequency.
 */
export function jacobianProgram(
  elimination: Elimination,
  pairs: readonly OutputPair[],
  wanted: readonly { readonly branch: number; readonly index: number }[],
): JacobianProgram {
  const { circuit, rootOf, order, neighbours } = elimination;
  const builder = programBuilder(elimination);
  const across = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const branches = [...new Set(wanted.map(({ branch }) => branch))];
  const injected = new Set<number>();
  for (const pair of pairs) for (const node of pair) if (rootOf[node]! > 1) injected.add(rootOf[node]!);
  order.forEach((node, step) => {
    if (injected.has(node)) for (const neighbour of neighbours[step]!) if (neighbour > 1) injected.add(neighbour);
  });
  const tables: SlopeTable[] = [];
  // A value without an operation of its own: over its tables, each with the pairs of branches whose voltages it meets.
  const tabled = new Map(
    wanted.flatMap(({ branch, index }) => {
      const group = groupOf(elimination, branch);
      if (group === undefined && circuit.branches[branch]!.law.kernel !== undefined) return [];
      return [
        [
          `${branch},${index}`,
          slopeTablesOf(elimination, branch, index).map((table) => {
            const [first, second] = table.entry === undefined ? [branch, branch] : table.entry.map((place) => group!.branches[place]!);
            return {
              number: tables.push(table) - 1,
              meeting:
                first === second
                  ? [[first!, first!]]
                  : [
                      [first!, second!],
                      [second!, first!],
                    ],
            };
          }),
        ] as const,
      ];
    }),
  );
  const demand = builder.demand([...branches, ...[...tabled.values()].flat(2).flatMap(({ meeting }) => meeting.flat())].map(across));
  builder.forward(new Set([...demand.keys(), ...injected]), injected);
  const voltage = builder.backward(demand, ONE);
  const slopes = new Map<string, number>();
  for (const { branch, index } of wanted) {
    const { kernel } = circuit.branches[branch]!.law;
    if (kernel === undefined || tabled.has(`${branch},${index}`)) continue;
    const slot = builder.take();
    builder.emit(SLOPES[kernel][index]!, slot, branch);
    slopes.set(`${branch},${index}`, slot);
  }
  const entries: JacobianEntry[] = [];
  pairs.forEach(([a, b], pair) => {
    const currents = new Map<number, number>();
    for (const [node, negative] of [
      [rootOf[a]!, false],
      [rootOf[b]!, true],
    ] as const) {
      if (node <= 1) continue;
      const slot = builder.take();
      builder.emit(OP.table, slot, 0);
      if (negative) builder.emit(OP.negate, slot, slot);
      currents.set(node, slot);
    }
    if (currents.size === 0 || rootOf[a] === rootOf[b]) return;
    const adjoint = builder.backward(demand, NOTHING, builder.inject(currents));
    /** −λ·V in a slot of its own. */
    const productOf = (first: number, second: number): number | undefined => {
      const [v, lambda] = [voltage(...across(first)), adjoint(...across(second))];
      if (v.slot === NOTHING || lambda.slot === NOTHING) return undefined;
      const product = builder.take();
      const positive = v.sign !== lambda.sign;
      if (v.slot === ONE) builder.emit(positive ? OP.move : OP.negate, product, lambda.slot);
      else builder.emit(positive ? OP.multiply : OP.multiplyNegate, product, v.slot, lambda.slot);
      return product;
    };
    for (const branch of branches) {
      const product = productOf(branch, branch);
      for (const { index } of wanted.filter((value) => value.branch === branch)) {
        const parts = tabled.get(`${branch},${index}`);
        if (parts === undefined) {
          if (product === undefined) continue;
          builder.emit(OP.outProduct, entries.length, product, slopes.get(`${branch},${index}`));
          entries.push({ pair, branch, index });
          continue;
        }
        let total: number | undefined;
        for (const { number, meeting } of parts) {
          for (const [first, second] of meeting) {
            const q = productOf(first!, second!);
            if (q === undefined) continue;
            if (total === undefined) builder.emit(PSEUDO.timesSlope, (total = builder.take()), q, number);
            else builder.emit(PSEUDO.timesSlopeAdd, total, q, number);
            builder.release(q);
          }
        }
        if (total === undefined) continue;
        builder.emit(OP.out, entries.length, total);
        builder.release(total);
        entries.push({ pair, branch, index });
      }
      if (product !== undefined) builder.release(product);
    }
  });
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
}
