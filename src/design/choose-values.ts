import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { lossOf, type Goal, type GoalOptions } from "../assessment";
import { goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { network as networkOf, type Entries, type Network } from "../network";
import type { Capacitor, Inductor, LPad, Part, Resistor, StockPart } from "../parts";
import type { Capacitance, Inductance, Resistance } from "../quantity";
import { choicesOf, chosen, type Stocked } from "./choices";
import { approximated, enumerated } from "./enumerate";
import { limitsOf } from "./limits";
import { provenByThirds } from "./prove-thirds";
import type { ChooseValuesProgress, Question } from "./question";
import { robustOf } from "./robust";
import type { RobustOptions, Robustness } from "./robust-data";
import { searched } from "./search";
import { questionDigest } from "./question-digest";
import { checkShard, type AnsweredShard, type Shard } from "./shard";
import { turnsOf } from "./turns";

/** What may stand in the place of a part: a part of its kind, a line of a stock or a combination of such, its main value with the losses as drawn, nothing, or a wire. */
export type CandidateFor<P> = P extends Resistor
  ? Resistor | Stocked | Resistance | "open" | "short"
  : P extends Inductor
    ? Inductor | Stocked | Inductance | "open" | "short"
    : P extends Capacitor
      ? Capacitor | Stocked | Capacitance | "open" | "short"
      : P extends LPad
        ? LPad
        : never;

/** Whether a driver is connected as drawn, or the other way round. */
export type DriverPolarity = "same" | "reversed";

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
  /** Most that all parts from a stock may cost together, in its currency, dimensionless; what has no price there isn't taken. Parts that are in no stock cost nothing. */
  readonly largestPrice?: number | undefined;
  /** Networks are chosen by what tolerances of parts and drivers do to them, and not as drawn alone: `{}` by the loss to be expected (docs/design.md). Not with `shard`. */
  readonly robust?: RobustOptions | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the best so far is then returned. */
  readonly signal?:
    | {
        /** True once it is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
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
  /** dB: no network of the space that keeps the limits is better; 0 with `robust`. */
  readonly lowerBoundDb: number;
  /** Whether the two meet; with `robust`, whether every network was drawn from and none is better by that. */
  readonly proven: boolean;
  /** What loudspeakers drawn within the tolerances come to, by which the network was chosen; absent unless that was asked for. */
  readonly robust?: Robustness | undefined;
  /** How many networks there were, dimensionless. */
  readonly networks: number;
  /** How many pairs of (sets of) branch states were looked at, dimensionless. */
  readonly evaluated: number;
  /** Of which part of the search this is the answer; absent for a whole one. */
  readonly shard?: AnsweredShard | undefined;
  /** By designator, what is taken from a stock for it: one piece, or those of a combination; absent where no candidate is from one. */
  readonly taken?: Readonly<Record<string, readonly StockPart[]>> | undefined;
  /** Of each driver's part that was named. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
}

const CALLER = "chooseValues";
/** Networks up to which every one is judged by itself where the loss is of third-octave powers. */
const MOST_ENUMERATED = 2000;

/**
 * The best network that given parts can make: of all combinations of candidates, the one whose loss against the goal is least and that keeps the
 * goal's limits. The answer is proven: branches between `in` and `gnd` are solved once for each of
 * their own states, and pairs of sets of states are ruled out together by a bound that none of them undercuts (docs/design.md). Where the goal states no `frequencies`
 * (third-octave powers) up to 2000 networks are judged one by one; a larger space is searched on twelfths of an octave,
 * improved by the true loss, and proven by bounds of it, unless that takes more than a million pairs (then with the bound reached) or too much memory (then with a bound of 0).
 *
 * The limits are those of the goal; |Z| and peak dissipation hold over the audio band as far as impedances are known, on 48 points per octave; the mean
 * level over the goal's places and band, and that on the axis, is held to `leastLevelDb` and to the given loudspeaker's less `largestLevelLossDb`; a spared
 * driver's voltage at its resonance lies below that of its passband, as `assess` has it. Combinations that make no network (a shorted source) are left out.
 * Candidates that are lines of a stock, or combinations of such, are taken no more often than they are there; `largestPrice` is a limit on all of them together. Where the goal states the amplifier's level, no part is chosen beyond the share of its rating that may be used (of stated limits alone, beyond the rating).
 * With `robust` the network is chosen by loudspeakers drawn within the tolerances of parts and drivers: of up to 2000 networks each is drawn from; in a larger space single changes lead on from the best as drawn, without proof.
 * A branch may have 4 million states, and all tables together take at most about 1 GB.
 *
 * @param loudspeaker network, drivers and source; its network says what is connected to what
 * @param options `goal`; `values` (candidates by designator, SI or text with units); `polarity`; `ratedImpedance` in Ω; `largestPrice` (dimensionless); `robust` (dB, dimensionless); `signal`; `onProgress`; `shard` (dimensionless)
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
  const {
    goal: aim,
    values,
    polarity = {},
    ratedImpedance,
    largestPrice,
    robust: sought,
    signal,
    onProgress,
    shard: asked,
  } = checkOptions(CALLER, options, [
    "goal",
    "values",
    "polarity",
    "ratedImpedance",
    "largestPrice",
    "robust",
    "signal",
    "onProgress",
    "shard",
  ]);
  const goal = goalOf(aim);
  if (goal.frequencies !== undefined && !(goal.frequencies[0]! > 0))
    throw new DividingNetworkError("invalid-argument", `${CALLER}: "goal.frequencies" must lie above 0 Hz, got ${goal.frequencies[0]}`);
  const shard = checkShard(CALLER, asked, goal.frequencies !== undefined);
  const pieces = new Map<Part, readonly StockPart[]>();
  const choices = choicesOf(CALLER, box, values, pieces);
  const price = largestPrice === undefined ? Infinity : checkNumber(CALLER, "largestPrice", largestPrice, { min: 0 });
  const turns = turnsOf(CALLER, box, goal, polarity);
  const limits = limitsOf(CALLER, box, goal, ratedImpedance);
  const robust = robustOf(CALLER, box, goal, sought, ratedImpedance);
  if (robust !== undefined && shard !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${CALLER}: "robust" and "shard" must not both be given: what is chosen by drawn loudspeakers is found by single changes from the whole space's best`,
      "Leave out the shard",
    );
  const networks = choices.reduce((product, { options: own }) => product * own.length, 1) * 2 ** turns.either;
  const question: Question = {
    caller: CALLER,
    box,
    goal,
    choices,
    turns,
    limits,
    networks,
    shard,
    signal,
    onProgress,
    robust,
    goods: pieces.size === 0 && largestPrice === undefined ? undefined : { pieces, largestPrice: price, units: 1 },
  };
  const found =
    goal.frequencies !== undefined && robust === undefined
      ? await searched(question, goal.frequencies, 0)
      : networks <= MOST_ENUMERATED
        ? await enumerated(question)
        : robust === undefined
          ? await provenByThirds(question, await approximated(question))
          : await approximated(question);
  const { codes, turned } = found;
  const network = networkOf<Entries>(chosen(box.network, choices, codes, turned));
  const { lossDb } = lossOf({ ...box, network }, goal);
  // The search's own sum and lossOf's agree but for rounding; where they didn't, nothing would be proven.
  const agree = found.lossDb === undefined || Math.abs(found.lossDb ** 2 - lossDb ** 2) <= 1e-10 + 1e-9 * lossDb ** 2;
  const proven = found.complete && agree;
  return Object.freeze({
    network,
    lossDb,
    ...(robust === undefined ? {} : { robust: robust.of({ ...box, network }, goal) }),
    lowerBoundDb: robust !== undefined ? 0 : proven ? lossDb : Math.min(lossDb, found.lowerBoundDb),
    proven,
    networks,
    evaluated: found.evaluated,
    ...(shard === undefined
      ? {}
      : {
          shard: Object.freeze({
            ...shard,
            question: questionDigest(box.network, box.drivers, box.sourceImpedance, box.air, goal, choices, polarity, ratedImpedance),
          }),
        }),
    ...(pieces.size === 0
      ? {}
      : {
          taken: Object.freeze(
            Object.fromEntries(
              choices.flatMap(({ name, options: own }, index) => {
                const from = own[codes[index]!] === undefined ? undefined : pieces.get(own[codes[index]!]!);
                return from === undefined ? [] : [[name, from] as const];
              }),
            ),
          ),
        }),
    polarity: Object.freeze(Object.fromEntries(turns.named.map((part) => [part, turned.has(part) ? "reversed" : "same"] as const))),
  });
}
