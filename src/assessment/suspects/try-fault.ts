import type { Loudspeaker } from "../../loudspeaker";
import { changer, type ChangedNetwork, type NodalSolution } from "../../network/internal";
import type { NetworkFault } from "./faults";
import { fitted } from "./fitted-fault";
import type { Found } from "./groups";

/** One fault on a network that was solved once: what its changes do, at the unknowns that fit best. */
export function tryFault(
  solution: NodalSolution,
  fault: NetworkFault & { readonly key: string },
  box: Loudspeaker,
  misfit: (predicted: ChangedNetwork, out: Float64Array) => number,
  scratch: Float64Array,
  near?: readonly number[],
): Found {
  const terminals = (part: string) => solution.circuit.parts.get(part)!.terminals;
  const outputs = box.drivers.map(({ part }) => fault.ends?.[part] ?? ([terminals(part)[0]!, terminals(part)[1]!] as const));
  const change = changer(solution, fault.pairs, outputs);
  const mine = box.drivers.flatMap(({ part }, index) => (part === fault.parts[0] ? [index] : []));
  const run = (unknowns: readonly number[], out: Float64Array) => {
    const changes = fault.changes(unknowns);
    const predicted = change(changes);
    if (fault.own !== undefined)
      for (const index of mine)
        divide(predicted.voltageRe[index]!, predicted.voltageIm[index]!, fault.own === "nothing" ? undefined : changes[0]!);
    return misfit(predicted, out);
  };
  return fitted(fault, run, scratch, near);
}

/** A voltage over the denominator of a change, or nothing. */
function divide(re: Float64Array, im: Float64Array, by: { readonly denRe: Float64Array; readonly denIm: Float64Array } | undefined): void {
  if (by === undefined) {
    re.fill(0);
    im.fill(0);
    return;
  }
  for (let p = 0; p < re.length; p++) {
    const [x, y, dr, di] = [re[p]!, im[p]!, by.denRe[p]!, by.denIm[p]!];
    const size = dr * dr + di * di;
    re[p] = (x * dr + y * di) / size;
    im[p] = (y * dr - x * di) / size;
  }
}
