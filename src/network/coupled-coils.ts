import { show } from "../errors/internal";
import { isPositiveDefinite } from "./positive-definite";
import type { Circuit } from "./circuit";
import type { NetworkIssue } from "./network-issue";

/** Coils that are coupled to each other, directly or through others. */
export interface CoilGroup {
  /** Indices of the circuit's branches. */
  readonly branches: readonly number[];
  /** The symmetric matrix of coupling factors, row-major, 1 on the diagonal. */
  readonly factors: Float64Array;
  readonly names: readonly string[];
}

/** The groups of coupled coils in a circuit. A pair coupled twice keeps the last factor: `inductanceMatrixIssues` refuses it. */
export function coilGroups(circuit: Circuit): readonly CoilGroup[] {
  const groupOf = new Map<number, number[]>();
  for (const { first, second } of circuit.couplings) {
    const [a, b] = [groupOf.get(first) ?? [first], groupOf.get(second) ?? [second]];
    if (a === b) continue;
    const united = [...a, ...b];
    for (const branch of united) groupOf.set(branch, united);
  }
  return [...new Set(groupOf.values())].map((branches) => {
    const n = branches.length;
    const factors = new Float64Array(n * n);
    for (let i = 0; i < n; i++) factors[i * n + i] = 1;
    const names: string[] = [];
    for (const { name, first, second, k } of circuit.couplings) {
      const [i, j] = [branches.indexOf(first), branches.indexOf(second)];
      if (i < 0 || j < 0) continue;
      factors[i * n + j] = factors[j * n + i] = k;
      names.push(name);
    }
    return { branches, factors, names };
  });
}

/** Couplings that no coils can have: out of range, given twice, or together not positive definite. */
export function inductanceMatrixIssues(circuit: Circuit): NetworkIssue[] {
  const issues: NetworkIssue[] = [];
  const seen = new Map<string, string>();
  for (const { name, first, second, k } of circuit.couplings) {
    const key = [first, second].sort((a, b) => a - b).join();
    const earlier = seen.get(key);
    if (earlier !== undefined) {
      issues.push({
        code: "coupled-twice",
        message: `"${earlier}" and "${name}" couple the same two coils`,
        hint: "Keep one of them",
        parts: [earlier, name],
        severity: "error",
      });
    }
    seen.set(key, name);
    if (!(typeof k === "number" && k > -1 && k < 1))
      issues.push({
        code: "coupling-factor",
        message: `"${name}" must have a coupling factor above -1 and below 1, got ${show(k)}`,
        hint: "k = M/√(L₁L₂)",
        parts: [name],
        severity: "error",
      });
    for (const branch of [first, second]) {
      if (circuit.branches[branch]!.values[0] === 0) {
        const coil = circuit.branches[branch]!.part;
        issues.push({
          code: "coupling-factor",
          message: `"${name}" couples "${coil}", which has 0 H`,
          hint: `Give "${coil}" its inductance or take the coupling out`,
          parts: [name, coil],
          severity: "error",
        });
      }
    }
  }
  if (issues.length > 0) return issues;
  for (const group of coilGroups(circuit)) {
    if (!isPositiveDefinite(group.factors, group.branches.length)) {
      issues.push({
        code: "inductance-matrix",
        message: `${group.names.map((name) => `"${name}"`).join(", ")} can't hold together: with these coupling factors the coils would store negative energy (the inductance matrix isn't positive definite)`,
        hint: "Coils close to a common neighbour are also coupled to each other: measure or compute every pair",
        parts: group.names,
        severity: "error",
      });
    }
  }
  return issues;
}
