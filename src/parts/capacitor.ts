import { fewDigits, inSi, relativeTolerance } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { formatQuantity, type Capacitance, type RelativeTolerance, type Resistance, type Voltage } from "../quantity";
import { capacitorLaw } from "./basic-laws";
import type { PartKind } from "./kind";
import { listed, rated, within } from "./words";

/** A capacitor with one of two descriptions of its loss. */
export interface Capacitor {
  /** Marks a capacitor. */
  readonly kind: "capacitor";
  /** F, > 0. */
  readonly capacitance: number;
  /** Equivalent series resistance in Ω, the same at every frequency. */
  readonly esr: number;
  /** tan δ, dimensionless, the same at every frequency: a series resistance of tan δ/(ωC). */
  readonly dissipationFactor: number;
  /** V: the highest peak that it may stand, as rated for direct voltage; absent: not known. */
  readonly voltage?: number | undefined;
  /** ± relative, dimensionless: how far its value may lie from the one stated; absent: not known. */
  readonly tolerance?: number | undefined;
}

/**
 * A capacitor with an equivalent series resistance, or with a dissipation factor
 * $\tan\delta = \omega C R_{\mathrm{ESR}}$ that holds at every frequency.
 *
 * @param capacitance F as a number, or text: `"6.8 µF"`; above 0 F
 * @param options `esr` in Ω, or `dissipationFactor` (tan δ, dimensionless); default lossless. Not both. `voltage`: V that it is rated for; `tolerance`: ± relative (dimensionless) or text in percent; default not known
 * @returns the part, capacitance in F, esr in Ω, voltage in V
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { capacitor } from "dividing-network";
 *
 * capacitor("6.8 µF", { esr: "15 mΩ" }).esr; // 0.015
 * ```
 */
export function capacitor(
  capacitance: Capacitance,
  options: {
    readonly esr?: Resistance | undefined;
    readonly dissipationFactor?: number | undefined;
    readonly voltage?: Voltage | undefined;
    readonly tolerance?: RelativeTolerance | undefined;
  } = {},
): Capacitor {
  const { esr, dissipationFactor, voltage, tolerance } = checkOptions("capacitor", options, [
    "esr",
    "dissipationFactor",
    "voltage",
    "tolerance",
  ]);
  if (esr !== undefined && dissipationFactor !== undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `capacitor: "esr" and "dissipationFactor" describe the same loss, got both`,
      "Give the one that the data sheet states",
    );
  }
  return Object.freeze({
    kind: "capacitor",
    capacitance: inSi("capacitor", "capacitance", capacitance, "F", { above: 0 }),
    esr: esr === undefined ? 0 : inSi("capacitor", "esr", esr, "Ω"),
    dissipationFactor: dissipationFactor === undefined ? 0 : checkNumber("capacitor", "dissipationFactor", dissipationFactor, { min: 0 }),
    ...(voltage === undefined ? {} : { voltage: inSi("capacitor", "voltage", voltage, "V", { above: 0 }) }),
    ...(tolerance === undefined ? {} : { tolerance: relativeTolerance("capacitor", "tolerance", tolerance) }),
  });
}

export const capacitorKind: PartKind<Capacitor> = {
  noun: "capacitor",
  maker: "capacitor",
  joins: "nodes",
  expand: (part) => ({
    terminals: 2,
    branches: [{ from: 0, to: 1, law: capacitorLaw, values: [part.capacitance, part.esr, part.dissipationFactor] }],
  }),
  words: (part) => [
    `Capacitor ${formatQuantity(part.capacitance, "F")}`,
    listed(
      part.esr > 0
        ? `ESR ${formatQuantity(part.esr, "Ω")}`
        : part.dissipationFactor > 0
          ? `tan δ ${fewDigits(part.dissipationFactor, 2)}`
          : "",
      within(part.tolerance),
      rated(part.voltage, "V"),
    ),
  ],
  symbols: (part) => [{ suffix: "", symbol: "capacitor", value: formatQuantity(part.capacitance, "F"), from: 0, to: 1 }],
  main: "capacitance",
  rated: "voltage",
  losses: ["esr", "dissipationFactor"],
  chosen: true,
  withMain: ({ esr, dissipationFactor }, value) => capacitor(value as Capacitance, dissipationFactor > 0 ? { dissipationFactor } : { esr }),
  stores: "electric",
  turns: true,
};
