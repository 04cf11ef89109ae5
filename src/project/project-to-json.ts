import { writePartJSON } from "../network/internal";
import { formatQuantity, type Unit } from "../quantity";
import { checkedProject } from "./parse-project";
import type { Project, ProjectNetwork } from "./project-types";

/** Values outside the networks that are written as text with their unit, by key. */
const written: Readonly<Record<string, Unit>> = {
  outputResistance: "Ω",
  cableResistance: "Ω",
  cableInductance: "H",
  delay: "s",
  length: "s",
};

/**
 * A project as the data of its JSON file. Values of parts, the source's impedance and times are written with their units, in as few
 * digits as read back to the very same number; all else are numbers in SI.
 *
 * @param project from `parseProject`, or plain data like it
 * @returns plain data for `JSON.stringify`; `projectFromJSON` gives the same project back
 * @throws DividingNetworkError `invalid-project` when it isn't a project that could be read back
 * @example
 * ```ts
 * import { parseProject, projectToJSON, writeProject } from "dividing-network/project";
 *
 * const parts = [{ name: "woofer", kind: "driver", nodes: ["in", "gnd"] }];
 * const project = parseProject(JSON.stringify({
 *   version: 1, name: "One driver", ratedImpedance: 8,
 *   amplifier: { outputResistance: 0, cableResistance: 0.08, cableInductance: 2e-6 },
 *   drivers: [{ name: "woofer", position: { x: 0, y: 0, z: 0 }, impedance: { file: "woofer.txt", columns: "ohm-degrees" }, role: "woofer" }],
 *   measurements: [], networks: { found: { parts }, proposed: { parts } },
 * }));
 * projectToJSON(project)["amplifier"]; // { outputResistance: "0 Ω", cableInductance: "2 µH" }
 * parseProject(writeProject(project)).amplifier.cableInductance; // 0.000002
 * ```
 */
export function projectToJSON(project: Project): Readonly<Record<string, unknown>> {
  const { networks, coils, ...rest } = checkedProject("projectToJSON", project);
  const network = ({ parts }: ProjectNetwork) => ({ parts: parts.map((part) => writePartJSON(part)) });
  const data = plain("", rest) as Record<string, unknown>;
  const { goal, spread, stock, redesign, ...before } = data;
  return {
    ...before,
    networks: {
      found: network(networks.found),
      proposed: network(networks.proposed),
      ...(networks.alternative === undefined ? {} : { alternative: { name: networks.alternative.name, ...network(networks.alternative) } }),
    },
    ...(goal === undefined ? {} : { goal }),
    ...(spread === undefined ? {} : { spread }),
    ...(stock === undefined ? {} : { stock }),
    ...(redesign === undefined ? {} : { redesign }),
    ...(coils === undefined ? {} : { coils }),
  };
}

/**
 * A project from the data of its JSON file, checked as `parseProject` checks its text: quantities may be numbers in SI or text with
 * their unit. The inverse of `projectToJSON`.
 *
 * @param json parsed JSON
 * @returns the project, frozen plain data, quantities in SI
 * @throws DividingNetworkError `invalid-project` with one issue for each thing that is wrong
 * @example
 * ```ts
 * import { projectFromJSON, projectToJSON } from "dividing-network/project";
 *
 * const parts = [{ name: "woofer", kind: "driver", nodes: ["in", "gnd"] }];
 * const project = projectFromJSON({
 *   version: 1, name: "One driver", ratedImpedance: "8 Ω",
 *   amplifier: { outputResistance: 0, cableResistance: "80 mΩ", cableInductance: "2 µH" },
 *   drivers: [{ name: "woofer", position: { x: 0, y: 0, z: 0 }, impedance: { file: "woofer.txt", columns: "ohm-degrees" }, role: "woofer" }],
 *   measurements: [], networks: { found: { parts }, proposed: { parts } },
 * });
 * project.amplifier.cableResistance; // 0.08
 * projectFromJSON(projectToJSON(project)).ratedImpedance; // 8
 * ```
 */
export function projectFromJSON(json: unknown): Project {
  return checkedProject("projectFromJSON", json);
}

/**
 * The text of a project file, indented by two spaces, with a newline at its end.
 *
 * @param project from `parseProject`, or plain data like it
 * @returns JSON text, which `parseProject` reads back to the same project
 * @throws DividingNetworkError `invalid-project` when it isn't a project that could be read back
 * @example
 * ```ts
 * import { parseProject, writeProject } from "dividing-network/project";
 *
 * const parts = [{ name: "woofer", kind: "driver", nodes: ["in", "gnd"] }];
 * const project = parseProject(JSON.stringify({
 *   version: 1, name: "One driver", ratedImpedance: 8,
 *   amplifier: { outputResistance: 0, cableResistance: 0, cableInductance: 0 },
 *   drivers: [{ name: "woofer", position: { x: 0, y: 0, z: 0 }, impedance: { file: "woofer.txt", columns: "ohm-degrees" }, role: "woofer" }],
 *   measurements: [], networks: { found: { parts }, proposed: { parts } },
 * }));
 * writeProject(project).split("\n")[2]; // "  \"name\": \"One driver\","
 * ```
 */
export function writeProject(project: Project): string {
  return `${JSON.stringify(projectToJSON(project), null, 2)}\n`;
}

function plain(key: string, value: unknown): unknown {
  if (Array.isArray(value)) return value.map((entry) => plain("", entry));
  if (typeof value === "object" && value !== null)
    return Object.fromEntries(Object.entries(value).map(([name, entry]) => [name, plain(name, entry)]));
  return typeof value === "number" && Object.hasOwn(written, key) ? formatQuantity(value, written[key]!, { digits: "exact" }) : value;
}
