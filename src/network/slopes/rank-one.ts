import type { ComplexArrays } from "../../numeric";
import type { Elimination } from "../solve/elimination";
import { OP } from "../kernels/generated/operations";
import { planFor, type GivenTable, type Plan } from "../solve/plan";
import type { Program } from "../solve/program";
import { NOTHING, ONE, type OutputPair, type Value } from "../solve/program-values";
import { programBuilder } from "../solve/program-builder";
import { PSEUDO } from "../solve/code-writer";
import { weightedSum } from "./weighted-sum";

/**
 * The loss as a function of one branch's admittance, all others held: with y the change, U the branch's voltage,
 * λ what currents H_k into the outputs make across it, and Z what 1 A through its terminals makes across it, the sum Σ H_k·V_k is
 * p₀ − y·U·λ/(1 + y·Z) = (p₀ + y·(p₀·Z − U·λ))/(1 + y·Z) (Sherman and Morrison 1950, cited from memory): no elimination for a new value.
 */
export function rankOnePlan(
  elimination: Elimination,
  pairs: readonly OutputPair[],
  branch: number,
  frequencies: Float64Array,
  tables: readonly GivenTable[],
  values: readonly ArrayLike<number>[],
): Plan {
  const { circuit } = elimination;
  const n = frequencies.length;
  const { from, to, law } = circuit.branches[branch]!;
  const make = () => Array.from({ length: 3 }, () => new Float64Array(n));
  const [re, im] = [make(), make()];
  const flat = { re: new Float64Array(n).fill(1), im: new Float64Array(n) };
  planFor(elimination, stateProgram(elimination, pairs, [from, to]), frequencies, [...tables.slice(0, pairs.length), flat]).run(
    values,
    re,
    im,
    0,
  );
  const output = (k: number): ComplexArrays => ({ re: re[k]!, im: im[k]! });
  const [sum, product, self] = [output(0), output(1), output(2)];
  // Both over the target's size, so that their sum is held against 1.
  const target = tables[pairs.length]!;
  const empty = (): ComplexArrays => ({ re: new Float64Array(n), im: new Float64Array(n) });
  const [start, turn] = [empty(), empty()];
  for (let i = 0; i < n; i++) {
    const scale = Math.sqrt(target.re[i]!);
    const [pr, pi, zr, zi] = [sum.re[i]!, sum.im[i]!, self.re[i]!, self.im[i]!];
    start.re[i] = scale * pr;
    start.im[i] = scale * pi;
    turn.re[i] = scale * (pr * zr - pi * zi - product.re[i]!);
    turn.im[i] = scale * (pr * zi + pi * zr - product.im[i]!);
  }
  const before = { re: new Float64Array(n), im: new Float64Array(n) };
  law.bind(frequencies).admittance(values[branch]!, 0, 0, n, before.re, before.im, 0);
  const minus = { re: before.re.map((value) => -value), im: before.im.map((value) => -value) };
  const code = [PSEUDO.fill, 0, branch, 0, OP.rankOneError, 0, 0, 0];
  const program: Program = { code: Int32Array.from(code), slots: 1, constants: new Map(), outputs: 0, sums: 1, given: 5 };
  return planFor(elimination, program, frequencies, [turn, self, start, minus, target]);
}

/** Outputs: the sum, U·λ, and Z, all for the present values. Given tables: the H_k, then 1. */
function stateProgram(elimination: Elimination, pairs: readonly OutputPair[], across: OutputPair): Program {
  const { rootOf, order, neighbours } = elimination;
  const builder = programBuilder(elimination);
  const ends = [...pairs, across];
  const injected = new Set(
    ends
      .flat()
      .map((node) => rootOf[node]!)
      .filter((node) => node > 1),
  );
  order.forEach((node, step) => {
    if (injected.has(node)) for (const neighbour of neighbours[step]!) if (neighbour > 1) injected.add(neighbour);
  });
  const demand = builder.demand(ends);
  builder.forward({ ratios: new Set([...demand.keys(), ...injected]), inverses: injected });
  const voltage = builder.backward(demand, ONE);
  const put = (output: number, { slot, sign }: Value) => {
    if (slot === NOTHING || slot === ONE) {
      const own = builder.take();
      builder.emit(OP.table, own, pairs.length);
      if (slot === NOTHING) builder.emit(OP.subtract, own, own);
      builder.emit(sign > 0 ? OP.out : OP.outNegated, output, own);
    } else builder.emit(sign > 0 ? OP.out : OP.outNegated, output, slot);
  };
  const total = weightedSum(
    builder,
    pairs.map(([a, b]) => voltage(a, b)),
  );
  put(0, { slot: total, sign: 1 });
  const own = voltage(...across);
  /** What currents (by pair and the table that gives their size) make across the branch. */
  const response = (sources: readonly (readonly [OutputPair, number])[]): Value => {
    const currents = new Map<number, number>();
    for (const [pair, table] of sources) {
      pair.forEach((node, end) => {
        const root = rootOf[node]!;
        if (root <= 1) return;
        const slot = builder.take();
        builder.emit(OP.table, slot, table);
        if (end === 1) builder.emit(OP.negate, slot, slot);
        const present = currents.get(root);
        if (present === undefined) currents.set(root, slot);
        else builder.emit(OP.add, present, slot);
      });
    }
    return builder.backward(builder.demand([across]), NOTHING, builder.inject(currents))(...across);
  };
  const lambda = response(pairs.map((pair, index) => [pair, index] as const));
  if (lambda.slot === NOTHING || own.slot === NOTHING) put(1, { slot: NOTHING, sign: 1 });
  else if (own.slot === ONE) put(1, { slot: lambda.slot, sign: own.sign === lambda.sign ? 1 : -1 });
  else {
    const product = builder.take();
    builder.emit(own.sign === lambda.sign ? OP.multiply : OP.multiplyNegate, product, own.slot, lambda.slot);
    put(1, { slot: product, sign: 1 });
  }
  put(2, response([[across, pairs.length]]));
  return {
    code: Int32Array.from(builder.code),
    slots: builder.slots(),
    constants: new Map(),
    outputs: 3,
    sums: 0,
    given: pairs.length + 1,
  };
}
