import * as z from "zod";
import { readPartJSON } from "../network/internal";
import { complain, nameComplaint } from "./fields";
import type { ProjectPart } from "./project-types";

/** One part of a network in a project file, read as every network in JSON is; drivers have their impedance elsewhere. */
export function partSchema(): z.ZodType<ProjectPart> {
  return z.unknown().transform((value, context): ProjectPart => {
    const { part, complaints } = readPartJSON(value, { bareDrivers: true, checkName: nameComplaint });
    if (part !== undefined) return part;
    for (const { path, message, hint, what } of complaints) {
      if (what === "unknown-key") {
        // As zod's own, whose sentence names the part and the key.
        context.addIssue({
          code: "unrecognized_keys",
          keys: [String(path.at(-1))],
          message: hint.replace(/^Known keys are /, ""),
          path: path.slice(0, -1),
          continue: false,
        });
      } else if (what === "missing")
        context.addIssue({ code: "custom", message, params: { missing: true, hint }, path: [...path], continue: false });
      else complain(context, { message, hint }, path);
    }
    return z.NEVER;
  });
}
