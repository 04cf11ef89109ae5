import { equivalentPeakDissipationResistance } from "../parts";
import { compile, type Entries } from "../network";
import type { Loudspeaker, Prediction, PressureAtPlace } from "../loudspeaker";
import { levelDb, magnitude, type FrequencyResponse } from "../response";
import type { Band } from "./band";
import { branchesAt } from "./branches";
import type { Goal } from "./goal";
import { RATED_SHARE, type Load } from "./load";
import { bandOf, lossAt, shapeOf, withPartner } from "./loss";
import { integralBetween, QUIETEST_DB, thirdOctaves } from "./third-octaves";
import { REFERENCE_PRESSURE } from "../physics";

/** One network by the goal: numbers that hang on nothing but the loudspeaker, its network and the goal. */
export interface Quality {
  /** dB from the target on the axis, root mean square of third-octave levels. */
  readonly axisDb: number;
  /** dB: the largest deviation there, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
  /** Octaves outside the corridor there. */
  readonly octavesOutside: number;
  /** dB re 20 µPa: the level that fits the axis best, at 1 kHz of the target's line. */
  readonly levelDb: number;
  /** Each measured place off the axis that covers some of the band: how far it is from its own target, or from a straight line over log frequency where the goal names none. */
  readonly places: readonly {
    /** Degrees. */
    readonly azimuth: number;
    /** Degrees. */
    readonly elevation: number;
    /** dB, root mean square of third-octave levels. */
    readonly lossDb: number;
    /** dB: the largest deviation, with its sign. */
    readonly worstDb: number;
    /** Hz, where it is. */
    readonly worstFrequency: number;
    /** Octaves outside the corridor. */
    readonly octavesOutside: number }[];
  /** Ω: the smallest magnitude of the impedance, and what the amplifier bears; absent where no limit is known. */
  readonly load: {
    /** Ω: the least |Z|. */
    readonly minimum: number;
    /** Ω: what the amplifier bears. */
    readonly limit?: number;
    /** Ω: the resistance that dissipates as much at its peak. */
    readonly peakDissipation: number;
    /** Ω: what the amplifier bears of it. */
    readonly peakDissipationLimit?: number };
  /** Each driver that is to be spared. */
  readonly spared: readonly SparedDriver[];
}

/** How a driver's voltage at its own resonance compares with its passband's. */
export interface SparedDriver {
  /** The driver's name. */
  readonly driver: string;
  /** Its part in the network. */
  readonly part: string;
  /** Hz: the peak of its impedance; absent when it shows none: then nothing is checked. */
  readonly resonance?: number;
  /** dB by which the voltage there lies below the passband's. */
  readonly belowDb?: number;
  /** dB it should. */
  readonly limitDb: number;
}

/** The judged band of a goal for one prediction: the axis and every measured place cover it. */
export function qualityOf(box: Loudspeaker, aim: Goal, prediction: Prediction, axis: PressureAtPlace, load: Load, ratedImpedance: number | undefined): Quality {
  const goal = overItsBand(aim);
  const own = goal.places.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ?? { azimuth: 0, elevation: 0, weight: 1 };
  const alone: Goal = Object.freeze({ ...goal, places: Object.freeze([own]) });
  const heard = withPartner(goal, own, axis.sum);
  const [place] = lossAt(alone, axis.distance, [heard]).places;
  const free = lossAt(withoutLevel(alone), axis.distance, [heard]).levelDb;
  const band = bandOf(alone, [axis.sum]);
  const smallest = goal.amplifier.smallestImpedance ?? (goal.limits === "default" && ratedImpedance !== undefined ? RATED_SHARE * ratedImpedance : undefined);
  const peak = goal.amplifier.smallestPeakDissipationResistance;
  return Object.freeze({
    axisDb: place!.lossDb,
    worstDb: place!.worstDb,
    worstFrequency: place!.worstFrequency,
    octavesOutside: place!.octavesOutside,
    levelDb: free,
    places: Object.freeze(
      prediction.places
        .filter(({ azimuth, elevation }) => azimuth !== 0 || elevation !== 0)
        .flatMap(({ azimuth, elevation, sum }) => {
          const off = offAxis(goal, { azimuth, elevation }, withPlace(goal, azimuth, elevation, sum), band, free);
          return off === undefined ? [] : [Object.freeze({ azimuth, elevation, ...off })];
        }),
    ),
    load: Object.freeze({
      minimum: load.minimum,
      ...(smallest === undefined ? {} : { limit: smallest }),
      peakDissipation: equivalentPeakDissipationResistance(load.impedance).reduce((least, value) => Math.min(least, value), Infinity),
      ...(peak === undefined ? {} : { peakDissipationLimit: peak }),
    }),
    spared: Object.freeze(sparedDrivers(box, goal, prediction, axis, band)),
  });
}

/** A verdict is given over the whole band, also where the loss is a mean over stated frequencies. */
export function overItsBand(goal: Goal): Goal {
  const { frequencies, ...rest } = goal;
  if (frequencies === undefined) return goal;
  return Object.freeze({ ...rest, band: goal.bandStated ? goal.band : Object.freeze({ from: frequencies[0]!, to: frequencies[frequencies.length - 1]! }), bandStated: true });
}

/** The axis alone, its level free. */
function withoutLevel({ levelDb: _, ...rest }: Goal): Goal {
  return Object.freeze({ ...rest, places: Object.freeze([{ azimuth: 0, elevation: 0, weight: 1 }]) });
}

function withPlace(goal: Goal, azimuth: number, elevation: number, sum: FrequencyResponse): FrequencyResponse {
  const { partner } = goal;
  const known = partner !== undefined && "pressures" in partner && partner.pressures.some((pressure) => Math.abs(pressure.azimuth - azimuth) < 0.01 && Math.abs(pressure.elevation - elevation) < 0.01);
  return known ? withPartner(goal, { azimuth, elevation }, sum) : sum;
}

/** dB re 20 µPa of a response's power in Pa². */
const levelRe = (db: number): number => db - 20 * Math.log10(REFERENCE_PRESSURE);

/** dB: from the place's own target where the goal gives it one, else from the straight line that fits best: a steady fall to the side is no fault. */
function offAxis(goal: Goal, where: { readonly azimuth: number; readonly elevation: number }, sum: FrequencyResponse, band: Band, level: number): Omit<Quality["places"][number], "azimuth" | "elevation"> | undefined {
  const named = goal.places.find(({ azimuth, elevation }) => azimuth === where.azimuth && elevation === where.elevation);
  const shape = shapeOf(goal, named ?? {});
  const thirds = thirdOctaves(sum);
  const [from, to] = [Math.max(thirds.from, Math.log(band.from)), Math.min(thirds.to, Math.log(band.to))];
  if (!(to > from)) return undefined;
  const width = to - from;
  const middle = (from + to) / 2;
  const value = (lnf: number) => levelRe(thirds.levelDb(lnf)) - shape(Math.exp(lnf));
  const mean = integralBetween(from, to, thirds.bends, value) / width;
  const own = named !== undefined && (named.levelDb !== undefined || named.slopeDbPerOctave !== undefined);
  const slope = own ? 0 : (integralBetween(from, to, thirds.bends, (lnf) => (value(lnf) - mean) * (lnf - middle)) * 12) / width ** 3;
  const target = own ? (named.levelDb ?? goal.levelDb ?? level) : mean;
  const deviation = (lnf: number) => value(lnf) - target - slope * (lnf - middle);
  const steps = Math.max(2, Math.ceil((width / Math.LN2) * 96));
  let [worstDb, worstFrequency, outside] = [0, Math.exp(from), 0];
  for (let i = 0; i <= steps; i++) {
    const lnf = from + (width * i) / steps;
    const now = deviation(lnf);
    if (Math.abs(now) > Math.abs(worstDb)) [worstDb, worstFrequency] = [now, Math.exp(lnf)];
    if (Math.abs(now) > goal.corridorDb) outside += (i === 0 || i === steps ? 0.5 : 1) / steps;
  }
  return { lossDb: Math.sqrt(Math.max(0, integralBetween(from, to, thirds.bends, (lnf) => deviation(lnf) ** 2) / width)), worstDb, worstFrequency, octavesOutside: (outside * width) / Math.LN2 };
}

/** dB below its passband at its resonance: second order an octave above it (common practice, no source). */
const SPARED_DB = 12;

function sparedDrivers(box: Loudspeaker, goal: Goal, prediction: Prediction, axis: PressureAtPlace, band: Band): SparedDriver[] {
  const branches = branchesAt(prediction, axis);
  return box.drivers.flatMap(({ name, part, role }) => {
    const stated = goal.drivers[name];
    if (stated === "not spared" || (stated === undefined && (role !== "tweeter" || goal.limits === "stated"))) return [];
    const limitDb = stated ?? SPARED_DB;
    const resonance = resonanceOf(box.network, part);
    if (resonance === undefined) return [Object.freeze({ driver: name, part, limitDb })];
    // The passband: where this branch is the loudest of all, in the judged band; of its own network alone.
    const levels = branches.map(({ response }) => levelDb(response));
    const mine = branches.findIndex((branch) => branch.drivers.includes(name));
    const grid = axis.sum.frequencies.filter((frequency, i) => frequency >= band.from && frequency <= band.to && levels.every((level) => level[i]! <= levels[mine]![i]!));
    const passband = grid.length > 0 ? grid : Float64Array.of(band.to);
    const { sourceImpedance } = box;
    const volts = (frequencies: Float64Array) => magnitude(compile<Entries>(box.network).sweep(frequencies, sourceImpedance === undefined ? {} : { sourceImpedance }).voltage(part));
    const pass = Math.sqrt(volts(passband).reduce((sum, v) => sum + v * v, 0) / passband.length);
    // A driver that gets nothing anywhere is spared of everything.
    const belowDb = Math.min(-QUIETEST_DB, -20 * Math.log10(pass > 0 ? volts(Float64Array.of(resonance))[0]! / pass : 0));
    return [Object.freeze({ driver: name, part, resonance, belowDb, limitDb })];
  });
}

/** Hz: where a driver's impedance has its peak, at least a tenth above what follows; undefined when it shows none. */
export function resonanceOf(network: Entries, part: string): number | undefined {
  const [device] = network[part]!;
  if (device.kind !== "driver") return undefined;
  if ("model" in device) return device.model.fs > 0 ? device.model.fs : undefined;
  const { frequencies } = device.response;
  const size = magnitude(device.response);
  let best: number | undefined;
  for (let i = 1; i < size.length - 1; i++) {
    if (!(size[i]! >= size[i - 1]! && size[i]! > size[i + 1]!) || frequencies[i]! > 5000) continue;
    // What follows within two octaves is lower by a tenth, and so is what comes before.
    const after = size.subarray(i).reduce((least, value, k) => (frequencies[i + k]! <= 4 * frequencies[i]! ? Math.min(least, value) : least), Infinity);
    const before = size.subarray(0, i).reduce((least, value) => Math.min(least, value), Infinity);
    if (size[i]! > 1.1 * Math.max(after, before) && (best === undefined || size[i]! > size[frequencies.indexOf(best)]!)) best = frequencies[i]!;
  }
  return best;
}
