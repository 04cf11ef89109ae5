import * as z from "zod";
import { checkCoils } from "./check-coils";
import { checkDrivers } from "./check-drivers";
import { checkGoal } from "./check-goal";
import { checkBeside, checkMeasurements } from "./check-measurements";
import { checkNetworks } from "./check-networks";
import { checkSpread } from "./check-spread";
import { coilsSchema } from "./coils-schema";
import { driverSchema } from "./driver-schema";
import { complain, list, optional, path, plainNumber, quantity, record, words } from "./fields";
import { goalSchema } from "./goal-schema";
import { measurementSchema } from "./measurement-schema";
import { partSchema } from "./part-schema";
import type { Project } from "./project-types";
import { checkRedesign, redesignSchema } from "./redesign-schema";
import { spreadSchema } from "./spread-schema";

let built: z.ZodType<Project> | undefined;

/**
 * The schema of a project file, version 1, as a zod schema: what goes in is the JSON's data, what comes out is a `Project` with all
 * quantities in SI. Built on the first call. `parseProject` reads with it and says in the library's words what is wrong.
 *
 * @returns the schema, always the same one
 * @example
 * ```ts
 * import { projectSchema } from "dividing-network/project";
 *
 * projectSchema().safeParse({ version: 2 }).success; // false
 * ```
 */
export function projectSchema(): z.ZodType<Project> {
  built ??= withoutCompiling(buildSchema);
  return built;
}

/**
 * Builds a schema that is interpreted. The schema library would compile parsers at run time, and asks by `new Function` whether it may: under a strict
 * content-security policy that question is a reported violation. Its setting is put back, since other code may share it.
 */
function withoutCompiling<T>(build: () => T): T {
  const { jitless } = z.config();
  z.config({ jitless: true });
  try {
    return build();
  } finally {
    z.config({ jitless });
  }
}

function buildSchema(): z.ZodType<Project> {
  const parts = () => list(partSchema(), 1, 500);
  return record({
    version: z.literal(1),
    name: words(200),
    description: optional(words(10_000)),
    ratedImpedance: quantity("Ω", { above: 0 }),
    // Within these bounds no humidity asks for more vapour than the pressure allows.
    air: optional(
      record({
        temperature: quantity("°C", { min: -50, max: 70 }),
        humidity: optional(plainNumber({ min: 0, max: 100, unit: "%" })),
        pressure: optional(quantity("Pa", { min: 5e4, max: 1.1e5 })),
      }),
    ),
    amplifier: record({
      outputResistance: quantity("Ω", { min: 0 }),
      cableResistance: quantity("Ω", { min: 0 }),
      cableInductance: quantity("H", { min: 0 }),
    }),
    drivers: list(driverSchema(), 1, 50),
    measurements: list(measurementSchema(), 0, 500),
    networks: record({
      found: record({ parts: parts() }),
      proposed: record({ parts: parts() }),
      alternative: optional(record({ name: words(60), parts: parts() })),
    }),
    pair: optional(record({ measured: optional(z.enum(["left", "right"])), mirrored: optional(z.boolean()) })),
    goal: optional(goalSchema()),
    spread: optional(spreadSchema()),
    stock: optional(path()),
    redesign: optional(redesignSchema()),
    coils: optional(coilsSchema()),
  }).superRefine((project, context) => {
    for (const check of [checkDrivers, checkNetworks, checkMeasurements, checkBeside, checkSpread, checkRedesign, checkCoils, checkGoal]) {
      for (const { path: place, ...complaint } of check(project)) complain(context, complaint, place);
    }
  });
}
