import * as z from "zod";
import { field, list, name, optional, plainNumber, quantity, record } from "./fields";
import { relativeTolerance } from "../quantity/internal";
import type { ProjectSpread } from "./project-spread";

/** What of a project scatters beside the tolerances that its parts state; what the numbers may be beyond this, `spread` says. */
export function spreadSchema(): z.ZodType<ProjectSpread> {
  const percent = () =>
    optional(field((value) => relativeTolerance("project", "value", value), 'Write text such as "5 %", or a number below 1'));
  const names = () => list(name(), 1, 500);
  return record({
    drivers: optional(
      z.record(
        z.string(),
        record({
          levelDb: optional(plainNumber({ min: 0, max: 40, unit: "dB" })),
          resonance: percent(),
          q: percent(),
          delay: optional(quantity("s", { min: 0 })),
        }),
      ),
    ),
    byKind: optional(
      record({ resistor: percent(), inductor: percent(), capacitor: percent(), "l-pad": percent(), transformer: percent() }),
    ),
    unstated: optional(z.enum(["assumed", "exact"])),
    lots: optional(list(names(), 0, 500)),
    matched: optional(names()),
    distribution: optional(z.enum(["uniform", "triangular", "normal"])),
    samples: optional(plainNumber({ min: 2, max: 1_000_000, integer: true })),
    seed: optional(plainNumber({ min: 0, max: 2 ** 32 - 1, integer: true })),
    largestLossDb: optional(plainNumber({ min: 0, max: 200, unit: "dB" })),
  });
}
