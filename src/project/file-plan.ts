import type { ProjectDriver } from "./project-driver";
import type { ImpedanceMeasurement, PressureFile, PressureMeasurement } from "./project-measurement";
import type { Project } from "./project-types";

interface Wanted {
  /** Relative to the project file's folder. */
  readonly path: string;
  /** `measurements[0].files[3]`. */
  readonly where: string;
  readonly of: string;
}

/** A file to be read, and what for. */
export type PlannedFile =
  | (Wanted & { readonly use: "driver-impedance"; readonly columns: "ohm-degrees" | "re-im"; readonly driver: ProjectDriver })
  | (Wanted & {
      readonly use: "pressure";
      readonly columns: PressureMeasurement["columns"];
      readonly measurement: PressureMeasurement;
      readonly place: PressureFile;
    })
  | (Wanted & {
      readonly use: "loudspeaker-impedance";
      readonly columns: "ohm-degrees" | "re-im";
      readonly measurement: ImpedanceMeasurement;
    });

/** All files that a project names, in the order in which it names them. */
export function filePlan({ drivers, measurements }: Project): readonly PlannedFile[] {
  const impedances = drivers.flatMap((driver, index): PlannedFile[] => {
    if (driver.impedance === undefined) return [];
    const { file, columns } = driver.impedance;
    return [{ use: "driver-impedance", path: file, where: `drivers[${index}].impedance`, of: driver.name, columns, driver }];
  });
  const others = measurements.flatMap((measurement, index): PlannedFile[] => {
    if (measurement.quantity === "impedance") {
      const { columns, of, files } = measurement;
      return files.map(({ file }, at) => ({
        use: "loudspeaker-impedance",
        path: file,
        where: `measurements[${index}].files[${at}]`,
        of,
        columns,
        measurement,
      }));
    }
    const { columns, of, files } = measurement;
    return files.map((place, at) => ({
      use: "pressure",
      path: place.file,
      where: `measurements[${index}].files[${at}]`,
      of,
      columns,
      measurement,
      place,
    }));
  });
  return [...impedances, ...others];
}
