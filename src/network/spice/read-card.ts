import { saidBy, show } from "../../errors/internal";
import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import { fileError, type TextFile } from "../../response/internal";
import type { SpiceCard } from "./spice-cards";
import { spiceValue } from "./spice-value";

/** A part of a netlist, with the names of its nodes there. */
export interface SpicePart {
  readonly designator: string;
  readonly part: Resistor | Inductor | Capacitor;
  readonly nodes: readonly [string, string];
}

/** What a netlist's statements come to, before nodes and coils are looked up. */
export interface SpiceReading {
  readonly file: TextFile;
  /** By lower-case name. */
  readonly parts: Map<string, SpicePart>;
  /** The line of each name, lower-case. */
  readonly lines: Map<string, number>;
  readonly sources: { readonly nodes: readonly [string, string]; readonly line: number; readonly name: string }[];
  readonly couplings: { readonly designator: string; readonly coils: readonly string[]; readonly k: number; readonly line: number }[];
  readonly notes: string[];
}

/** Statements that say what to compute and to show, and change no part. */
const analyses =
  ".ac .dc .tran .op .tf .noise .sens .pz .disto .four .print .plot .probe .save .meas .measure .width .options .option .opt .temp .title .ic .nodeset";

/** No group of coils wound together is larger: each pair of it becomes a coupling. */
const MOST_COILS = 20;

const makers = {
  r: (value: number) => resistor(value),
  l: (value: number) => inductor(value),
  c: (value: number) => capacitor(value),
} as const;
const units = { r: "Ohm", l: "H", c: "F" } as const;

/** Reads one statement. */
export function readCard(reading: SpiceReading, { words, line }: SpiceCard): void {
  const { file, lines } = reading;
  const designator = words[0]!;
  const name = designator.toLowerCase();
  if (name.startsWith(".") && ` ${analyses} `.includes(` ${name} `)) return;
  const letter = name[0]!;
  if (letter === "." || !"rlckv".includes(letter)) {
    const hint =
      letter === "."
        ? "Write the parts out, with their values"
        : "efgh".includes(letter)
          ? "A controlled source is no part; an ideal transformer isn't read from a netlist: add it with transformer({ ratio })"
          : "Replace it by resistors, coils and capacitors, or leave it out";
    throw fileError(
      file,
      "unread-element",
      line,
      `a statement must be a part R, L, C, a coupling K or a source V, got ${show(designator)}`,
      hint,
    );
  }
  if (words.length < (letter === "v" ? 3 : 4))
    throw fileError(
      file,
      "invalid-card",
      line,
      `${show(designator)} must have ${letter === "k" ? "two coils and a factor" : letter === "v" ? "two nodes" : "two nodes and a value"}, got ${words.length - 1} words`,
      "Lines that continue another begin with +",
    );
  const earlier = lines.get(name);
  if (earlier !== undefined)
    throw fileError(
      file,
      "duplicate-designator",
      line,
      `each name must stand once, upper and lower case alike, got ${show(designator)} again, which is on line ${earlier}`,
      "Rename one of the two",
    );
  lines.set(name, line);
  if (letter === "k" && words.length - 2 > MOST_COILS)
    throw fileError(
      file,
      "invalid-card",
      line,
      `${show(designator)} must couple at most ${MOST_COILS} coils, got ${words.length - 2}`,
      "Write the couplings that matter, two coils each",
    );
  if (letter === "k")
    reading.couplings.push({ designator, coils: words.slice(1, -1), k: number(reading, words.at(-1)!, "", line, designator), line });
  else if (letter === "v") readSource(reading, words, line);
  else {
    const kind = letter as keyof typeof makers;
    checkRest(reading, designator, words.slice(4), line);
    const value = number(reading, words[3]!, units[kind], line, designator);
    try {
      reading.parts.set(name, { designator, part: makers[kind](value), nodes: [words[1]!, words[2]!] });
    } catch (error) {
      const { message, hint } = saidBy(error);
      throw fileError(file, "invalid-part", line, `${show(designator)}: ${message}`, hint);
    }
  }
}

/** A source of 0 V without AC is a connection, every other one the input. */
function readSource({ file, parts, sources, notes }: SpiceReading, words: readonly string[], line: number): void {
  const [name, from, to, ...rest] = words as [string, string, string, ...string[]];
  const lower = rest.map((word) => word.toLowerCase());
  const value = (at: number): number | undefined => (at > 0 && at <= rest.length ? spiceValue(rest[at - 1] ?? "", "V")?.value : undefined);
  const [dc, ac] = [lower.indexOf("dc"), lower.indexOf("ac")];
  const level = ac < 0 ? 0 : (value(ac + 2) ?? 1);
  const steady = dc < 0 ? (value(1) ?? 0) : (value(dc + 2) ?? 0);
  if (level === 0 && steady === 0 && lower.every((word, at) => word === "ac" || word === "dc" || value(at + 1) !== undefined)) {
    parts.set(name.toLowerCase(), { designator: name, part: resistor(0), nodes: [from, to] });
    return;
  }
  sources.push({ name, nodes: [from, to], line });
  if (level !== 1) notes.push(`${name} is not AC 1: answers of this library are for 1 V at the source`);
  if (sources.length > 1) {
    const first = sources[0]!;
    throw fileError(
      file,
      "source-count",
      line,
      `a netlist must have one source, got ${show(name)} beside ${show(first.name)} on line ${first.line}`,
      "Leave the one that stands for the amplifier, and put 0 in place of the others",
    );
  }
}

/** What follows a part's value must change nothing. */
function checkRest({ file, notes }: SpiceReading, designator: string, rest: readonly string[], line: number): void {
  if (rest.length === 0) return;
  if (rest.length === 2 && rest[0]!.toLowerCase() === "ic") {
    notes.push(`the initial condition of ${designator} was ignored: everything here is steady`);
    return;
  }
  throw fileError(
    file,
    "invalid-card",
    line,
    `${show(designator)} must have two nodes and a value, got ${show(rest.join(" "))} after it`,
    "Write losses as resistors of their own; begin comments with ;",
  );
}

function number({ file, notes }: SpiceReading, word: string, unit: string, line: number, designator: string): number {
  const read = spiceValue(word, unit);
  if (read === undefined || !Number.isFinite(read.value)) {
    const hint = /[{}']/.test(word)
      ? "Expressions and parameters are not read: write the number"
      : "Write it as 6.8u or 6.8e-6, with a decimal point";
    throw fileError(file, "invalid-card", line, `${show(designator)} must have a number as its value, got ${show(word)}`, hint);
  }
  if (read.doubt !== undefined) notes.push(`line ${line}: ${read.doubt}`);
  return read.value;
}
