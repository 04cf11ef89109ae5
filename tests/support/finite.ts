/** Where in a value a number isn't finite, by its path: nothing, where all is well. */
export function finite(value: unknown, path = "", depth = 0): readonly string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (depth > 9 || typeof value !== "object" || value === null) return [];
  if (ArrayBuffer.isView(value)) return (Array.from(value as unknown as Iterable<number>).some((x) => !Number.isFinite(x)) ? [`${path}: not finite`] : []); // prettier-ignore
  return Object.entries(value).flatMap(([key, inner]) => finite(inner, `${path}.${key}`, depth + 1));
}
