export { type FittedTimeZero, type LoadedFile, type LoadedProject, type MeasuredLoudspeakerPressure } from "./loaded-project";
export { parseProject } from "./parse-project";
export { projectSchema } from "./project-schema";
export { projectFromJSON, projectToJSON, writeProject } from "./project-to-json";
export {
  type ImpedanceFile,
  type ImpedanceMeasurement,
  type PressureFile,
  type PressureMeasurement,
  type Project,
  type ProjectBand,
  type ProjectDriver,
  type ProjectMeasurement,
  type ProjectMotion,
  type ProjectNetwork,
  type ProjectPart,
  type ProjectPoint,
} from "./project-types";
export { readProject, type ReadProjectOptions } from "./read-project";
export type { ProjectCoils, ProjectGoal, ProjectSpread } from "./project-types";
