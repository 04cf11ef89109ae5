import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Frequency, Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { divideResponses } from "./arithmetic";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { minimumPhase, type MinimumPhaseOptions } from "./minimum-phase";
import { unitTurn } from "./unit-turn";

/**
 * What a response has beyond its minimum phase: an all-pass of magnitude 1 (dimensionless), in whose phase are the flight of the sound and any
 * crossover or reflection that is not minimum-phase.
 *
 * $$H_{excess} = H / H_{min}$$
 *
 * @param response a response with its measured phase
 * @param options those of `minimumPhase`
 * @returns dimensionless values of magnitude 1 at the same frequencies
 * @throws DividingNetworkError as `minimumPhase`
 * @example
 * ```ts
 * import { delayResponse, excessPhase, frequencyResponse, phaseDegrees } from "dividing-network/response";
 *
 * const late = delayResponse(frequencyResponse([100, 200, 400, 800, 1600], [1, 1, 1, 1, 1], [0, 0, 0, 0, 0]), 0.0001);
 * phaseDegrees(excessPhase(late)); // [-3.6, -7.2, -14.4, -28.8, -57.6]
 * ```
 */
export function excessPhase(response: FrequencyResponse, options?: MinimumPhaseOptions): FrequencyResponse {
  return divideResponses(checkResponse("excessPhase", "response", response), minimumPhase(response, options));
}

/** A delay with its standard uncertainty. */
export interface AcousticDelay {
  /** s */
  readonly delay: number;
  /** s: one standard deviation, from what the delay leaves unexplained; points taken as independent. */
  readonly uncertainty: number;
  /** Degrees: standard deviation of the phase that is left. */
  readonly residualDegrees: number;
}

/**
 * Acoustic delay of a driver in seconds, with its uncertainty: the delay that best explains its excess phase in a band.
 *
 * Choose the band where the driver is level: the minimum phase is surest there. The delay is first found by the strongest sum
 * of $H_{excess}(f)\, e^{j 2 \pi f \tau}$ over the band, so that phase which wraps between points does no harm, and then
 * by least squares.
 *
 * @param response a response with its measured phase, at least 4 points in the band
 * @param options `from` and `to` of the band in Hz; `longest` delay looked for, s, default 0.1, as far as −`longest`/10; and those of `minimumPhase`
 * @returns the delay in s
 * @throws DividingNetworkError `outside-band`, `too-large` when the search would take more than 2·10⁸ steps, `overflow`, and as `minimumPhase`
 * @example
 * ```ts
 * import { acousticDelay, delayResponse, frequencyResponse } from "dividing-network/response";
 * import { logGrid } from "dividing-network/numeric";
 *
 * const f = logGrid(100, 10000, 97);
 * const late = delayResponse(frequencyResponse(f, f.map(() => 1), f.map(() => 0)), "2.914 ms");
 * acousticDelay(late).delay; // 0.002914
 * ```
 */
export function acousticDelay(
  response: FrequencyResponse,
  options?: MinimumPhaseOptions & {
    readonly from?: Frequency | undefined;
    readonly to?: Frequency | undefined;
    readonly longest?: Time | undefined;
  },
): AcousticDelay {
  const caller = "acousticDelay";
  const {
    from,
    to,
    longest = 0.1,
    ...tails
  } = checkOptions(caller, options, ["from", "to", "longest", "lowSlope", "lowCorner", "lowQ", "highSlope", "highCorner", "highQ"]);
  const low = from === undefined ? 0 : inSi(caller, "from", from, "Hz");
  const high = to === undefined ? Infinity : inSi(caller, "to", to, "Hz", { above: low });
  const reach = inSi(caller, "longest", longest, "s", { above: 0, max: 10 });
  const all = excessPhase(response, tails);
  const f: number[] = [];
  const phase: number[] = [];
  for (let k = 0; k < all.frequencies.length; k++) {
    if (all.frequencies[k]! < low || all.frequencies[k]! > high || all.frequencies[k] === 0) continue;
    f.push(all.frequencies[k]!);
    phase.push(Math.atan2(all.im[k]!, all.re[k]!) / (2 * Math.PI));
  }
  if (f.length < 4)
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: "response" must have at least 4 frequencies between "from" and "to", got ${f.length}`,
    );
  const highest = f[f.length - 1]!;
  const step = 1 / (8 * highest);
  const count = Math.ceil((1.1 * reach) / step);
  if (count * f.length > 2e8) {
    throw new DividingNetworkError(
      "too-large",
      `${caller}: the search must take at most 2e8 steps, got ${count * f.length}`,
      'Give a shorter "longest", or resample to fewer frequencies',
    );
  }
  // The real part of the sum: a constant phase is not explained by any delay.
  const sums = new Float64Array(count + 1);
  for (let k = 0; k < f.length; k++) {
    const [stepRe, stepIm] = unitTurn(f[k]! * step);
    let [c, s] = unitTurn(phase[k]! - (f[k]! * reach) / 10);
    for (let i = 0; i <= count; i++) {
      sums[i]! += c;
      const next = c * stepRe - s * stepIm;
      s = c * stepIm + s * stepRe;
      c = next;
    }
  }
  let best = sums.indexOf(sums.reduce((most, value) => Math.max(most, value))) * step - reach / 10;
  for (let pass = 0; pass < 20; pass++) {
    let top = 0;
    let bottom = 0;
    for (let k = 0; k < f.length; k++) {
      const turns = phase[k]! + f[k]! * best;
      top += (f[k]! / highest) * (turns - Math.round(turns));
      bottom += (f[k]! / highest) ** 2;
    }
    best -= top / bottom / highest;
    if (Math.abs(top / bottom / highest) < 1e-13) break;
  }
  let left = 0;
  let bottom = 0;
  for (let k = 0; k < f.length; k++) {
    const turns = phase[k]! + f[k]! * best;
    left += (turns - Math.round(turns)) ** 2;
    bottom += (f[k]! / highest) ** 2;
  }
  const variance = left / (f.length - 1);
  const uncertainty = Math.sqrt(variance / bottom) / highest;
  if (!Number.isFinite(best) || !Number.isFinite(uncertainty)) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: the frequencies must be high enough for a delay that a number can hold, got up to ${highest} Hz`,
      "Give the frequencies in Hz",
    );
  }
  return Object.freeze({ delay: best, uncertainty, residualDegrees: 360 * Math.sqrt(variance) });
}
