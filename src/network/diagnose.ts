import { DividingNetworkError } from "../errors";
import { checkOptions, errorFromIssues, show } from "../errors/internal";
import { apartOf } from "../parts/internal";
import { circuitOf, GND, IN, type Circuit } from "./circuit";
import { inductanceMatrixIssues } from "./coupled-coils";
import type { Entries } from "./entries";
import { unionFind, type Groups } from "../numeric/internal";
import type { NetworkIssue } from "./network-issue";
import { branchState } from "./state";
import { unlikelyValues } from "./unlikely-values";

/**
 * What is wrong with a network, without solving it. Looks for: nothing at `in` or at `gnd`, a part across one node, a
 * path of 0 Ω across the source, nodes with no path to `gnd`, a part and a node of one name, couplings that no coils can
 * have, and (as warnings) a node at which only one part ends, and values that are most likely in the wrong unit, such as a capacitor of 6.8 F.
 *
 * @param network entries keyed by designator; dimensionless
 * @param options `zeroFrequency`: judge at 0 Hz, where a capacitor is open and a coil is its resistance; default false
 * @returns a list of issues with node, parts, message and hint, empty when nothing is wrong; dimensionless
 * @throws DividingNetworkError `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { diagnose, resistor } from "dividing-network";
 *
 * diagnose({ R1: [resistor(4), "in", "a"], R2: [resistor(4), "b", "gnd"] }).map((issue) => issue.code);
 * // ["no-path-to-gnd", "no-path-to-gnd", "open-end", "open-end"]
 * ```
 */
export function diagnose(network: Entries, options: { readonly zeroFrequency?: boolean | undefined } = {}): readonly NetworkIssue[] {
  const { zeroFrequency = false } = checkOptions("diagnose", options, ["zeroFrequency"]);
  if (typeof zeroFrequency !== "boolean")
    throw new DividingNetworkError("invalid-argument", `diagnose: "zeroFrequency" must be true or false, got ${show(zeroFrequency)}`);
  try {
    const circuit = circuitOf(network);
    return Object.freeze([...circuitIssues(circuit, zeroFrequency), ...unlikelyValues(circuit)]);
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    return error.issues as readonly NetworkIssue[];
  }
}

/** Throws what `diagnose` calls errors. */
export function throwFindings(network: Entries): Circuit {
  const circuit = circuitOf(network);
  throwIssues(circuitIssues(circuit, false));
  return circuit;
}

export function throwIssues(issues: readonly NetworkIssue[]): void {
  const errors = issues.filter((issue) => issue.severity === "error");
  if (errors.length > 0) throw errorFromIssues("invalid-network", "network", errors);
}

/** The issues of a circuit, in the order in which a person would mend them. */
export function circuitIssues(circuit: Circuit, zeroFrequency: boolean): NetworkIssue[] {
  const issues: NetworkIssue[] = [];
  const say = (
    code: string,
    message: string,
    hint: string,
    more: { node?: string; parts?: readonly string[] } = {},
    severity: "error" | "warning" = "error",
  ) => issues.push(Object.freeze({ code, message, hint, severity, ...more }));

  if (circuit.parts.size === 0) {
    say("empty-network", "there are no parts", 'Add at least one part between "in" and "gnd"');
    return issues;
  }
  for (const name of circuit.parts.keys()) {
    if (circuit.nodeNumber.has(name))
      say("name-collision", `"${name}" is the name of a part and of a node`, "Rename the node", { node: name, parts: [name] });
  }
  const touching = touchingParts(circuit);
  if (touching[IN]!.size === 0) say("no-input", 'no part touches the node "in"', 'Name the amplifier\'s terminal "in"', { node: "in" });
  if (touching[GND]!.size === 0) say("no-gnd", 'no part touches the node "gnd"', 'Name the amplifier\'s return "gnd"', { node: "gnd" });
  for (const [name, { terminals, part }] of circuit.parts) {
    const one = apartOf(part).find(([a, b]) => terminals[a] === terminals[b]);
    if (one !== undefined) {
      const node = circuit.nodes[terminals[one[1]]!]!;
      say(
        "part-across-one-node",
        `"${name}" is connected to itself: both of its ends are at "${node}"`,
        `Move one end of "${name}" to another node, or leave it out`,
        { node, parts: [name] },
      );
    }
  }
  issues.push(...inductanceMatrixIssues(circuit));
  if (touching[IN]!.size === 0 || touching[GND]!.size === 0) return issues;

  const { shorts, paths } = structure(circuit, zeroFrequency);
  // At 0 Hz the source settles what hangs on it: behind a capacitor it drives no current, and that is a solution.
  if (zeroFrequency) paths.unite(GND, IN);
  if (shorts.find(IN) === GND) {
    const parts = shortPath(circuit, zeroFrequency);
    say(
      "shorted-source",
      `the source is shorted: ${parts.map((name) => `"${name}"`).join(", ")} ${parts.length === 1 ? "joins" : "join"} "in" and "gnd" with 0 Ω${zeroFrequency ? " at zero frequency" : ""}`,
      zeroFrequency ? "Give the coil its resistance (dcr), or leave 0 Hz out" : `Take one of them out of the path`,
      { node: "in", parts },
    );
  }
  for (let node = 1; node < circuit.nodes.length; node++) {
    if (touching[node]!.size > 0 && paths.find(node) !== GND) {
      const name = circuit.nodes[node]!;
      const at = zeroFrequency ? " at zero frequency (capacitors are open there)" : "";
      say(
        "no-path-to-gnd",
        `node "${name}" has no path to "gnd"${at}`,
        zeroFrequency
          ? "Leave 0 Hz out of the frequencies, or add the resistance that settles the node"
          : `Connect "${name}" (${[...touching[node]!].join(", ")}) to the rest of the network`,
        { node: name, parts: [...touching[node]!] },
      );
    }
  }
  for (let node = 2; node < circuit.nodes.length; node++) {
    if (touching[node]!.size === 1) {
      const [part] = touching[node]!;
      if (ends(circuit, part!, node) === 1) {
        say(
          "open-end",
          `"${part}" ends at node "${circuit.nodes[node]}", where nothing else is connected`,
          `Check the spelling of "${circuit.nodes[node]}"`,
          { node: circuit.nodes[node]!, parts: [part!] },
          "warning",
        );
      }
    }
  }
  return issues;
}

/** How many ends of a part's inner branches lie at a node: where two meet, as at a pad's output, nothing hangs loose. */
function ends({ parts, branches, transformers }: Circuit, name: string, node: number): number {
  const own = parts.get(name)!.branches.map((branch) => branches[branch]!);
  const windings = transformers.filter(({ part }) => part === name).flatMap(({ primary, secondary }) => [...primary, ...secondary]);
  return [...own.flatMap(({ from, to }) => [from, to]), ...windings].filter((end) => end === node).length;
}

/** Which parts touch each node. */
function touchingParts(circuit: Circuit): Set<string>[] {
  const touching = circuit.nodes.map(() => new Set<string>());
  for (const [name, { terminals }] of circuit.parts) for (const node of terminals) touching[node]!.add(name);
  return touching;
}

/** Nodes united by 0 Ω, and nodes united by any branch that conducts or couples; the source joins `in` to `gnd`'s side only through parts. */
export function structure(circuit: Circuit, zeroFrequency: boolean): { readonly shorts: Groups; readonly paths: Groups } {
  const shorts = unionFind();
  const paths = unionFind();
  for (const branch of circuit.branches) {
    const state = branchState(branch, zeroFrequency);
    if (state === "short") shorts.unite(branch.from, branch.to);
    if (state !== "open") paths.unite(branch.from, branch.to);
  }
  for (const { primary, secondary } of circuit.transformers) {
    paths.unite(primary[0], primary[1]);
    paths.unite(secondary[0], secondary[1]);
  }
  return { shorts, paths };
}

/** The parts of a shortest 0 Ω path between `in` and `gnd`. */
function shortPath(circuit: Circuit, zeroFrequency: boolean): string[] {
  const shorts = circuit.branches.filter((branch) => branchState(branch, zeroFrequency) === "short");
  const via = new Map<number, { readonly part: string; readonly node: number }>();
  const queue = [IN];
  for (let node = queue.shift(); node !== undefined && node !== GND; node = queue.shift()) {
    for (const branch of shorts) {
      const next = branch.from === node ? branch.to : branch.to === node ? branch.from : undefined;
      if (next !== undefined && next !== IN && !via.has(next)) {
        via.set(next, { part: branch.part, node });
        queue.push(next);
      }
    }
  }
  const parts: string[] = [];
  for (let step = via.get(GND); step !== undefined; step = via.get(step.node)) parts.unshift(step.part);
  return parts;
}
