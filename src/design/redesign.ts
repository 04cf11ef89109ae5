import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { lossOf, type Goal, type GoalOptions } from "../assessment";
import { anchoredGrid, goalOf, knownBand, RATED_SHARE } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { compile, network as networkOf, type Entries, type Entry, type Network } from "../network";
import { resistor, type Part } from "../parts";
import type { PreferredSeries, Resistance } from "../quantity";
import { magnitude } from "../response";
import { chosen, type Choice } from "./choices";
import type { DriverPolarity } from "./choose-values";
import { trueLoss } from "./enumerate";
import { limitsOf, meanLevelDb } from "./limits";
import { descend } from "./local-search";
import { breathe } from "./pause";
import { infeasible, type Found, type Question, type SearchOptions } from "./question";
import { searchedBelow } from "./search";
import { around, coilResistance, partOf, valuesFor, type CoilLaw } from "./series-parts";
import { drawingOf, groupsOf, namesFor, partCount, saysWay, waysOf, zobelOf, type BranchTopology, type Drawing, type Group } from "./topologies";
import type { Turns } from "./turns";

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
  /** Of these, those whose search took too long and was left with the best so far, dimensionless. */
  readonly unfinished: number;
  /** Whether all were looked at. */
  readonly complete: boolean;
}

const CALLER = "redesign";
const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;
/** Points per octave on which networks are searched where the goal states no frequencies. */
const PER_OCTAVE = 6;
/** How often a search near the values found moves on. */
const MOVES = 6;
/** Pairs of sets of states that one drawing is worth. */
const MOST_PAIRS = 150_000;
/** A drawing is looked at further when it may come within this much of the best with no more parts: its values are then refined, and its loss judged by third octaves. */
const NEAR = 1.08;

/**
 * Networks for the drivers of a loudspeaker, designed from nothing: of all topologies (low-passes and high-passes of one to three elements, with and without a Zobel
 * network, a series resistor or a divider; a midrange with one or two elements on each side; drivers of one role in parallel; both polarities) the values are
 * searched that come nearest to the goal and keep its limits. What it gives is a front: for each number of parts the best network found, as long as more parts
 * buy less loss. Branches are solved once and shared by all drawings that hold them; a drawing that can't come near the best with as few parts is cut by its bound. Where a
 * branch has too many combinations, its values are thinned to a coarser series first, and refined afterwards; a drawing that takes too long is left with the best so far. So the
 * front is the best *found*, not proven (docs/design.md).
 *
 * Parts are never ideal: coils follow `coilResistance`, capacitors have a dissipation factor of 0.002 (a choice, no source). Handovers are looked for between 0.8
 * and 6 kHz in a two-way, between 150 Hz and 1.2 kHz and 1.5 and 8 kHz in a three-way (common practice, no source). The level may fall against the loudspeaker as given by
 * the goal's `largestLevelLossDb`. Where neither `ratedImpedance` nor the goal states what the amplifier bears, |Z| may not fall below the least of the loudspeaker as
 * given or, where that is less, 80 % of the least of any group of drivers (choice, no source), unless only stated limits hold. Watts, volts, prices and what is in stock are not looked at, nor what the response does outside the goal's band.
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
 * Object.keys(front[0]!.network); // ["L1", "cone", "C1", "dome"]
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
  const groups = groupsOf(CALLER, box);
  const loaded = withLoad(box, groups, goal, ratedImpedance);
  const search = goal.frequencies !== undefined ? loaded : goalOf({ ...loaded, frequencies: anchoredGrid(reached(box, goal), PER_OCTAVE) });
  const [limits, trueLimits] = [limitsOf(CALLER, box, search, ratedImpedance), limitsOf(CALLER, box, loaded, ratedImpedance)];
  const combinations = combinationsOf(box, groups).filter(({ parts }) => parts <= maxParts);
  if (combinations.length === 0) throw new DividingNetworkError("invalid-argument", `${CALLER}: "maxParts" must allow at least one part on each side of every handover, got ${maxParts}`, `Allow ${2 * (groups.length - 1)} or more`);
  const turns = turnsFor(groups);
  const ask = (drawing: Drawing, choices: readonly Choice[]): Question => ({
    caller: CALLER, box: { ...box, network: drawing.network }, goal: search, choices, turns, limits, signal, onProgress: undefined, shard: undefined,
    networks: choices.reduce((product, { options: own }) => product * own.length, 1) * turns.sets.length,
  });
  const look = async (question: Question, options: SearchOptions) => searchedBelow(question, search.frequencies!, 0, options).catch((error: unknown) => {
    // Its signal ends a search while it solves its branches, too.
    if (error instanceof DividingNetworkError && error.code === "aborted") return { found: undefined, complete: false, looked: 0 };
    // A branch without any state that keeps the limits makes no network.
    if (error instanceof DividingNetworkError && error.code === "no-feasible-network") return { found: undefined, complete: true, looked: 0 };
    throw error;
  });
  const shared: SearchOptions["shared"] = new Map();
  const members: Redesigned[] = [];
  const stopped = () => signal?.aborted === true;
  let [done, unfinished, lossDb, first] = [0, 0, Infinity, undefined as Question | undefined];
  for (const { ways, parts } of combinations) {
    if (stopped()) break;
    const drawing = drawingOf(box, groups, ways);
    const choices = valuesFor(drawing.slots, series).map(({ name, values }) => ({ name, options: values.map((value) => partOf(drawing.slots[name]!.kind, value, law)) }));
    const question = ask(drawing, choices);
    first ??= question;
    const { found, complete } = await look(question, { below: NEAR * lossDb, mostPairs: MOST_PAIRS, shared });
    if (!complete && !stopped()) unfinished++;
    if (found !== undefined) {
      const near = await refined(drawing, question, found, series, law, async (near, below) => look(ask(drawing, near), { below, mostPairs: MOST_PAIRS }));
      const best = goal.frequencies !== undefined ? near : polished({ ...question, goal: loaded, limits: trueLimits }, drawing, near, series, law);
      if (best.lossDb < Infinity) members.push(member(box, goal, drawing, best, groups, parts, ways.map(saysWay).join("; ")));
      lossDb = Math.min(lossDb, near.lossDb);
    }
    if (stopped()) break;
    done++;
    onProgress?.(Object.freeze({ done, of: combinations.length, lossDb: members.reduce((least, one) => Math.min(least, one.lossDb), Infinity) }));
    await breathe();
  }
  if (members.length === 0) throw done === combinations.length ? infeasible(first!) : new DividingNetworkError("aborted", `${CALLER}: stopped by its signal before a network was found, after ${done} of ${combinations.length} topologies`);
  const front: Redesigned[] = [];
  for (const one of members.sort((a, b) => a.parts - b.parts || a.lossDb - b.lossDb)) if (front.every((better) => one.lossDb < better.lossDb)) front.push(one);
  return Object.freeze({ front: Object.freeze(front), topologies: done, unfinished, complete: done === combinations.length });
}

interface Best {
  readonly choices: readonly Choice[];
  readonly codes: Int32Array;
  readonly turned: ReadonlySet<string>;
  readonly lossDb: number;
}

/** All ways to feed all groups, from few parts to many. */
function combinationsOf(box: Loudspeaker, groups: readonly Group[]): readonly { readonly ways: readonly BranchTopology[]; readonly parts: number }[] {
  const levelled = zobelOf(box, groups[0]!) !== undefined;
  return groups
    .reduce<readonly (readonly BranchTopology[])[]>((all, group) => all.flatMap((head) => waysOf(group, levelled).map((way) => [...head, way])), [[]])
    .map((ways) => ({ ways, parts: ways.reduce((sum, way) => sum + partCount(way), 0) }))
    .sort((a, b) => a.parts - b.parts);
}

/** Each group above the lowest as drawn or turned round, all its drivers at once: what sounds the same upside down is looked at once. */
function turnsFor(groups: readonly Group[]): Turns {
  const moving = groups.slice(1);
  const sets = Array.from({ length: 2 ** moving.length }, (_, bits) => new Set(moving.flatMap(({ parts }, index) => ((bits >> index) & 1 ? parts : []))));
  return { named: moving.flatMap(({ parts }) => parts), either: moving.length, sets };
}

/** The goal with a load to keep where nothing is said of it: the loudspeaker's as given or, where that is less, 80 % of the least that a group of drivers has by itself. */
function withLoad(box: Loudspeaker, groups: readonly Group[], goal: Goal, ratedImpedance: unknown): Goal {
  if (goal.limits === "stated" || ratedImpedance !== undefined || goal.amplifier.smallestImpedance !== undefined) return goal;
  const own = magnitude(compile<Entries>(box.network).sweep(anchoredGrid(knownBand(box.network), 48)).impedance);
  const least = own.reduce((a, b) => Math.min(a, b), groups.reduce((a, { load }) => Math.min(a, RATED_SHARE * load), Infinity));
  return least > 0 ? goalOf({ ...goal, amplifier: { ...goal.amplifier, smallestImpedance: least * (1 - 1e-9) } }) : goal;
}

/** Hz: the goal's band, as far as everything was measured. */
function reached({ drivers }: Loudspeaker, { band }: Goal): { readonly from: number; readonly to: number } {
  const all = drivers.flatMap(({ pressures }) => pressures.map(({ response }) => response.frequencies));
  return { from: Math.max(band.from, ...all.map((own) => own.find((frequency) => frequency > 0) ?? Infinity)), to: Math.min(band.to, ...all.map((own) => own[own.length - 1]!)) };
}

/** The best in the asked series near what was found, again and again until nothing moves. */
async function refined({ slots }: Drawing, { choices }: Question, { codes, turned, lossDb }: Found, series: PreferredSeries, law: CoilLaw, look: (near: readonly Choice[], below: number) => Promise<{ readonly found: Found | undefined }>): Promise<Best> {
  let best: Best = { choices, codes, turned, lossDb: lossDb! };
  for (let move = 0; move < MOVES; move++) {
    const now = best;
    const near = now.choices.map(({ name, options }, index) => {
      const part = options[now.codes[index]!] as Part;
      const { kind, fixed } = slots[name]!;
      return { name, options: fixed === undefined ? around(series, mainValue(part)).map((value) => partOf(kind, value, law)) : options };
    });
    const { found } = await look(near, best.lossDb * (1 - 1e-9));
    if (found === undefined) break;
    best = { choices: near, codes: found.codes, turned: found.turned, lossDb: found.lossDb! };
  }
  return best;
}

/** The best by the true loss, of third-octave powers, that single changes of values near reach and that keeps the limits by it: the search goes by plain levels. */
function polished(question: Question, { slots }: Drawing, { choices, codes, turned }: Best, series: PreferredSeries, law: CoilLaw): Best {
  const near = choices.map(({ name, options }, index) => {
    const { kind, fixed } = slots[name]!;
    return { name, options: fixed === undefined ? around(series, mainValue(options[codes[index]!] as Part)).map((value) => partOf(kind, value, law)) : options };
  });
  const own: Question = { ...question, choices: near };
  const start = near.map(({ options }, index) => {
    const value = mainValue(choices[index]!.options[codes[index]!] as Part);
    return options.reduce((best, option, at) => (Math.abs(Math.log(mainValue(option as Part) / value)) < Math.abs(Math.log(mainValue(options[best] as Part) / value)) ? at : best), 0);
  });
  const losses = new Map<string, number>();
  const value = (at: Int32Array): number => {
    const key = at.join(",");
    if (!losses.has(key)) losses.set(key, trueLoss(own, at, turned));
    return losses.get(key)!;
  };
  let best: Best = { choices: near, codes: Int32Array.from(start), turned, lossDb: Infinity };
  descend(near.map(({ options }) => options.length), value, [start], (at, lossDb) => (best = { choices: near, codes: at.slice(), turned, lossDb }));
  return best;
}

function mainValue(part: Part): number {
  return part.kind === "inductor" ? part.inductance : part.kind === "capacitor" ? part.capacitance : part.kind === "resistor" ? part.resistance : NaN;
}

function member(box: Loudspeaker, goal: Goal, drawing: Drawing, { choices, codes, turned }: Best, groups: readonly Group[], parts: number, topology: string): Redesigned {
  const names = namesFor(drawing);
  const { slots } = drawing;
  const own = chosen(drawing.network, choices, codes, turned);
  const written = (entries: Entries) => networkOf<Entries>(Object.fromEntries(Object.entries(entries).map(([name, [part, ...nodes]]) => [names.get(name)!, [part, ...nodes.map((node) => names.get(node)!)]])) as unknown as Entries);
  const without = (name: string): number => {
    const { way, fixed, branch } = slots[name]!;
    const entries: Record<string, Entry> = { ...own };
    // Of a Zobel network neither part does anything alone.
    if (fixed !== undefined) {
      for (const [other, slot] of Object.entries(slots)) if (slot.branch === branch && slot.fixed !== undefined) delete entries[other];
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
  const heard = { ...box, network };
  return Object.freeze({
    network, lossDb: lossOf(heard, goal).lossDb, parts, levelDb: meanLevelDb(heard, goal), topology,
    polarity: Object.freeze(Object.fromEntries(groups.slice(1).flatMap((group) => group.parts.map((part) => [part, turned.has(part) ? "reversed" : "same"] as const)))),
    lossWithoutDb: Object.freeze(Object.fromEntries(Object.keys(slots).map((name) => [names.get(name)!, without(name)]))),
  });
}
