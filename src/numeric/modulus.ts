import { DividingNetworkError } from "../errors";
import { computed, show } from "../errors/internal";

/**
 * The absolute value of a complex number, in the unit of its parts, without overflow or underflow on the way.
 *
 * @param re real part, any unit
 * @param im imaginary part, same unit
 * @returns √(re² + im²)
 */
export function modulus(re: number, im: number): number {
  if (typeof re !== "number" || typeof im !== "number")
    throw new DividingNetworkError("invalid-argument", `modulus: "re" and "im" must be numbers, got ${show(re)} and ${show(im)}`);
  const squared = re * re + im * im;
  return squared > 1e-280 && squared < 1e280 ? Math.sqrt(squared) : computed("modulus", Math.hypot(re, im));
}
