import type { Loudspeaker, Prediction } from "../loudspeaker";
import { REFERENCE_PRESSURE } from "../physics";
import { levelDb, phaseDegrees, type FrequencyResponse } from "../response";
import type { Branch } from "./branches";
import type { Cause } from "./cause";
import type { OutsideStretch } from "./corridor";
import type { TopicName } from "./planes";
import { QUIETEST_DB, thirdOctaves } from "./third-octaves";
import { sampledAt } from "./sampled-at";
import { hertz, signed } from "../quantity/internal";

/** Branches within this many dB of the loudest are heard beside it (choice, no source). */
const BESIDE_DB = 10;
/** Two equal branches this far apart lose 3 dB of their sum in phase (by computation). */
const APART_DEGREES = 90;

/** Where a level strays, and from what. */
export interface Stray extends Pick<OutsideStretch, "worstDb" | "worstFrequency"> {
  readonly topic: TopicName;
  /** Degrees; absent on the axis. */
  readonly direction?: { readonly azimuth: number; readonly elevation: number };
  /** `"its target"`. */
  readonly target: string;
}

/** Why a level strays from its target at one frequency of one place, from the branches there; undefined where nothing is heard. */
export function causeAt(
  { drivers }: Loudspeaker,
  { topic, direction, target, worstDb, worstFrequency }: Stray,
  branches: readonly Branch[],
  sum: FrequencyResponse,
  prediction: Prediction,
): Cause | undefined {
  const { frequencies } = sum;
  const frequency = Math.min(Math.max(worstFrequency, frequencies[0]!), frequencies[frequencies.length - 1]!);
  const at = branches
    .map((branch) => {
      const there = sampledAt(branch.response, [frequency]);
      return { ...branch, level: levelDb(there, { reference: REFERENCE_PRESSURE })[0]!, angle: phaseDegrees(there)[0]! };
    })
    .filter(({ level }) => level > -Infinity)
    .sort((a, b) => b.level - a.level);
  const [loudest, second] = at;
  if (loudest === undefined) return undefined;
  const base = { topic, ...direction, frequency, deviationDb: worstDb };
  const where = `${direction === undefined ? "At" : `At azimuth ${signed(direction.azimuth, 0)}°, elevation ${signed(direction.elevation, 0)}°,`} ${hertz(frequency)} the response is ${signed(worstDb, 1)} dB from ${target}`;
  if (second !== undefined && loudest.level - second.level <= BESIDE_DB) {
    const apart = Math.abs(((((loudest.angle - second.angle) % 360) + 540) % 360) - 180);
    const sumLevel = levelDb(sampledAt(sum, [frequency]), { reference: REFERENCE_PRESSURE })[0]!;
    // Where what they do together is what is wrong: a hole between branches that stand against each other, or a hill where both are loud in phase.
    if ((worstDb < 0 && apart > APART_DEGREES) || (worstDb > 0 && apart <= APART_DEGREES)) {
      return Object.freeze({
        ...base,
        kind: "two branches" as const,
        parts: Object.freeze([loudest.part, second.part]),
        sentence: `${where}: ${loudest.part} and ${second.part} are ${(loudest.level - second.level).toFixed(1)} dB and ${apart.toFixed(0)}° apart there, ${slopeWords(loudest, frequency)}, ${slopeWords(second, frequency)}, and together ${signed(sumLevel - loudest.level, 1)} dB against the louder`,
      });
    }
  }
  // One branch rules: is it the driver by itself, what it is given, or its level as a whole?
  const { part } = loudest;
  const driver = drivers.find((each) => loudest.drivers.includes(each.name))!;
  const volts = sampledAt(prediction.sweep.voltage(driver.part), frequencies, { delay: 0 });
  const levels = (of: FrequencyResponse) => levelDb(of).map((level) => Math.max(level, QUIETEST_DB));
  const given = levels(volts);
  const own = strays(
    frequencies,
    levels(loudest.response).map((level, i) => level - given[i]!),
    frequency,
  );
  const network = strays(frequencies, given, frequency);
  const [ofDriver, ofNetwork] = [own, network].map((stray) => stray * Math.sign(worstDb));
  const kind = Math.max(ofDriver!, ofNetwork!) < Math.abs(worstDb) / 3 ? "level" : ofDriver! >= ofNetwork! ? "one driver" : "voltage";
  const ending = kind === "level" ? `: the whole branch is too ${worstDb < 0 ? "quiet" : "loud"} against the rest` : "";
  return Object.freeze({
    ...base,
    kind,
    parts: Object.freeze([part]),
    sentence: `${where}: ${part} is the loudest there${second === undefined ? "" : `, by ${(loudest.level - second.level).toFixed(1)} dB`}, ${slopeWords(loudest, frequency)}; against an octave to either side the driver by itself is ${signed(own, 1)} dB off, and its voltage ${signed(network, 1)} dB${ending}`,
  });
}

/** How a branch's level goes over a third of an octave around a frequency, as far as it is known. */
function slopeWords({ part, response }: Branch, frequency: number): string {
  const thirds = thirdOctaves(response);
  const [low, high] = [Math.max(thirds.from, Math.log(frequency) - Math.LN2 / 6), Math.min(thirds.to, Math.log(frequency) + Math.LN2 / 6)];
  if (!(high > low)) return `${part} goes on unknown`;
  const slope = ((thirds.levelDb(high) - thirds.levelDb(low)) * Math.LN2) / (high - low);
  return `${part} ${slope < 0 ? "falling" : "rising"} by ${Math.abs(slope).toFixed(1)} dB per octave`;
}

/** dB: a level at one frequency against its mean over an octave to either side. */
function strays(frequencies: Float64Array, levels: Float64Array, frequency: number): number {
  let [sum, count, nearest] = [0, 0, 0];
  frequencies.forEach((each, i) => {
    if (Math.abs(Math.log2(each / frequency)) < Math.abs(Math.log2(frequencies[nearest]! / frequency))) nearest = i;
    if (Math.abs(Math.log2(each / frequency)) > 1) return;
    sum += levels[i]!;
    count++;
  });
  return count === 0 ? 0 : levels[nearest]! - sum / count;
}
