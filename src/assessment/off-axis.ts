import { checkList, checkNumber, checkObject, checkOptions } from "../errors/internal";
import { pressureAtPlace, type Place } from "../loudspeaker";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { SILENCE_DB, bandLevelDb, covered, judged, type Band } from "./band";

/** How the response changes when the listener moves off the axis, at one measured angle. */
export interface OffAxisChange {
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** dB: level here less level on the axis, power averages in those octave bands that were measured here. */
  readonly bands: readonly {
    /** Hz: middle of the octave band. */
    readonly centre: number;
    /** dB: level here less level on the axis. */
    readonly changeDb: number;
  }[];
}

/** Responses at places: a prediction, or what was measured of the whole. */
export interface Places {
  /** Each with the pressure there. */
  readonly places: readonly (Place & {
    /** Pa, all drivers together. */
    readonly sum: FrequencyResponse;
  })[];
}

/** Where to look: the distance of the microphone in m, and the crossover in Hz. */
export interface OffAxisRegion {
  /** m: from which the places are taken. */
  readonly distance: number;
  /** Hz: the middle of the region. */
  readonly centre: number;
}

/** The difference between the two sides at one angle. */
export interface SideDifference {
  /** Degrees, > 0. */
  readonly azimuth: number;
  /** dB: level at +azimuth less level at −azimuth where it is largest, an octave either side of the centre. */
  readonly differenceDb: number;
  /** Hz, where. */
  readonly frequency: number;
}

/**
 * The change of level off the axis against the axis (dB), for each measured angle of one distance, in octave bands: one
 * centred on the crossover, and its neighbours an octave below and above.
 *
 * @param prediction the loudspeaker at its measured places, Pa
 * @param options `distance` in m, `centre` in Hz (the crossover)
 * @returns for each angle in degrees the changes in dB, by bands' centres in Hz
 * @throws DividingNetworkError `not-measured` when the axis wasn't measured at that distance
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, logGrid, predict, pressurePerVolt, resistor } from "dividing-network";
 * import { offAxisChange } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const at = (azimuth: number, gain: number) =>
 *   pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => gain), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common" });
 * const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [at(0, 1), at(30, 0.5)] }] });
 * offAxisChange(predict(box), { distance: 1, centre: 1000 })[0]?.bands[1]?.changeDb; // -6.0206
 * ```
 */
export function offAxisChange(prediction: Places, options: OffAxisRegion): readonly OffAxisChange[] {
  const { places } = checkPlaces("offAxisChange", prediction);
  const { distance, centre } = checkRegion("offAxisChange", options);
  const axis = pressureAtPlace({ places }, { distance, azimuth: 0, elevation: 0 }).sum;
  const bands = [centre / 2, centre, centre * 2].flatMap((middle) => {
    const band = covered({ from: middle / Math.SQRT2, to: middle * Math.SQRT2 }, axis);
    return band === undefined ? [] : [{ middle, band }];
  });
  const reference = bands.map(({ band }) => Math.max(SILENCE_DB, bandLevelDb(axis, band)));
  return Object.freeze(
    places
      .filter((place) => Math.abs(place.distance - distance) < 1e-3 && (place.azimuth !== 0 || place.elevation !== 0))
      .map(({ azimuth, elevation, sum }) =>
        Object.freeze({
          azimuth,
          elevation,
          bands: Object.freeze(
            bands.flatMap(({ middle, band }, index) =>
              covers(sum, band) ? [{ centre: middle, changeDb: Math.max(SILENCE_DB, bandLevelDb(sum, band)) - reference[index]! }] : [],
            ),
          ),
        }),
      ),
  );
}

/**
 * The largest difference (dB) between the two sides at the same angle, within an octave either side of the crossover: what
 * two listeners beside each other hear differently.
 *
 * @param prediction the loudspeaker at its measured places, Pa
 * @param options `distance` in m, `centre` in Hz (the crossover)
 * @returns for each azimuth (degrees, > 0) that was measured on both sides: dB and where in Hz
 * @throws DividingNetworkError `outside-band`
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, logGrid, predict, pressurePerVolt, resistor } from "dividing-network";
 * import { sideDifferences } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const at = (azimuth: number, gain: number) =>
 *   pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => gain), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common" });
 * const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [at(-30, 1), at(30, 0.5)] }] });
 * sideDifferences(predict(box), { distance: 1, centre: 1000 })[0]?.differenceDb; // -6.0206
 * ```
 */
export function sideDifferences(prediction: Places, options: OffAxisRegion): readonly SideDifference[] {
  const { places } = checkPlaces("sideDifferences", prediction);
  const { distance, centre } = checkRegion("sideDifferences", options);
  const level = (all: Places["places"]) => all.filter((place) => Math.abs(place.distance - distance) < 1e-3 && place.elevation === 0);
  const measured = level(places);
  return Object.freeze(
    measured.flatMap((left) => {
      if (left.azimuth <= 0) return [];
      const right = measured.find(({ azimuth }) => azimuth === -left.azimuth);
      const mine = covered({ from: centre / 2, to: centre * 2 }, left.sum);
      const band: Band | undefined = mine === undefined || right === undefined ? undefined : covered(mine, right.sum);
      if (right === undefined || band === undefined) return [];
      const [a, b] = [judged(left.sum, band), judged(right.sum, band)];
      let [differenceDb, frequency] = [0, centre];
      a.levelDb.forEach((value, index) => {
        const difference = value - b.levelDb[index]!;
        if (Math.abs(difference) > Math.abs(differenceDb)) [differenceDb, frequency] = [difference, a.frequencies[index]!];
      });
      return [Object.freeze({ azimuth: left.azimuth, differenceDb, frequency })];
    }),
  );
}

/** Whether a place that was measured over less than the axis has the whole of a band. */
function covers({ frequencies }: FrequencyResponse, { from, to }: Band): boolean {
  return frequencies[0]! <= from * (1 + 1e-4) && frequencies[frequencies.length - 1]! >= to * (1 - 1e-4);
}

function checkPlaces(caller: string, value: Places): Places {
  const { places } = checkObject(caller, "prediction", value, "what predict gives, with its places");
  return {
    places: checkList(caller, "places", places, "places, as predict gives them").map((place, index) => {
      const { distance, azimuth, elevation, sum } = checkObject(caller, `places[${index}]`, place, "a place, as predict gives it");
      return {
        distance: checkNumber(caller, `places[${index}].distance`, distance, { above: 0, unit: "m" }),
        azimuth: checkNumber(caller, `places[${index}].azimuth`, azimuth, { unit: "degrees" }),
        elevation: checkNumber(caller, `places[${index}].elevation`, elevation, { unit: "degrees" }),
        sum: checkResponse(caller, `places[${index}].sum`, sum),
      };
    }),
  };
}

function checkRegion(caller: string, options: OffAxisRegion): OffAxisRegion {
  const { distance, centre } = checkOptions(caller, options, ["distance", "centre"]);
  return {
    distance: checkNumber(caller, "distance", distance, { above: 0, unit: "m" }),
    centre: checkNumber(caller, "centre", centre, { above: 0, unit: "Hz" }),
  };
}
