import { sameDirection } from "../loudspeaker/internal";
import { equivalentPeakDissipationResistance } from "../parts";
import { compile, type Entries } from "../network";
import type { Loudspeaker, Prediction, PressureAtPlace } from "../loudspeaker";
import { magnitude, type FrequencyResponse } from "../response";
import type { Band } from "./band";
import { againstCorridor, type OutsideStretch } from "./corridor";
import type { Goal } from "./goal-types";
import { knownBand, RATED_SHARE, type Load } from "./load";
import { heardWithPartner } from "./heard-places";
import { bandOf } from "./judged-bands";
import { lossAt, lossEvenIfSilent } from "./loss";
import { checkSound, isSilent } from "./silence";
import { shapeOf } from "./target-shape";
import { humpAllowed, humpLimit, humpOf, outsideBand, type Hump } from "./outside-band";
import { passbandGrid, sparedDb, sparesOf } from "./spared";
import { integralBetween, thirdOctaves } from "./third-octaves";
import { REFERENCE_PRESSURE } from "../physics";

/** One network by the goal: numbers that hang on nothing but the loudspeaker, its network and the goal. */
export interface Quality {
  /** Hz: what was judged on the axis. */
  readonly band: Band;
  /** dB from the target on the axis, root mean square of third-octave levels. */
  readonly axisDb: number;
  /** dB: the largest deviation there, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
  /** Octaves outside the corridor there. */
  readonly octavesOutside: number;
  /** Where it is outside there, low to high. */
  readonly outside: readonly OutsideStretch[];
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
    readonly octavesOutside: number;
    /** Where it is outside, low to high. */
    readonly outside: readonly OutsideStretch[];
    /** Hz: what was judged here; narrower than on the axis where less was measured. */
    readonly band: Band;
  }[];
  /** The highest level outside the judged band, against the target, at the goal's places; absent where all that is trusted is judged. */
  readonly outsideBand?: Hump & {
    /** dB above the target that it may reach: the goal's, or what is as high inside; absent where that is no limit. */
    readonly limitDb?: number;
  };
  /** Ω: the smallest magnitude of the impedance, and what the amplifier bears; absent where no limit is known. */
  readonly load: {
    /** Ω: the least |Z|. */
    readonly minimum: number;
    /** Ω: what the amplifier bears. */
    readonly limit?: number;
    /** Ω: the resistance that dissipates as much at its peak. */
    readonly peakDissipation: number;
    /** Ω: what the amplifier bears of it. */
    readonly peakDissipationLimit?: number;
  };
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
  /** dB by which the voltage there lies below that of its passband: of the octave of the judged band in which its mean square is highest. */
  readonly belowDb?: number;
  /** dB it should. */
  readonly limitDb: number;
}

/** The judged band of a goal for one prediction: the axis and every measured place cover it. */
export function qualityOf(
  box: Loudspeaker,
  aim: Goal,
  prediction: Prediction,
  axis: PressureAtPlace,
  load: Load,
  ratedImpedance: number | undefined,
): Quality {
  const goal = overItsBand(aim);
  const own = goal.places.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ?? { azimuth: 0, elevation: 0, weight: 1 };
  const alone: Goal = Object.freeze({ ...goal, places: Object.freeze([own]) });
  const heard = heardWithPartner(goal, own, axis.sum);
  const [place] = lossAt(alone, axis.distance, [heard]).places;
  const free = lossAt(withoutLevel(alone), axis.distance, [heard]).levelDb;
  const band = bandOf(alone, [heard]);
  checkSound("assess", axis.distance, [{ azimuth: 0, elevation: 0, band }], [heard]);
  const smallest =
    goal.amplifier.smallestImpedance
    ?? (goal.limits === "default" && ratedImpedance !== undefined ? RATED_SHARE * ratedImpedance : undefined);
  const peak = goal.amplifier.smallestPeakDissipationResistance;
  return Object.freeze({
    band,
    axisDb: place!.lossDb,
    worstDb: place!.worstDb,
    worstFrequency: place!.worstFrequency,
    octavesOutside: place!.octavesOutside,
    outside: outsideOnAxis(goal, own, heard, band, own.levelDb ?? goal.levelDb ?? free),
    levelDb: free,
    places: Object.freeze(
      prediction.places
        .filter(({ azimuth, elevation }) => azimuth !== 0 || elevation !== 0)
        .flatMap(({ azimuth, elevation, sum }) => {
          const off = offAxis(goal, { azimuth, elevation }, withPlace(goal, azimuth, elevation, sum), band, free);
          return off === undefined ? [] : [Object.freeze({ azimuth, elevation, ...off })];
        }),
    ),
    ...humpFound(box, aim, prediction, axis.distance, band),
    load: Object.freeze({
      minimum: load.minimum,
      ...(smallest === undefined ? {} : { limit: smallest }),
      peakDissipation: equivalentPeakDissipationResistance(load.impedance).reduce((least, value) => Math.min(least, value), Infinity),
      ...(peak === undefined ? {} : { peakDissipationLimit: peak }),
    }),
    spared: Object.freeze(sparedDrivers(box, goal, band)),
  });
}

/** A verdict is given over the whole band, also where the loss is a mean over stated frequencies. */
export function overItsBand(goal: Goal): Goal {
  const { frequencies, ...rest } = goal;
  if (frequencies === undefined) return goal;
  return Object.freeze({
    ...rest,
    band: goal.bandStated ? goal.band : Object.freeze({ from: frequencies[0]!, to: frequencies[frequencies.length - 1]! }),
    bandStated: true,
  });
}

/** The highest level outside the band at those of the goal's places that were measured, against the target that fits them all. */
function humpFound(
  box: Loudspeaker,
  goal: Goal,
  { places: heard }: Prediction,
  distance: number,
  band: Band,
): { readonly outsideBand?: NonNullable<Quality["outsideBand"]> } {
  const measured = goal.places.filter((place) => heard.some(({ azimuth, elevation }) => sameDirection({ azimuth, elevation }, place)));
  const places = measured.length > 0 ? measured : [{ azimuth: 0, elevation: 0, weight: 1 }];
  const outside = outsideBand(box, goal, places, distance, band);
  if (outside.rows.length === 0) return {};
  const limit = humpLimit(goal);
  const loss = lossEvenIfSilent(box, Object.freeze({ ...goal, distance, places: Object.freeze(places) }));
  const found = humpOf(box, goal, loss, outside, limit ?? 0)!;
  return { outsideBand: Object.freeze({ ...found, ...(limit === undefined ? {} : { limitDb: humpAllowed(limit, found.insideDb) }) }) };
}

/** The axis alone, its level free. */
function withoutLevel({ levelDb: _, ...rest }: Goal): Goal {
  return Object.freeze({ ...rest, places: Object.freeze([{ azimuth: 0, elevation: 0, weight: 1 }]) });
}

function withPlace(goal: Goal, azimuth: number, elevation: number, sum: FrequencyResponse): FrequencyResponse {
  const { partner } = goal;
  const known =
    partner !== undefined
    && "pressures" in partner
    && partner.pressures.some((pressure) => sameDirection(pressure, { azimuth, elevation }));
  return known ? heardWithPartner(goal, { azimuth, elevation }, sum) : sum;
}

/** dB re 20 µPa of a response's power in Pa². */
const levelRe = (db: number): number => db - 20 * Math.log10(REFERENCE_PRESSURE);

/** Where the axis leaves its corridor, by the same levels as the loss. */
function outsideOnAxis(
  goal: Goal,
  own: Goal["places"][number],
  sum: FrequencyResponse,
  band: Band,
  level: number,
): readonly OutsideStretch[] {
  const [thirds, shape] = [thirdOctaves(sum), shapeOf(goal, own)];
  return againstCorridor(
    (lnf) => levelRe(thirds.levelDb(lnf)) - shape(Math.exp(lnf)) - level,
    Math.max(thirds.from, Math.log(band.from)),
    Math.min(thirds.to, Math.log(band.to)),
    goal.corridorDb,
  ).outside;
}

/** dB: from the place's own target where the goal gives it one, else from the straight line that fits best: a steady fall to the side is no fault. */
function offAxis(
  goal: Goal,
  where: { readonly azimuth: number; readonly elevation: number },
  sum: FrequencyResponse,
  band: Band,
  level: number,
): Omit<Quality["places"][number], "azimuth" | "elevation"> | undefined {
  const named = goal.places.find((place) => sameDirection(place, where));
  const shape = shapeOf(goal, named ?? {});
  const thirds = thirdOctaves(sum);
  const [from, to] = [Math.max(thirds.from, Math.log(band.from)), Math.min(thirds.to, Math.log(band.to))];
  // Less than a third of an octave says nothing of a place.
  if (!(to - from >= Math.LN2 / 3 - 1e-9)) return undefined;
  const width = to - from;
  const middle = (from + to) / 2;
  const value = (lnf: number) => levelRe(thirds.levelDb(lnf)) - shape(Math.exp(lnf));
  const mean = integralBetween(from, to, thirds.bends, value) / width;
  // Silence is as straight as a line: it is held against the axis instead.
  const silent = isSilent(sum, { from: Math.exp(from), to: Math.exp(to) });
  const own = silent || (named !== undefined && (named.levelDb !== undefined || named.slopeDbPerOctave !== undefined));
  const slope = own ? 0 : (integralBetween(from, to, thirds.bends, (lnf) => (value(lnf) - mean) * (lnf - middle)) * 12) / width ** 3;
  const target = own ? (named?.levelDb ?? goal.levelDb ?? level) : mean;
  const deviation = (lnf: number) => value(lnf) - target - slope * (lnf - middle);
  return {
    lossDb: Math.sqrt(Math.max(0, integralBetween(from, to, thirds.bends, (lnf) => deviation(lnf) ** 2) / width)),
    ...againstCorridor(deviation, from, to, goal.corridorDb),
    band: Object.freeze({ from: Math.exp(from), to: Math.exp(to) }),
  };
}

function sparedDrivers(box: Loudspeaker, goal: Goal, band: Band): SparedDriver[] {
  const { sourceImpedance } = box;
  const compiled = compile<Entries>(box.network);
  const grid = passbandGrid(band);
  const volts = (part: string, frequencies: Float64Array) =>
    magnitude(compiled.sweep(frequencies, sourceImpedance === undefined ? {} : { sourceImpedance }).voltage(part));
  return sparesOf(box, goal).map(({ stated: _, resonance, ...spare }) => {
    if (resonance === undefined) return Object.freeze(spare);
    const belowDb = sparedDb((frequencies) => volts(spare.part, frequencies), grid, resonance, knownBand(box.network));
    return Object.freeze({ ...spare, resonance, belowDb });
  });
}
