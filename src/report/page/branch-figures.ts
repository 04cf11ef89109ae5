import { REFERENCE_PRESSURE } from "../../physics";
import { hertz } from "../../quantity/internal";
import { levelDb, phaseDegrees, type FrequencyResponse } from "../../response";
import { frequencyPlot } from "../frequency-plot";
import type { Markup } from "../markup";
import { pairFigure } from "./pair-figure";
import { partnerOnAxis } from "./partner-curves";
import { axisOf, PARTNER, PRESSURE, type Band, type Shown } from "./shown";

const BRANCH_COLORS = ["bluish-green", "reddish-purple", "orange", "sky-blue"] as const;
const BRANCH_LINES = ["dashed", "dotted", "dash-dot", "dashed"] as const;

/** Level above, phase against the sum below; both networks on one scale, 40 dB down from the highest level. */
export function branchFigures(before: Shown, after: Shown, band: Band): readonly Markup[] {
  const highest = Math.max(
    ...[before, after]
      .flatMap(({ assessment }): FrequencyResponse[] => {
        const { alone, together } = partnerOnAxis(assessment) ?? {};
        return [axisOf(assessment).sum, ...(alone === undefined || together === undefined ? [] : [alone, together])];
      })
      .flatMap((response) => Array.from(levelDb(response, { reference: REFERENCE_PRESSURE })))
      .filter(Number.isFinite),
  );
  const top = 5 * Math.ceil((highest + 1) / 5);
  return [before, after].map(({ name, assessment }) => {
    const { sum, branches } = axisOf(assessment);
    const drawn = Object.entries(branches).map(([label, response], index) => ({
      label,
      response,
      style: { color: BRANCH_COLORS[index % 4]!, line: BRANCH_LINES[index % 4]! },
    }));
    const partner = partnerOnAxis(assessment);
    const beside =
      partner === undefined
        ? []
        : [
            { label: "sum with the partner", response: partner.together, style: { color: "blue", line: "solid" } as const },
            { label: "the partner alone", response: partner.alone, style: PARTNER },
          ];
    const level = (response: FrequencyResponse) => levelDb(response, { reference: REFERENCE_PRESSURE });
    const markers = assessment.handovers
      .filter(({ frequency }) => frequency > band.from && frequency < band.to)
      .map(({ frequency }) => ({ frequency, label: hertz(frequency) }));
    return pairFigure(
      (width) =>
        frequencyPlot({
          ...band,
          title: `Branches on the axis, ${name}`,
          width,
          markers,
          panels: [
            {
              label: PRESSURE.yLabel,
              range: [top - 40, top],
              unitsPerDecade: [25, 50],
              series: [
                { label: "sum", frequencies: sum.frequencies, values: level(sum), style: { color: "black", line: "solid" } },
                ...[...drawn, ...beside].map(({ label, response, style }) => ({
                  label,
                  frequencies: response.frequencies,
                  values: level(response),
                  style,
                })),
              ],
            },
            {
              label: "Phase against the sum, degrees, within 20 dB of it",
              range: [-180, 180],
              steps: [90, 180],
              height: width < 500 ? 80 : 110,
              series: drawn.map(({ label, response, style }) => ({
                label,
                frequencies: sum.frequencies,
                values: phaseAgainst(response, sum),
                breakStep: 180,
                style,
              })),
            },
          ],
        }),
      assessment.handovers
        .map(
          ({ lower, upper, frequency, overlapOctaves }) =>
            `${assessment.handovers.length === 1 ? "Equally" : `${lower} and ${upper}: equally`} loud at ${hertz(frequency)}; within 10 dB over ${overlapOctaves.toFixed(2)} octaves.`,
        )
        .join(" "),
    );
  });
}

/** Degrees by which a branch leads the sum; a gap where it is more than 20 dB below. */
function phaseAgainst(branch: FrequencyResponse, sum: FrequencyResponse): Float64Array {
  const [a, b] = [phaseDegrees(branch), phaseDegrees(sum)];
  return a.map((value, index) => {
    const quiet = Math.hypot(branch.re[index]!, branch.im[index]!) < 0.1 * Math.hypot(sum.re[index]!, sum.im[index]!);
    const turn = value - b[index]!;
    return quiet ? NaN : turn - 360 * Math.round(turn / 360);
  });
}
