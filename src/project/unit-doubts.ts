import type { Issue } from "../errors";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { formatQuantity } from "../quantity";
import { fixed } from "../quantity/internal";
import type { FrequencyResponse } from "../response";
import type { PressureMeasurement } from "./project-measurement";
import type { Project } from "./project-types";
import type { ReadFile } from "./read-files";

/** Degrees: no more than this, while |Z| moves by the factor beside it, is no phase in degrees (a resonance of that height turns by 19° at least). */
const [FLAT_PHASE, MOVING] = [2, 2];
/** Hz: what ends below was hardly measured in Hz. */
const LOWEST_END = 60;
/** dB re 20 µPa at 1 m for 2.83 V: no loudspeaker is quieter or louder (choice, no source; they give 75 to 115 dB). */
const [QUIETEST, LOUDEST] = [45, 140];
/** m: no microphone is farther away, and no driver farther off the centre (choice, no source). */
const [FARTHEST, WIDEST] = [50, 10];

/** Files and numbers that look as if they stood in another unit than the one they are read in. */
export function unitDoubts({ drivers, measurements }: Project, files: readonly ReadFile[]): readonly Issue[] {
  const issues: Issue[] = [];
  // Files of one measurement are said once: they were written in one unit.
  const odd = new Map<PressureMeasurement, { readonly planned: ReadFile["planned"]; readonly level: number; others: number }>();
  const doubt = (message: string, hint: string, more: Partial<Issue>) =>
    issues.push(Object.freeze({ code: "unit-doubted", message, hint, ...more }));
  for (const { planned, response } of files) {
    const file = { file: planned.path };
    const end = response.frequencies.at(-1)!;
    if (end < LOWEST_END)
      doubt(
        `the highest frequency is ${formatQuantity(end, "Hz", { digits: 3 })}, of ${planned.of}: kHz may stand there`,
        "Write frequencies in Hz",
        file,
      );
    if (planned.use === "pressure") {
      const found = odd.get(planned.measurement);
      if (found !== undefined) found.others++;
      else if (planned.measurement.distance <= FARTHEST && oddLevel(planned.measurement, response) !== undefined)
        odd.set(planned.measurement, { planned, level: oddLevel(planned.measurement, response)!, others: 0 });
    } else if (planned.columns === "ohm-degrees" && inRadians(response))
      doubt(
        `no phase is beyond ${FLAT_PHASE}°, though |Z| moves by more than a factor of ${MOVING}: the phase may stand in radians, or is missing`,
        "Convert it to degrees",
        file,
      );
  }
  for (const { planned, level, others } of odd.values())
    doubt(
      `${planned.of} would give ${fixed(level, 0)} dB at 1 m for 2.83 V where it is loudest, and loudspeakers give 75 to 115 dB${others === 0 ? "" : ` (with ${others} other ${others === 1 ? "file" : "files"} of that measurement)`}`,
      level < QUIETEST
        ? "Write levels in dB re 20 µPa: levels re 1 Pa stand 94 dB lower; look at the drive and the distance, too"
        : "Look at the drive and the distance, and at the columns of the file",
      { file: planned.path },
    );
  measurements.forEach((measurement, index) => {
    if (measurement.quantity !== "pressure" || measurement.distance <= FARTHEST) return;
    doubt(
      `measurements[${index}] (${measurement.of}) was taken at a distance of ${formatQuantity(measurement.distance, "m")}: millimetres may stand there`,
      'Write it in metres, or with its unit: "1000 mm"',
      { parts: [measurement.of] },
    );
  });
  for (const { name, position } of drivers) {
    const off = Math.max(...Object.values(position).map(Math.abs));
    if (off > WIDEST)
      doubt(`${name} stands ${formatQuantity(off, "m")} off the centre: millimetres may stand there`, "Write positions in metres", {
        parts: [name],
      });
  }
  return issues;
}

/** dB at 1 m for 2.83 V, where no loudspeaker gives that. */
function oddLevel({ drive, distance }: PressureMeasurement, response: FrequencyResponse): number | undefined {
  const level = 20 * Math.log10(((loudest(response) / REFERENCE_PRESSURE) * DRIVE_VOLTAGE * distance) / drive.voltage);
  return Number.isFinite(level) && (level < QUIETEST || level > LOUDEST) ? level : undefined;
}

function loudest({ re, im }: FrequencyResponse): number {
  return re.reduce((most, x, i) => Math.max(most, Math.hypot(x, im[i]!)), 0);
}

/** Whether what was read as degrees is hardly that: all of it flat, while the size moves. */
function inRadians({ re, im }: FrequencyResponse): boolean {
  const sizes = re.map((x, i) => Math.hypot(x, im[i]!));
  const flat = re.every((x, i) => Math.abs(Math.atan2(im[i]!, x)) < (FLAT_PHASE * Math.PI) / 180);
  return flat && Math.max(...sizes) > MOVING * Math.min(...sizes);
}
