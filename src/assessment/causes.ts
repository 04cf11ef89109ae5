import { sameDirection } from "../loudspeaker/internal";
import { listOf, hertz, signed } from "../quantity/internal";
import type { Loudspeaker, Prediction, PressureAtPlace } from "../loudspeaker";
import { levelDb } from "../response";
import { branchesAt, type Branch } from "./branches";
import type { Cause } from "./cause";
import { causeAt } from "./cause-at";
import type { OutsideStretch } from "./corridor";
import type { Goal } from "./goal-types";
import { eaterText, levelEaters } from "./level-eaters";
import { shareSentence, type Load } from "./load";
import { PLANES } from "./planes";
import type { Quality } from "./quality";
import type { RisingBranch } from "./rising-branches";
import { sampledAt } from "./sampled-at";

/** How many deviations on the axis are explained, the largest first. */
const MOST = 5;

/** What of an assessment its causes are found from. */
export interface CausesFrom {
  readonly goal: Goal;
  readonly quality: Quality;
  readonly branches: readonly Branch[];
  readonly axis: PressureAtPlace;
  readonly prediction: Prediction;
  readonly load: Load;
  readonly rising: readonly RisingBranch[];
}

/** The causes of every side of the goal that isn't kept: each stretch on the axis, the worst place of each plane, the load, each driver that isn't spared, the level. Empty where all is kept. */
export function causesOf(box: Loudspeaker, from: CausesFrom): readonly Cause[] {
  return Object.freeze([
    ...onAxis(box, from),
    ...offAxis(box, from),
    ...ofHump(box, from),
    ...ofLoad(from),
    ...ofDrivers(from),
    ...ofLoudness(box, from),
  ]);
}

const largestFirst = (stretches: readonly OutsideStretch[]): readonly OutsideStretch[] =>
  [...stretches].sort((a, b) => Math.abs(b.worstDb) - Math.abs(a.worstDb));

function onAxis(box: Loudspeaker, { quality, branches, axis, prediction }: CausesFrom): readonly Cause[] {
  return largestFirst(quality.outside)
    .slice(0, MOST)
    .flatMap((stretch) => causeAt(box, { topic: "on the axis", target: "its target", ...stretch }, branches, axis.sum, prediction) ?? []);
}

function offAxis(box: Loudspeaker, { quality, prediction }: CausesFrom): readonly Cause[] {
  return PLANES.flatMap(([topic, within]) => {
    const failed = quality.places.filter((place) => within(place) && place.outside.length > 0);
    const worst = failed.reduce<(typeof failed)[number] | undefined>(
      (most, place) => (most === undefined || Math.abs(place.worstDb) > Math.abs(most.worstDb) ? place : most),
      undefined,
    );
    const heard =
      worst === undefined
        ? undefined
        : prediction.places.find(({ azimuth, elevation }) => azimuth === worst.azimuth && elevation === worst.elevation);
    if (worst === undefined || heard === undefined) return [];
    const { azimuth, elevation } = worst;
    return (
      causeAt(
        box,
        { topic, direction: { azimuth, elevation }, target: "a steady change", ...largestFirst(worst.outside)[0]! },
        branchesAt(prediction, heard),
        heard.sum,
        prediction,
      ) ?? []
    );
  });
}

/** A hump outside the judged band. */
function ofHump(box: Loudspeaker, { quality: { outsideBand }, prediction }: CausesFrom): readonly Cause[] {
  if (outsideBand?.limitDb === undefined || outsideBand.aboveDb <= outsideBand.limitDb) return [];
  const { aboveDb, frequency, azimuth, elevation } = outsideBand;
  const heard = prediction.places.find((place) => sameDirection(place, { azimuth, elevation }));
  if (heard === undefined) return [];
  const cause = causeAt(
    box,
    {
      topic: "outside the judged band",
      ...(azimuth === 0 && elevation === 0 ? {} : { direction: { azimuth, elevation } }),
      target: "its target, outside the judged band",
      worstDb: aboveDb,
      worstFrequency: frequency,
    },
    branchesAt(prediction, heard),
    heard.sum,
    prediction,
  );
  return cause === undefined ? [] : [cause];
}

function ofLoad({
  quality: {
    load: { minimum, limit },
  },
  load,
}: CausesFrom): readonly Cause[] {
  if (limit === undefined || minimum >= limit) return [];
  const parts = load.shares.filter(({ share }) => share >= 0.15).flatMap((share) => share.parts);
  return [
    Object.freeze({
      topic: "load" as const,
      frequency: load.minimumFrequency,
      deviationDb: 20 * Math.log10(Math.max(minimum, 1e-20) / limit),
      kind: "current" as const,
      parts: Object.freeze(parts),
      sentence: `At ${hertz(load.minimumFrequency)} the load is ${minimum.toFixed(2)} Ω where the amplifier bears ${limit.toFixed(2)} Ω: ${shareSentence(load.shares)}`,
    }),
  ];
}

/** A driver that gets too much at its resonance: how its voltage goes over the octave above, and whether its branch rises there. */
function ofDrivers({ quality: { spared }, prediction, rising }: CausesFrom): readonly Cause[] {
  return spared.flatMap(({ driver, part, resonance, belowDb, limitDb }) => {
    if (resonance === undefined || belowDb === undefined || belowDb >= limitDb) return [];
    const { frequencies } = prediction.sweep.impedance;
    const octave = [resonance, 2 * resonance].filter(
      (frequency) => frequency >= frequencies[0]! && frequency <= frequencies[frequencies.length - 1]!,
    );
    const [low, high] = octave.length < 2 ? [] : levelDb(sampledAt(prediction.sweep.voltage(part), octave, { delay: 0 }));
    const change = low === undefined || high === undefined ? NaN : high - low;
    const slope = Number.isFinite(change)
      ? `, and ${change < 0 ? "falls" : "rises"} by ${Math.abs(change).toFixed(1)} dB over the octave above`
      : "";
    const peak = rising.find((branch) => branch.part === part && Math.abs(Math.log2(branch.frequency / resonance)) <= 1);
    const resonates =
      peak === undefined
        ? ""
        : `; at ${hertz(peak.frequency)} its branch gives ${peak.gainDb.toFixed(1)} dB more than the source${peak.resonating.length === 0 ? "" : `, where ${listOf(peak.resonating)} resonate`}`;
    return [
      Object.freeze({
        topic: "drivers" as const,
        frequency: resonance,
        deviationDb: belowDb - limitDb,
        kind: "voltage" as const,
        parts: Object.freeze([part, ...(peak?.resonating ?? [])]),
        sentence: `At its resonance, ${hertz(resonance)}, the voltage of ${driver} lies ${Math.abs(belowDb).toFixed(1)} dB ${belowDb < 0 ? "above" : "below"} its passband's where ${limitDb} dB below it are asked for${slope}${resonates}`,
      }),
    ];
  });
}

/** A level below the least that is asked for: by how much each branch's voltage lies below the source's where it is the loudest, and what takes level. */
function ofLoudness(
  box: Loudspeaker,
  { goal, quality: { levelDb: level, band }, branches, axis, prediction }: CausesFrom,
): readonly Cause[] {
  const { leastLevelDb } = goal;
  if (leastLevelDb === undefined || level >= leastLevelDb) return [];
  const eaters = levelEaters(box, goal, axis.distance, branches, axis.sum);
  const given = branches.flatMap(({ part, response }) => {
    let loudest = -1;
    response.frequencies.forEach((frequency, i) => {
      if (frequency < band.from || frequency > band.to) return;
      if (loudest < 0 || Math.hypot(response.re[i]!, response.im[i]!) > Math.hypot(response.re[loudest]!, response.im[loudest]!))
        loudest = i;
    });
    if (loudest < 0) return [];
    const frequency = response.frequencies[loudest]!;
    const gain = levelDb(sampledAt(prediction.sweep.voltage(part), [frequency], { delay: 0 }))[0]!;
    return Number.isFinite(gain) ? [{ part, frequency, gain }] : [];
  });
  return [
    Object.freeze({
      topic: "loudness" as const,
      frequency: Math.sqrt(band.from * band.to),
      deviationDb: level - leastLevelDb,
      kind: "level" as const,
      parts: Object.freeze([...new Set([...eaters.flatMap(({ parts }) => parts), ...given.map(({ part }) => part)])]),
      sentence: `The level is ${level.toFixed(1)} dB where at least ${leastLevelDb} dB are asked for${given.length === 0 ? "" : `: where it is loudest, ${given.map(({ part, frequency, gain }) => `${part} gets ${signed(gain, 1)} dB of the source's voltage (at ${hertz(frequency)})`).join(", ")}`}${eaters.length === 0 ? "" : `; ${eaters.map((eater) => eaterText(eater)).join(", ")}`}`,
    }),
  ];
}
