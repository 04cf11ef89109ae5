import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { polynomialRoots } from "../../numeric";
import { conjugatePair, highestOrder, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";

/**
 * Any low-pass function without zeros as a prototype, given by its poles or by its denominator; 1 at zero frequency.
 *
 * @param options `poles`: complex numbers `{ re, im }` in rad/s, all with re < 0, complex ones in conjugate pairs; or
 *   `denominator`: real coefficients (powers of s/rad), highest power first as polynomials are printed; 1 to 20 poles
 * @returns zeros, poles (rad/s) and gain of the function
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { allPole } from "dividing-network/alignments";
 *
 * allPole({ denominator: [1, 2, 5] }).poles; // [{ re: -1, im: 2 }, { re: -1, im: -2 }]
 * ```
 */
export function allPole(
  options: { readonly poles: readonly { readonly re: number; readonly im: number }[] } | { readonly denominator: readonly number[] },
): Prototype {
  const given: { poles?: readonly { readonly re: number; readonly im: number }[]; denominator?: readonly number[] } = checkOptions(
    "allPole",
    options,
    ["poles", "denominator"],
  );
  const [name, list] = given.poles === undefined ? (["denominator", given.denominator] as const) : (["poles", given.poles] as const);
  if ((given.poles === undefined) === (given.denominator === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `allPole: give "poles" or "denominator", got ${given.poles === undefined ? "neither" : "both"}`,
    );
  }
  const order = Array.isArray(list) ? list.length - (name === "poles" ? 0 : 1) : 0;
  if (order < 1 || order > highestOrder) {
    throw new DividingNetworkError(
      "invalid-argument",
      `allPole: "${name}" must make an order from 1 to ${highestOrder}, got ${show(list)}`,
    );
  }
  const poles = given.poles ?? polynomialRoots(checkedCoefficients(given.denominator!));
  for (const pole of poles) {
    checkNumber("allPole", "imaginary part of a pole", pole?.im, { unit: "rad/s" });
    checkNumber("allPole", "real part of a pole", pole?.re, { below: 0, unit: "rad/s" });
    checkNumber("allPole", "size of a pole", Math.hypot(pole.re, pole.im), { min: 1e-9, max: 1e9, unit: "rad/s" });
  }
  return makePrototype("all-pole", "as given", paired(poles));
}

function checkedCoefficients(coefficients: readonly number[]): readonly number[] {
  coefficients.forEach((value, k) => checkNumber("allPole", `denominator[${k}]`, value));
  checkNumber("allPole", "denominator[0]", Math.abs(coefficients[0]!), { above: 0 });
  return coefficients;
}

/** Each upper pole with its mirror image; a pole without one is refused. */
function paired(poles: readonly { readonly re: number; readonly im: number }[]): { readonly re: number; readonly im: number }[] {
  const lower = poles.filter(({ im }) => im < 0);
  const result = poles.filter(({ im }) => im === 0).flatMap(({ re }) => conjugatePair(re, 0));
  for (const { re, im } of poles.filter((pole) => pole.im > 0)) {
    const at = lower.findIndex((other) => Math.hypot(other.re - re, other.im + im) <= 1e-9 * Math.hypot(re, im));
    if (at < 0) {
      throw new DividingNetworkError(
        "invalid-argument",
        `allPole: "poles" must come in conjugate pairs, got ${re} + j${im} without ${re} − j${im}`,
      );
    }
    lower.splice(at, 1);
    result.unshift(...conjugatePair(re, im));
  }
  const left = lower[0];
  if (left !== undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `allPole: "poles" must come in conjugate pairs, got ${left.re} − j${-left.im} without ${left.re} + j${-left.im}`,
    );
  }
  return result;
}
