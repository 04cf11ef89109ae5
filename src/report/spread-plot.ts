import { DividingNetworkError } from "../errors";
import { checkNumber, checkObject, checkOptions, show } from "../errors/internal";
import type { Spread } from "../assessment";
import type { Picture } from "./picture";
import { responsePlot } from "./response-plot";
import { spreadArea } from "./spread-area";

/** What `spreadPlot` takes. */
export interface SpreadPlotOptions {
  /** Set above the plot; default says what it shows. */
  readonly title?: string | undefined;
  /** Degrees: which of the goal's places; default 0. */
  readonly azimuth?: number | undefined;
  /** Degrees; default 0. */
  readonly elevation?: number | undefined;
  /** px, dimensionless. */
  readonly width?: number | undefined;
}

/**
 * The band within which the level at one place lies (dB re 20 µPa for 2.83 V): the level as drawn as a line, and a filled band from the lowest to the highest percentile that
 * `spread` was asked for; what other percentiles lie between are dashed lines, but for the median. Of a single percentile there is no band but a line.
 *
 * @param spread from `spread`
 * @param options the place in degrees; `title`; `width` in px
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument`, `not-measured` when the goal doesn't name this place
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { spread } from "dividing-network/assessment";
 * import { spreadPlot } from "dividing-network/report";
 *
 * const grid = logGrid(200, 20_000, 200);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(2), "in", "a"], cone: [resistor(6), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [flat] }] });
 * spreadPlot(spread(box, { samples: 200 })).svg.includes("95 %"); // true
 * ```
 */
export function spreadPlot(spread: Spread, options: SpreadPlotOptions = {}): Picture {
  const caller = "spreadPlot";
  const {
    title = "How the level scatters",
    azimuth: a,
    elevation: e,
    width,
  } = checkOptions(caller, options, ["title", "azimuth", "elevation", "width"]);
  const { frequencies, percentiles, bands, distance } = checkObject(caller, "spread", spread, "what spread() gives");
  if (!Array.isArray(bands) || !Array.isArray(percentiles))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "spread" must be what spread() gives, got ${show(spread)}`,
      "Make it with spread(loudspeaker)",
    );
  const [azimuth, elevation] = [
    checkNumber(caller, "azimuth", a ?? 0, { unit: "degrees" }),
    checkNumber(caller, "elevation", e ?? 0, { unit: "degrees" }),
  ];
  const band = (bands as Spread["bands"]).find(
    (one) => Math.abs(one.azimuth - azimuth) < 0.01 && Math.abs(one.elevation - elevation) < 0.01,
  );
  if (band === undefined)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: azimuth ${azimuth}°, elevation ${elevation}° must be one of the goal's places`,
      `They are ${(bands as Spread["bands"]).map((one) => `${one.azimuth}°, ${one.elevation}°`).join("; ")}`,
    );
  const order = [...(percentiles as readonly number[])].sort((x, y) => x - y);
  const area = spreadArea(spread, band);
  // The ends are the rims of the band; what lies between them is a line, but for the median, which "as drawn" stands for.
  const lines = (percentiles as readonly number[])
    .flatMap((percent, index) =>
      percent === 50 || (area.length > 0 && (percent === order[0] || percent === order.at(-1)))
        ? []
        : [{ percent, levelDb: band.percentiles[index]! }],
    )
    .sort((x, y) => y.percent - x.percent);
  return responsePlot({
    title,
    yLabel: `Sound pressure level at ${distance} m, dB re 20 µPa`,
    from: frequencies[0]!,
    to: frequencies[frequencies.length - 1]!,
    areas: area,
    series: [
      { label: "as drawn", response: { frequencies, levelDb: band.nominal }, style: { color: "blue", line: "solid" } },
      ...lines.map(({ percent, levelDb }) => ({
        label: `${percent} % below`,
        response: { frequencies, levelDb },
        style: { color: "sky-blue" as const, line: "dashed" as const, weight: "thin" as const },
      })),
    ],
    ...(width === undefined ? {} : { width }),
  });
}
