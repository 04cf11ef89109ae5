import type { Assessment, Spread } from "../../assessment";
import { shapeOf } from "../../assessment/internal";
import type { PlotArea } from "../plot-options";
import type { Markup } from "../markup";
import { responsePlot } from "../response-plot";
import { spreadArea } from "../spread-area";
import { pairFigure } from "./pair-figure";
import { partnerOnAxis } from "./partner-curves";
import { axisOf, PARTNER, PRESSURE, type Band, type Shown } from "./shown";

/** The axis of all networks, with the goal's corridor and what tolerances do to the proposed one. */
export function axisFigure(shown: readonly Shown[], after: Assessment, band: Band, spread: Spread | undefined): Markup {
  const partner = partnerOnAxis(after)?.alone;
  return pairFigure(
    (width) =>
      responsePlot({
        ...band,
        title: `On the axis at ${after.distance} m, ${after.prediction.voltage} V`,
        ...PRESSURE,
        areas: [corridorOf(after), ...spreadOf(spread)],
        series: [
          ...shown.map(({ name, assessment, style }) => {
            const both = partnerOnAxis(assessment)?.together;
            return both === undefined
              ? { label: name, response: axisOf(assessment).sum, style }
              : { label: `${name}, with the partner`, response: both, style };
          }),
          ...(partner === undefined ? [] : [{ label: "the partner alone", response: partner, style: PARTNER }]),
        ],
        width,
      }),
    `Measured pressures at the network’s voltages; not smoothed.${partner === undefined ? "" : " The partner, which plays beside it, is added as measured, as far as both are known."}`,
  );
}

/** The goal's corridor about its target, where it is judged, at the level that fits the proposed network best unless one is stated. */
function corridorOf({ goal, quality, band }: Assessment): PlotArea {
  const own = goal.places.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  const shape = shapeOf(goal, own ?? {});
  const level = own?.levelDb ?? goal.levelDb ?? quality.levelDb;
  const frequencies = Float64Array.from({ length: 61 }, (_, index) => band.from * (band.to / band.from) ** (index / 60));
  const at = (sign: number) => frequencies.map((frequency) => level + shape(frequency) + sign * goal.corridorDb);
  return { label: `Corridor: ±${goal.corridorDb} dB about the target, for third octaves`, frequencies, low: at(-1), high: at(1) };
}

/** Between which levels nine of ten proposed loudspeakers lie on the axis, or whatever percentiles were asked for. */
function spreadOf(spread: Spread | undefined): readonly PlotArea[] {
  const place = spread?.bands.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  return spread === undefined || place === undefined ? [] : spreadArea(spread, place, " of the proposed");
}
