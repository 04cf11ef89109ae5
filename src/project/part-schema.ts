import * as z from "zod";
import { complain, complaintOf, list, name, optional, plainNumber, quantity, record } from "./fields";
import { partOf } from "./part-of";
import type { ProjectPart } from "./project-types";

/** One part of a network in a project file. */
export function partSchema(): z.ZodType<ProjectPart> {
  const nodes = (count: number) => list(name(), count, count);
  return z
    .discriminatedUnion("kind", [
      record({ name: name(), kind: z.literal("resistor"), resistance: quantity("Ω", { min: 0 }), nodes: nodes(2) }),
      record({ name: name(), kind: z.literal("inductor"), inductance: quantity("H", { min: 0 }), dcr: optional(quantity("Ω", { min: 0 })), nodes: nodes(2) }),
      record({
        name: name(), kind: z.literal("capacitor"), capacitance: quantity("F", { above: 0 }),
        esr: optional(quantity("Ω", { min: 0 })), dissipationFactor: optional(plainNumber({ min: 0 })), nodes: nodes(2),
      }),
      record({ name: name(), kind: z.literal("l-pad"), attenuationDb: plainNumber({ min: 0, max: 200, unit: "dB" }), load: quantity("Ω", { above: 0 }), nodes: nodes(3) }),
      record({ name: name(), kind: z.literal("driver"), nodes: nodes(2) }),
      record({ name: name(), kind: z.literal("coupling"), k: plainNumber({ above: -1, below: 1 }), coils: nodes(2) }),
      record({
        name: name(), kind: z.literal("transformer"), ratio: optional(plainNumber()),
        primaryInductance: optional(quantity("H", { above: 0 })), secondaryInductance: optional(quantity("H", { above: 0 })), k: optional(plainNumber({ above: -1, below: 1 })),
        primaryResistance: optional(quantity("Ω", { min: 0 })), secondaryResistance: optional(quantity("Ω", { min: 0 })), nodes: nodes(4),
      }),
    ])
    .superRefine((part, context) => {
      if (part.kind === "transformer" && part.ratio === undefined) {
        const lacking = (["primaryInductance", "secondaryInductance", "k"] as const).filter((key) => part[key] === undefined);
        if (lacking.length > 0) {
          const missing = `${lacking.map((key) => `"${key}"`).join(", ")} ${lacking.length === 1 ? "is" : "are"} missing`;
          complain(context, {
            message: `must have "ratio", or two windings, whose ${missing}`,
            hint: "Write \"ratio\" (primary to secondary turns) for an ideal transformer, else the values of both windings and \"k\"",
          });
          return;
        }
      }
      try {
        partOf(part);
      } catch (error) {
        const { message, hint } = complaintOf(error);
        complain(context, { message: `isn't a ${part.kind} that can be made: ${message}`, hint: hint === "" ? "Give the values that this kind of part needs" : hint });
      }
    });
}
