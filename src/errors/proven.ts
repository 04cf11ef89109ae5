/** Frozen values whose numbers have all been looked at: what held once holds for as long as they live. */
const proven = /* @__PURE__ */ new WeakSet<object>();

/**
 * Whether a value has been found right before, so that it needn't be looked at again.
 *
 * @param value anything, in any unit
 * @returns true or false, dimensionless
 */
export function isProven(value: unknown): boolean {
  return typeof value === "object" && value !== null && proven.has(value);
}

/**
 * Remembers that a value has been checked in full. For values that nobody can write to: frozen, their arrays given away.
 *
 * @param value what was checked, in any unit
 * @returns the same value
 */
export function proved<T extends object>(value: T): T {
  proven.add(value);
  return value;
}
