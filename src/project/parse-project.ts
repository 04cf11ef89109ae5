import { DividingNetworkError } from "../errors";
import { checkOptions, errorFromIssues, show, shown } from "../errors/internal";
import { issuesInWords } from "./issue-sentences";
import { readJson } from "./json-text";
import { projectSchema } from "./project-schema";
import type { Project } from "./project-types";
import { projectViews } from "./views";

/** The longest project file that is read, in characters. */
const longest = 1_000_000;

/**
 * Reads the text of a project file (JSON, version 1) and checks it: keys, units, names, and whether the networks hang together.
 * Measured files aren't read: that is `readProject`. Every quantity may be a number in SI or text with its unit; the result holds
 * SI numbers. All that is wrong is listed at once, each with its place, file and line. At most 1 000 000 characters.
 *
 * @param text the file's content
 * @param options `file`: its name, for messages
 * @returns the project, frozen plain data, quantities in SI
 * @throws DividingNetworkError `invalid-json` or `duplicate-key` with line and column, `invalid-project` with one issue for each thing
 * that is wrong, `project-too-large`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { parseProject } from "dividing-network/project";
 *
 * const parts = [
 *   { name: "C1", kind: "capacitor", capacitance: "6.8 µF", nodes: ["in", "t"] },
 *   { name: "tweeter", kind: "driver", nodes: ["t", "gnd"] },
 * ];
 * const text = JSON.stringify({
 *   version: 1, name: "One driver", ratedImpedance: "8 Ω",
 *   amplifier: { outputResistance: 0, cableResistance: "0.1 Ω", cableInductance: 0 },
 *   drivers: [{ name: "tweeter", position: { x: 0, y: 0, z: 0 }, impedance: { file: "tweeter.txt", columns: "ohm-degrees" }, role: "tweeter" }],
 *   measurements: [], networks: { found: { parts }, proposed: { parts } },
 * });
 * parseProject(text).amplifier.cableResistance; // 0.1
 * parseProject(text.replace("6.8 µF", "6,8 µF")); // throws invalid-project
 * ```
 */
export function parseProject(text: string, options?: { readonly file?: string | undefined }): Project {
  const caller = "parseProject";
  const { file = "project" } = checkOptions(caller, options, ["file"]);
  if (typeof file !== "string")
    throw new DividingNetworkError("invalid-argument", `${caller}: "file" must be the file's name, for messages, got ${show(file)}`);
  if (typeof text !== "string") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "text" must be the file's content as a string, got ${show(text)}`,
      "Decode the bytes first, as UTF-8; data that is no text goes through projectSchema",
    );
  }
  if (text.length > longest) {
    const message = `a project file must have at most ${longest} characters, got ${text.length}`;
    throw new DividingNetworkError("project-too-large", `${caller}: ${file}: ${message}`, "Keep measured curves in files of their own", [
      { code: "project-too-large", message, hint: "Keep measured curves in files of their own", file },
    ]);
  }
  if (text.trim() === "") {
    const message = "the file is empty";
    throw new DividingNetworkError("invalid-json", `${caller}: ${file}:1: ${message}`, 'A project begins with { "version": 1, … }', [
      { code: "invalid-json", message, hint: 'A project begins with { "version": 1, … }', file, line: 1 },
    ]);
  }
  return checkedProject(caller, readJson(text, file), { text, file });
}

/** Checks plain data against the schema. */
export function checkedProject(caller: string, data: unknown, source?: { readonly text: string; readonly file: string }): Project {
  const result = projectSchema().safeParse(data, { jitless: true });
  if (!result.success) throw errorFromIssues("invalid-project", caller, issuesInWords(result.error.issues, data, source));
  return deepFreeze(shown(result.data, projectViews));
}

function deepFreeze<T>(value: T): T {
  if (typeof value === "object" && value !== null) {
    for (const key of Object.keys(value)) deepFreeze((value as Record<string, unknown>)[key]);
    Object.freeze(value);
  }
  return value;
}
