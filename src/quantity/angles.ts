import { checkNumber } from "../errors/internal";

/**
 * Converts an angle from degrees to radians: $\varphi \pi / 180$. Inverse of `degrees`.
 *
 * @param degrees angle in degrees, of magnitude at most 1e300°
 * @returns angle in rad
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { radians } from "dividing-network/quantity";
 *
 * radians(180); // 3.14159
 * ```
 */
export function radians(degrees: number): number {
  return (checkNumber("radians", "degrees", degrees, { min: -1e300, max: 1e300, unit: "°" }) / 180) * Math.PI;
}

/**
 * Converts an angle from radians to degrees: $\varphi \cdot 180 / \pi$. Inverse of `radians`.
 *
 * @param radians angle in rad, of magnitude at most 1e300 rad
 * @returns angle in degrees
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { degrees } from "dividing-network/quantity";
 *
 * degrees(Math.PI / 2); // 90
 * ```
 */
export function degrees(radians: number): number {
  return (checkNumber("degrees", "radians", radians, { min: -1e300, max: 1e300, unit: "rad" }) / Math.PI) * 180;
}
