import { pressureAtPlace } from "../loudspeaker";
import type { Assessment } from "./assessment-data";
import { bandLevelDb } from "./band";
import { branchesAt, type Branch } from "./branches";
import type { Cause } from "./cause";
import { eaterText, levelEaters, WORTH_DB, type LevelEater } from "./level-eaters";

/** Why a new network is quieter than the one found: which parts take more than before, which branches don't add up, and whose branch fell most. */
export function levelCause(before: Assessment, after: Assessment): Cause {
  const [then, now] = [eatersOf(before), eatersOf(after)];
  const same = ({ what, parts }: LevelEater) =>
    then.eaters.find((each) => each.what === what && (what === "cancellation" || each.parts.join() === parts.join()));
  const grown = now.eaters
    .map((eater) => ({ eater, was: same(eater), more: eater.takesDb - (same(eater)?.takesDb ?? 0) }))
    .filter(({ more }) => more >= WORTH_DB)
    .sort((a, b) => b.more - a.more);
  const fell = now.branches
    .flatMap(({ part, response }) => {
      const old = then.branches.find((branch) => branch.part === part);
      if (old === undefined) return [];
      const [a, b] = [bandLevelDb(old.response, before.quality.band), bandLevelDb(response, after.quality.band)];
      return Number.isFinite(a) && Number.isFinite(b) && a - b >= WORTH_DB ? [{ part, lostDb: a - b }] : [];
    })
    .sort((a, b) => b.lostDb - a.lostDb);
  const said = [
    ...(grown.length === 0 ? ["no resistance takes more than before"] : grown.map(({ eater, was }) => eaterText(eater, was))),
    ...(fell.length === 0
      ? []
      : [
          `of its branches ${fell.map(({ part, lostDb }) => `${part} is ${lostDb.toFixed(1)} dB quieter over the judged band`).join(", ")}`,
        ]),
  ];
  const { from, to } = after.quality.band;
  return Object.freeze({
    topic: "loudness" as const,
    frequency: Math.sqrt(from * to),
    deviationDb: after.quality.levelDb - before.quality.levelDb,
    kind: "level" as const,
    parts: Object.freeze([...new Set([...grown.flatMap(({ eater }) => eater.parts), ...fell.map(({ part }) => part)])]),
    sentence: said.join("; "),
  });
}

function eatersOf(assessment: Assessment): { readonly eaters: readonly LevelEater[]; readonly branches: readonly Branch[] } {
  const { prediction, distance, goal } = assessment;
  const axis = pressureAtPlace(prediction, { distance, azimuth: 0, elevation: 0 });
  const branches = branchesAt(prediction, axis);
  return { branches, eaters: levelEaters(prediction.loudspeaker, goal, distance, branches, axis.sum) };
}
