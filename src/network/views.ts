import { listed, type Views } from "../errors/internal";
import type { PartOrCoupling } from "../parts";
import { describePart } from "../parts/internal";
import { markdownEscaped } from "../quantity/internal";
import { gridText } from "../response/internal";
import type { Circuit } from "./circuit";
import type { Entries } from "./entries";

/** How many parts are printed. */
const most = 10;

/** Each part with its value and what it hangs on. */
function rows(entries: Entries): readonly (readonly [name: string, part: string, places: string])[] {
  return Object.entries(entries).map(([name, entry]) => {
    const [part, ...places] = entry as unknown as readonly [PartOrCoupling, ...string[]];
    return [
      name,
      describePart(part)
        .filter((text) => text !== "")
        .join(", "),
      places.join(" – "),
    ] as const;
  });
}

/** A network: its parts with their nodes; in a notebook all of them, as a table. */
export const networkViews: Views<Entries> = {
  text: (entries) => {
    const all = rows(entries);
    const kept = all.slice(0, most).map((row) => row.map((cell) => listed([cell])));
    const width = (column: number): number => Math.max(0, ...kept.map((row) => row[column]!.length));
    const lines = kept.map(([name, part, places]) => `  ${name!.padEnd(width(0))}  ${part!.padEnd(width(1))}  ${places}`);
    return [`Network: ${count(all.length, "part")}`, ...lines, ...(all.length > most ? [`  and ${all.length - most} more`] : [])].join(
      "\n",
    );
  },
  markdown: (entries) => {
    const lines = rows(entries).map((row) => `| ${row.map((cell) => markdownEscaped(cell)).join(" | ")} |`);
    return ["| Part | Value | Nodes |", "| --- | --- | --- |", ...lines].join("\n");
  },
};

/** What can be asked for by name. */
export function namesText({ nodes, parts }: Circuit): readonly string[] {
  return [`  nodes: ${listed(nodes)}`, `  parts: ${listed([...parts.keys()])}`];
}

/** A compiled network: what is in it, and what it is for. */
export function compiledText(circuit: Circuit): string {
  return [
    `Compiled network: ${count(circuit.parts.size, "part")}, ${count(circuit.nodes.length, "node")}`,
    ...namesText(circuit),
    "  ask: .sweep(frequencies)",
  ].join("\n");
}

const ofSweeps = /* @__PURE__ */ new WeakMap<Circuit, Views<{ readonly frequencies: Float64Array }>>();

/** How all sweeps of one network show themselves. */
export function sweepViews(circuit: Circuit): Views<{ readonly frequencies: Float64Array }> {
  let views = ofSweeps.get(circuit);
  if (views === undefined) {
    ofSweeps.set(
      circuit,
      (views = {
        text: ({ frequencies }) =>
          [
            `Sweep: ${gridText(frequencies)}, per volt of the source`,
            ...namesText(circuit),
            "  ask: .voltage(node or part), .current(part), .impedance",
          ].join("\n"),
      }),
    );
  }
  return views;
}

function count(number: number, thing: string): string {
  return `${number} ${thing}${number === 1 ? "" : "s"}`;
}
