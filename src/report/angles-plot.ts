import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { checkArray, checkRange } from "./curve-checks";
import { FRAME_OPTIONS, plotAs, shownBand } from "./frequency-plot";
import type { PlotFrame, PlotSeries } from "./plot-options";
import { checkText } from "./markup";
import { sequentialPaint, type LineKind } from "./palette";
import type { Picture } from "./picture";
import { LEVEL_SCALES, levelRange, levelsOf, type PlotLevels } from "./response-plot";

/** The curve of one direction. */
export interface AngleSeries {
  /** Degrees from the reference axis; the sign is the side. */
  readonly angle: number;
  /** In the unit of `reference`, or levels in dB. */
  readonly response: FrequencyResponse | PlotLevels;
}

/** What `anglesPlot` takes. */
export interface AnglesPlotOptions extends PlotFrame {
  /** One curve for each angle. */
  readonly series: readonly AngleSeries[];
  /** What the axis shows, with its reference: `"Sound pressure level, dB re 20 µPa"`. */
  readonly yLabel: string;
  /** Lowest and highest level shown, dB; by default up to 50 dB below the highest value. */
  readonly yRange?: readonly [number, number] | undefined;
  /** The size that counts as 0 dB, in the unit of the responses; 1 by default. Level curves are taken as they are. */
  readonly reference?: number | undefined;
  /** The plane of the angles, which names the sides; without it they are called positive and negative. */
  readonly plane?: "horizontal" | "vertical" | undefined;
}

const SIDES = {
  horizontal: ["To the loudspeaker's left", "To the loudspeaker's right"],
  vertical: ["Up", "Down"],
  none: ["Positive angles", "Negative angles"],
} as const;

/**
 * Draws an off-axis family, levels in dB over a logarithmic frequency axis in Hz, as an SVG picture: one panel for each
 * side, the axis itself in both. Colours run with the angle over the sequential map "viridis" of van der Walt & Smith
 * (2015), the axis standing out most; where labels are crowded, every second or third curve is named.
 *
 * Azimuth is positive towards the loudspeaker's own left, which is the right-hand side of a listener facing it;
 * elevation is positive upwards.
 *
 * @param options title, the series (angles in degrees, `FrequencyResponse` in the unit of `reference` or levels in dB), the axis label, ranges in dB and Hz
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { anglesPlot } from "dividing-network/report";
 *
 * const at = (angle: number) => ({ angle, response: { frequencies: [20, 2000, 20000], levelDb: [80, 86, 86 - Math.abs(angle) / 4] } });
 * const { svg } = anglesPlot({ title: "Horizontal family", yLabel: "Level, dB re 20 µPa", plane: "horizontal", series: [-30, 0, 30].map(at) });
 * svg.includes("To the loudspeaker&#39;s left"); // true
 * ```
 */
export function anglesPlot(options: AnglesPlotOptions): Picture {
  const caller = "anglesPlot";
  const {
    series: given,
    yLabel,
    yRange,
    reference,
    plane,
    ...frame
  } = checkOptions(caller, options, [...FRAME_OPTIONS, "series", "yLabel", "yRange", "reference", "plane"]);
  checkText(caller, "yLabel", yLabel);
  if (plane !== undefined) checkOneOf(caller, "plane", plane, ["horizontal", "vertical"]);
  const members = checkArray<AngleSeries>(caller, "series", given).map((each, index) => {
    const member = checkOptions(caller, each, ["angle", "response"]);
    const angle = checkNumber(caller, `series[${index}].angle`, member.angle, { min: -180, max: 180, unit: "degrees" });
    return { angle, ...levelsOf(caller, `series[${index}].response`, member.response, reference) };
  });
  const sizes = [...new Set(members.map(({ angle }) => Math.abs(angle)))].sort((a, b) => a - b);
  if (new Set(members.map(({ angle }) => angle)).size < members.length) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "series" must have each angle once`);
  }

  // The axis is drawn last, on top of the others.
  const range = yRange === undefined ? levelRange(members, shownBand(caller, frame)) : checkRange(caller, "yRange", yRange);
  const sides = [1, -1].map((sign) =>
    members.filter(({ angle }) => angle * sign >= 0).sort((a, b) => Math.abs(b.angle) - Math.abs(a.angle)),
  );
  const named = SIDES[plane ?? "none"];
  const panels = sides.flatMap((side, index) => {
    if (!side.some(({ angle }) => angle !== 0) && (index === 1 || members.some(({ angle }) => angle < 0))) return [];
    const series = side.map(({ angle, ...curve }): PlotSeries => {
      const rank = sizes.indexOf(Math.abs(angle));
      const line: LineKind = rank % 2 === 0 ? "solid" : "dashed";
      const style = {
        color: sequentialPaint(rank / Math.max(1, sizes.length - 1)),
        line,
        weight: angle === 0 ? "strong" : "normal",
      } as const;
      return { label: angleText(angle), style, ...curve };
    });
    return [{ label: `${named[index]!}: ${yLabel}`, series, range, unitsPerDecade: LEVEL_SCALES }];
  });
  return plotAs(caller, { ...frame, labels: "thin", panels });
}

function angleText(angle: number): string {
  return angle === 0 ? "0° on axis" : `${angle < 0 ? "−" : "+"}${Number(Math.abs(angle).toPrecision(4))}°`;
}
