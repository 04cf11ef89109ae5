/** A real number for each point of a block, not yet computed: what the table of operations is written in. */
export type Real =
  | { readonly kind: "constant"; readonly value: 0 | 1 }
  /** Value `index` of the branch that the operation speaks of, the same at each point. */
  | { readonly kind: "value"; readonly index: number }
  | { readonly kind: "load"; readonly place: Place }
  | { readonly kind: "negative"; readonly of: Real }
  | { readonly kind: "sum" | "difference" | "product" | "quotient"; readonly first: Real; readonly second: Real };

export interface Complex {
  readonly re: Real;
  readonly im: Real;
}

/** The operands of an operation, and the two arrays that are there for all of them: growth of the block, ω of the grid. */
export type Base = "d" | "a" | "b" | "growth" | "omega";

/** Where numbers lie, one for each point: in a block of their own, or in an array over the whole grid. */
export interface Place {
  readonly base: Base;
  /** 0: the real parts; 1: the imaginary parts; of a row of tables 2 and 3 are those of the next. */
  readonly half: number;
  readonly overGrid: boolean;
}

export const zero: Real = { kind: "constant", value: 0 };
export const one: Real = { kind: "constant", value: 1 };

// A sign moves outwards as far as it goes: to change it is exact, and to add what is negated is to subtract, to the last bit.
export const negative = (of: Real): Real => (of.kind === "negative" ? of.of : { kind: "negative", of });
export function sum(first: Real, second: Real): Real {
  if (second.kind === "negative") return first.kind === "negative" ? negative(sum(first.of, second.of)) : difference(first, second.of);
  if (first.kind === "negative") return difference(second, first.of);
  return { kind: "sum", first, second };
}
export function difference(first: Real, second: Real): Real {
  if (first.kind === "negative") return negative(sum(first.of, second));
  return second.kind === "negative" ? sum(first, second.of) : { kind: "difference", first, second };
}
export function product(first: Real, second: Real): Real {
  if (first.kind === "negative") return negative(product(first.of, second));
  if (second.kind === "negative") return negative(product(first, second.of));
  return { kind: "product", first, second };
}
export const quotient = (first: Real, second: Real): Real => ({ kind: "quotient", first, second });
export const twice = (x: Real): Real => sum(x, x);
export const squared = (x: Real): Real => product(x, x);

/** The same for complex numbers. Each formula stands here once: its order of rounding is that of all machines. */
export const c = {
  negative: ({ re, im }: Complex): Complex => ({ re: negative(re), im: negative(im) }),
  sum: (a: Complex, b: Complex): Complex => ({ re: sum(a.re, b.re), im: sum(a.im, b.im) }),
  difference: (a: Complex, b: Complex): Complex => ({ re: difference(a.re, b.re), im: difference(a.im, b.im) }),
  product: (a: Complex, b: Complex): Complex => ({
    re: difference(product(a.re, b.re), product(a.im, b.im)),
    im: sum(product(a.re, b.im), product(a.im, b.re)),
  }),
  /** A real number times a complex one. */
  scaled: (by: Real, { re, im }: Complex): Complex => ({ re: product(by, re), im: product(by, im) }),
  squared: ({ re, im }: Complex): Complex => ({ re: difference(squared(re), squared(im)), im: twice(product(re, im)) }),
  conjugate: ({ re, im }: Complex): Complex => ({ re, im: negative(im) }),
  /** |z|² */
  size: ({ re, im }: Complex): Real => sum(squared(re), squared(im)),
  reciprocal(z: Complex): Complex {
    const u = quotient(one, c.size(z));
    return { re: product(z.re, u), im: negative(product(z.im, u)) };
  },
};
