import { fixed } from "../quantity/internal";
/** A linear axis laid out in px from its top end. */
export interface ValueAxis {
  readonly low: number;
  readonly high: number;
  readonly height: number;
  readonly position: (value: number) => number;
  readonly ticks: readonly { readonly y: number; readonly text: string }[];
}

/** Values beyond this size are not drawn: they are taken as gaps in the curve. */
export const LARGEST = 1e12;

/** Steps of 1, 2 and 5 times a power of ten, from just below `smallest` upwards. */
function niceStep(smallest: number): number {
  const exponent = Math.floor(Math.log10(smallest));
  for (const digit of [1, 2, 5]) {
    const step = Number(`${digit}e${exponent}`);
    if (step >= smallest * (1 - 1e-9)) return step;
  }
  return Number(`1e${exponent + 1}`);
}

/**
 * Lays the axis out with ticks at least 26 px apart, at multiples of the first of `steps` that is wide enough, or
 * of 1, 2 or 5 times a power of ten. `low` and `high` are taken as checked: finite, ascending, within `LARGEST`.
 */
export function valueAxis(low: number, high: number, height: number, steps: readonly number[] = []): ValueAxis {
  const smallest = ((high - low) / height) * 26;
  const step = steps.find((candidate) => candidate >= smallest) ?? niceStep(smallest);
  const position = (value: number): number => ((high - value) / (high - low)) * height;
  let decimals = 0;
  while (decimals < 15 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6) decimals++;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  const ticks = Array.from({ length: Math.min(100, last - first + 1) }, (_, index) => {
    const value = (first + index) * step;
    return { y: position(value), text: fixed(value, decimals) };
  });
  return { low, high, height, position, ticks };
}

/** The largest of any number of values, at least `least`. */
export function largest(values: Iterable<number>, least: number): number {
  let found = least;
  for (const value of values) if (value > found) found = value;
  return found;
}

/**
 * The smallest and the largest finite value that several curves have between two frequencies in Hz, the places included
 * where a curve crosses these; `undefined` when there is none.
 */
export function extent(
  curves: readonly { readonly frequencies: ArrayLike<number>; readonly values: ArrayLike<number> }[],
  from: number,
  to: number,
): readonly [number, number] | undefined {
  let low = Infinity;
  let high = -Infinity;
  const include = (value: number): void => {
    if (!(Math.abs(value) <= LARGEST)) return;
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const { frequencies, values } of curves) {
    for (let i = 0; i < values.length; i++) {
      const f = frequencies[i]!;
      if (f >= from && f <= to) include(values[i]!);
      const before = frequencies[i - 1] ?? 0;
      if (before <= 0 || !(Math.abs(values[i]!) <= LARGEST && Math.abs(values[i - 1]!) <= LARGEST)) continue;
      for (const edge of [from, to]) {
        if (before < edge && f > edge)
          include(values[i - 1]! + ((values[i]! - values[i - 1]!) * Math.log(edge / before)) / Math.log(f / before));
      }
    }
  }
  return low <= high ? [low, high] : undefined;
}

/** The range of whole steps around the values, about five of them. */
export function niceRange(values: readonly [number, number] | undefined): readonly [number, number] {
  if (values === undefined) return [0, 1];
  const [low, high] = values;
  const size = Math.max(Math.abs(low), Math.abs(high));
  const step = niceStep(high - low > 1e-6 * size && high - low > 1e-9 ? (high - low) / 5 : Math.max(size / 10, 0.1));
  const bottom = Math.floor(low / step + 1e-9) * step;
  const top = Math.ceil(high / step - 1e-9) * step;
  return top > bottom ? [bottom, top] : [bottom - step, top + step];
}
