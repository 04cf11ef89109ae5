import { fewDigits, inSi } from "../quantity/internal";
import { checkOptions } from "../errors/internal";
import type { Resistance } from "../quantity";
import { magnitude, phaseDegrees, type FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { checkArray, checkRange } from "./curve-checks";
import { FRAME_OPTIONS, plotAs, shownBand } from "./frequency-plot";
import type { PlotFrame, PlotSeries } from "./plot-options";
import type { LineStyle } from "./palette";
import type { Picture } from "./picture";
import { extent, niceRange } from "./value-axis";

/** One impedance of an impedance plot. */
export interface ImpedanceSeries {
  /** What the curve is called. */
  readonly label: string;
  /** Ω. */
  readonly response: FrequencyResponse;
  /** How it is drawn; what is left open is the colour and the dashes used least so far. */
  readonly style?: LineStyle | undefined;
}

/** What `impedancePlot` takes. */
export interface ImpedancePlotOptions extends PlotFrame {
  /** Each has a curve in both panels. */
  readonly series: readonly ImpedanceSeries[];
  /** Lowest and highest magnitude shown, Ω; by default from 0 to a round number above the highest. */
  readonly yRange?: readonly [lowest: Resistance, highest: Resistance] | undefined;
  /** The smallest magnitude that is allowed, Ω, drawn as a level line; by default none. */
  readonly limit?: Resistance | undefined;
}

/**
 * Draws impedances over a logarithmic frequency axis in Hz as an SVG picture: magnitude in Ω above, phase in degrees
 * below, each in a panel of its own. The phase of an impedance of exactly 0 Ω is a gap.
 *
 * $|Z| = \sqrt{R^2 + X^2}$, $\varphi = \operatorname{atan2}(X, R)$
 *
 * @param options title, series of impedances in Ω, a `limit` in Ω, ranges in Ω and Hz
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network/response";
 * import { impedancePlot } from "dividing-network/report";
 *
 * const response = frequencyResponse([20, 2000, 20000], [6, 6.5, 9], [0.1, 2, 12]);
 * impedancePlot({ title: "Input impedance", series: [{ label: "Built", response }] }).svg.includes("Phase, degrees"); // true
 * ```
 */
export function impedancePlot(options: ImpedancePlotOptions): Picture {
  const caller = "impedancePlot";
  const { series, yRange, limit, ...frame } = checkOptions(caller, options, [...FRAME_OPTIONS, "series", "yRange", "limit"]);
  const pairs = checkArray<ImpedanceSeries>(caller, "series", series).map((one, index) => {
    const { label, response: given, style } = checkOptions(caller, one, ["label", "response", "style"]);
    const response = checkResponse(caller, `series[${index}].response`, given);
    const ohms = magnitude(response);
    const degrees = phaseDegrees(response).map((value, i) => (ohms[i] === 0 ? NaN : value));
    const common = { label, style, frequencies: response.frequencies, marks: response.marks };
    return {
      ohms: { ...common, values: ohms } satisfies PlotSeries,
      degrees: { ...common, values: degrees, breakStep: 180 } satisfies PlotSeries,
    };
  });
  const { from, to } = shownBand(caller, frame);
  const magnitudes = [
    ...pairs.map(({ ohms }) => ohms),
    ...(limit === undefined ? [] : [limitLine(inSi(caller, "limit", limit, "Ω", { min: 0 }), from, to)]),
  ];
  const phases = pairs.map(({ degrees }) => degrees);
  const [, highest] = extent(magnitudes, from, to) ?? [0, 10];
  const turn = Math.max(...(extent(phases, from, to) ?? [0, 0]).map(Math.abs));
  return plotAs(caller, {
    ...frame,
    panels: [
      {
        label: "Impedance magnitude, Ω",
        series: magnitudes,
        range:
          yRange === undefined ? niceRange([0, highest > 1e-9 ? highest * 1.05 : 1]) : checkRange(caller, "yRange", ohms(caller, yRange)),
        height: 240,
      },
      { label: "Phase, degrees", series: phases, range: turn <= 90.5 ? [-90, 90] : [-180, 180], steps: [15, 30, 45, 90], height: 150 },
    ],
  });
}

function limitLine(limit: number, from: number, to: number): PlotSeries {
  return {
    label: `limit ${fewDigits(limit)} Ω`,
    style: { color: "black", line: "dotted" },
    frequencies: [from, to],
    values: [limit, limit],
  };
}

/** A range in Ω: what is text with its unit as a number, all else as it is. */
function ohms(caller: string, range: readonly [Resistance, Resistance]): readonly [number, number] {
  if (!Array.isArray(range)) return range as never;
  return range.map((end: unknown, k) => (typeof end === "string" ? inSi(caller, `yRange[${k}]`, end, "Ω") : end)) as unknown as readonly [
    number,
    number,
  ];
}
