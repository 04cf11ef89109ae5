import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Entries, Entry } from "../network";
import { resistor, type Part } from "../parts";
import { describe, expandPart, isCoupling, isDriver, sameKind } from "../parts/internal";
import type { Capacitance, Inductance, Resistance } from "../quantity";

/** What may stand in a place: a part; its main value with the losses as drawn (SI or text); nothing (`"open"`); a wire (`"short"`). */
export type Candidate = Part | Resistance | Inductance | Capacitance | "open" | "short";

/** Candidates by designator. */
export type Candidates = Readonly<Record<string, readonly Candidate[]>>;

/** A candidate as it enters a network: a part, or `undefined` where there is none. */
export type Option = Part | undefined;

/** One designator and what may stand there. */
export interface Choice {
  readonly name: string;
  readonly options: readonly Option[];
}

/** The candidates of each designator, as parts. */
export function choicesOf(caller: string, { network, drivers }: Loudspeaker, values: unknown): readonly Choice[] {
  if (typeof values !== "object" || values === null || Array.isArray(values) || Object.keys(values).length === 0) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "values" must be an object of candidates by designator, got ${show(values)}`, "For example { C1: [\"4.7 µF\", \"6.8 µF\"] }");
  }
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  return Object.entries(values).map(([name, candidates]: [string, unknown]) => {
    if (!Object.hasOwn(network, name)) throw new DividingNetworkError("unknown-part", `${caller}: "values" names ${show(name)}, which isn't in the network`, `Parts: ${Object.keys(network).join(", ")}`);
    const drawn = network[name]![0];
    const sounds = isDriver(drawn) || drivers.some(({ part }) => part === name);
    if (isCoupling(drawn) || sounds || describe(drawn).chosen !== true) {
      throw new DividingNetworkError("invalid-argument", `${caller}: "values.${name}" must name a resistor, coil, capacitor or L-pad, got a ${sounds ? "driver" : describe(drawn).noun}`, "What it does to the sound was measured, or hangs on other parts: draw another loudspeaker");
    }
    if (!Array.isArray(candidates) || candidates.length === 0) {
      throw new DividingNetworkError("invalid-argument", `${caller}: "values.${name}" must be an array of at least one candidate, got ${show(candidates)}`, "Leave the designator out to keep its part");
    }
    return { name, options: candidates.map((candidate: unknown, index) => optionOf(caller, `values.${name}[${index}]`, drawn as Part, candidate, coupled.has(name))) };
  });
}

function optionOf(caller: string, argument: string, drawn: Part, candidate: unknown, coupled: boolean): Option {
  const { main } = describe(drawn);
  if (candidate === "open" || candidate === "short") {
    if (main === undefined || coupled) throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be a part, got ${show(candidate)}: ${coupled ? "the coil is coupled to another" : `it stands for ${a(drawn)}, which no wire can stand in for`}`);
    return candidate === "open" ? undefined : resistor(0);
  }
  if (typeof candidate === "object" && candidate !== null) {
    if (!sameKind(candidate as Part, drawn)) throw new DividingNetworkError("wrong-part", `${caller}: "${argument}" must be a part of the kind drawn, ${a(drawn)}, got ${show((candidate as { readonly kind?: unknown }).kind ?? candidate)}`, `Make it with ${describe(drawn).maker}`);
    expandPart(candidate as Part);
    return Object.freeze({ ...(candidate as Part) });
  }
  if (typeof candidate !== "number" && typeof candidate !== "string") throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be a part, a value, "open" or "short", got ${show(candidate)}`);
  const { maker, withMain } = describe(drawn);
  if (withMain === undefined) throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be a part, got ${show(candidate)}: ${a(drawn)} has no single main value`, `Make it with ${maker}`);
  return withMain(drawn, candidate) as Part;
}

/** What a part is, with its article. */
function a(part: Part): string {
  const { noun } = describe(part);
  return `${noun.startsWith("L") ? "an" : "a"} ${noun}`;
}

/** The same network with the parts chosen; what is open is left out, and `turned` drivers have their nodes exchanged. */
export function chosen(network: Entries, choices: readonly Choice[], codes: ArrayLike<number>, turned: ReadonlySet<string>): Entries {
  const own: Record<string, Entry> = {};
  for (const [name, entry] of Object.entries(network)) own[name] = turned.has(name) ? (Object.freeze([entry[0], entry[2], entry[1]]) as unknown as Entry) : entry;
  choices.forEach(({ name, options }, index) => {
    const option = options[codes[index]!];
    if (option === undefined) delete own[name];
    else own[name] = Object.freeze([option, ...network[name]!.slice(1)]) as unknown as Entry;
  });
  return Object.freeze(own);
}
