import type { Place } from "../place";
import type { Elimination } from "./elimination";

/** Gives a value another number for the next run: among the values of branches, or, as a factor or ratio, in an elimination that nobody else has. */
export function writeValue(elimination: Elimination, values: readonly Float64Array[], place: Place, value: number): void {
  if ("branch" in place) values[place.branch]![place.index] = value;
  else if ("transformer" in place) elimination.ratios[place.transformer] = value;
  else {
    const { first, second } = elimination.circuit.couplings[place.coupling]!;
    const { branches, factors } = elimination.coils.find((group) => group.branches.includes(first))!;
    const [i, j, n] = [branches.indexOf(first), branches.indexOf(second), branches.length];
    factors[i * n + j] = factors[j * n + i] = value;
  }
}
