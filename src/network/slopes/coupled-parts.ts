import type { Elimination } from "../solve/elimination";

/** The parts whose coils are coupled to others: inductive transformers among them. */
export function coupledParts({ circuit, coils }: Elimination): ReadonlySet<string> {
  return new Set(coils.flatMap(({ branches }) => branches.map((branch) => circuit.branches[branch]!.part)));
}
