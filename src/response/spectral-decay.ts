import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { LongWorkOptions, WindowShape } from "../numeric";
import { halfWindow, log10Modulus, reportProgress } from "../numeric/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { arrivalTime } from "./arrival-time";
import { checkedGrid } from "./checked-grid";
import { checkImpulse, freezeImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";
import { responseFromImpulse } from "./response-from-impulse";

/** Levels over frequency and time. */
export interface DecayMap {
  /** Hz, length n. */
  readonly frequencies: Float64Array;
  /** Length m: s after the direct sound, or periods of each frequency, as the function says. */
  readonly times: Float64Array;
  /** m arrays of n levels in dB; −∞ for none. */
  readonly levelsDb: readonly Float64Array[];
  /** m arrays of n marks, dimensionless: 1 where the fall from here to the next mark of 1 is the driver's, 0 where it is made by a window or by the end of the data. */
  readonly trusted: readonly Uint8Array[];
}

/** What closes over the last third of the duration must hold less than this of a slice's amplitude, dimensionless (−34 dB). */
const LEFT_TO_CLOSE = 0.02;

/** How a cumulative spectral decay is made. */
export interface SpectralDecayOptions extends LongWorkOptions {
  /** Hz, ascending. */
  readonly frequencies: ArrayLike<number>;
  /** s or text: from the direct sound to where the data end, at most to the first reflection. */
  readonly duration: Time;
  /** Number of slices, 2 to 1000; default 30. */
  readonly slices?: number | undefined;
  /** s, when the direct sound arrives; default `arrivalTime`. */
  readonly arrival?: Time | undefined;
  /** s over which each slice's window opens; default 1/20 of the duration. */
  readonly rise?: Time | undefined;
  /** Shape in which it opens, and closes over the last third of the duration; default `"hann"`. */
  readonly shape?: WindowShape | undefined;
}

/**
 * Cumulative spectral decay: levels in dB of what an impulse response still holds after each of a series of times. Slice i leaves out everything
 * before its start, so the first is the frequency response of the gated impulse and later ones show what rings.
 *
 * $$L(f, \tau) = 20 \lg \left| \sum_n w_\tau(t_n)\, x_n\, e^{-j 2 \pi f t_n} \right|$$
 *
 * A slice that has T − τ left to look at says nothing below 1/(T − τ), and that limit rises from slice to slice: levels there are the
 * window's, not the driver's, and are given as −∞.
 *
 * Two windows fall on their own. Until `rise` after the direct sound, slices open into the silence before it. And what rings on into the last
 * third of the duration is cut off there, however slowly the driver itself falls: a driver of τ = 4 ms seen for 10 ms falls by 2,400 dB/s and then by more and more,
 * to 10,000, where its own is 2,171. `trusted` is 1 where neither counts: from `rise` on, while a slice stands 34 dB above the one that begins
 * where the window begins to close. There the levels of one resonance keep the driver's own fall to 0.4 dB, and its rate over the trusted slices to
 * 3 %, when `rise` is a period or more (the rectangular shape opens all at once: its levels ripple by 2 dB). A second resonance that rings beyond the
 * duration, weaker than those 34 dB, isn't seen. Where nothing is trusted the duration is too short for the driver: it must last six time constants or more.
 *
 * @param impulse samples over time
 * @param options `frequencies` in Hz, `duration`, `arrival` and `rise` in s, `slices` dimensionless
 * @returns levels in dB re 1 in the unit of the samples; times in s after the direct sound; `trusted`, 0 or 1 (dimensionless)
 * @throws DividingNetworkError `invalid-impulse`, `invalid-argument`, `outside-impulse`, `too-large`, `aborted`
 * @example
 * ```ts
 * import { cumulativeSpectralDecay, impulseResponse } from "dividing-network/response";
 *
 * const ring = impulseResponse(Array.from({ length: 600 }, (_, n) => Math.exp(-n / 48) * Math.cos((2 * Math.PI * n) / 24)), { sampleRate: 48000 });
 * const { levelsDb, trusted } = cumulativeSpectralDecay(ring, { frequencies: [2000], duration: "10 ms", slices: 10, arrival: 0 });
 * levelsDb[1][0] - levelsDb[2][0]; // 8.7
 * trusted.map((slice) => slice[0]).join(""); // "0110000000"
 * ```
 */
export function cumulativeSpectralDecay(impulse: ImpulseResponse, options: SpectralDecayOptions): DecayMap {
  const caller = "cumulativeSpectralDecay";
  const { samples, sampleRate, startTime } = checkImpulse(caller, "impulse", impulse);
  const given = checkOptions(caller, options, ["frequencies", "duration", "slices", "arrival", "rise", "shape", "onProgress", "signal"]);
  const frequencies = checkedGrid(caller, given.frequencies);
  const duration = inSi(caller, "duration", given.duration, "s", { above: 0 });
  const slices = checkNumber(caller, "slices", given.slices ?? 30, { min: 2, max: 1000, integer: true });
  const arrival = given.arrival === undefined ? arrivalTime(impulse) : inSi(caller, "arrival", given.arrival, "s", { min: -1e6, max: 1e6 });
  const rise = given.rise === undefined ? duration / 20 : inSi(caller, "rise", given.rise, "s", { min: 0, max: duration });
  const shape = checkOneOf(caller, "shape", given.shape ?? "hann", ["rectangular", "hann", "blackman", "blackman-harris"]);
  const first = Math.max(0, Math.ceil((arrival - rise - startTime) * sampleRate - 1e-9));
  const last = Math.floor((arrival + duration - startTime) * sampleRate + 1e-9);
  if (last >= samples.length || first > last) {
    throw new DividingNetworkError(
      "outside-impulse",
      `${caller}: "duration" must end within the samples, ${startTime + (samples.length - 1) / sampleRate} s, got ${arrival + duration} s`,
    );
  }
  if (frequencies.length * (last - first + 1) * (slices + 1) > 1e9) {
    throw new DividingNetworkError(
      "too-large",
      `${caller}: frequencies × samples × slices must be at most 1e9, got ${frequencies.length} × ${last - first + 1} × ${slices + 1}`,
    );
  }
  const sliceFrom = (tau: number): Float64Array => {
    const out = samples.slice(first, last + 1);
    for (let n = 0; n < out.length; n++) {
      const t = startTime + (first + n) / sampleRate - arrival;
      out[n]! *= t < tau ? (rise > 0 ? halfWindow(shape, (tau - t) / rise) : 0) : halfWindow(shape, Math.max(0, 3 * (t / duration) - 2));
    }
    const { re, im } = responseFromImpulse(freezeImpulse(out, sampleRate, startTime + first / sampleRate), { frequencies });
    return re.map((value, k) => 20 * log10Modulus(value, im[k]!));
  };
  const times = Float64Array.from({ length: slices }, (_, i) => (i * duration) / slices);
  const leastDb = sliceFrom((2 * duration) / 3).map((level) => level - 20 * Math.log10(LEFT_TO_CLOSE));
  const levelsDb: Float64Array[] = [];
  const trusted: Uint8Array[] = [];
  for (const [i, tau] of times.entries()) {
    reportProgress(caller, given, i, slices);
    const levels = sliceFrom(tau).map((level, k) => (frequencies[k]! * (duration - tau) < 1 ? -Infinity : level));
    levelsDb.push(levels);
    // Once what is left counts, it does so to the end: beats don't make the window's fall the driver's again.
    trusted.push(
      Uint8Array.from(levels, (level, k) =>
        tau >= rise && level > leastDb[k]! && (trusted[i - 1]?.[k] === 1 || !(times[i - 1]! >= rise)) ? 1 : 0,
      ),
    );
  }
  return Object.freeze({ frequencies, times, levelsDb: Object.freeze(levelsDb), trusted: Object.freeze(trusted) });
}
