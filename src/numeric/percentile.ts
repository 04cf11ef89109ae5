/**
 * A percentile of ascending numbers: at (n − 1)·percent/100 between the first and the last, by straight line between two
 * neighbours (number 7 of Hyndman and Fan 1996, cited from memory). The neighbours are converted before.
 */
export function percentile(ascending: Float64Array, percent: number, convert: (value: number) => number): number {
  const place = ((ascending.length - 1) * percent) / 100;
  const below = Math.floor(place);
  const [low, high] = [convert(ascending[below]!), convert(ascending[Math.min(below + 1, ascending.length - 1)]!)];
  // Between −∞ (a level of nothing) and anything there is no line.
  return low === high || place === below || low === -Infinity ? low : low + (place - below) * (high - low);
}
