import type { Assessment, Comparison, Spread } from "../../assessment";
import { shapeOf } from "../../assessment/internal";
import { REFERENCE_PRESSURE } from "../../physics";
import { levelDb, phaseDegrees, type FrequencyResponse } from "../../response";
import { angleMapPlot } from "../angle-map-plot";
import { anglesPlot } from "../angles-plot";
import { paragraph } from "../blocks";
import { frequencyPlot, type PlotArea } from "../frequency-plot";
import { impedancePlot } from "../impedance-plot";
import type { Markup } from "../markup";
import type { ColorName, LineKind } from "../palette";
import { responsePlot } from "../response-plot";
import { spreadArea } from "../spread-area";
import type { Alternative } from "./alternative";
import { excursionFigures } from "./excursion-figures";
import { pairFigure, stacked, twoColumns } from "./pair-figure";
import { partnerOnAxis } from "./partner-curves";
import { stepFigure } from "./step-figure";
import { hertz } from "../../quantity/internal";

const PRESSURE = { yLabel: "Sound pressure level, dB re 20 µPa", reference: REFERENCE_PRESSURE } as const;

/** One network of the page: what it is called and how its curves look, in every plot alike. */
export interface Shown {
  readonly name: string;
  readonly assessment: Assessment;
  readonly style: { readonly color: ColorName; readonly line: LineKind };
}

/** The networks that the page holds, as found first. */
export function networksOf({ before, after }: Comparison, alternative: Alternative | undefined): readonly Shown[] {
  return [
    { name: "as found", assessment: before, style: { color: "vermillion", line: "dashed" } },
    { name: "proposed", assessment: after, style: { color: "blue", line: "solid" } },
    ...(alternative === undefined
      ? []
      : [
          { name: alternative.name, assessment: alternative.comparison.after, style: { color: "bluish-green", line: "dash-dot" } } as const,
        ]),
  ];
}

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

function axisFigure(shown: readonly Shown[], after: Assessment, band: Band, spread: Spread | undefined): Markup {
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

/** What plays beside the network looks alike in every plot. */
const PARTNER = { color: "yellow", line: "dotted" } as const;
const BRANCH_COLORS = ["bluish-green", "reddish-purple", "orange", "sky-blue"] as const;
const BRANCH_LINES = ["dashed", "dotted", "dash-dot", "dashed"] as const;

/** Level above, phase against the sum below; both networks on one scale, 40 dB down from the highest level. */
function branchFigures(before: Shown, after: Shown, band: Band): readonly Markup[] {
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

/** dB of change against the axis in the judged band that counts as none; common practice, no source. */
const FLAT_DB = 1.5;

/** Each plane as a pair of maps and a pair of families; a plane that changes nothing is a sentence. */
function offAxis(before: Shown, after: Shown, band: Band): readonly Markup[] {
  return (["horizontal", "vertical"] as const).flatMap((plane) => {
    const where = plane === "horizontal" ? "to the sides" : "up and down";
    const families = [before, after].map(({ assessment }) => familyOf(assessment, plane));
    if (families.every((members) => members.length < 2)) return [paragraph(`Off the axis, ${where}: not measured.`)];
    const [old, now] = families.map((members, index) => largestOf(members, [before, after][index]!.assessment.band));
    const angles = families[1]!.map(({ angle }) => Math.abs(angle)).reduce((most, angle) => Math.max(most, angle), 0);
    if (Math.max(old!, now!) < FLAT_DB)
      return [
        paragraph(
          `Off the axis, ${where}, to ±${angles}°: in the judged band no level differs from the axis by more than ${old!.toFixed(1)} dB as found and ${now!.toFixed(1)} dB proposed.`,
        ),
      ];
    const both = [before, after]
      .map(({ name, assessment }, index) => ({ name, assessment, members: families[index]! }))
      .filter(({ members }) => members.length > 1);
    return [
      twoColumns(
        both.map(({ name, assessment, members }) =>
          pairFigure(
            (width) =>
              angleMapPlot({
                ...band,
                title: `Map, ${where}, ${name}`,
                series: members,
                plane,
                width,
                markers: assessment.handovers
                  .filter(({ frequency }) => frequency > band.from && frequency < band.to)
                  .map(({ frequency }) => ({ frequency, label: hertz(frequency) })),
              }),
            "",
          ),
        ),
      ),
      twoColumns(
        both.map(({ name, members }) =>
          pairFigure(
            (width) =>
              anglesPlot({
                ...band,
                title: `Angles, ${where}, ${name}`,
                yLabel: "level against the axis, dB",
                series: members,
                plane,
                yRange: [-20, 5],
                width,
              }),
            "",
          ),
        ),
        "tall",
      ),
    ];
  });
}

function familyOf(assessment: Assessment, plane: "horizontal" | "vertical") {
  const axis = axisOf(assessment).sum;
  const reference = new Map(Array.from(levelDb(axis), (level, index) => [axis.frequencies[index]!, level] as const));
  return assessment.prediction.places
    .filter(({ azimuth, elevation }) => (plane === "horizontal" ? elevation === 0 : azimuth === 0))
    .flatMap(({ azimuth, elevation, sum }) => {
      // A place may have less of the prediction's frequencies than the axis, or more.
      const levels = levelDb(sum);
      const both = Array.from(sum.frequencies, (frequency, index) => ({
        frequency,
        level: levels[index]!,
        axis: reference.get(frequency),
      })).filter((each): each is typeof each & { readonly axis: number } => each.axis !== undefined);
      if (both.length < 2) return [];
      // Marks stand in the plot of the axis, once.
      return [
        {
          angle: plane === "horizontal" ? azimuth : elevation,
          response: {
            frequencies: Float64Array.from(both, ({ frequency }) => frequency),
            levelDb: Float64Array.from(both, (each) => each.level - each.axis),
          },
        },
      ];
    })
    .sort((a, b) => a.angle - b.angle);
}

function largestOf(members: ReturnType<typeof familyOf>, { from, to }: Band): number {
  return members.reduce(
    (most, { response: { frequencies, levelDb: levels } }) =>
      levels.reduce(
        (top, level, index) => (frequencies[index]! >= from && frequencies[index]! <= to ? Math.max(top, Math.abs(level)) : top),
        most,
      ),
    0,
  );
}

/** The ends of a plot's axis, Hz. */
interface Band {
  readonly from: number;
  readonly to: number;
}

/** What the plots of sound pressure show, Hz: where an axis has data and a third of an octave beyond, within 20 Hz to 20 kHz where that leaves an octave. */
function shownBand(shown: readonly Shown[]): Band {
  const ends = shown.map(({ assessment }) => axisOf(assessment).sum.frequencies);
  const third = 2 ** (1 / 3);
  const [low, high] = [Math.min(...ends.map((grid) => grid[0]!)) / third, Math.max(...ends.map((grid) => grid.at(-1)!)) * third];
  const [from, to] = [Math.max(20, low), Math.min(20_000, high)];
  const round = (frequency: number) => Number(frequency.toPrecision(3));
  return to >= 2 * from ? { from: round(from), to: round(to) } : { from: low, to: high };
}

export function axisOf({ prediction, distance }: Assessment) {
  return prediction.places.find((place) => place.azimuth === 0 && place.elevation === 0 && Math.abs(place.distance - distance) < 1e-3)!;
}
