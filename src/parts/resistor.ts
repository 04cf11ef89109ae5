import { checkOptions } from "../errors/internal";
import { formatQuantity, type Power, type RelativeTolerance, type Resistance } from "../quantity";
import { inSi, relativeTolerance } from "../quantity/internal";
import { resistanceLaw } from "./basic-laws";
import type { PartKind } from "./kind";
import { listed, rated, within } from "./words";

/** A resistance between two nodes. */
export interface Resistor {
  /** Marks a resistor. */
  readonly kind: "resistor";
  /** Ω, ≥ 0. */
  readonly resistance: number;
  /** W: the heat that it may turn out, as rated; absent: not known. No voltage or current hangs on it. */
  readonly power?: number | undefined;
  /** ± relative, dimensionless: how far its value may lie from the one stated; absent: not known. */
  readonly tolerance?: number | undefined;
}

/**
 * A resistor; also a wire, a connector or a length of cable, of which 0 Ω is a legal value.
 *
 * @param resistance Ω as a number, or text with its unit: `"4.7 Ω"`, `"4R7"`; 0 Ω or more
 * @param options `power`: W that it is rated for; `tolerance`: ± relative (dimensionless) or text in percent; default not known
 * @returns the part, resistance in Ω, power in W
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { resistor } from "dividing-network";
 *
 * resistor("4R7").resistance; // 4.7
 * resistor("4R7", { power: "10 W" }).power; // 10
 * ```
 */
export function resistor(
  resistance: Resistance,
  options: { readonly power?: Power | undefined; readonly tolerance?: RelativeTolerance | undefined } = {},
): Resistor {
  const { power, tolerance } = checkOptions("resistor", options, ["power", "tolerance"]);
  return Object.freeze({
    kind: "resistor",
    resistance: inSi("resistor", "resistance", resistance, "Ω"),
    ...(power === undefined ? {} : { power: inSi("resistor", "power", power, "W", { above: 0 }) }),
    ...(tolerance === undefined ? {} : { tolerance: relativeTolerance("resistor", "tolerance", tolerance) }),
  });
}

export const resistorKind: PartKind<Resistor> = {
  noun: "resistor",
  maker: "resistor",
  joins: "nodes",
  expand: (part) => ({ terminals: 2, branches: [{ from: 0, to: 1, law: resistanceLaw, values: [part.resistance] }] }),
  words: (part) => [`Resistor ${formatQuantity(part.resistance, "Ω")}`, listed(within(part.tolerance), rated(part.power, "W"))],
  symbols: (part) => [{ suffix: "", symbol: "resistor", value: formatQuantity(part.resistance, "Ω"), from: 0, to: 1 }],
  main: "resistance",
  rated: "power",
  chosen: true,
  withMain: (_, value) => resistor(value as Resistance),
  turns: true,
  heats: () => true,
};
