import { DividingNetworkError } from "../errors";
import { checkOptions, errorFromIssues, show, shown } from "../errors/internal";
import { loudspeaker, type Loudspeaker, type PressurePerVolt } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { driverImpedance, type DriverImpedance, type DriverMotionOptions } from "../parts";
import type { FrequencyResponse } from "../response";
import { freezeResponse } from "../response/internal";
import { checkBands } from "./check-bands";
import { fitTimeZeros } from "./fit-time-zero";
import { filePlan } from "./file-plan";
import type { LoadedProject, MeasuredLoudspeakerPressure } from "./loaded-project";
import { driverPressure, loudspeakerPressure, pointOf } from "./measured-pressure";
import { measurementMarks } from "./measurement-marks";
import { entriesOf } from "./network-of";
import { parseProject } from "./parse-project";
import { projectRobust } from "./project-robust";
import { projectNotes } from "./project-notes";
import type { Project } from "./project-types";
import { goalWith, pairOf } from "./beside";
import { readStock } from "./read-stock";
import { readFiles, type ReadFile } from "./read-files";
import { isDriver, type WHOLES } from "./subjects";
import { newTrouble, type Trouble } from "./trouble";
import { loadedProjectViews } from "./views";

const caller = "readProject";

/** What `readProject` needs. */
export interface ReadProjectOptions {
  /** The project file's name, for messages. */
  readonly file?: string | undefined;
  /** Gives the text of a file beside the project; the path is relative to the project file's folder, with forward slashes. */
  readonly readFile: (relativePath: string) => Promise<string>;
}

/**
 * Reads a project file and all measured files that it names, and makes the loudspeaker with its network as found and with the
 * one proposed, and with a third where the project has one. Pressures of drivers become Pa per volt at their terminals: what was driven at the input is divided by
 * V(driver)/V(source) of the network as found, the amplifier's output and the cable included. Gate, trusted band, smoothing and
 * computed phase stand in the responses' marks. A path stays within the project file's folder; nothing that is missing is assumed.
 *
 * @param text the project file's content
 * @param options `readFile`, called with each path once; `file`, the project file's name for messages
 * @returns the project, the two loudspeakers, what was measured of the whole (Pa, Ω), the files and notes
 * @throws DividingNetworkError what `parseProject` throws; `missing-file`, `unreadable-file`, what `readResponseText` throws,
 * `missing-measurement`, `trusted-not-measured`, `band-too-narrow`, `missing-tail` and others, all naming the file;
 * `invalid-measurement` when several of them hold
 * @example
 * ```ts
 * import { predict, pressureAtPlace } from "dividing-network/loudspeaker";
 * import { readProject } from "dividing-network/project";
 *
 * const parts = [{ name: "cone", kind: "driver", nodes: ["in", "gnd"] }];
 * const text = JSON.stringify({
 *   version: 1, name: "One driver", ratedImpedance: 8,
 *   amplifier: { outputResistance: 2, cableResistance: 0, cableInductance: 0 },
 *   drivers: [{ name: "cone", position: { x: 0, y: 0, z: 0 }, impedance: { file: "z.txt", columns: "ohm-degrees" }, role: "full-range" }],
 *   measurements: [{
 *     of: "cone", quantity: "pressure", columns: "re-im", drive: { voltage: 1, at: "terminals" },
 *     distance: 1, rotationCentre: { x: 0, y: 0, z: 0 }, timeZero: { common: true }, trusted: { from: 500, to: 1000 }, smoothing: "none",
 *     files: [{ azimuth: 0, elevation: 0, file: "p.txt" }],
 *   }],
 *   networks: { found: { parts }, proposed: { parts } },
 * });
 * const files: Record<string, string> = { "z.txt": "500 8 0\n1000 8 0\n", "p.txt": "500 1 0\n1000 1 0\n" };
 * const { found } = await readProject(text, { readFile: async (path) => files[path]! });
 * // 2 Ω before 8 Ω: 0.8 V at the driver for each volt of the source
 * pressureAtPlace(predict(found, { voltage: 1 }), { distance: 1, azimuth: 0, elevation: 0 }).sum.re; // [0.8, 0.8]
 * ```
 */
export async function readProject(text: string, options: ReadProjectOptions): Promise<LoadedProject> {
  const { file, readFile } = checkOptions(caller, options, ["file", "readFile"]);
  if (typeof readFile !== "function") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "readFile" must be a function that takes a relative path and gives the file's text, got ${show(readFile)}`,
      'In Node, with readFile from "node:fs/promises": { readFile: (path) => readFile(new URL(path, folder), "utf8") }, folder being the file: URL of the project\'s folder, which ends in /. The first argument is the project\'s text, not its path',
    );
  }
  const project = parseProject(text, file === undefined ? {} : { file });
  checkPressures(project, file);
  const trouble = newTrouble(caller);
  const files = await readFiles(filePlan(project), readFile, trouble);
  checkBands(project, files, trouble);
  const impedances = driverImpedances(project, files, trouble);
  trouble.raise();
  const stock = project.stock === undefined ? undefined : await readStock(caller, project.stock, readFile);

  const networks = { found: entriesOf(project.networks.found, impedances), proposed: entriesOf(project.networks.proposed, impedances) };
  const third = project.networks.alternative;
  const pressuresRead = driverPressures(project, files, networks.found, trouble);
  const whole = measuredWhole("loudspeaker", files, trouble);
  const twin = measuredWhole("twin", files, trouble);
  const partner = measuredWhole("partner", files, trouble);
  trouble.raise();
  const {
    pressures,
    whole: checks,
    fitted,
    notes,
  } = fitTimeZeros((known) => builtWith(project, networks.found, known), pressuresRead, whole.pressures);
  const measured = Object.freeze({ ...whole, pressures: Object.freeze(checks) });
  const found = builtWith(project, networks.found, pressures);
  const loaded: LoadedProject = {
    project,
    found,
    proposed: builtWith(project, networks.proposed, pressures),
    ...(third === undefined
      ? {}
      : { alternative: Object.freeze({ name: third.name, loudspeaker: builtWith(project, entriesOf(third, impedances), pressures) }) }),
    measured,
    goal: goalWith(project, found, partner.pressures),
    ...(stock === undefined ? {} : { stock }),
    robust: projectRobust(project, found),
    ...pairOf(project, whole, twin),
    timeZeros: Object.freeze(fitted),
    files: Object.freeze(
      files.map(({ planned: { path, where, of, use }, response: { frequencies } }) =>
        Object.freeze({
          path,
          where,
          of,
          quantity: use === "pressure" ? ("pressure" as const) : ("impedance" as const),
          points: frequencies.length,
          from: frequencies[0]!,
          to: frequencies.at(-1)!,
        }),
      ),
    ),
    notes: Object.freeze([...projectNotes(project, files, fitted.length > 0), ...notes]),
  };
  return Object.freeze(shown(loaded, loadedProjectViews));
}

/** Every driver needs a pressure of its own or of the driver whose measurements it shares. */
function checkPressures({ drivers, measurements }: Project, file: string | undefined): void {
  const issues = drivers.flatMap(({ name, sameAs }, index) => {
    if (sameAs !== undefined || measurements.some(({ of, quantity }) => of === name && quantity === "pressure")) return [];
    return [
      {
        code: "missing-measurement",
        message: `drivers[${index}] of ${show(name)} has no measured pressure`,
        hint: `Add one under "measurements": { "of": ${show(name)}, "quantity": "pressure", … }`,
        parts: [name],
        ...(file === undefined ? {} : { file }),
      },
    ];
  });
  if (issues.length > 0) throw errorFromIssues("missing-measurement", caller, issues);
}

function driverImpedances({ drivers }: Project, files: readonly ReadFile[], trouble: Trouble): ReadonlyMap<string, DriverImpedance> {
  const impedances = new Map<string, DriverImpedance>();
  for (const { planned, response } of files) {
    if (planned.use !== "driver-impedance") continue;
    const part = trouble.attempt(planned, () => driverImpedance(response));
    if (part !== undefined) impedances.set(planned.of, part);
  }
  for (const { name, sameAs } of drivers) {
    const shared = sameAs === undefined ? undefined : impedances.get(sameAs);
    if (shared !== undefined) impedances.set(name, shared);
  }
  return impedances;
}

function driverPressures(
  project: Project,
  files: readonly ReadFile[],
  found: Entries,
  trouble: Trouble,
): ReadonlyMap<string, readonly PressurePerVolt[]> {
  const network = compile(found);
  const sweeps = new Map<Float64Array, ReturnType<typeof network.sweep>>();
  const pressures = new Map<string, PressurePerVolt[]>();
  for (const { planned, response } of files) {
    if (planned.use !== "pressure" || !isDriver(planned.of)) continue;
    const transfer = (frequencies: Float64Array): FrequencyResponse => {
      const sweep = sweeps.get(frequencies) ?? network.sweep(frequencies, { sourceImpedance: sourceOf(project) });
      sweeps.set(frequencies, sweep);
      return sweep.voltage(planned.of);
    };
    const pressure = trouble.attempt(planned, () => driverPressure(planned.measurement, planned.place, response, transfer), fileHints);
    if (pressure !== undefined) pressures.set(planned.of, [...(pressures.get(planned.of) ?? []), pressure]);
  }
  return pressures;
}

/** Ways out in the words of the project file, by the code of the error. */
const fileHints: Readonly<Record<string, string>> = {
  "missing-tail":
    'Write "slopes" beside "minimumPhase", the fall beyond the data in dB per octave: { "low": 12 } for a closed box, { "low": 24 } for a vented one; "high" likewise',
  "outside-measured-band":
    "Measured through the network, a pressure needs the impedances of all drivers over its whole band: measure them there, or leave these lines out",
};

function measuredWhole(of: (typeof WHOLES)[number], files: readonly ReadFile[], trouble: Trouble): LoadedProject["measured"] {
  const pressures: MeasuredLoudspeakerPressure[] = [];
  let impedance: FrequencyResponse | undefined;
  for (const { planned, response } of files) {
    if (planned.of !== of) continue;
    if (planned.use === "loudspeaker-impedance") {
      const { frequencies, re, im, marks = [] } = response;
      impedance = freezeResponse(frequencies, re, im, [...marks, ...measurementMarks(planned.measurement, response)]);
    } else if (planned.use === "pressure") {
      const pressure = trouble.attempt(planned, () => loudspeakerPressure(planned.measurement, planned.place, response), fileHints);
      if (pressure !== undefined) pressures.push(pressure);
    }
  }
  return Object.freeze({ pressures: Object.freeze(pressures), ...(impedance === undefined ? {} : { impedance }) });
}

function sourceOf({ amplifier: { outputResistance, cableResistance, cableInductance } }: Project) {
  return { resistance: outputResistance + cableResistance, inductance: cableInductance };
}

/** The loudspeaker with one of its networks; a driver that this network leaves out is left out. */
function builtWith(project: Project, network: Entries, pressures: ReadonlyMap<string, readonly PressurePerVolt[]>): Loudspeaker {
  const drivers = project.drivers
    .filter(({ name }) => Object.hasOwn(network, name))
    .map(({ name, position, role, sameAs, motion, ratings }) => {
      const measured = sameAs === undefined ? undefined : project.drivers.find((driver) => driver.name === sameAs);
      return {
        name,
        role: role ?? measured?.role ?? "full-range",
        position: pointOf(position),
        measuredAt: pointOf(measured?.position ?? position),
        pressures: pressures.get(sameAs ?? name) ?? [],
        motion: (motion ?? measured?.motion) as DriverMotionOptions | undefined,
        ratings: ratings ?? measured?.ratings,
      };
    });
  return loudspeaker({ network, drivers, sourceImpedance: sourceOf(project), ...(project.air === undefined ? {} : { air: project.air }) });
}
