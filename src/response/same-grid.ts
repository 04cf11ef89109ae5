import { DividingNetworkError } from "../errors";
import type { FrequencyResponse } from "./sampled-function";

/** Checks that two responses are sampled at the very same frequencies. */
export function checkSameGrid(caller: string, a: FrequencyResponse, b: FrequencyResponse): void {
  const first = a.frequencies;
  const other = b.frequencies;
  if (first === other) return;
  let i = 0;
  while (i < first.length && first[i] === other[i]) i++;
  if (i === first.length && i === other.length) return;
  const found =
    first.length !== other.length
      ? `${first.length} points from ${band(first)} and ${other.length} points from ${band(other)}`
      : `${first[i]} Hz and ${other[i]} Hz at index ${i}`;
  throw new DividingNetworkError(
    "grid-mismatch",
    `${caller}: the responses must have the same frequencies, got ${found}`,
    "Bring one to the other's frequencies first: resample(b, a.frequencies)",
  );
}

function band(frequencies: Float64Array): string {
  return `${frequencies[0]} Hz to ${frequencies[frequencies.length - 1]} Hz`;
}
