/** What a verdict is given on. */
export type TopicName =
  | "on the axis"
  | "off the axis, to the sides"
  | "off the axis, up and down"
  | "off the axis, behind"
  | "outside the judged band"
  | "load"
  | "drivers"
  | "loudness";

interface Direction {
  readonly azimuth: number;
  readonly elevation: number;
}

/** Each plane by itself, and what is radiated behind: a dipole or a panel sends half of it there. */
export const PLANES: readonly (readonly [topic: TopicName, within: (direction: Direction) => boolean, unmeasured: string])[] = [
  ["off the axis, to the sides", ({ azimuth, elevation }) => elevation === 0 && Math.abs(azimuth) <= 90, ""],
  ["off the axis, up and down", ({ azimuth }) => azimuth === 0, ""],
  ["off the axis, behind", ({ azimuth }) => Math.abs(azimuth) > 90, "; a dipole or a panel sends half of its sound there"],
];
