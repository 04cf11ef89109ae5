// The outside route for ladders: the chain of a ladder's values and the functions' closed forms, both with 50 digits.
import type { Decimal } from "decimal.js";
import { exactly, Precise } from "./exact-decimal";

export type Omega = Decimal.Value;

/** |V(load)/V(source)| of a low-pass ladder into 1 Ω, by the chain matrices worked back from the load. */
function chainMagnitude(values: readonly Decimal[], first: "series" | "shunt", sourceResistance: Decimal, omega: Omega): Decimal {
  const w = new Precise(omega);
  let [vr, vi, ir, ii] = [new Precise(1), new Precise(0), new Precise(1), new Precise(0)];
  for (let k = values.length - 1; k >= 0; k--) {
    const x = w.mul(values[k]!);
    if ((first === "series") === (k % 2 === 0)) [vr, vi] = [vr.sub(x.mul(ii)), vi.add(x.mul(ir))];
    else [ir, ii] = [ir.sub(x.mul(vi)), ii.add(x.mul(vr))];
  }
  const [re, im] = [vr.add(ir.mul(sourceResistance)), vi.add(ii.mul(sourceResistance))];
  return re.mul(re).add(im.mul(im)).sqrt().pow(-1);
}

/** 1/√(1 + ω²ⁿ) */
export function butterworthMagnitude(n: number, omega: Omega): Decimal {
  return new Precise(omega)
    .pow(2 * n)
    .add(1)
    .sqrt()
    .pow(-1);
}

/** 1/(1 + ωⁿ) */
export function linkwitzRileyMagnitude(n: number, omega: Omega): Decimal {
  return new Precise(omega).pow(n).add(1).pow(-1);
}

/** (1 + ω²)^(−n/2): all poles at −1. */
export function equalPolesMagnitude(n: number, omega: Omega): Decimal {
  return new Precise(omega).pow(2).add(1).pow(n).sqrt().pow(-1);
}

/** √((1 + ε² Tₙ(0)²)/(1 + ε² Tₙ(ω)²)): 1 at zero frequency. */
export function chebyshevMagnitude(n: number, rippleDb: number, omega: Omega): Decimal {
  const w = new Precise(omega);
  const square = new Precise(10).pow(exactly(rippleDb).div(10)).sub(1);
  const at = (x: Decimal): Decimal => {
    let [before, value] = [new Precise(1), x];
    for (let k = 1; k < n; k++) [before, value] = [value, x.mul(2).mul(value).sub(before)];
    return square.mul(value).mul(value).add(1);
  };
  return at(new Precise(0)).div(at(w)).sqrt();
}

/** |θₙ(0)/θₙ(jω)| of the reverse Bessel polynomial. */
export function besselMagnitude(n: number, omega: Omega): Decimal {
  const w = new Precise(omega);
  const coefficients = [new Precise(1)];
  for (let k = n; k > 0; k--) coefficients.unshift(coefficients[0]!.mul((2 * n - k + 1) * k).div(2 * (n - k + 1)));
  let [re, im] = [new Precise(0), new Precise(0)];
  coefficients.forEach((value, k) => {
    const term = value.mul(w.pow(k)).mul(k % 4 < 2 ? 1 : -1);
    if (k % 2 === 0) re = re.add(term);
    else im = im.add(term);
  });
  return coefficients[0]!.div(re.mul(re).add(im.mul(im)).sqrt());
}

/** ∏ |1 − jω/p|⁻¹ as a function of ω, each pole taken as the double it is. */
export function polesMagnitude(poles: readonly { readonly re: number; readonly im: number }[]): (omega: Omega) => Decimal {
  const exact = poles.map(({ re, im }) => ({ re: exactly(re), im: exactly(im) }));
  return (omega) => {
    const w = new Precise(omega);
    return exact
      .reduce(
        (product, { re, im }) =>
          product.mul(
            w
              .sub(im)
              .pow(2)
              .add(re.mul(re))
              .div(re.mul(re).add(im.mul(im))),
          ),
        new Precise(1),
      )
      .sqrt()
      .pow(-1);
  };
}

/** The largest difference between a ladder and a magnitude, of the passband's level, at 17 frequencies from a tenth of `centre` to ten times. */
export function worstDifference(
  values: readonly number[],
  first: "series" | "shunt",
  sourceResistance: number,
  magnitude: (omega: Omega) => Decimal,
  centre = 1,
): number {
  const exact = values.map(exactly);
  const source = exactly(sourceResistance);
  const passband = new Precise(1).div(source.add(1));
  return Math.max(
    ...Array.from({ length: 17 }, (_, k) => {
      const w = new Precise(10).pow((k - 8) / 8).mul(centre);
      return chainMagnitude(exact, first, source, w).div(passband).sub(magnitude(w)).abs().toNumber();
    }),
  );
}
