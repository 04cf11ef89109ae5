import type { Elimination } from "./elimination";
import { OP } from "./kernels/generated/operations";
import type { Program } from "./program";
import { NOTHING, ONE, programBuilder, type OutputPair } from "./program-builder";

/** One derivative that the program puts out: of output pair `pair` by value `index` of `branch`. */
export interface JacobianEntry {
  readonly pair: number;
  readonly branch: number;
  readonly index: number;
}

/** A program for ∂V/∂value. What isn't in `entries` is 0: outputs don't hang on the values of other branches of a parallel network. */
export interface JacobianProgram {
  readonly program: Program;
  /** By output of the program. Where the branch's law has no kernel the output is −λ·V alone, to be multiplied by ∂Y/∂value. */
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
export function jacobianProgram(elimination: Elimination, pairs: readonly OutputPair[], wanted: readonly { readonly branch: number; readonly index: number }[]): JacobianProgram {
  const { circuit, rootOf, order, neighbours } = elimination;
  const builder = programBuilder(elimination);
  const across = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const branches = [...new Set(wanted.map(({ branch }) => branch))];
  const injected = new Set<number>();
  for (const pair of pairs) for (const node of pair) if (rootOf[node]! > 1) injected.add(rootOf[node]!);
  order.forEach((node, step) => {
    if (injected.has(node)) for (const neighbour of neighbours[step]!) if (neighbour > 1) injected.add(neighbour);
  });
  const demand = builder.demand(branches.map(across));
  builder.forward(new Set([...demand.keys(), ...injected]), injected);
  const voltage = builder.backward(demand, ONE);
  const slopes = new Map<string, number>();
  for (const { branch, index } of wanted) {
    const { kernel } = circuit.branches[branch]!.law;
    if (kernel === undefined) continue;
    const slot = builder.take();
    builder.emit(SLOPES[kernel][index]!, slot, branch);
    slopes.set(`${branch},${index}`, slot);
  }
  const entries: JacobianEntry[] = [];
  pairs.forEach(([a, b], pair) => {
    const currents = new Map<number, number>();
    for (const [node, negative] of [[rootOf[a]!, false], [rootOf[b]!, true]] as const) {
      if (node <= 1) continue;
      const slot = builder.take();
      builder.emit(OP.table, slot, 0);
      if (negative) builder.emit(OP.negate, slot, slot);
      currents.set(node, slot);
    }
    if (currents.size === 0 || rootOf[a] === rootOf[b]) return;
    const adjoint = builder.backward(demand, NOTHING, builder.inject(currents));
    for (const branch of branches) {
      const [v, lambda] = [voltage(...across(branch)), adjoint(...across(branch))];
      if (v.slot === NOTHING || lambda.slot === NOTHING) continue;
      const product = builder.take();
      const positive = v.sign !== lambda.sign;
      if (v.slot === ONE) builder.emit(positive ? OP.move : OP.negate, product, lambda.slot);
      else builder.emit(positive ? OP.multiply : OP.multiplyNegate, product, v.slot, lambda.slot);
      for (const { index } of wanted.filter((value) => value.branch === branch)) {
        const slope = slopes.get(`${branch},${index}`);
        if (slope === undefined) builder.emit(OP.out, entries.length, product);
        else builder.emit(OP.outProduct, entries.length, product, slope);
        entries.push({ pair, branch, index });
      }
      builder.release(product);
    }
  });
  return { program: { code: Int32Array.from(builder.code), slots: builder.slots(), constants: new Map(), outputs: entries.length, sums: 0, given: 1 }, entries };
}
