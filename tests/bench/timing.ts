/** Milliseconds, the median of many timings of one call, after as many calls to warm up. */
export function medianTime(call: () => void, times: number): number {
  for (let i = 0; i < times; i++) call();
  const taken = Array.from({ length: times }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return taken[times >> 1]!;
}

/**
 * Medians of two calls timed alternately, so that whatever else the machine does falls on both: milliseconds of each, and
 * the median of the ratios second/first.
 */
export function paired(
  first: () => void,
  second: () => void,
  times: number,
): { readonly first: number; readonly second: number; readonly ratio: number } {
  const measure = (call: () => void) => {
    const start = performance.now();
    call();
    return performance.now() - start;
  };
  for (let i = 0; i < times; i++) {
    first();
    second();
  }
  const pairs = Array.from({ length: times }, () => [measure(first), measure(second)] as const);
  const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;
  return { first: median(pairs.map(([a]) => a)), second: median(pairs.map(([, b]) => b)), ratio: median(pairs.map(([a, b]) => b / a)) };
}
