/**
 * Improves codes one place at a time until no single change helps, from several starts drawn by a fixed rule.
 *
 * @param counts options of each place
 * @param value of codes, smaller is better; Infinity where there is none; what is `enough` or more may be any such number
 * @param take told of each start's end, best value of that start
 */
export function descend(
  counts: readonly number[],
  value: (codes: Int32Array, enough: number) => number,
  starts: readonly (readonly number[])[],
  take: (codes: Int32Array, value: number) => void,
): void {
  const codes = new Int32Array(counts.length);
  for (const start of starts) {
    codes.set(start);
    let best = value(codes, Infinity);
    for (let round = 0, better = true; better && round < 50; round++) {
      better = false;
      for (let place = 0; place < counts.length; place++) {
        const before = codes[place]!;
        let kept = before;
        for (let option = 0; option < counts[place]!; option++) {
          if (option === before) continue;
          codes[place] = option;
          const now = value(codes, best);
          if (now < best) [best, kept, better] = [now, option, true];
        }
        codes[place] = kept;
      }
    }
    take(codes, best);
  }
}

/** Starts spread over all places, the same at every call. */
export function drawnStarts(counts: readonly number[], many: number): readonly (readonly number[])[] {
  let seed = 1;
  const next = (below: number) => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return Math.floor((seed / 2 ** 32) * below);
  };
  return [counts.map((count) => count >> 1), ...Array.from({ length: many - 1 }, () => counts.map(next))];
}
