import { percent } from "../quantity/internal";
import type { Goal, Ratings } from "../assessment";
import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import { fragment, type Entries } from "../network";
import { describePart, isCoupling, isDriver } from "../parts/internal";
import { formatQuantity } from "../quantity";
import { isWire } from "./wire";

/** One line of a parts list: what to buy and how many. */
export interface PartsListLine {
  /** How many are needed, a count. */
  readonly quantity: number;
  /** What it is, with its value: `"Capacitor 6.8 µF"`. */
  readonly part: string;
  /** What it must keep: `"DCR 0.24 Ω"`; may be empty. */
  readonly detail: string;
  /** What it must be rated for at least, margin included; absent where no amplifier level was stated. */
  readonly required?: RequiredRating;
  /** Where they go. */
  readonly designators: readonly string[];
}

/** A rating to buy by. */
export interface RequiredRating {
  /** W of heat. */
  readonly watts?: number;
  /** V, peak. */
  readonly volts?: number;
  /** A, peak. */
  readonly amperes?: number;
}

/**
 * The parts of a network as a shopping list: equal parts share a line, drivers and links of 0 Ω are left out, values as the trade writes
 * them (Ω, mH, µF).
 *
 * @param network entries keyed by designator; dimensionless
 * @param options `ratings` of an assessment, dimensionless: then each line says what it must be rated for, W, V and A
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
export function partsList(network: Entries, options: { readonly ratings?: Ratings | undefined } = {}): readonly PartsListLine[] {
  const { ratings } = checkOptions("partsList", options, ["ratings"]);
  const checks: unknown = ratings === undefined ? [] : (ratings as Partial<Ratings> | null)?.checks;
  if (!Array.isArray(checks))
    throw new DividingNetworkError(
      "invalid-argument",
      `partsList: "ratings" must be those of an assessment, got ${show(ratings)}`,
      "Give assess(…).ratings",
    );
  const lines = new Map<string, { part: string; detail: string; designators: string[] }>();
  const entries: Entries = fragment(network as never);
  for (const [name, [part]] of Object.entries(entries)) {
    if (isDriver(part) || isCoupling(part) || isWire(part)) continue;
    const [what, detail] = describePart(part);
    const key = `${what}|${detail}`;
    const line = lines.get(key);
    if (line === undefined) lines.set(key, { part: what, detail, designators: [name] });
    else line.designators.push(name);
  }
  return Object.freeze(
    [...lines.values()].map(({ part, detail, designators }) => {
      const required = requiredOf(checks as Ratings["checks"], designators);
      return Object.freeze({
        quantity: designators.length,
        part,
        detail,
        ...(Object.keys(required).length === 0 ? {} : { required }),
        designators: Object.freeze(designators),
      });
    }),
  );
}

const KEYS = { power: "watts", voltage: "volts", current: "amperes" } as const;

/** The most that any of some parts asks for. */
function requiredOf(checks: Ratings["checks"], designators: readonly string[]): RequiredRating {
  const most: { -readonly [K in keyof RequiredRating]: RequiredRating[K] } = {};
  for (const { code, name, quantity, required } of checks) {
    if (code !== "part-rating" || quantity === "excursion" || !designators.includes(name)) continue;
    most[KEYS[quantity]] = Math.max(most[KEYS[quantity]] ?? 0, required);
  }
  return Object.freeze(most);
}

/** A rating to buy by in words, rounded up to two digits: `"25 W"`. */
export function requiredText({ watts, volts, amperes }: RequiredRating = {}): string {
  const up = (value: number) =>
    value > 0 ? Math.ceil(value / 10 ** (Math.floor(Math.log10(value)) - 1) - 1e-9) * 10 ** (Math.floor(Math.log10(value)) - 1) : 0;
  return (
    [
      [watts, "W"],
      [volts, "V"],
      [amperes, "A"],
    ] as const
  )
    .flatMap(([value, unit]) => (value === undefined ? [] : [formatQuantity(up(value), unit, { digits: 2 })]))
    .join(", ");
}

/** Which margin is in it, with its standing. */
export function marginText({ power, voltage, current }: Goal["derating"]): string {
  const usual = power === 0.5 && voltage === 0.8 && current === 0.8;
  return `Margin included: of a rating, ${percent(power)} of the watts, ${percent(voltage)} of the volts and ${percent(current)} of the amperes are used${usual ? " (common practice, no source)" : ", as the goal states"}.`;
}
