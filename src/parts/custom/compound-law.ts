import type { CircuitPiece, Evaluator, Law, ValueLimit } from "../law";
import type { LawData } from "./law-data";

/** A law in the order in which it is computed: leaves, and what joins nodes that came before. */
type Node =
  | { readonly leaf: "resistance" | "inductance" | "capacitance" | "fractional"; readonly value: number }
  | { readonly join: "series" | "parallel"; readonly of: readonly number[] };

const LIMITS = {
  resistance: [{ unit: "Ω", range: { min: 0 } }],
  inductance: [{ unit: "H", range: { min: 0 } }],
  capacitance: [{ unit: "F", range: { above: 0 } }],
  fractional: [{ range: { above: 0 } }, { range: { above: 0, max: 1 } }],
} as const satisfies Readonly<Record<string, readonly ValueLimit[]>>;

/** The law that data describe, and its values in order. */
export function compoundLaw(data: LawData): { readonly law: Law; readonly values: readonly number[] } {
  const nodes: Node[] = [];
  const [parameters, limits, values]: [string[], ValueLimit[], number[]] = [[], [], []];
  const add = (each: LawData): number => {
    if ("of" in each) return nodes.push({ join: each.law, of: each.of.map(add) }) - 1;
    const node: Node = { leaf: each.law, value: values.length };
    limits.push(...LIMITS[each.law]);
    if (each.law === "fractional") {
      parameters.push(each.name === "" ? "k" : `${each.name}K`, each.name === "" ? "n" : `${each.name}N`);
      values.push(each.k, each.n);
    } else {
      parameters.push(each.name);
      values.push(each.value);
    }
    return nodes.push(node) - 1;
  };
  add(data);
  return {
    law: Object.freeze({
      name: "compound",
      parameters,
      limits,
      bind: (frequencies: Float64Array) => evaluatorOf(nodes, frequencies),
      ratio: ratioOf(nodes),
      circuit: (given: readonly number[]) => piecesOf(nodes, nodes.length - 1, given),
    }),
    values,
  };
}

/** A node of a law as pieces in series. */
function piecesOf(nodes: readonly Node[], at: number, values: readonly number[]): readonly CircuitPiece[] {
  const node = nodes[at]!;
  if ("join" in node) {
    const chains = node.of.map((child) => piecesOf(nodes, child, values));
    return node.join === "series" ? chains.flat() : [{ beside: chains }];
  }
  const value = values[node.value]!;
  if (node.leaf === "capacitance") return [{ c: value }];
  if (value === 0) return [{ r: 0 }];
  if (node.leaf === "fractional") return fractionalPieces(value, values[node.value + 1]!, "Draw it out of resistors and coils");
  return [node.leaf === "resistance" ? { r: value } : { l: value }];
}

/** A coil K(jω)ⁿ: itself an inductance where n is 1, else no finite circuit's. */
export function fractionalPieces(k: number, n: number, otherwise: string): readonly CircuitPiece[] {
  if (n === 1) return [{ l: k }];
  const { law, values } = compoundLaw({ law: "fractional", name: "", k, n });
  return [{ near: "coil", law, values, what: `the coil K(jw)^n with K ${k}, n ${n}`, otherwise }];
}

function ratioOf(nodes: readonly Node[]): Law["ratio"] {
  return (values, offset, frequency, out) => {
    const work = new Float64Array(8 * nodes.length);
    evaluate(nodes, values, offset, 2 * Math.PI * frequency, -1, work);
    const last = 8 * (nodes.length - 1);
    for (let k = 0; k < 4; k++) out[k] = work[last + k]!;
  };
}

function evaluatorOf(nodes: readonly Node[], frequencies: Float64Array): Evaluator {
  const work = new Float64Array(8 * nodes.length);
  const last = 8 * (nodes.length - 1);
  return {
    admittance(values, offset, start, count, re, im, at) {
      for (let i = 0; i < count; i++) {
        evaluate(nodes, values, offset, 2 * Math.PI * frequencies[start + i]!, -1, work);
        const [ar, ai, br, bi] = [work[last]!, work[last + 1]!, work[last + 2]!, work[last + 3]!];
        const size = br * br + bi * bi;
        re[at + i] = (ar * br + ai * bi) / size;
        im[at + i] = (ai * br - ar * bi) / size;
      }
    },
    // Y = a/b: ∂Y = (∂a − Y·∂b)/b
    derivative(values, offset, index, start, count, re, im, at) {
      for (let i = 0; i < count; i++) {
        evaluate(nodes, values, offset, 2 * Math.PI * frequencies[start + i]!, index, work);
        const [ar, ai, br, bi] = [work[last]!, work[last + 1]!, work[last + 2]!, work[last + 3]!];
        const size = br * br + bi * bi;
        const [yr, yi] = [(ar * br + ai * bi) / size, (ai * br - ar * bi) / size];
        const [dr, di] = [work[last + 6]!, work[last + 7]!];
        const [nr, ni] = [work[last + 4]! - (yr * dr - yi * di), work[last + 5]! - (yr * di + yi * dr)];
        re[at + i] = (nr * br + ni * bi) / size;
        im[at + i] = (ni * br - nr * bi) / size;
      }
    },
  };
}

/**
 * Each node's law as a·V = b·I, which stays finite where its admittance or its impedance doesn't, with the derivatives of a and b by value `wanted`: eight numbers a node, Re and Im of
 * a, b, ∂a, ∂b. They are scaled to a size of 1 after each leaf and each join, so that no product of many leaves leaves the range of numbers.
 */
function evaluate(
  nodes: readonly Node[],
  values: ArrayLike<number>,
  offset: number,
  omega: number,
  wanted: number,
  work: Float64Array,
): void {
  for (let k = 0; k < nodes.length; k++) {
    const node = nodes[k]!;
    const at = 8 * k;
    if ("leaf" in node) leaf(node.leaf, values, offset + node.value, omega, wanted - node.value, work, at);
    else {
      work.copyWithin(at, 8 * node.of[0]!, 8 * node.of[0]! + 8);
      for (let child = 1; child < node.of.length; child++) {
        join(node.join === "series" ? 0 : 2, work, at, 8 * node.of[child]!);
        scale(work, at);
      }
    }
    scale(work, at);
  }
}

/** The larger of a and b to a size of 1. */
function scale(work: Float64Array, at: number): void {
  const size = Math.max(Math.abs(work[at]!), Math.abs(work[at + 1]!), Math.abs(work[at + 2]!), Math.abs(work[at + 3]!));
  for (let j = at; j < at + 8; j++) work[j] = work[j]! / size;
}

/** `own`: 0 or 1 where the leaf's first or second value is the one wanted. */
function leaf(
  kind: "resistance" | "inductance" | "capacitance" | "fractional",
  values: ArrayLike<number>,
  at: number,
  omega: number,
  own: number,
  work: Float64Array,
  to: number,
): void {
  work.fill(0, to, to + 8);
  const value = values[at]!;
  const wanted = own === 0 ? 1 : 0;
  if (kind === "capacitance") {
    work[to + 1] = omega * value;
    work[to + 2] = 1;
    work[to + 5] = wanted * omega;
    return;
  }
  work[to] = 1;
  if (kind === "resistance") {
    work[to + 2] = value;
    work[to + 6] = wanted;
  } else if (kind === "inductance") {
    work[to + 3] = omega * value;
    work[to + 7] = wanted * omega;
  } else if (omega > 0) {
    const n = values[at + 1]!;
    const [size, angle] = [omega ** n, (n * Math.PI) / 2];
    const [pr, pi] = [size * Math.cos(angle), size * Math.sin(angle)];
    work[to + 2] = value * pr;
    work[to + 3] = value * pi;
    if (own === 0) [work[to + 6], work[to + 7]] = [pr, pi];
    // ∂/∂n = K·(jω)ⁿ·ln(jω)
    if (own === 1)
      [work[to + 6], work[to + 7]] = [
        value * (pr * Math.log(omega) - (pi * Math.PI) / 2),
        value * (pr * (Math.PI / 2) + pi * Math.log(omega)),
      ];
  }
}

/**
 * Joins a node with another, in place. In series, with x = a and y = b: a = a₁a₂, b = b₁a₂ + a₁b₂; in parallel a and b change their roles. `first`: where of the node's numbers x stands, 0
 * in series, 2 in parallel. Two gaps in series are one, and so are two wires in parallel, of which the product would be 0 on both sides.
 */
function join(first: 0 | 2, work: Float64Array, at: number, other: number): void {
  if ([at, at + 1, other, other + 1].every((each) => work[each + first] === 0)) return;
  const second = 2 - first;
  const part = (node: number, which: number, half: number) => work[node + which + half]!;
  const product = (p: number, i: number, q: number, j: number): readonly [number, number] => {
    const [ar, ai, br, bi] = [part(p, i, 0), part(p, i, 1), part(q, j, 0), part(q, j, 1)];
    return [ar * br - ai * bi, ar * bi + ai * br];
  };
  const x = product(at, first, other, first);
  const y = sum(product(at, second, other, first), product(at, first, other, second));
  const dx = sum(product(at, first + 4, other, first), product(at, first, other, first + 4));
  const dy = sum(
    sum(product(at, second + 4, other, first), product(at, second, other, first + 4)),
    sum(product(at, first + 4, other, second), product(at, first, other, second + 4)),
  );
  work.set(x, at + first);
  work.set(y, at + second);
  work.set(dx, at + first + 4);
  work.set(dy, at + second + 4);
}

function sum([ar, ai]: readonly [number, number], [br, bi]: readonly [number, number]): readonly [number, number] {
  return [ar + br, ai + bi];
}
