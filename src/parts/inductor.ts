import { checkOptions } from "../errors/internal";
import type { Inductance, Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { coilLaw } from "./basic-laws";
import type { Expansion } from "./law";

/** A coil: Z = DCR + jωL. Its dot is its first node. */
export interface Inductor {
  /** Marks a coil. */
  readonly kind: "inductor";
  /** H, ≥ 0. */
  readonly inductance: number;
  /** Direct-current resistance in Ω, ≥ 0, in series with the inductance. */
  readonly dcr: number;
}

/**
 * A coil with its direct-current resistance. Skin and core losses aren't in it: an air coil of the audio band is well
 * described so, an iron core isn't.
 *
 * @param inductance H as a number, or text: `"0.47 mH"`; 0 H or more
 * @param options `dcr`: direct-current resistance in Ω, default 0 Ω
 * @returns the part, inductance in H and dcr in Ω
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { inductor } from "dividing-network";
 *
 * inductor("0.33 mH", { dcr: "0.24 Ω" }).inductance; // 0.00033
 * ```
 */
export function inductor(inductance: Inductance, options: { readonly dcr?: Resistance | undefined } = {}): Inductor {
  const { dcr = 0 } = checkOptions("inductor", options, ["dcr"]);
  return Object.freeze({
    kind: "inductor",
    inductance: inSi("inductor", "inductance", inductance, "H", { min: 0 }),
    dcr: inSi("inductor", "dcr", dcr, "Ω", { min: 0 }),
  });
}

export function expandInductor(part: Inductor): Expansion {
  return { terminals: 2, branches: [{ from: 0, to: 1, law: coilLaw, values: [part.inductance, part.dcr] }] };
}
