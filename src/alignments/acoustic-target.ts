import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { logGrid } from "../numeric";
import type { Frequency, Resistance } from "../quantity";
import {
  divideResponses,
  minimumPhase,
  resample,
  responseOf,
  scaleResponse,
  type FrequencyResponse,
  type TransferFunction,
} from "../response";
import { checkResponse } from "../response/internal";
import { cascade } from "./filters/cascade";
import { checkFrequency, checkLoad } from "./filters/check-filter";
import { makeScaled, type Filter } from "./filters/filter";
import { familyOptionNames, familyPrototype, type FamilyOptions } from "./prototypes/family";
import { fitElectrical, type ElectricalFit, type FittedLadder } from "./ladders/fit-electrical";
import { highPass } from "./filters/high-pass";
import { lowPass } from "./filters/low-pass";
import { secondOrderPoles } from "./prototypes/second-order-poles";

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
  /** Its own roll-off as a model, or its measured curve on the axis, in any unit. */
  readonly driver: RollOff | FrequencyResponse;
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

/** The same for a driver that was measured. */
export interface MeasuredAcousticTarget {
  /** The function of driver and network together, at 0 dB. */
  readonly acoustic: TransferFunction;
  /** The driver as it was fitted: the magnitude measured with its minimum phase, unit of the measurement. */
  readonly driver: FrequencyResponse;
  /** What the network must do: the acoustic function at `levelDb` over the driver; V per V. */
  readonly electrical: FrequencyResponse;
  /** dB re 1 of the measurement's unit: the level at which driver and best ladder come nearest to the acoustic function. */
  readonly levelDb: number;
  /** Ladders of every order up to the function's, best first. */
  readonly candidates: readonly ElectricalFit[];
  /** The first of them. */
  readonly best: ElectricalFit;
}

/**
 * What a network (H, F) must do for a driver with a roll-off of its own, so that both together have the slope wanted:
 * the exact electrical function, and the ladders of the orders around the difference of the slopes, fitted by least
 * squares of the complex error, with what each leaves. So a second-order network on one driver and a first-order one on
 * the other can make matching acoustic slopes.
 *
 * A measured curve stands for itself: its delay is left out (its magnitude is taken with its minimum phase, as a network can neither
 * know nor mend the rest), its level is free, and ladders of every order up to the function's are fitted within its band, at most four
 * octaves to either side of the corner.
 *
 * @param options the acoustic function: `family`, `order` and what goes with them, `pass`, `frequency` (Hz); `driver`:
 *   its `order` (1 or 2), `frequency` (Hz) and `q`, or its measured `FrequencyResponse`; `load` (Ω)
 * @returns acoustic, driver's and electrical function, and ladders with order, corner (Hz) and error (dB); of a measured driver the
 *   latter two are responses, and `levelDb` is the level
 * @throws DividingNetworkError `not-realizable` when the driver alone falls as steeply as the function wanted or more
 *   steeply; `outside-band` for a measurement that doesn't reach an octave to both sides of the corner, `missing-tail` for a gated one;
 *   `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
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
export function acousticTarget(options: AcousticTargetOptions & { readonly driver: RollOff }): AcousticTarget;
export function acousticTarget(options: AcousticTargetOptions & { readonly driver: FrequencyResponse }): MeasuredAcousticTarget;
export function acousticTarget(options: AcousticTargetOptions): AcousticTarget | MeasuredAcousticTarget;
export function acousticTarget(options: AcousticTargetOptions): AcousticTarget | MeasuredAcousticTarget {
  const caller = "acousticTarget";
  const given = checkOptions(caller, options, [...familyOptionNames, "pass", "frequency", "driver", "load"]);
  const pass = checkOneOf(caller, "pass", given.pass, ["low", "high"]);
  const frequency = checkFrequency(caller, "frequency", given.frequency);
  const load = checkLoad(caller, "load", given.load);
  const prototype = familyPrototype(caller, given);
  const acoustic = pass === "low" ? lowPass(prototype, frequency) : highPass(prototype, frequency);
  const measured: unknown = given.driver;
  if (typeof measured === "object" && measured !== null && "frequencies" in measured) {
    return measuredTarget(caller, { pass, frequency, load, acoustic, order: prototype.order }, checkResponse(caller, "driver", measured));
  }
  const driver = driverFunction(caller, pass, given.driver as RollOff);
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
  const grid = logGrid(frequency / 16, frequency * 16, 161);
  const [wanted, own] = [responseOf(acoustic, grid), responseOf(driver, grid)];
  const candidates = ranked(caller, orders, (order) => fitElectrical({ pass, order, frequency, load, wanted, own, freeLevel: false })).map(
    ({ fit }) => fit,
  );
  return Object.freeze({ acoustic, driver, electrical, candidates: Object.freeze(candidates), best: candidates[0]! });
}

/** The ladders of these orders, best first. */
function ranked(caller: string, orders: readonly number[], fit: (order: number) => FittedLadder | undefined): FittedLadder[] {
  const fitted = orders
    .map(fit)
    .filter((each) => each !== undefined)
    .sort((a, b) => a.fit.error.worstDb - b.fit.error.worstDb);
  if (fitted.length > 0) return fitted;
  throw new DividingNetworkError(
    "not-realizable",
    `${caller}: no ladder of order ${orders.join(", ")} with finite values comes near this function with this driver`,
    "Move the corner away from the driver's own roll-off",
  );
}

/** Points to which a measurement is brought, an octave; its own band ends the grid. */
const PER_OCTAVE = 20;

/** The same for a driver that was measured. */
function measuredTarget(
  caller: string,
  task: {
    readonly pass: "low" | "high";
    readonly frequency: number;
    readonly load: number;
    readonly acoustic: Filter;
    readonly order: number;
  },
  response: FrequencyResponse,
): MeasuredAcousticTarget {
  const { pass, frequency, load, acoustic, order } = task;
  const driver = minimumPhase(response);
  const { frequencies } = driver;
  const [from, to] = [
    Math.max(frequencies[0] === 0 ? frequencies[1]! : frequencies[0]!, frequency / 16),
    Math.min(frequencies.at(-1)!, frequency * 16),
  ];
  if (!(from <= frequency / 2 && to >= frequency * 2)) {
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: "driver" must be measured from an octave below the corner to an octave above it, ${frequency / 2} Hz to ${2 * frequency} Hz, got ${frequencies[0]} Hz to ${frequencies.at(-1)} Hz`,
      "Measure further, or state the driver's roll-off: { order, frequency, q }",
    );
  }
  const grid = logGrid(from, to, Math.max(41, Math.round(PER_OCTAVE * Math.log2(to / from)) + 1));
  const [wanted, own] = [responseOf(acoustic, grid), resample(driver, grid, { delay: 0 })];
  // The level to begin with: that of the driver against the wanted function, where that one passes.
  const passes = Array.from(grid.keys()).filter((i) => Math.hypot(wanted.re[i]!, wanted.im[i]!) > Math.SQRT1_2);
  const start = Math.exp(passes.reduce((sum, i) => sum + Math.log(Math.hypot(own.re[i]!, own.im[i]!)), 0) / passes.length);
  const fitted = ranked(
    caller,
    Array.from({ length: order }, (_, k) => k + 1),
    (each) => fitElectrical({ pass, order: each, frequency, load, wanted, own: scaleResponse(own, 1 / start), freeLevel: true }),
  );
  const levelDb = 20 * Math.log10(start) + fitted[0]!.levelDb;
  const electrical = scaleResponse(divideResponses(wanted, own), 10 ** (levelDb / 20));
  const candidates = fitted.map(({ fit }) => fit);
  return Object.freeze({ acoustic, driver: own, electrical, levelDb, candidates: Object.freeze(candidates), best: candidates[0]! });
}

function driverFunction(caller: string, pass: "low" | "high", rollOff: RollOff): TransferFunction {
  const given = checkOptions(`${caller}: driver`, rollOff, ["order", "frequency", "q"]);
  const order = checkNumber(caller, "driver.order", given.order, { integer: true, min: 1, max: 2 });
  const w = 2 * Math.PI * checkFrequency(caller, "driver.frequency", given.frequency);
  if (order === 1 && given.q !== undefined) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "driver.q" has no meaning for order 1, got ${given.q}`, "Leave it out");
  }
  const poles = order === 1 ? [{ re: -w, im: 0 }] : secondOrderPoles(w, checkNumber(caller, "driver.q", given.q, { min: 0.05, max: 50 }));
  const zeros = pass === "low" ? [] : poles.map(() => ({ re: 0, im: 0 }));
  return cascade(makeScaled(zeros, poles, pass === "low" ? w ** order : 1));
}
