import { formatQuantity } from "../quantity";
import type { FrequencyResponse, Mark } from "../response";
import type { ProjectMeasurement } from "./project-types";

/**
 * What a reader must know about a measured response: below 1/T of a gate of length T there are no data, up to 3/T they are coarse;
 * outside the trusted band the points are kept and marked coarse; a smoothed curve is marked so.
 */
export function measurementMarks(measurement: ProjectMeasurement, { frequencies }: FrequencyResponse): readonly Mark[] {
  const what = measurement.quantity === "pressure" ? `${measurement.of} at ${formatQuantity(measurement.distance, "m")}` : "impedance of the loudspeaker";
  const hertz = (frequency: number) => formatQuantity(frequency, "Hz", { digits: 4 });
  const marks: Mark[] = [];
  if (measurement.quantity === "pressure" && measurement.gate !== undefined) {
    const { length } = measurement.gate;
    const gate = `${what}: with a gate of T = ${formatQuantity(length, "s")}`;
    marks.push({ kind: "no-data", to: 1 / length, note: `${gate} there are no data below 1/T = ${hertz(1 / length)}` });
    marks.push({ kind: "coarse", from: 1 / length, to: 3 / length, note: `${gate} details below 3/T = ${hertz(3 / length)} are lost` });
  }
  const { trusted, smoothing = "none" } = measurement;
  if (trusted !== undefined && frequencies[0]! < trusted.from) marks.push({ kind: "coarse", to: trusted.from, note: `${what}: not to be trusted below ${hertz(trusted.from)}, as the project states` });
  if (trusted !== undefined && frequencies.at(-1)! > trusted.to) marks.push({ kind: "coarse", from: trusted.to, note: `${what}: not to be trusted above ${hertz(trusted.to)}, as the project states` });
  if (smoothing !== "none") marks.push({ kind: "smoothed", note: `${what}: smoothed to ${smoothing} before it was saved` });
  return marks.map((mark) => Object.freeze(mark));
}
