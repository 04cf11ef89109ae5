import { resistanceLaw, coilLaw } from "../../parts/internal";
import { IN, type Circuit } from "../circuit";

/** The designator of the branch that stands for the source's impedance; no part can have it, since it isn't a word. */
export const SOURCE = "(source)";

/**
 * The same circuit with the source's resistance (Ω) and inductance (H) as a branch of its own: what was `in` becomes an
 * inner node, and `in` the ideal source behind it.
 */
export function withSource(circuit: Circuit, resistance: number, inductance: number): Circuit {
  if (resistance === 0 && inductance === 0) return circuit;
  const terminal = circuit.nodes.length;
  const moved = (node: number) => (node === IN ? terminal : node);
  const pair = ([a, b]: readonly [number, number]) => [moved(a), moved(b)] as const;
  const branches = circuit.branches.map((branch) => ({ ...branch, from: moved(branch.from), to: moved(branch.to) }));
  branches.push(
    inductance === 0
      ? { part: SOURCE, from: IN, to: terminal, law: resistanceLaw, values: [resistance] }
      : { part: SOURCE, from: IN, to: terminal, law: coilLaw, values: [inductance, resistance] },
  );
  return {
    ...circuit,
    nodes: [...circuit.nodes, "(terminal)"],
    nodeNumber: new Map([...circuit.nodeNumber].map(([name, node]) => [name, moved(node)])),
    branches,
    transformers: circuit.transformers.map((transformer) => ({
      ...transformer,
      primary: pair(transformer.primary),
      secondary: pair(transformer.secondary),
    })),
    parts: new Map([...circuit.parts].map(([name, part]) => [name, { ...part, terminals: part.terminals.map(moved) }])),
  };
}
