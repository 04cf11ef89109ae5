import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import type { Capacitance } from "../quantity";
import { inSi } from "../quantity/internal";

/** A lowest and a highest value. */
export interface ValueRange {
  /** In the unit of what it is the range of; a fraction or dissipation factor is dimensionless. */
  readonly lowest: number;
  /** In the same unit. */
  readonly highest: number;
}

/** What a bipolar electrolytic of a printed value may be. */
export interface ElectrolyticRange {
  /** F. */
  readonly capacitance: ValueRange;
  /** tan δ at 1 kHz, dimensionless. */
  readonly dissipationFactor: ValueRange;
}

/**
 * What a bipolar electrolytic capacitor of a printed value may be, new or aged. Common practice, no source: ±10 % and a tan δ of 0.02 to 0.1 when new;
 * after twenty years anything from 40 % less (dried out) to 30 % more (what a meter reads of a leaking one), and a tan δ of 0.03 to 0.4. A reason to measure, not a model of ageing.
 *
 * @param options `capacitance` in F as printed; `tolerance` when new as a fraction, dimensionless, below 1 (default 0.1); `aged` (default false)
 * @returns ranges of capacitance in F and of tan δ, dimensionless
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { bipolarElectrolytic } from "dividing-network/parts";
 *
 * bipolarElectrolytic({ capacitance: "47 µF", aged: true }).capacitance.lowest; // 2.82e-5 F
 * ```
 */
export function bipolarElectrolytic(options: {
  readonly capacitance: Capacitance;
  readonly tolerance?: number | undefined;
  readonly aged?: boolean | undefined;
}): ElectrolyticRange {
  const caller = "bipolarElectrolytic";
  checkOptions(caller, options, ["capacitance", "tolerance", "aged"]);
  const capacitance = inSi(caller, "capacitance", options?.capacitance, "F", { above: 0, max: 1e6 });
  const tolerance = checkNumber(caller, "tolerance", options.tolerance ?? 0.1, { min: 0, below: 1 });
  const { aged = false } = options;
  if (typeof aged !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "aged" must be true or false, got ${show(aged)}`);
  const [less, more] = aged ? [Math.max(0.4, tolerance), Math.max(0.3, tolerance)] : [tolerance, tolerance];
  const loss = aged ? { lowest: 0.03, highest: 0.4 } : { lowest: 0.02, highest: 0.1 };
  return Object.freeze({
    capacitance: Object.freeze({ lowest: capacitance * (1 - less), highest: capacitance * (1 + more) }),
    dissipationFactor: Object.freeze(loss),
  });
}
