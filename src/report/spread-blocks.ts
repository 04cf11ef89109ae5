import type { Spread } from "../assessment";
import { contributionName, toleranceText } from "../assessment/internal";
import { figure, list, table } from "./blocks";
import type { Markup } from "./markup";
import { spreadPlot } from "./spread-plot";

/** Rows of the ranking that a page shows. */
const ROWS = 6;

/** What tolerances do to the sound, for a page: the answer in words, the band at the goal's first place, and what makes it. */
export function spreadBlocks(spread: Spread): readonly Markup[] {
  const { bands, percentiles, ranking, sentences, samples } = spread;
  // The axis has its band in the plot of the axis.
  const place = bands.some(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ? undefined : bands[0];
  const ends = percentiles.filter((percent) => percent !== 50);
  return [
    list(sentences),
    ...(place === undefined
      ? []
      : [
          figure(
            (width) =>
              spreadPlot(spread, {
                azimuth: place.azimuth,
                elevation: place.elevation,
                title: `How the level scatters, azimuth ${place.azimuth}°, elevation ${place.elevation}°`,
                width,
              }),
            `The proposed network as drawn, and the levels below which ${ends.map((percent) => `${percent} %`).join(" and ")} of ${samples} loudspeakers lie at each frequency; not smoothed.`,
          ),
        ]),
    ...(ranking.length === 0
      ? []
      : [
          table({
            caption: `What makes the difference from one loudspeaker to the next${ranking.length > ROWS ? `: the first ${ROWS} of ${ranking.length}` : ""}`,
            columns: [
              { label: "What" },
              { label: "Tolerance" },
              { label: "Share of the spread", unit: "%", align: "right" },
              { label: "Good if it were exact", unit: "%", align: "right" },
            ],
            rows: ranking
              .slice(0, ROWS)
              .map((one) => [
                contributionName(one),
                `${toleranceText(one)}${one.assumed ? ", assumed" : ""}`,
                (100 * one.share).toFixed(0),
                one.yieldIfExact === undefined ? "–" : (100 * one.yieldIfExact).toFixed(0),
              ]),
          }),
        ]),
  ];
}
