import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Length, Time, Voltage } from "../quantity";
import { inSi } from "../quantity/internal";
import type { GivenPoint, Point } from "../physics";
import { pointInSi } from "../physics/internal";
import { delayResponse, divideResponses, resample, scaleResponse, type FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";

/** One measured pressure with the facts without which it can't be used. */
export interface MeasuredPressure {
  /** Pa at the microphone, phase from the measurement's time zero on. */
  readonly response: FrequencyResponse;
  /** V rms, and where it stood: at the driver's own terminals, or at the input of the network as found. */
  readonly drive: {
    /** V rms. */
    readonly voltage: Voltage;
    /** Where it stood. */
    readonly at: "terminals" | "input";
  };
  /** m, from the rotation centre to the microphone. */
  readonly distance: Length;
  /** Degrees about the rotation centre, positive towards the loudspeaker's own left (+y); default 0. */
  readonly azimuth?: number | undefined;
  /** Degrees about the rotation centre, positive up; default 0. */
  readonly elevation?: number | undefined;
  /** m, x towards the listener, y to the loudspeaker's own left, z up; default the origin. */
  readonly rotationCentre?: GivenPoint | undefined;
  /**
   * `"common"`: phase counts from the instant that all measurements share; `{ delay }`: it counts from an instant that is
   * this much (s) later than the common one; `"unknown"`: it can't be added to another driver's as a complex number.
   */
  readonly timeZero:
    | "common"
    | "unknown"
    | {
        /** s: how much later than the common instant. */
        readonly delay: Time;
      };
  /** For messages: the file's name. */
  readonly label?: string | undefined;
}

/** What a driver gives at one place: its pressure per volt at its terminals. */
export interface PressurePerVolt {
  /** m. */
  readonly distance: number;
  /** Degrees. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** m. */
  readonly rotationCentre: Point;
  /** Pa/V, with the flight from the common time zero in its phase. */
  readonly response: FrequencyResponse;
  /** Whether its phase counts from the common time zero. */
  readonly timed: boolean;
  /** For messages: the file's name. */
  readonly label: string;
}

/**
 * A measured pressure divided by the voltage that was at the driver's terminals, Pa/V. Where the driver was driven
 * through the network as found, that voltage is the drive times V(driver)/V(source) as solved for that network.
 *
 * @param measured the response in Pa and its facts: drive (V), place (m, degrees), time zero (s)
 * @param transfer V(driver)/V(source) of the network as found, V per V; needed when the drive was at its input
 * @returns pressure per volt at the terminals, Pa/V, with its place
 * @throws DividingNetworkError `missing-transfer` when the drive was at the input and no transfer is given; `invalid-argument`
 * @example
 * ```ts
 * import { frequencyResponse, pressurePerVolt } from "dividing-network";
 *
 * const measured = frequencyResponse([500, 1000], [1, 2], [0, 0]);
 * pressurePerVolt({ response: measured, drive: { voltage: 2, at: "terminals" }, distance: 1, timeZero: "common" }).response.re; // [0.5, 1]
 * ```
 */
export function pressurePerVolt(measured: MeasuredPressure, transfer?: FrequencyResponse): PressurePerVolt {
  const caller = "pressurePerVolt";
  const given = checkOptions(caller, measured, [
    "response",
    "drive",
    "distance",
    "azimuth",
    "elevation",
    "rotationCentre",
    "timeZero",
    "label",
  ]);
  const { drive, timeZero, label = "measurement" } = given;
  let response = checkResponse(caller, "response", given.response);
  const voltage = inSi(caller, "drive.voltage", drive?.voltage, "V", { above: 0 });
  response = scaleResponse(response, 1 / voltage);
  if (checkOneOf(caller, "drive.at", drive.at, ["terminals", "input"]) === "input") {
    if (transfer === undefined) {
      throw new DividingNetworkError(
        "missing-transfer",
        `${caller}: ${label} was driven through the network as found, so its driver's voltage must be known`,
        "Give the network as found, solve it, and pass V(driver)/V(source)",
      );
    }
    const through = checkResponse(caller, "transfer", transfer);
    response = divideResponses(response, through.frequencies === response.frequencies ? through : resample(through, response.frequencies));
  }
  if (typeof timeZero === "object" && timeZero !== null)
    response = delayResponse(response, inSi(caller, "timeZero.delay", timeZero.delay, "s"));
  else if (timeZero !== "common" && timeZero !== "unknown") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "timeZero" must be "common", "unknown" or { delay } in s, got ${show(timeZero)}`,
      "Say whether all measurements share one time zero",
    );
  }
  return Object.freeze({
    distance: inSi(caller, "distance", given.distance, "m", { above: 0 }),
    azimuth: checkNumber(caller, "azimuth", given.azimuth ?? 0, { min: -180, max: 180, unit: "degrees" }),
    elevation: checkNumber(caller, "elevation", given.elevation ?? 0, { min: -90, max: 90, unit: "degrees" }),
    rotationCentre: pointInSi(caller, "rotationCentre", given.rotationCentre ?? [0, 0, 0]),
    response,
    timed: timeZero !== "unknown",
    label,
  });
}
