import type { PreferredSeries } from "../quantity";
import type { BoughtPart, Part } from "../parts";
import { mainValue } from "../parts/internal";
import type { Choice, Option } from "./choices";
import type { Goods } from "./goods";
import { around, partOf, valuesBetween, valuesFor, type CoilLaw } from "./series-parts";
import type { Slot } from "./drawing-data";

/** Where the parts of a drawing come from: every candidate that a redesign looks at. */
export interface Supply {
  /** Candidates of all slots, as many as a search can look through; none where a slot has none. */
  readonly choicesFor: (slots: Readonly<Record<string, Slot>>) => readonly Choice[] | undefined;
  /** Whether there are candidates in the ranges of the slots that were left out of the choices. */
  readonly isThinned: (slots: Readonly<Record<string, Slot>>, choices: readonly Choice[]) => boolean;
  /** Candidates near one that was found, itself among them. */
  readonly near: (slot: Slot, part: Part) => readonly Option[];
  /** The kinds of which slots need some and there are none. */
  readonly lacks: (slots: Readonly<Record<string, Slot>>) => readonly Slot["kind"][];
  /** What is known of the candidates, where they come from a stock. */
  readonly goods?: Goods | undefined;
}

/** What can be had in a series of preferred values, with losses by a law. */
export function seriesSupply(series: PreferredSeries, law: CoilLaw): Supply {
  const made = new Map<string, Part>();
  const part = (kind: Slot["kind"], value: number): Part => {
    const key = `${kind} ${value}`;
    const own = made.get(key) ?? partOf(kind, value, law);
    made.set(key, own);
    return own;
  };
  return {
    choicesFor: (slots) =>
      valuesFor(slots, series).map(({ name, values }) => ({ name, options: values.map((value) => part(slots[name]!.kind, value)) })),
    isThinned: (slots, choices) =>
      choices.some(({ name, options }) => {
        const { fixed, from, to } = slots[name]!;
        return fixed === undefined && options.length < valuesBetween(series, from, to).length;
      }),
    lacks: () => [],
    near: ({ kind, fixed }, found) =>
      fixed === undefined ? around(series, mainValue(found as BoughtPart)).map((value) => part(kind, value)) : [found],
  };
}
