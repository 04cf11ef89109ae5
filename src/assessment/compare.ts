import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOptions, show, shown } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import type { Assessment } from "./assessment-data";
import { axisFindings } from "./axis-findings";
import { bassFindings } from "./bass-findings";
import type { Context } from "./context";
import type { Finding } from "./finding-data";
import { handoverFindings } from "./handover-findings";
import { loadFindings } from "./load-findings";
import { levelCause } from "./level-cause";
import { checkModel, type WholeMeasurement } from "./model-check";
import { offAxisFindings } from "./off-axis-findings";
import { checkOneLoudspeaker } from "./one-loudspeaker";
import { checkRepeatability, type SuspectsOptions } from "./suspects/repeatability";
import { suspects } from "./suspects/suspects";
import { trustOf } from "./trust";
import { judgement } from "./judgement";
import { topicsOf } from "./topics";
import { comparisonViews, findingsViews } from "./views";
import type { Comparison } from "./comparison-data";

/** What `compare` may be told. */
export interface CompareOptions {
  /** What was measured of the whole loudspeaker with the network as found: the drawing is held against it before anything is judged. */
  readonly measured?:
    | {
        /** Pa, of the whole, each with its place. */
        readonly pressures?: readonly WholeMeasurement[] | undefined;
        /** Ω, of the whole. */
        readonly impedance?: FrequencyResponse | undefined;
      }
    | undefined;
  /** By how much a repeated measurement may differ: dB and part of |Z|; see `SuspectsOptions`. */
  readonly repeatability?: SuspectsOptions["repeatability"] | undefined;
  /** Degrees: how far to either side rows of numbers are shown; default 30°. */
  readonly listenerAngle?: number | undefined;
}

/**
 * Compares two assessments of one loudspeaker by one goal, before and after its network was changed. First the drawing is held against what
 * was measured of the whole, if anything was: one that is refuted gives suspects and no verdict. Then dangers: one of the new network's, and it
 * isn't fit to be connected. Then topics (on the axis, off it in each plane, load, drivers, loudness; dB and Ω), each of which counts once. Rows of
 * numbers explain all that, and do not vote. `before` hangs on the network found alone, whatever is proposed.
 *
 * @param before the loudspeaker as found
 * @param after the loudspeaker with the new network
 * @param options `measured`: the whole with the network found (Pa, Ω); `repeatability` in dB and as a part of |Z|; `listenerAngle` in degrees (30°)
 * @returns the verdict, and rows of numbers; frequencies in Hz
 * @throws DividingNetworkError `invalid-argument` when the two were judged by different goals, distances, bands or rated impedances, have other roles of drivers or another source impedance
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess, compare } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 20_000, 400);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const made = (farads: number) => assess(loudspeaker({
 *   network: { L1: [inductor("0.4244 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor(farads), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * }), { ratedImpedance: 8 });
 * compare(made(22e-6), made(6.631e-6)).verdict.overall; // "better"
 * ```
 */
export function compare(before: Assessment, after: Assessment, options: CompareOptions = {}): Comparison {
  const caller = "compare";
  const { measured, repeatability, listenerAngle = 30 } = checkOptions(caller, options, ["measured", "repeatability", "listenerAngle"]);
  checkAssessment(caller, "before", before);
  checkAssessment(caller, "after", after);
  checkOneLoudspeaker(caller, before, after);
  checkNames(caller, before, after);
  const unit = checkRepeatability(caller, { repeatability });
  const { pressures = [], impedance } = checkOptions(caller, measured ?? {}, ["pressures", "impedance"]);
  const whole = {
    pressures: checkList(caller, "measured.pressures", pressures, "{ distance, azimuth, elevation, response, voltage }"),
    ...(impedance === undefined ? {} : { impedance }),
  };
  const found = before.prediction.loudspeaker;
  const any = whole.pressures.length > 0 || impedance !== undefined;
  const model = any ? checkModel(found, whole) : undefined;
  const trust = trustOf(found, any ? whole : undefined, unit);
  const suspected = trust.state === "refuted" ? suspects(found, whole, { repeatability: unit }) : [];
  const crossover = after.handovers[after.handovers.length - 1]?.frequency;
  const context: Context = {
    before,
    after,
    model,
    centre: Math.sqrt(after.band.from * after.band.to),
    listenerAngle: checkNumber(caller, "listenerAngle", listenerAngle, { min: 0, max: 180, unit: "degrees" }),
  };
  const findings = Object.freeze(
    shown<readonly Finding[]>(
      [
        ...axisFindings(context),
        ...handoverFindings(context),
        ...offAxisFindings(context),
        ...loadFindings(context),
        ...bassFindings(context),
      ],
      findingsViews,
    ),
  );
  const plain = topicsOf(before.quality, after.quality, after.goal);
  const tooQuiet = plain.some(({ topic, kept }) => topic === "loudness" && kept === false);
  const levelLoss = tooQuiet ? levelCause(before, after) : undefined;
  const topics =
    levelLoss === undefined
      ? plain
      : Object.freeze(
          plain.map((topic) =>
            topic.topic === "loudness" ? Object.freeze({ ...topic, sentence: `${topic.sentence}: ${levelLoss.sentence}` }) : topic,
          ),
        );
  const verdict = judgement(topics, after.dangers, trust, suspected, after.limitsNotChecked);
  const made: Comparison = {
    before,
    after,
    ...(model === undefined ? {} : { model }),
    ...(crossover === undefined ? {} : { crossover }),
    findings,
    verdict,
    ...(levelLoss === undefined ? {} : { levelLoss }),
  };
  return Object.freeze(shown(made, comparisonViews));
}

/** Whoever is named in the goal must be in one of the two: a misspelt name would be a limit that nobody looks at. */
function checkNames(caller: string, before: Assessment, after: Assessment): void {
  const { goal } = after;
  const drivers = [before, after].flatMap(({ prediction }) => prediction.loudspeaker.drivers);
  const refuse = (where: string, name: string, known: readonly string[]) => {
    throw new DividingNetworkError(
      "unknown-part",
      `${caller}: "goal.${where}" names ${show(name)}, which isn't there`,
      `There are ${known.join(", ")}`,
    );
  };
  const [names, parts] = [[...new Set(drivers.map(({ name }) => name))], [...new Set(drivers.map(({ part }) => part))]];
  for (const name of Object.keys(goal.drivers)) if (!names.includes(name)) refuse("drivers", name, names);
  for (const { lower, upper } of goal.intentions)
    for (const part of [lower, upper]) if (!parts.includes(part)) refuse("intentions", part, parts);
}

function checkAssessment(caller: string, argument: string, value: unknown): void {
  if (
    typeof value === "object"
    && value !== null
    && Object.isFrozen(value)
    && "quality" in value
    && "prediction" in value
    && "goal" in value
  )
    return;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${argument}" must be what assess gives, got ${show(value)}`,
    "Assess both loudspeakers with one goal first",
  );
}
