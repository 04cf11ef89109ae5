import { formatQuantity } from "../../quantity";
import { fewDigits, listOf } from "../../quantity/internal";
import type { Entries } from "../../network";
import { isCoil, isCoupling } from "../../parts/internal";
import { distanceApart, SMALL } from "./coil-distance";
import { harmOf, harmText } from "./coil-harm";
import type { CoilLayout, CoilPlan } from "./coil-plan-data";
import { placed } from "./placed-coils";
import { woundParts } from "./wound-parts";

/** How the coils are to lie: placed by their windings where these are known, else by the rule of the trade with a distance for coils of the smallest shape. */
export function coilPlan(
  caller: string,
  network: Entries,
  layout: CoilLayout | undefined,
  drivers: readonly string[],
  frequencies: Float64Array,
): CoilPlan {
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  const coils = woundParts(network, drivers).filter((name) => !coupled.has(name));
  const metal =
    coils.length + coupled.size === 0
      ? []
      : [...meantToCouple(network), "Coils away from steel and magnets, fixed with brass screws or ties."];
  if (layout !== undefined) return placed({ caller, network, coils, drivers, frequencies, metal }, layout);
  if (coils.length < 2)
    return Object.freeze({
      coils: Object.freeze(coils),
      sentences: Object.freeze(metal),
      standing: metal.length === 0 ? "" : "common practice, no source",
    });
  const others = coils.filter((name) => !isCoil(network[name]![0]));
  const apart = distanceApart(network, coils);
  const harm = harmOf(network, coils, drivers, frequencies, SMALL);
  return Object.freeze({
    coils: Object.freeze(coils),
    sentences: Object.freeze([
      `Set ${coils.join(", ")} at right angles: one flat, the next on edge, its axis through the middle of the first${coils.length > 2 ? ", a third on edge the other way" : ""}${coils.length > 3 ? "; more than three: far apart" : ""}.`,
      ...(apart === undefined
        ? []
        : [
            `Where two must lie the same way, keep ${Math.ceil(apart.distance * 100)} cm between their middles${harm === undefined ? "" : `: they then couple by ${SMALL * 100} % or less${harmText(harm)}`}.`,
          ]),
      ...(others.length === 0 || apart === undefined
        ? []
        : [
            `${listOf(others)}: no plain air coil, so that no distance is computed for it. Keep it as far from the others as the board allows.`,
          ]),
      ...metal,
    ]),
    standing:
      apart === undefined
        ? "common practice, no source"
        : "right angles: common practice, no source; the distance is computed for air coils of the smallest shape that have these values",
  });
}

/** Coils that are to couple: how a meter shows that they do, and the right way round. */
function meantToCouple(network: Entries): readonly string[] {
  return Object.values(network).flatMap(([part, ...names]) => {
    if (!isCoupling(part)) return [];
    const [one, other] = names.map((name) => network[name]![0]);
    if (!isCoil(one) || !isCoil(other)) return [];
    const [apart, mutual] = [one.inductance + other.inductance, 2 * part.k * Math.sqrt(one.inductance * other.inductance)];
    const henries = (value: number) => formatQuantity(Math.max(0, value), "H", { digits: 3 });
    return [
      `${listOf(names)} are meant to couple, k = ${fewDigits(part.k)}: with the end of one joined to the dot of the other, the two in series measure ${henries(apart + mutual)}; with one turned round, ${henries(apart - mutual)}.`,
    ];
  });
}
