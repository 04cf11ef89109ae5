import { diagnose } from "../network";
import type { Finding } from "./check-drivers";
import { isDriver } from "../parts/internal";
import { entriesOf } from "./network-of";
import type { Project, ProjectNetwork } from "./project-types";

/** What the page calls the first two networks. */
const TAKEN = ["found", "as found", "proposed"];

/** What can be wrong with the networks: designators given twice, drivers not declared or never used, parts that don't hang together. */
export function checkNetworks(project: Project): Finding[] {
  const declared = new Set(project.drivers.map(({ name }) => name));
  const used = new Set<string>();
  const findings = Object.entries(project.networks).flatMap(([which, network]) => {
    const own = inNetwork(project, which, network, declared, used);
    return own.length > 0 ? own : connections(which, network);
  });
  const { alternative } = project.networks;
  if (alternative !== undefined && TAKEN.includes(alternative.name.trim().toLowerCase()))
    findings.push({
      path: ["networks", "alternative", "name"],
      message: `must differ from what the page calls the other two, got ${JSON.stringify(alternative.name)}`,
      hint: 'Say what sets it apart: "by hand", "cheaper"',
    });
  project.drivers.forEach(({ name }, index) => {
    if (used.has(name)) return;
    findings.push({
      path: ["drivers", index, "name"],
      message: "is a driver that no network uses",
      hint: `Add { "name": ${JSON.stringify(name)}, "kind": "driver", "nodes": [...] } to a network, or remove the driver`,
    });
  });
  return findings;
}

function inNetwork(
  { drivers }: Project,
  which: string,
  { parts }: ProjectNetwork,
  declared: ReadonlySet<string>,
  used: Set<string>,
): Finding[] {
  const findings: Finding[] = [];
  const first = new Map<string, number>();
  parts.forEach((part, index) => {
    const { name } = part;
    const say = (key: string, message: string, hint: string) =>
      findings.push({ path: ["networks", which, "parts", index, key], message, hint });
    const earlier = first.get(name);
    if (earlier !== undefined)
      say(
        "name",
        `stands already at networks.${which}.parts[${earlier}]: each part must have a designator of its own`,
        "Rename one of the two",
      );
    else first.set(name, index);
    if (isDriver(part)) {
      used.add(name);
      if (!declared.has(name)) {
        say(
          "name",
          "must be the name of a driver of the project",
          `Declare it under "drivers" with its place and impedance, or use one of ${drivers.map((driver) => JSON.stringify(driver.name)).join(", ")}`,
        );
      }
    } else if (declared.has(name))
      say(
        "kind",
        `must be "driver", for ${JSON.stringify(name)} is a driver of the project, got "${part.kind}"`,
        'Rename the part, or write "kind": "driver"',
      );
  });
  if (!parts.some((part) => isDriver(part))) {
    findings.push({
      path: ["networks", which, "parts"],
      message: "must hold at least one driver, got none",
      hint: 'Add { "name": …, "kind": "driver", "nodes": ["…", "gnd"] }',
    });
  }
  return findings;
}

function connections(which: string, network: ProjectNetwork): Finding[] {
  return diagnose(entriesOf(network))
    .filter(({ severity }) => severity === "error")
    .map(({ message, hint }) => ({
      path: ["networks", which, "parts"],
      message: `can't be solved: ${message}`,
      hint: hint === "" ? "Correct the nodes of these parts" : hint,
    }));
}
