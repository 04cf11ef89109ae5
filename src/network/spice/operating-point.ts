import { unionFind } from "../../numeric/internal";
import type { SpiceLine } from "./spice-elements";
import type { SpiceNames } from "./spice-names";

/** Ω: beside this no part of a loudspeaker's network matters, and it settles a node for the operating point. */
const LEAK = "1e12";
/** Of a coil's reactance at the lowest frequency: what breaks a loop without resistance, and changes nothing in the band. */
const TRACE = 1e-6;
/** Ω, at most. */
const LARGEST_TRACE = 1e-6;

/**
 * Makes a netlist solvable at 0 Hz, where simulators begin: a node that reaches `0` through capacitors alone gets a resistor of 10¹² Ω, a coil
 * that closes a loop without resistance one in series of a millionth of what it is at `lowest` (Hz), at most 10⁻⁶ Ω, a connection that closes one is left out.
 */
export function withOperatingPoint(lines: readonly SpiceLine[], names: SpiceNames, lowest: number): SpiceLine[] {
  const [shorts, paths] = [unions(), unions()];
  const out: SpiceLine[] = [];
  // Connections come before coils, which may have a resistance put in.
  const kept = new Set<SpiceLine>(
    lines.filter((line) => "letter" in line && line.letter === "V" && shorts.unite(line.nodes[0]!, line.nodes[1]!)),
  );
  // A coil without resistance makes an ideal transformer's other side a short, too: two of them, one on either side, would say so twice.
  for (const line of lines)
    if ("letter" in line && (line.letter === "E" || line.letter === "F")) shorts.unite(line.nodes[0]!, line.nodes[1]!);
  for (const line of lines) {
    if (!("letter" in line)) {
      out.push(line);
      continue;
    }
    const [from, to] = line.nodes as [string, string];
    if (line.letter === "V" && !kept.has(line)) {
      out.push({ remark: `${line.name} is left out: it joins what is joined already` });
      continue;
    }
    if (line.letter === "L" && !shorts.unite(from, to)) {
      const inner = names.inner(`${line.name}_trace`);
      const trace = Math.min(LARGEST_TRACE, Number((TRACE * 2 * Math.PI * lowest * Number(line.value)).toPrecision(1)));
      out.push({ remark: `${trace} ohm in series with ${line.name}, for the operating point alone` });
      out.push(
        { ...line, nodes: [from, inner] },
        { letter: "R", name: names.element("R", `${line.name}_trace`), nodes: [inner, to], value: trace },
      );
      paths.unite(from, inner);
    } else out.push(line);
    if (line.letter === "R" || line.letter === "L" || line.letter === "V" || line.letter === "E") paths.unite(from, to);
  }
  // The secondary of an ideal transformer conducts no current of its own: E settles the primary's nodes, F none.
  const seen = new Set<number>();
  for (const line of [...out]) {
    if (!("letter" in line) || line.letter === "K") continue;
    for (const node of line.letter === "F" ? line.nodes.slice(0, 2) : line.nodes) {
      const group = paths.find(node);
      if (group === paths.find("0") || seen.has(group)) continue;
      seen.add(group);
      out.push({ remark: `node ${node} has no path for direct current: ${LEAK} ohm, for the operating point alone` });
      out.push({ letter: "R", name: names.element("R", `${node}_leak`), nodes: [node, "0"], value: LEAK });
    }
  }
  return out;
}

/** Sets of names. `unite` says whether the two weren't one before. */
function unions(): { find(name: string): number; unite(a: string, b: string): boolean } {
  const numbers = new Map<string, number>();
  const groups = unionFind();
  const numberOf = (name: string): number => {
    const known = numbers.get(name);
    if (known === undefined) numbers.set(name, numbers.size);
    return known ?? numbers.size - 1;
  };
  return {
    find: (name) => groups.find(numberOf(name)),
    unite: (a, b) => groups.unite(numberOf(a), numberOf(b)),
  };
}
