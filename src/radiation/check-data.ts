import { DividingNetworkError, owned, show } from "../errors";
import { checkResponse } from "../response";
import type { PolarMap } from "./polar-map";
import type { PowerResponse } from "./power-response";
import type { PressureField } from "./pressure-field";
import type { SphereMap } from "./sphere-map";

// What functions of this folder give each other is checked for its shape only, as `checkResponse` does: the values were checked when it was made.
// Of a copy that isn't frozen, as it comes from a worker, a copy of its own is worked with.

type Loose = Partial<Record<string, unknown>>;

const isArray = (value: unknown, length?: number): value is Float64Array =>
  Object.prototype.toString.call(value) === "[object Float64Array]" && (length === undefined ? (value as Float64Array).length > 0 : (value as Float64Array).length === length);

function checkShape(caller: string, argument: string, value: unknown, what: string, good: (given: Loose, n: number) => boolean): void {
  const given = (typeof value === "object" && value !== null ? value : {}) as Loose;
  if (isArray(given["frequencies"]) && good(given, given["frequencies"].length)) return;
  throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be ${what}, got ${show(value)}`, "Pass on what that function gave; its Float64Arrays do not go through JSON as they are");
}

const isLength = (value: unknown): boolean => typeof value === "number" && Number.isFinite(value) && value > 0;

/** Checks that a value has the shape of a polar map. */
export function checkPolarMap(caller: string, argument: string, value: unknown): PolarMap {
  checkShape(caller, argument, value, "a polar map, as polarMap and polarMapFromResponses give it", ({ angles, re, im, plane, distance }, n) => (
    isArray(angles) && isArray(re, angles.length * n) && isArray(im, angles.length * n) && (plane === "horizontal" || plane === "vertical") && isLength(distance)
  ));
  return owned(value as PolarMap);
}

/** Checks that a value has the shape of a polar map of one plane: two maps are easily swapped. */
export function checkPlaneMap(caller: string, plane: "horizontal" | "vertical", value: unknown): PolarMap {
  const map = checkPolarMap(caller, plane, value);
  if (map.plane === plane) return map;
  throw new DividingNetworkError("invalid-argument", `${caller}: "${plane}" must be a map of the ${plane} plane, got one of the ${map.plane} plane`, "Exchange the two, or say plane when making the map");
}

/** Checks that a value has the shape of a field. */
export function checkField(caller: string, argument: string, value: unknown): PressureField {
  checkShape(caller, argument, value, "a field, as pressureAt gives it", ({ points, re, im, errorEstimate }, n) => (
    Array.isArray(points) && points.every((point) => Array.isArray(point) && point.length === 3) && isArray(re, points.length * n) && isArray(im, points.length * n)
    && Number.isFinite(errorEstimate)
  ));
  return owned(value as PressureField);
}

/** Checks that a value has the shape of a sphere map. */
export function checkSphereMap(caller: string, argument: string, value: unknown): SphereMap {
  checkShape(caller, argument, value, "a sphere map, as sphereMap gives it", ({ weights, re, im, axis, distance, quadrature }, n) => (
    isArray(weights) && isArray(re, weights.length * n) && isArray(im, weights.length * n) && checkResponse(caller, `${argument}.axis`, axis).re.length === n
    && isLength(distance) && typeof quadrature === "string"
  ));
  return owned(value as SphereMap);
}

/** Checks that a value has the shape of a power response. */
export function checkPower(caller: string, argument: string, value: unknown): PowerResponse {
  checkShape(caller, argument, value, "a power response, as powerResponse gives it", ({ meanSquare, levelDb, axis, distance }, n) => (
    isArray(meanSquare, n) && isArray(levelDb, n) && checkResponse(caller, `${argument}.axis`, axis).re.length === n && isLength(distance)
  ));
  return owned(value as PowerResponse);
}

/** Checks that an option is a yes or a no, when it is given. */
export function checkFlag(caller: string, argument: string, value: unknown): boolean {
  if (value === undefined || typeof value === "boolean") return value === true;
  throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be true or false, got ${show(value)}`);
}
