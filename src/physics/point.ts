import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOptions, show } from "../errors/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";

/** A place in metres: x towards the listener, y to the loudspeaker's own left, z up. */
export type Point = readonly [x: number, y: number, z: number];

/** A place as it is given: each coordinate in m, or as text with its unit. */
export type GivenPoint = readonly [x: Length, y: Length, z: Length];

/** A direction in degrees: azimuth positive towards +y, elevation positive up; both 0 along +x. */
export interface Direction {
  /** Degrees from +x towards +y; default 0. */
  readonly azimuth?: number | undefined;
  /** Degrees above the horizontal plane; default 0. */
  readonly elevation?: number | undefined;
}

/**
 * A point in a stated direction and distance, m: x towards the listener, y to the loudspeaker's own left, z up; azimuth positive
 * towards +y, elevation positive up. Elevations beyond ±90° go over the top to the back: 120° is 60° high behind.
 *
 * @param direction azimuth and elevation, degrees
 * @param distance m, at least 0
 * @param origin where the distance is counted from, m; default the origin of the coordinates
 * @returns the point, m
 * @throws DividingNetworkError when an argument is not a finite number or out of range
 * @example
 * ```ts
 * import { pointInDirection } from "dividing-network/physics";
 *
 * pointInDirection({ azimuth: 30 }, 2)[1]; // 1
 * pointInDirection({ elevation: 30 }, 2)[2]; // 1
 * ```
 */
export function pointInDirection(direction: Direction, distance: Length, origin: GivenPoint = [0, 0, 0]): Point {
  const { azimuth = 0, elevation = 0 } = checkOptions("pointInDirection", direction, ["azimuth", "elevation"]);
  const r = inSi("pointInDirection", "distance", distance, "m", { min: 0 });
  const [x, y, z] = pointInSi("pointInDirection", "origin", origin);
  const a = checkNumber("pointInDirection", "azimuth", azimuth, { unit: "degrees" });
  const e = checkNumber("pointInDirection", "elevation", elevation, { unit: "degrees" });
  return Object.freeze([x + r * cosDegrees(e) * cosDegrees(a), y + r * cosDegrees(e) * sinDegrees(a), z + r * sinDegrees(e)] as const);
}

/**
 * Cosine of an angle in degrees, dimensionless: exact at multiples of 90, so that a plane's own directions lie in it.
 *
 * @param angle degrees
 * @returns from -1 to 1, dimensionless
 */
export function cosDegrees(angle: number): number {
  if (!Number.isFinite(angle))
    throw new DividingNetworkError("invalid-argument", `cosDegrees: "angle" must be a finite number in degrees, got ${show(angle)}`);
  return sinDegrees(90 - Math.abs(angle % 360));
}

/**
 * Sine of an angle in degrees, dimensionless: exact at multiples of 90.
 *
 * @param angle degrees
 * @returns from -1 to 1, dimensionless
 */
export function sinDegrees(angle: number): number {
  if (!Number.isFinite(angle))
    throw new DividingNetworkError("invalid-argument", `sinDegrees: "angle" must be a finite number in degrees, got ${show(angle)}`);
  const turned = angle % 360;
  if (turned % 180 === 0) return 0;
  if (turned === 90 || turned === -270) return 1;
  if (turned === -90 || turned === 270) return -1;
  return Math.sin((turned * Math.PI) / 180);
}

/**
 * Checks that an argument is a point in m (x towards the listener, y to the loudspeaker's own left, z up) and gives it frozen.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @returns the point, m
 * @throws DividingNetworkError `invalid-argument` when it is no array of three finite numbers
 */
export function checkPoint(caller: string, argument: string, value: unknown): Point {
  if (!Array.isArray(value) || value.length !== 3 || ![0, 1, 2].every((axis) => Number.isFinite(value[axis]))) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a point [x, y, z] of three finite numbers in m, or of lengths as text, got ${show(value)}`,
    );
  }
  return Object.isFrozen(value) ? (value as unknown as Point) : Object.freeze([value[0], value[1], value[2]] as Point);
}

/**
 * A point as people give it, each coordinate in m or as text with its unit, in m and frozen.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @returns the point, m
 * @throws DividingNetworkError `invalid-argument` when it is no array of three, `invalid-quantity` when a text is no length
 */
export function pointInSi(caller: string, argument: string, value: unknown): Point {
  const worded = Array.isArray(value) && value.length === 3 && value.some((each) => typeof each === "string");
  return checkPoint(
    caller,
    argument,
    worded
      ? value.map((each: unknown, axis) => (typeof each === "string" ? inSi(caller, `${argument}[${axis}]`, each, "m", {}) : each))
      : value,
  );
}

/**
 * Checks that an argument is a list of at least one point in m and gives the points frozen.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @returns the points, m
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkPoints(caller: string, argument: string, value: unknown): readonly Point[] {
  if (!Array.isArray(value) || value.length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be an array of at least one point [x, y, z] in m, got ${show(value)}`,
    );
  }
  return Object.freeze(
    checkList<unknown>(caller, argument, value, "points [x, y, z] in m").map((point, i) => pointInSi(caller, `${argument}[${i}]`, point)),
  );
}
