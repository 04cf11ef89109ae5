import { listed, type Views } from "../errors/internal";
import { formatQuantity } from "../quantity";
import type { LoadedProject } from "./loaded-project";
import type { Project } from "./project-types";

function projectLines({ ratedImpedance, drivers, networks, measurements }: Project): readonly string[] {
  const counts = Object.entries(networks).map(([which, { parts }]) => `${which} ${parts.length} parts`);
  return [
    `  rated ${formatQuantity(ratedImpedance, "Ω")}; drivers: ${listed(drivers.map(({ name }) => name))}`,
    `  networks: ${counts.join(", ")}; measurements: ${measurements.length}`,
  ];
}

/** A project as it stands in its file. */
export const projectViews: Views<Project> = {
  text: (project) => [`Project: ${listed([project.name])}`, ...projectLines(project)].join("\n"),
};

/** A project with its files: what was read, and what a reader should know. */
export const loadedProjectViews: Views<LoadedProject> = {
  text: ({ project, measured, files, notes }) =>
    [
      `LoadedProject: ${listed([project.name])}`,
      ...projectLines(project),
      `  files read: ${files.length}; of the whole: ${measured.pressures.length} pressures, ${measured.impedance === undefined ? "no impedance" : "an impedance"}`,
      `  notes: ${notes.length}`,
      ...notes
        .slice(0, 5)
        .map(({ message, file }) => (file === undefined ? message : `${file}: ${message}`))
        .map((message) => `    ${message.length > 140 ? `${message.slice(0, 139)}…` : message}`.replace(/[\r\n]+/g, " ")),
      ...(notes.length > 5 ? [`    and ${notes.length - 5} more`] : []),
    ].join("\n"),
};
