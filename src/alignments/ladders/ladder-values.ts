import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOneOf, checkOptions } from "../../errors/internal";
import { startWorking, type Resistance, type WorkingBuilder } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { TransferFunction } from "../../response";
import { checkElements, statedAccuracy } from "./check-elements";
import { checkFilter } from "../filters/check-filter";
import { refuseScaled, type PrototypeFunction } from "../filters/filter";
import type { NormalElement } from "./normal-element";
import { highestOrder } from "../prototypes/prototype";
import { doublyTerminated, singlyTerminated } from "./synthesis";

/**
 * The elements (H and F, at ω = 1 rad/s with a load of 1 Ω) of the lossless low-pass ladder that has a prototype's
 * transfer function, from source to load, by continued fraction. By default the source is ideal, as an amplifier nearly
 * is, and the first element is a series inductor, so that the values alternate L, C, L, …. With a source resistance the
 * transfer function is the prototype's times $\frac{1}{1 + R_s}$.
 *
 * The transfer function of the values returned is checked against the prototype's with 640 binary places: it is met to 10⁻⁹ of the
 * passband, or the ladder is refused.
 *
 * Not every function can be built: a first element in shunt needs a source resistance; even orders pass zero frequency
 * with the loss of the two resistances alone, so that a first element in series needs $R_s \le 1\,\Omega$; even-order
 * Chebyshev functions need unequal resistances (a ratio within 4 · 10⁻⁷ of the least one counts as that one, which tables print
 * rounded; the transfer function is then met to that accuracy).
 *
 * @param prototype a low-pass function without zeros, poles in rad/s
 * @param options `sourceResistance`: Ω for a load of 1 Ω, default 0 Ω; `first`: `"series"` (default) or `"shunt"`
 * @returns H and F in turn, as many as the order
 * @throws DividingNetworkError `already-scaled` for a filter in place of a prototype, `not-realizable`, `accuracy-not-reached`, `invalid-argument`, `invalid-transfer-function`,
 *   `unknown-option`
 * @example
 * ```ts
 * import { butterworth, ladderValues } from "dividing-network/alignments";
 *
 * ladderValues(butterworth(3)); // [1.5, 1.3333, 0.5]
 * ladderValues(butterworth(3), { sourceResistance: 1 }); // [1, 2, 1]
 * ```
 */
export function ladderValues(
  prototype: PrototypeFunction,
  options: { readonly sourceResistance?: Resistance | undefined; readonly first?: "series" | "shunt" | undefined } = {},
): readonly number[] {
  const { sourceResistance = 0, first = "series" } = checkOptions("ladderValues", options, ["sourceResistance", "first"]);
  const source = inSi("ladderValues", "sourceResistance", sourceResistance, "Ω", { min: 0, max: 1e6 });
  checkOneOf("ladderValues", "first", first, ["series", "shunt"]);
  return Object.freeze(normalLadder("ladderValues", prototype, source, first, startWorking()).map(({ value }) => value));
}

/** The normalised low-pass ladder of a prototype, load 1 Ω, from source to load. */
export function normalLadder(
  caller: string,
  prototype: TransferFunction,
  sourceResistance: number,
  first: "series" | "shunt",
  steps: WorkingBuilder,
): NormalElement[] {
  const { poles } = checkAllPole(caller, prototype);
  if (sourceResistance === 0 && first === "shunt") {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: a first element in shunt lies across an ideal source and does nothing there`,
      'Use first: "series", or state the source resistance',
    );
  }
  if (sourceResistance > 0 && sourceResistance < 1e-6) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sourceResistance" must be 0 or at least a millionth of the load, got ${sourceResistance} of it`,
      "Use 0 for a source that is ideal for all purposes",
    );
  }
  const { elements, within } =
    sourceResistance === 0
      ? { elements: singlyTerminated(poles, 0, steps), within: statedAccuracy }
      : doublyTerminated(caller, poles, sourceResistance, first, steps);
  if (elements.length !== poles.length || elements.some(({ value }) => !(value > 0 && Number.isFinite(value)))) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: the function has no ladder of positive elements that double precision can express`,
      "Check that all poles lie well in the left half-plane",
    );
  }
  checkElements(caller, elements, { poles, zerosAtOrigin: 0, gain: 1 / (1 + sourceResistance), sourceResistance }, within);
  return elements;
}

/** A low-pass function without zeros, all poles in the left half-plane, of an order that synthesis is checked for. */
export function checkAllPole(caller: string, prototype: unknown): TransferFunction {
  refuseScaled(caller, "prototype", prototype);
  const filter = checkFilter(caller, "prototype", prototype);
  const { zeros, poles } = filter;
  if (zeros.length > 0 || poles.length === 0 || poles.length > highestOrder || poles.some(({ re }) => !(re < 0))) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "prototype" must have no zeros and 1 to ${highestOrder} poles with a negative real part, got ${zeros.length} zeros and ${poles.length} poles`,
      "Give the prototype itself, not a filter made from it by highPass or bandPass",
    );
  }
  for (const { re, im } of poles)
    checkNumber(caller, "size of a pole of the prototype", Math.hypot(re, im), { min: 1e-9, max: 1e9, unit: "rad/s" });
  return filter;
}
