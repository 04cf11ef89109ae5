import type { TransferFunction } from "../../response";

/** The frequency (rad/s) at which an all-pole function that falls steadily is 3.01 dB below its level at zero frequency. */
export function halfPowerFrequency(poles: TransferFunction["poles"]): number {
  // log |H(0)/H(jω)|² = Σ log |1 − jω/p|², steadily rising; log 2 is met between 0 and the geometric mean times 2ⁿ.
  const excess = (w: number): number =>
    poles.reduce((sum, { re, im }) => {
      const size = re * re + im * im;
      return sum + Math.log1p((w * w - 2 * w * im) / size);
    }, -Math.LN2);
  let high = 1;
  while (excess(high) < 0 && high < 1e300) high *= 2;
  let low = high / 2;
  while (excess(low) > 0 && low > 1e-300) low /= 2;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (excess(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
