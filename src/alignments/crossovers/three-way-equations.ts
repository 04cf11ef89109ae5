/** What the three ways of a derived crossover shall do together. */
export type ThreeWayTarget = "all-pass" | "constant-power";

/**
 * The n equations that a three-way crossover of order n must satisfy, at a centre of ω = 1 rad/s and corners at
 * 1/spread and spread. Unknowns: the inner coefficients of the lowest way's denominator (highest power first, its outer
 * ones being 1), then K. The squared magnitudes are polynomials in x = ω² that read the same from both ends, so that n
 * coefficients say it all; each is divided by its natural size.
 */
export function residuals(target: ThreeWayTarget, order: number, spread: number, sign: 1 | -1, unknowns: readonly number[]): number[] {
  const coefficients = [1, ...unknowns.slice(0, order - 1), 1].reverse();
  const gain = unknowns[order - 1]!;
  // D₁ = ω₁ⁿ d(s/ω₁) with ω₁ = 1/spread, lowest power first; D₂ is its mirror image.
  const lower = coefficients.map((value, power) => value * spread ** (power - order));
  const upper = [...lower].reverse().map((value) => value / lower[0]!);
  const product = multiply(lower, upper);
  const low = upper.map((value) => value * lower[0]!);
  const shift = (list: readonly number[]): number[] => [...new Array<number>(order).fill(0), ...list];
  const [middle, high] = [shift([gain]), shift(lower)];
  const sizes = squared(product);
  const sum =
    target === "all-pass"
      ? squared(Array.from({ length: 2 * order + 1 }, (_, power) => (low[power] ?? 0) + sign * (middle[power] ?? 0) + (high[power] ?? 0)))
      : [low, middle, high]
          .map(squared)
          .reduce((total, list) => total.map((value, power) => value + (list[power] ?? 0)), new Array<number>(2 * order + 1).fill(0));
  return Array.from({ length: order }, (_, k) => (sum[k + 1]! - sizes[k + 1]!) / spread ** (2 * k + 2));
}

function multiply(a: readonly number[], b: readonly number[]): number[] {
  const product = new Array<number>(a.length + b.length - 1).fill(0);
  a.forEach((left, i) => b.forEach((right, k) => (product[i + k]! += left * right)));
  return product;
}

/** |P(jω)|² as a polynomial in ω². */
function squared(polynomial: readonly number[]): number[] {
  const mirrored = polynomial.map((value, power) => (power % 2 === 0 ? value : -value));
  return multiply(polynomial, mirrored)
    .filter((_, power) => power % 2 === 0)
    .map((value, power) => (power % 2 === 0 ? value : -value));
}
