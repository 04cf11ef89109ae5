import { inductor, resistor } from "../../parts";
import type { Entries } from "../../network";
import { describe, isCoil, isCoupling } from "../../parts/internal";
import type { Fault, NetworkFault } from "./faults";

/** A fault for which the network is drawn anew, since more than two admittances change: pads, couplings, coupled coils. */
export interface RedrawnFault {
  readonly parts: readonly string[];
  readonly fault: Fault;
  readonly unknowns: NetworkFault["unknowns"];
  readonly network: (unknowns: readonly number[]) => Entries;
  readonly value?: (unknowns: readonly number[]) => number;
  readonly unit?: "Ω" | "H" | "F" | "dB";
}

type Entry = readonly [Entries[string][0], ...string[]];

/** All of them. */
export function redrawnFaults(network: Entries): readonly RedrawnFault[] {
  const all = Object.entries(network).map(([name, entry]) => ({
    name,
    part: (entry as Entry)[0],
    nodes: (entry as Entry).slice(1) as string[],
  }));
  const named = new Set(all.flatMap(({ part, nodes }) => (isCoupling(part) ? nodes : [])));
  const withEntries = (changed: Readonly<Record<string, Entry>>): Entries => ({ ...network, ...changed }) as unknown as Entries;
  const faults: RedrawnFault[] = [];
  for (const { name, part, nodes } of all) {
    if (isCoupling(part))
      faults.push({
        parts: [name],
        fault: "reversed",
        unknowns: [],
        network: () => withEntries({ [name]: [{ ...part, k: -part.k }, ...nodes] }),
      });
    const [a, b] = describe(part).mistaken ?? [0, 0];
    if (nodes[a] !== nodes[b])
      faults.push({
        parts: [name],
        fault: "reversed",
        unknowns: [],
        network: () => withEntries({ [name]: [part, ...nodes.map((node, at) => (at === a ? nodes[b]! : at === b ? nodes[a]! : node))] }),
      });
    if (!isCoil(part) || !named.has(name)) continue;
    const { inductance, dcr } = part;
    faults.push({
      parts: [name],
      fault: "open",
      unknowns: [],
      network: () =>
        Object.fromEntries(
          Object.entries(withEntries({ [name]: [resistor(1e9), ...nodes] })).filter(
            ([other, entry]) => !(isCoupling((entry as Entry)[0]) && (entry as Entry).includes(name)) || other === name,
          ),
        ),
    });
    faults.push({
      parts: [name],
      fault: "value",
      unknowns: ["ratio"],
      network: ([ratio]) => withEntries({ [name]: [inductor(inductance * ratio!, { dcr }), ...nodes] }),
      value: ([ratio]) => inductance * ratio!,
      unit: "H",
    });
    faults.push({
      parts: [name],
      fault: "loss",
      unknowns: ["ohms"],
      network: ([ohms]) => withEntries({ [name]: [inductor(inductance, { dcr: dcr + ohms! }), ...nodes] }),
      value: ([ohms]) => ohms!,
      unit: "Ω",
    });
    for (const other of all) {
      if (!isCoil(other.part) || other.name === name || (named.has(other.name) && other.name < name)) continue;
      faults.push({
        parts: [name, other.name],
        fault: "exchanged",
        unknowns: [],
        network: () => withEntries({ [name]: [other.part, ...nodes], [other.name]: [part, ...other.nodes] }),
      });
    }
  }
  return faults;
}
