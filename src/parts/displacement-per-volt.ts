import { DividingNetworkError } from "../errors";
import type { FrequencyResponse } from "../response";
import { checkedGrid, freezeResponse } from "../response/internal";
import { checkMotion, type DriverMotionOptions } from "./driver-motion";

/**
 * The displacement of a driver's cone in m per volt at its own terminals, rms by rms, positive where the cone stands in front of its rest: the peak for a sine is √2 of it.
 *
 * $$\frac{x}{U} = \frac{Bl}{(R_e + j\omega L_e)\,(1/C_{ms} - \omega^2 M_{ms} + j\omega R_{ms}) + j\omega (Bl)^2}$$
 *
 * Below the resonance it is flat, $Bl\,C_{ms}/R_e$ at 0 Hz; above, it falls by 12 dB per octave. In a closed box `fs`, `qms` and `qes` are those in the box
 * (`closedBox`).
 *
 * @param frequencies Hz, ≥ 0, strictly ascending, length n
 * @param driver `re` in Ω, `bl` in T·m, `mms` in kg, `cms` in m/N, `rms` in N·s/m; or `fs` in Hz, `qms` and `qes` dimensionless and one of `bl` and `mms`; `le` in H
 * @returns m/V, n points; time convention e^(+jωt)
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`, `overflow`
 * Validity: small signals, in free air or a closed box; a suspension that stiffens and a coil that leaves its gap move less. A vented box or a transmission line is another
 * system, which unloads the cone below its tuning.
 * Source: after Small (1972); derived here from force and velocity.
 * @example
 * ```ts
 * import { valueAt } from "dividing-network";
 * import { displacementPerVolt } from "dividing-network/parts";
 *
 * const woofer = displacementPerVolt([0, 20, 200], { re: "5.8 Ω", bl: 7, mms: "15 g", cms: 0.8e-3, rms: 1.2 });
 * woofer.re[0]; // 0.00096551724
 * ```
 */
export function displacementPerVolt(frequencies: ArrayLike<number>, driver: DriverMotionOptions): FrequencyResponse {
  const caller = "displacementPerVolt";
  const { re: ohms, le, bl, mms, cms, rms } = checkMotion(caller, "", driver);
  const grid = checkedGrid(caller, frequencies);
  const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  grid.forEach((frequency, i) => {
    const w = 2 * Math.PI * frequency;
    const [stiff, lossy] = [1 / cms - w * w * mms, w * rms];
    const [a, b] = [ohms * stiff - w * le * lossy, ohms * lossy + w * le * stiff + w * bl * bl];
    const size = Math.hypot(a, b);
    if (!(size > 0 && size < Infinity))
      throw new DividingNetworkError(
        "overflow",
        `${caller}: the motion at ${frequency} Hz must be within what a number can hold`,
        "Check the units of the driver's constants",
      );
    re[i] = (bl / size) * (a / size);
    im[i] = 0 - (bl / size) * (b / size);
  });
  return freezeResponse(grid, re, im);
}
