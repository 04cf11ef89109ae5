// The outside route for step responses: H(0) + Σ H's residues over their poles times e^(pt), with 50 digits. All poles differ.
import type { Decimal } from "decimal.js";
import type { TransferFunction } from "dividing-network/response";
import { exactly, Precise } from "../support/exact-decimal";

interface Complex {
  readonly re: Decimal;
  readonly im: Decimal;
}

const times = (a: Complex, b: Complex): Complex => ({ re: a.re.mul(b.re).sub(a.im.mul(b.im)), im: a.re.mul(b.im).add(a.im.mul(b.re)) });
const less = (a: Complex, b: Complex): Complex => ({ re: a.re.sub(b.re), im: a.im.sub(b.im) });
const over = (a: Complex, b: Complex): Complex => {
  const size = b.re.mul(b.re).add(b.im.mul(b.im));
  const product = times(a, { re: b.re, im: b.im.neg() });
  return { re: product.re.div(size), im: product.im.div(size) };
};

/** The output at a time above 0 s for an input of 1 from 0 s on. */
export function residueStep(filter: TransferFunction, time: number): number {
  const [zeros, poles] = [filter.zeros, filter.poles].map((list) =>
    list.map(({ re, im }): Complex => ({ re: exactly(re), im: exactly(im) })),
  );
  const one: Complex = { re: new Precise(1), im: new Precise(0) };
  const product = (at: Complex, roots: readonly Complex[]): Complex => roots.reduce((sofar, root) => times(sofar, less(at, root)), one);
  const t = exactly(time);
  const nothing: Complex = { re: new Precise(0), im: new Precise(0) };
  let sum = over(product(nothing, zeros!), product(nothing, poles!)).re;
  poles!.forEach((pole, k) => {
    const residue = over(
      product(pole, zeros!),
      times(
        pole,
        product(
          pole,
          poles!.filter((_, i) => i !== k),
        ),
      ),
    );
    const angle = pole.im.mul(t);
    const wave = { re: angle.cos(), im: angle.sin() };
    sum = sum.add(times(residue, wave).re.mul(pole.re.mul(t).exp()));
  });
  return sum.mul(exactly(filter.gain)).toNumber();
}
