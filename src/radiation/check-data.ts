import { DividingNetworkError } from "../errors";
import { isProven, proved, owned, show, type ProvenKind } from "../errors/internal";
import { checkResponse } from "../response/internal";
import type { PolarMap } from "./field-data";
import type { PowerResponse } from "./field-data";
import type { PressureField } from "./field-data";
import type { SphereMap } from "./field-data";

// What functions of this folder give each other is looked at once, when it first comes back in; that it was right is remembered. Of a
// copy that isn't frozen, as it comes from a worker, a copy of its own is worked with.

type Loose = Partial<Record<string, unknown>>;

const isArray = (value: unknown, length?: number): value is Float64Array =>
  Object.prototype.toString.call(value) === "[object Float64Array]"
  && (length === undefined ? (value as Float64Array).length > 0 : (value as Float64Array).length === length);

/** Shape first, then, of a copy that nobody else can write to, the numbers: frequencies in order, values finite. */
function checked<T extends object>(
  kind: ProvenKind,
  caller: string,
  argument: string,
  value: unknown,
  what: string,
  good: (given: Loose, n: number) => boolean,
  values: readonly string[],
): T {
  if (isProven(kind, value)) return value as T;
  const given = (typeof value === "object" && value !== null ? value : {}) as Loose;
  if (isArray(given["frequencies"]) && good(given, given["frequencies"].length)) {
    const own = owned(value as T);
    const held = own as Loose;
    if (ascends(held["frequencies"] as Float64Array) && values.every((key) => (held[key] as Float64Array).every(Number.isFinite)))
      return proved(kind, own);
  }
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${argument}" must be ${what}, got ${show(value)}`,
    "Pass on what that function gave; its Float64Arrays do not go through JSON as they are",
  );
}

const ascends = (frequencies: Float64Array): boolean =>
  frequencies.every((f, i) => f < Infinity && (i === 0 ? f >= 0 : f > frequencies[i - 1]!));

const isLength = (value: unknown): boolean => typeof value === "number" && Number.isFinite(value) && value > 0;

/** Checks that a value has the shape of a polar map. */
export function checkPolarMap(caller: string, argument: string, value: unknown): PolarMap {
  return checked<PolarMap>(
    "polar map",
    caller,
    argument,
    value,
    "a polar map, as polarMap and polarMapFromResponses give it",
    ({ angles, re, im, plane, distance }, n) =>
      isArray(angles)
      && isArray(re, angles.length * n)
      && isArray(im, angles.length * n)
      && (plane === "horizontal" || plane === "vertical")
      && isLength(distance),
    ["angles", "re", "im"],
  );
}

/** Checks that a value has the shape of a polar map of one plane: two maps are easily swapped. */
export function checkPlaneMap(caller: string, plane: "horizontal" | "vertical", value: unknown): PolarMap {
  const map = checkPolarMap(caller, plane, value);
  if (map.plane === plane) return map;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${plane}" must be a map of the ${plane} plane, got one of the ${map.plane} plane`,
    "Exchange the two, or say plane when making the map",
  );
}

/** Checks that a value has the shape of a field. */
export function checkField(caller: string, argument: string, value: unknown): PressureField {
  return checked<PressureField>(
    "field",
    caller,
    argument,
    value,
    "a field, as pressureAt gives it",
    ({ points, re, im, errorEstimate }, n) =>
      Array.isArray(points)
      && points.every((point) => Array.isArray(point) && point.length === 3)
      && isArray(re, points.length * n)
      && isArray(im, points.length * n)
      && Number.isFinite(errorEstimate),
    ["re", "im"],
  );
}

/** Checks that a value has the shape of a sphere map. */
export function checkSphereMap(caller: string, argument: string, value: unknown): SphereMap {
  return checked<SphereMap>(
    "sphere map",
    caller,
    argument,
    value,
    "a sphere map, as sphereMap gives it",
    ({ weights, re, im, axis, distance, quadrature }, n) =>
      isArray(weights)
      && isArray(re, weights.length * n)
      && isArray(im, weights.length * n)
      && checkResponse(caller, `${argument}.axis`, axis).re.length === n
      && isLength(distance)
      && typeof quadrature === "string",
    ["weights", "re", "im"],
  );
}

/** Checks that a value has the shape of a power response. */
export function checkPower(caller: string, argument: string, value: unknown): PowerResponse {
  return checked<PowerResponse>(
    "power response",
    caller,
    argument,
    value,
    "a power response, as powerResponse gives it",
    ({ meanSquare, levelDb, axis, distance }, n) =>
      isArray(meanSquare, n)
      && isArray(levelDb, n)
      && checkResponse(caller, `${argument}.axis`, axis).re.length === n
      && isLength(distance),
    ["meanSquare"],
  );
}

/** Checks that an option is a yes or a no, when it is given. */
export function checkFlag(caller: string, argument: string, value: unknown): boolean {
  if (value === undefined || typeof value === "boolean") return value === true;
  throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be true or false, got ${show(value)}`);
}
