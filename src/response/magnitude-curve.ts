import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import { log10Modulus, modulus } from "../numeric/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { writeValue } from "./interpolant";

/** Points looked at in each interval between two samples: between them the interpolation turns at most as often as a cubic. */
const PER_INTERVAL = 8;

/** The magnitude of a response over a band, as a curve that can be asked anywhere. */
export interface MagnitudeCurve {
  /** Hz, ascending: the samples and points between them, from one edge of the band to the other. */
  readonly frequencies: Float64Array;
  /** 20 lg of the magnitude there. */
  readonly db: Float64Array;
  readonly dbAt: (frequency: number) => number;
  readonly magnitudeAt: (frequency: number) => number;
}

/** Lays the magnitude out over a band (Hz; the ends of the samples above 0 Hz where an edge isn't given). */
export function magnitudeCurve(
  caller: string,
  response: unknown,
  band: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined },
): MagnitudeCurve {
  const own = checkResponse(caller, "response", response);
  const { from, to } = edges(caller, own, band);
  const re = new Float64Array(1);
  const im = new Float64Array(1);
  const dbAt = (frequency: number): number => {
    writeValue(caller, own, undefined, frequency, re, im, 0);
    return 20 * log10Modulus(re[0]!, im[0]!);
  };
  const magnitudeAt = (frequency: number): number => {
    writeValue(caller, own, undefined, frequency, re, im, 0);
    return modulus(re[0]!, im[0]!);
  };
  const corners = [from, ...own.frequencies.filter((f) => f > from && f < to), to];
  const frequencies = new Float64Array((corners.length - 1) * PER_INTERVAL + 1);
  for (let i = 0; i + 1 < corners.length; i++) {
    const [low, high] = [corners[i]!, corners[i + 1]!];
    for (let k = 0; k < PER_INTERVAL; k++)
      frequencies[i * PER_INTERVAL + k] = k === 0 ? low : Math.min(high, low * (high / low) ** (k / PER_INTERVAL));
  }
  frequencies[frequencies.length - 1] = to;
  return { frequencies, db: frequencies.map(dbAt), dbAt, magnitudeAt };
}

function edges(
  caller: string,
  { frequencies }: FrequencyResponse,
  band: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined },
): { readonly from: number; readonly to: number } {
  const given = checkOptions(caller, band, ["from", "to"]);
  const lowest = frequencies[frequencies[0] === 0 && frequencies.length > 1 ? 1 : 0]!;
  const highest = frequencies.at(-1)!;
  const from = given.from === undefined ? lowest : inSi(caller, "from", given.from, "Hz", { above: 0 });
  const to = given.to === undefined ? highest : inSi(caller, "to", given.to, "Hz", { above: 0 });
  if (!(from >= frequencies[0]! && to <= highest && from < to)) {
    throw new DividingNetworkError(
      from < to ? "outside-band" : "invalid-argument",
      `${caller}: the band must be two frequencies in ascending order within the response's samples, ${lowest} Hz to ${highest} Hz, got ${from} Hz to ${to} Hz`,
      "Ask within that band: nothing is extrapolated",
    );
  }
  return { from, to };
}

/** One place where a curve turns, by index of its points. */
export interface Turn {
  readonly kind: "minimum" | "maximum";
  readonly index: number;
}

/** The turns of a curve that it leaves by more than so many dB on either side, in ascending order; never an end. */
export function turnsOf(db: Float64Array, leastDb: number): Turn[] {
  const turns: Turn[] = [];
  let [high, low, direction] = [0, 0, 0];
  for (let i = 1; i < db.length; i++) {
    if (db[i]! > db[high]!) high = i;
    if (db[i]! < db[low]!) low = i;
    if (direction >= 0 && db[i]! < db[high]! - leastDb) {
      if (direction > 0) turns.push({ kind: "maximum", index: high });
      [direction, low] = [-1, i];
    } else if (direction <= 0 && db[i]! > db[low]! + leastDb) {
      if (direction < 0) turns.push({ kind: "minimum", index: low });
      [direction, high] = [1, i];
    }
  }
  return turns;
}

/** The golden section, (√5 − 1)/2. */
const GOLDEN = 0.6180339887498949;

/** Hz: where the curve is lowest (`sign` 1) or highest (−1) next to one of its points, by golden sections of the logarithm. */
export function refined({ frequencies, db, dbAt }: MagnitudeCurve, index: number, sign: 1 | -1): number {
  if (index === 0 || index === frequencies.length - 1) return frequencies[index]!;
  let [low, high] = [Math.log(frequencies[index - 1]!), Math.log(frequencies[index + 1]!)];
  // The square root of the rounding is as near as values of a smooth curve can tell.
  while (high - low > 1e-9) {
    const [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    if (sign * dbAt(Math.exp(a)) <= sign * dbAt(Math.exp(b))) high = b;
    else low = a;
  }
  const found = Math.exp((low + high) / 2);
  return sign * dbAt(found) < sign * db[index]! ? found : frequencies[index]!;
}
