import { fewDigits } from "../quantity/internal";
import { listed, type Views } from "../errors/internal";
import { REFERENCE_PRESSURE, type Air } from "../physics";
import { checkAir } from "../physics/internal";
import { formatQuantity } from "../quantity";
import { levelDb, type FrequencyResponse } from "../response";
import { gridText } from "../response/internal";
import type { Loudspeaker, PlacedDriver } from "./loudspeaker-data";
import type { Place } from "./loudspeaker-data";
import type { PressureAtPlace, Prediction } from "./prediction";

const few = (value: number): string => fewDigits(value, 4);

/** Lowest and highest level of a pressure. */
function levels(pressure: FrequencyResponse): string {
  const level = levelDb(pressure, { reference: REFERENCE_PRESSURE });
  return `${few(level.reduce((least, value) => Math.min(least, value), Infinity))} to ${few(level.reduce((most, value) => Math.max(most, value), -Infinity))} dB re 20 µPa`;
}

function placeText({ distance, azimuth, elevation }: Place): string {
  return `${formatQuantity(distance, "m", { digits: 4 })}, azimuth ${few(azimuth)}°, elevation ${few(elevation)}°`;
}

function driverText({ name, role, part, position, pressures }: PlacedDriver): string {
  return `  ${listed([name])}${part === name ? "" : ` on ${listed([part])}`}: ${role} at [${position.map(few).join(", ")}] m, ${pressures.length} measured ${pressures.length === 1 ? "pressure" : "pressures"}`;
}

/** Lines for the first of a list, and one that counts the rest. */
function firstOf<T>(list: readonly T[], most: number, line: (each: T) => string, things: string): string[] {
  return [...list.slice(0, most).map(line), ...(list.length > most ? [`  and ${list.length - most} more ${things}`] : [])];
}

/** A loudspeaker: its drivers where they sit, its network, its source. */
export const loudspeakerViews: Views<Loudspeaker> = {
  text: ({ network, drivers, air, sourceImpedance }) => {
    const parts = Object.keys(network);
    return [
      `Loudspeaker: ${drivers.length} ${drivers.length === 1 ? "driver" : "drivers"}, ${parts.length} ${parts.length === 1 ? "part" : "parts"}, ${airText(air)}${sourceImpedance === undefined ? "" : ", with a source impedance"}`,
      ...firstOf(drivers, 6, driverText, "drivers"),
      `  parts: ${listed(parts)}`,
    ].join("\n");
  },
};

/** Sound travels through it at a speed: that is what of the air is heard. */
function airText(air: Air): string {
  return `air ${checkAir("loudspeaker", air).speedOfSound.toFixed(1)} m/s`;
}

/** A prediction: what was asked, and how loud it is at each place. */
export const predictionViews: Views<Prediction> = {
  text: ({ loudspeaker: { drivers }, frequencies, voltage, places }) =>
    [
      `Prediction: ${gridText(frequencies)}, for ${formatQuantity(voltage, "V", { digits: 4 })}`,
      `  drivers: ${listed(drivers.map(({ name }) => name))}`,
      ...firstOf(places, 8, (place) => `  ${placeText(place)}: ${levels(place.sum)}`, "places"),
    ].join("\n"),
};

/** What reaches one place: all drivers together, and each by itself. */
export const pressureAtPlaceViews: Views<PressureAtPlace> = {
  text: (place) =>
    [
      `PressureAtPlace: ${placeText(place)}`,
      `  sum: ${levels(place.sum)}`,
      ...firstOf(Object.entries(place.branches), 8, ([name, branch]) => `  ${listed([name])}: ${levels(branch)}`, "branches"),
    ].join("\n"),
};
