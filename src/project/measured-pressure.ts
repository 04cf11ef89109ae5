import { pressurePerVolt, type PressurePerVolt } from "../loudspeaker";
import { delayResponse, minimumPhase, type FrequencyResponse } from "../response";
import { freezeResponse } from "../response/internal";
import type { Point } from "../physics";
import { measurementMarks } from "./measurement-marks";
import type { MeasuredLoudspeakerPressure } from "./loaded-project";
import type { PressureFile, PressureMeasurement } from "./project-measurement";
import type { ProjectPoint } from "./project-place";

/** A point as the lower floors take it. */
export function pointOf({ x, y, z }: ProjectPoint): Point {
  return Object.freeze([x, y, z] as const);
}

/** The pressure in a file with its marks, Pa; where it holds no phase, with its minimum phase, still without the delay. */
function markedPressure(measurement: PressureMeasurement, read: FrequencyResponse): FrequencyResponse {
  const { frequencies, re, im } = read;
  const marks = measurementMarks(measurement, read);
  const { minimumPhase: wanted = false, slopes = {} } = measurement;
  if (!wanted) return freezeResponse(frequencies, re, im, [...(read.marks ?? []), ...marks]);
  const { low, high } = slopes;
  return minimumPhase(freezeResponse(frequencies, re, im, marks), {
    ...(low === undefined ? {} : { lowSlope: low }),
    ...(high === undefined ? {} : { highSlope: high }),
  });
}

/** A driver's pressure per volt at its terminals, Pa/V; `transfer` is V(driver)/V(source), needed when it was driven through the network. */
export function driverPressure(
  measurement: PressureMeasurement,
  place: PressureFile,
  read: FrequencyResponse,
  transfer?: (frequencies: Float64Array) => FrequencyResponse,
): PressurePerVolt {
  const { drive, distance, rotationCentre, timeZero } = measurement;
  const response = markedPressure(measurement, read);
  const delay = place.delay ?? timeZero.delay;
  return pressurePerVolt(
    {
      response,
      drive,
      distance,
      azimuth: place.azimuth,
      elevation: place.elevation,
      rotationCentre: pointOf(rotationCentre),
      timeZero: delay !== undefined ? { delay } : timeZero.common === true ? "common" : "unknown",
      label: place.file,
    },
    drive.at === "input" ? transfer?.(response.frequencies) : undefined,
  );
}

/** The pressure of the whole loudspeaker, Pa, for the voltage at which it was measured. */
export function loudspeakerPressure(
  measurement: PressureMeasurement,
  place: PressureFile,
  read: FrequencyResponse,
): MeasuredLoudspeakerPressure {
  const { drive, distance, rotationCentre, timeZero } = measurement;
  const marked = markedPressure(measurement, read);
  const delay = place.delay ?? timeZero.delay;
  return Object.freeze({
    distance,
    azimuth: place.azimuth,
    elevation: place.elevation,
    rotationCentre: pointOf(rotationCentre),
    response: delay === undefined ? marked : delayResponse(marked, delay),
    voltage: drive.voltage,
    timed: delay !== undefined || timeZero.common === true,
    label: place.file,
  });
}
