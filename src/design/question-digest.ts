/** A few letters that two questions share only if they are the same, for all that chance allows: of plain data and typed arrays. */
export function questionDigest(...parts: readonly unknown[]): string {
  const text = JSON.stringify(parts, (_, value: unknown) => (ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value));
  // FNV-1a, twice from different beginnings.
  let [a, b] = [0x811c9dc5, 0x9747b28c];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    a = Math.imul(a ^ code, 0x01000193);
    b = Math.imul(b ^ code, 0x01000193) ^ (b >>> 13);
  }
  return [a, b].map((half) => (half >>> 0).toString(16).padStart(8, "0")).join("");
}
