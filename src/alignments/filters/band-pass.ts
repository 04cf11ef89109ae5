import { DividingNetworkError } from "../../errors";
import type { FrequencyBand } from "../../quantity";
import { bandInSi } from "../../quantity/internal";
import type { ComplexParts } from "../../response";
import { checkFilter, checkFrequency, frequencyRange } from "./check-filter";
import { makeScaled, refuseScaled, type Filter, type PrototypeFunction } from "./filter";

/**
 * The band-pass filter (dimensionless, V per V) of a prototype:
 * $s \to \frac{s^2 + \omega_1\omega_2}{s(\omega_2 - \omega_1)}$, so that what the prototype does at ω = 1 rad/s happens
 * at both corners. The order doubles.
 *
 * This is one filter with both slopes. The middle of a three-way crossover is a different thing: a high-pass and a
 * low-pass one after the other.
 *
 * @param prototype a low-pass function at ω = 1 rad/s: from `butterworth` and the like, or any zeros, poles (rad/s) and gain
 * @param band both corners, `{ from, to }` in Hz or text: `"300 Hz"`; 1 mHz to 1 MHz
 * @returns zeros, poles (rad/s) and gain of the filter
 * @throws DividingNetworkError `already-scaled` for a filter in place of a prototype; `invalid-argument`, `invalid-quantity`,
 *   `invalid-transfer-function`, `unknown-option`
 * @example
 * ```ts
 * import { bandPass, butterworth } from "dividing-network/alignments";
 * import { levelDb, responseOf } from "dividing-network/response";
 *
 * levelDb(responseOf(bandPass(butterworth(2), { from: 500, to: 2000 }), [500, 1000, 2000])); // [-3.0103, 0, -3.0103]
 * ```
 */
export function bandPass(prototype: PrototypeFunction, band: FrequencyBand): Filter {
  refuseScaled("bandPass", "prototype", prototype);
  const { zeros, poles, gain } = checkFilter("bandPass", "prototype", prototype);
  const { center, width } = centredBand(bandInSi("bandPass", "band", band, frequencyRange));
  const split = (list: readonly ComplexParts[]) => list.flatMap((root) => (root.im < 0 ? [] : transformed(root, center, width)));
  const extra = poles.length - zeros.length;
  return makeScaled([...split(zeros), ...new Array<ComplexParts>(extra).fill({ re: 0, im: 0 })], split(poles), gain * width ** extra);
}

/** The band's geometric centre and its width, both in rad/s. */
export function checkBand(caller: string, from: unknown, to: unknown): { readonly center: number; readonly width: number } {
  const low = checkFrequency(caller, "from", from);
  const high = checkFrequency(caller, "to", to);
  if (!(high > low)) throw new DividingNetworkError("invalid-argument", `${caller}: "to" must be above "from" (${low} Hz), got ${high} Hz`);
  return centredBand({ from: low, to: high });
}

function centredBand({ from, to }: { readonly from: number; readonly to: number }): { readonly center: number; readonly width: number } {
  return { center: 2 * Math.PI * Math.sqrt(from * to), width: 2 * Math.PI * (to - from) };
}

/** The roots of s² − r·width·s + center², with those of the conjugate root when r is complex. */
function transformed({ re, im }: ComplexParts, center: number, width: number): ComplexParts[] {
  const [x, y] = [(re * width) / 2, (im * width) / 2];
  if (im === 0) {
    const inside = x * x - center * center;
    if (inside < 0) return mirrorImages([{ re: x, im: Math.sqrt(-inside) }]);
    const far = x + Math.sign(x === 0 ? 1 : x) * Math.sqrt(inside);
    return [
      { re: far, im: 0 },
      { re: (center * center) / far, im: 0 },
    ];
  }
  // (x + jy)² − center², its root, and the far one of the two solutions; the other follows from their product.
  const [a, b] = [(x - y) * (x + y) - center * center, 2 * x * y];
  const size = Math.hypot(a, b);
  const big = Math.sqrt((size + Math.abs(a)) / 2);
  const small = b / (2 * big);
  const root = a >= 0 ? { re: big, im: small } : { re: small, im: big };
  const sign = x * root.re + y * root.im < 0 ? -1 : 1;
  const far = { re: x + sign * root.re, im: y + sign * root.im };
  const scale = (center / Math.hypot(far.re, far.im)) ** 2;
  return mirrorImages([far, { re: far.re * scale, im: -far.im * scale }]);
}

function mirrorImages(roots: readonly ComplexParts[]): ComplexParts[] {
  return roots.flatMap(({ re, im }) => [
    { re, im: Math.abs(im) },
    { re, im: -Math.abs(im) },
  ]);
}
