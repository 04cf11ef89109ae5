/** What a value was found to be: one that is good as a response isn't good as a loudspeaker. */
export type ProvenKind =
  | "response"
  | "measured pressure"
  | "drivers"
  | "loudspeaker"
  | "stock"
  | "line of a stock"
  | "polar map"
  | "field"
  | "sphere map"
  | "power response";

/** Frozen values whose numbers have all been looked at, and as what: what held once holds for as long as they live. */
const proven = /* @__PURE__ */ new WeakMap<object, ProvenKind>();

/**
 * Whether a value has been found right before, as what is asked for here, so that it needn't be looked at again.
 *
 * @param kind what it must have been found to be; a value of another kind is none that was looked at
 * @param value anything, in any unit
 * @returns true or false, dimensionless
 */
export function isProven(kind: ProvenKind, value: unknown): boolean {
  return typeof value === "object" && value !== null && proven.get(value) === kind;
}

/**
 * Remembers that a value has been checked in full. For values that nobody can write to: frozen, their arrays given away.
 *
 * @param kind as what it was checked
 * @param value what was checked, in any unit
 * @returns the same value
 */
export function proved<T extends object>(kind: ProvenKind, value: T): T {
  proven.set(value, kind);
  return value;
}
