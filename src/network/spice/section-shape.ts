import { sectionsImpedance, type Section } from "./section";

/** A section of unit size: corner or resonance in rad/s, Q of a resonance. */
export type Shape =
  | { readonly kind: "r" | "l" | "c" }
  | { readonly kind: "rl" | "rc"; readonly corner: number }
  | { readonly kind: "rlc"; readonly corner: number; readonly q: number };

/** A shape with its size. */
export interface Sized {
  readonly shape: Shape;
  readonly size: number;
}

/** A shape of some size as a section; six digits are more than a fit holds. */
export function section(shape: Shape, size: number, digits = 6): Section {
  const rounded = (value: number): number => (digits > 16 ? value : Number(value.toPrecision(digits)));
  switch (shape.kind) {
    case "r":
      return { r: rounded(size) };
    case "l":
      return { l: rounded(size) };
    case "c":
      return { c: rounded(1 / size) };
    case "rl":
      return { r: rounded(size), l: rounded(size / shape.corner) };
    case "rc":
      return { r: rounded(size), c: rounded(1 / (size * shape.corner)) };
    case "rlc":
      return { r: rounded(size), l: rounded(size / (shape.corner * shape.q)), c: rounded(shape.q / (size * shape.corner)) };
  }
}

/** A shape of size 1 on a grid (rad/s), as the fits take it. */
export function column(shape: Shape, omega: Float64Array, weights: Float64Array): Float64Array {
  const unit = [section(shape, 1, 17)];
  const values = Array.from(omega, (w) => sectionsImpedance(unit, w));
  return stacked(
    values.map(([re]) => re),
    values.map(([, im]) => im),
    weights,
  );
}

/** Real parts over imaginary parts, each weighted. */
export function stacked(re: ArrayLike<number>, im: ArrayLike<number>, weights: Float64Array): Float64Array {
  const n = weights.length;
  return Float64Array.from({ length: 2 * n }, (_, i) => (i < n ? re[i]! * weights[i]! : im[i - n]! * weights[i - n]!));
}
