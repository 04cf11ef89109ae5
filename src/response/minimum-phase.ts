import { DividingNetworkError } from "../errors";
import { checkOptions, shown } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import type { MinimumPhaseResult } from "./minimum-phase-data";
import { logAxisPhase } from "./log-axis-phase";
import { naturalLogarithms } from "./natural-logarithms";
import { usableBand } from "./marked-band";
import { fitTail, tailLevel, type Tail } from "./tail";
import { minimumPhaseViews } from "./views";

/** What is known of the response beyond the data. Slopes are in dB per octave, positive where it falls away outwards. */
export interface MinimumPhaseOptions {
  /** Fall towards low frequencies: 12 for a closed box, 24 for a vented one, 0 for none. Required for gated data. */
  readonly lowSlope?: number | undefined;
  /** Hz: corner of that roll-off, where it is known; Butterworth of the slope's order unless `lowQ` is given. */
  readonly lowCorner?: Frequency | undefined;
  /** Dimensionless: Q of a 12 dB/octave corner. */
  readonly lowQ?: number | undefined;
  /** Fall towards high frequencies. */
  readonly highSlope?: number | undefined;
  /** Hz: corner of that roll-off, where it is known. */
  readonly highCorner?: Frequency | undefined;
  /** Dimensionless: Q of a 12 dB/octave corner. */
  readonly highQ?: number | undefined;
}

const optionNames = ["lowSlope", "lowCorner", "lowQ", "highSlope", "highCorner", "highQ"];

/**
 * The minimum-phase response of the same magnitude, in the unit of the input; its phase comes from the magnitude alone.
 *
 * $$\varphi(\omega_0) = \frac1\pi \int_{-\infty}^{\infty} \frac{\ln|H(\omega_0 e^{u})|}{\sinh u}\, du$$
 *
 * The integral runs over all frequencies, so beyond the data the response must be continued. An end whose corner is not stated
 * goes on as the roll-off (order, corner and Q) that explains the last octaves of the data; where none does, with the nearest multiple
 * of 6 dB/octave when the data come within 1.2 dB/octave of it, else with their own slope. Six dB per octave counts as one order (6.02).
 * Data that are marked as missing beyond an end are continued by what is stated alone.
 *
 * Valid for one driver near its axis. The sum of several sources, or a response with reflections in it, is in general
 * not minimum-phase; no test of magnitude can tell.
 *
 * @param response a response of at least 4 frequencies above 0 Hz; only its magnitude is used
 * @param options what is known beyond the ends: slopes in dB per octave, corners in Hz
 * @returns a response at the same frequencies, in the input's unit, marked as a model; where the input is marked as no data
 *   it holds the assumed continuation
 * @throws DividingNetworkError `invalid-response` for a magnitude of zero, `missing-tail` for gated data without its slope
 * Validity: on closed forms whose Butterworth or Bessel ends of order 2 to 6 are cut anywhere in the roll-off, below 1° two octaves
 * inside. Next to a resonance the sampling decides: below 0.02° with three points an octave for each unit of Q (24 for Q 8), 0.21° with two
 * (24 for Q 12), 1.8° with 1.2 (24 for Q 20). Scatter of the data costs more: an end cut at its corner is not told from one of another order
 * when each level is uncertain by 0.05 dB. `minimumPhaseWithError` gives the estimate for the data at hand.
 * Source: after Bode (1945), chapter 14.
 * @example
 * ```ts
 * import { frequencyResponse, minimumPhase, phaseDegrees } from "dividing-network/response";
 * import { logGrid } from "dividing-network/numeric";
 *
 * const f = logGrid(10, 100000, 193);
 * const magnitude = f.map((hz) => 1 / Math.hypot(1, hz / 1000));
 * const response = minimumPhase(frequencyResponse(f, magnitude, f.map(() => 0)));
 * phaseDegrees(response)[96]; // -45.00
 * ```
 */
export function minimumPhase(response: FrequencyResponse, options?: MinimumPhaseOptions): FrequencyResponse {
  return compute("minimumPhase", response, options).response;
}

/**
 * `minimumPhase` with an estimate of its error in degrees, the continuation that was assumed and the length of transform that
 * the data asked for.
 *
 * The error has three parts. Sampling: the transform's uppermost octave, continued as it falls. Interpolation, where
 * frequencies are not spaced evenly on a logarithmic axis. The ends: a doubt δ (in orders) of the slope beyond an end,
 * which turns the phase by $\delta\,\frac{2}{\pi}\chi_2(e^{-|\ln(f/f_{end})|})$ with Legendre's χ₂: 45° · δ at the end, 19° · δ
 * one octave and 9° · δ two octaves inside; δ comes from the roll-off that was fitted: what its own residual leaves open, and what other
 * roll-offs that fit about as well would give. Without one it is half the bend between the data's slope and the one that was assumed, or,
 * where neither a whole order nor a stated one is at hand, the distance to the next whole order, and half an order where nothing fits. What
 * a response really does beyond its data no estimate can know: a corner that leaves no trace in the data is in none of these.
 *
 * @param response a response of at least 4 frequencies above 0 Hz; only its magnitude is used
 * @param options what is known beyond the ends: slopes in dB per octave, corners in Hz
 * @returns the response in the input's unit, the estimated error in degrees (one per frequency), slopes in dB per octave
 * @throws DividingNetworkError `invalid-response`, `missing-tail`
 * Source: after Bode (1945), chapter 14.
 * @example
 * ```ts
 * import { frequencyResponse, minimumPhaseWithError } from "dividing-network/response";
 * import { logGrid } from "dividing-network/numeric";
 *
 * const f = logGrid(10, 100000, 193);
 * const magnitude = f.map((hz) => 1 / Math.hypot(1, hz / 1000));
 * minimumPhaseWithError(frequencyResponse(f, magnitude, f.map(() => 0))).highSlope; // 6
 * ```
 */
export function minimumPhaseWithError(response: FrequencyResponse, options?: MinimumPhaseOptions): MinimumPhaseResult {
  const { response: found, low, high, error, points } = compute("minimumPhaseWithError", response, options);
  const errorDegrees = found.frequencies.map((frequency) => error + endError(frequency, low) + endError(frequency, high));
  const result = { response: found, errorDegrees, lowSlope: 0 - 6 * low.finalSlope, highSlope: 0 - 6 * high.finalSlope, points };
  return Object.freeze(shown<MinimumPhaseResult>(result, minimumPhaseViews));
}

function compute(caller: string, given: FrequencyResponse, options: MinimumPhaseOptions | undefined) {
  const response = checkResponse(caller, "response", given);
  const { lowSlope, lowCorner, lowQ, highSlope, highCorner, highQ } = checkOptions(caller, options, optionNames);
  const corner = (name: string, value: Frequency | undefined): number | undefined =>
    value === undefined ? undefined : inSi(caller, name, value, "Hz", { above: 0 });
  const { frequencies, re, im } = response;
  const n = frequencies.length;
  const band = usableBand(response);
  const first = frequencies[band.first] === 0 ? band.first + 1 : band.first;
  const { last } = band;
  if (last - first < 3) {
    throw new DividingNetworkError(
      "invalid-response",
      `${caller}: "response" must have at least 4 frequencies above 0 Hz that hold data, got ${Math.max(0, last - first + 1)}`,
    );
  }
  for (const [cut, slope, end] of [
    [band.cutLow, lowSlope, "low"],
    [band.cutHigh, highSlope, "high"],
  ] as const) {
    if (cut && slope === undefined) {
      throw new DividingNetworkError(
        "missing-tail",
        `${caller}: "${end}Slope" must be given for data that end at ${frequencies[end === "low" ? first : last]!.toPrecision(4)} Hz (marked as no data beyond)`,
        end === "low"
          ? "State the enclosure's order: lowSlope 12 for a closed box, 24 for a vented one"
          : "State the fall in dB per octave beyond the data",
      );
    }
  }
  const size = last - first + 1;
  const outRe = new Float64Array(n);
  const outIm = new Float64Array(n);
  const [x, level] = workSpace(size);
  for (let i = 0; i < size; i++) {
    const k = first + i;
    const square = re[k]! * re[k]! + im[k]! * im[k]!;
    const magnitude = square > 1e-290 && square < 1e290 ? Math.sqrt(square) : Math.hypot(re[k]!, im[k]!);
    outRe[k] = magnitude;
    if (magnitude === 0) {
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: the magnitude must be above 0, got 0 at ${frequencies[k]!} Hz`,
        "A perfect null has no minimum phase; smooth the response or leave the frequency out",
      );
    }
  }
  naturalLogarithms(frequencies.subarray(first, last + 1), x);
  naturalLogarithms(outRe.subarray(first, last + 1), level);
  const low = fitTail(caller, x, level, -1, { slope: lowSlope, corner: corner("lowCorner", lowCorner), q: lowQ, cut: band.cutLow });
  const high = fitTail(caller, x, level, 1, { slope: highSlope, corner: corner("highCorner", highCorner), q: highQ, cut: band.cutHigh });
  const { phaseAt, error, points } = logAxisPhase(x, level, low, high, outRe.subarray(first, last + 1), outIm.subarray(first, last + 1));
  fillOutside(frequencies, first, last, low, high, phaseAt, outRe, outIm);
  if (frequencies[0] === 0 && band.first === 0) outRe[0] = Math.hypot(re[0]!, im[0]!);
  const mark: Mark = Object.freeze({
    kind: "model",
    note: `phase computed as minimum phase from the magnitude, taken to fall by ${slopeText(low)} below and ${slopeText(high)} above the data`,
  });
  return Object.freeze({
    response: freezeResponse(frequencies, outRe, outIm, [...(response.marks ?? []), mark]),
    low,
    high,
    error: (error * 180) / Math.PI,
    points,
  });
}

// ln f and ln |H| are needed during one call only; fresh pages for them would cost a third of the time.
let kept: readonly [Float64Array, Float64Array] | undefined;

function workSpace(size: number): readonly [Float64Array, Float64Array] {
  if (size > 2 ** 17) return [new Float64Array(size), new Float64Array(size)];
  if (kept === undefined || kept[0].length < size) kept = [new Float64Array(size), new Float64Array(size)];
  return [kept[0].subarray(0, size), kept[1].subarray(0, size)];
}

function slopeText({ finalSlope, stated }: Tail): string {
  return `${Math.round(-60 * finalSlope) / 10} dB per octave (${stated ? "stated" : "from the data"})`;
}

// Beyond the data: the assumed continuation, magnitude and phase.
function fillOutside(
  frequencies: Float64Array,
  first: number,
  last: number,
  low: Tail,
  high: Tail,
  phaseAt: (x: number) => number,
  outRe: Float64Array,
  outIm: Float64Array,
): void {
  for (let k = 0; k < frequencies.length; k++) {
    if ((k >= first && k <= last) || frequencies[k] === 0) continue;
    const x = Math.log(frequencies[k]!);
    const magnitude = Math.exp(k < first ? tailLevel(low, low.edge - x) : tailLevel(high, x - high.edge));
    const phase = phaseAt(x);
    outRe[k] = magnitude * Math.cos(phase);
    outIm[k] = magnitude * Math.sin(phase);
  }
}

// Legendre's χ₂ at e^(−|ln(f/edge)|), times the doubt; degrees.
function endError(frequency: number, { edge, doubt }: Tail): number {
  if (doubt === 0 || frequency <= 0) return 0;
  const z = Math.exp(-Math.abs(Math.log(frequency) - edge));
  let sum = 0;
  let power = z;
  for (let k = 1; k < 60 && power > 1e-6; k += 2, power *= z * z) sum += power / (k * k);
  return (doubt * 2 * sum * 180) / (Math.PI * Math.PI);
}
