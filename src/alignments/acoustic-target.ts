import { checkNumber, checkOneOf, checkOptions, DividingNetworkError } from "../errors";
import type { Frequency, Resistance } from "../quantity";
import type { TransferFunction } from "../response";
import { cascade } from "./cascade";
import { checkFrequency, checkLoad } from "./check-filter";
import { makeScaled } from "./filter";
import { familyOptionNames, familyPrototype, type FamilyOptions } from "./family";
import { fitElectrical, type ElectricalFit } from "./fit-electrical";
import { highPass } from "./high-pass";
import { lowPass } from "./low-pass";
import { secondOrderPoles } from "./second-order-poles";

/** A driver's own roll-off on the side of the crossover. */
export interface RollOff {
  /** 1 or 2. */
  readonly order: number;
  /** Hz: −3 dB of the first order, resonance of the second. */
  readonly frequency: Frequency;
  /** Q of the second order, dimensionless. */
  readonly q?: number | undefined;
}

/** The options of `acousticTarget`. */
export interface AcousticTargetOptions extends FamilyOptions {
  /** Which way: the driver above (`"high"`) or below (`"low"`) the crossover. */
  readonly pass: "low" | "high";
  /** Hz: the corner of the acoustic function. */
  readonly frequency: Frequency;
  readonly driver: RollOff;
  /** Ω: of the driver, made resistive by a conjugate network where it isn't. */
  readonly load: Resistance;
}

/** What the network must do so that driver and network together have the function wanted. */
export interface AcousticTarget {
  /** The function of driver and network together. */
  readonly acoustic: TransferFunction;
  /** The driver's own roll-off. */
  readonly driver: TransferFunction;
  /** Exactly what the network must do: acoustic over driver, with zeros at the driver's poles. Not a ladder in general. */
  readonly electrical: TransferFunction;
  /**
   * Ladders of the orders that come into question, best first: their values are fitted so that driver and ladder come
   * near the acoustic function.
   */
  readonly candidates: readonly ElectricalFit[];
  /** The first of them: the electrical order and corner to choose. */
  readonly best: ElectricalFit;
}

/**
 * What a network (H, F) must do for a driver with a roll-off of its own, so that both together have the slope wanted:
 * the exact electrical function, and the ladders of the orders around the difference of the slopes, fitted by least
 * squares of the complex error, with what each leaves. So a second-order network on one driver and a first-order one on
 * the other can make matching acoustic slopes.
 *
 * @param options the acoustic function: `family`, `order` and what goes with them, `pass`, `frequency` (Hz); `driver`:
 *   its `order` (1 or 2), `frequency` (Hz) and `q`; `load` (Ω)
 * @returns acoustic, driver's and electrical function, and ladders with order, corner (Hz) and error (dB)
 * @throws DividingNetworkError `not-realizable` when the driver alone falls as steeply as the function wanted or more
 *   steeply; `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { acousticTarget } from "dividing-network/alignments";
 *
 * const tweeter = { order: 2, frequency: 2000, q: Math.SQRT1_2 };
 * const target = acousticTarget({ family: "linkwitz-riley", order: 4, pass: "high", frequency: 2000, driver: tweeter, load: 6 });
 * target.best.order; // 2
 * target.best.cornerFrequency; // 2000
 * ```
 */
export function acousticTarget(options: AcousticTargetOptions): AcousticTarget {
  const caller = "acousticTarget";
  const given = checkOptions(caller, options, [...familyOptionNames, "pass", "frequency", "driver", "load"]);
  const pass = checkOneOf(caller, "pass", given.pass, ["low", "high"]);
  const frequency = checkFrequency(caller, "frequency", given.frequency);
  const load = checkLoad(caller, "load", given.load);
  const prototype = familyPrototype(caller, given);
  const acoustic = pass === "low" ? lowPass(prototype, frequency) : highPass(prototype, frequency);
  const driver = driverFunction(caller, pass, given.driver);
  const missing = prototype.order - driver.poles.length;
  if (missing < 1) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: the driver's own roll-off of order ${driver.poles.length} must be less steep than the function wanted, of order ${prototype.order}`,
      "Ask for a higher order, or put the corner where the driver is still flat",
    );
  }
  // Acoustic over driver: the driver's zeros at 0 cancel against as many of the function's; its poles become zeros.
  const zeros = pass === "low" ? driver.poles : [...acoustic.zeros.slice(driver.zeros.length), ...driver.poles];
  const electrical = makeScaled(zeros, acoustic.poles, acoustic.gain / driver.gain);
  const orders = [missing - 1, missing, missing + 1].filter((order) => order >= 1);
  const fitted = orders.map((order) => fitElectrical({ pass, order, frequency, load, acoustic, driver }));
  const candidates = fitted.filter((each) => each !== undefined).sort((a, b) => a.error.worstDb - b.error.worstDb);
  if (candidates.length === 0) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: no ladder of order ${orders.join(", ")} with finite values comes near this function with this driver`,
      "Move the corner away from the driver's own roll-off",
    );
  }
  return Object.freeze({ acoustic, driver, electrical, candidates: Object.freeze(candidates), best: candidates[0]! });
}

function driverFunction(caller: string, pass: "low" | "high", rollOff: RollOff): TransferFunction {
  const given = checkOptions(`${caller}: driver`, rollOff, ["order", "frequency", "q"]);
  const order = checkNumber(caller, "driver.order", given.order, { integer: true, min: 1, max: 2 });
  const w = 2 * Math.PI * checkFrequency(caller, "driver.frequency", given.frequency);
  if (order === 1 && given.q !== undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "driver.q" has no meaning for order 1, got ${given.q}`,
      "Leave it out",
    );
  }
  const poles = order === 1 ? [{ re: -w, im: 0 }] : secondOrderPoles(w, checkNumber(caller, "driver.q", given.q, { min: 0.05, max: 50 }));
  const zeros = pass === "low" ? [] : poles.map(() => ({ re: 0, im: 0 }));
  return cascade(makeScaled(zeros, poles, pass === "low" ? w ** order : 1));
}
