import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import type { Frequency, Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { checkSameGrid } from "./same-grid";
import { unitTurn } from "./unit-turn";

/** Three measurements at one microphone position, and how to read them. */
export interface RelativeOffsetOptions {
  /** One driver alone: its `minimumPhase`, or measured on one time zero with `second` (the offset is then what remains beyond that). */
  readonly first: FrequencyResponse;
  /** The other driver alone, same drive. */
  readonly second: FrequencyResponse;
  /** Both together; only its magnitude is used. */
  readonly both: FrequencyResponse;
  /** Hz: the band that is fitted, where both drivers are heard; default the whole. */
  readonly from?: Frequency | undefined;
  /** Hz: the upper end of the same band. */
  readonly to?: Frequency | undefined;
  /** How `second` was connected when both played; `"either"` (default) finds out. */
  readonly polarity?: "same" | "reversed" | "either" | undefined;
  /** m: largest offset looked for in either direction, default 0.3. */
  readonly largestOffset?: Length | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/** Depth of the dip that one polarity makes, for one offset. */
export interface NullDepth {
  /** m: offset for which it is computed. */
  readonly offset: number;
  /** Hz: where the dip is deepest. */
  readonly frequency: number;
  /** dB: level of the sum below the sum of the magnitudes there; positive. */
  readonly depthDb: number;
}

/** How much later one driver's sound arrives than the other's. */
export interface RelativeOffset {
  /** s: delay of `second` beyond what its own phase holds; positive when it is farther away. */
  readonly delay: number;
  /** m: the same as a distance. */
  readonly offset: number;
  /** s and m: one standard deviation, from the misfit; points taken as independent. */
  readonly delayUncertainty: number;
  /** m: the same as a distance. */
  readonly offsetUncertainty: number;
  /** How `second` was connected when both played. */
  readonly polarity: "same" | "reversed";
  /** Share, root mean square: misfit of the sum's magnitude re the louder driver. */
  readonly misfit: number;
  /** The next best answer, about a whole period away or of the other polarity: offset in m, and how many times larger its misfit is. Near 1 the two cannot be told apart. */
  readonly runnerUp:
    | {
        /** m. */
        readonly offset: number;
        /** The polarity that goes with it. */
        readonly polarity: "same" | "reversed";
        /** Its misfit over that of the answer, dimensionless. */
        readonly misfitRatio: number;
      }
    | undefined;
  /** The deepest dip of the opposite polarity at the offset found, and 5 mm before and behind it. */
  readonly nulls: readonly [atMinus5mm: NullDepth, atOffset: NullDepth, atPlus5mm: NullDepth];
}

const optionNames = ["first", "second", "both", "from", "to", "polarity", "largestOffset", "air"];

/**
 * The relative acoustic offset of two drivers, in metres and seconds with its uncertainty, from three measurements at one
 * microphone position: each driver alone and both together.
 *
 * The delay τ is the one that makes
 * $$|P_1 + P_2\, e^{-j 2\pi f \tau}|$$
 * match the magnitude of the sum best, by least squares of the misfit re the louder driver; the uncertainty follows from the misfit that
 * is left and how fast it grows with τ. All periods within `largestOffset` are searched, the next best one is reported. The
 * magnitude of a sum leaves some questions open: drivers in phase with each other at every frequency leave the sign of the offset open, drivers in
 * quadrature (first-order slopes) leave open whether it is the sign or the polarity. The next best answer then fits as well, and is
 * reported: state `polarity` where it is known. The null of the other polarity tells how sharply the offset is known: it is given at the offset found and at ±5 mm.
 *
 * @param options the three responses (same frequencies, same drive), the band in Hz, `largestOffset` in m
 * @returns delay in s, offset in m, their uncertainties, null depths in dB
 * @throws DividingNetworkError `grid-mismatch`, `outside-band`, `invalid-argument`; `undetermined` when the drivers do not overlap; `too-large` when the search
 *   would take more than 10⁸ steps; `overflow`
 * Validity: one microphone position; the offset includes what differs in the drivers' own delays beyond minimum phase.
 * @example
 * ```ts
 * import { addResponses, delayResponse, relativeAcousticOffset, responseOf } from "dividing-network/response";
 * import { logGrid } from "dividing-network/numeric";
 *
 * const f = logGrid(1000, 5000, 60);
 * const pole = { re: -2 * Math.PI * 2500, im: 0 };
 * const woofer = responseOf({ zeros: [], poles: [pole], gain: 2 * Math.PI * 2500 }, f);
 * const tweeter = responseOf({ zeros: [{ re: 0, im: 0 }], poles: [pole], gain: 1 }, f);
 * const both = addResponses(woofer, delayResponse(tweeter, 0.00005));
 * relativeAcousticOffset({ first: woofer, second: tweeter, both, polarity: "same" }).offset; // 0.01716
 * ```
 */
export function relativeAcousticOffset(options: RelativeOffsetOptions): RelativeOffset {
  const caller = "relativeAcousticOffset";
  const given = checkOptions(caller, options, optionNames);
  const first = checkResponse(caller, "first", given.first);
  const second = checkResponse(caller, "second", given.second);
  const both = checkResponse(caller, "both", given.both);
  checkSameGrid(caller, first, second);
  checkSameGrid(caller, first, both);
  const low = given.from === undefined ? 0 : inSi(caller, "from", given.from, "Hz");
  const high = given.to === undefined ? Infinity : inSi(caller, "to", given.to, "Hz", { above: low });
  const polarity = checkOneOf(caller, "polarity", given.polarity ?? "either", ["same", "reversed", "either"]);
  const c = checkAir(caller, given.air).speedOfSound;
  const reach = inSi(caller, "largestOffset", given.largestOffset ?? 0.3, "m", { above: 0, max: 10 }) / c;
  const points = overlapOf(first, second, both, low, high);
  if (points.length < 4) {
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: the responses must have at least 4 frequencies above 0 Hz in the band, got ${points.length}`,
      'Widen the band from "from" to "to"',
    );
  }
  const signs: readonly (1 | -1)[] = polarity === "either" ? [1, -1] : [polarity === "same" ? 1 : -1];
  const count = Math.ceil(32 * reach * points[points.length - 1]!.f);
  if (!(count * points.length * signs.length <= 1e8)) {
    throw new DividingNetworkError(
      "too-large",
      `${caller}: the search must take at most 1e8 steps, got ${count * points.length * signs.length}`,
      'Give a shorter "largestOffset", narrow the band, or resample to fewer frequencies',
    );
  }
  const found = search(points, reach, count, signs);
  const best = found[0];
  if (best === undefined)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: there must be a delay within "largestOffset" that fits best, got none within ${reach} s`,
      "Look farther",
    );
  if (!Number.isFinite(best.squares)) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "both" must be of the size of "first" and "second", got a misfit that no number can hold`,
      "Give all three in one unit and at one drive",
    );
  }
  const { slopeSquares } = residuals(points, best.tau, best.sign);
  const variance = best.squares / Math.max(1, points.length - 1);
  // 10 mm must change the sum by a thousandth of the louder driver, root mean square.
  if (!(Math.sqrt(slopeSquares / points.length) * (0.01 / c) > 1e-3)) {
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: the sum must depend on the delay, but one driver drowns the other over the whole band`,
      "Choose a band around the frequency where both are equally loud",
    );
  }
  const delayUncertainty = Math.sqrt(variance / slopeSquares);
  const runnerUp = found.find((other) => other.sign !== best.sign || Math.abs(other.tau - best.tau) > 1e-9);
  const nullAt = (tau: number): NullDepth => deepest(points, tau, -best.sign as 1 | -1, c);
  return Object.freeze({
    delay: best.tau,
    offset: best.tau * c,
    delayUncertainty,
    offsetUncertainty: delayUncertainty * c,
    polarity: best.sign === 1 ? "same" : "reversed",
    misfit: Math.sqrt(best.squares / points.length),
    runnerUp:
      runnerUp === undefined
        ? undefined
        : Object.freeze({
            offset: runnerUp.tau * c,
            polarity: runnerUp.sign === 1 ? "same" : "reversed",
            misfitRatio: Math.sqrt(runnerUp.squares / Math.max(best.squares, 1e-300)),
          }),
    nulls: Object.freeze([nullAt(best.tau - 0.005 / c), nullAt(best.tau), nullAt(best.tau + 0.005 / c)] as const),
  });
}

/** One frequency: |P₁|, |P₂| and |sum| re the louder of the two, and the phase of P₂ against P₁ in turns. */
interface Point {
  readonly f: number;
  readonly a: number;
  readonly b: number;
  readonly sum: number;
  readonly turns: number;
}

function overlapOf(first: FrequencyResponse, second: FrequencyResponse, both: FrequencyResponse, low: number, high: number): Point[] {
  const points: Point[] = [];
  for (let k = 0; k < first.frequencies.length; k++) {
    const f = first.frequencies[k]!;
    const a = Math.hypot(first.re[k]!, first.im[k]!);
    const b = Math.hypot(second.re[k]!, second.im[k]!);
    const louder = Math.max(a, b);
    if (f < low || f > high || f === 0 || louder === 0) continue;
    const turns = (Math.atan2(second.im[k]!, second.re[k]!) - Math.atan2(first.im[k]!, first.re[k]!)) / (2 * Math.PI);
    points.push({ f, a: a / louder, b: b / louder, sum: Math.hypot(both.re[k]!, both.im[k]!) / louder, turns });
  }
  return points;
}

function residuals(points: readonly Point[], tau: number, sign: 1 | -1): { squares: number; slopeSquares: number; cross: number } {
  let squares = 0;
  let slopeSquares = 0;
  let cross = 0;
  for (const { f, a, b, sum, turns } of points) {
    const [cos, sin] = unitTurn(turns - f * tau);
    const model = Math.sqrt(Math.max(0, a * a + b * b + 2 * sign * a * b * cos));
    const residual = model - sum;
    // d|model| / dτ
    const slope = model > 1e-9 ? (sign * a * b * sin * 2 * Math.PI * f) / model : 0;
    squares += residual * residual;
    slopeSquares += slope * slope;
    cross += slope * residual;
  }
  return { squares, slopeSquares, cross };
}

// All minima of the misfit within the reach, looked for 16 times per period of the highest frequency, best first; each refined by Gauss–Newton steps that are halved until they help.
function search(
  points: readonly Point[],
  reach: number,
  count: number,
  signs: readonly (1 | -1)[],
): { tau: number; sign: 1 | -1; squares: number }[] {
  const found: { tau: number; sign: 1 | -1; squares: number }[] = [];
  for (const sign of signs) {
    const misfits = Array.from({ length: count + 1 }, (_, i) => residuals(points, -reach + (2 * reach * i) / count, sign).squares);
    for (let i = 0; i <= count; i++) {
      if ((misfits[i - 1] ?? Infinity) < misfits[i]! || (misfits[i + 1] ?? Infinity) < misfits[i]!) continue;
      let tau = -reach + (2 * reach * i) / count;
      let now = residuals(points, tau, sign);
      for (let round = 0; round < 50 && now.slopeSquares > 0; round++) {
        let change = -now.cross / now.slopeSquares;
        let next = residuals(points, tau + change, sign);
        for (let halvings = 0; halvings < 30 && next.squares > now.squares; halvings++) {
          change /= 2;
          next = residuals(points, tau + change, sign);
        }
        if (!(next.squares < now.squares)) break;
        tau += change;
        now = next;
        if (Math.abs(change) < 1e-13) break;
      }
      if (Math.abs(tau) <= reach * (1 + 1e-9)) found.push({ tau, sign, squares: now.squares });
    }
  }
  return found.sort((p, q) => p.squares - q.squares);
}

function deepest(points: readonly Point[], tau: number, sign: 1 | -1, c: number): NullDepth {
  let depthDb = -Infinity;
  let frequency = 0;
  for (const { f, a, b, turns } of points) {
    const [cos] = unitTurn(turns - f * tau);
    const depth = 20 * Math.log10((a + b) / Math.max(1e-15, Math.sqrt(Math.max(0, a * a + b * b + 2 * sign * a * b * cos))));
    if (depth > depthDb) [depthDb, frequency] = [depth, f];
  }
  return Object.freeze({ offset: tau * c, frequency, depthDb });
}
