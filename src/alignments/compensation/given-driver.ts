import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import {
  driverImpedance,
  driverParameters,
  type CoilModel,
  type DriverImpedance,
  type DriverOptions,
  type DriverParameters,
  type FittedParameters,
} from "../../parts";
import { isDriver } from "../../parts/internal";
import type { FrequencyResponse } from "../../response";

/**
 * A driver as people have it: a part from `driverImpedance`, a measured impedance in Ω, or what `driverParameters` found, as a whole or
 * its `fit`.
 */
export type GivenDriver = DriverImpedance | FrequencyResponse | DriverParameters | FittedParameters;

/** The parameters of a driver given in whichever way (a measurement is fitted with this formula of the coil); plain options as they are. */
export function driverOptionsOf<T extends object>(caller: string, given: GivenDriver | T, coil: CoilModel): T | DriverOptions {
  const value: unknown = given;
  if (typeof value !== "object" || value === null) return given as T;
  if ("frequencies" in value) return driverParameters(value as FrequencyResponse, { coil }).fit.model;
  if ("fit" in value) return fitted(caller, value.fit);
  if ("kind" in value) {
    const part = driverPart(caller, value);
    return "response" in part ? driverParameters(part.response, { coil }).fit.model : present(part.model);
  }
  return "model" in value ? fitted(caller, value) : (given as T);
}

/** The driver as a part, for what takes its impedance as it is. */
export function driverPartOf(caller: string, given: GivenDriver | DriverOptions): DriverImpedance {
  const value: unknown = given;
  if (typeof value !== "object" || value === null) throw noDriver(caller, value);
  if ("kind" in value) return driverPart(caller, value);
  if ("fit" in value) return driverImpedance(fitted(caller, value.fit));
  return driverImpedance("model" in value ? fitted(caller, value) : (value as DriverOptions | FrequencyResponse));
}

function driverPart(caller: string, value: { readonly kind: unknown }): DriverImpedance {
  const known = isDriver(value) && (("model" in value && typeof value.model === "object" && value.model !== null) || "response" in value);
  if (!known) throw noDriver(caller, value);
  return value;
}

/** What a fit found, unless it isn't to be relied on. */
function fitted(caller: string, fit: unknown): DriverOptions {
  const given = fit as Partial<FittedParameters> | null | undefined;
  if (typeof given?.model !== "object" || given.model === null) throw noDriver(caller, fit);
  if (given.converged === false) {
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "driver" must come from a fit that ended at its least sum of squares, got one that didn't ("converged" is false)`,
      "Fit a band around the resonance, or state re",
    );
  }
  return given.model;
}

/** A model without the terms that are absent. */
function present(model: object): DriverOptions {
  return Object.fromEntries(Object.entries(model).filter(([, value]) => value !== 0)) as unknown as DriverOptions;
}

function noDriver(caller: string, value: unknown): DividingNetworkError {
  return new DividingNetworkError(
    "invalid-argument",
    `${caller}: "driver" must come from driverImpedance or driverParameters, or be a measured impedance in Ω or a driver's parameters, got ${show(value)}`,
  );
}
