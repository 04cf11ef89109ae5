import type { PartOrCoupling } from "../parts";
import { describe, expandPart, isCoupling, linkOf, mainOf } from "../parts/internal";

/** The one value of a part that a search may move: its main value, a coupling's factor, an ideal transformer's ratio. */
export function movableOf(part: PartOrCoupling): { readonly parameter: string; readonly value: number } | undefined {
  return mainOf(part) ?? linkOf(part);
}

/** Whether a value moves only where it is named: what links, and the coils that are linked. */
export function onlyNamed(network: Readonly<Record<string, readonly [PartOrCoupling, ...string[]]>>): (name: string) => boolean {
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  return (name) => coupled.has(name) || linkOf(network[name]![0]) !== undefined;
}

/** What moves, in words. */
export const MOVABLE = "resistors, coils, capacitors, couplings and ideal transformers";

/** The way out for whoever names a part of several values. */
export function drawnOtherwise(part: PartOrCoupling): string {
  const coupled = !isCoupling(part) && expandPart(part).couplings !== undefined;
  if (coupled) return "Draw its windings as two coils and a coupling between them";
  return `Draw the ${describe(part).noun} out of resistors, coils and capacitors, or leave it as drawn`;
}
