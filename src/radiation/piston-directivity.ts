import { checkNumber, checkOptions } from "../errors/internal";
import { besselJ1 } from "../numeric";
import { sinDegrees } from "../physics/internal";

/**
 * Far-field directivity of a circular piston in an infinite baffle, amplitude ratio to the axis with its sign, dimensionless:
 * $D = 2J_1(x)/x$ with $x = ka\sin\theta$. 1 on the axis; the first null lies at x = 3.8317.
 *
 * @param options `ka`, wavenumber times radius, dimensionless; `angle` off the axis, degrees, in front
 * @returns amplitude ratio, dimensionless, −0.132 to 1
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pistonDirectivity } from "dividing-network/radiation";
 *
 * pistonDirectivity({ ka: 3, angle: 45 }); // 0.53362
 * ```
 */
export function pistonDirectivity(options: { readonly ka: number; readonly angle: number }): number {
  const { ka, angle } = checkOptions("pistonDirectivity", options, ["ka", "angle"]);
  checkNumber("pistonDirectivity", "ka", ka, { min: 0, max: 1e6 });
  const x = ka * Math.abs(sinDegrees(checkNumber("pistonDirectivity", "angle", angle, { unit: "degrees" })));
  return x < 1e-150 ? 1 : (2 * besselJ1(x)) / x;
}

/**
 * Angle off the axis at which a piston in an infinite baffle has fallen to a stated share of its pressure on the axis, degrees; its full
 * beamwidth is twice that. The root of $2J_1(x)/x = q$ on the main lobe.
 *
 * @param options `ka`, dimensionless; `ratio` q, the amplitude ratio, dimensionless, 0 (the first null) up to 1; default 0.5
 * @returns degrees, 0 to 90, or `undefined` when the piston does not fall that far within 90°
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pistonHalfAngle } from "dividing-network/radiation";
 *
 * pistonHalfAngle({ ka: 5 }); // 26.296592
 * pistonHalfAngle({ ka: 1 }); // undefined
 * ```
 */
export function pistonHalfAngle(options: { readonly ka: number; readonly ratio?: number | undefined }): number | undefined {
  const { ka, ratio = 0.5 } = checkOptions("pistonHalfAngle", options, ["ka", "ratio"]);
  checkNumber("pistonHalfAngle", "ka", ka, { above: 0, max: 1e6 });
  checkNumber("pistonHalfAngle", "ratio", ratio, { min: 0, max: 1 });
  // The main lobe falls steadily from 1 at 0 to 0 at the first zero of J1.
  let low = 0;
  let high = 3.8317059702075125;
  while (high - low > 4e-16 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if ((2 * besselJ1(middle)) / middle > ratio) low = middle;
    else high = middle;
  }
  const sine = (ratio === 1 ? 0 : ratio === 0 ? 3.8317059702075125 : (low + high) / 2) / ka;
  return sine > 1 ? undefined : (Math.asin(sine) * 180) / Math.PI;
}

/**
 * Directivity index of a circular piston in an infinite baffle, dB against a point source in free space of the same power:
 * $10\log_{10}\frac{(ka)^2}{1 - J_1(2ka)/ka}$. Tends to 3.01 dB for small ka, for the baffle alone.
 *
 * @param options `ka`, wavenumber times radius, dimensionless
 * @returns dB, at least 3.01
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pistonDirectivityIndex } from "dividing-network/radiation";
 *
 * pistonDirectivityIndex({ ka: 2 }); // 5.8795
 * ```
 */
export function pistonDirectivityIndex(options: { readonly ka: number }): number {
  const { ka } = checkOptions("pistonDirectivityIndex", options, ["ka"]);
  checkNumber("pistonDirectivityIndex", "ka", ka, { min: 0, max: 1e6 });
  return 10 * Math.log10(ka < 1e-4 ? 2 : (ka * ka) / pistonResistance(ka));
}

/** Normalised radiation resistance of one side of a piston in a baffle; by its series where the difference would round. */
export function pistonResistance(ka: number): number {
  if (ka >= 0.5) return 1 - besselJ1(2 * ka) / ka;
  let term = (ka * ka) / 2;
  let sum = 0;
  for (let m = 1; m <= 12; m++) {
    sum += term;
    term *= -(ka * ka) / ((m + 1) * (m + 2));
  }
  return sum;
}
