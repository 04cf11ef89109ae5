import { checkOptions } from "../../errors/internal";
import type { Frequency, Time } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { responseOf, type FrequencyResponse, type TransferFunction } from "../../response";
import { checkedGrid, freezeResponse } from "../../response/internal";
import { refuseScaled, type PrototypeFunction } from "../filters/filter";
import { groupDelayOf } from "../filters/group-delay-of";
import { lowPass } from "../filters/low-pass";

/** A crossover whose high-pass is a delay less the low-pass. */
export interface DelayDerived {
  /** V per V. */
  readonly lowPass: TransferFunction;
  /** s: of the sum, which is a pure delay. */
  readonly delay: number;
  /** The high-pass on a grid (Hz); V per V. */
  readonly highPass: (frequencies: ArrayLike<number>) => FrequencyResponse;
}

/**
 * A delay-derived crossover: with a low-pass H and a delay T (s), the high-pass is $e^{-sT} - H(s)$, so that the sum is
 * a pure delay. T is the low-pass's own delay at low frequencies unless it is stated: then the high-pass falls steeply
 * below the corner, where 1 − H alone would fall by 6 dB per octave. A passive network cannot make it, a delay being
 * needed. After Lipshitz and Vanderkooy (1983).
 *
 * @param prototype a low-pass function at ω = 1 rad/s
 * @param options `frequency`: corner in Hz; `delay`: T in s, default the group delay of the low-pass at 0 Hz
 * @returns the low-pass, the delay (s), and the high-pass as a function of frequencies (Hz)
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { bessel, delayDerived } from "dividing-network/alignments";
 * import { levelDb } from "dividing-network/response";
 *
 * const pair = delayDerived(bessel(4), { frequency: 1000 });
 * levelDb(pair.highPass([500, 2000])); // [-22.1612, -1.8583]
 * ```
 */
export function delayDerived(
  prototype: PrototypeFunction,
  options: { readonly frequency: Frequency; readonly delay?: Time | undefined },
): DelayDerived {
  refuseScaled("delayDerived", "prototype", prototype);
  const { frequency, delay } = checkOptions("delayDerived", options, ["frequency", "delay"]);
  const low = lowPass(prototype, frequency);
  const time = delay === undefined ? groupDelayOf(low, [0])[0]! : inSi("delayDerived", "delay", delay, "s", { min: 0, max: 10 });
  return Object.freeze({
    lowPass: low,
    delay: time,
    highPass: (frequencies: ArrayLike<number>) => {
      const grid = checkedGrid("delayDerived.highPass", frequencies);
      const own = responseOf(low, grid);
      const angle = (i: number): number => -2 * Math.PI * grid[i]! * time;
      return freezeResponse(
        grid,
        own.re.map((value, i) => Math.cos(angle(i)) - value),
        own.im.map((value, i) => Math.sin(angle(i)) - value),
      );
    },
  });
}
