import { DividingNetworkError } from "../errors";
import { phasorSum } from "./phasor-sum";
import { integrationRule } from "./integration-rule";
import { finer, pointsNeeded } from "./points-needed";
import { noPoints, type IntegrationRule, type RulePoints } from "./rule-points";
import type { Source } from "./source";

/** Scratch space of one sum, so that nothing is allocated per point. */
export interface FieldScratch {
  readonly points: RulePoints;
  /** The field of one source at one point, 1/m, per frequency. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly sum: Float64Array;
}

/** Space for so many frequencies. */
export function fieldScratch(frequencies: number): FieldScratch {
  return { points: noPoints(), re: new Float64Array(frequencies), im: new Float64Array(frequencies), sum: new Float64Array(2) };
}

const mostPoints = 200_000;
const mostPerDimension = 2048;
const mostInPhase = 256;

/**
 * Adds the field of one shape at one point to `scratch.re` and `scratch.im`, 1/m, times `sign`.
 *
 * @param caller name of the public function, for messages
 * @param source its shape and mounting are used
 * @param local the point in the source's own coordinates, m
 * @param wavenumbers rad/m, ascending
 * @param tolerance wanted error relative to the sum in phase of all elements, each counted whole; dimensionless
 * @param sign 1 or −1
 * @param scratch what is added to
 * @returns the largest estimated error relative to that sum, dimensionless
 */
export function addSourceField(
  caller: string,
  source: Source,
  local: readonly [number, number, number],
  wavenumbers: Float64Array,
  tolerance: number,
  sign: number,
  scratch: FieldScratch,
): number {
  const [x, y, z] = local;
  const distance = Math.hypot(x, y, z);
  // On the plane of a baffle counts as before it, within the rounding of a rotation.
  if (source.mounting === "baffle" && x < -1e-12 * distance) return 0;
  const rule = integrationRule(source, x, y, z);
  if (rule === undefined) {
    if (distance < 1e-9) throw onSource(caller);
    for (let f = 0; f < wavenumbers.length; f++) {
      scratch.re[f]! += (sign * Math.cos(wavenumbers[f]! * distance)) / distance;
      scratch.im[f]! -= (sign * Math.sin(wavenumbers[f]! * distance)) / distance;
    }
    return 0;
  }
  const { sum, points, re, im } = scratch;
  // Weights of (1 + cos θ)/2 may all vanish behind a source, so that nothing can be judged by their own sum.
  const inPhase = sumInPhase(rule.whole ?? rule, scratch);
  const reach = Math.max(1e-12, ...rule.extents.map((extent) => extent.slope));
  let worst = 0;
  for (let start = 0; start < wavenumbers.length;) {
    // One set of points serves a band of a third of an octave, and all frequencies at which the source is small.
    const limit = Math.max(1.25 * wavenumbers[start]!, 0.5 / reach);
    let end = start + 1;
    while (end < wavenumbers.length && wavenumbers[end]! <= limit) end++;
    worst = Math.max(worst, settle(caller, rule, wavenumbers[end - 1]!, tolerance, inPhase, scratch));
    for (let f = start; f < end; f++) {
      evaluate(rule, points, wavenumbers[f]!, sum);
      re[f]! += sign * sum[0]!;
      im[f]! += sign * sum[1]!;
    }
    start = end;
  }
  return worst;
}

/** The field at 0 Hz, where all of the source arrives in phase, 1/m; to a few per cent. */
function sumInPhase(rule: IntegrationRule, { points, sum }: FieldScratch): number {
  const [n = 1, m = 1] = rule.extents.map((extent) => Math.min(mostInPhase, pointsNeeded(0, extent, 0.01 / rule.cancellation)));
  fill(rule, points, n, m);
  evaluate(rule, points, 0, sum);
  return sum[0]!;
}

/**
 * Writes points that reach the tolerance at k, the highest wavenumber of a band, and gives the error found by comparing with a finer rule.
 */
function settle(
  caller: string,
  rule: IntegrationRule,
  k: number,
  tolerance: number,
  inPhase: number,
  { points, sum }: FieldScratch,
): number {
  let n = pointsNeeded(k, rule.extents[0]!, tolerance / rule.cancellation);
  let m = rule.extents[1] === undefined ? 1 : pointsNeeded(k, rule.extents[1], tolerance / rule.cancellation);
  for (;;) {
    const nn = finer(n);
    const mm = rule.extents.length > 1 ? finer(m) : 1;
    const size = rule.kind === "edge" ? 2 * (nn + mm) : nn * mm;
    if (!(size <= mostPoints && nn <= mostPerDimension && mm <= mostPerDimension)) {
      throw new DividingNetworkError(
        "accuracy-not-reached",
        `${caller}: an error of ${tolerance} would need more than ${mostPerDimension} points along a source`,
        "Move the point away from the edge of the source, lower the highest frequency, or allow a larger tolerance",
      );
    }
    fill(rule, points, nn, mm);
    evaluate(rule, points, k, sum);
    const re = sum[0]!;
    const im = sum[1]!;
    fill(rule, points, n, m);
    evaluate(rule, points, k, sum);
    const error = Math.hypot(sum[0]! - re, sum[1]! - im) / inPhase;
    if (!Number.isFinite(error)) throw onSource(caller);
    if (error <= tolerance) return error;
    n = nn;
    m = mm;
  }
}

function fill(rule: IntegrationRule, points: RulePoints, first: number, second: number): void {
  rule.fill(points, first, second);
  if (rule.kind === "surface") return;
  points.perLengthSum = 0;
  points.smallestLength = Infinity;
  for (let i = 0; i < points.count; i++) {
    const length = points.lengths[i]!;
    points.smallestLength = Math.min(points.smallestLength, length);
    points.doubles[i] = 2 * length;
    points.perLength[i] = points.amplitudes[i]! / (2 * length);
    points.perLengthSum += points.perLength[i]!;
  }
}

function evaluate(rule: IntegrationRule, points: RulePoints, k: number, sum: Float64Array): void {
  sum[0] = 0;
  sum[1] = 0;
  const { amplitudes, lengths, scaled, count } = points;
  if (rule.kind === "surface") {
    phasorSum(amplitudes, lengths, count, k, sum);
  } else if (k * points.smallestLength > 1e-3) {
    // sinc(kh) e^(−jkh) = (1 − e^(−2jkh)) / 2jkh
    phasorSum(points.perLength, points.doubles, count, k, sum);
    const re = points.perLengthSum - sum[0];
    sum[0] = -sum[1] / k;
    sum[1] = -re / k;
  } else {
    for (let i = 0; i < count; i++) {
      const turn = k * lengths[i]!;
      scaled[i] = turn < 0.02 ? amplitudes[i]! * (1 - (turn * turn) / 6) : (amplitudes[i]! * Math.sin(turn)) / turn;
    }
    phasorSum(scaled, lengths, count, k, sum);
  }
  const [re, im] = [sum[0], sum[1]];
  const [cos, sin] = [Math.cos(k * rule.common), Math.sin(k * rule.common)];
  sum[0] = re * cos + im * sin;
  sum[1] = im * cos - re * sin;
}

function onSource(caller: string): DividingNetworkError {
  return new DividingNetworkError(
    "point-on-source",
    `${caller}: a point must not lie on a source, where the pressure has no limit`,
    "Move the point away by a millimetre or more",
  );
}
