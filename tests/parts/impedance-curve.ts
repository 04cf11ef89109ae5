// A driver's impedance by the textbook's closed form, with scatter from a seeded generator: all that the tests of driver parameters begin with.
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";

export interface Driver {
  re: number;
  fs: number;
  qms: number;
  qes: number;
  k?: number;
  n?: number;
  le?: number;
  re2?: number;
  le2?: number;
}

/** Even numbers from 0 to below 1, and normal ones of mean 0 and variance 1, the same for the same seed. */
export function seeded(seed: number): { readonly even: () => number; readonly normal: () => number } {
  let state = seed;
  const even = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return { even, normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()) };
}

/** Ω on a grid in Hz; `scatter` is the standard deviation of real and imaginary part re |Z|. */
export function impedanceOf(
  { re, fs, qms, qes, k = 0, n = 0, le = 0, re2 = 0, le2 = 0 }: Driver,
  grid: Float64Array,
  scatter = 0,
  normal = seeded(7).normal,
): FrequencyResponse {
  const z = Array.from(grid, (f) => {
    const omega = 2 * Math.PI * f;
    const x = qms * (f / fs - fs / f);
    const res = (re * qms) / qes;
    const power = k * omega ** n;
    const parallel = re2 > 0 ? (re2 * omega * le2) / (re2 ** 2 + (omega * le2) ** 2) : 0;
    const [a, b] = [
      re + res / (1 + x * x) + power * Math.cos((n * Math.PI) / 2) + parallel * omega * le2,
      (-res * x) / (1 + x * x) + power * Math.sin((n * Math.PI) / 2) + omega * le + parallel * re2,
    ];
    const size = scatter * Math.hypot(a, b);
    return [a + size * normal(), b + size * normal()] as const;
  });
  return frequencyResponse(
    grid,
    z.map(([a]) => a),
    z.map(([, b]) => b),
  );
}
