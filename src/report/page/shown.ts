import type { Assessment, Comparison } from "../../assessment";
import { REFERENCE_PRESSURE } from "../../physics";
import type { ColorName, LineKind } from "../palette";
import { shortName, type Alternative } from "./alternative";

/** What plots of sound pressure have in common. */
export const PRESSURE = { yLabel: "Sound pressure level, dB re 20 µPa", reference: REFERENCE_PRESSURE } as const;

/** What plays beside the network looks alike in every plot. */
export const PARTNER = { color: "yellow", line: "dotted" } as const;

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
          {
            name: shortName(alternative),
            assessment: alternative.comparison.after,
            style: { color: "bluish-green", line: "dash-dot" },
          } as const,
        ]),
  ];
}

/** The ends of a plot's axis, Hz. */
export interface Band {
  readonly from: number;
  readonly to: number;
}

/** What the plots of sound pressure show, Hz: where an axis has data and a third of an octave beyond, within 20 Hz to 20 kHz where that leaves an octave. */
export function shownBand(shown: readonly Shown[]): Band {
  const ends = shown.map(({ assessment }) => axisOf(assessment).sum.frequencies);
  const third = 2 ** (1 / 3);
  const [low, high] = [Math.min(...ends.map((grid) => grid[0]!)) / third, Math.max(...ends.map((grid) => grid.at(-1)!)) * third];
  const [from, to] = [Math.max(20, low), Math.min(20_000, high)];
  const round = (frequency: number) => Number(frequency.toPrecision(3));
  return to >= 2 * from ? { from: round(from), to: round(to) } : { from: low, to: high };
}

/** The prediction on the axis at the distance of the judgement. */
export function axisOf({ prediction, distance }: Assessment) {
  return prediction.places.find((place) => place.azimuth === 0 && place.elevation === 0 && Math.abs(place.distance - distance) < 1e-3)!;
}
