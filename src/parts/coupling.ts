import { fewDigits } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkNumber } from "../errors/internal";
import type { PartKind } from "./kind";

/** The magnetic coupling of two coils, named by their designators. */
export interface Coupling {
  /** Marks a coupling. */
  readonly kind: "coupling";
  /** Coupling factor M/√(L₁L₂), −1 < k < 1; positive when currents into both dots (first nodes) aid each other. */
  readonly k: number;
}

/**
 * The coupling of two coils of the network: `K1: [coupling(0.1), "L1", "L2"]`.
 *
 * @param k coupling factor, dimensionless, above −1 and below 1; negative when the coils oppose each other
 * @returns the coupling, which stands in a network like a part but joins coils, not nodes
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { coupling } from "dividing-network";
 *
 * coupling(-0.02).k; // -0.02
 * ```
 */
export function coupling(k: number): Coupling {
  return Object.freeze({ kind: "coupling", k: checkNumber("coupling", "k", k, { above: -1, below: 1 }) });
}

export const couplingKind: PartKind<Coupling> = {
  noun: "coupling",
  maker: "coupling",
  joins: "coils",
  link: () => "k",
  expand() {
    throw new DividingNetworkError("unknown-part", "a coupling has no branches of its own");
  },
  words: (part) => [`Coupling k ${fewDigits(part.k)}`, ""],
  symbols: () => [],
  note: (part, [first, second]) => `${first} and ${second} are coupled, k = ${fewDigits(part.k)}. The dots mark their first ends.`,
};
