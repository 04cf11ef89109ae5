import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { samePlace } from "./same-place";
import type { PressurePerVolt } from "./pressure-per-volt";

/** Refuses two measurements of one driver at one place that differ: nobody could tell which of them counts. The same one twice does no harm. */
export function checkMeasuredOnce(caller: string, driver: string, pressures: readonly PressurePerVolt[]): readonly PressurePerVolt[] {
  pressures.forEach((pressure, index) => {
    const first = pressures.findIndex((earlier) => samePlace(earlier, pressure));
    if (first === index || alike(pressures[first]!, pressure)) return;
    const { distance, azimuth, elevation } = pressure;
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: driver ${show(driver)} must have one measured pressure at each place, got two that differ at ${distance} m, azimuth ${azimuth}°, elevation ${elevation}°: numbers ${first} and ${index} of its pressures`,
      "Leave one of them out, or state where each was measured; azimuths of 180° and −180° are one place",
    );
  });
  return pressures;
}

/** Whether two measurements say the same: the same numbers, taken the same way. */
function alike(a: PressurePerVolt, b: PressurePerVolt): boolean {
  return (
    a.timed === b.timed
    && a.rotationCentre.every((x, axis) => x === b.rotationCentre[axis])
    && (a.response === b.response || sameNumbers(a.response, b.response))
  );
}

function sameNumbers(a: FrequencyResponse, b: FrequencyResponse): boolean {
  const same = (x: Float64Array, y: Float64Array) => x.length === y.length && x.every((value, index) => value === y[index]);
  return same(a.frequencies, b.frequencies) && same(a.re, b.re) && same(a.im, b.im);
}
