import { formatQuantity } from "../quantity";
import { bandTolerance } from "./check-measurements";
import type { PlannedFile } from "./file-plan";
import type { ProjectBand } from "./project-place";
import type { Project } from "./project-types";
import type { ReadFile } from "./read-files";
import { neededOverBand } from "./subjects";
import type { Trouble } from "./trouble";

/** Files that reach less far than the project says or asks: the trusted band must be measured, the band to be assessed covered. */
export function checkBands(project: Project, files: readonly ReadFile[], trouble: Trouble): void {
  const { goal } = project;
  for (const { planned, response } of files) {
    const [low, high] = [response.frequencies[0]!, response.frequencies.at(-1)!];
    const reach = `the file reaches from ${formatQuantity(low, "Hz", { digits: 4 })} to ${formatQuantity(high, "Hz", { digits: 4 })}`;
    const words = ({ from, to }: ProjectBand) =>
      `${formatQuantity(from, "Hz", { digits: 4 })} to ${formatQuantity(to, "Hz", { digits: 4 })}`;
    const trusted = trustedBand(planned);
    if (trusted !== undefined && (trusted.from * bandTolerance < low || trusted.to > high * bandTolerance)) {
      trouble.add(
        planned,
        "trusted-not-measured",
        `${reach}, but is said to be trusted from ${words(trusted)}`,
        "State the band that was measured, or name the right file",
      );
    } else if (goal?.band !== undefined && needed(project, planned) && (goal.band.from < low || goal.band.to > high)) {
      trouble.add(
        planned,
        "band-too-narrow",
        `${reach}, but "goal.band" asks for ${words(goal.band)}`,
        'Narrow "goal.band", or measure a wider band',
      );
    }
  }
}

function needed(project: Project, planned: PlannedFile): boolean {
  return planned.use === "pressure" ? neededOverBand(project, planned.of, planned.place) : planned.of !== "twin";
}

function trustedBand(planned: PlannedFile): ProjectBand | undefined {
  return planned.use === "driver-impedance" ? undefined : planned.measurement.trusted;
}
