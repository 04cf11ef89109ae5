import type { Assessment, RatingCheck } from "../../assessment";
import { magnitude } from "../../response";
import { frequencyPlot } from "../frequency-plot";
import type { Markup } from "../markup";
import type { LineStyle } from "../palette";
import { pairFigure, twoColumns } from "./pair-figure";
import { hertz } from "../../quantity/internal";

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
              title: `Excursion of the ${driver} with full sines`,
              panels: [{ label: "Excursion to one side, mm peak", height: width < 500 ? 68 : 110, series: [...curves, ...limit] }],
              width,
            }),
          captionOf(driver, shown[1]!.assessment),
        );
      }),
    ),
  ];
}

/** The curve is a full sine, the verdict looks at the stated signal: both in words, so that a curve beyond its limit is understood. */
function captionOf(driver: string, { ratings }: Drawn["assessment"]): string {
  const check: RatingCheck | undefined = ratings.checks.find(({ name, quantity }) => name === driver && quantity === "excursion");
  const millimetres = (metres: number) => `${(1000 * metres).toPrecision(2)} mm`;
  const sine = `Full sines of ${ratings.stress!.voltage.toPrecision(3)} V rms; small-signal motion, free air or closed box.`;
  if (check === undefined) return sine;
  if (check.rating === undefined) return `${sine} No limit of it is stated.`;
  const beyond =
    check.sine > check.rating ? `; a full sine at ${hertz(check.frequency)} by ${millimetres(check.sine)}, beyond its limit` : "";
  return `${sine} Judged is the stated signal, which moves the proposed one by ${millimetres(check.value)}${beyond}.`;
}
