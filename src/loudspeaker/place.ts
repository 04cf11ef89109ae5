import { DividingNetworkError } from "../errors";
import { checkList, checkObject, checkNumber, show } from "../errors/internal";
import { inSi } from "../quantity/internal";
import { checkLoudspeaker } from "./check-loudspeaker";
import { isPlace, samePlace } from "./same-place";
import type { Loudspeaker } from "./loudspeaker-data";
import type { Place, AskedPlace } from "./loudspeaker-data";

/** Checks a place that is asked for and gives it in m and degrees. An angle that isn't stated is 0. */
export function checkPlace(caller: string, place: AskedPlace, argument = "place"): Place {
  const { distance, azimuth, elevation } = checkObject(caller, argument, place, "{ distance, azimuth, elevation } in m and degrees");
  return {
    distance: inSi(caller, `${argument}.distance`, distance, "m", { above: 0 }),
    azimuth: checkNumber(caller, `${argument}.azimuth`, azimuth ?? 0, { unit: "degrees" }),
    elevation: checkNumber(caller, `${argument}.elevation`, elevation ?? 0, { unit: "degrees" }),
  };
}

/** The places of a prediction, checked. */
export function checkPlaces<P extends Place>(caller: string, prediction: { readonly places: readonly P[] }): readonly P[] {
  const places = checkList(
    caller,
    "prediction.places",
    checkObject(caller, "prediction", prediction, "what predict() gives").places,
    "places",
  );
  for (const place of places)
    if (!isPlace(place))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "prediction.places" must be places { distance, azimuth, elevation } in m and degrees, got ${show(place)}`,
        "Make them with predict(loudspeaker)",
      );
  return places;
}

/**
 * The places (m, degrees) at which every driver was measured, in the order of the first driver's measurements.
 *
 * @param loudspeaker network and drivers, their places in m and degrees
 * @returns places, each distance in m, azimuth and elevation in degrees
 * @throws DividingNetworkError `not-measured` when there is none
 * @example
 * ```ts
 * import { commonPlaces, frequencyResponse, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth: 20, timeZero: "common" });
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * commonPlaces(box); // [{ distance: 1, azimuth: 20, elevation: 0 }]
 * ```
 */
export function commonPlaces(loudspeaker: Loudspeaker): readonly Place[] {
  const { drivers } = checkLoudspeaker("commonPlaces", loudspeaker);
  const [first, ...others] = drivers;
  const places = first!.pressures.filter(
    (pressure, index, all) =>
      all.findIndex((earlier) => samePlace(earlier, pressure)) === index
      && others.every(({ pressures }) => pressures.some((candidate) => samePlace(candidate, pressure))),
  );
  if (places.length === 0) {
    throw new DividingNetworkError(
      "not-measured",
      `predict: there is no place at which every driver (${drivers.map(({ name }) => name).join(", ")}) was measured`,
      "Measure each driver alone at the same microphone positions",
    );
  }
  return places.map(({ distance, azimuth, elevation }) => ({ distance, azimuth, elevation }));
}

/** The refusal of a place that wasn't measured, with the nearest that were. */
export function notMeasured(caller: string, place: Place, known: readonly Place[], of: string): DividingNetworkError {
  const text = ({ distance, azimuth, elevation }: Place) => `${distance} m, azimuth ${azimuth}°, elevation ${elevation}°`;
  const apart = (a: Place) =>
    Math.abs(a.distance - place.distance) * 30 + Math.abs(a.azimuth - place.azimuth) + Math.abs(a.elevation - place.elevation);
  const near = [...known].sort((a, b) => apart(a) - apart(b)).slice(0, 3);
  return new DividingNetworkError(
    "not-measured",
    `${caller}: ${of} has nothing at ${text(place)}; nearest of its ${known.length} places: ${near.map(text).join("; ")}`,
    "Measure there, or ask for a place that was measured: nothing is guessed between or beyond",
  );
}
