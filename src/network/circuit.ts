import { show } from "../errors/internal";
import type { Part } from "../parts";
import { describe, expandPart, isCoil, isCoupling, type Law } from "../parts/internal";
import type { Entries } from "./entries";
import { checkEntries } from "./check-entries";
import { naming, refusal } from "./refusal";

/** A branch with its ends as node numbers. */
export interface CircuitBranch {
  readonly part: string;
  readonly from: number;
  readonly to: number;
  readonly law: Law;
  readonly values: readonly number[];
}

/** Two coupled branches, by index. */
export interface CircuitCoupling {
  readonly name: string;
  readonly first: number;
  readonly second: number;
  readonly k: number;
}

/** An ideal transformer by node numbers. */
export interface CircuitTransformer {
  readonly part: string;
  readonly primary: readonly [number, number];
  readonly secondary: readonly [number, number];
  readonly ratio: number;
}

/** A network with its nodes numbered: 0 is `gnd`, 1 is `in`, the rest in order of first mention. */
export interface Circuit {
  readonly nodes: readonly string[];
  readonly nodeNumber: ReadonlyMap<string, number>;
  readonly branches: readonly CircuitBranch[];
  readonly couplings: readonly CircuitCoupling[];
  readonly transformers: readonly CircuitTransformer[];
  /** Each part's terminal nodes and its branches' indices. */
  readonly parts: ReadonlyMap<string, { readonly part: Part; readonly terminals: readonly number[]; readonly branches: readonly number[] }>;
}

export const GND = 0;
export const IN = 1;

/** Bounds that keep every product of the solver within the range of floating-point numbers, far outside anything built. */
const SMALLEST = 1e-30;
const LARGEST = 1e30;
const MOST_NODES = 2000;

/** Numbers the nodes and expands the parts. Refuses entries that can't be read at all; sense is `diagnose`'s matter. */
export function circuitOf(entries: Entries): Circuit {
  checkEntries("network", entries);
  const nodes = ["gnd", "in"];
  const nodeNumber = new Map(nodes.map((name, index) => [name, index]));
  const branches: CircuitBranch[] = [];
  const couplings: CircuitCoupling[] = [];
  const transformers: CircuitTransformer[] = [];
  const parts = new Map<string, { part: Part; terminals: number[]; branches: number[] }>();
  const waiting: { name: string; k: number; coils: readonly string[] }[] = [];

  for (const name of Object.keys(entries)) {
    const entry: readonly unknown[] = entries[name]!;
    const names = entry.slice(1) as string[];
    if (isCoupling(entry[0])) {
      waiting.push({ name, k: entry[0].k, coils: names });
      continue;
    }
    const expansion = naming(name, () => expandPart(entry[0] as Part));
    if (names.length !== expansion.terminals) {
      throw refusal(
        "network",
        "malformed-network",
        `"${name}" has ${expansion.terminals} terminals, got ${names.length} nodes (${names.join(", ")})`,
        "Name one node for each terminal",
        name,
      );
    }
    const terminals = names.map((node) => {
      let number = nodeNumber.get(node);
      if (number === undefined) {
        number = nodes.push(node) - 1;
        nodeNumber.set(node, number);
      }
      return number;
    });
    const first = branches.length;
    for (const branch of expansion.branches) {
      for (const [index, value] of branch.values.entries()) {
        if (!(value === 0 || (typeof value === "number" && value >= SMALLEST && value <= LARGEST))) {
          throw refusal(
            "network",
            "invalid-part",
            `"${name}" must have the value ${branch.law.parameters[index]} at 0 or between ${SMALLEST} and ${LARGEST}, got ${show(value)}`,
            "Make parts with the functions of this library, and leave out what has no effect",
            name,
          );
        }
      }
      branches.push({ part: name, from: terminals[branch.from]!, to: terminals[branch.to]!, law: branch.law, values: branch.values });
    }
    parts.set(name, { part: entry[0] as Part, terminals, branches: expansion.branches.map((_, index) => first + index) });
    for (const inner of expansion.couplings ?? [])
      couplings.push({ name, first: first + inner.first, second: first + inner.second, k: inner.k });
    for (const ideal of expansion.transformers ?? []) {
      const at = (pair: readonly [number, number]) => [terminals[pair[0]]!, terminals[pair[1]]!] as const;
      const size = typeof ideal.ratio === "number" ? Math.abs(ideal.ratio) : NaN;
      if (!(size >= SMALLEST && size <= LARGEST))
        throw refusal(
          "network",
          "invalid-part",
          `"${name}" must have a finite ratio other than 0, got ${show(ideal.ratio)}`,
          "Make parts with the functions of this library",
          name,
        );
      transformers.push({ part: name, primary: at(ideal.primary), secondary: at(ideal.secondary), ratio: ideal.ratio });
    }
    if (nodes.length > MOST_NODES)
      throw refusal(
        "network",
        "too-many-nodes",
        `there must be at most ${MOST_NODES} nodes, and "${name}" brings one more`,
        "Solve the network in pieces",
        name,
      );
  }
  for (const { name, k, coils } of waiting) couplings.push({ name, k, ...coupledCoils(name, coils, parts) });
  return { nodes, nodeNumber, branches, couplings, transformers, parts };
}

function coupledCoils(
  name: string,
  coils: readonly string[],
  parts: ReadonlyMap<string, { readonly part: Part; readonly branches: readonly number[] }>,
) {
  const known = [...parts].filter(([, { part }]) => isCoil(part)).map(([coil]) => coil);
  const found = coils.map((coil) => {
    const entry = parts.get(coil);
    if (entry === undefined || !isCoil(entry.part)) {
      throw refusal(
        "network",
        "coupling-to-no-coil",
        `"${name}" must couple two coils of the network, got ${show(coil)}, which is ${entry === undefined ? "not there" : `a ${describe(entry.part).noun}`}`,
        known.length === 0 ? "There is no coil in this network" : `The coils are ${known.join(", ")}`,
        name,
      );
    }
    return entry.branches[0]!;
  });
  const [first, second] = found;
  if (found.length !== 2 || first === undefined || second === undefined || first === second) {
    throw refusal(
      "network",
      "coupling-to-no-coil",
      `"${name}" must name two different coils, got ${coils.join(", ")}`,
      'Write [coupling(k), "L1", "L2"]',
      name,
    );
  }
  return { first, second };
}
