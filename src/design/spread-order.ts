/** Numbers below n so that the first of them lie spread over all: every fourth, then those between. */
export function spreadOrder(n: number): Int32Array {
  return Int32Array.from(
    [0, 2, 1, 3].flatMap((first) => Array.from({ length: Math.ceil((n - first) / 4) }, (_, i) => first + 4 * i)).filter((at) => at < n),
  );
}

/** After which of them, a quarter and a half, it is looked whether they are enough; −1: never. */
export function firstLooks(n: number): readonly [number, number] {
  return n >= 12 ? [(n >> 2) - 1, (n >> 1) - 1] : [-1, -1];
}
