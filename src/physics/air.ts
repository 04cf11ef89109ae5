import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Frequency, Pressure, Temperature } from "../quantity";
import { inSi } from "../quantity/internal";

/** The state of the air; what is left out is 20 °C, 101 325 Pa and the humidity that the function names. */
export interface AirConditions {
  /** °C, from −73 to 100; default 20. */
  readonly temperature?: Temperature | undefined;
  /** Relative humidity in %, 0 to 100, or as text: `"50 %"`. */
  readonly humidity?: number | `${number} %` | `${number}%` | undefined;
  /** Pa; default 101 325. */
  readonly pressure?: Pressure | undefined;
}

const KELVIN = 273.15;
const STANDARD_PRESSURE = 101_325;

/**
 * Speed of sound in air, m/s. $c = 343.2\sqrt{T/293.15\ \mathrm{K}}$ for dry air, the formula of ISO 9613-1 as recalled.
 * With a humidity, the ratio of specific heats and the molar mass of the mixture correct it (ideal gases): saturated air at
 * 20 °C is about 0.3 % faster. The static pressure matters only through the share of vapour.
 *
 * @param options temperature in °C (default 20, from −73 to 100), relative humidity in % (default 0), pressure in Pa (default 101 325)
 * @returns m/s
 * @throws DividingNetworkError when an option is unknown or out of range, or the humidity more than the pressure allows
 * @example
 * ```ts
 * import { speedOfSound } from "dividing-network/physics";
 *
 * speedOfSound(); // 343.2
 * speedOfSound({ temperature: "30 °C" }); // 349.0046
 * ```
 */
export function speedOfSound(options: AirConditions = {}): number {
  return speedIn("speedOfSound", conditions("speedOfSound", options, 0));
}

/** The speed of sound in air whose conditions have been checked, m/s. */
export function speedIn(caller: string, { temperature, humidity, pressure }: CheckedConditions): number {
  const dry = 343.2 * Math.sqrt(temperature / 293.15);
  if (humidity === 0) return dry;
  const vapour = vapourShare(caller, temperature, humidity, pressure);
  const heatRatio = (7 + vapour) / (5 + vapour) / 1.4;
  const molarMass = 1 - vapour * (1 - 18.015 / 28.9647);
  return dry * Math.sqrt(heatRatio / molarMass);
}

/**
 * Density of air, kg/m³: $\rho = p_d/(R_d T) + p_v/(R_v T)$ with $R_d = 287.058$ and $R_v = 461.5$ J/(kg K), ideal gases.
 *
 * @param options temperature in °C (default 20, from −73 to 100), relative humidity in % (default 0), pressure in Pa (default 101 325)
 * @returns kg/m³
 * @throws DividingNetworkError when an option is unknown or out of range, or the humidity more than the pressure allows
 * @example
 * ```ts
 * import { airDensity } from "dividing-network/physics";
 *
 * airDensity({ temperature: 15 }); // 1.224978
 * ```
 */
export function airDensity(options: AirConditions = {}): number {
  return densityIn("airDensity", conditions("airDensity", options, 0));
}

/** The density of air whose conditions have been checked, kg/m³. */
export function densityIn(caller: string, { temperature, humidity, pressure }: CheckedConditions): number {
  const vapourPressure = pressure * vapourShare(caller, temperature, humidity, pressure);
  return (pressure - vapourPressure) / (287.058 * temperature) + vapourPressure / (461.5 * temperature);
}

/**
 * Attenuation of a pure tone by the air itself, dB per metre, by the formula of ISO 9613-1 (classical and rotational losses,
 * relaxation of oxygen and nitrogen). The standard states ±10 % for −20…50 °C and frequency/pressure of 4e-4…10 Hz/Pa.
 *
 * @param options frequency in Hz (required); temperature in °C (default 20), relative humidity in % (default 50), pressure in Pa (default
 *   101 325)
 * @returns dB/m, at least 0
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { airAbsorption } from "dividing-network/physics";
 *
 * airAbsorption({ frequency: 1000, temperature: 20, humidity: 70, pressure: 101325 }); // 0.00498
 * ```
 */
export function airAbsorption(options: AirConditions & { readonly frequency: Frequency }): number {
  const { frequency: given, ...rest } = checkOptions("airAbsorption", options, ["frequency", "temperature", "humidity", "pressure"]);
  const frequency = inSi("airAbsorption", "frequency", given, "Hz");
  const { temperature, humidity, pressure } = conditions("airAbsorption", rest, 50);
  const relativePressure = pressure / STANDARD_PRESSURE;
  const relativeTemperature = temperature / 293.15;
  const h = 100 * vapourShare("airAbsorption", temperature, humidity, pressure);
  const oxygen = relativePressure * (24 + (4.04e4 * h * (0.02 + h)) / (0.391 + h));
  const nitrogen =
    (relativePressure / Math.sqrt(relativeTemperature)) * (9 + 280 * h * Math.exp(-4.17 * (relativeTemperature ** (-1 / 3) - 1)));
  const classical = (1.84e-11 / relativePressure) * Math.sqrt(relativeTemperature);
  // f² / (r + f²/r) for a relaxation frequency r, finite for every f.
  const relaxing = (r: number): number => r / ((r / frequency) ** 2 + 1);
  const relaxation =
    0.01275 * Math.exp(-2239.1 / temperature) * relaxing(oxygen) + 0.1068 * Math.exp(-3352 / temperature) * relaxing(nitrogen);
  const absorption = 8.686 * (classical * frequency * frequency + relativeTemperature ** -2.5 * relaxation);
  if (Number.isFinite(absorption)) return absorption;
  throw new DividingNetworkError(
    "overflow",
    `airAbsorption: the absorption must be a finite number, got ${absorption} dB/m at ${frequency} Hz`,
    "Give the frequency in Hz; the formula is stated to 10 Hz per Pa",
  );
}

/** Saturation pressure of water vapour over the reference pressure, after ISO 9613-1. */
function saturationRatio(temperature: number): number {
  return 10 ** (-6.8346 * (273.16 / temperature) ** 1.261 + 4.6151);
}

/** Share of the molecules that are water, 0 to 1: vapour whose pressure alone would pass the air's own cannot be. */
function vapourShare(caller: string, temperature: number, humidity: number, pressure: number): number {
  const saturated = saturationRatio(temperature) * (STANDARD_PRESSURE / pressure);
  const share = (humidity / 100) * saturated;
  if (share <= 1) return share;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "humidity" must be at most ${(100 / saturated).toFixed(1)} % at ${(temperature - KELVIN).toFixed(1)} °C and ${pressure} Pa, got ${humidity}: the vapour alone would have more than the pressure of the air`,
    "Give the pressure with the humidity, and the temperature in °C",
  );
}

/** Conditions of the air after checking: kelvin, %, Pa. */
export interface CheckedConditions {
  readonly temperature: number;
  readonly humidity: number;
  readonly pressure: number;
}

/** Checks the three conditions; `humidity` in % is what is taken where none is stated, `within` what stands before their names in a message. */
export function conditions(caller: string, options: AirConditions, humidity: number, within = ""): CheckedConditions {
  const given = checkOptions(caller, options, ["temperature", "humidity", "pressure"]);
  return {
    temperature: KELVIN + inSi(caller, `${within}temperature`, given.temperature ?? 20, "°C", { min: -73, max: 100 }),
    humidity: checkNumber(caller, `${within}humidity`, percentOf(given.humidity ?? humidity), { min: 0, max: 100, unit: "%" }),
    pressure: inSi(caller, `${within}pressure`, given.pressure ?? STANDARD_PRESSURE, "Pa", { min: 1e4, max: 1e6 }),
  };
}

/** A number of per cent as it is, and one written with its sign; all else as it is, to be refused. */
function percentOf(value: number | string): number {
  const written = typeof value === "string" ? /^\s*(\d+(?:\.\d+)?|\.\d+)\s*%\s*$/.exec(value.slice(0, 40)) : null;
  return written === null ? (value as number) : Number(written[1]);
}
