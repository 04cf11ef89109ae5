import { checkNumber, checkOneOf, checkOptions } from "../../errors/internal";
import { startWorking, type Frequency, type Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { bandPass, checkBand } from "../filters/band-pass";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import type { PrototypeFunction } from "../filters/filter";
import { asBandPass, asHighPass, atFrequency } from "./denormalise";
import { highPass } from "../filters/high-pass";
import { normalLadder } from "./ladder-values";
import { lowPass } from "../filters/low-pass";
import { makeLadder } from "./make-ladder";
import type { Ladder } from "./ladder-data";
import { poleProduct } from "../prototypes/prototype";

/** What `ladder` makes of its prototype. */
export type LadderPass =
  | {
      /** Which side of the corner is let through. */
      readonly pass: "low" | "high";
      /** Hz: the corner. */
      readonly frequency: Frequency;
    }
  | {
      /** A band between two corners. */
      readonly pass: "band";
      /** Hz: the lower corner. */
      readonly from: Frequency;
      /** Hz: the upper corner. */
      readonly to: Frequency;
    };

/** The options of `ladder`. */
export type LadderOptions = LadderPass & {
  /** Ω. */
  readonly load: Resistance;
  /** Ω: amplifier's output and cable; default 0 Ω. */
  readonly sourceResistance?: Resistance | undefined;
  /** Where the first element stands, seen from the source: `"series"` (default; T for order 3) or `"shunt"` (π for order 3). */
  readonly first?: "series" | "shunt" | undefined;
};

/**
 * A lossless LC ladder (H, F) between a source and a resistive load that has the transfer function of a prototype, as
 * low-pass, high-pass or band-pass: part values, fragment, network and working. Into the load R from the source
 * resistance $R_s$ the transfer function is the prototype's times $\frac{R}{R + R_s}$.
 *
 * @param prototype a low-pass function without zeros, poles in rad/s, at ω = 1 rad/s
 * @param options `pass` with `frequency`, or with `from` and `to` (Hz); `load` and `sourceResistance` (Ω); `first`
 * @returns the ladder: elements (H, F) from source to load, transfer, fragment, network, working
 * @throws DividingNetworkError `already-scaled` for a filter in place of a prototype, `not-realizable` with the reason, `accuracy-not-reached`, `invalid-argument`,
 *   `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { butterworth, ladder } from "dividing-network/alignments";
 *
 * ladder(butterworth(2), { pass: "low", frequency: "3 kHz", load: "8 Ω" }).parts; // { L1: 0.000600211, C2: 0.000004689147 }
 * ```
 */
export function ladder(prototype: PrototypeFunction, options: LadderOptions): Ladder {
  const given = checkOptions("ladder", options, ["pass", "frequency", "from", "to", "load", "sourceResistance", "first"]);
  const pass = checkOneOf("ladder", "pass", given.pass, ["low", "high", "band"]);
  checkOptions("ladder", options, ["pass", "load", "sourceResistance", "first", ...(pass === "band" ? ["from", "to"] : ["frequency"])]);
  const first = checkOneOf("ladder", "first", given.first === undefined ? "series" : given.first, ["series", "shunt"]);
  const load = checkLoad("ladder", "load", given.load);
  const sourceResistance =
    given.sourceResistance === undefined ? 0 : inSi("ladder", "sourceResistance", given.sourceResistance, "Ω", { min: 0 });
  checkNumber("ladder", "sourceResistance relative to the load", sourceResistance / load, { max: 1e6 });
  const steps = startWorking();
  const elements = normalLadder("ladder", prototype, sourceResistance / load, first, steps);
  const resistances = { load, sourceResistance };
  const level = load / (load + sourceResistance);
  const unit = { ...prototype, gain: poleProduct(prototype.poles) * level };
  if (given.pass === "band") {
    const band = { from: checkFrequency("ladder", "from", given.from), to: checkFrequency("ladder", "to", given.to) };
    checkBand("ladder", band.from, band.to);
    const transfer = bandPass(unit, band);
    return makeLadder("ladder", asBandPass(elements, { load, ...band }, steps), resistances, transfer, steps.done());
  }
  const frequency = checkFrequency("ladder", "frequency", given.frequency);
  const [transfer, parts] =
    given.pass === "low"
      ? [lowPass(unit, frequency), atFrequency(elements, { load, frequency }, steps)]
      : [highPass(unit, frequency), asHighPass(elements, { load, frequency }, steps)];
  return makeLadder("ladder", parts, resistances, transfer, steps.done());
}
