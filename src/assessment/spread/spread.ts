import { checkList, checkNumber, checkOneOf, checkOptions, shown, type Views } from "../../errors/internal";
import type { Loudspeaker } from "../../loudspeaker";
import { checkLoudspeaker } from "../../loudspeaker/internal";
import type { Entries } from "../../network";
import { deviations, yieldOf } from "../../network/internal";
import { percentile, seededRandom } from "../../numeric/internal";
import { reportProgress } from "../../numeric/internal";
import { REFERENCE_PRESSURE } from "../../physics";
import { inSi } from "../../quantity/internal";
import { goalOf } from "../goal";
import type { Goal } from "../goal-types";
import { drawSamples } from "./draw-samples";
import { firstOrder, normalShare } from "./first-order";
import { spreadGround } from "./spread-ground";
import type { SpreadModel } from "./spread-model";
import type { Spread, SpreadContribution, SpreadOptions } from "./spread-types";
import { assumedTexts, spreadSentences } from "./spread-words";
import { checkName } from "./variables";
import { ALL_CORNERS, worstCorners } from "./worst-corners";

const CALLER = "spread";
const NAMES = [
  "goal",
  "tolerances",
  "byKind",
  "drivers",
  "unstated",
  "lots",
  "matched",
  "distribution",
  "samples",
  "seed",
  "percentiles",
  "largestLossDb",
  "count",
  "ratedImpedance",
  "found",
  "onProgress",
  "signal",
] as const;
/** Of so many with the most effect it is looked at what the yield becomes when they are exact. */
const EXACT = 5;

/**
 * What the tolerances of parts **and drivers** do to the sound and to the limits of a goal: to first order (which part matters), by seeded samples (the share of loudspeakers
 * that is good, with its confidence, and bands for plots), at the worst corners, and between left and right of a pair.
 *
 * A driver's level moves its pressure, its delay turns it, and its resonance and Q move its impedance and, as a high-pass of second order, its pressure: right for closed boxes and
 * domes, rough for a vented box near its tuning. A sample is good when it keeps every limit that the loudspeaker as drawn keeps: the loss, the corridor at the places that
 * keep it, |Z|, the level, what drivers are spared. Samples are judged on 24 points an octave. What comes from one lot deviates alike; everything else is drawn by itself.
 * The first-order slopes are central differences, good to some seven digits; the interval is that of Wilson (1927); random numbers as in `tolerance`.
 *
 * @param loudspeaker network, drivers and source
 * @param options `goal`; tolerances of parts (dimensionless) and drivers (dB, s); `lots`, `matched`; `distribution`, `samples`, `seed`; `percentiles` in %;
 *   `largestLossDb` in dB; `count`; `ratedImpedance` in Ω; `found`; `onProgress`, `signal`
 * @returns yield and shares (dimensionless), losses, effects and bands in dB, and sentences
 * @throws DividingNetworkError `unknown-part`, `unknown-option`, `invalid-argument`, `aborted`, and what `lossOf` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { spread } from "dividing-network/assessment";
 *
 * const grid = logGrid(200, 20_000, 200);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({
 *   network: { R1: [resistor(2), "in", "a"], dome: [resistor(6), "a", "gnd"] },
 *   drivers: [{ name: "dome", role: "tweeter", pressures: [flat] }],
 * });
 * const { ranking, yield: good } = spread(box, { goal: { levelDb: 80.52, limits: "stated" }, tolerances: { R1: 0.1 }, drivers: { dome: { levelDb: 0.5 } }, largestLossDb: 0.5 });
 * ranking[0]!.of; // ["dome"]
 * ranking[0]!.effectDb; // 0.2887
 * good.share; // 0.89
 * ```
 */
export function spread<T extends Entries>(loudspeaker: Loudspeaker<T>, options: SpreadOptions = {}): Spread {
  const box = checkLoudspeaker(CALLER, loudspeaker) as unknown as Loudspeaker;
  const given = checkOptions(CALLER, options, NAMES);
  const goal = goalOf(given.goal);
  const distribution = checkOneOf(CALLER, "distribution", given.distribution ?? "uniform", ["uniform", "triangular", "normal"]);
  const samples = checkNumber(CALLER, "samples", given.samples ?? 2000, { min: 2, max: 1_000_000, integer: true });
  const seed = checkNumber(CALLER, "seed", given.seed ?? 1, { min: 0, max: 2 ** 32 - 1, integer: true });
  checkOneOf(CALLER, "unstated", given.unstated ?? "assumed", ["assumed", "exact"]);
  const count = checkOneOf(CALLER, "count", given.count ?? "kept", ["kept", "all"]);
  const percentiles = Object.freeze(
    checkList<number>(CALLER, "percentiles", given.percentiles ?? [5, 50, 95], "numbers from 0 to 100").map((one, index) =>
      checkNumber(CALLER, `percentiles[${index}]`, one, { min: 0, max: 100, unit: "%" }),
    ),
  );
  const matched = new Set(checkList<string>(CALLER, "matched", given.matched ?? [], "names of parts or drivers"));
  for (const name of matched) checkName(CALLER, "matched", box, name);
  const rated = given.ratedImpedance === undefined ? undefined : inSi(CALLER, "ratedImpedance", given.ratedImpedance, "Ω", { above: 0 });

  const ground = spreadGround(CALLER, box, goal, given, { largestLossDb: given.largestLossDb, found: given.found, rated });
  const { exact, grid, model, criteria, nominal } = ground;
  const { groups, powers } = model;
  const G = groups.length;
  const kept = criteria.map(({ limit, side }, c) => side * nominal[c]! <= side * limit);
  const counted = kept.map((own) => own || count === "all");
  const nominalDb = powers.map((power) => Math.max(-400, 10 * Math.log10(power)) - 20 * Math.log10(REFERENCE_PRESSURE));

  const linear = firstOrder(model, goal, criteria, distribution);
  const variance = linear.effects.reduce((sum, effect) => sum + effect * effect, 0);
  const wholeVariance = linear.wholeEffects.reduce((sum, effect) => sum + effect * effect, 0);
  const order = Array.from(groups.keys()).sort(
    (a, b) => linear.effects[b]! - linear.effects[a]! || linear.wholeEffects[b]! - linear.wholeEffects[a]!,
  );
  const looked = order.slice(0, EXACT).filter((g) => linear.effects[g]! > 0);

  const steps = samples + (G <= ALL_CORNERS ? 2 ** G : 0);
  const axis = Math.max(
    0,
    goal.places.findIndex(({ azimuth, elevation }) => azimuth === 0 && elevation === 0),
  );
  const { passed, passes, exactPasses, passedOfExact, exactSamples, losses, worst, bands, pair, matchedPair } = drawSamples(
    model,
    criteria,
    { samples, draw: deviations(seededRandom(seed), distribution), counted, looked, matched, axis },
    (sample) => reportProgress(CALLER, given, sample, steps),
  );
  let corners = 0;
  const found = worstCorners(
    model,
    criteria,
    linear.slopes,
    worst.map(({ at }) => at),
    () => reportProgress(CALLER, given, Math.min(steps - 1, samples + 16 * corners++), steps),
  );
  reportProgress(CALLER, given, steps, steps);

  const ranking = order.map((g): SpreadContribution => {
    const { of, quantity, tolerance, unit, assumed } = groups[g]!;
    const place = looked.indexOf(g);
    return Object.freeze({
      of: Object.freeze([...of]),
      quantity,
      tolerance,
      unit,
      assumed,
      effectDb: linear.effects[g]!,
      share: variance > 0 ? linear.effects[g]! ** 2 / variance : 0,
      lossSlopeDb: linear.slopes[0]![g]!,
      pairIfMatchedDb: Math.sqrt(2 * Math.max(0, wholeVariance - linear.wholeEffects[g]! ** 2)),
      // The same samples with and without: what a single drawing does more or less falls out of the difference.
      ...(place < 0
        ? {}
        : { yieldIfExact: Math.min(1, Math.max(0, passed / samples + (exactPasses[place]! - passedOfExact) / exactSamples)) }),
    });
  });
  const sorted = losses.sort();
  const answer: Omit<Spread, "sentences"> = {
    samples,
    seed,
    distribution,
    band: exact.band,
    distance: ground.distance,
    yield: yieldOf(passed, samples),
    criteria: Object.freeze(
      criteria.map(({ name, unit, limit }, c) =>
        Object.freeze({
          name,
          unit,
          limit,
          nominal: nominal[c]!,
          kept: kept[c]!,
          share: passes[c]! / samples,
          worstSample: worst[c]!.value,
        }),
      ),
    ),
    lossDb: Object.freeze({
      nominal: exact.lossDb,
      percentiles: Object.freeze(percentiles.map((percent) => percentile(sorted, percent, (value) => value))),
    }),
    firstOrder: Object.freeze({
      effectDb: Math.sqrt(variance),
      lossDb: Math.hypot(exact.lossDb, Math.sqrt(variance)),
      yield: normalShare(criteria[0]!, nominal[0]!, linear.slopes[0]!, distribution),
      pairDb: Math.sqrt(2 * wholeVariance),
    }),
    ranking: Object.freeze(ranking),
    pair,
    ...(matchedPair === undefined ? {} : { matchedPair }),
    worst: Object.freeze(
      criteria.map(({ name, unit, limit }, c) =>
        Object.freeze({
          name,
          value: found[c]!.value,
          limit,
          unit,
          searched: G <= ALL_CORNERS ? ("all corners" as const) : ("best found" as const),
          ends: Object.freeze(
            groups.map(({ of, quantity }, g) =>
              Object.freeze({ of: Object.freeze([...of]), quantity, end: found[c]!.corner[g]! < 0 ? (-1 as const) : (1 as const) }),
            ),
          ),
        }),
      ),
    ),
    frequencies: grid.heard.slice(),
    percentiles,
    bands: bandsOf(
      goal,
      model,
      nominalDb,
      percentiles.map((percent) => bands.percentile(percent)),
    ),
    assumed: Object.freeze(assumedTexts(ranking, model.still)),
  };
  const made: Spread = { ...answer, sentences: Object.freeze(spreadSentences(answer, count)) };
  return Object.freeze(shown(made, spreadViews));
}

/** What tolerances do, in its sentences. */
const spreadViews: Views<Spread> = {
  text: ({ samples, sentences }) =>
    [
      `Spread: ${samples} loudspeakers drawn`,
      ...sentences
        .slice(0, 9)
        .map((sentence) => `  ${sentence.length > 300 ? `${sentence.slice(0, 299)}…` : sentence}`.replace(/[\r\n]+/g, " ")),
      "  ask: .yield, .criteria, .lossDb, .ranking, .bands",
    ].join("\n"),
};

function bandsOf(goal: Goal, { grid, known }: SpreadModel, nominal: Float64Array, around: readonly Float64Array[]): Spread["bands"] {
  const n = grid.heard.length;
  return Object.freeze(
    goal.places.map(({ azimuth, elevation }, k) => {
      const { first, end } = known[k]!;
      const own = nominal.slice(k * n + first, k * n + end);
      return Object.freeze({
        azimuth,
        elevation,
        frequencies: grid.heard.slice(first, end),
        nominal: own,
        percentiles: Object.freeze(around.map((curve) => own.map((level, j) => level + curve[k * n + first + j]!))),
      });
    }),
  );
}
