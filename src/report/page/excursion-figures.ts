import type { Assessment } from "../../assessment";
import { magnitude } from "../../response";
import { frequencyPlot } from "../frequency-plot";
import type { Markup } from "../markup";
import type { LineStyle } from "../palette";
import { pairFigure, twoColumns } from "./pair-figure";

/** A network whose curves are drawn: its name, what was computed of it, and its line. */
interface Drawn {
  readonly name: string;
  readonly assessment: Pick<Assessment, "ratings">;
  readonly style: LineStyle;
}

/** How far each cone moves with a full sine, every network in one plot, where that is known. */
export function excursionFigures(shown: readonly Drawn[]): readonly Markup[] {
  const drivers = shown[1]!.assessment.ratings.drivers.filter(({ excursion }) => excursion !== undefined);
  if (drivers.length === 0) return [];
  return [
    twoColumns(
      drivers.map(({ driver, ratings }) => {
        const curves = shown.flatMap(({ name, assessment, style }) => {
          const response = assessment.ratings.drivers.find((other) => other.driver === driver)?.excursion?.response;
          return response === undefined
            ? []
            : [{ label: name, frequencies: response.frequencies, values: magnitude(response).map((metres) => 1000 * metres), style }];
        });
        const [first, last] = [curves[0]!.frequencies[0]!, curves[0]!.frequencies.at(-1)!];
        const limit =
          ratings.excursion === undefined
            ? []
            : [
                {
                  label: "limit",
                  frequencies: [first, last],
                  values: [1000 * ratings.excursion, 1000 * ratings.excursion],
                  style: { color: "black", line: "dotted" } as const,
                },
              ];
        return pairFigure(
          (width) =>
            frequencyPlot({
              title: `Excursion of the ${driver}`,
              panels: [{ label: "Excursion to one side, mm peak", height: 110, series: [...curves, ...limit] }],
              width,
            }),
          `At the amplifier’s largest sine, ${shown[1]!.assessment.ratings.stress!.voltage.toPrecision(3)} V rms; small-signal motion, free air or closed box.${ratings.excursion === undefined ? " No limit of it is stated." : ""}`,
        );
      }),
    ),
  ];
}
