import { DividingNetworkError } from "../errors";
import { assess, lossOf, type Assessment, type Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { network as networkOf, type Entries, type Entry, type Network } from "../network";
import { resistor, type Combination, type StockPart } from "../parts";
import type { Resistance } from "../quantity";
import { chosen } from "./choices";
import type { DriverPolarity } from "./choose-values-data";
import { priceOf } from "./goods";
import { meanLevelDb } from "./limits";
import type { Proof } from "./proof";
import type { Best } from "./refine";
import { renamed } from "./renamed";
import type { Robustness } from "./robust-data";
import type { Drawing } from "./drawing-data";
import type { Combination as Topology } from "./combinations";
import type { RedesignGrounds } from "./redesign-grounds";
import { namesFor } from "./drawing-names";

/** One network of the front, and what is proven of it: nothing that lies outside the topologies and values that were looked through. */
export interface Redesigned extends Designed, Proof {}

/** A network that was designed. */
export interface Designed {
  /** The network: `{ ...loudspeaker, network }` is a loudspeaker. */
  readonly network: Network;
  /** dB, as `lossOf` gives it for the goal. */
  readonly lossDb: number;
  /** What loudspeakers drawn within the tolerances come to, by which the network was chosen; absent unless that was asked for. */
  readonly robust?: Robustness | undefined;
  /** How many parts beside the drivers, dimensionless. */
  readonly parts: number;
  /** dB re 20 µPa at 2.83 V: mean over the goal's places and band. */
  readonly levelDb: number;
  /** Of all parts, in the stock's currency, dimensionless; absent without a stock, or where the price of one isn't known. */
  readonly price?: number | undefined;
  /** By designator, the line of the stock that it is taken from; empty without a stock. What is made of two stands under `combined`. */
  readonly taken: Readonly<Record<string, StockPart>>;
  /** By designator, how two lines of the stock stand in the place of one part, and which; absent where nothing is made of two. */
  readonly combined?: Readonly<Record<string, Combination>> | undefined;
  /** dB at the places that were held back: the search didn't look at them. Absent where there are none. */
  readonly heldBackDb?: number | undefined;
  /** The topology in words. */
  readonly topology: string;
  /** Of each driver's part above the lowest branch. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
  /** All that `assess` says of it, by the goal with the load that the search kept; absent where nothing was measured on the axis, or where a limit of the goal is of what isn't known. */
  readonly assessment?: Assessment | undefined;
  /** dB of loss without each part: a wire in place of one in the way, nothing in place of one across; Infinity where nothing is then heard. */
  readonly lossWithoutDb: Readonly<Record<string, number>>;
}

/** What was chosen, as it is handed over. */
export function redesigned(
  { box, goal, judged, groups, supply: { goods }, heldBack, ratedImpedance }: RedesignGrounds,
  { parts, says }: Topology,
  drawing: Drawing,
  { choices, codes, turned }: Best,
  robust?: Robustness,
): Designed {
  const names = namesFor(drawing);
  const { slots } = drawing;
  const own = chosen(drawing.network, choices, codes, turned);
  const written = (entries: Entries) => networkOf<Entries>(renamed(entries, names));
  const without = (name: string): number => {
    const { way, together, branch } = slots[name]!;
    const entries: Record<string, Entry> = { ...own };
    // Of a Zobel network or a trap no part does anything alone; of a trap in series a wire is left.
    if (together !== undefined) {
      for (const [other, slot] of Object.entries(slots)) if (slot.branch === branch && slot.together === together) delete entries[other];
      if (together === "trap in series") entries[name] = [resistor(0), own[name]![1], own[name]![2]] as Entry;
    } else if (way === "across") delete entries[name];
    else entries[name] = [resistor(0), own[name]![1], own[name]![2]] as Entry;
    try {
      return lossOf({ ...box, network: written(entries) }, goal).lossDb;
    } catch (error) {
      if (error instanceof DividingNetworkError) return Infinity;
      throw error;
    }
  };
  const network = written(own);
  const bought = choices.flatMap(({ name, options }, index) => {
    const option = options[codes[index]!]!;
    const pieces = goods?.pieces.get(option);
    return pieces === undefined ? [] : [{ name: names.get(name)!, pieces, whole: goods!.wholes?.get(option) }];
  });
  const price = priceOf(bought.flatMap(({ pieces }) => pieces));
  const combined = bought.flatMap(({ name, whole }) => (whole === undefined ? [] : [[name, whole] as const]));
  const heard = { ...box, network };
  return Object.freeze({
    network,
    lossDb: lossOf(heard, goal).lossDb,
    ...(robust === undefined ? {} : { robust }),
    ...(heldBack === undefined ? {} : { heldBackDb: lossOf(heard, heldBack).lossDb }),
    parts,
    levelDb: meanLevelDb(heard, goal),
    topology: says,
    ...(goods === undefined || price === Infinity ? {} : { price }),
    taken: Object.freeze(
      Object.fromEntries(bought.flatMap(({ name, pieces, whole }) => (whole === undefined ? [[name, pieces[0]!]] : []))),
    ),
    ...(combined.length === 0 ? {} : { combined: Object.freeze(Object.fromEntries(combined)) }),
    polarity: Object.freeze(
      Object.fromEntries(
        groups.slice(1).flatMap((group) => group.parts.map((part) => [part, turned.has(part) ? "reversed" : "same"] as const)),
      ),
    ),
    ...assessed(heard, ratedImpedance, judged),
    lossWithoutDb: Object.freeze(Object.fromEntries(Object.keys(slots).map((name) => [names.get(name)!, without(name)]))),
  });
}

/** What `assess` says, where it can. */
function assessed(box: Loudspeaker, ratedImpedance: Resistance, goal: Goal): Pick<Designed, "assessment"> {
  try {
    return { assessment: assess(box, { ratedImpedance, goal }) };
  } catch (error) {
    if (error instanceof DividingNetworkError) return {};
    throw error;
  }
}
