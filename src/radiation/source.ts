import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { GivenPoint, Point } from "../physics";
import { checkPoint, cosDegrees, pointInSi, sinDegrees } from "../physics/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import type { MeasuredSet } from "./measured-set";

/** How a source looks, in its own coordinates: centred on its position, facing +x, its height along z. Metres. */
export type SourceShape =
  | {
      /** A point. */
      readonly kind: "point";
    }
  | {
      /** A disc, or a ring of some width. */
      readonly kind: "disc";
      /** m: outer radius. */
      readonly radius: number;
      /** m; 0 for a whole disc. */
      readonly innerRadius: number;
    }
  | {
      /** A thin ring. */
      readonly kind: "ring";
      /** m. */
      readonly radius: number;
    }
  | {
      /** A flat or bent rectangle. */
      readonly kind: "rectangle";
      /** m, along the source's y. */
      readonly width: number;
      /** m, along the source's z. */
      readonly height: number;
      /** m: of the arc in its vertical plane; absent when flat. */
      readonly bendRadius?: number;
    }
  | {
      /** Known by measurement. */
      readonly kind: "measured";
      /** The measurements, by direction. */
      readonly set: MeasuredSet;
    };

/**
 * What surrounds a radiating surface. `"simple"`: each element sounds alike in all directions. `"baffle"`: the same in front, and
 * nothing behind the plane of an infinite rigid baffle. `"free-edge"`: each element is weighted by (1 + cos θ)/2, Kirchhoff's
 * approximation for an edge in free space; it suits high frequencies (ka above about 1), and is too directive below.
 */
export type Mounting = "simple" | "baffle" | "free-edge";

/** How a source is turned, degrees: first rolled about its own axis, then raised, then turned. */
export interface Rotation {
  /** Degrees from +x towards +y; default 0. */
  readonly azimuth?: number | undefined;
  /** Degrees upwards; default 0. */
  readonly elevation?: number | undefined;
  /** Degrees about its own axis, from its +y towards its +z; default 0. */
  readonly roll?: number | undefined;
}

/** Where a source stands and how it is driven, the same for all kinds. */
export interface SourcePlacement {
  /** m: x towards the listener, y to the loudspeaker's own left, z up; default the origin. */
  readonly position?: GivenPoint | undefined;
  /** Where it faces, degrees; default towards +x. */
  readonly rotation?: Rotation | undefined;
  /** `"reversed"` turns the sign; default `"same"`. */
  readonly polarity?: "same" | "reversed" | undefined;
  /** s, positive is later; default 0. */
  readonly delay?: Time | undefined;
  /** dB; default 0. */
  readonly gainDb?: number | undefined;
}

/**
 * A source of sound as plain data. Its field at unit drive is $H = \frac1S\int_S \frac{e^{-jkR}}{R}\,dS$, 1/m: far away on its axis it
 * falls as $e^{-jkr}/r$, whatever its shape. Multiply by the pressure at 1 m on the axis (extrapolated from far away) to get Pa, or by
 * ρA/(4π) in free space, ρA/(2π) in a baffle, for a volume acceleration A in m³/s². A measured source carries its pressure itself.
 */
export interface Source {
  /** What radiates; lengths in m. */
  readonly shape: SourceShape;
  /** What surrounds it. */
  readonly mounting: Mounting;
  /** m: x towards the listener, y to the loudspeaker's own left, z up. */
  readonly position: Point;
  /** The source's own x, y and z axis in the coordinates of the room, each a unit vector. */
  readonly axes: readonly [x: Point, y: Point, z: Point];
  /** Whether its sign is turned. */
  readonly polarity: "same" | "reversed";
  /** s. */
  readonly delay: number;
  /** dB, on top of its drive. */
  readonly gainDb: number;
  /** m; 0 when the source is no dipole, else the path between front and rear. */
  readonly dipolePath: number;
}

/** The option names of `SourcePlacement`. */
export const placementKeys = /* @__PURE__ */ Object.freeze(["position", "rotation", "polarity", "delay", "gainDb"] as const);

/** Builds a source from its shape and the placement among its options, which are checked here. */
export function placeSource(caller: string, shape: SourceShape, mounting: Mounting, options: SourcePlacement): Source {
  const { position = [0, 0, 0], rotation, polarity = "same", delay = 0, gainDb = 0 } = options;
  return Object.freeze({
    shape: Object.freeze(shape),
    mounting: checkOneOf(caller, "mounting", mounting, ["simple", "baffle", "free-edge"]),
    position: pointInSi(caller, "position", position),
    axes: rotationAxes(caller, rotation),
    polarity: checkOneOf(caller, "polarity", polarity, ["same", "reversed"]),
    delay: inSi(caller, "delay", delay, "s"),
    gainDb: checkNumber(caller, "gainDb", gainDb, { unit: "dB", min: -400, max: 400 }),
    dipolePath: 0,
  });
}

/** Checks that a value has the shape of a source. */
export function checkSource(caller: string, argument: string, value: unknown): Source {
  const source = value as Source | null;
  if (
    typeof source !== "object"
    || source === null
    || typeof source.shape !== "object"
    || source.shape === null
    || !Array.isArray(source.axes)
    || !Array.isArray(source.position)
  ) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a source, got ${show(value)}`,
      "Make one with pointSource, pistonSource, ringSource, panelSource, lineSource, dipoleSource or measuredSource",
    );
  }
  const { shape, mounting, polarity } = source;
  checkOneOf(caller, `${argument}.shape.kind`, shape?.kind, ["point", "disc", "ring", "rectangle", "measured"]);
  checkOneOf(caller, `${argument}.mounting`, mounting, ["simple", "baffle", "free-edge"]);
  checkOneOf(caller, `${argument}.polarity`, polarity, ["same", "reversed"]);
  checkPoint(caller, `${argument}.position`, source.position);
  if (source.axes.length !== 3)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}.axes" must be three unit vectors, got ${show(source.axes)}`,
    );
  source.axes.forEach((axis, i) => checkPoint(caller, `${argument}.axes[${i}]`, axis));
  checkNumber(caller, `${argument}.delay`, source.delay, { unit: "s" });
  checkNumber(caller, `${argument}.gainDb`, source.gainDb, { min: -400, max: 400, unit: "dB" });
  checkNumber(caller, `${argument}.dipolePath`, source.dipolePath, { min: 0, unit: "m" });
  for (const [name, size] of Object.entries(shape))
    if (name !== "kind" && name !== "set") checkNumber(caller, `${argument}.shape.${name}`, size, { unit: "m" });
  return source;
}

function rotationAxes(caller: string, rotation: Rotation | undefined): Source["axes"] {
  const { azimuth = 0, elevation = 0, roll = 0 } = checkOptions(caller, rotation, ["azimuth", "elevation", "roll"]);
  for (const [name, angle] of Object.entries({ azimuth, elevation, roll }))
    checkNumber(caller, `rotation.${name}`, angle, { unit: "degrees" });
  const [ca, sa, ce, se, cr, sr] = [
    cosDegrees(azimuth),
    sinDegrees(azimuth),
    cosDegrees(elevation),
    sinDegrees(elevation),
    cosDegrees(roll),
    sinDegrees(roll),
  ];
  const level: Point = [-sa, ca, 0];
  const upright: Point = [-se * ca, -se * sa, ce];
  const mix = (p: number, q: number): Point =>
    Object.freeze([p * level[0] + q * upright[0], p * level[1] + q * upright[1], p * level[2] + q * upright[2]] as const);
  return Object.freeze([Object.freeze([ce * ca, ce * sa, se] as const), mix(cr, sr), mix(-sr, cr)] as const);
}
