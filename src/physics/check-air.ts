import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { conditions, densityIn, speedIn, type AirConditions } from "./air";

/** Air by what follows from its state, stated directly; what is left out is that of dry air at 20 °C and 101 325 Pa. */
export interface StatedAir {
  /** m/s, 1e-3 to 1e6. */
  readonly speedOfSound?: number | undefined;
  /** kg/m³, 1e-6 to 1e6. */
  readonly density?: number | undefined;
}

/**
 * The air, as every function takes it in its option `air`: its state, `{ temperature, humidity, pressure }` (°C, %, Pa; what is left out is 20 °C, dry,
 * 101 325 Pa), from which speed of sound and density follow; or these two stated directly, `{ speedOfSound, density }` (m/s, kg/m³).
 */
export type Air = AirConditions | StatedAir;

/** What `checkAir` gives. */
export interface CheckedAir {
  /** m/s. */
  readonly speedOfSound: number;
  /** kg/m³. */
  readonly density: number;
  /** The state in °C, % and Pa or text as it was given; undefined when speed and density were stated directly. */
  readonly conditions: AirConditions | undefined;
}

const states = ["temperature", "humidity", "pressure"];
const stated = ["speedOfSound", "density"];

/**
 * Checks the option `air` of a function and gives the speed of sound in m/s and the density in kg/m³ that go with it, by `speedOfSound` and
 * `airDensity` or as stated.
 *
 * @param caller name of the public function, for the message
 * @param air what was given: °C, %, Pa; or m/s and kg/m³; `undefined` is dry air at 20 °C
 * @returns m/s, kg/m³, and the state that they came from
 * @throws DividingNetworkError `unknown-option`; `invalid-argument` when a value is out of range, the humidity more than the pressure allows, or a
 *   state and what follows from it are both given
 */
export function checkAir(caller: string, air: Air | undefined): CheckedAir {
  const given: AirConditions & StatedAir = checkOptions(`${caller}: "air"`, air, [...states, ...stated]);
  const has = (names: readonly string[]): boolean => names.some((name) => given[name as keyof typeof given] !== undefined);
  if (!has(stated)) {
    const { temperature, humidity, pressure } = given;
    const conditionsGiven: AirConditions = Object.freeze({
      ...(temperature === undefined ? {} : { temperature }),
      ...(humidity === undefined ? {} : { humidity }),
      ...(pressure === undefined ? {} : { pressure }),
    });
    const state = conditions(caller, conditionsGiven, 0, "air.");
    return Object.freeze({ speedOfSound: speedIn(caller, state), density: densityIn(caller, state), conditions: conditionsGiven });
  }
  if (has(states)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "air" must state the air's state or what follows from it, got both: ${show(Object.keys(given).join(", "))}`,
      "Give { temperature, humidity, pressure }, or { speedOfSound, density }",
    );
  }
  const usual = conditions(caller, {}, 0);
  return Object.freeze({
    speedOfSound: checkNumber(caller, "air.speedOfSound", given.speedOfSound ?? speedIn(caller, usual), {
      min: 1e-3,
      max: 1e6,
      unit: "m/s",
    }),
    density: checkNumber(caller, "air.density", given.density ?? densityIn(caller, usual), { min: 1e-6, max: 1e6, unit: "kg/m³" }),
    conditions: undefined,
  });
}
