import { DividingNetworkError } from "../errors";
import { REFERENCE_PRESSURE } from "../physics";
import { levelDb, type FrequencyResponse } from "../response";
import { aboveZero, anchoredGrid, fitLine, POINTS_PER_OCTAVE, type Band } from "./band";
import { QUIETEST_DB } from "./third-octaves";
import { sampledAt } from "./sampled-at";

/** Where and how one branch hands over to the next. */
export interface Handover {
  /** Hz: each frequency at which the two levels are equal. */
  readonly crossovers: readonly number[];
  /** Hz: the one inside the widest stretch of overlap. */
  readonly frequency: number;
  /** dB re 20 µPa of each branch there. */
  readonly levelDb: number;
  /** Hz: the stretch around `frequency` in which the levels are within 10 dB. */
  readonly overlap: Band;
  /** Its width in octaves. */
  readonly overlapOctaves: number;
  /** True when the overlap reaches an end of the data, so that it is at least this wide. */
  readonly overlapCut: boolean;
  /** dB per octave, of the lower branch, fitted over the octave that begins half an octave above the crossover. */
  readonly lowerSlopeDbPerOctave?: number | undefined;
  /** dB per octave, of the upper branch, fitted over the octave that ends half an octave below the crossover. */
  readonly upperSlopeDbPerOctave?: number | undefined;
  /** Root mean square of the phase between the branches over the overlap, degrees. */
  readonly phaseRmsDegrees: number;
  /** Degrees, arg(upper/lower) at the crossover, −180 … 180. */
  readonly phaseDegrees: number;
  /** dB by which reversing one branch lowers the sum, where that is deepest within half an octave of the crossover. */
  readonly nullDepthDb: number;
  /** Hz, where. */
  readonly nullFrequency: number;
}

/** Within this many dB of each other two branches count as overlapping. */
const OVERLAP_DB = 10;

/**
 * How two neighbouring branches hand over on one axis: every frequency where their levels are equal, the width in octaves
 * over which they are within 10 dB (an ideal pair of order n: 3.32/n octaves, since the level difference of a Butterworth
 * or Linkwitz–Riley pair is 20·n·lg(f/fc) dB), their acoustic slopes in dB per octave, their phase against each other in
 * degrees, and the null that reversing one of them makes.
 *
 * @param lower sound pressure of the lower branch, Pa
 * @param upper sound pressure of the upper branch on the same grid, Pa
 * @returns frequencies in Hz, levels in dB, slopes in dB per octave, angles in degrees
 * @throws DividingNetworkError `no-crossover` when the two levels are equal nowhere in the data
 * @example
 * ```ts
 * import { highPass, linkwitzRiley, logGrid, lowPass, responseOf } from "dividing-network";
 * import { handover } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 400);
 * const pair = handover(responseOf(lowPass(linkwitzRiley(4), 1000), grid), responseOf(highPass(linkwitzRiley(4), 1000), grid));
 * pair.frequency; // 1000.0
 * pair.overlapOctaves; // 0.83
 * ```
 */
export function handover(lower: FrequencyResponse, upper: FrequencyResponse): Handover {
  return handoverOf(aboveZero("handover", "lower", lower), aboveZero("handover", "upper", upper));
}

/** The same for responses that have been looked at. */
export function handoverOf(lower: FrequencyResponse, upper: FrequencyResponse): Handover {
  const { frequencies } = lower;
  if (
    frequencies.length < 2
    || frequencies.length !== upper.frequencies.length
    || !frequencies.every((frequency, i) => frequency === upper.frequencies[i])
  ) {
    throw new DividingNetworkError(
      "grid-mismatch",
      `handover: "lower" and "upper" must share one grid of at least two frequencies above 0 Hz, got ${frequencies.length} and ${upper.frequencies.length} points`,
      "Bring both to one grid with resample",
    );
  }
  const [low, high] = [audible(lower, REFERENCE_PRESSURE), audible(upper, REFERENCE_PRESSURE)];
  const octaves = frequencies.map((frequency) => Math.log2(frequency));
  const difference = low.map((level, index) => level - high[index]!);
  // Where both are silent nothing is equal: what stands before goes on.
  for (let i = 1; i < difference.length; i++) if (low[i] === QUIETEST_DB && high[i] === QUIETEST_DB) difference[i] = difference[i - 1]!;
  const crossovers = zeros(octaves, difference, 0);
  if (crossovers.length === 0) {
    throw new DividingNetworkError(
      "no-crossover",
      `handover: the two branches have equal level nowhere between ${frequencies[0]!.toFixed(0)} Hz and ${frequencies[frequencies.length - 1]!.toFixed(0)} Hz`,
      "Measure over the crossover region, or check that both branches are connected",
    );
  }
  const stretches = overlaps(octaves, difference).filter((stretch) =>
    crossovers.some((crossover) => crossover >= stretch.from && crossover <= stretch.to),
  );
  const widest = stretches.reduce<Band | undefined>(
    (best, stretch) => (best === undefined || stretch.to - stretch.from > best.to - best.from ? stretch : best),
    undefined,
  );
  if (widest === undefined)
    throw new DividingNetworkError(
      "no-crossover",
      "handover: the two branches are equally loud only in passing, where one of them is silent",
      "Check that both branches are connected, and that their files hold no zeros",
    );
  const inside = crossovers.filter((crossover) => crossover >= widest.from && crossover <= widest.to);
  const middle = (widest.from + widest.to) / 2;
  const main = inside.reduce((best, crossover) => (Math.abs(crossover - middle) < Math.abs(best - middle) ? crossover : best));
  const frequency = 2 ** main;
  const at = (values: Float64Array) => interpolate(octaves, values, main);
  const { phaseRmsDegrees, phaseDegrees, nullDepthDb, nullFrequency } = together(
    lower,
    upper,
    { from: 2 ** widest.from, to: 2 ** widest.to },
    frequency,
  );
  const [lowerSlopeDbPerOctave, upperSlopeDbPerOctave] = [
    slope(lower, frequency * Math.SQRT2, 2 * frequency * Math.SQRT2),
    slope(upper, frequency / (2 * Math.SQRT2), frequency / Math.SQRT2),
  ];
  return Object.freeze({
    crossovers: Object.freeze(crossovers.map((crossover) => 2 ** crossover)),
    frequency,
    levelDb: at(low),
    overlap: Object.freeze({ from: 2 ** widest.from, to: 2 ** widest.to }),
    overlapOctaves: widest.to - widest.from,
    overlapCut: widest.from === octaves[0] || widest.to === octaves[octaves.length - 1],
    ...(lowerSlopeDbPerOctave === undefined ? {} : { lowerSlopeDbPerOctave }),
    ...(upperSlopeDbPerOctave === undefined ? {} : { upperSlopeDbPerOctave }),
    phaseRmsDegrees,
    phaseDegrees,
    nullDepthDb,
    nullFrequency,
  });
}

/** Levels in dB, in which silence has a number. */
function audible(response: FrequencyResponse, reference: number): Float64Array {
  return levelDb(response, { reference }).map((level) => Math.max(level, QUIETEST_DB));
}

/** Where a sampled function passes a value, straight between the samples. */
function zeros(x: Float64Array, y: Float64Array, value: number): number[] {
  const found: number[] = [];
  for (let i = 1; i < x.length; i++) {
    const [a, b] = [y[i - 1]! - value, y[i]! - value];
    if (b === 0) found.push(x[i]!);
    else if (a < 0 !== b < 0 && a !== 0) found.push(x[i - 1]! + ((x[i]! - x[i - 1]!) * a) / (a - b));
    else if (i === 1 && a === 0) found.push(x[0]!);
  }
  return found;
}

/** The stretches in which |difference| ≤ 10 dB, ends straight between the samples. */
function overlaps(x: Float64Array, difference: Float64Array): { readonly from: number; readonly to: number }[] {
  const edges = [...zeros(x, difference, OVERLAP_DB), ...zeros(x, difference, -OVERLAP_DB)].sort((a, b) => a - b);
  const marks = [x[0]!, ...edges, x[x.length - 1]!];
  const stretches: { from: number; to: number }[] = [];
  for (let i = 1; i < marks.length; i++) {
    const [from, to] = [marks[i - 1]!, marks[i]!];
    if (!(to > from) || Math.abs(interpolate(x, difference, (from + to) / 2)) > OVERLAP_DB) continue;
    const last = stretches[stretches.length - 1];
    if (last !== undefined && last.to === from) last.to = to;
    else stretches.push({ from, to });
  }
  return stretches;
}

function interpolate(x: Float64Array, y: Float64Array, at: number): number {
  let i = 1;
  while (i < x.length - 1 && x[i]! < at) i++;
  const share = (at - x[i - 1]!) / (x[i]! - x[i - 1]!);
  return y[i - 1]! + share * (y[i]! - y[i - 1]!);
}

/** dB per octave over a band; undefined when the data don't cover it. */
function slope(response: FrequencyResponse, from: number, to: number): number | undefined {
  const { frequencies } = response;
  if (from < frequencies[0]! || to > frequencies[frequencies.length - 1]!) return undefined;
  const points = sampledAt(
    response,
    Float64Array.from({ length: POINTS_PER_OCTAVE + 1 }, (_, index) => from * (to / from) ** (index / POINTS_PER_OCTAVE)),
  );
  return fitLine(points.frequencies.map(Math.log2), audible(points, 1)).slope;
}

/** Phase between the branches over the overlap, and what reversing one does near the crossover. */
function together(lower: FrequencyResponse, upper: FrequencyResponse, overlap: Band, crossover: number) {
  const angleAt = (response: FrequencyResponse, other: FrequencyResponse, i: number) => {
    const [ar, ai, br, bi] = [response.re[i]!, response.im[i]!, other.re[i]!, other.im[i]!];
    return (Math.atan2(br * -ai + bi * ar, br * ar + bi * ai) * 180) / Math.PI;
  };
  const { frequencies } = lower;
  const clip = ({ from, to }: Band) => ({ from: Math.max(from, frequencies[0]!), to: Math.min(to, frequencies[frequencies.length - 1]!) });
  const inside = Float64Array.from(new Set([...anchoredGrid(overlap, POINTS_PER_OCTAVE), crossover])).sort();
  const [a, b] = [sampledAt(lower, inside), sampledAt(upper, inside)];
  let squares = 0;
  for (let i = 0; i < inside.length; i++) squares += angleAt(a, b, i) ** 2;
  const near = anchoredGrid(clip({ from: crossover / Math.SQRT2, to: crossover * Math.SQRT2 }), 4 * POINTS_PER_OCTAVE);
  const [c, d] = [sampledAt(lower, near), sampledAt(upper, near)];
  let [nullDepthDb, nullFrequency] = [-Infinity, crossover];
  for (let i = 0; i < near.length; i++) {
    const sum = Math.hypot(c.re[i]! + d.re[i]!, c.im[i]! + d.im[i]!);
    const reversed = Math.hypot(c.re[i]! - d.re[i]!, c.im[i]! - d.im[i]!);
    // Deeper than 120 dB is beyond any measurement, and a perfect null has no finite depth.
    const depth = sum === reversed ? 0 : Math.max(-120, Math.min(120, 20 * Math.log10(sum / reversed)));
    if (depth > nullDepthDb) [nullDepthDb, nullFrequency] = [depth, near[i]!];
  }
  return {
    phaseRmsDegrees: Math.sqrt(squares / inside.length),
    phaseDegrees: angleAt(a, b, inside.indexOf(crossover)),
    nullDepthDb,
    nullFrequency,
  };
}
