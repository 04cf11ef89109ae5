import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { LongWorkOptions } from "../numeric";
import { log10Modulus, reportProgress } from "../numeric/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { arrivalTime } from "./arrival-time";
import { checkedGrid } from "./checked-grid";
import { checkImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";
import type { DecayMap } from "./spectral-decay";
import { unitScale } from "./unit-scale";

/** How a tone-burst decay is made. */
export interface ToneBurstOptions extends LongWorkOptions {
  /** Hz, ascending, above 0. */
  readonly frequencies: ArrayLike<number>;
  /** Periods shown after the direct sound, 1 to 200; default 30. */
  readonly periods?: number | undefined;
  /** Times per period, 1 to 16; default 2. */
  readonly stepsPerPeriod?: number | undefined;
  /** Periods in the burst, 1 to 64; default 4. */
  readonly cycles?: number | undefined;
  /** s, when the direct sound arrives; default `arrivalTime`. */
  readonly arrival?: Time | undefined;
}

const optionNames = ["frequencies", "periods", "stepsPerPeriod", "cycles", "arrival", "onProgress", "signal"];

/**
 * Envelope in dB of the response to a short tone burst at each frequency, over time counted in periods of that frequency: resonances of one Q
 * decay alike at all frequencies, and the same number of periods is looked at in the bass and in the treble.
 *
 * $$e(f, t) = \left| \sum_n x_n\, w(t - t_n)\, e^{-j 2 \pi f t_n} \right|$$
 *
 * with w a raised cosine of `cycles` periods, of height 1, centred on time zero (summed over samples). 0 periods is the centre of the burst's arrival. The burst
 * itself, centred on 0, ends at `cycles`/2 periods; what is later is the driver's
 * until the burst reaches the end of the samples, and `trusted` is 1 there. Its spectrum is ±2/`cycles` of the frequency wide.
 *
 * @param impulse samples over time; taken as zero where it has none
 * @param options `frequencies` in Hz, `periods`, `stepsPerPeriod` and `cycles` dimensionless, `arrival` in s
 * @returns levels in dB re 1 in the unit of the samples; times in periods of each frequency; `trusted`, 0 or 1 (dimensionless)
 * @throws DividingNetworkError `invalid-impulse`, `invalid-argument`, `too-large`, `aborted`
 * @example
 * ```ts
 * import { impulseResponse, toneBurstDecay } from "dividing-network/response";
 *
 * const click = impulseResponse([0, 0, 1, 0, 0], { sampleRate: 48000 });
 * toneBurstDecay(click, { frequencies: [1000], periods: 4, arrival: 2 / 48000 }).levelsDb.map((row) => row[0])[5]; // -Infinity
 * ```
 */
export function toneBurstDecay(impulse: ImpulseResponse, options: ToneBurstOptions): DecayMap {
  const caller = "toneBurstDecay";
  const { samples, sampleRate, startTime } = checkImpulse(caller, "impulse", impulse);
  const given = checkOptions(caller, options, optionNames);
  const frequencies = checkedGrid(caller, given.frequencies);
  checkNumber(caller, "frequencies", frequencies[0], { above: 0, unit: "Hz" });
  checkNumber(caller, "frequencies", frequencies[frequencies.length - 1], { max: sampleRate / 2, unit: "Hz" });
  const periods = checkNumber(caller, "periods", given.periods ?? 30, { min: 1, max: 200 });
  const perPeriod = checkNumber(caller, "stepsPerPeriod", given.stepsPerPeriod ?? 2, { min: 1, max: 16, integer: true });
  const cycles = checkNumber(caller, "cycles", given.cycles ?? 4, { min: 1, max: 64 });
  const arrival = given.arrival === undefined ? arrivalTime(impulse) : inSi(caller, "arrival", given.arrival, "s", { min: -1e6, max: 1e6 });
  const scale = unitScale(samples);
  const scaleDb = 20 * Math.log10(scale);
  const times = Float64Array.from({ length: Math.floor(periods * perPeriod) + 1 }, (_, i) => i / perPeriod);
  const work = frequencies.reduce((sum, f) => sum + Math.min(samples.length, (cycles * sampleRate) / f), 0) * times.length;
  if (work > 1e9)
    throw new DividingNetworkError(
      "too-large",
      `${caller}: the work must be at most 1e9 products, got ${work.toPrecision(3)}`,
      "Ask for fewer frequencies or periods",
    );
  const levelsDb = Array.from(times, () => new Float64Array(frequencies.length));
  const trusted = Array.from(times, () => new Uint8Array(frequencies.length));
  // The first sample that isn't there may stand where the burst ends, with weight 0.
  const end = startTime + (samples.length + 1e-9) / sampleRate;
  for (let k = 0; k < frequencies.length; k++) {
    reportProgress(caller, given, k, frequencies.length);
    const f = frequencies[k]!;
    const half = cycles / (2 * f);
    for (let i = 0; i < times.length; i++) {
      const centre = arrival + times[i]! / f;
      const first = Math.max(0, Math.ceil((centre - half - startTime) * sampleRate));
      const last = Math.min(samples.length - 1, Math.floor((centre + half - startTime) * sampleRate));
      let re = 0;
      let im = 0;
      for (let n = first; n <= last; n++) {
        const t = startTime + n / sampleRate - centre;
        const weighted = (samples[n]! / scale) * (1 + Math.cos((Math.PI * t) / half));
        re += weighted * Math.cos(2 * Math.PI * f * t);
        im += weighted * Math.sin(2 * Math.PI * f * t);
      }
      // The window's largest value, so that a click of 1 reads 0 dB at its own time.
      levelsDb[i]![k] = 20 * log10Modulus(re / 2, im / 2) + scaleDb;
      trusted[i]![k] = times[i]! >= cycles / 2 && centre + half <= end ? 1 : 0;
    }
  }
  return Object.freeze({ frequencies, times, levelsDb: Object.freeze(levelsDb), trusted: Object.freeze(trusted) });
}

/** When a frequency has decayed. */
export interface DecayTime {
  /** Hz */
  readonly frequency: number;
  /** Periods and s after the direct sound; the last time at which the level was above the limit. Undefined when it had not decayed by the end. */
  readonly periods: number | undefined;
  /** s after the direct sound; undefined like `periods`. */
  readonly seconds: number | undefined;
}

/**
 * Time to fall by a stated number of dB, by frequency, in periods and in seconds: how long after the direct sound the response to a tone burst was
 * last above its largest level less `fallDb`.
 *
 * The burst alone takes part of it: a click is 20 dB down after 0.4 × `cycles` periods.
 *
 * @param impulse samples over time
 * @param options those of `toneBurstDecay`, and `fallDb` in dB, default 20
 * @returns one decay time per frequency: Hz, periods, s
 * @throws DividingNetworkError as `toneBurstDecay`
 * @example
 * ```ts
 * import { decayTimes, impulseResponse } from "dividing-network/response";
 *
 * const click = impulseResponse([0, 0, 1, 0, 0], { sampleRate: 48000 });
 * decayTimes(click, { frequencies: [1000], periods: 4, stepsPerPeriod: 16, arrival: 2 / 48000 })[0].periods; // 1.59
 * ```
 */
export function decayTimes(
  impulse: ImpulseResponse,
  options: ToneBurstOptions & { readonly fallDb?: number | undefined },
): readonly DecayTime[] {
  const { fallDb = 20, ...rest } = checkOptions("decayTimes", options, [...optionNames, "fallDb"]);
  checkNumber("decayTimes", "fallDb", fallDb, { above: 0, max: 200, unit: "dB" });
  const { frequencies, times, levelsDb } = toneBurstDecay(impulse, rest);
  return Object.freeze(
    Array.from(frequencies, (frequency, k) => {
      const levels = levelsDb.map((row) => row[k]!);
      const limit = levels.reduce((most, level) => Math.max(most, level), -Infinity) - fallDb;
      let i = levels.length - 1;
      while (i > 0 && levels[i]! < limit) i--;
      if (i === levels.length - 1) return Object.freeze({ frequency, periods: undefined, seconds: undefined });
      const share = levels[i + 1] === -Infinity ? 0 : (levels[i]! - limit) / (levels[i]! - levels[i + 1]!);
      const periods = times[i]! + share * (times[i + 1]! - times[i]!);
      return Object.freeze({ frequency, periods, seconds: periods / frequency });
    }),
  );
}
