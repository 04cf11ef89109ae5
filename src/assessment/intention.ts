import type { BesselNormalization, FamilyName } from "../alignments";
import { DividingNetworkError } from "../errors";
import { checkNumber, checkObject, checkOptions, show } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { statedPrototype } from "./stated-prototype";

/** What a pair of branches is meant to do where one hands over to the other: the rows of crossover, slopes, overlap, phase and null then have limits, those that the ideal pair keeps with some room. They explain, and do not vote. */
export interface Intention {
  /** Part of the lower branch's driver. */
  readonly lower: string;
  /** Part of the upper branch's driver. */
  readonly upper: string;
  /** Acoustic order of both slopes, dimensionless. */
  readonly order: number;
  /** Acoustic family of both: the limits are then those that its ideal keeps; absent: Butterworth, whose overlap a Linkwitz–Riley pair shares. */
  readonly family?: FamilyName;
  /** dB: of a Chebyshev pair. */
  readonly rippleDb?: number;
  /** Of a Bessel or critically damped pair: what its corner means. */
  readonly normalization?: BesselNormalization;
  /** Hz: where their levels are to be equal. */
  readonly frequency?: number;
}

/** An intention as `goal` takes it. */
export interface IntentionOptions {
  /** Part of the lower branch. */
  readonly lower: string;
  /** Part of the upper branch. */
  readonly upper: string;
  /** Acoustic order of both slopes, dimensionless. */
  readonly order: number;
  /** Acoustic family of both slopes; default Butterworth. */
  readonly family?: FamilyName | undefined;
  /** dB: of a Chebyshev pair, and needed there. */
  readonly rippleDb?: number | undefined;
  /** Of a Bessel or critically damped pair: what its corner means. */
  readonly normalization?: BesselNormalization | undefined;
  /** Hz: where their levels are to be equal. */
  readonly frequency?: Frequency | undefined;
}

/** An intention as it is taken in. */
export function checkIntention(caller: string, argument: string, value: IntentionOptions): Intention {
  const { lower, upper, order, family, rippleDb, normalization, frequency } = checkOptions(
    caller,
    checkObject(caller, argument, value, "{ lower, upper, order }"),
    ["lower", "upper", "order", "family", "rippleDb", "normalization", "frequency"],
  );
  if (typeof lower !== "string" || typeof upper !== "string" || lower === upper)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must name two parts as lower and upper, got ${show(lower)} and ${show(upper)}`,
    );
  const whole = checkNumber(caller, `${argument}.order`, order, { integer: true, min: 1, max: 8 });
  if (family === undefined && (rippleDb !== undefined || normalization !== undefined))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must name a family where it states a ripple or a normalization`,
      'Write family: "chebyshev" or "bessel"',
    );
  if (family !== undefined) statedPrototype(caller, argument, { family, order: whole, rippleDb, normalization });
  return Object.freeze({
    lower,
    upper,
    order: whole,
    ...(family === undefined ? {} : { family }),
    ...(rippleDb === undefined ? {} : { rippleDb }),
    ...(normalization === undefined ? {} : { normalization }),
    ...(frequency === undefined ? {} : { frequency: inSi(caller, `${argument}.frequency`, frequency, "Hz", { above: 0 }) }),
  });
}
