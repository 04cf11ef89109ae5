import type { Spread } from "../assessment";
import { contributionName, shareSentence, toleranceText } from "../assessment/internal";
import { figure, list, table } from "./blocks";
import type { Markup } from "./markup";
import { twoColumns } from "./page/pair-figure";
import { spreadPlot } from "./spread-plot";

/** Rows of the ranking that a page shows. */
const ROWS = 6;

/** What tolerances do to the sound, for a page: the answer in words, the band at the goal's first place, and what makes it. */
export function spreadBlocks(spread: Spread): readonly Markup[] {
  const { bands, percentiles, ranking, sentences, samples } = spread;
  // The axis has its band in the plot of the axis.
  const place = bands.some(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ? undefined : bands[0];
  const ends = percentiles.filter((percent) => percent !== 50);
  // The table ranks what makes the spread, so that the sentence about its first two is left out.
  const said = ranking.length === 0 ? "" : shareSentence(ranking);
  const words = list(sentences.filter((sentence) => sentence !== said));
  return [
    ...(ranking.length === 0 ? [words] : [twoColumns([words, rankingTable(ranking)])]),
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
  ];
}

function rankingTable(ranking: Spread["ranking"]): Markup {
  return table({
    caption: `What makes the difference${ranking.length > ROWS ? `: the first ${ROWS} of ${ranking.length}` : ""}`,
    columns: [
      { label: "What" },
      { label: "Tolerance" },
      { label: "Share", unit: "%", align: "right" },
      { label: "Good if exact", unit: "%", align: "right" },
    ],
    rows: ranking
      .slice(0, ROWS)
      .map((one) => [
        contributionName(one).replaceAll(" ", "\u00A0"),
        toleranceText(one),
        (100 * one.share).toFixed(0),
        one.yieldIfExact === undefined ? "–" : (100 * one.yieldIfExact).toFixed(0),
      ]),
  });
}
