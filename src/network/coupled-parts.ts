import { DividingNetworkError } from "../errors";
import type { Elimination } from "./elimination";

/** The parts whose coils are coupled to others: inductive transformers among them. */
export function coupledParts({ circuit, coils }: Elimination): ReadonlySet<string> {
  return new Set(coils.flatMap(({ branches }) => branches.map((branch) => circuit.branches[branch]!.part)));
}

/** Refuses a coupled part as a variable: its branches share an inverse matrix, which one branch's slope doesn't know. */
export function refuseCoupled(caller: string, coupled: ReadonlySet<string>, names: Iterable<string>): void {
  for (const name of names) {
    if (coupled.has(name)) throw new DividingNetworkError("unsupported", `${caller}: "${name}" is coupled to another coil, and derivatives by coupled coils aren't there yet`, "Leave it out of \"vary\"");
  }
}
