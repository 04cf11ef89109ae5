import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { lossOf } from "../assessment";
import { goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { network as networkOf, type Entries } from "../network";
import type { Part, StockPart } from "../parts";
import { choicesOf, chosen } from "./choices";
import type { ChooseValuesOptions, ChosenValues } from "./choose-values-data";
import { limitsOf } from "./limits";
import type { Found, Question } from "./question";
import { robustOf } from "./robust";
import { questionDigest } from "./question-digest";
import { checkShard } from "./shard";
import { turnsOf } from "./turns";

/** Networks up to which every one is judged by itself where the loss is of third-octave powers. */
const MOST_ENUMERATED = 2000;
/** The same where drawn loudspeakers decide at stated frequencies: most networks are left off after a few draws. */
const MOST_DRAWN_FROM = 20_000;

/** The names of the options of `chooseValues`. */
export const CHOOSE_VALUES_OPTIONS = [
  "goal",
  "values",
  "polarity",
  "ratedImpedance",
  "largestPrice",
  "robust",
  "signal",
  "onProgress",
  "shard",
] as const;

/** All that a search of values needs to know before it begins. */
export interface ValuesPlan {
  readonly question: Question;
  /** By trees over branch states, with a proof; each network by itself; or by trees on plain levels, improved by single changes. */
  readonly way: "searched" | "enumerated" | "approximated";
  /** What was asked for, checked: data alone. */
  readonly order: { readonly loudspeaker: Loudspeaker; readonly options: Omit<ChooseValuesOptions, "signal" | "onProgress" | "shard"> };
  /** The best that was found, as it is handed over. */
  readonly answer: (found: Found) => ChosenValues;
}

/** Checks what was asked for, and gets ready what a search needs. */
export function valuesPlan(caller: string, loudspeaker: Loudspeaker, options: ChooseValuesOptions): ValuesPlan {
  const box = checkLoudspeaker(caller, loudspeaker);
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
  } = checkOptions(caller, options, CHOOSE_VALUES_OPTIONS);
  const goal = goalOf(aim);
  if (goal.frequencies !== undefined && !(goal.frequencies[0]! > 0))
    throw new DividingNetworkError("invalid-argument", `${caller}: "goal.frequencies" must lie above 0 Hz, got ${goal.frequencies[0]}`);
  const shard = checkShard(caller, asked, goal.frequencies !== undefined);
  const pieces = new Map<Part, readonly StockPart[]>();
  const choices = choicesOf(caller, box, values, pieces);
  const price = largestPrice === undefined ? Infinity : checkNumber(caller, "largestPrice", largestPrice, { min: 0 });
  const turns = turnsOf(caller, box, goal, polarity);
  const limits = limitsOf(caller, box, goal, ratedImpedance);
  const robust = robustOf(caller, box, goal, sought, ratedImpedance, "its parts");
  if (robust !== undefined && shard !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "robust" and "shard" must not both be given: what is chosen by drawn loudspeakers is found by single changes from the whole space's best`,
      "Leave out the shard",
    );
  const networks = choices.reduce((product, { options: own }) => product * own.length, 1) * 2 ** turns.either;
  const question: Question = {
    caller: caller,
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
  const answer = (found: Found): ChosenValues => {
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
  };
  return {
    question,
    way:
      goal.frequencies !== undefined && robust === undefined
        ? "searched"
        : networks <= (goal.frequencies === undefined ? MOST_ENUMERATED : MOST_DRAWN_FROM)
          ? "enumerated"
          : "approximated",
    order: { loudspeaker: box, options: { goal, values, polarity, ratedImpedance, largestPrice, robust: sought } },
    answer,
  };
}
