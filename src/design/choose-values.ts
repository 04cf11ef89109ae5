import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions, show } from "../errors/internal";
import { lossOf, type Goal, type GoalOptions } from "../assessment";
import { anchoredGrid, goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { network as networkOf, type Entries, type Network } from "../network";
import type { Capacitor, Inductor, LPad, Resistor } from "../parts";
import type { Capacitance, Inductance, Resistance } from "../quantity";
import { stateFor, writeCodes } from "./branch-table";
import { choicesOf, chosen, type Choice } from "./choices";
import { limitsOf, missesOf, type Limits } from "./limits";
import { descend, drawnStarts } from "./local-search";
import type { LossBound } from "./loss-bound";
import { breathe, pauseFor, slices } from "./pause";
import { pairSearch, type Incumbent, type PairSearch } from "./pair-search";
import { checkShard, type Shard } from "./shard";
import { DB_PER_NEPER, searchProblem, type SearchProblem } from "./search-problem";

/** What may stand in the place of a part: a part of its kind, its main value with the losses as drawn, nothing, or a wire. */
export type CandidateFor<P> =
  P extends Resistor ? Resistor | Resistance | "open" | "short"
  : P extends Inductor ? Inductor | Inductance | "open" | "short"
  : P extends Capacitor ? Capacitor | Capacitance | "open" | "short"
  : P extends LPad ? LPad
  : never;

/** Whether a driver is connected as drawn, or the other way round. */
export type DriverPolarity = "same" | "reversed";

/** How far a search is. */
export interface ChooseValuesProgress {
  /** dB of the best network so far; Infinity before one was found. */
  readonly lossDb: number;
  /** dB: no network is better than this. */
  readonly lowerBoundDb: number;
  /** Part of the networks that are settled, 0 to 1, dimensionless. */
  readonly share: number;
}

/** What `chooseValues` takes. */
export interface ChooseValuesOptions<T extends Entries = Entries> {
  /** The goal, or its options: Hz, m, dB, degrees. */
  readonly goal: Goal | GoalOptions;
  /** Candidates by designator: parts, main values in SI or as text with the unit, `"open"`, `"short"`. */
  readonly values: { readonly [N in keyof T]?: readonly CandidateFor<T[N][0]>[] | undefined };
  /** By the designator of a driver's part: as drawn (`"same"`, the default), the other way round, or whichever is better. */
  readonly polarity?: { readonly [N in keyof T]?: DriverPolarity | "either" | undefined } | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another or only stated limits hold. */
  readonly ratedImpedance?: Resistance | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the best so far is then returned. */
  readonly signal?: {
    /** True once it is to stop. */
    readonly aborted: boolean } | undefined;
  /** One of several equal parts of the search, for a core or a machine of its own; `mergeShards` joins their answers. Only with the goal's `frequencies`. */
  readonly shard?: Shard | undefined;
  /** Called some ten times a second: losses in dB, the share settled dimensionless. */
  readonly onProgress?: ((progress: ChooseValuesProgress) => void) | undefined;
}

/** The best network of a space, and how certain that is. */
export interface ChosenValues {
  /** The loudspeaker's network with the parts chosen; what is open is left out, what is shorted is 0 Ω. */
  readonly network: Network;
  /** dB, as `lossOf` gives it. */
  readonly lossDb: number;
  /** dB: no network of the space that keeps the limits is better. */
  readonly lowerBoundDb: number;
  /** Whether the two meet. */
  readonly proven: boolean;
  /** How many networks there were, dimensionless. */
  readonly networks: number;
  /** How many pairs of (sets of) branch states were looked at, dimensionless. */
  readonly evaluated: number;
  /** Of which part of the search this is the answer; absent for a whole one. */
  readonly shard?: Shard | undefined;
  /** Of each driver's part that was named. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
}

const CALLER = "chooseValues";
/** Networks up to which every one is judged by itself where the loss is of third-octave powers. */
const MOST_ENUMERATED = 2000;
/** Points per octave on which a loss of third-octave powers is searched. */
const SEARCH_PER_OCTAVE = 12;

/**
 * The best network that given parts can make: of all combinations of candidates, the one whose loss against the goal is least and that keeps the
 * goal's limits. Where the goal states `frequencies`, the answer is proven: branches between `in` and `gnd` are solved once for each of
 * their own states, and pairs of sets of states are ruled out together by a bound that none of them undercuts (docs/design.md). Without them
 * (third-octave powers) up to 2000 networks are judged one by one; a larger space is searched on twelfths of an octave and
 * improved by the true loss, without proof and with a bound of 0.
 *
 * The limits are those of the goal; |Z| and peak dissipation hold over the audio band as far as impedances are known, on 48 points per octave; the mean
 * level over the goal's places and band is held to `leastLevelDb` and to the given loudspeaker's less `largestLevelLossDb`; a spared
 * driver's voltage at its resonance lies below the highest that it gets in the judged band. Combinations that make no network (a shorted source) are left out.
 * A branch may have 4 million states, and all tables together take at most about 1 GB.
 *
 * @param loudspeaker network, drivers and source; its network says what is connected to what
 * @param options `goal`; `values` (candidates by designator, SI or text with units); `polarity`; `ratedImpedance` in Ω; `signal`; `onProgress`; `shard` (dimensionless)
 * @returns the best network, its loss and the proven bound in dB, the count of networks and of what was looked at (dimensionless)
 * @throws DividingNetworkError `no-feasible-network` naming the limits and by how much they are missed, `too-many-states`, `unknown-part`, `wrong-part`,
 *   `no-resonance`, `aborted` before any network was found, `invalid-argument`, and what `lossOf` throws
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { chooseValues } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 9);
 * const loud = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(1), "in", "a"], cone: [resistor(8), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [loud] }] });
 * const best = await chooseValues(box, { goal: { frequencies: grid, levelDb: 79, limits: "stated" }, values: { R1: [1, "2.2 Ω", "4R7", "short"] } });
 * best.network["R1"]?.[0]; // { kind: "resistor", resistance: 4.7 }
 * best.lossDb; // < 0.01
 * best.proven; // true
 * ```
 */
export async function chooseValues<T extends Entries>(loudspeaker: Loudspeaker<T>, options: ChooseValuesOptions<T>): Promise<ChosenValues> {
  const box = checkLoudspeaker(CALLER, loudspeaker) as unknown as Loudspeaker;
  const { goal: aim, values, polarity = {}, ratedImpedance, signal, onProgress, shard: asked } = checkOptions(CALLER, options, ["goal", "values", "polarity", "ratedImpedance", "signal", "onProgress", "shard"]);
  const goal = goalOf(aim);
  if (goal.frequencies !== undefined && !(goal.frequencies[0]! > 0)) throw new DividingNetworkError("invalid-argument", `${CALLER}: "goal.frequencies" must lie above 0 Hz, got ${goal.frequencies[0]}`);
  const shard = checkShard(CALLER, asked, goal.frequencies !== undefined);
  const choices = choicesOf(CALLER, box, values);
  const turns = turnsOf(box, goal, polarity);
  const limits = limitsOf(CALLER, box, goal, ratedImpedance);
  const networks = choices.reduce((product, { options: own }) => product * own.length, 1) * 2 ** turns.either;
  const question: Question = { box, goal, choices, turns, limits, networks, shard, signal, onProgress };
  const found = goal.frequencies !== undefined ? await searched(question, goal.frequencies, 0) : networks <= MOST_ENUMERATED ? await enumerated(question) : await approximated(question);
  const { codes, turned } = found;
  const network = networkOf<Entries>(chosen(box.network, choices, codes, turned));
  const { lossDb } = lossOf({ ...box, network }, goal);
  // The search's own sum and lossOf's agree but for rounding; where they didn't, nothing would be proven.
  const agree = found.lossDb === undefined || Math.abs(found.lossDb ** 2 - lossDb ** 2) <= 1e-10 + 1e-9 * lossDb ** 2;
  const proven = found.complete && agree;
  return Object.freeze({
    network, lossDb, lowerBoundDb: proven ? lossDb : Math.min(lossDb, found.lowerBoundDb), proven, networks, evaluated: found.evaluated, ...(shard === undefined ? {} : { shard }),
    polarity: Object.freeze(Object.fromEntries(turns.named.map((part) => [part, turned.has(part) ? "reversed" : "same"] as const))),
  });
}

interface Question {
  readonly box: Loudspeaker;
  readonly goal: Goal;
  readonly choices: readonly Choice[];
  readonly turns: Turns;
  readonly limits: Limits;
  readonly networks: number;
  readonly shard: Shard | undefined;
  readonly signal: { readonly aborted: boolean } | undefined;
  readonly onProgress: ((progress: ChooseValuesProgress) => void) | undefined;
}

interface Found {
  readonly codes: Int32Array;
  readonly turned: ReadonlySet<string>;
  /** dB by the search's own sum, where it has one. */
  readonly lossDb: number | undefined;
  readonly lowerBoundDb: number;
  readonly complete: boolean;
  readonly evaluated: number;
}

interface Turns {
  readonly named: readonly string[];
  /** How many may be either. */
  readonly either: number;
  /** The sets of turned parts to look at. */
  readonly sets: readonly ReadonlySet<string>[];
}

function turnsOf({ network, drivers }: Loudspeaker, { partner }: Goal, polarity: object): Turns {
  if (typeof polarity !== "object" || polarity === null || Array.isArray(polarity)) throw new DividingNetworkError("invalid-argument", `${CALLER}: "polarity" must be an object by designator, got ${show(polarity)}`);
  const hung = new Set(drivers.map(({ part }) => part));
  const named = Object.keys(polarity);
  const free: string[] = [];
  const fixed: string[] = [];
  for (const part of named) {
    if (!hung.has(part)) throw new DividingNetworkError("unknown-part", `${CALLER}: "polarity" names ${show(part)}, at which no driver hangs`, `Drivers' parts: ${[...hung].join(", ")}`);
    if (network[part]!.length !== 3) throw new DividingNetworkError("invalid-argument", `${CALLER}: "polarity.${part}" must name a part with two terminals`);
    const asked = checkOneOf(CALLER, `polarity.${part}`, (polarity as Record<string, unknown>)[part], ["either", "same", "reversed"]);
    if (asked === "either") free.push(part);
    if (asked === "reversed") fixed.push(part);
  }
  // All drivers turned at once sound the same, unless something else plays beside them.
  const alike = [...hung].every((part) => free.includes(part)) && (partner === undefined || "highPass" in partner);
  const moving = alike ? free.slice(1) : free;
  const sets = Array.from({ length: 2 ** moving.length }, (_, bits) => new Set([...fixed, ...moving.filter((_part, index) => (bits >> index) & 1)]));
  return { named, either: free.length, sets };
}

/** Pairs of nodes looked at between two looks at the clock. */
const PAIRS = 256;
/** Starts of the first search by single changes. */
const STARTS = 24;

/** The best by trees over branch states, at stated frequencies. */
async function searched(question: Question, frequencies: Float64Array, levelSlackDb: number): Promise<Found> {
  const { box, goal, choices, turns, limits, networks, signal, onProgress } = question;
  const problem = await searchProblem(CALLER, box, goal, choices, limits, frequencies, levelSlackDb, pauseFor(CALLER, signal), question.shard);
  const { tables, trees, boundFor } = problem;
  const bounds = turns.sets.map((turned) => boundFor(turned));
  const codes = new Int32Array(choices.length);
  let best: { readonly codes: Int32Array; readonly turned: ReadonlySet<string> } | undefined;
  let now = turns.sets[0]!;
  const incumbent: Incumbent = {
    loss: Infinity,
    offer(states) {
      tables.forEach((table, index) => writeCodes(table, choices, states[index]!, codes));
      if (!keeps(question, codes, now)) return false;
      best = { codes: codes.slice(), turned: now };
      return true;
    },
  };
  let evaluated = 0;
  if (tables.every(({ states }) => states > 0)) {
    turns.sets.forEach((turned, index) => {
      now = turned;
      evaluated += improve(problem, choices, bounds[index]!, incumbent);
    });
  }
  const searches: (PairSearch | undefined)[] = turns.sets.map(() => undefined);
  const states = tables.reduce((product, table) => product * table.states, 1) * turns.sets.length;
  const total = () => evaluated + searches.reduce((sum, search) => sum + (search?.evaluated() ?? 0), 0);
  const open = () => Math.min(incumbent.loss, ...searches.map((search) => search?.openBound() ?? 0));
  const tell = () => onProgress?.(Object.freeze({
    lossDb: Math.sqrt(incumbent.loss) * DB_PER_NEPER, lowerBoundDb: Math.sqrt(open()) * DB_PER_NEPER,
    share: states === 0 ? 1 : Math.min(1, searches.reduce((sum, search) => sum + (search?.settled() ?? 0), 0) / states),
  }));
  let complete = true;
  const slice = slices();
  for (const [index, turned] of states > 0 ? turns.sets.entries() : []) {
    if (!complete) break;
    now = turned;
    const search = pairSearch(tables, trees, bounds[index]!, incumbent);
    searches[index] = search;
    while (!search.run(PAIRS)) {
      if (!slice.over()) continue;
      tell();
      await breathe();
      slice.rested();
      if (signal?.aborted === true) {
        complete = false;
        break;
      }
    }
  }
  tell();
  if (best === undefined) throw complete ? infeasible(question) : new DividingNetworkError("aborted", `${CALLER}: stopped by its signal before a network was found, after ${total()} pairs of branch states, of ${networks} networks`);
  const lowest = complete ? incumbent.loss : open();
  return { ...best, lossDb: Math.sqrt(incumbent.loss) * DB_PER_NEPER, lowerBoundDb: Math.sqrt(lowest) * DB_PER_NEPER, complete, evaluated: total() };
}

/** A good network at once: single changes from several starts, each end of which is offered. */
function improve({ tables }: SearchProblem, choices: readonly Choice[], { exact }: LossBound, incumbent: Incumbent): number {
  const counts = choices.map(({ options }) => options.length);
  const [nodes, states] = [new Int32Array(tables.length), new Int32Array(tables.length)];
  let looked = 0;
  const value = (codes: Int32Array): number => {
    for (let g = 0; g < tables.length; g++) {
      const state = stateFor(tables[g]!, choices, codes);
      if (state < 0) return Infinity;
      nodes[g] = -1 - state;
    }
    looked++;
    return exact(nodes, 0);
  };
  descend(counts, value, drawnStarts(counts, STARTS), (codes, loss) => {
    if (!(loss < incumbent.loss)) return;
    tables.forEach((table, g) => (states[g] = stateFor(table, choices, codes)));
    if (incumbent.offer(states, loss)) incumbent.loss = loss;
  });
  return looked;
}

/** The loudspeaker with the parts of some codes. */
function built({ box, choices }: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): Loudspeaker {
  return { ...box, network: chosen(box.network, choices, codes, turned) };
}

/** Whether a network keeps every limit, by its own solution; one that can't be solved keeps none. */
function keeps(question: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): boolean {
  return attempt(() => missesOf(built(question, codes, turned), question.goal, question.limits).length === 0, false);
}

/** What a combination gives, or another value where it makes no network. */
function attempt<V>(run: () => V, otherwise: V): V {
  try {
    return run();
  } catch (error) {
    if (error instanceof DividingNetworkError && (error.code === "invalid-network" || error.code === "no-solution")) return otherwise;
    throw error;
  }
}

/** The true loss of a combination that keeps the limits; Infinity for any other. */
function trueLoss(question: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): number {
  if (!keeps(question, codes, turned)) return Infinity;
  const { lossDb } = lossOf(built(question, codes, turned), question.goal);
  return Number.isFinite(lossDb) ? lossDb : Infinity;
}

/** Every network by itself. */
async function enumerated(question: Question): Promise<Found> {
  const { choices, turns, networks, signal, onProgress } = question;
  const codes = new Int32Array(choices.length);
  const slice = slices();
  let [best, evaluated] = [{ codes: codes.slice(), turned: turns.sets[0]!, loss: Infinity }, 0];
  let complete = true;
  walk: for (const turned of turns.sets) {
    for (let number = 0; number < networks / 2 ** turns.either; number++) {
      let rest = number;
      choices.forEach(({ options }, index) => {
        codes[index] = rest % options.length;
        rest = Math.floor(rest / options.length);
      });
      const loss = trueLoss(question, codes, turned);
      evaluated++;
      if (loss < best.loss) best = { codes: codes.slice(), turned, loss };
      if (!slice.over()) continue;
      onProgress?.(Object.freeze({ lossDb: best.loss, lowerBoundDb: 0, share: evaluated / networks }));
      await breathe();
      slice.rested();
      if (signal?.aborted === true) {
        complete = false;
        break walk;
      }
    }
  }
  if (best.loss === Infinity) throw complete ? infeasible(question) : new DividingNetworkError("aborted", `${CALLER}: stopped by its signal before a network was found, after ${evaluated} of ${networks} networks`);
  return { ...best, lossDb: undefined, lowerBoundDb: 0, complete, evaluated };
}

/** A search by plain levels on a fixed grid, then single changes by the true loss. No proof. */
async function approximated(question: Question): Promise<Found> {
  const { box, goal, choices, turns } = question;
  const { band } = lossOf(box, goal);
  const grid = anchoredGrid(band, SEARCH_PER_OCTAVE);
  const found = await searched(question, grid, 1);
  let best = { codes: found.codes, turned: found.turned, loss: Infinity };
  let looked = 0;
  for (const turned of turns.sets) {
    const memo = new Map<string, number>();
    const value = (codes: Int32Array): number => {
      if (question.signal?.aborted === true && best.loss < Infinity) return Infinity;
      const key = codes.join(",");
      const known = memo.get(key);
      if (known !== undefined) return known;
      looked++;
      const loss = trueLoss(question, codes, turned);
      memo.set(key, loss);
      return loss;
    };
    descend(choices.map(({ options }) => options.length), value, [[...found.codes]], (codes, loss) => {
      if (loss < best.loss) best = { codes: codes.slice(), turned, loss };
    });
    await breathe();
  }
  return { codes: best.codes, turned: best.turned, lossDb: undefined, lowerBoundDb: 0, complete: false, evaluated: found.evaluated + looked };
}

/** The error of a space without a network that keeps the limits: which ones the nearest breaks, and by how much. */
function infeasible(question: Question): DividingNetworkError {
  const { choices, turns, goal, limits, shard } = question;
  if (shard !== undefined) return new DividingNetworkError("no-feasible-network", `${CALLER}: no network of shard ${shard.index} of ${shard.of} keeps the goal's limits`, "Give mergeShards undefined in its place");
  const counts = choices.map(({ options }) => options.length);
  let nearest: { readonly by: number; readonly says: readonly string[] } | undefined;
  const misses = (codes: Int32Array, turned: ReadonlySet<string>) => attempt(() => missesOf(built(question, codes, turned), goal, limits), undefined);
  for (const turned of turns.sets) {
    const value = (codes: Int32Array) => misses(codes, turned)?.reduce((sum, { by }) => sum + by, 0) ?? Infinity;
    descend(counts, value, drawnStarts(counts, 2), (codes, by) => {
      if (by < (nearest?.by ?? Infinity)) nearest = { by, says: misses(codes, turned)!.map(({ limit, says }) => `${limit}: ${says}`) };
    });
  }
  const why = nearest === undefined ? "no combination of candidates makes a network" : nearest.says.length === 0 ? "those that keep them are silent at some place or frequency" : `of the nearest found, ${nearest.says.join("; ")}`;
  return new DividingNetworkError("no-feasible-network", `${CALLER}: none of the ${question.networks} networks keeps the goal's limits; ${why}`, "Give other candidates, or state what may be missed: goal({ limits: \"stated\", … })");
}
