import { sameDirection } from "../loudspeaker/internal";
import { predict, type Loudspeaker } from "../loudspeaker";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { anchoredGrid, type Band } from "./band";
import type { Goal, GoalPlace } from "./goal-types";
import { knownBand } from "./load";
import { withPartner } from "./heard-places";
import type { GoalLoss } from "./loss";
import { shapeOf } from "./target-shape";
import { QUIETEST_DB } from "./third-octaves";

/** Where the level is looked at outside the judged band: each a power mean over a third of an octave, from points a sixth apart. */
export interface OutsideBand {
  /** Hz: the points that are needed; they reach into the judged band by one. */
  readonly frequencies: Float64Array;
  /** Each place on the axis of frequency: the middle in Hz, the first point that counts, and what each counts, their sum 1. */
  readonly rows: readonly { readonly frequency: number; readonly first: number; readonly weights: Float64Array }[];
  /** Which of the places that were asked for are known there. */
  readonly places: readonly number[];
}

interface Direction {
  readonly azimuth: number;
  readonly elevation: number;
}

/** The level outside the judged band that lies highest, against the target and against what is inside. */
export interface Hump {
  /** dB above the target. */
  readonly aboveDb: number;
  /** dB above the target of the highest level inside the judged band at the same place. */
  readonly insideDb: number;
  /** Hz, where it is. */
  readonly frequency: number;
  /** Degrees: at which of the goal's places. */
  readonly azimuth: number;
  /** Degrees. */
  readonly elevation: number;
}

/** Points per octave: three of them make a third of an octave. */
const PER_OCTAVE = 6;

/** Hz: where every driver was measured at a place, and every impedance is known. */
function trustedBand({ network, drivers, sourceImpedance }: Loudspeaker, { partner }: Goal, place: Direction, distance: number): Band {
  const at = (direction: Direction) => sameDirection(place, direction);
  const own = [
    ...drivers.flatMap(({ pressures }) => pressures.filter((one) => Math.abs(one.distance - distance) < 1e-3 && at(one))),
    ...(partner !== undefined && "pressures" in partner ? partner.pressures.filter(at) : []),
  ].map(({ response }) => response.frequencies);
  if (typeof sourceImpedance === "object" && "frequencies" in sourceImpedance) own.push(sourceImpedance.frequencies);
  const { from, to } = knownBand(network);
  return {
    from: own.reduce((most, one) => Math.max(most, one.find((frequency) => frequency > 0) ?? Infinity), from),
    to: own.reduce((least, one) => Math.min(least, one[one.length - 1]!), to),
  };
}

/** The part that isn't judged of the band trusted on the axis, or else at the first place; no rows where all of it is. Places known over less of it aren't looked at. */
export function outsideBand(box: Loudspeaker, goal: Goal, places: readonly GoalPlace[], distance: number, judged: Band): OutsideBand {
  const bands = places.map((place) => trustedBand(box, goal, place, distance));
  const axis = places.findIndex(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  const trusted = bands[Math.max(0, axis)]!;
  const all = anchoredGrid(trusted, PER_OCTAVE);
  const inside = (frequency: number) => frequency >= judged.from * (1 - 1e-6) && frequency <= judged.to * (1 + 1e-6);
  const needed = [...all].flatMap((frequency, index) => (inside(frequency) ? [] : [index - 1, index, index + 1]));
  const kept = [...new Set(needed)].filter((index) => index >= 0 && index < all.length);
  return {
    frequencies: Float64Array.from(kept, (index) => all[index]!),
    rows: kept.flatMap((index, here) => {
      if (inside(all[index]!)) return [];
      const [first, last] = [kept[here - 1] === index - 1 ? here - 1 : here, kept[here + 1] === index + 1 ? here + 1 : here];
      const weights = Float64Array.from({ length: last - first + 1 }, (_, i) => (first + i === here ? 2 : 1));
      const sum = weights.reduce((total, weight) => total + weight, 0);
      return [{ frequency: all[index]!, first, weights: weights.map((weight) => weight / sum) }];
    }),
    places: bands.flatMap(({ from, to }, index) =>
      from <= all[0]! * (1 + 1e-9) && to >= all[all.length - 1]! * (1 - 1e-9) ? [index] : [],
    ),
  };
}

/** dB above the target that a hump may come to: what the goal allows, or what is as high inside the band and is judged there. */
export function humpAllowed(limitDb: number, insideDb: number): number {
  return Math.max(limitDb, insideDb);
}

/** Of all levels outside the band, at the places of a loss, the one that lies highest beyond what is allowed; undefined where nothing lies outside. */
export function humpOf(
  box: Loudspeaker,
  goal: Goal,
  { distance, levelDb, places: all }: GoalLoss,
  { frequencies, rows, places: known }: OutsideBand,
  limitDb: number,
): Hump | undefined {
  if (rows.length === 0) return undefined;
  const judged = known.map((index) => all[index]!);
  const { places: heard } = predict(box, {
    frequencies,
    places: judged.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation })),
    voltage: DRIVE_VOLTAGE,
  });
  let highest: Hump | undefined;
  judged.forEach(({ azimuth, elevation, highestDb: insideDb }, k) => {
    const own = goal.places.find((one) => one.azimuth === azimuth && one.elevation === elevation);
    const { re, im } = withPartner(goal, { azimuth, elevation }, heard[k]!.sum);
    const shape = shapeOf(goal, own ?? {});
    const target = own?.levelDb ?? levelDb;
    const beyond = (hump: Hump) => hump.aboveDb - humpAllowed(limitDb, hump.insideDb);
    for (const { frequency, first, weights } of rows) {
      const power = weights.reduce((sum, weight, i) => sum + weight * (re[first + i]! ** 2 + im[first + i]! ** 2), 0);
      const level = Math.max(QUIETEST_DB, 10 * Math.log10(power)) - 20 * Math.log10(REFERENCE_PRESSURE);
      const found = { aboveDb: level - shape(frequency) - target, insideDb, frequency, azimuth, elevation };
      if (highest === undefined || beyond(found) > beyond(highest)) highest = Object.freeze(found);
    }
  });
  return highest;
}

/** dB above the target that the level may reach outside the judged band; undefined where that is nobody's matter. */
export function humpLimit({ limits, stated, largestHumpDb }: Goal): number | undefined {
  return limits === "default" || stated.includes("largestHumpDb") ? largestHumpDb : undefined;
}
