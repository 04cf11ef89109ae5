import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkNumbers, checkObject, checkOneOf, checkOptions, owned, saidBy, show } from "../errors/internal";
import { highPass, type BesselNormalization, type FamilyName, type FamilyOptions } from "../alignments";
import { familyPrototype } from "../alignments/internal";
import type { Frequency, Length, Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { responseOf, type FrequencyResponse, type TransferFunction } from "../response";
import { checkedGrid, checkResponse } from "../response/internal";
import { checkBand, type Band, type BandText } from "./band";

/** A place at which the sound is to reach its target. */
export interface GoalPlace {
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** How much it counts, dimensionless, above 0. */
  readonly weight: number;
  /** dB re 20 µPa at 1 kHz of this place's own target; absent: the goal's. */
  readonly levelDb?: number;
  /** dB per octave of this place's own target; absent: the goal's. */
  readonly slopeDbPerOctave?: number;
}

/** What is heard beside the network: another loudspeaker or amplifier channel. */
export type Partner =
  | {
    /** Pa for 2.83 V, at each place that the goal names. */
    readonly pressures: readonly {
    /** Degrees. */
    readonly azimuth: number;
    /** Degrees. */
    readonly elevation: number;
    /** Pa. */
    readonly response: FrequencyResponse }[] }
  | {
    /** The high-pass that the target carries. */
    readonly highPass: TransferFunction };

/** A partner as it is given: its high-pass may be named by family, order and corner instead of its zeros and poles. */
export type PartnerOptions = Partner | {
  /** The high-pass that the target carries, by its name. */
  readonly highPass: FamilyOptions & {
    /** Hz: its corner. */
    readonly frequency: Frequency } };

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

/** What a loudspeaker is meant to do: the one measure of verdict, fit and search. */
export interface Goal {
  /** Hz: what is judged. */
  readonly band: Band;
  /** Whether the band was asked for; otherwise it may be cut to what was measured. */
  readonly bandStated: boolean;
  /** Hz: where stated, the loss is a mean over these, with plain levels. */
  readonly frequencies?: Float64Array;
  /** m; absent: the nearest at which the axis was measured. */
  readonly distance?: number;
  /** dB re 20 µPa at 1 kHz, for 2.83 V at the distance; absent: free. */
  readonly levelDb?: number;
  /** dB per octave, 0 unless stated. */
  readonly slopeDbPerOctave: number;
  /** A curve on top of level and slope: Hz and dB. */
  readonly curve?: {
    /** Hz. */
    readonly frequencies: Float64Array;
    /** dB. */
    readonly levelDb: Float64Array };
  /** dB to either side of the target, for third-octave levels. Default 3 dB: what data sheets usually state (common practice, no source). */
  readonly corridorDb: number;
  /** Where the sound is to reach its target. */
  readonly places: readonly GoalPlace[];
  /** dB that a new network may lose against the one found. Default 3 dB (choice, no source): a free level buys flatness with loudness. */
  readonly largestLevelLossDb: number;
  /** dB re 20 µPa: the least mean level; absent: none. */
  readonly leastLevelDb?: number;
  /** Ω: what the amplifier bears. By default 80 % of the rated impedance, the rule of IEC 60268-5 as remembered, not verified. */
  readonly amplifier: {
    /** Ω: the least |Z|. */
    readonly smallestImpedance?: number;
    /** Ω: the least resistance that dissipates as much at its peak. */
    readonly smallestPeakDissipationResistance?: number };
  /**
   * By driver: dB by which its voltage at its own resonance is to lie below its passband's; `"not spared"` where that is nobody's matter.
   * A tweeter's default is 12 dB: second order an octave above its resonance (common practice, no source).
   */
  readonly drivers: Readonly<Record<string, number | "not spared">>;
  /** How a woofer's resonance is to be damped; limits hold only where stated, since no rule is known that fits every loudspeaker. They explain, and do not vote. */
  readonly damping: {
    /** Q of a woofer at its resonance, dimensionless. */
    readonly largestQ?: number;
    /** Ω that it may see instead of an ideal source: network, cable and amplifier. */
    readonly largestSourceResistance?: number };
  /** What is heard beside the network. */
  readonly partner?: Partner;
  /** What pairs of branches are meant to do. */
  readonly intentions: readonly Intention[];
  /** `"stated"`: only the limits that were stated hold. */
  readonly limits: "default" | "stated";
  /** Which limits were stated, by name. */
  readonly stated: readonly string[];
}

/** What `goal` takes; everything has a default. */
export interface GoalOptions {
  /** Hz; default 300 Hz to 10 kHz, cut to what was measured. */
  readonly band?: BandText | undefined;
  /** Hz, strictly ascending: the loss is then a mean over these, each counting the same, with plain levels. */
  readonly frequencies?: ArrayLike<number> | undefined;
  /** m; default the nearest at which the axis was measured. */
  readonly distance?: Length | undefined;
  /** dB re 20 µPa at 1 kHz for 2.83 V; default free. */
  readonly levelDb?: number | undefined;
  /** dB per octave; default 0. */
  readonly slopeDbPerOctave?: number | undefined;
  /** dB on top of level and slope, over Hz. */
  readonly curve?: {
    /** Hz. */
    readonly frequencies: ArrayLike<number>;
    /** dB. */
    readonly levelDb: ArrayLike<number> } | undefined;
  /** dB to either side; default 3 dB. */
  readonly corridorDb?: number | undefined;
  /** Degrees and weights; default the axis alone. */
  readonly places?: readonly {
    /** Degrees, positive towards the loudspeaker's own left; default 0°. */
    readonly azimuth?: number | undefined;
    /** Degrees, positive up; default 0°. */
    readonly elevation?: number | undefined;
    /** How much it counts, dimensionless; default 1. */
    readonly weight?: number | undefined;
    /** dB re 20 µPa. */
    readonly levelDb?: number | undefined;
    /** dB per octave of this place's own target. */
    readonly slopeDbPerOctave?: number | undefined }[] | undefined;
  /** dB against the network found; default 3 dB. */
  readonly largestLevelLossDb?: number | undefined;
  /** dB re 20 µPa, mean over the band; default none. */
  readonly leastLevelDb?: number | undefined;
  /** Ω; default 80 % of the rated impedance, and no limit of peak dissipation. */
  readonly amplifier?: {
    /** Ω: the least |Z|. */
    readonly smallestImpedance?: Resistance | undefined;
    /** Ω: the least resistance that dissipates as much at its peak. */
    readonly smallestPeakDissipationResistance?: Resistance | undefined } | undefined;
  /** dB at the driver's resonance below its passband, by driver's name; default 12 dB for tweeters. */
  readonly drivers?: Readonly<Record<string, number | "not spared">> | undefined;
  /** Dimensionless and Ω: what a woofer's Q, and the source resistance that it sees, may come to; default no limits. */
  readonly damping?: {
    /** Q of a woofer at its resonance, dimensionless. */
    readonly largestQ?: number | undefined;
    /** Ω that it may see instead of an ideal source. */
    readonly largestSourceResistance?: Resistance | undefined } | undefined;
  /** What plays beside: pressures in Pa for 2.83 V, or the high-pass that the target then carries. */
  readonly partner?: PartnerOptions | undefined;
  /** Per pair of branches, what is meant; default nothing. */
  readonly intentions?: readonly {
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
    readonly frequency?: Frequency | undefined }[] | undefined;
  /** Whether limits that aren't stated hold; default `"default"`. */
  readonly limits?: "default" | "stated" | undefined;
}

const NAMES = ["band", "frequencies", "distance", "levelDb", "slopeDbPerOctave", "curve", "corridorDb", "places", "largestLevelLossDb", "leastLevelDb", "amplifier", "drivers", "damping", "partner", "intentions", "limits"] as const;

/**
 * A goal: what the verdict, the fit and the search measure a loudspeaker by. Target on the axis as a level (free unless stated), a slope in
 * dB per octave that passes through that level at 1 kHz, or a curve; a corridor; places with weights; the loudness to keep; what amplifier
 * and drivers bear. Each default says why at its place in `Goal`.
 *
 * @param options `band` and `frequencies` in Hz, `distance` in m, levels in dB re 20 µPa for 2.83 V, places in degrees, limits in Ω and dB
 * @returns the goal, frozen, in SI, dB and degrees
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `invalid-quantity`
 * @example
 * ```ts
 * import { goal } from "dividing-network/assessment";
 *
 * const flat = goal({ band: { from: "300 Hz", to: "10 kHz" }, places: [{ azimuth: 0, weight: 2 }, { azimuth: 20 }, { azimuth: -20 }] });
 * flat.places[1]?.weight; // 1
 * flat.corridorDb; // 3
 * ```
 */
export function goal(options: GoalOptions = {}): Goal {
  const caller = "goal";
  const given = checkOptions(caller, options, NAMES);
  const decibels = (name: "levelDb" | "leastLevelDb", value: number | undefined) => (value === undefined ? {} : { [name]: checkNumber(caller, name, value, { min: -200, max: 300, unit: "dB" }) });
  const band = given.band === undefined ? { from: 300, to: 10_000 } : checkBand(caller, "band", given.band);
  const { smallestImpedance, smallestPeakDissipationResistance } = checkOptions(caller, given.amplifier ?? {}, ["smallestImpedance", "smallestPeakDissipationResistance"]);
  const places = checkList(caller, "places", given.places ?? [{}], "{ azimuth, elevation, weight }");
  if (places.length === 0) throw new DividingNetworkError("invalid-argument", `${caller}: "places" must be an array of at least one { azimuth, elevation, weight }, got ${show(given.places)}`, "Leave it out for the axis alone");
  const stated = [
    ...(given.largestLevelLossDb === undefined ? [] : ["largestLevelLossDb"]), ...(given.leastLevelDb === undefined ? [] : ["leastLevelDb"]), ...(smallestImpedance === undefined ? [] : ["smallestImpedance"]),
    ...(smallestPeakDissipationResistance === undefined ? [] : ["smallestPeakDissipationResistance"]), ...Object.keys(given.drivers ?? {}),
  ];
  const fresh: Goal = Object.freeze({
    band: Object.freeze(band),
    bandStated: given.band !== undefined,
    ...(given.frequencies === undefined ? {} : { frequencies: checkedGrid(caller, given.frequencies) }),
    ...(given.distance === undefined ? {} : { distance: inSi(caller, "distance", given.distance, "m", { above: 0 }) }),
    ...decibels("levelDb", given.levelDb),
    slopeDbPerOctave: checkNumber(caller, "slopeDbPerOctave", given.slopeDbPerOctave ?? 0, { min: -24, max: 24, unit: "dB per octave" }),
    ...(given.curve === undefined ? {} : { curve: checkCurve(caller, given.curve) }),
    corridorDb: checkNumber(caller, "corridorDb", given.corridorDb ?? 3, { above: 0, max: 60, unit: "dB" }),
    places: Object.freeze(places.map((place, index) => checkPlace(caller, `places[${index}]`, checkObject(caller, `places[${index}]`, place, "{ azimuth, elevation, weight }")))),
    largestLevelLossDb: checkNumber(caller, "largestLevelLossDb", given.largestLevelLossDb ?? 3, { min: 0, max: 100, unit: "dB" }),
    ...decibels("leastLevelDb", given.leastLevelDb),
    amplifier: Object.freeze({
      ...(smallestImpedance === undefined ? {} : { smallestImpedance: inSi(caller, "amplifier.smallestImpedance", smallestImpedance, "Ω", { min: 0 }) }),
      ...(smallestPeakDissipationResistance === undefined ? {} : { smallestPeakDissipationResistance: inSi(caller, "amplifier.smallestPeakDissipationResistance", smallestPeakDissipationResistance, "Ω", { min: 0 }) }),
    }),
    drivers: Object.freeze(Object.fromEntries(Object.entries(given.drivers ?? {}).map(([name, value]) => [name, value === "not spared" ? value : checkNumber(caller, `drivers.${name}`, value, { min: 0, max: 120, unit: "dB" })]))),
    damping: checkDamping(caller, given.damping ?? {}),
    ...(given.partner === undefined ? {} : { partner: checkPartner(caller, given.partner) }),
    intentions: Object.freeze(checkList(caller, "intentions", given.intentions ?? [], "{ lower, upper, order }").map((intention, index) => checkIntention(caller, `intentions[${index}]`, intention))),
    limits: checkOneOf(caller, "limits", given.limits ?? "default", ["default", "stated"]),
    stated: Object.freeze(stated),
  });
  made.add(fresh);
  return fresh;
}

function checkDamping(caller: string, value: NonNullable<GoalOptions["damping"]>): Goal["damping"] {
  const { largestQ, largestSourceResistance } = checkOptions(caller, value, ["largestQ", "largestSourceResistance"]);
  return Object.freeze({
    ...(largestQ === undefined ? {} : { largestQ: checkNumber(caller, "damping.largestQ", largestQ, { above: 0, max: 100 }) }),
    ...(largestSourceResistance === undefined ? {} : { largestSourceResistance: inSi(caller, "damping.largestSourceResistance", largestSourceResistance, "Ω", { min: 0 }) }),
  });
}

function checkPlace(caller: string, argument: string, value: object): GoalPlace {
  const { azimuth = 0, elevation = 0, weight = 1, levelDb, slopeDbPerOctave } = checkOptions(caller, value as Partial<GoalPlace>, ["azimuth", "elevation", "weight", "levelDb", "slopeDbPerOctave"]);
  return Object.freeze({
    azimuth: checkNumber(caller, `${argument}.azimuth`, azimuth, { min: -180, max: 180, unit: "degrees" }),
    elevation: checkNumber(caller, `${argument}.elevation`, elevation, { min: -90, max: 90, unit: "degrees" }),
    weight: checkNumber(caller, `${argument}.weight`, weight, { above: 0, max: 1e6 }),
    ...(levelDb === undefined ? {} : { levelDb: checkNumber(caller, `${argument}.levelDb`, levelDb, { min: -200, max: 300, unit: "dB" }) }),
    ...(slopeDbPerOctave === undefined ? {} : { slopeDbPerOctave: checkNumber(caller, `${argument}.slopeDbPerOctave`, slopeDbPerOctave, { min: -24, max: 24, unit: "dB per octave" }) }),
  });
}

function checkCurve(caller: string, value: NonNullable<GoalOptions["curve"]>): NonNullable<Goal["curve"]> {
  const { frequencies, levelDb } = checkOptions(caller, value, ["frequencies", "levelDb"]);
  const grid = checkedGrid(`${caller}: curve`, frequencies);
  if (!(grid[0]! > 0) || grid.length < 2 || grid.length !== levelDb?.length || !Array.from(checkNumbers(caller, "curve.levelDb", levelDb)).every((level) => Math.abs(level) <= 1000)) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "curve" must be { frequencies, levelDb } of one length of at least two, above 0 Hz and in dB, got ${show(value)}`);
  }
  return Object.freeze({ frequencies: grid, levelDb: Float64Array.from(levelDb) });
}

function checkPartner(caller: string, value: PartnerOptions): Partner {
  if (typeof value === "object" && value !== null && "highPass" in value) {
    const named: unknown = value.highPass;
    if (typeof named === "object" && named !== null && "family" in named) {
      const { family, order, rippleDb, normalization, frequency } = checkOptions(caller, named as FamilyOptions & { readonly frequency: Frequency }, ["family", "order", "rippleDb", "normalization", "frequency"]);
      return owned({ highPass: highPass(prototypeAt(caller, "partner.highPass", { family, order, rippleDb, normalization }), inSi(caller, "partner.highPass.frequency", frequency, "Hz", { min: 1e-3, max: 1e9 })) });
    }
    const { zeros, poles, gain } = (value.highPass ?? {}) as Partial<TransferFunction>;
    if (!Array.isArray(zeros) || !Array.isArray(poles) || typeof gain !== "number") throw new DividingNetworkError("invalid-argument", `${caller}: "partner.highPass" must be a filter, as highPass() gives it, got ${show(value.highPass)}`);
    const filter = value.highPass as TransferFunction;
    responseOf(filter, [1000]);
    return owned({ highPass: filter });
  }
  const { pressures } = checkOptions(caller, checkObject(caller, "partner", value, "{ pressures } or { highPass }"), ["pressures"]);
  return Object.freeze({
    pressures: Object.freeze(checkList(caller, "partner.pressures", pressures, "{ azimuth, elevation, response }").map((each, index) => {
      const { azimuth, elevation, response } = checkObject(caller, `partner.pressures[${index}]`, each, "{ azimuth, elevation, response }");
      return Object.freeze({
        azimuth: checkNumber(caller, `partner.pressures[${index}].azimuth`, azimuth, { unit: "degrees" }),
        elevation: checkNumber(caller, `partner.pressures[${index}].elevation`, elevation, { unit: "degrees" }),
        response: checkResponse(caller, `partner.pressures[${index}].response`, response),
      });
    })),
  });
}

/** A family's prototype; what can't be is refused by the name of the argument that asks for it. */
function prototypeAt(caller: string, argument: string, options: FamilyOptions): ReturnType<typeof familyPrototype> {
  try {
    return familyPrototype(caller, options);
  } catch (error) {
    const { message, hint } = saidBy(error);
    throw new DividingNetworkError("invalid-argument", `${caller}: ${argument}: ${message}`, hint);
  }
}

function checkIntention(caller: string, argument: string, value: NonNullable<GoalOptions["intentions"]>[number]): Intention {
  const { lower, upper, order, family, rippleDb, normalization, frequency } = checkOptions(caller, checkObject(caller, argument, value, "{ lower, upper, order }"), ["lower", "upper", "order", "family", "rippleDb", "normalization", "frequency"]);
  if (typeof lower !== "string" || typeof upper !== "string" || lower === upper) throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must name two parts as lower and upper, got ${show(lower)} and ${show(upper)}`);
  const whole = checkNumber(caller, `${argument}.order`, order, { integer: true, min: 1, max: 8 });
  if (family === undefined && (rippleDb !== undefined || normalization !== undefined)) throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must name a family where it states a ripple or a normalization`, "Write family: \"chebyshev\" or \"bessel\"");
  if (family !== undefined) prototypeAt(caller, argument, { family, order: whole, rippleDb, normalization });
  return Object.freeze({ lower, upper, order: whole, ...(family === undefined ? {} : { family }), ...(rippleDb === undefined ? {} : { rippleDb }), ...(normalization === undefined ? {} : { normalization }), ...(frequency === undefined ? {} : { frequency: inSi(caller, `${argument}.frequency`, frequency, "Hz", { above: 0 }) }) });
}

const made = /* @__PURE__ */ new WeakSet<object>();

/** A goal as `goal` makes it, a copy of one (looked at again), or its options. */
export function goalOf(value: Goal | GoalOptions | undefined): Goal {
  if (value !== undefined && made.has(value)) return value as Goal;
  if (typeof value !== "object" || value === null || !("bandStated" in value) || !("stated" in value)) return goal(value);
  const { bandStated, stated, band, ...rest } = value;
  const again = goal(bandStated === false ? rest : { ...rest, band });
  const copy = Object.freeze({ ...again, stated: Object.freeze(again.stated.filter((name) => Array.isArray(stated) && stated.includes(name))) });
  made.add(copy);
  return copy;
}
