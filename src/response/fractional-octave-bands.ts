import { checkNumber, checkOptions } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";

/** One band of 1/b octave. */
export interface FractionalOctaveBand {
  /** Hz: exact mid-band frequency. */
  readonly centre: number;
  /** Hz: band edges. */
  readonly lower: number;
  /** Hz: upper edge. */
  readonly upper: number;
}

/**
 * Bands of 1/b octave by the base-ten rule, in Hz.
 *
 * $$f_m = 1000\, G^{x/b} \text{ Hz (b odd)}, \quad 1000\, G^{(2x+1)/2b} \text{ Hz (b even)}, \qquad f_{1,2} = f_m\, G^{\mp 1/2b}, \quad G = 10^{0.3}$$
 *
 * The nominal names (31.5 Hz, 63 Hz) are rounded; these are the exact frequencies.
 *
 * @param options `fraction` b, a whole number from 1 to 48; `from` and `to` in Hz, default 20 Hz and 20 kHz: bands whose centre, to within
 *   half a percent, lies between them
 * @returns bands in ascending order, frequencies in Hz
 * @throws DividingNetworkError `invalid-argument`
 * Source: after IEC 61260-1:2014, clause 5; values recomputed.
 * @example
 * ```ts
 * import { fractionalOctaveBands } from "dividing-network/response";
 *
 * fractionalOctaveBands({ fraction: 3, from: 1250, to: 1250 })[0].centre; // 1258.925412
 * ```
 */
export function fractionalOctaveBands(options: {
  readonly fraction: number;
  readonly from?: Frequency | undefined;
  readonly to?: Frequency | undefined;
}): readonly FractionalOctaveBand[] {
  const caller = "fractionalOctaveBands";
  const { fraction, from = 20, to = 20000 } = checkOptions(caller, options, ["fraction", "from", "to"]);
  const b = checkNumber(caller, "fraction", fraction, { min: 1, max: 48, integer: true });
  const low = inSi(caller, "from", from, "Hz", { min: 1e-3 });
  const high = inSi(caller, "to", to, "Hz", { min: low, max: 1e9 });
  const shift = b % 2 === 0 ? 0.5 : 0;
  const place = (f: number): number => (b * Math.log10(f / 1000)) / 0.3 - shift;
  const first = Math.ceil(place(low * (1 - Math.min(0.008, 0.5 / b / 8))));
  const last = Math.floor(place(high * (1 + Math.min(0.008, 0.5 / b / 8))));
  const bands: FractionalOctaveBand[] = [];
  for (let x = first; x <= last; x++) {
    const at = (y: number): number => 1000 * 10 ** ((0.3 * y) / b);
    bands.push(Object.freeze({ centre: at(x + shift), lower: at(x + shift - 0.5), upper: at(x + shift + 0.5) }));
  }
  return Object.freeze(bands);
}
