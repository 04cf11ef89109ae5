import type { Issue } from "../errors";
import { diagnose } from "../network";
import { formatQuantity } from "../quantity";
import { listOf } from "../quantity/internal";
import { entriesOf } from "./network-of";
import type { Project } from "./project-types";
import type { ReadFile } from "./read-files";
import { unitDoubts } from "./unit-doubts";

/** What a reader of a loaded project should know, none of which is wrong. */
export function projectNotes(project: Project, files: readonly ReadFile[], timed: boolean): readonly Issue[] {
  const notes: Issue[] = [];
  const say = (code: string, message: string, hint: string, more: Partial<Issue> = {}) =>
    notes.push(Object.freeze({ code, message, hint, ...more }));
  if (project.air === undefined)
    say(
      "air-not-stated",
      "the temperature of the air isn't stated: 20 °C is taken for the speed of sound",
      'Write "air": { "temperature": … }',
    );
  project.measurements.forEach((measurement, index) => {
    if (measurement.quantity !== "pressure") return;
    const { of, timeZero, minimumPhase = false, trusted } = measurement;
    const where = `measurements[${index}] (${of})`;
    if (timeZero.common === false && !timed) {
      say(
        "no-common-time-zero",
        `${where} shares no time zero with the others: its pressure can't be added to that of another driver`,
        "State its delay, or measure with a common time zero",
        { parts: [of] },
      );
    }
    const { nearField: near } = measurement;
    if (near !== undefined && (near.space === undefined || (near.space === "full" && near.baffle === undefined))) {
      say(
        "near-field-not-placed",
        `${where} is a near field below ${formatQuantity(near.below, "Hz")}, and isn't said to hold the step of which baffle in which space: its level there may be off by up to 6 dB`,
        'Write "nearField": { "below": …, "space": "full", "baffle": { "width": …, "height": … } }',
        { parts: [of] },
      );
    }
    if (of === "loudspeaker" && minimumPhase)
      say(
        "not-minimum-phase",
        `${where}: the sum of several drivers has in general no minimum phase; compare its level only`,
        "Measure with phase",
        { parts: [of] },
      );
    const band = project.goal?.band;
    if (band !== undefined && (band.from < trusted.from || band.to > trusted.to)) {
      const hertz = (frequency: number) => formatQuantity(frequency, "Hz", { digits: 4 });
      say(
        "beyond-trusted-band",
        `${where} can be trusted from ${hertz(trusted.from)} to ${hertz(trusted.to)}, but goal.band is ${hertz(band.from)} to ${hertz(band.to)}`,
        "Narrow goal.band",
        { parts: [of] },
      );
    }
  });
  for (const [which, network] of Object.entries(project.networks)) {
    const missing = project.drivers.filter(({ name }) => network.parts.every((part) => part.name !== name));
    if (missing.length > 0)
      say(
        "driver-left-out",
        `networks.${which} leaves out ${listOf(missing.map(({ name }) => name))}: it is judged without`,
        "Add it to the network, unless that is meant",
        { parts: missing.map(({ name }) => name) },
      );
    for (const { severity, message, ...issue } of diagnose(entriesOf(network))) {
      if (severity === "warning") notes.push(Object.freeze({ ...issue, message: `networks.${which}: ${message}` }));
    }
  }
  const first = new Map<string, string>();
  for (const { planned } of files) {
    const earlier = first.get(planned.path);
    if (earlier === undefined) first.set(planned.path, planned.where);
    else
      say("file-used-twice", `${planned.path} stands for ${earlier} and for ${planned.where}`, "Check that this is meant", {
        file: planned.path,
      });
  }
  return Object.freeze([...notes, ...unitDoubts(project, files), ...readingNotes(files)]);
}

/** How files were read; a note that several share stands once. */
function readingNotes(files: readonly ReadFile[]): Issue[] {
  const byMessage = new Map<string, string[]>();
  for (const { planned, notes } of files) {
    for (const note of notes) byMessage.set(note, [...(byMessage.get(note) ?? []), planned.path]);
  }
  return [...byMessage].map(([note, [file, ...others]]) => {
    const more = others.length === 0 ? "" : ` (and in ${others.length} other ${others.length === 1 ? "file" : "files"})`;
    return Object.freeze({ code: "file-reading", message: `${note}${more}`, hint: "", file: file! });
  });
}
