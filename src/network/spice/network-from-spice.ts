import { checkOptions, saidBy, show } from "../../errors/internal";
import { coupling } from "../../parts";
import { isCoil } from "../../parts/internal";
import { fileError, textFile } from "../../response/internal";
import type { Entry, Network } from "../entries";
import { network } from "../network";
import { readCard, type SpiceReading } from "./read-card";
import { spiceCards } from "./spice-cards";

/** What was read from a netlist. */
export interface SpiceNetwork {
  /** Its parts, with `in` where the source was and `gnd` for node 0. */
  readonly network: Network;
  /** Its first line. */
  readonly title: string;
  /** What a reader should know about the reading; one sentence each. */
  readonly notes: readonly string[];
}

/**
 * Reads a netlist in the general SPICE dialect as a network: resistors, coils, capacitors, couplings (K, of two coils or more) and one voltage source, whose
 * first node becomes `in`; node 0 becomes `gnd`. Upper and lower case are alike. A source of 0 V without AC is a connection of 0 Ω.
 *
 * The first line is the title. Suffixes are T, G, MEG, K, M (10⁻³), U, N, P and F (10⁻¹⁵); a note says where one may have meant another thing. Statements of analysis
 * are left out. Everything else (models, subcircuits, expressions, other elements, further parameters of a part) is refused, since the network would be another without it.
 *
 * @param text the netlist
 * @param options `file`, its name for messages
 * @returns the network, the title, and notes; values in SI
 * @throws DividingNetworkError naming file and line: `unread-element`, `invalid-card`, `invalid-part`, `duplicate-designator`, `coupling-to-no-coil`, `source-count`, `empty-file`, those of the text itself
 * (`file-too-large`, `line-too-long`, `wrong-encoding`); `invalid-network` when the parts make no network; `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { networkFromSpice } from "dividing-network";
 *
 * const read = networkFromSpice("high-pass\nV1 a 0 AC 1\nC1 a t 6.8uF\nL1 t 0\n+ 0.33mH ; a coil\nRload t 0 6\n.end\n");
 * Object.keys(read.network); // ["C1", "L1", "Rload"]
 * read.network["L1"]!.slice(1); // ["t", "gnd"]
 * ```
 */
export function networkFromSpice(text: string, options?: { readonly file?: string | undefined }): SpiceNetwork {
  const caller = "networkFromSpice";
  const { file: name } = checkOptions(caller, options, ["file"]);
  const file = textFile(caller, text, name);
  const { title, cards, notes } = spiceCards(file);
  const reading: SpiceReading = { file, parts: new Map(), lines: new Map(), sources: [], couplings: [], notes: [...notes] };
  for (const card of cards) readCard(reading, card);
  if (reading.parts.size === 0)
    throw fileError(
      file,
      "empty-file",
      undefined,
      `a netlist must have parts, got none in ${cards.length} statements`,
      "The first line is the title: parts begin on the second",
    );
  const nodeName = nodeNames(reading);
  const entries: Record<string, Entry> = Object.create(null) as Record<string, Entry>;
  for (const { designator, part, nodes } of reading.parts.values()) entries[designator] = [part, nodeName(nodes[0]), nodeName(nodes[1])];
  for (const [designator, entry] of couplingEntries(reading)) {
    let name = designator;
    for (let count = 2; name in entries; count++) name = `${designator}_${count}`;
    entries[name] = entry;
  }
  return Object.freeze({ network: network(entries), title, notes: Object.freeze(reading.notes) });
}

/** The names of nodes in the network: those of the netlist, but for the source's, for node 0, and for what is the name of a part. */
function nodeNames({ file, parts, sources, notes }: SpiceReading): (node: string) => string {
  const input = inputNode();
  const names = new Map([
    ["0", "gnd"],
    ["gnd", "gnd"],
    [input.toLowerCase(), "in"],
  ]);
  const taken = new Set(["gnd", "in", ...Array.from(parts.values(), ({ designator }) => designator)]);
  for (const { nodes } of parts.values()) {
    for (const node of nodes) {
      const key = node.toLowerCase();
      if (names.has(key)) continue;
      let name = node;
      for (let count = 2; taken.has(name); count++) name = `${node}_${count}`;
      if (name !== node) notes.push(`node ${node} is called ${name}, since the network has another use of that name`);
      taken.add(name);
      names.set(key, name);
    }
  }
  if (input.toLowerCase() !== "in") notes.push(`node ${input}, where the source is, is called in`);
  return (node) => names.get(node.toLowerCase())!;

  function inputNode(): string {
    const [source] = sources;
    const ground = (node: string): boolean => node === "0" || node.toLowerCase() === "gnd";
    if (source === undefined) {
      if ([...parts.values()].some(({ nodes }) => nodes.some((node) => node.toLowerCase() === "in"))) {
        notes.push("there is no source: the node in was taken for its place");
        return "in";
      }
      throw fileError(file, "source-count", undefined, "a netlist must have one source, got none", "Add one, as in: V1 in 0 AC 1");
    }
    if (ground(source.nodes[0]) || !ground(source.nodes[1])) {
      throw fileError(
        file,
        "source-count",
        source.line,
        `the source must stand from a node to node 0, got ${show(source.nodes.join(" to "))}`,
        "Turn it round, or call the amplifier's return 0",
      );
    }
    return source.nodes[0];
  }
}

/** Couplings, a group of more than two coils as one of each pair. */
function couplingEntries({ file, parts, couplings }: SpiceReading): [string, Entry][] {
  return couplings.flatMap(({ designator, coils, k, line }) => {
    const names = coils.map((coil) => {
      const found = parts.get(coil.toLowerCase());
      if (found === undefined || !isCoil(found.part))
        throw fileError(
          file,
          "coupling-to-no-coil",
          line,
          `${show(designator)} must couple coils of the netlist, got ${show(coil)}`,
          "Name two coils and a factor, as in: K1 L1 L2 0.1",
        );
      return found.designator;
    });
    try {
      const part = coupling(k);
      const pairs = names.flatMap((first, i) => names.slice(i + 1).map((second) => [first, second] as const));
      return pairs.map(([first, second]): [string, Entry] => [
        pairs.length === 1 ? designator : `${designator}_${first}_${second}`,
        [part, first, second],
      ]);
    } catch (error) {
      const { message, hint } = saidBy(error);
      throw fileError(file, "invalid-part", line, `${show(designator)}: ${message}`, hint);
    }
  });
}
