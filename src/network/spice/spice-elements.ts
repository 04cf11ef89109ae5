import type { LawData, PartOrCoupling, Transformer } from "../../parts";
import type { Entries } from "../entries";
import { coilSections, fractionalSections, partSections, type Approximation } from "./part-sections";
import type { Section } from "./sections";
import type { SpiceNames } from "./spice-names";

/** An element of a netlist. Of a coupling, the nodes are the names of coils. */
export interface SpiceElement {
  readonly letter: "R" | "L" | "C" | "V" | "K" | "E" | "F";
  readonly name: string;
  readonly nodes: readonly string[];
  readonly value: string | number;
}

/** A line of a netlist: an element or a remark. */
export type SpiceLine = SpiceElement | { readonly remark: string };

/** The elements of a network's parts in their order, couplings last. */
export function spiceElements(entries: Entries, names: SpiceNames, approximation: Approximation): SpiceLine[] {
  const lines: SpiceLine[] = [];
  const coils = new Map<string, string>();
  const couplings: (readonly [designator: string, k: number, first: string, second: string])[] = [];
  for (const [designator, [part, ...ends]] of Object.entries(entries) as [string, readonly [PartOrCoupling, ...string[]]][]) {
    if (part.kind === "coupling") {
      couplings.push([designator, part.k, ends[0]!, ends[1]!]);
      continue;
    }
    const nodes = ends.map((node) => names.node(node));
    if (part.kind === "transformer") {
      lines.push({ remark: `${designator}: transformer` }, ...transformerElements(designator, part, nodes, names));
      continue;
    }
    if (part.kind === "custom") {
      lines.push({ remark: `${designator}: ${part.title}` });
      for (const { from, to, law } of part.branches)
        lines.push(...lawLines(designator, nodes[from]!, nodes[to]!, law, names, approximation));
      continue;
    }
    const { chains, remarks } = partSections(designator, part, approximation);
    for (const remark of remarks) lines.push({ remark: `${designator}: ${remark}` });
    for (const { from, to, sections } of chains) {
      const elements = chainElements(designator, nodes[from]!, nodes[to]!, sections, names);
      if (part.kind === "inductor") coils.set(designator, elements[0]!.name);
      lines.push(...elements);
    }
  }
  for (const [designator, k, first, second] of couplings) {
    lines.push({ letter: "K", name: names.element("K", designator), nodes: [coils.get(first)!, coils.get(second)!], value: k });
  }
  return lines;
}

/** Sections from one node to another. A resistance of 0 is a source of 0 V: the dialect knows no other connection. */
export function chainElements(
  designator: string,
  from: string,
  to: string,
  sections: readonly Section[],
  names: SpiceNames,
): SpiceElement[] {
  let at = from;
  return sections.flatMap((section, index): SpiceElement[] => {
    const next = index === sections.length - 1 ? to : names.inner(`${designator}_${index + 1}`);
    const nodes = [at, next];
    at = next;
    if (section.r === 0) return [{ letter: "V" as const, name: names.element("V", designator), nodes, value: 0 }];
    return (
      [
        ["R", section.r],
        ["L", section.l],
        ["C", section.c],
      ] as const
    ).flatMap(([letter, value]) => (value === undefined ? [] : [{ letter, name: names.element(letter, designator), nodes, value }]));
  });
}

/** A law from one node to another: laws in series have nodes of their own between them. */
function lawLines(
  designator: string,
  from: string,
  to: string,
  law: LawData,
  names: SpiceNames,
  approximation: Approximation,
): SpiceLine[] {
  switch (law.law) {
    case "resistance":
      return chainElements(designator, from, to, [{ r: law.value }], names);
    case "inductance":
      return chainElements(designator, from, to, [law.value === 0 ? { r: 0 } : { l: law.value }], names);
    case "capacitance":
      return law.value === 0 ? [] : chainElements(designator, from, to, [{ c: law.value }], names);
    case "fractional": {
      const { sections, remarks } =
        law.k === 0
          ? { sections: [{ r: 0 }], remarks: [] }
          : fractionalSections(designator, law.k, law.n, approximation, "Draw it out of resistors and coils");
      return [
        ...remarks.map((remark) => ({ remark: `${designator}: ${remark}` })),
        ...chainElements(designator, from, to, sections, names),
      ];
    }
    case "parallel":
      return law.of.flatMap((each) => lawLines(designator, from, to, each, names, approximation));
    case "series": {
      const nodes = [from, ...law.of.slice(1).map((_, index) => names.inner(`${designator}_${index + 1}`)), to];
      return law.of.flatMap((each, index) => lawLines(designator, nodes[index]!, nodes[index + 1]!, each, names, approximation));
    }
  }
}

function transformerElements(designator: string, part: Transformer, nodes: readonly string[], names: SpiceNames): SpiceElement[] {
  const [dot, end, secondaryDot, secondaryEnd] = nodes as [string, string, string, string];
  if ("ratio" in part) {
    const [inner, sense] = [names.inner(`${designator}_1`), names.element("V", designator)];
    return [
      { letter: "V", name: sense, nodes: [dot, inner], value: 0 },
      { letter: "E", name: names.element("E", designator), nodes: [inner, end, secondaryDot, secondaryEnd], value: part.ratio },
      { letter: "F", name: names.element("F", designator), nodes: [secondaryDot, secondaryEnd, sense], value: -part.ratio },
    ];
  }
  const first = chainElements(
    designator,
    dot,
    end,
    coilSections({ inductance: part.primaryInductance, dcr: part.primaryResistance }),
    names,
  );
  const second = chainElements(
    designator,
    secondaryDot,
    secondaryEnd,
    coilSections({ inductance: part.secondaryInductance, dcr: part.secondaryResistance }),
    names,
  );
  return [
    ...first,
    ...second,
    { letter: "K", name: names.element("K", designator), nodes: [first[0]!.name, second[0]!.name], value: part.k },
  ];
}
