import { checkOneOf } from "../../errors/internal";

/** Resistances that belong together. */
export interface ResistanceRange {
  /** Ω. */
  readonly lowest: number;
  /** Ω. */
  readonly highest: number;
}

const contacts = /* @__PURE__ */ Object.freeze({
  solder: [0.1e-3, 1e-3],
  screw: [0.5e-3, 5e-3],
  spade: [1e-3, 10e-3],
  plug: [1e-3, 20e-3],
  switch: [5e-3, 50e-3],
} as const);

/** A joint in the signal path: soldered, screwed down, a push-on spade, a plug in a socket, a switch or relay. */
export type ContactKind = keyof typeof contacts;

/**
 * Resistance of a joint in good order, as a range, Ω. Common practice, no source: orders of magnitude to put into a tolerance, not to be counted
 * on. A joint that is loose or corroded has any resistance, and changes it with the current.
 *
 * @param kind what the joint is
 * @returns the lowest and the highest resistance in Ω
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { contactResistance } from "dividing-network/parts";
 *
 * contactResistance("spade").highest; // 0.01 Ω
 * ```
 */
export function contactResistance(kind: ContactKind): ResistanceRange {
  const [lowest, highest] = contacts[checkOneOf("contactResistance", "kind", kind, Object.keys(contacts) as ContactKind[])];
  return Object.freeze({ lowest, highest });
}
