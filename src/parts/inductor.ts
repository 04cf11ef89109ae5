import { checkOptions } from "../errors/internal";
import { formatQuantity, type Current, type Inductance, type RelativeTolerance, type Resistance } from "../quantity";
import { inSi, relativeTolerance } from "../quantity/internal";
import { coilLaw } from "./basic-laws";
import type { PartKind } from "./kind";
import { listed, rated, within } from "./words";

/** A coil: Z = DCR + jωL. Its dot is its first node. */
export interface Inductor {
  /** Marks a coil. */
  readonly kind: "inductor";
  /** H, ≥ 0. */
  readonly inductance: number;
  /** Direct-current resistance in Ω, ≥ 0, in series with the inductance. */
  readonly dcr: number;
  /** A: the highest peak that it may carry, as rated; beyond it a core saturates. Absent: not known. */
  readonly current?: number | undefined;
  /** ± relative, dimensionless: how far its value may lie from the one stated; absent: not known. */
  readonly tolerance?: number | undefined;
}

/**
 * A coil with its direct-current resistance. Skin and core losses aren't in it: an air coil of the audio band is well
 * described so, an iron core isn't.
 *
 * @param inductance H as a number, or text: `"0.47 mH"`; 0 H or more
 * @param options `dcr`: direct-current resistance in Ω, default 0 Ω; `current`: A, peak, that it is rated for; `tolerance`: ± relative (dimensionless) or text in percent; default not known
 * @returns the part, inductance in H, dcr in Ω and current in A
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { inductor } from "dividing-network";
 *
 * inductor("0.33 mH", { dcr: "0.24 Ω" }).inductance; // 0.00033
 * ```
 */
export function inductor(
  inductance: Inductance,
  options: {
    readonly dcr?: Resistance | undefined;
    readonly current?: Current | undefined;
    readonly tolerance?: RelativeTolerance | undefined;
  } = {},
): Inductor {
  const { dcr = 0, current, tolerance } = checkOptions("inductor", options, ["dcr", "current", "tolerance"]);
  return Object.freeze({
    kind: "inductor",
    inductance: inSi("inductor", "inductance", inductance, "H"),
    dcr: inSi("inductor", "dcr", dcr, "Ω"),
    ...(current === undefined ? {} : { current: inSi("inductor", "current", current, "A", { above: 0 }) }),
    ...(tolerance === undefined ? {} : { tolerance: relativeTolerance("inductor", "tolerance", tolerance) }),
  });
}

export const inductorKind: PartKind<Inductor> = {
  noun: "coil",
  maker: "inductor",
  joins: "nodes",
  expand: (part) => ({ terminals: 2, branches: [{ from: 0, to: 1, law: coilLaw, values: [part.inductance, part.dcr] }] }),
  words: (part) => [
    `Coil ${formatQuantity(part.inductance, "H")}`,
    listed(part.dcr > 0 ? `DCR ${formatQuantity(part.dcr, "Ω")}` : "", within(part.tolerance), rated(part.current, "A")),
  ],
  symbols: (part) => [{ suffix: "", symbol: "inductor", value: formatQuantity(part.inductance, "H"), from: 0, to: 1, dot: "coupled" }],
  main: "inductance",
  rated: "current",
  losses: ["dcr"],
  chosen: true,
  withMain: ({ dcr }, value) => inductor(value as Inductance, { dcr }),
  coil: true,
  stores: "magnetic",
  turns: true,
};
