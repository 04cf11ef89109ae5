import { capital, listOf, hertz, signed } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkList, checkObject, checkOneOf, show } from "../errors/internal";
import { formatQuantity } from "../quantity";
import type { Danger } from "./dangers";
import type { Goal } from "./goal-types";
import { PLANES, type TopicName } from "./planes";
import type { Quality } from "./quality";
import type { Suspect } from "./suspects/groups";
import type { Trust } from "./trust";

/** What it comes to. */
export type Overall = "better" | "worse" | "unchanged" | "a trade" | "not fit to be connected" | "no verdict";

/** One side of the goal, before and after. Topics count once, however much was measured of them. */
export interface TopicVerdict {
  /** What is judged. */
  readonly topic: TopicName;
  /** `"both"`: better at one angle or driver, worse at another. */
  readonly change: "better" | "worse" | "unchanged" | "both" | "not checked";
  /** The number before, in `unit`; absent where it wasn't checked. */
  readonly before?: number;
  /** The number after, in `unit`. */
  readonly after?: number;
  /** Of `before` and `after`. */
  readonly unit: string;
  /** Decimals worth printing. */
  readonly decimals: number;
  /** What it should be, in words; empty where nothing is asked. */
  readonly limit: string;
  /** Whether `after` keeps it. */
  readonly kept?: boolean;
  /** In words. */
  readonly sentence: string;
}

/** The verdict on a network against the one found. */
export interface Judgement {
  /** In a word or a few. */
  readonly overall: Overall;
  /** What it comes to, dangers first. */
  readonly sentence: string;
  /** Of the network after. */
  readonly dangers: readonly Danger[];
  /** Each side of the goal. */
  readonly topics: readonly TopicVerdict[];
  /** How far the drawing explains what was measured. */
  readonly trust: Trust;
  /** Where the measured loudspeaker refutes the drawing: what may be wrong, best first. */
  readonly suspects: readonly Suspect[];
}

type Change = TopicVerdict["change"];

/** dB of the loss that nobody hears (choice, no source). */
const AXIS_DB = 0.1;
/** dB at one angle (choice, no source). */
const PLACE_DB = 0.2;
/** dB of a hump outside the judged band (choice, no source). */
const OUTSIDE_DB = 0.5;
/** dB of |Z|, and the ease beyond which an amplifier doesn't care: twice its limit (choice, no source). */
const [LOAD_DB, EASE_DB] = [0.5, 6];
/** dB of a driver's voltage, and how far beyond its limit it still counts (choice, no source). */
const [DRIVE_DB, SPARE_DB] = [1, 6];

/** The topics, each judged by itself. */
export function topicsOf(before: Quality, after: Quality, goal: Goal): readonly TopicVerdict[] {
  return Object.freeze(
    [
      onAxis(before, after, goal),
      ...planes(before, after, goal),
      ...outside(before, after),
      load(before, after),
      drivers(before, after),
      loudness(before, after, goal),
    ].map((topic) => Object.freeze(topic)),
  );
}

function onAxis(before: Quality, after: Quality, { corridorDb }: Goal): TopicVerdict {
  const kept = after.octavesOutside === 0;
  return {
    topic: "on the axis",
    change: changeOf([before.axisDb - after.axisDb], AXIS_DB),
    before: before.axisDb,
    after: after.axisDb,
    unit: "dB",
    decimals: 2,
    limit: `within ±${corridorDb} dB`,
    kept,
    sentence: `On the axis the response strays from its target by ${before.axisDb.toFixed(2)} dB before and ${after.axisDb.toFixed(2)} dB after; largest ${signed(after.worstDb, 1)} dB at ${hertz(after.worstFrequency)}${kept ? "" : `, ${after.octavesOutside.toFixed(2)} octaves outside the corridor`}`,
  };
}

function planes(before: Quality, after: Quality, { corridorDb }: Goal): TopicVerdict[] {
  return PLANES.map(([topic, within, unmeasured]): TopicVerdict => {
    const pairs = unique(after.places.filter(within)).flatMap((now) => {
      const then = before.places.find(({ azimuth, elevation }) => azimuth === now.azimuth && elevation === now.elevation);
      return then === undefined ? [] : [{ then, now }];
    });
    if (pairs.length === 0)
      return { topic, change: "not checked", unit: "dB", decimals: 2, limit: "", sentence: `${capital(topic)}: not measured${unmeasured}` };
    const gains = pairs.map(({ then, now }) => then.lossDb - now.lossDb);
    const worst = (list: readonly number[]) => list.reduce((most, value) => Math.max(most, value), 0);
    const [a, b] = [worst(pairs.map(({ then }) => then.lossDb)), worst(pairs.map(({ now }) => now.lossDb))];
    const largest = pairs.reduce((most, { now }) => (Math.abs(now.worstDb) > Math.abs(most.worstDb) ? now : most), pairs[0]!.now);
    const narrow = pairs.filter(({ now: { band } }) => band.from > after.band.from * 1.001 || band.to < after.band.to / 1.001);
    const beyond = pairs.filter(({ now }) => now.octavesOutside > 0);
    const kept = beyond.length === 0;
    return {
      topic,
      change: changeOf(gains, PLACE_DB),
      before: a,
      after: b,
      unit: "dB",
      decimals: 2,
      limit: `within ±${corridorDb} dB`,
      kept,
      sentence: `${capital(topic)}, at ${pairs.length} measured ${pairs.length === 1 ? "angle" : "angles"}, the response strays from a steady change by up to ${a.toFixed(2)} dB before and ${b.toFixed(2)} dB after; largest ${signed(largest.worstDb, 1)} dB at ${hertz(largest.worstFrequency)}, azimuth ${signed(largest.azimuth, 0)}°, elevation ${signed(largest.elevation, 0)}°${kept ? "" : `; outside the corridor at ${beyond.length} of them, by ${worst(beyond.map(({ now }) => now.octavesOutside)).toFixed(2)} octaves at most`}${narrow.length === 0 ? "" : `; less was measured at ${narrow.map(({ now: { azimuth, elevation, band } }) => `azimuth ${signed(azimuth, 0)}°, elevation ${signed(elevation, 0)}° (${hertz(band.from)} to ${hertz(band.to)})`).join(", ")}`}`,
    };
  });
}

type Place = Quality["places"][number];

/** A place that was given twice counts once. */
function unique(places: readonly Place[]): readonly Place[] {
  return places.filter(
    (place, index) => places.findIndex(({ azimuth, elevation }) => azimuth === place.azimuth && elevation === place.elevation) === index,
  );
}

function load(before: Quality, after: Quality): TopicVerdict {
  const louder = after.levelDb - before.levelDb;
  const { limit } = after.load;
  const [a, b] = [before.load.minimum, after.load.minimum];
  // Without a limit the same ease is reckoned from the easier of the two.
  const eased = (ohms: number) => Math.min(EASE_DB, 20 * Math.log10(ohms / (limit ?? Math.max(a, b) / 2)));
  const gain = eased(b) - eased(a);
  const [least, most] = [Math.min(a, b), Math.max(a, b)];
  return {
    topic: "load",
    // What the amplifier doesn't bear counts as it is; ease beyond that only as far as it isn't bought with level. Where one is borne and the other isn't, however little lies between counts.
    change: changeOf(
      [limit !== undefined && least < limit ? gain : notBought(gain, louder)],
      limit !== undefined && least < limit && most >= limit ? 0 : LOAD_DB,
    ),
    before: a,
    after: b,
    unit: "Ω",
    decimals: 2,
    limit: limit === undefined ? "" : `at least ${limit.toFixed(2)} Ω`,
    ...(limit === undefined ? {} : { kept: b >= limit }),
    sentence: `The smallest impedance is ${a.toFixed(2)} Ω before and ${b.toFixed(2)} Ω after`,
  };
}

/** Below the limit nobody asks how high the level is where it isn't judged. */
function outside({ outsideBand: then }: Quality, { outsideBand: now }: Quality): TopicVerdict[] {
  if (then === undefined || now === undefined) return [];
  const { limitDb } = now;
  const beyond = ({ aboveDb, limitDb: limit = Infinity }: typeof now) => Math.max(0, aboveDb - limit);
  const where = ({ frequency, azimuth, elevation }: typeof now) =>
    `${hertz(frequency)}${azimuth === 0 && elevation === 0 ? "" : `, azimuth ${signed(azimuth, 0)}°, elevation ${signed(elevation, 0)}°`}`;
  return [
    {
      topic: "outside the judged band",
      change: changeOf([beyond(then) - beyond(now)], OUTSIDE_DB),
      before: then.aboveDb,
      after: now.aboveDb,
      unit: "dB",
      decimals: 1,
      limit: limitDb === undefined ? "" : `at most ${signed(limitDb, 1)} dB`,
      ...(limitDb === undefined ? {} : { kept: now.aboveDb <= limitDb }),
      sentence: `Outside the judged band the level is highest at ${where(then)}, ${signed(then.aboveDb, 1)} dB from the target, before, and at ${where(now)}, ${signed(now.aboveDb, 1)} dB, after`,
    },
  ];
}

/** An ease in dB that isn't only bought with level: a resistor in series makes any load easier, and a louder loudspeaker takes more. */
function notBought(ease: number, louder: number): number {
  return ease > 0 ? Math.max(0, ease + Math.min(0, louder)) : Math.min(0, ease + Math.max(0, louder));
}

function drivers(before: Quality, after: Quality): TopicVerdict {
  const pairs = after.spared.flatMap((now) => {
    const then = before.spared.find(({ driver }) => driver === now.driver);
    return now.belowDb === undefined || then?.belowDb === undefined
      ? []
      : [{ driver: now.driver, a: then.belowDb, b: now.belowDb, limit: now.limitDb }];
  });
  if (pairs.length === 0)
    return {
      topic: "drivers",
      change: "not checked",
      unit: "dB",
      decimals: 1,
      limit: "",
      sentence:
        after.spared.length === 0
          ? "No driver is named that must be spared"
          : `Drive of ${after.spared.map(({ driver }) => driver).join(", ")}: not checked, no resonance in the impedance`,
    };
  const counted = (below: number, limit: number) => Math.min(limit + SPARE_DB, below);
  // Each column by itself: what stood there before doesn't hang on what is proposed.
  const least = (of: "a" | "b") => pairs.reduce((worst, pair) => (pair[of] - pair.limit < worst[of] - worst.limit ? pair : worst));
  const [then, now] = [least("a"), least("b")];
  return {
    topic: "drivers",
    change: changeOf(
      pairs.map(({ a, b, limit }) => counted(b, limit) - counted(a, limit)),
      DRIVE_DB,
    ),
    before: then.a,
    after: now.b,
    unit: "dB",
    decimals: 1,
    limit: `at least ${now.limit} dB`,
    kept: pairs.every(({ b, limit }) => b >= limit),
    sentence:
      then.driver === now.driver
        ? `At its resonance the ${now.driver} gets ${now.a.toFixed(1)} dB less than in its passband before and ${now.b.toFixed(1)} dB less after`
        : `Least spared at its resonance is the ${then.driver} before, with ${then.a.toFixed(1)} dB less than in its passband, and the ${now.driver} after, with ${now.b.toFixed(1)} dB less`,
  };
}

function loudness(before: Quality, after: Quality, { largestLevelLossDb, leastLevelDb }: Goal): TopicVerdict {
  const gain = after.levelDb - before.levelDb;
  const kept = gain >= -largestLevelLossDb && (leastLevelDb === undefined || after.levelDb >= leastLevelDb);
  return {
    topic: "loudness",
    change: changeOf([gain], largestLevelLossDb),
    before: before.levelDb,
    after: after.levelDb,
    unit: "dB",
    decimals: 1,
    limit: leastLevelDb === undefined ? `loss at most ${largestLevelLossDb} dB` : `at least ${leastLevelDb} dB`,
    kept,
    sentence: `For 2.83 V the level is ${before.levelDb.toFixed(1)} dB before and ${after.levelDb.toFixed(1)} dB after`,
  };
}

/** What several gains come to: the largest gain against the largest loss; what is half the other's size doesn't count beside it. */
function changeOf(gains: readonly number[], negligible: number): Change {
  const gain = gains.reduce((most, value) => Math.max(most, value), 0);
  const loss = gains.reduce((most, value) => Math.max(most, -value), 0);
  const [up, down] = [gain > negligible, loss > negligible];
  if (up && down) return gain > 2 * loss ? "better" : loss > 2 * gain ? "worse" : "both";
  return up ? "better" : down ? "worse" : "unchanged";
}

/** One word and one sentence from topics, dangers and trust. */
export function judgement(
  topics: readonly TopicVerdict[],
  dangers: readonly Danger[],
  trust: Trust,
  suspects: readonly Suspect[],
): Judgement {
  const by = (change: Change) => topics.filter((topic) => topic.change === change);
  const [better, worse, both] = [by("better"), by("worse"), by("both")];
  const overall: Overall =
    dangers.length > 0
      ? "not fit to be connected"
      : trust.state === "refuted"
        ? "no verdict"
        : both.length > 0 || (better.length > 0 && worse.length > 0)
          ? "a trade"
          : better.length > 0
            ? "better"
            : worse.length > 0
              ? "worse"
              : "unchanged";
  return Object.freeze({
    overall,
    sentence: sentenceOf(overall, dangers, trust, suspects, { better, worse, both }),
    dangers,
    topics,
    trust,
    suspects,
  });
}

type Groups = Readonly<Record<"better" | "worse" | "both", readonly TopicVerdict[]>>;

function sentenceOf(
  overall: Overall,
  dangers: readonly Danger[],
  trust: Trust,
  suspects: readonly Suspect[],
  { better, worse, both }: Groups,
): string {
  const name = (list: readonly TopicVerdict[]) =>
    list
      .map(({ topic, before, after, unit, decimals }) =>
        before === undefined || after === undefined ? topic : `${topic} (${before.toFixed(decimals)} → ${after.toFixed(decimals)} ${unit})`,
      )
      .join("; ");
  const unchecked = trust.state === "not checked" ? " The model was not checked against the whole as measured." : "";
  switch (overall) {
    case "not fit to be connected":
      return `The new network is not fit to be connected. ${dangers.map(({ sentence }) => sentence).join(". ")}.`;
    case "no verdict":
      if (suspects[0]?.fault === "unknown")
        return `There is no verdict. ${trust.sentence}. No single fault of a part or a driver comes nearer to what was measured than the drawing does: more than one thing may be wrong, something that isn't drawn, or a measurement.`;
      return `There is no verdict. ${trust.sentence}.${suspects.length === 0 ? "" : ` First suspects: ${suspects.slice(0, 3).map(suspectText).join("; ")}.${suspects[0]!.explains === false ? " None of them alone explains what was measured: more than one thing may be wrong, or a measurement." : ""}`}`;
    case "a trade":
      return `The new network is a trade: better ${better.length === 0 ? "in nothing as a whole" : name(better)}, bought with ${name([...worse, ...both])}.${unchecked}`;
    case "better":
      return `The new network is better: ${name(better)}; worse in nothing.${unchecked}`;
    case "worse":
      return `The new network is worse: ${name(worse)}; better in nothing.${unchecked}`;
    case "unchanged":
      return `By this goal the new network changes nothing.${unchecked}`;
  }
}

/**
 * A suspect in a few words, with its fitted value in its own unit.
 *
 * @param suspect from `suspects`
 * @returns text, its number in Ω, H or F
 * @example
 * ```ts
 * import { suspectText } from "dividing-network/assessment";
 *
 * suspectText({ parts: ["C1"], fault: "value", value: 22e-6, unit: "F", misfit: 0.1 }); // "C1 is 22 µF"
 * ```
 */
export function suspectText(suspect: Suspect): string {
  const { parts, fault, value, unit = "Ω", to, alike = [] } = checkObject("suspectText", "suspect", suspect, "one of what suspects gives");
  const named = [...checkList("suspectText", "suspect.parts", parts, "designators"), fault, unit, to ?? ""];
  if (!named.every((word) => typeof word === "string") || !(value === undefined || Number.isFinite(value)))
    throw new DividingNetworkError("invalid-argument", `suspectText: "suspect" must be one of what suspects gives, got ${show(suspect)}`);
  checkOneOf("suspectText", "suspect.unit", unit, ["Ω", "H", "F"]);
  const list = listOf(parts);
  const number = value === undefined ? "" : formatQuantity(value, unit, { digits: 3 });
  const words: Readonly<Record<Suspect["fault"], string>> = {
    open: `${list} open`,
    short: `${list} shorted${value === undefined ? "" : ` by ${number}`}`,
    value: `${list} is ${number}`,
    loss: `${list} with ${number} in series`,
    reversed: `${list} reversed`,
    exchanged: `${list} exchanged`,
    moved: `a wire of ${list} at ${to ?? "another node"}`,
    unknown: "no single fault that is known",
  };
  checkOneOf("suspectText", "suspect.fault", fault, Object.keys(words) as Suspect["fault"][]);
  const others = checkList("suspectText", "suspect.alike", alike, "faults")
    .slice(0, 3)
    .map((other) => suspectText({ ...other, misfit: 0 }));
  return `${words[fault]}${others.length === 0 ? "" : ` (or, not to be told apart: ${others.join(", ")})`}`;
}
