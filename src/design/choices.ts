import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Entries, Entry } from "../network";
import { resistor, type Combination, type Part, type StockPart } from "../parts";
import { checkStock, describe, expandPart, isCoupling, isDriver, sameKind } from "../parts/internal";
import type { Capacitance, Inductance, Resistance } from "../quantity";

/** A part of a stock, or several of them in the place of one: no more of each is taken than there is. */
export type Stocked = StockPart | Combination;

/** What may stand in a place: a part, also one of a stock; its main value with the losses as drawn (SI or text); nothing (`"open"`); a wire (`"short"`). */
export type Candidate = Part | Stocked | Resistance | Inductance | Capacitance | "open" | "short";

/** Candidates by designator. */
export type Candidates = Readonly<Record<string, readonly Candidate[]>>;

/** A candidate as it enters a network: a part, or `undefined` where there is none. */
export type Option = Part | undefined;

/** One designator and what may stand there. */
export interface Choice {
  readonly name: string;
  readonly options: readonly Option[];
}

/** The candidates of each designator, as parts; `pieces` is told what those from a stock are made of. */
export function choicesOf(
  caller: string,
  { network, drivers }: Loudspeaker,
  values: unknown,
  pieces = new Map<Part, readonly StockPart[]>(),
): readonly Choice[] {
  // One line may be named more than once, and counts as one.
  const lines = new Map<unknown, StockPart>();
  if (typeof values !== "object" || values === null || Array.isArray(values) || Object.keys(values).length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "values" must be an object of candidates by designator, got ${show(values)}`,
      'For example { C1: ["4.7 µF", "6.8 µF"] }',
    );
  }
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  return Object.entries(values).map(([name, candidates]: [string, unknown]) => {
    if (!Object.hasOwn(network, name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: "values" names ${show(name)}, which isn't in the network`,
        `Parts: ${Object.keys(network).join(", ")}`,
      );
    const drawn = network[name]![0];
    const sounds = isDriver(drawn) || drivers.some(({ part }) => part === name);
    if (isCoupling(drawn) || sounds || describe(drawn).chosen !== true) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "values.${name}" must name a resistor, coil, capacitor or L-pad, got a ${sounds ? "driver" : describe(drawn).noun}`,
        sounds
          ? "What a driver does to the sound was measured: for another driver draw another loudspeaker"
          : `Leave it out, and it stays as drawn${isCoupling(drawn) ? "" : "; or draw a resistor, a coil, a capacitor or an L-pad in its place"}`,
      );
    }
    if (!Array.isArray(candidates) || candidates.length === 0) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "values.${name}" must be an array of at least one candidate, got ${show(candidates)}`,
        "Leave the designator out to keep its part",
      );
    }
    return {
      name,
      options: candidates.map((candidate: unknown, index) =>
        optionOf(caller, `values.${name}[${index}]`, drawn as Part, candidate, coupled.has(name), pieces, lines),
      ),
    };
  });
}

function optionOf(
  caller: string,
  argument: string,
  drawn: Part,
  candidate: unknown,
  coupled: boolean,
  pieces: Map<Part, readonly StockPart[]>,
  lines: Map<unknown, StockPart>,
): Option {
  const { main } = describe(drawn);
  if (candidate === "open" || candidate === "short") {
    if (main === undefined || coupled)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}" must be a part, got ${show(candidate)}: ${coupled ? "the coil is coupled to another" : `it stands for ${a(drawn)}, which no wire can stand in for`}`,
      );
    return candidate === "open" ? undefined : resistor(0);
  }
  if (typeof candidate === "object" && candidate !== null && !("kind" in candidate) && "part" in candidate) {
    const { part, parts } = candidate as Partial<Combination>;
    const option = optionOf(caller, `${argument}.part`, drawn, part, coupled, pieces, lines);
    if (typeof part !== "object" || option === undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}.part" must be a part, got ${show(part)}`,
        "Take lines from stock(…).parts, or what combination and bestCombination give",
      );
    const own = parts === undefined ? [candidate as StockPart] : parts;
    const checked = checkStock(caller, argument, own).parts;
    checked.forEach((line, index) => lines.set(own[index], lines.get(own[index]) ?? line));
    pieces.set(option, Object.freeze(own.map((line) => lines.get(line)!)));
    return option;
  }
  if (typeof candidate === "object" && candidate !== null) {
    if (!sameKind(candidate as Part, drawn))
      throw new DividingNetworkError(
        "wrong-part",
        `${caller}: "${argument}" must be a part of the kind drawn, ${a(drawn)}, got ${show((candidate as { readonly kind?: unknown }).kind ?? candidate)}`,
        `Make it with ${describe(drawn).maker}`,
      );
    expandPart(candidate as Part);
    return Object.freeze({ ...(candidate as Part) });
  }
  if (typeof candidate !== "number" && typeof candidate !== "string")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a part, a value, "open" or "short", got ${show(candidate)}`,
    );
  const { maker, withMain } = describe(drawn);
  if (withMain === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a part, got ${show(candidate)}: ${a(drawn)} has no single main value`,
      `Make it with ${maker}`,
    );
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
  for (const [name, entry] of Object.entries(network))
    own[name] = turned.has(name) ? (Object.freeze([entry[0], entry[2], entry[1]]) as unknown as Entry) : entry;
  choices.forEach(({ name, options }, index) => {
    const option = options[codes[index]!];
    if (option === undefined) delete own[name];
    else own[name] = Object.freeze([option, ...network[name]!.slice(1)]) as unknown as Entry;
  });
  return Object.freeze(own);
}
