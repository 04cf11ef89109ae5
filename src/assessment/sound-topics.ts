import { capital, hertz, signed } from "../quantity/internal";
import type { Goal } from "./goal-types";
import { PLANES } from "./planes";
import type { Quality } from "./quality";
import { changeOf } from "./topic-change";
import type { TopicVerdict } from "./topic-verdict";

/** dB of the loss that nobody hears (choice, no source). */
const AXIS_DB = 0.1;
/** dB at one angle (choice, no source). */
const PLACE_DB = 0.2;
/** dB of a hump outside the judged band (choice, no source). */
const OUTSIDE_DB = 0.5;

/** The axis against its target. */
export function onAxis(before: Quality, after: Quality, { corridorDb }: Goal): TopicVerdict {
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

/** Each plane off the axis, all of its measured angles as one. */
export function planes(before: Quality, after: Quality, { corridorDb }: Goal): TopicVerdict[] {
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

/** Below the limit nobody asks how high the level is where it isn't judged. */
export function outside({ outsideBand: then }: Quality, { outsideBand: now }: Quality): TopicVerdict[] {
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

/** The level for 2.83 V. */
export function loudness(before: Quality, after: Quality, { largestLevelLossDb, leastLevelDb }: Goal): TopicVerdict {
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
