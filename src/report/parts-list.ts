import { fragment, type Entries } from "../network";
import { describePart, isCoupling, isDriver } from "../parts/internal";

/** One line of a parts list: what to buy and how many. */
export interface PartsListLine {
  /** How many are needed, a count. */
  readonly quantity: number;
  /** What it is, with its value: `"Capacitor 6.8 µF"`. */
  readonly part: string;
  /** What it must keep: `"DCR 0.24 Ω"`; may be empty. */
  readonly detail: string;
  /** Where they go. */
  readonly designators: readonly string[];
}

/**
 * The parts of a network as a shopping list: equal parts share a line, drivers are left out, values as the trade writes
 * them (Ω, mH, µF).
 *
 * @param network entries keyed by designator; dimensionless
 * @returns lines in the order of first mention, each with a count (dimensionless) and designators
 * @throws DividingNetworkError what `formatQuantity` throws
 * @example
 * ```ts
 * import { capacitor, network, resistor } from "dividing-network";
 * import { partsList } from "dividing-network/report";
 *
 * const two = network({ C1: [capacitor("10 µF"), "in", "a"], C2: [capacitor("10 µF"), "a", "t"], tweeter: [resistor(6), "t", "gnd"] });
 * partsList(two)[0]?.designators; // ["C1", "C2"]
 * ```
 */
export function partsList(network: Entries): readonly PartsListLine[] {
  const lines = new Map<string, { part: string; detail: string; designators: string[] }>();
  const entries: Entries = fragment(network as never);
  for (const [name, [part]] of Object.entries(entries)) {
    if (isDriver(part) || isCoupling(part)) continue;
    const [what, detail] = describePart(part);
    const key = `${what}|${detail}`;
    const line = lines.get(key);
    if (line === undefined) lines.set(key, { part: what, detail, designators: [name] });
    else line.designators.push(name);
  }
  return Object.freeze([...lines.values()].map(({ part, detail, designators }) => Object.freeze({ quantity: designators.length, part, detail, designators: Object.freeze(designators) })));
}
