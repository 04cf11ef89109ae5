import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { checkAir } from "../physics/internal";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { overlapOf, residuals, searchDelays, type OffsetPoint } from "./offset-search";
import type { NullDepth, RelativeOffset, RelativeOffsetOptions } from "./relative-offset-data";
import { checkSameGrid } from "./same-grid";
import { unitTurn } from "./unit-turn";

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
  const found = searchDelays(points, reach, count, signs);
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

/** The dip that a polarity makes at a delay. */
function deepest(points: readonly OffsetPoint[], tau: number, sign: 1 | -1, c: number): NullDepth {
  let depthDb = -Infinity;
  let frequency = 0;
  for (const { f, a, b, turns } of points) {
    const [cos] = unitTurn(turns - f * tau);
    const depth = 20 * Math.log10((a + b) / Math.max(1e-15, Math.sqrt(Math.max(0, a * a + b * b + 2 * sign * a * b * cos))));
    if (depth > depthDb) [depthDb, frequency] = [depth, f];
  }
  return Object.freeze({ offset: tau * c, frequency, depthDb });
}
