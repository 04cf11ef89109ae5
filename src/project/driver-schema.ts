import * as z from "zod";
import { saidBy } from "../errors/internal";
import type { DriverMotionOptions } from "../parts";
import { checkMotion } from "../parts/internal";
import { complain, name, optional, path, plainNumber, quantity, record } from "./fields";
import type { ProjectDriver, ProjectMotion } from "./project-driver";
import type { ProjectPoint } from "./project-place";

/** A point in m. */
export function pointSchema(): z.ZodType<ProjectPoint> {
  return record({ x: quantity("m"), y: quantity("m"), z: quantity("m") });
}

/** What moves a cone: mechanics, or resonance and Q with one more constant. */
function motionSchema(): z.ZodType<ProjectMotion> {
  const plain = () => optional(plainNumber({ above: 0 }));
  return record({
    re: quantity("Ω", { above: 0 }),
    le: optional(quantity("H", { min: 0 })),
    bl: plain(),
    mms: optional(quantity("kg", { above: 0 })),
    cms: plain(),
    rms: plain(),
    fs: optional(quantity("Hz", { above: 0 })),
    qms: plain(),
    qes: plain(),
  }).superRefine((motion, context) => {
    try {
      checkMotion("project", "", motion as DriverMotionOptions);
    } catch (error) {
      const { hint } = saidBy(error);
      complain(context, { message: "must be { re, bl, mms, cms, rms }, or { re, fs, qms, qes } and one of bl and mms", hint });
    }
  });
}

/** One driver of a project file. */
export function driverSchema(): z.ZodType<ProjectDriver> {
  return record({
    name: name(),
    position: pointSchema(),
    impedance: optional(record({ file: path(), columns: z.enum(["ohm-degrees", "re-im"]) })),
    role: optional(z.enum(["woofer", "midrange", "tweeter", "full-range"])),
    sameAs: optional(name()),
    motion: optional(motionSchema()),
    ratings: optional(record({ power: optional(quantity("W", { above: 0 })), excursion: optional(quantity("m", { above: 0 })) })),
  }).superRefine((driver, context) => {
    if (driver.sameAs === undefined) {
      for (const key of ["impedance", "role"] as const) {
        if (driver[key] === undefined)
          context.addIssue({ code: "custom", message: "is missing", params: { missing: true }, path: [key], continue: false });
      }
    } else if (driver.impedance !== undefined) {
      complain(context, {
        message: `has both "impedance" and "sameAs": it is measured by itself, or shares the measurements of ${JSON.stringify(driver.sameAs)}`,
        hint: "Remove one of the two",
      });
    }
  });
}
