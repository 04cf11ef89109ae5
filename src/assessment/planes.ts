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

/** Sideways more than up or down; a diagonal counts with the plane that it is nearer to. */
const sideways = ({ azimuth, elevation }: Direction): boolean => Math.abs(azimuth) >= Math.abs(elevation);
const behind = ({ azimuth }: Direction): boolean => Math.abs(azimuth) > 90;

/** Each plane by itself, and what is radiated behind: a dipole or a panel sends half of it there. Every direction belongs to one of them. */
export const PLANES: readonly (readonly [topic: TopicName, within: (direction: Direction) => boolean, unmeasured: string])[] = [
  ["off the axis, to the sides", (direction) => !behind(direction) && sideways(direction), ""],
  ["off the axis, up and down", (direction) => !behind(direction) && !sideways(direction), ""],
  ["off the axis, behind", behind, "; a dipole or a panel sends half of its sound there"],
];
