/** Of many timings the one that a tenth of them stay under: what else the machine does only lengthens them. */
const usual = (timings: readonly number[]): number => [...timings].sort((a, b) => a - b)[Math.floor(timings.length / 10)]!;

const measure = (call: () => void): number => {
  const start = performance.now();
  call();
  return performance.now() - start;
};

/** Milliseconds of a call, of so many timings after as many calls to warm up. */
export function usualTime(call: () => void, times: number): number {
  for (let i = 0; i < times; i++) call();
  return usual(Array.from({ length: times }, () => measure(call)));
}

/** Milliseconds of two calls timed alternately, so that whatever else the machine does falls on both, and their ratio second/first. */
export function paired(
  first: () => void,
  second: () => void,
  times: number,
): { readonly first: number; readonly second: number; readonly ratio: number } {
  for (let i = 0; i < times; i++) {
    first();
    second();
  }
  const pairs = Array.from({ length: times }, () => [measure(first), measure(second)] as const);
  const [a, b] = [usual(pairs.map(([one]) => one)), usual(pairs.map(([, other]) => other))];
  return { first: a, second: b, ratio: b / a };
}
