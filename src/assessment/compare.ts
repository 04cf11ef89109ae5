import { checkOptions, DividingNetworkError, shown } from "../errors";
import { assess, type Assessment } from "./assess";
import { axisFindings } from "./axis-findings";
import type { Context } from "./context";
import type { Finding } from "./finding";
import { handoverFindings } from "./handover-findings";
import { loadFindings } from "./load-findings";
import type { ModelCheck } from "./model-check";
import { offAxisFindings } from "./off-axis-findings";
import { comparisonViews, findingsViews } from "./views";

/** Before against after. */
export interface Comparison {
  readonly before: Assessment;
  readonly after: Assessment;
  readonly model?: ModelCheck;
  /** Hz: the crossover of the loudspeaker after, in whose region both are judged; absent when it has a single branch. */
  readonly crossover?: number;
  readonly findings: readonly Finding[];
  /** What it comes to, in one sentence. */
  readonly verdict: string;
}

/** What `compare` may be told. */
export interface CompareOptions {
  /** From `checkModel` of the loudspeaker before: what is smaller than its residual is not decided. */
  readonly model?: ModelCheck | undefined;
  /** Degrees: how far to either side listeners sit; default 20°. */
  readonly listenerAngle?: number | undefined;
}

/**
 * Compares two assessments of one loudspeaker, before and after its network was changed, finding by finding: each with its
 * number, unit (dB, Ω, Hz, octaves, degrees as stated), threshold with its reason, and a verdict. Where a check of the model
 * against a measurement is given, a difference smaller than the model's own miss is not decided.
 *
 * @param before the loudspeaker as found
 * @param after the loudspeaker with the new network
 * @param options `model` from `checkModel`; `listenerAngle` in degrees (default 20°)
 * @returns findings and an overall verdict; frequencies in Hz
 * @throws DividingNetworkError `invalid-argument` when the two were judged at different distances or rated impedances
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
 * compare(made(22e-6), made(6.631e-6)).findings.find(({ code }) => code === "smoothness")?.verdict; // "better"
 * ```
 */
export function compare(before: Assessment, after: Assessment, options: CompareOptions = {}): Comparison {
  const { model, listenerAngle = 20 } = checkOptions("compare", options, ["model", "listenerAngle"]);
  if (Math.abs(before.distance - after.distance) > 1e-3 || before.ratedImpedance !== after.ratedImpedance) {
    throw new DividingNetworkError("invalid-argument", `compare: both must be judged at one distance and one rated impedance, got ${before.distance} m, ${before.ratedImpedance} Ω and ${after.distance} m, ${after.ratedImpedance} Ω`);
  }
  const crossover = after.handovers[after.handovers.length - 1]?.frequency;
  // Both are judged in one region and one band, or the numbers could not be compared.
  const same = crossover === undefined ? before : assess(before.prediction.loudspeaker, { ratedImpedance: before.ratedImpedance, band: after.band, sensitivityBand: after.sensitivityBand, distance: after.distance, crossoverRegion: crossover });
  const context: Context = { before: same, after, model, crossover, listenerAngle };
  const findings = Object.freeze(shown<readonly Finding[]>([...axisFindings(context), ...handoverFindings(context), ...offAxisFindings(context), ...loadFindings(context)], findingsViews));
  const made: Comparison = { before: same, after, ...(model === undefined ? {} : { model }), ...(crossover === undefined ? {} : { crossover }), findings, verdict: overall(findings) };
  return Object.freeze(shown(made, comparisonViews));
}

function overall(findings: readonly Finding[]): string {
  const by = (verdict: Finding["verdict"]) => findings.filter((finding) => finding.verdict === verdict);
  const [better, worse, undecided] = [by("better"), by("worse"), by("cannot be decided from these data")];
  const decided = better.length + worse.length + by("unchanged").length;
  const names = (list: readonly Finding[]) => list.map(({ subject }) => subject).join("; ");
  const same = by("unchanged").length;
  const rest = `${worse.length === 0 ? "worse in none" : `worse in ${worse.length} (${names(worse)})`}${same === 0 ? "" : ` and unchanged in ${same}`}${undecided.length === 0 ? "" : `; ${undecided.length} cannot be decided from these data (${names(undecided)})`}`;
  if (decided === 0 || undecided.length > decided) return `Whether the new network is better cannot be decided from these data: ${undecided.length} of ${decided + undecided.length} findings are smaller than what the model misses.`;
  const word = better.length > 2 * worse.length ? "The new network is better" : worse.length > 2 * better.length ? "The new network is worse" : "The new network is neither clearly better nor clearly worse";
  return `${word}: of ${decided} findings that can be decided it is better in ${better.length}, ${rest}.`;
}
