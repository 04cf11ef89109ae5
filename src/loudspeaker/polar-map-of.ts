import { DividingNetworkError } from "../errors";
import { checkObject, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Length } from "../quantity";
import { polarMapFromResponses, type PolarMap } from "../radiation";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { oneDistance, planeAngle, type Plane } from "./plane-angle";
import { checkPlaces } from "./place";
import type { PressureAtPlace } from "./prediction";

/** Options of `polarMapOf`. */
export interface PolarMapOfOptions {
  /** m, from the rotation centre; may be left out when all places have one distance. */
  readonly distance?: Length | undefined;
  /** Default `"horizontal"`. */
  readonly plane?: Plane | undefined;
  /** One driver through the network, by its name; default: all drivers together. */
  readonly driver?: string | undefined;
}

/**
 * A polar map, Pa, of what the network and the drivers give at the places that were measured in one plane: data for `angularWindow`,
 * `offAxisStability`, `beamwidth`, `coverage`, `powerResponse`, `spatialAverages` and `polarLevels`. Nothing is added between or beyond
 * the places.
 *
 * @param prediction from `predict`
 * @param options distance in m; plane (horizontal: azimuth, positive towards the loudspeaker's own left, +y; vertical: elevation, positive up
 *   and on over the top); one driver alone
 * @returns the map, Pa, angles × frequencies, with the marks of all its places
 * @throws DividingNetworkError `not-measured` when the plane holds no place beside the axis, or nothing at that distance; `invalid-argument`
 *   for a driver that isn't there, or when a distance must be named
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, predict, pressurePerVolt, resistor } from "dividing-network";
 * import { beamwidth } from "dividing-network/radiation";
 * import { polarMapOf } from "dividing-network/loudspeaker";
 *
 * const measured = (azimuth: number, value: number) => pressurePerVolt({
 *   response: frequencyResponse([500, 1000], [value, value], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common",
 * });
 * const pressures = [measured(-30, 0.25), measured(0, 1), measured(30, 0.5)];
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures }] });
 * const map = polarMapOf(predict(box), { distance: "1 m" });
 * map.angles; // [-30, 0, 30]
 * beamwidth(map, { dropDb: 6.0206 }).negative[0]; // 15.0
 * ```
 */
export function polarMapOf(prediction: { readonly places: readonly PressureAtPlace[] }, options: PolarMapOfOptions = {}): PolarMap {
  const caller = "polarMapOf";
  const { distance: asked, plane: given = "horizontal", driver } = checkOptions(caller, options, ["distance", "plane", "driver"]);
  const plane = checkOneOf(caller, "plane", given, ["horizontal", "vertical"]);
  const places = checkPlaces(caller, prediction);
  const distance = oneDistance(caller, places, asked);
  const entries: { angle: number; response: FrequencyResponse }[] = [];
  for (const place of places) {
    const angle = Math.abs(place.distance - distance) < 1e-3 ? planeAngle(place, plane) : undefined;
    // Straight up and straight down are one place each, whatever their azimuth.
    if (angle === undefined || entries.some((entry) => entry.angle === angle)) continue;
    entries.push({
      angle,
      response: checkResponse(caller, "prediction.places[].sum", driver === undefined ? place.sum : branch(caller, place, driver)),
    });
  }
  if (entries.length < 2) {
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: the ${plane} plane must hold at least two measured places at ${distance} m, got ${entries.length}`,
      "Measure every driver off the axis too, or use sourcesOf with a symmetry for a model",
    );
  }
  const [low, high] = [
    Math.max(...entries.map(({ response: { frequencies } }) => frequencies[0]!)),
    Math.min(...entries.map(({ response: { frequencies } }) => frequencies[frequencies.length - 1]!)),
  ];
  // A place that was measured over less than the others has less of the prediction's frequencies.
  const frequencies = entries[0]!.response.frequencies.filter((frequency) => frequency >= low && frequency <= high);
  if (frequencies.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: the places of the ${plane} plane must share frequencies, got one that begins at ${low} Hz and one that ends at ${high} Hz`,
      "Leave a place out of the prediction",
    );
  return polarMapFromResponses(entries, { plane, distance, frequencies });
}

function branch(caller: string, { branches }: PressureAtPlace, driver: string): FrequencyResponse {
  checkObject(caller, "prediction.places[].branches", branches, "an object of responses by the driver's name");
  if (typeof driver === "string" && Object.hasOwn(branches, driver)) return branches[driver]!;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "driver" must be one of ${Object.keys(branches).map(show).join(", ")}, got ${show(driver)}`,
  );
}
