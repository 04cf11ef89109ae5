import type { Assessment } from "../../assessment";
import { hertz } from "../../quantity/internal";
import { levelDb } from "../../response";
import { angleMapPlot } from "../angle-map-plot";
import { anglesPlot } from "../angles-plot";
import { paragraph } from "../blocks";
import type { Markup } from "../markup";
import { pairFigure, twoColumns } from "./pair-figure";
import { axisOf, type Band, type Shown } from "./shown";

/** dB of change against the axis in the judged band that counts as none; common practice, no source. */
const FLAT_DB = 1.5;

/** Each plane as a pair of maps and a pair of families; a plane that changes nothing is a sentence. */
export function offAxis(before: Shown, after: Shown, band: Band): readonly Markup[] {
  return (["horizontal", "vertical"] as const).flatMap((plane) => {
    const where = plane === "horizontal" ? "to the sides" : "up and down";
    const families = [before, after].map(({ assessment }) => familyOf(assessment, plane));
    if (families.every((members) => members.length < 2)) return [paragraph(`Off the axis, ${where}: not measured.`)];
    const [old, now] = families.map((members, index) => largestOf(members, [before, after][index]!.assessment.band));
    const angles = families[1]!.map(({ angle }) => Math.abs(angle)).reduce((most, angle) => Math.max(most, angle), 0);
    if (Math.max(old!, now!) < FLAT_DB)
      return [
        paragraph(
          `Off the axis, ${where}, to ±${angles}°: in the judged band no level differs from the axis by more than ${old!.toFixed(1)} dB as found and ${now!.toFixed(1)} dB proposed.`,
        ),
      ];
    const both = [before, after]
      .map(({ name, assessment }, index) => ({ name, assessment, members: families[index]! }))
      .filter(({ members }) => members.length > 1);
    return [
      twoColumns(
        both.map(({ name, assessment, members }) =>
          pairFigure(
            (width) =>
              angleMapPlot({
                ...band,
                title: `Map, ${where}, ${name}`,
                series: members,
                plane,
                width,
                markers: assessment.handovers
                  .filter(({ frequency }) => frequency > band.from && frequency < band.to)
                  .map(({ frequency }) => ({ frequency, label: hertz(frequency) })),
              }),
            "",
          ),
        ),
      ),
      twoColumns(
        both.map(({ name, members }) =>
          pairFigure(
            (width) =>
              anglesPlot({
                ...band,
                title: `Angles, ${where}, ${name}`,
                yLabel: "level against the axis, dB",
                series: members,
                plane,
                yRange: [-20, 5],
                width,
              }),
            "",
          ),
        ),
        "tall",
      ),
    ];
  });
}

function familyOf(assessment: Assessment, plane: "horizontal" | "vertical") {
  const axis = axisOf(assessment).sum;
  const reference = new Map(Array.from(levelDb(axis), (level, index) => [axis.frequencies[index]!, level] as const));
  return assessment.prediction.places
    .filter(({ azimuth, elevation }) => (plane === "horizontal" ? elevation === 0 : azimuth === 0))
    .flatMap(({ azimuth, elevation, sum }) => {
      // A place may have less of the prediction's frequencies than the axis, or more.
      const levels = levelDb(sum);
      const both = Array.from(sum.frequencies, (frequency, index) => ({
        frequency,
        level: levels[index]!,
        axis: reference.get(frequency),
      })).filter((each): each is typeof each & { readonly axis: number } => each.axis !== undefined);
      if (both.length < 2) return [];
      // Marks stand in the plot of the axis, once.
      return [
        {
          angle: plane === "horizontal" ? azimuth : elevation,
          response: {
            frequencies: Float64Array.from(both, ({ frequency }) => frequency),
            levelDb: Float64Array.from(both, (each) => each.level - each.axis),
          },
        },
      ];
    })
    .sort((a, b) => a.angle - b.angle);
}

function largestOf(members: ReturnType<typeof familyOf>, { from, to }: Band): number {
  return members.reduce(
    (most, { response: { frequencies, levelDb: levels } }) =>
      levels.reduce(
        (top, level, index) => (frequencies[index]! >= from && frequencies[index]! <= to ? Math.max(top, Math.abs(level)) : top),
        most,
      ),
    0,
  );
}
