import type { Entries } from "../../network";
import { isWire } from "../wire";
import { describe, describePart, isCoil, isCoupling } from "../../parts/internal";

/** One part of the wiring: where each of its terminals goes. */
export interface WiredPart {
  /** The part's name in the network. */
  readonly designator: string;
  /** What it is, with its value. */
  readonly part: string;
  /** Each terminal by name with the joint it goes to. */
  readonly terminals: readonly {
    /** Its name on the part. */
    readonly terminal: string;
    /** The node's name. */
    readonly joint: string;
  }[];
  /** As what it is taken: "old C1" where it is reused, or what of a stock stands in its place; absent where that isn't known or goes without saying. */
  readonly taken?: string | undefined;
  /** How it must lie, or empty. */
  readonly note: string;
}

/** One soldered joint. */
export interface Joint {
  /** The node's name. */
  readonly joint: string;
  /** What meets there: `"C1"`, `"tweeter +"`. */
  readonly terminals: readonly string[];
}

/** The parts and joints of a network, the joints from `in` on and `gnd` last. */
export function wiringOf(
  network: Entries,
  drivers: readonly string[],
  taken: ReadonlyMap<string, string> = new Map(),
): { readonly parts: readonly WiredPart[]; readonly joints: readonly Joint[] } {
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  const parts = Object.entries(network).flatMap(([designator, [part, ...nodes]]): WiredPart[] => {
    if (isCoupling(part)) return [];
    const kind = describe(part);
    const sounds = kind.sounds === true || drivers.includes(designator);
    const polar = sounds
      ? ["+", "−"]
      : (kind.terminals?.(part) ?? (isCoil(part) && coupled.has(designator) ? ["start (dot)", "end"] : undefined));
    const [what, whole] = describePart(part);
    // What it is rated for stands in the shopping list.
    const detail = whole
      .split(", ")
      .filter((each) => !each.startsWith("rated") && (kind.stores !== "electric" || each.startsWith("±")))
      .join(", ");
    return [
      Object.freeze({
        designator,
        part: isWire(part) ? "wire" : detail === "" || sounds ? what : `${what}, ${detail}`,
        terminals: Object.freeze(
          nodes.map((joint, index) => Object.freeze({ terminal: polar?.[index] ?? (index === 0 ? "one end" : "other end"), joint })),
        ),
        ...((taken.get(designator) ?? "") === "" ? {} : { taken: taken.get(designator)! }),
        note: polar === undefined ? "either way round" : "",
      }),
    ];
  });
  return { parts: Object.freeze(parts), joints: Object.freeze(jointsOf(parts)) };
}

function jointsOf(parts: readonly WiredPart[]): readonly Joint[] {
  const order = new Set(["in"]);
  for (const joint of order) {
    for (const { terminals } of parts)
      if (joint !== "gnd" && terminals.some((each) => each.joint === joint)) for (const each of terminals) order.add(each.joint);
  }
  for (const { terminals } of parts) for (const each of terminals) order.add(each.joint);
  order.delete("gnd");
  order.add("gnd");
  return Array.from(order, (joint) =>
    Object.freeze({
      joint,
      terminals: Object.freeze([
        ...(joint === "in" ? ["input +"] : joint === "gnd" ? ["input −"] : []),
        ...parts.flatMap(({ designator, terminals }) =>
          terminals
            .filter((each) => each.joint === joint)
            .map(({ terminal }) =>
              terminal.endsWith("end") && !terminal.includes(",") && terminal !== "end" ? designator : `${designator} ${terminal}`,
            ),
        ),
      ]),
    }),
  );
}
