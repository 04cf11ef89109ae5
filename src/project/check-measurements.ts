import { formatQuantity } from "../quantity";
import { pointInDirection } from "../physics";
import { checkAir } from "../physics/internal";
import type { Finding } from "./check-drivers";
import type { PressureMeasurement } from "./project-measurement";
import type { Project } from "./project-types";
import { isDriver, neededOverBand } from "./subjects";

type Say = (keys: readonly (string | number)[], message: string, hint: string) => void;

/** How far a stated frequency may reach beyond what stands behind it: one twelfth of an octave. */
export const bandTolerance = 2 ** (1 / 12);

/** What can be wrong with the measurements: of an unknown driver, facts that exclude each other, one place measured twice. */
export function checkMeasurements(project: Project): Finding[] {
  const findings: Finding[] = [];
  const places = new Map<string, string>();
  const impedances = new Map<string, number>();
  project.measurements.forEach((measurement, index) => {
    const say: Say = (keys, message, hint) => findings.push({ path: ["measurements", index, ...keys], message, hint });
    if (measurement.quantity === "impedance") {
      const earlier = impedances.get(measurement.of);
      if (earlier !== undefined)
        say(
          ["quantity"],
          `is the second impedance of the ${measurement.of}, the first stands at measurements[${earlier}]`,
          "Keep one of them",
        );
      else impedances.set(measurement.of, index);
      return;
    }
    checkSubject(project, measurement, say);
    checkPhase(project, measurement, say);
    checkBand(project, measurement, say);
    checkNearField(measurement, say);
    measurement.files.forEach(({ azimuth, elevation }, file) => {
      const key = JSON.stringify([
        measurement.of,
        Math.round(measurement.distance * 1e3),
        Math.round(azimuth * 100),
        Math.round(elevation * 100),
      ]);
      const earlier = places.get(key);
      const here = `measurements[${index}].files[${file}]`;
      if (earlier === undefined) places.set(key, here);
      else
        say(
          ["files", file],
          `is of the same place as ${earlier}: ${measurement.distance} m, azimuth ${azimuth}°, elevation ${elevation}°`,
          "Keep one of the two, or correct the angles",
        );
    });
  });
  return findings;
}

function checkSubject({ drivers, networks }: Project, { of, drive, timeZero }: PressureMeasurement, say: Say): void {
  if (!isDriver(of)) {
    if (drive.at === "terminals") {
      say(
        ["drive", "at"],
        `must be "input" for ${of === "partner" ? "a partner" : "the whole loudspeaker"}, got "terminals"`,
        of === "partner"
          ? "The voltage is that which the loudspeaker's own amplifier would give without load for the same signal"
          : "The voltage is that of the amplifier without load, ahead of its output resistance and the cable",
      );
    }
    if (of === "partner" && timeZero.common === false)
      say(
        ["timeZero"],
        "must be common or state a delay for a partner: its pressure is added to that of the loudspeaker",
        "Measure it on the time zero of the others, or state its delay",
      );
    return;
  }
  const driver = drivers.find(({ name }) => name === of);
  if (driver === undefined) {
    say(
      ["of"],
      `must be the name of a driver, "loudspeaker", "twin" or "partner", got ${JSON.stringify(of)}`,
      `The drivers are ${drivers.map(({ name }) => JSON.stringify(name)).join(", ")}`,
    );
  } else if (driver.sameAs !== undefined) {
    say(
      ["of"],
      `must be a driver with measurements of its own, got ${JSON.stringify(of)}, which shares those of ${JSON.stringify(driver.sameAs)}`,
      'Remove the measurement, or remove "sameAs" and give the driver its impedance',
    );
  } else if (drive.at === "input" && !networks.found.parts.some(({ name }) => name === of)) {
    say(
      ["drive", "at"],
      `must be "terminals" for a driver that networks.found doesn't hold, got "input"`,
      "Add the driver to the network through which it was measured",
    );
  }
}

function checkPhase({ drivers, air }: Project, measurement: PressureMeasurement, say: Say): void {
  const { columns, minimumPhase = false, timeZero, files, of, slopes } = measurement;
  if (columns === "db" && !minimumPhase) {
    say(
      ["columns"],
      'is "db", so that the files hold no phase, and no phase is guessed',
      'Write "minimumPhase": true and "timeZero": { "delay": … } with the time of flight, or measure with phase ("db-degrees")',
    );
    return;
  }
  if (!minimumPhase) {
    if (slopes !== undefined) say(["slopes"], 'has a meaning only with "minimumPhase": true', "Remove it");
  } else if (columns !== "db") {
    say(
      ["minimumPhase"],
      `must be false for files that hold a phase ("columns": "${columns}"), got true`,
      'Write "columns": "db" to leave their phase unread',
    );
  } else if (timeZero.delay === undefined) {
    say(
      ["timeZero"],
      "must state a delay, since a minimum phase holds no time of flight",
      'Write "timeZero": { "delay": "2.9 ms" }: the time from the drive to the arrival at the microphone',
    );
  }
  files.forEach(({ delay }, index) => {
    if (delay !== undefined && timeZero.delay === undefined)
      say(
        ["files", index, "delay"],
        'has a meaning only where "timeZero" states a delay',
        'Write "timeZero": { "delay": … }, or remove it',
      );
  });
  const driver = drivers.find(({ name }) => name === of);
  if (!minimumPhase || driver === undefined || timeZero.delay === undefined) return;
  const { x, y, z } = measurement.rotationCentre;
  const ways = files
    .filter(({ delay }) => delay === undefined)
    .map(({ azimuth, elevation }) => {
      const [mx, my, mz] = pointInDirection({ azimuth, elevation }, measurement.distance, [x, y, z]);
      return Math.hypot(mx - driver.position.x, my - driver.position.y, mz - driver.position.z);
    });
  const apart = ways.reduce((most, way) => Math.max(most, way), 0) - ways.reduce((least, way) => Math.min(least, way), Infinity);
  if (ways.length > 1 && apart > 1e-3) {
    const time = formatQuantity(apart / checkAir("readProject", air).speedOfSound, "s", { digits: 2 });
    say(
      ["timeZero", "delay"],
      `is one delay for places to which the sound travels different ways: ${formatQuantity(apart, "m", { digits: 2 })} (${time}) apart`,
      'Give each file its own "delay"',
    );
  }
}

function checkBand(project: Project, { of, files, gate, trusted }: PressureMeasurement, say: Say): void {
  const { goal } = project;
  if (gate === undefined) return;
  const needed = files.some((file) => neededOverBand(project, of, file));
  const lowest = 1 / gate.length;
  const limit = `a gate of ${formatQuantity(gate.length, "s")} leaves no data below 1/T = ${formatQuantity(lowest, "Hz", { digits: 4 })}`;
  if (trusted.from * bandTolerance < lowest)
    say(
      ["trusted", "from"],
      `is ${formatQuantity(trusted.from, "Hz", { digits: 4 })}, but ${limit}`,
      "Raise it, or measure with a longer gate",
    );
  else if (needed && goal?.band !== undefined && goal.band.from * bandTolerance < lowest) {
    say(
      ["gate", "length"],
      `is too short for goal.band, which begins at ${formatQuantity(goal.band.from, "Hz", { digits: 4 })}: ${limit}`,
      "Raise goal.band.from, or measure with a longer gate",
    );
  }
}

/** A splice lies between the ends of what can be trusted: elsewhere nothing was joined. */
function checkNearField({ nearField, trusted }: PressureMeasurement, say: Say): void {
  if (nearField === undefined || (nearField.below > trusted.from && nearField.below < trusted.to)) return;
  const hertz = (frequency: number) => formatQuantity(frequency, "Hz", { digits: 4 });
  say(
    ["nearField", "below"],
    `must lie within the trusted band, ${hertz(trusted.from)} to ${hertz(trusted.to)}, got ${hertz(nearField.below)}`,
    'State where the near field was joined to the rest, or remove "nearField"',
  );
}

/** What is measured beside the loudspeaker, against what else the project says of it. */
export function checkBeside({ measurements, goal, pair }: Project): Finding[] {
  const findings: Finding[] = [];
  const at = (of: string) => measurements.findIndex((measurement) => measurement.of === of);
  if (at("partner") >= 0 && goal?.partner !== undefined) {
    findings.push({
      path: ["goal", "partner"],
      message: `is stated as a high-pass, and measured at measurements[${at("partner")}]`,
      hint: "Keep one of the two: the measured pressure, or the high-pass that stands for it",
    });
  }
  if (pair !== undefined && at("twin") < 0)
    findings.push({
      path: ["pair"],
      message: "needs a measurement of the other loudspeaker",
      hint: 'Add one with "of": "twin", or remove "pair"',
    });
  return findings;
}
