import { show } from "../errors/internal";
import { checkPart } from "../parts/internal";
import type { Entries } from "./entries";
import { naming, refusal } from "./refusal";

/** No part has so many terminals: a longer array is not even read. */
const LONGEST_ENTRY = 16;

/** Refuses what hasn't the shape of entries: a plain object of arrays, each a part and the names of nodes. */
export function checkEntries(caller: string, entries: unknown): void {
  const meant = meantByMistake(entries);
  if (meant !== undefined) throw refusal(caller, "malformed-network", ...meant);
  if (!isPlainObject(entries)) {
    throw refusal(
      caller,
      "malformed-network",
      `the entries must be a plain object keyed by designator, got ${show(entries)}`,
      'Write { R1: [part, "in", "gnd"], … }',
    );
  }
  for (const name of Object.keys(entries)) {
    const entry: unknown = entries[name];
    const good =
      Array.isArray(entry)
      && entry.length >= 2
      && entry.length <= LONGEST_ENTRY
      && Array.from<unknown>(entry).every((node, at) => at === 0 || (typeof node === "string" && node !== ""));
    if (good && (typeof entry[0] !== "object" || entry[0] === null || Array.isArray(entry[0]) || ArrayBuffer.isView(entry[0]))) {
      throw refusal(
        caller,
        "unknown-part",
        `"${name}": a part must come from resistor, inductor, capacitor, lPad, driverImpedance or transformer, got ${show(entry[0])}`,
        'Call one of them, as in resistor("4.7 Ω")',
        name,
      );
    }
    if (!good) {
      throw refusal(
        caller,
        "malformed-network",
        `"${name}" must be [part, node, node, …] with node names as text, got ${show(entry)}`,
        `Write "${name}": [part, "from", "to"]`,
        name,
      );
    }
  }
}

/** Refuses pieces of a network whose parts hold what isn't a number: they are looked at before anybody solves anything. */
export function checkParts(entries: Entries): void {
  for (const [name, [part]] of Object.entries(entries)) {
    naming(name, () => checkPart(part));
  }
}

/** Whether a value is an object without a class: made by braces, `Object.create(null)` or JSON, in whichever realm. */
function isPlainObject(value: unknown): value is Record<string, unknown> {
  if (typeof value !== "object" || value === null) return false;
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === null || Object.getPrototypeOf(prototype) === null;
}

/** What is often given in place of entries, and the way from there: the message and its hint. */
function meantByMistake(entries: unknown): readonly [message: string, hint: string] | undefined {
  if (!isPlainObject(entries)) return undefined;
  if (typeof entries["branch"] === "function")
    return [
      "the entries must be parts with their nodes, got values that have a branch",
      'Take their branch: .branch({ from: "t", to: "gnd", prefix: "Z" })',
    ];
  if (Array.isArray(entries["drivers"]) && isPlainObject(entries["network"]))
    return ["the entries must be parts with their nodes, got a loudspeaker", "Give its network: loudspeaker.network"];
  return undefined;
}
