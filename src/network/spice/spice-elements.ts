import { DividingNetworkError } from "../../errors";
import type { Part } from "../../parts";
import { describe, expandPart, isCoupling, type IdealTransformer } from "../../parts/internal";
import type { Entries } from "../entries";
import { lawSections, type Approximation, type Chain } from "./law-sections";
import type { Section } from "./section";
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

/** The elements of a network's parts in their order, couplings of coils last. */
export function spiceElements(entries: Entries, names: SpiceNames, approximation: Approximation): SpiceLine[] {
  const lines: SpiceLine[] = [];
  const coils = new Map<string, string>();
  const couplings: SpiceElement[] = [];
  for (const [designator, [part, ...ends]] of Object.entries(entries)) {
    if (isCoupling(part)) {
      couplings.push({ letter: "K", name: names.element("K", designator), nodes: ends, value: part.k });
      continue;
    }
    const written = partLines(
      designator,
      part,
      ends.map((node) => names.node(node)),
      names,
      approximation,
    );
    lines.push(...written);
    const coil = written.find((line) => "letter" in line && line.letter === "L") as SpiceElement | undefined;
    if (coil !== undefined) coils.set(designator, coil.name);
  }
  // A coil of 0 H couples nothing.
  return [
    ...lines,
    ...couplings
      .map((each) => ({ ...each, nodes: each.nodes.flatMap((coil) => coils.get(coil) ?? []) }))
      .filter(({ nodes }) => nodes.length === 2),
  ];
}

/** A part as its branches, the couplings of its own windings, and its ideal transformers. */
function partLines(designator: string, part: Part, nodes: readonly string[], names: SpiceNames, approximation: Approximation): SpiceLine[] {
  const remark = describe(part).remark?.(part);
  const { branches, couplings = [], transformers = [] } = expandPart(part);
  const remarks = remark === undefined ? [] : [remark];
  const elements = branches.map(({ from, to, law, values }) => {
    const pieces = law.circuit?.(values);
    if (pieces === undefined)
      throw new DividingNetworkError(
        "inexact-netlist",
        `${approximation.caller}: a ${law.name} must be drawn out of resistors, coils and capacitors, got "${designator}", which can't`,
        "Write the network without it",
      );
    const { chain, remarks: more } = lawSections(designator, pieces, approximation);
    remarks.push(...more);
    return chainElements(designator, nodes[from]!, nodes[to]!, chain, names);
  });
  return [
    ...remarks.map((each) => ({ remark: `${designator}: ${each}` })),
    ...elements.flat(),
    ...couplings.map(({ first, second, k }) => ({
      letter: "K" as const,
      name: names.element("K", designator),
      nodes: [elements[first]![0]!.name, elements[second]![0]!.name],
      value: k,
    })),
    ...transformers.flatMap((each) => idealTransformer(designator, each, nodes, names)),
  ];
}

/** Sections from one node to another. A resistance of 0 is a source of 0 V: the dialect knows no other connection. */
export function chainElements(designator: string, from: string, to: string, chain: Chain, names: SpiceNames): SpiceElement[] {
  let at = from;
  return chain.flatMap((section, index): SpiceElement[] => {
    const next = index === chain.length - 1 ? to : names.inner(`${designator}_${index + 1}`);
    const [first, second] = [at, next];
    at = next;
    return "beside" in section
      ? section.beside.flatMap((each) => chainElements(designator, first, second, each, names))
      : sectionElements(designator, [first, second], section, names);
  });
}

function sectionElements(designator: string, nodes: readonly string[], section: Section, names: SpiceNames): SpiceElement[] {
  if (section.r === 0) return [{ letter: "V", name: names.element("V", designator), nodes, value: 0 }];
  return (
    [
      ["R", section.r],
      ["L", section.l],
      ["C", section.c],
    ] as const
  ).flatMap(([letter, value]) => (value === undefined ? [] : [{ letter, name: names.element(letter, designator), nodes, value }]));
}

/** Two controlled sources and one that senses the current. */
function idealTransformer(
  designator: string,
  { primary, secondary, ratio }: IdealTransformer,
  nodes: readonly string[],
  names: SpiceNames,
): SpiceElement[] {
  const [dot, end, secondaryDot, secondaryEnd] = [...primary, ...secondary].map((terminal) => nodes[terminal]!) as [
    string,
    string,
    string,
    string,
  ];
  const [inner, sense] = [names.inner(`${designator}_1`), names.element("V", designator)];
  return [
    { letter: "V", name: sense, nodes: [dot, inner], value: 0 },
    { letter: "E", name: names.element("E", designator), nodes: [inner, end, secondaryDot, secondaryEnd], value: ratio },
    { letter: "F", name: names.element("F", designator), nodes: [secondaryDot, secondaryEnd, sense], value: -ratio },
  ];
}
