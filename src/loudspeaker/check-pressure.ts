import { DividingNetworkError } from "../errors";
import { isProven, proved, owned, show } from "../errors/internal";
import { checkResponse } from "../response/internal";
import type { PressurePerVolt } from "./pressure-per-volt";

/** Checks that a value is a measured pressure per volt, as `pressurePerVolt` makes it; what comes back nobody else can write to. */
export function checkPressure(caller: string, argument: string, value: unknown): PressurePerVolt {
  if (isProven("measured pressure", value)) return value as PressurePerVolt;
  const given = (typeof value === "object" && value !== null ? value : {}) as { [K in keyof PressurePerVolt]?: unknown };
  const numbers = [given.distance, given.azimuth, given.elevation].every(Number.isFinite) && (given.distance as number) > 0;
  const centre = Array.isArray(given.rotationCentre) && given.rotationCentre.length === 3 && given.rotationCentre.every(Number.isFinite);
  if (!numbers || !centre || typeof given.timed !== "boolean" || typeof given.label !== "string") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a measured pressure per volt with its place, got ${show(value)}`,
      "Make it with pressurePerVolt({ response, drive, distance, timeZero })",
    );
  }
  const response = checkResponse(caller, `${argument}.response`, given.response);
  // A frozen one belongs to nobody any more: drivers that share it go on sharing it.
  return proved(
    "measured pressure",
    Object.isFrozen(value) && response === given.response
      ? (value as PressurePerVolt)
      : Object.freeze({ ...owned({ ...(value as PressurePerVolt), response }) }),
  );
}
