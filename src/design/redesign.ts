import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, shown } from "../errors/internal";
import type { Goal, GoalOptions } from "../assessment";
import { anchoredGrid, goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Stock, StockLine, StockPart } from "../parts";
import { checkStock } from "../parts/internal";
import type { PreferredSeries, Resistance } from "../quantity";
import type { Choice } from "./choices";
import { combinationsOf, variations, type Tried } from "./combinations";
import { limitsOf } from "./limits";
import { breathe } from "./pause";
import { infeasible } from "./infeasible";
import type { Question, SearchOptions } from "./question";
import type { Redesign } from "./redesign-data";
import { reached, withLoad } from "./redesign-goal";
import { proofOf, type Settled } from "./proof";
import { redesigned, type Designed } from "./redesigned";
import { polished, refined } from "./refine";
import { searchedBelow } from "./search";
import { coilResistance, type CoilLaw } from "./series-parts";
import { stockSupply } from "./stock-supply";
import { seriesSupply, type Supply } from "./supply";
import { groupsOf, type Drawing, type Group } from "./topologies";
import type { Turns } from "./turns";
import { redesignViews } from "./views";

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
  /** Parts that can be had, each as often as it is there, in place of a series: from `stock` or `readStockCsv` of `/parts`, or its lines. */
  readonly stock?: Stock | readonly (StockLine | StockPart)[] | undefined;
  /** Most that all parts may cost, in the stock's currency, dimensionless; what has no price isn't taken then. */
  readonly largestPrice?: number | undefined;
  /** How many loudspeakers are built from the stock, dimensionless; default 1. A pair needs every part twice; prices are those of one. */
  readonly units?: number | undefined;
  /** Most parts beside the drivers, dimensionless; default 8. */
  readonly maxParts?: number | undefined;
  /** Ω of a coil by its inductance in H; default 0.35 Ω at 1 mH, rising with the power 0.6 (a choice, no source). */
  readonly coilResistance?: CoilLaw | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another. */
  readonly ratedImpedance?: Resistance | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the front so far is then returned. */
  readonly signal?:
    | {
        /** True once it is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
  /** Called after each topology: counts dimensionless, loss in dB. */
  readonly onProgress?: ((progress: RedesignProgress) => void) | undefined;
}

const CALLER = "redesign";
const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;
/** Points per octave on which networks are searched where the goal states no frequencies. */
const PER_OCTAVE = 6;
/** Pairs of sets of states that one drawing is worth. */
const MOST_PAIRS = 100_000;
/** How often the best drawings are varied. */
const ROUNDS = 2;
/** A drawing is looked at further when it may come within this much of the best with no more parts: its values are then refined, and its loss judged by third octaves. */
const NEAR = 1.08;

/**
 * Networks for the drivers of a loudspeaker, designed from nothing: of all topologies (low-passes and high-passes of one to three elements, with and without a Zobel
 * network, a series resistor or a divider; a midrange with one or two elements on each side; drivers of one role in parallel; both polarities; a two-way's drivers connected in series, too) the values are
 * searched that come nearest to the goal and keep its limits. What it gives is a front: for each number of parts the best network found, as long as more parts
 * buy less loss. The best are then varied, twice: fourth orders, traps, capacitors that bridge a coil or a resistor, resistors before the filter, two woofers in series or one rolled off lower. Branches are solved once and shared by all drawings that hold them; a drawing that can't come near the best with as few parts is cut by its bound. Where a
 * branch has too many combinations, its values are thinned to a coarser series first, and refined afterwards; a drawing that takes too long is left with the best so far. Each
 * member of the front says of how many networks with as many parts or fewer none is better, or how far below one may still lie (docs/design.md).
 *
 * Parts are never ideal: coils follow `coilResistance`, capacitors have a dissipation factor of 0.002 (a choice, no source). Handovers are looked for between 0.8
 * and 6 kHz in a two-way, between 150 Hz and 1.2 kHz and 1.5 and 8 kHz in a three-way (common practice, no source). The level may fall against the loudspeaker as given by
 * the goal's `largestLevelLossDb`. Where neither `ratedImpedance` nor the goal states what the amplifier bears, |Z| may not fall below 80 % of the
 * least of any group of drivers by itself (choice, no source), unless only stated limits hold. Outside the goal's band the level may lie no further above the target than `largestHumpDb`. Watts and volts are not looked at.
 *
 * With a `stock` every part is one of its lines, with its own losses, and no line is taken more often than it is there (times `units`); `largestPrice` is a limit like the others. Losses that
 * the stock doesn't state are assumed as without one. The front then also holds networks that are cheaper than all that are nearer with as few parts.
 *
 * @param loudspeaker drivers with roles, what was measured of them (Pa/V), and the network as found
 * @param options `goal`; `series`, or `stock` with `largestPrice` and `units`; `maxParts` (all dimensionless); `coilResistance` (Ω by H); `ratedImpedance` in Ω; `signal`; `onProgress`
 * @returns the front with losses and levels in dB, counts dimensionless
 * @throws DividingNetworkError `not-in-stock` where the stock holds no parts of a kind that is needed, `no-feasible-network` naming the limits that the simplest topology breaks, `aborted` before any network was found, `invalid-argument`, and what
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
 * Object.keys(front[0]!.network); // ["L1", "dome", "C1", "cone"]: in series
 * front[0]!.lossDb; // < 0.2
 * ```
 */
export async function redesign(loudspeaker: Loudspeaker, options: RedesignOptions = {}): Promise<Redesign> {
  const box = checkLoudspeaker(CALLER, loudspeaker);
  const {
    goal: aim,
    series: asked,
    stock: drawer,
    largestPrice,
    units,
    maxParts: most,
    coilResistance: law = coilResistance,
    ratedImpedance,
    signal,
    onProgress,
  } = checkOptions(CALLER, options, [
    "goal",
    "series",
    "stock",
    "largestPrice",
    "units",
    "maxParts",
    "coilResistance",
    "ratedImpedance",
    "signal",
    "onProgress",
  ]);
  if (typeof law !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${CALLER}: "coilResistance" must be a function from H to Ω, got ${typeof law}`,
      "For example (l) => 350 * l",
    );
  const series = checkOneOf(CALLER, "series", asked ?? "E12", SERIES);
  const maxParts = most === undefined ? 8 : checkNumber(CALLER, "maxParts", most, { min: 2, max: 20, integer: true });
  if (drawer !== undefined && asked !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${CALLER}: "series" and "stock" must not both be given`,
      "Leave out the series: the stock says what can be had",
    );
  if (drawer === undefined && (largestPrice ?? units) !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${CALLER}: "${largestPrice === undefined ? "units" : "largestPrice"}" must go with a stock, got no stock`,
      "Give the stock, or leave it out",
    );
  const market = {
    largestPrice: largestPrice === undefined ? Infinity : checkNumber(CALLER, "largestPrice", largestPrice, { min: 0 }),
    units: units === undefined ? 1 : checkNumber(CALLER, "units", units, { min: 1, max: 1000, integer: true }),
  };
  const supply: Supply =
    drawer === undefined ? seriesSupply(series, law) : stockSupply(CALLER, checkStock(CALLER, "stock", drawer), law, market);
  const goal = goalOf(aim);
  const groups = groupsOf(CALLER, box);
  const loaded = withLoad(groups, goal, ratedImpedance);
  const search = goal.frequencies !== undefined ? loaded : goalOf({ ...loaded, frequencies: anchoredGrid(reached(box, goal), PER_OCTAVE) });
  const [limits, trueLimits] = [limitsOf(CALLER, box, search, ratedImpedance), limitsOf(CALLER, box, loaded, ratedImpedance)];
  const combinations = combinationsOf(box, groups, maxParts);
  const tried: Tried[] = [];
  if (combinations.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${CALLER}: "maxParts" must allow at least one part on each side of every handover, got ${maxParts}`,
      `Allow ${2 * (groups.length - 1)} or more`,
    );
  const turns = turnsFor(groups);
  const ask = (drawing: Drawing, choices: readonly Choice[]): Question => ({
    caller: CALLER,
    box: { ...box, network: drawing.network },
    goal: search,
    choices,
    turns,
    limits,
    signal,
    onProgress: undefined,
    shard: undefined,
    goods: supply.goods,
    networks: choices.reduce((product, { options: own }) => product * own.length, 1) * turns.sets.length,
  });
  const look = async (question: Question, options: SearchOptions) =>
    searchedBelow(question, search.frequencies!, 0, options).catch((error: unknown) => {
      // Its signal ends a search while it solves its branches, too.
      if (error instanceof DividingNetworkError && error.code === "aborted")
        return { found: undefined, complete: false, looked: 0, lowerBoundDb: 0 };
      // A branch without any state that keeps the limits makes no network.
      if (error instanceof DividingNetworkError && error.code === "no-feasible-network")
        return { found: undefined, complete: true, looked: 0, lowerBoundDb: Infinity };
      throw error;
    });
  const shared: SearchOptions["shared"] = new Map();
  const members: Designed[] = [];
  const stopped = () => signal?.aborted === true;
  const settled: Settled[] = [];
  let [done, unfinished, rounds, first] = [0, 0, 0, undefined as Question | undefined];
  // The list grows while it is gone through: variations of the best follow the usual drawings.
  for (const combination of combinations) {
    const { parts, says } = combination;
    if (stopped()) break;
    const drawing = combination.draw();
    const choices = supply.choicesFor(drawing.slots);
    const question = choices === undefined ? undefined : ask(drawing, choices);
    first ??= question;
    // Of some kind the stock holds nothing.
    const least = tried.reduce((best, one) => (one.parts <= parts ? Math.min(best, one.lossDb) : best), Infinity);
    const { found, complete, lowerBoundDb } =
      question === undefined
        ? { found: undefined, complete: true, lowerBoundDb: Infinity }
        : await look(question, { below: NEAR * least, mostPairs: MOST_PAIRS, shared });
    settled.push({
      parts,
      networks: question?.networks ?? 0,
      boundDb: lowerBoundDb,
      complete,
      thinned: choices !== undefined && supply.isThinned(drawing.slots, choices),
    });
    if (!complete && !stopped()) unfinished++;
    if (found !== undefined && question !== undefined) {
      const near = await refined(drawing, question, found, supply, async (near, below) =>
        look(ask(drawing, near), { below, mostPairs: MOST_PAIRS }),
      );
      const best =
        goal.frequencies !== undefined ? near : polished({ ...question, goal: loaded, limits: trueLimits }, drawing, near, supply);
      if (best.lossDb < Infinity) members.push(redesigned(box, goal, drawing, best, groups, parts, says, supply.goods));
      tried.push({ ...combination, lossDb: near.lossDb });
    }
    if (stopped()) break;
    done++;
    if (done === combinations.length && rounds++ < ROUNDS) combinations.push(...variations(box, groups, tried, combinations, maxParts));
    onProgress?.(
      Object.freeze({ done, of: combinations.length, lossDb: members.reduce((least, one) => Math.min(least, one.lossDb), Infinity) }),
    );
    await breathe();
  }
  if (members.length === 0)
    throw done === combinations.length
      ? nothingFor(first)
      : new DividingNetworkError(
          "aborted",
          `${CALLER}: stopped by its signal before a network was found, after ${done} of ${combinations.length} topologies`,
        );
  const front: Designed[] = [];
  for (const one of members.sort((a, b) => a.parts - b.parts || a.lossDb - b.lossDb))
    if (front.every((better) => one.lossDb < better.lossDb || (one.price ?? Infinity) < (better.price ?? Infinity))) front.push(one);
  const proven = front.map((one) => Object.freeze({ ...one, ...proofOf(one.parts, one.lossDb, settled, goal.frequencies !== undefined) }));
  return Object.freeze(
    shown<Redesign>({ front: Object.freeze(proven), topologies: done, unfinished, complete: done === combinations.length }, redesignViews),
  );
}

/** What is thrown where every drawing was looked at and none keeps the limits. */
function nothingFor(first: Question | undefined): DividingNetworkError {
  return first === undefined
    ? new DividingNetworkError(
        "not-in-stock",
        `${CALLER}: "stock" must hold parts of every kind that the simplest networks need, got none of some`,
        "Two-way networks of two parts need a coil and a capacitor",
      )
    : infeasible(first);
}

/** Each group above the lowest as drawn or turned round, all its drivers at once: what sounds the same upside down is looked at once. */
function turnsFor(groups: readonly Group[]): Turns {
  const moving = groups.slice(1);
  const sets = Array.from(
    { length: 2 ** moving.length },
    (_, bits) => new Set(moving.flatMap(({ parts }, index) => ((bits >> index) & 1 ? parts : []))),
  );
  return { named: moving.flatMap(({ parts }) => parts), either: moving.length, sets };
}
