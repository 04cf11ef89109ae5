import { formatQuantity } from "../quantity";
import type { FrequencyResponse, Mark } from "../response";
import type { ProjectMeasurement } from "./project-measurement";

/**
 * What a reader must know about a measured response: below 1/T of a gate of length T there are no data, up to 3/T they are coarse;
 * outside the trusted band the points are kept and marked coarse, where the gate hasn't done so already; a smoothed curve is marked so.
 * A note says the distance but not the driver: drivers that were measured alike share it.
 */
export function measurementMarks(measurement: ProjectMeasurement, { frequencies }: FrequencyResponse): readonly Mark[] {
  const pressure = measurement.quantity === "pressure" ? measurement : undefined;
  const at = pressure === undefined ? "" : ` at ${formatQuantity(pressure.distance, "m")}`;
  const marks: Mark[] = [];
  const length = pressure?.gate?.length;
  if (length !== undefined) {
    const gate = `the gate of T = ${formatQuantity(length, "s")}${at}`;
    marks.push({ kind: "no-data", to: 1 / length, note: `${gate} leaves nothing below 1/T` });
    marks.push({ kind: "coarse", from: 1 / length, to: 3 / length, note: `${gate} loses details below 3/T` });
  }
  const near = pressure?.nearField;
  if (near !== undefined) {
    const { below, space, baffle } = near;
    const splice = `below ${formatQuantity(below, "Hz")} what was measured${at} is a near field`;
    if (space === undefined || (space === "full" && baffle === undefined))
      marks.push({
        kind: "uncertain",
        to: below,
        note: `${splice} of which the project doesn't say into which space it was carried, and with which baffle: its level may be off by up to the 6 dB of a baffle's step`,
      });
    else
      marks.push({
        kind: "splice",
        to: below,
        note: `${splice}, carried into ${space === "half" ? "half space" : "full space"}${baffle === undefined ? "" : ` with the step of a baffle of ${formatQuantity(baffle.width, "m")} × ${formatQuantity(baffle.height, "m")}`}`,
      });
  }
  const { trusted, smoothing = "none" } = measurement;
  const distrust = `the project trusts${at === "" ? " the measurement" : ` what was measured${at}`} no further`;
  const coarseAlready = length === undefined ? 0 : 3 / length;
  if (trusted !== undefined && frequencies[0]! < trusted.from && trusted.from > coarseAlready)
    marks.push({ kind: "coarse", to: trusted.from, note: distrust });
  if (trusted !== undefined && frequencies.at(-1)! > trusted.to) marks.push({ kind: "coarse", from: trusted.to, note: distrust });
  if (smoothing !== "none")
    marks.push({
      kind: "smoothed",
      note: `${pressure === undefined ? "the impedance" : `what was measured${at}`} was smoothed to ${smoothing} before it was saved`,
    });
  return marks.map((mark) => Object.freeze(mark));
}
