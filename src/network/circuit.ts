import { DividingNetworkError, show } from "../errors";
import { expandPart, type Law, type Part } from "../parts";
import type { Entries } from "./entries";

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

/** Numbers the nodes and expands the parts. Refuses entries that can't be read at all; sense is `diagnose`'s matter. */
export function circuitOf(entries: Entries): Circuit {
  if (typeof entries !== "object" || entries === null || Array.isArray(entries)) {
    throw new DividingNetworkError("malformed-network", `network: the entries must be an object keyed by designator, got ${show(entries)}`);
  }
  const nodes = ["gnd", "in"];
  const nodeNumber = new Map(nodes.map((name, index) => [name, index]));
  const branches: CircuitBranch[] = [];
  const couplings: CircuitCoupling[] = [];
  const transformers: CircuitTransformer[] = [];
  const parts = new Map<string, { part: Part; terminals: number[]; branches: number[] }>();
  const waiting: { name: string; k: number; coils: readonly string[] }[] = [];

  for (const name of Object.keys(entries)) {
    const entry: readonly unknown[] = entries[name]!;
    if (!Array.isArray(entry) || entry.length < 2 || entry.slice(1).some((node) => typeof node !== "string" || node === "")) {
      throw new DividingNetworkError("malformed-network", `network: "${name}" must be [part, node, node, …] with node names as text, got ${show(entry)}`);
    }
    const names = entry.slice(1) as string[];
    if ((entry[0] as { kind?: unknown } | null)?.kind === "coupling") {
      waiting.push({ name, k: (entry[0] as { k: number }).k, coils: names });
      continue;
    }
    const expansion = expandNamed(name, entry[0] as Part);
    if (names.length !== expansion.terminals) {
      throw new DividingNetworkError("malformed-network", `network: "${name}" has ${expansion.terminals} terminals, got ${names.length} nodes (${names.join(", ")})`);
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
        if (!(Number.isFinite(value) && value >= 0)) {
          throw new DividingNetworkError("invalid-part", `network: "${name}" must have a finite ${branch.law.parameters[index]} of at least 0, got ${show(value)}`, "Make parts with the functions of this library, which check their values");
        }
      }
      branches.push({ part: name, from: terminals[branch.from]!, to: terminals[branch.to]!, law: branch.law, values: branch.values });
    }
    parts.set(name, { part: entry[0] as Part, terminals, branches: expansion.branches.map((_, index) => first + index) });
    for (const inner of expansion.couplings ?? []) couplings.push({ name, first: first + inner.first, second: first + inner.second, k: inner.k });
    for (const ideal of expansion.transformers ?? []) {
      const at = (pair: readonly [number, number]) => [terminals[pair[0]]!, terminals[pair[1]]!] as const;
      transformers.push({ part: name, primary: at(ideal.primary), secondary: at(ideal.secondary), ratio: ideal.ratio });
    }
  }
  for (const { name, k, coils } of waiting) couplings.push({ name, k, ...coupledCoils(name, coils, parts) });
  return { nodes, nodeNumber, branches, couplings, transformers, parts };
}

function expandNamed(name: string, part: Part) {
  try {
    return expandPart(part);
  } catch (error) {
    if (error instanceof DividingNetworkError) throw new DividingNetworkError(error.code, error.message.replace("network: a part", `network: "${name}"`), error.hint && error.message.includes(error.hint) ? "" : error.hint);
    throw error;
  }
}

function coupledCoils(name: string, coils: readonly string[], parts: ReadonlyMap<string, { readonly part: Part; readonly branches: readonly number[] }>) {
  const known = [...parts].filter(([, { part }]) => part.kind === "inductor").map(([coil]) => coil);
  const found = coils.map((coil) => {
    const entry = parts.get(coil);
    if (entry?.part.kind !== "inductor") {
      throw new DividingNetworkError(
        "coupling-to-no-coil",
        `network: "${name}" must couple two coils of the network, got ${show(coil)}, which is ${entry === undefined ? "not there" : `a ${entry.part.kind}`}`,
        known.length === 0 ? "There is no coil in this network" : `The coils are ${known.join(", ")}`,
      );
    }
    return entry.branches[0]!;
  });
  const [first, second] = found;
  if (found.length !== 2 || first === undefined || second === undefined || first === second) {
    throw new DividingNetworkError("coupling-to-no-coil", `network: "${name}" must name two different coils, got ${coils.join(", ")}`);
  }
  return { first, second };
}
