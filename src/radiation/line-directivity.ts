import { checkNumber, checkOptions } from "../errors/internal";
import { besselJ0 } from "../numeric";
import { sinDegrees } from "../physics/internal";

/**
 * Far-field directivity of a uniform straight line, amplitude ratio to its broadside with its sign, dimensionless:
 * $D = \sin x / x$ with $x = (kl/2)\sin\theta$, l being the full length.
 *
 * @param options `kl`, wavenumber times full length, dimensionless; `angle` off the broadside in the plane of the line, degrees
 * @returns amplitude ratio, dimensionless, −0.217 to 1
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { lineDirectivity } from "dividing-network/radiation";
 *
 * lineDirectivity({ kl: 2 * Math.PI, angle: 30 }); // 0.63661977
 * ```
 */
export function lineDirectivity(options: { readonly kl: number; readonly angle: number }): number {
  const { kl, angle } = checkOptions("lineDirectivity", options, ["kl", "angle"]);
  checkNumber("lineDirectivity", "kl", kl, { min: 0, max: 1e6 });
  const x = (kl / 2) * Math.abs(sinDegrees(checkNumber("lineDirectivity", "angle", angle, { unit: "degrees" })));
  return x < 1e-150 ? 1 : Math.sin(x) / x;
}

/**
 * Far-field directivity of a thin ring, amplitude ratio to its axis with its sign, dimensionless: $D = J_0(ka\sin\theta)$.
 *
 * @param options `ka`, wavenumber times radius, dimensionless; `angle` off the axis, degrees
 * @returns amplitude ratio, dimensionless, −0.403 to 1
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { ringDirectivity } from "dividing-network/radiation";
 *
 * ringDirectivity({ ka: 2, angle: 30 }); // 0.7651976866
 * ```
 */
export function ringDirectivity(options: { readonly ka: number; readonly angle: number }): number {
  const { ka, angle } = checkOptions("ringDirectivity", options, ["ka", "angle"]);
  checkNumber("ringDirectivity", "ka", ka, { min: 0, max: 1e6 });
  return besselJ0(ka * sinDegrees(checkNumber("ringDirectivity", "angle", angle, { unit: "degrees" })));
}
