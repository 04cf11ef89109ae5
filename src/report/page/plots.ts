import type { Assessment, Spread } from "../../assessment";
import { impedancePlot } from "../impedance-plot";
import type { Markup } from "../markup";
import { axisFigure } from "./axis-figure";
import { branchFigures } from "./branch-figures";
import { excursionFigures } from "./excursion-figures";
import { offAxis } from "./off-axis-figures";
import { pairFigure, stacked, twoColumns } from "./pair-figure";
import { axisOf, shownBand, type Shown } from "./shown";
import { stepFigure } from "./step-figure";

/** All plots: in pairs, before and after on one scale. */
export function plots(shown: readonly Shown[], spread: Spread | undefined): readonly Markup[] {
  const band = shownBand(shown);
  const [before, after] = [shown[0]!, shown[1]!];
  return [
    twoColumns([
      stacked([
        axisFigure(shown, after.assessment, band, spread),
        stepFigure(
          shown.map(({ name, assessment, style }) => ({ name, style, sum: axisOf(assessment).sum, distance: assessment.distance })),
        ),
      ]),
      impedanceFigure(shown, after.assessment),
    ]),
    twoColumns(branchFigures(before, after, band)),
    ...excursionFigures(shown),
    ...offAxis(before, after, band),
  ];
}

function impedanceFigure(shown: readonly Shown[], after: Assessment): Markup {
  return pairFigure(
    (width) =>
      impedancePlot({
        title: "Input impedance",
        series: shown.map(({ name, assessment, style }) => ({ label: name, response: assessment.load.impedance, style })),
        limit: after.quality.load.limit,
        width,
      }),
    `Without amplifier and cable; rated ${after.ratedImpedance} Ω.${after.quality.load.limit === undefined ? "" : " Dotted: the least that the amplifier should be given."}`,
  );
}
