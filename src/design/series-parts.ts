import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../parts";
import { preferredValues, type PreferredSeries } from "../quantity";
import type { Slot } from "./drawing-data";

/** Ω of a coil by its inductance in H: one thickness of wire, in the shape of most inductance for its length, is $R \propto L^{0.6}$. */
export type CoilLaw = (inductance: number) => number;

/** 0.35 Ω at 1 mH: a choice, no source; about 1.2 mm of wire. */
export const coilResistance: CoilLaw = (inductance) => 0.35 * (inductance / 1e-3) ** 0.6;

/** Dissipation factor of a film capacitor, dimensionless: a choice, no source. */
export const FILM_DISSIPATION = 0.002;

/** A part of a series, with its losses. */
export function partOf(kind: Slot["kind"], value: number, law: CoilLaw): Resistor | Inductor | Capacitor {
  if (kind === "inductor") return inductor(value, { dcr: law(value) });
  return kind === "capacitor" ? capacitor(value, { dissipationFactor: FILM_DISSIPATION }) : resistor(value);
}

/** All values of a series between two, both included; where none lies between, the nearest. SI. */
export function valuesBetween(series: PreferredSeries, from: number, to: number): readonly number[] {
  const own: number[] = [];
  let nearest = NaN;
  for (let decade = Math.floor(Math.log10(from)) - 1; decade <= Math.ceil(Math.log10(to)); decade++) {
    for (const step of preferredValues(series)) {
      // Through text, so that 4.7 µF is the number that a reader writes.
      const value = Number(`${step}e${decade}`);
      if (value >= from * (1 - 1e-9) && value <= to * (1 + 1e-9)) own.push(value);
      const middle = Math.sqrt(from * to);
      if (!(Math.abs(Math.log(value / middle)) >= Math.abs(Math.log(nearest / middle)))) nearest = value;
    }
  }
  return own.length > 0 ? own : [nearest];
}

/** Steps of the series to either side of a value. */
const STEPS = 2;

/** The values of a series near one. */
export function around(series: PreferredSeries, value: number): readonly number[] {
  const step = 10 ** ((STEPS + 0.5) / Number(series.slice(1)));
  return valuesBetween(series, value / step, value * step);
}

/** States of a branch that are worth their tree. */
export const MOST_STATES = 8_000;

/**
 * The values of all slots, SI: of the asked series; in a branch with too many combinations of them thinned, the same way in every drawing, coils and capacitors last. Resistors are
 * searched in E6 at most: they set a level, which changes slowly.
 */
export function valuesFor(
  slots: Readonly<Record<string, Slot>>,
  series: PreferredSeries,
): readonly { readonly name: string; readonly values: readonly number[] }[] {
  const thinner = (["E12", "E6", "E3"] as const).filter((one) => Number(one.slice(1)) < Number(series.slice(1)));
  const coarse = Number(series.slice(1)) < 6 ? series : "E6";
  const pairs = [series, ...thinner].flatMap(
    (reactive) =>
      [
        [reactive, coarse],
        [reactive, "E3"],
      ] as const,
  );
  const list = Object.entries(slots);
  const valuesOf = (slot: Slot, [reactive, resistive]: (typeof pairs)[number]) =>
    slot.fixed === undefined
      ? valuesBetween(slot.kind === "resistor" ? resistive : reactive, slot.from, slot.to)
      : valuesBetween(series, slot.fixed, slot.fixed);
  const chosen = new Map<string, (typeof pairs)[number]>();
  for (const branch of new Set(list.map(([, slot]) => slot.branch))) {
    const states = (pair: (typeof pairs)[number]) =>
      list.reduce((product, [, slot]) => (slot.branch === branch ? product * valuesOf(slot, pair).length : product), 1);
    chosen.set(branch, pairs.find((pair) => states(pair) <= MOST_STATES) ?? pairs[pairs.length - 1]!);
  }
  return list.map(([name, slot]) => ({ name, values: valuesOf(slot, chosen.get(slot.branch)!) }));
}
