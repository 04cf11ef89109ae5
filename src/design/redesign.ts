import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { goalOf, anchoredGrid } from "../assessment/internal";
import { lossOf, type Goal, type GoalOptions } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { network as networkOf, type Entries, type Entry, type Network } from "../network";
import { resistor, type Capacitor, type Inductor, type Part, type Resistor } from "../parts";
import type { PreferredSeries, Resistance } from "../quantity";
import { chooseValues, type ChosenValues, type DriverPolarity } from "./choose-values";
import { meanLevelDb } from "./limits";
import { breathe } from "./pause";
import { coilResistance, partOf, valuesBetween, type CoilLaw } from "./series-parts";
import { drawingOf, groupsOf, partCount, saysWay, waysOf, zobelOf, type Drawing } from "./topologies";

/** How far a redesign is. */
export interface RedesignProgress {
  /** Topologies looked at, dimensionless. */
  readonly done: number;
  /** Of how many, dimensionless. */
  readonly of: number;
  /** dB of the best network so far; Infinity before one was found. */
  readonly lossDb: number;
}

/** What `redesign` takes. */
export interface RedesignOptions {
  /** The goal, or its options: Hz, m, dB, degrees; default all that was measured, flat. */
  readonly goal?: Goal | GoalOptions | undefined;
  /** Preferred values that can be bought; default `"E12"`. */
  readonly series?: PreferredSeries | undefined;
  /** Most parts beside the drivers, dimensionless; default 8. */
  readonly maxParts?: number | undefined;
  /** Ω of a coil by its inductance in H; default 0.35 Ω at 1 mH, rising with the power 0.6 (a choice, no source). */
  readonly coilResistance?: CoilLaw | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another. */
  readonly ratedImpedance?: Resistance | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the front so far is then returned. */
  readonly signal?: {
    /** True once it is to stop. */
    readonly aborted: boolean } | undefined;
  /** Called after each topology: counts dimensionless, loss in dB. */
  readonly onProgress?: ((progress: RedesignProgress) => void) | undefined;
}

/** One network of the front. */
export interface Redesigned {
  /** The network: `{ ...loudspeaker, network }` is a loudspeaker. */
  readonly network: Network;
  /** dB, as `lossOf` gives it for the goal. */
  readonly lossDb: number;
  /** How many parts beside the drivers, dimensionless. */
  readonly parts: number;
  /** dB re 20 µPa at 2.83 V: mean over the goal's places and band. */
  readonly levelDb: number;
  /** The topology in words. */
  readonly topology: string;
  /** Of each driver's part above the lowest branch. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
  /** dB of loss without each part: a wire in place of one in the way, nothing in place of one across; Infinity where nothing is then heard. */
  readonly lossWithoutDb: Readonly<Record<string, number>>;
}

/** What a redesign found. */
export interface Redesign {
  /** From few parts to many; each is nearer to the goal than all before it. */
  readonly front: readonly Redesigned[];
  /** Topologies looked at, dimensionless. */
  readonly topologies: number;
  /** Of these, those in which no network keeps the goal's limits, dimensionless. */
  readonly infeasible: number;
  /** Whether all were looked at. */
  readonly complete: boolean;
}

type Candidates = Readonly<Record<string, readonly (Resistor | Inductor | Capacitor)[]>>;

const CALLER = "redesign";
const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;
/** Points per octave on which networks are searched where the goal states no frequencies. */
const PER_OCTAVE = 6;
/** Steps of the series to either side of a value in the second search. */
const STEPS = 2;
/** Networks up to which the first search goes over E6; beyond, over E3. */
const MOST_COARSE = 200_000;
/** How often the second search moves on. */
const MOVES = 6;
/** Topologies of each count of parts that the second search goes on with. */
const KEPT = 2;

/**
 * Networks for the drivers of a loudspeaker, designed from nothing: of all topologies (low-passes and high-passes of one to three elements, with and without a Zobel
 * network, a series resistor or a divider; a midrange with one or two elements on each side; drivers of one role in parallel; both polarities) the values are
 * searched that come nearest to the goal and keep its limits. What it gives is a front: for each number of parts the best network found, as long as more parts
 * buy less loss. The values are first searched over E6 or, for many parts, E3, exactly, then over the asked series in the neighbourhood of the two best
 * topologies of each number of parts. So the front is the best *found*: neither search together proves that the full series holds nothing better.
 *
 * Parts are never ideal: coils follow `coilResistance`, capacitors have a dissipation factor of 0.002 (a choice, no source). Handovers are looked for between 0.8
 * and 6 kHz in a two-way, between 150 Hz and 1.2 kHz and 1.5 and 8 kHz in a three-way (common practice, no source). The level may fall against the loudspeaker as given by
 * the goal's `largestLevelLossDb`. Watts, volts, prices and what is in stock are not looked at, nor what the response does outside the goal's band.
 *
 * @param loudspeaker drivers with roles, what was measured of them (Pa/V), and the network as found
 * @param options `goal`; `series`; `maxParts` (dimensionless); `coilResistance` (Ω by H); `ratedImpedance` in Ω; `signal`; `onProgress`
 * @returns the front with losses and levels in dB, counts dimensionless
 * @throws DividingNetworkError `no-feasible-network` naming the limits that the simplest topology breaks, `aborted` before any network was found, `invalid-argument`, and what
 *   `chooseValues` and `lossOf` throw
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { redesign } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 17);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({
 *   network: { cone: [resistor(8), "in", "gnd"], dome: [resistor(8), "in", "gnd"] },
 *   drivers: [{ name: "cone", role: "woofer", pressures: [flat] }, { name: "dome", role: "tweeter", pressures: [flat] }],
 * });
 * const { front } = await redesign(box, { goal: { frequencies: grid, limits: "stated" }, maxParts: 2 });
 * Object.keys(front[0]!.network); // ["cone", "dome", "L1", "C1"]
 * front[0]!.lossDb; // < 0.2
 * ```
 */
export async function redesign(loudspeaker: Loudspeaker, options: RedesignOptions = {}): Promise<Redesign> {
  const box = checkLoudspeaker(CALLER, loudspeaker);
  const { goal: aim, series: asked, maxParts: most, coilResistance: law = coilResistance, ratedImpedance, signal, onProgress } = checkOptions(CALLER, options, ["goal", "series", "maxParts", "coilResistance", "ratedImpedance", "signal", "onProgress"]);
  if (typeof law !== "function") throw new DividingNetworkError("invalid-argument", `${CALLER}: "coilResistance" must be a function from H to Ω, got ${typeof law}`, "For example (l) => 350 * l");
  const series = checkOneOf(CALLER, "series", asked ?? "E12", SERIES);
  const maxParts = most === undefined ? 8 : checkNumber(CALLER, "maxParts", most, { min: 2, max: 20, integer: true });
  const goal = goalOf(aim);
  const search = searchGoal(box, goal);
  const groups = groupsOf(CALLER, box);
  const levelled = zobelOf(box, groups[0]!) !== undefined;
  const combinations = groups.map((group) => waysOf(group, levelled)).reduce<readonly (readonly ReturnType<typeof waysOf>[number][])[]>((all, ways) => all.flatMap((head) => ways.map((way) => [...head, way])), [[]])
    .map((ways) => ({ ways, parts: ways.reduce((sum, way) => sum + partCount(way), 0) })).filter(({ parts }) => parts <= maxParts).sort((a, b) => a.parts - b.parts);
  if (combinations.length === 0) throw new DividingNetworkError("invalid-argument", `${CALLER}: "maxParts" must allow at least one part on each side of every handover, got ${maxParts}`, `Allow ${2 * (groups.length - 1)} or more`);
  const polarity = Object.fromEntries(groups.slice(1).flatMap(({ parts }) => (parts.length === 1 ? [[parts[0]!, "either" as const]] : [])));
  const stopped = () => signal?.aborted === true;
  const choose = async (drawing: Drawing, values: Candidates) =>
    chooseValues({ ...box, network: networkOf<Entries>(drawing.network) }, { goal: search, values, polarity, ratedImpedance, signal });
  const found: { readonly drawing: Drawing; readonly ways: typeof combinations[number]["ways"]; readonly parts: number; chosen: ChosenValues }[] = [];
  let infeasible: DividingNetworkError | undefined;
  let [done, without, complete] = [0, 0, true];
  for (const { ways, parts } of combinations) {
    if (stopped()) {
      complete = false;
      break;
    }
    const drawing = drawingOf(box, groups, ways);
    const drawn = (steps: PreferredSeries) => candidates(drawing, law, (slot) => (slot.fixed === undefined ? valuesBetween(steps, slot.from, slot.to) : valuesBetween(series, slot.fixed, slot.fixed)));
    const fine = drawn(series === "E3" ? "E3" : "E6");
    const values = Object.values(fine).reduce((product, own) => product * own.length, 1) <= MOST_COARSE ? fine : drawn("E3");
    try {
      found.push({ drawing, ways, parts, chosen: await choose(drawing, values) });
    } catch (error) {
      if (!(error instanceof DividingNetworkError) || (error.code !== "no-feasible-network" && error.code !== "aborted")) throw error;
      if (error.code === "aborted") complete = false;
      else {
        infeasible ??= error;
        without++;
      }
    }
    done++;
    onProgress?.(Object.freeze({ done, of: combinations.length, lossDb: found.reduce((least, { chosen }) => Math.min(least, chosen.lossDb), Infinity) }));
    await breathe();
  }
  if (found.length === 0) throw infeasible ?? new DividingNetworkError("aborted", `${CALLER}: stopped by its signal before a network was found, after ${done} of ${combinations.length} topologies`);
  const refined = [...new Set(found.map(({ parts }) => parts))].flatMap((parts) => found.filter((one) => one.parts === parts).sort((a, b) => a.chosen.lossDb - b.chosen.lossDb).slice(0, KEPT));
  for (const one of refined) {
    for (let move = 0; move < MOVES && !stopped(); move++) {
      const near = candidates(one.drawing, law, (slot, name) => (slot.fixed === undefined ? around(series, mainValue(one.chosen.network[name]![0] as Part)) : valuesBetween(series, slot.fixed, slot.fixed)));
      try {
        const next = await choose(one.drawing, near);
        if (!(next.lossDb < one.chosen.lossDb - 1e-9) && move > 0) break;
        // The coarse series isn't always in the asked one.
        if (move === 0 || next.lossDb < one.chosen.lossDb) one.chosen = next;
      } catch (error) {
        if (!(error instanceof DividingNetworkError) || (error.code !== "no-feasible-network" && error.code !== "aborted")) throw error;
        break;
      }
    }
    if (stopped()) complete = false;
  }
  const members = refined.map((one) => member(box, goal, one.drawing, one.chosen, one.parts, one.ways.map(saysWay).join("; "))).sort((a, b) => a.parts - b.parts || a.lossDb - b.lossDb);
  const front: Redesigned[] = [];
  for (const one of members) if (front.every(({ lossDb }) => one.lossDb < lossDb)) front.push(one);
  return Object.freeze({ front: Object.freeze(front), topologies: done, infeasible: without, complete });
}

/** The goal as it is searched: with frequencies of its own, and with the level to keep stated against the loudspeaker as given. */
function searchGoal(box: Loudspeaker, goal: Goal): Goal {
  const grid = goal.frequencies ?? anchoredGrid(reached(box, goal), PER_OCTAVE);
  const keeps = goal.limits === "default" || goal.stated.includes("largestLevelLossDb");
  const floor = keeps ? meanLevelDb(box, goal) - goal.largestLevelLossDb : -Infinity;
  const least = Math.max(goal.leastLevelDb ?? -Infinity, floor);
  return goalOf({ ...goal, frequencies: grid, largestLevelLossDb: 100, ...(least === -Infinity ? {} : { leastLevelDb: least }) });
}

/** Hz: the goal's band, as far as everything was measured. */
function reached({ drivers }: Loudspeaker, { band }: Goal): { readonly from: number; readonly to: number } {
  const all = drivers.flatMap(({ pressures }) => pressures.map(({ response }) => response.frequencies));
  return { from: Math.max(band.from, ...all.map((own) => own.find((frequency) => frequency > 0) ?? Infinity)), to: Math.min(band.to, ...all.map((own) => own[own.length - 1]!)) };
}

function candidates({ slots }: Drawing, law: CoilLaw, valuesFor: (slot: Drawing["slots"][string], name: string) => readonly number[]): Candidates {
  return Object.fromEntries(Object.entries(slots).map(([name, slot]) => [name, valuesFor(slot, name).map((value) => partOf(slot.kind, value, law))]));
}

function around(series: PreferredSeries, value: number): readonly number[] {
  const step = 10 ** ((STEPS + 0.5) / Number(series.slice(1)));
  return valuesBetween(series, value / step, value * step);
}

function mainValue(part: Part): number {
  return part.kind === "inductor" ? part.inductance : part.kind === "capacitor" ? part.capacitance : part.kind === "resistor" ? part.resistance : NaN;
}

function member(box: Loudspeaker, goal: Goal, { slots }: Drawing, { network, polarity }: ChosenValues, parts: number, topology: string): Redesigned {
  const own = { ...box, network };
  const without = (name: string): number => {
    const entries: Record<string, Entry> = { ...network };
    // Of a Zobel network neither part does anything alone.
    if (slots[name]!.fixed !== undefined) for (const [other, { fixed }] of Object.entries(slots)) {
      if (fixed !== undefined) delete entries[other];
    }
    else if (slots[name]!.way === "across") delete entries[name];
    else entries[name] = [resistor(0), network[name]![1], network[name]![2]] as Entry;
    try {
      return lossOf({ ...box, network: networkOf<Entries>(entries) }, goal).lossDb;
    } catch (error) {
      if (error instanceof DividingNetworkError) return Infinity;
      throw error;
    }
  };
  return Object.freeze({
    network, lossDb: lossOf(own, goal).lossDb, parts, levelDb: meanLevelDb(own, goal), topology, polarity,
    lossWithoutDb: Object.freeze(Object.fromEntries(Object.keys(slots).map((name) => [name, without(name)]))),
  });
}
