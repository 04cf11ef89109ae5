import type { CircuitBranch } from "./circuit";

/** What a branch is to the structure of a network: a connection, a gap, or a branch with an admittance. */
export type BranchState = "short" | "open" | "finite";

const quotient = /* @__PURE__ */ new Float64Array(4);

/**
 * The state of a branch for all frequencies above zero (`frequency` = 1, since no law changes its state there), or at
 * zero frequency, where a capacitor is open and a coil without resistance is a connection. A measured law, which has
 * no say at frequencies it wasn't measured at, counts as finite.
 */
export function branchState(
  branch: CircuitBranch,
  zeroFrequency: boolean,
  values: ArrayLike<number> = branch.values,
  offset = 0,
): BranchState {
  if (branch.law.parameters.length === 0 || branch.law.finite === true) return "finite";
  branch.law.ratio(values, offset, zeroFrequency ? 0 : 1, quotient);
  if (quotient[2] === 0 && quotient[3] === 0) return "short";
  if (quotient[0] === 0 && quotient[1] === 0) return "open";
  return "finite";
}
