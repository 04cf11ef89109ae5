import { checkOptions, shown } from "../../errors/internal";
import { startWorking, type Frequency, type Resistance } from "../../quantity";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { familyOptionNames, familyPrototype, type FamilyOptions } from "../prototypes/family";
import { ladder } from "../ladders/ladder";
import { flatterPolarity, phaseDegreesAt, polarityOf } from "./polarity";
import type { Polarity } from "./crossover-data";
import { crossoverViews } from "../views";
import type { Crossover } from "./crossover-data";

/** The options of `crossover`. */
export interface CrossoverOptions extends FamilyOptions {
  /** Hz: the corner of both ways. */
  readonly frequency: Frequency;
  /** Ω: of both drivers, or of each. */
  readonly load:
    | Resistance
    | {
        /** Ω: the low-pass way's driver. */
        readonly lowPass: Resistance;
        /** Ω: the high-pass way's driver. */
        readonly highPass: Resistance;
      };
}

/**
 * A two-way crossover: low-pass and high-pass ladder (H, F) of one family, order and corner, connected in parallel to
 * an ideal source, each into its own resistive load, with the polarity that makes flat, coincident drivers sum best.
 * The two ways differ in phase by about n · 90°, so the high-pass driver is reversed where that is near 180° (n = 2, 6,
 * …). At odd orders, where it is near ±90°, Butterworth ways sum flat either way, and the polarity chosen here is the
 * one with the smaller group delay (reversed for n = 3, 7, …); the lobe tilts towards the driver that lags.
 *
 * @param options `family` and `order` (for Chebyshev `rippleDb` in dB; for Bessel `normalization`), `frequency` (Hz),
 *   `load` (Ω, one for both ways or `{ lowPass, highPass }`)
 * @returns both ladders (values in H and F), polarity, tilt and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`, `accuracy-not-reached`
 * @example
 * ```ts
 * import { crossover } from "dividing-network/alignments";
 *
 * const twoWay = crossover({ family: "linkwitz-riley", order: 2, frequency: "3 kHz", load: "8 Ω" });
 * twoWay.lowPass.parts; // { L1: 0.000848826, C2: 0.000003315728 }
 * twoWay.polarity; // "reversed"
 * ```
 */
export function crossover(options: CrossoverOptions): Crossover {
  const given = checkOptions("crossover", options, [...familyOptionNames, "frequency", "load"]);
  const prototype = familyPrototype("crossover", given);
  const frequency = checkFrequency("crossover", "frequency", given.frequency);
  const loads = checkLoads("crossover", given.load);
  const low = ladder(prototype, { pass: "low", frequency, load: loads.lowPass });
  const high = ladder(prototype, { pass: "high", frequency, load: loads.highPass });
  // Of Butterworth and Linkwitz–Riley functions it is known; of the others it is tried.
  const known = prototype.family === "butterworth" || prototype.family === "linkwitz-riley";
  const polarity = known ? polarityOf(prototype.order) : flatterPolarity(low.transfer, high.transfer, frequency, prototype.order);
  const lead = phaseDegreesAt(low.transfer, frequency) - phaseDegreesAt(high.transfer, frequency) + (polarity === "reversed" ? 180 : 0);
  const turned = lead - 360 * Math.round(lead / 360);
  const steps = startWorking();
  // The high-pass repeats the values at ω = 1 rad/s, which stand in the low-pass's working already.
  steps.take("", low.working.slice(0, -prototype.order));
  steps.take("low-pass ", low.working.slice(-prototype.order));
  steps.take("high-pass ", high.working.slice(-prototype.order));
  const apart = { φlow: [phaseDegreesAt(low.transfer, frequency), "°"], φhigh: [phaseDegreesAt(high.transfer, frequency), "°"] } as const;
  const source = "derived here: both ways have the same poles, and the high-pass as many zeros at 0";
  const text = {
    formula: "φhigh − φlow",
    tex: "\\varphi = \\varphi_\\mathrm{high} - \\varphi_\\mathrm{low}",
    source,
    note: polarityReason(prototype.order, polarity, known),
  };
  steps.step("φ", "°", text, apart, (v) => v.φhigh - v.φlow);
  const made: Crossover = {
    prototype,
    frequency,
    lowPass: low,
    highPass: high,
    polarity,
    eitherPolarity: prototype.order % 2 === 1,
    lobeTilt: Math.abs(turned) < 1 ? "none" : turned < 0 ? "towards the low-pass driver" : "towards the high-pass driver",
    working: steps.done(),
  };
  return Object.freeze(shown(made, crossoverViews));
}

/** Why the high-pass driver is connected as it is. */
function polarityReason(order: number, polarity: Polarity, known: boolean): string {
  const connected = polarity === "reversed" ? "the high-pass driver is reversed" : "both drivers have the same polarity";
  if (!known) return `${connected}: so the sum strays less from 0 dB around the crossover than with the other polarity`;
  if (order % 2 === 1)
    return `${connected}: a quarter turn apart, the ways sum to one level with either polarity, and this one has the smaller group delay`;
  return `${connected}: ${polarity === "reversed" ? "half a turn apart" : "a whole number of turns apart"} at every frequency, so the ways ${polarity === "reversed" ? "would cancel at the crossover with the same" : "add in phase"}`;
}

function checkLoads(caller: string, load: CrossoverOptions["load"]): { readonly lowPass: number; readonly highPass: number } {
  if (typeof load === "object" && load !== null) {
    const each = checkOptions(caller, load, ["lowPass", "highPass"]);
    return { lowPass: checkLoad(caller, "load.lowPass", each.lowPass), highPass: checkLoad(caller, "load.highPass", each.highPass) };
  }
  const both = checkLoad(caller, "load", load);
  return { lowPass: both, highPass: both };
}
