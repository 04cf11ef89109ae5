/** Whether two values hold the same data; a zero's sign doesn't count. */
export function sameData(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  const [first, second] = [a as Readonly<Record<string, unknown>>, b as Readonly<Record<string, unknown>>];
  const keys = Object.keys(first);
  return keys.length === Object.keys(second).length && keys.every((key) => Object.hasOwn(second, key) && sameData(first[key], second[key]));
}
