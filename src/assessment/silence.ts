import { DividingNetworkError } from "../errors";
import { hertz } from "../quantity/internal";
import type { FrequencyResponse } from "../response";
import type { Band } from "./band";

/** Pa: some 270 dB below the reference pressure. What is no louder at any frequency is rounding, not sound. */
const SILENT = 1e-18;

/** Whether nothing is heard anywhere in a band, nor at the samples next to it. */
export function isSilent({ frequencies, re, im }: FrequencyResponse, { from, to }: Band): boolean {
  for (let i = 0; i < frequencies.length; i++) {
    const below = i + 1 < frequencies.length && frequencies[i + 1]! <= from * (1 + 1e-9);
    const above = i > 0 && frequencies[i - 1]! >= to * (1 - 1e-9);
    if (!below && !above && Math.hypot(re[i]!, im[i]!) > SILENT) return false;
  }
  return true;
}

/** Refuses what is silent at all places: silence is flat, and would be the best loudspeaker of all. */
export function checkSound(
  caller: string,
  distance: number,
  places: readonly { readonly azimuth: number; readonly elevation: number; readonly band: Band }[],
  sums: readonly FrequencyResponse[],
): void {
  if (!sums.every((sum, index) => isSilent(sum, places[index]!.band))) return;
  const [{ azimuth, elevation, band }] = places as [(typeof places)[number]];
  throw new DividingNetworkError(
    "nothing-heard",
    `${caller}: nothing is heard at ${distance} m, azimuth ${azimuth}°, elevation ${elevation}°${places.length > 1 ? ", nor at any other of the goal's places" : ""}, from ${hertz(band.from)} to ${hertz(band.to)}: there is nothing to judge`,
    "Look whether a part shorts or disconnects every driver, and whether the measured pressures hold zeros",
  );
}
