import { sameDirection } from "../loudspeaker/internal";
import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Goal, GoalLoss } from "../assessment";
import {
  anchoredGrid,
  distanceOf,
  dampedAt,
  humpLimit,
  knownBand,
  lossEvenIfSilent,
  noWoofer,
  outsideBand,
  overItsBand,
  passbandGrid,
  qBehind,
  RATED_SHARE,
  sparesOf,
  type OutsideBand,
} from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { hertz, inSi } from "../quantity/internal";

/** A driver that is to be spared. */
export interface Spared {
  readonly part: string;
  /** Hz. */
  readonly resonance: number;
  /** dB. */
  readonly leastDb: number;
}

/** Woofers that are to be damped: what each sees, at its resonance where that is known, instead of an ideal source. */
export interface Damped {
  readonly part: string;
  /** All drivers' parts of the same role: alike, each sees the same. */
  readonly alike: readonly string[];
  /** Hz. */
  readonly frequency: number;
  /** Ω; Infinity where no limit of it is stated. */
  readonly largest: number;
  /** Its Q behind a source of some Ω, real and imaginary part, and how large that may be; absent where no limit is stated, or its impedance tells no Q. */
  readonly q?: { readonly behind: (rs: number, xs: number) => number; readonly largest: number } | undefined;
}

/** How far a woofer's source is beyond its limits: Ω as a part of what is allowed and 1 Ω, and Q as a part; not above 0 where they are kept. */
export function beyondDamping({ largest, q }: Damped, rs: number, xs: number): { readonly ohms: number; readonly q: number } {
  return {
    ohms: largest === Infinity ? -Infinity : (rs - largest) / (largest + 1),
    q: q === undefined ? -Infinity : q.behind(rs, xs) / q.largest - 1,
  };
}

/** Limits in numbers: what a network must keep, whatever its loss. */
export interface Limits {
  /** Ω over the whole band in which the load is known; 0: none. */
  readonly smallestImpedance: number;
  readonly smallestPeakDissipationResistance: number;
  /** dB re 20 µPa, mean over places and band; −Infinity: none. */
  readonly leastLevelDb: number;
  /** dB re 20 µPa, mean on the axis alone, by which the verdict judges loudness; −Infinity: none, or the axis is all that the goal holds. */
  readonly leastAxisDb: number;
  readonly spared: readonly Spared[];
  readonly damped: readonly Damped[];
  /** dB above the target outside the judged band; Infinity: none. */
  readonly largestHumpDb: number;
  /** Where that is judged; nothing where there is no limit. */
  readonly outside: OutsideBand;
  /** Ω and which share of a rating counts, where the goal states the amplifier's level: parts are then held to their ratings. */
  readonly rated?: { readonly ohms: number; readonly share: "whole" | "allowed" } | undefined;
  /** Hz, where the load is judged. */
  readonly load: Float64Array;
  /** Hz, where drivers' voltages are judged. */
  readonly drive: Float64Array;
}

/** The limits of a goal for a loudspeaker. */
export function limitsOf(caller: string, box: Loudspeaker, goal: Goal, ratedImpedance: unknown): Limits {
  checkMeasured(caller, box, goal);
  const { amplifier, limits } = goal;
  const all = limits === "default";
  const holds = (name: string) => all || goal.stated.includes(name);
  const rated = ratedImpedance === undefined ? undefined : inSi(caller, "ratedImpedance", ratedImpedance, "Ω", { above: 0 });
  const floor = holds("largestLevelLossDb") ? meanLevelDb(box, goal) - goal.largestLevelLossDb : -Infinity;
  const least = Math.max(goal.leastLevelDb ?? -Infinity, floor);
  if (
    goal.levelDb !== undefined
    && goal.leastLevelDb !== undefined
    && goal.places.every(({ levelDb: own }) => own === undefined)
    && goal.leastLevelDb > goal.levelDb + goal.corridorDb
  ) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "goal.leastLevelDb" must not lie above the corridor around "goal.levelDb" (${goal.levelDb} dB ± ${goal.corridorDb} dB), got ${goal.leastLevelDb} dB`,
      "No network can be at its target and that loud",
    );
  }
  const spared = sparedOf(caller, box, goal);
  if (amplifier.power !== undefined && rated === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "ratedImpedance" must be given where the goal states the amplifier's power, got none`,
      "W are those of a sine into the rated impedance; or state amplifier.voltage",
    );
  const largestHumpDb = humpLimit(goal) ?? Infinity;
  return {
    smallestImpedance: amplifier.smallestImpedance ?? (all && rated !== undefined ? RATED_SHARE * rated : 0),
    smallestPeakDissipationResistance: amplifier.smallestPeakDissipationResistance ?? 0,
    leastLevelDb: least,
    leastAxisDb: axisFloor(box, goal, holds("largestLevelLossDb")),
    spared,
    damped: dampedOf(caller, box, goal),
    largestHumpDb,
    ...(amplifier.voltage === undefined && amplifier.power === undefined
      ? {}
      : { rated: { ohms: rated ?? 1, share: all ? ("allowed" as const) : ("whole" as const) } }),
    outside:
      largestHumpDb === Infinity
        ? { frequencies: new Float64Array(0), rows: [], places: [] }
        : outsideBand(box, goal, goal.places, distanceOf(caller, box, goal), judgedBand(box, goal)),
    load: anchoredGrid(knownBand(box.network), 48),
    drive: spared.length === 0 ? new Float64Array(0) : passbandGrid(judgedBand(box, goal)),
  };
}

/** The goal's frequencies must be known of every driver at every place. */
function checkMeasured(caller: string, box: Loudspeaker, goal: Goal): void {
  const { frequencies, places } = goal;
  if (frequencies === undefined) return;
  const distance = distanceOf(caller, box, goal);
  let [from, to] = [0, Infinity];
  for (const { pressures } of box.drivers)
    for (const { response, azimuth, elevation, distance: own } of pressures) {
      const at = places.some((place) => sameDirection(place, { azimuth, elevation }));
      if (!at || Math.abs(own - distance) >= 1e-3) continue;
      [from, to] = [Math.max(from, response.frequencies[0]!), Math.min(to, response.frequencies[response.frequencies.length - 1]!)];
    }
  const [lowest, highest] = [frequencies[0]!, frequencies[frequencies.length - 1]!];
  if (lowest >= from * (1 - 1e-6) && highest <= to * (1 + 1e-6)) return;
  throw new DividingNetworkError(
    "outside-band",
    `${caller}: "goal.frequencies", ${hertz(lowest)} to ${hertz(highest)}, must lie within what every driver was measured over at the goal's places, ${hertz(from)} to ${hertz(to)}`,
    "State frequencies within that, or measure a wider band",
  );
}

function sparedOf(caller: string, box: Loudspeaker, goal: Goal): readonly Spared[] {
  const { drivers } = box;
  for (const name of Object.keys(goal.drivers)) {
    if (!drivers.some((driver) => driver.name === name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: "goal.drivers" names ${show(name)}, which is no driver of the loudspeaker`,
        `Drivers: ${drivers.map((driver) => driver.name).join(", ")}`,
      );
  }
  const spared = new Map<string, Spared>();
  for (const { driver, part, limitDb, stated, resonance } of sparesOf(box, goal)) {
    if (resonance === undefined) {
      if (stated)
        throw new DividingNetworkError(
          "no-resonance",
          `${caller}: "goal.drivers" spares ${driver}, whose resonance isn't known within the band in which all impedances are known`,
          "Give the driver's fs, or its impedance measured across its resonance",
        );
      continue;
    }
    if (limitDb > (spared.get(part)?.leastDb ?? -Infinity)) spared.set(part, { part, resonance, leastDb: limitDb });
  }
  return [...spared.values()];
}

/** Woofers, where the goal states what they may see. */
function dampedOf(caller: string, { network, drivers }: Loudspeaker, goal: Goal): readonly Damped[] {
  const { largestSourceResistance, largestQ } = goal.damping;
  if (largestSourceResistance === undefined && largestQ === undefined) return [];
  const largest = largestSourceResistance ?? Infinity;
  const damped = (["woofer", "full-range"] as const).flatMap((role) => {
    const alike = [...new Set(drivers.filter((driver) => driver.role === role).map(({ part }) => part))];
    return alike.flatMap((part) => {
      const at = dampedAt(network, part, largest < Infinity);
      if (at === undefined) return [];
      const behind = largestQ !== undefined && at.frequency === at.resonance ? qBehind(network, part, at.resonance) : undefined;
      // Of a Q that nothing tells the assessment says that it wasn't checked.
      if (largest === Infinity && behind === undefined) return [];
      return [{ part, alike, frequency: at.frequency, largest, ...(behind === undefined ? {} : { q: { behind, largest: largestQ! } }) }];
    });
  });
  if (damped.length === 0 && largest < Infinity) throw noWoofer(caller, network, "largestSourceResistance");
  return damped;
}

/** Hz: the band in which the axis is judged, as `assess` has it; where it wasn't measured, that of the goal's first place. */
function judgedBand(box: Loudspeaker, goal: Goal): { readonly from: number; readonly to: number } {
  const { partner: _partner, ...alone } = overItsBand(goal);
  return (lossOnAxis(box, alone, { azimuth: 0, elevation: 0, weight: 1 }) ?? lossAtPlace(box, alone, goal.places[0]!)).band;
}

/** dB re 20 µPa at 1 kHz, weighted over the goal's places: the target's level that would fit best if none were stated. */
export function meanLevelDb(box: Loudspeaker, goal: Goal): number {
  const { levelDb: _level, ...rest } = goal;
  const places = goal.places.map(({ levelDb: _own, ...place }) => Object.freeze(place));
  return lossEvenIfSilent(box, Object.freeze({ ...rest, places: Object.freeze(places) })).levelDb;
}

/** dB re 20 µPa at 1 kHz on the axis alone, as the verdict has it; undefined where nothing was measured there. */
export function axisLevelDb(box: Loudspeaker, goal: Goal): number | undefined {
  const { levelDb: _level, ...rest } = goal;
  const { levelDb: _own, ...place } = goal.places.find(onAxis) ?? { azimuth: 0, elevation: 0, weight: 1 };
  return lossOnAxis(box, rest, place)?.levelDb;
}

/** The loss at a place alone. */
const lossAtPlace = (box: Loudspeaker, goal: Goal, place: Goal["places"][number]): GoalLoss =>
  lossEvenIfSilent(box, Object.freeze({ ...goal, places: Object.freeze([Object.freeze(place)]) }));

/** The same on the axis; undefined where nothing was measured there. */
function lossOnAxis(box: Loudspeaker, goal: Goal, place: Goal["places"][number]): GoalLoss | undefined {
  try {
    return lossAtPlace(box, goal, place);
  } catch (error) {
    if (error instanceof DividingNetworkError && error.code === "not-measured") return undefined;
    throw error;
  }
}

const onAxis = ({ azimuth, elevation }: Goal["places"][number]): boolean => azimuth === 0 && elevation === 0;

/** A goal of more places than the axis has a mean of its own, and the verdict still judges loudness on the axis: a network keeps both. */
function axisFloor(box: Loudspeaker, goal: Goal, lossHolds: boolean): number {
  if (goal.places.every(onAxis)) return -Infinity;
  const now = axisLevelDb(box, goal);
  if (now === undefined) return -Infinity;
  return Math.max(goal.leastLevelDb ?? -Infinity, lossHolds ? now - goal.largestLevelLossDb : -Infinity);
}
