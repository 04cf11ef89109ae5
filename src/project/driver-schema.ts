import * as z from "zod";
import { complain, name, optional, path, quantity, record } from "./fields";
import type { ProjectDriver, ProjectPoint } from "./project-types";

/** A point in m. */
export function pointSchema(): z.ZodType<ProjectPoint> {
  return record({ x: quantity("m"), y: quantity("m"), z: quantity("m") });
}

/** One driver of a project file. */
export function driverSchema(): z.ZodType<ProjectDriver> {
  return record({
    name: name(),
    position: pointSchema(),
    impedance: optional(record({ file: path(), columns: z.enum(["ohm-degrees", "re-im"]) })),
    role: optional(z.enum(["woofer", "midrange", "tweeter", "full-range"])),
    sameAs: optional(name()),
  }).superRefine((driver, context) => {
    if (driver.sameAs === undefined) {
      for (const key of ["impedance", "role"] as const) {
        if (driver[key] === undefined) context.addIssue({ code: "custom", message: "is missing", params: { missing: true }, path: [key], continue: false });
      }
    } else if (driver.impedance !== undefined) {
      complain(context, { message: `has both "impedance" and "sameAs": it is measured by itself, or shares the measurements of ${JSON.stringify(driver.sameAs)}`, hint: "Remove one of the two" });
    }
  });
}
