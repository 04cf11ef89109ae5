import { Complex } from "complex.js";
import { checkNumber } from "../errors/internal";

/**
 * The ratio of Bessel functions that the diffusion of a field into a round cylinder comes to, dimensionless:
 * $F(x) = \frac{z\,J_0(z)}{2 J_1(z)}$ at $z = x\,e^{-j\pi/4}$, the conjugate of what Kelvin's ber and bei and their derivatives give. It is
 * $1 + jx^2/8 + \dots$ near 0 and tends to $\frac{(1+j)x}{2\sqrt2} + \frac14$. Right to 1e-15 of each part for every x.
 *
 * Up to 40 by the continued fraction $F = 1 - \frac{w}{2 - \frac{w}{3 - \dots}}$ with $w = z^2/4 = -jx^2/4$, from its far end; above by the
 * asymptotic series. Nothing overflows.
 *
 * @param x argument, dimensionless, 0 or above
 * @returns the ratio as a complex number, dimensionless
 * @throws DividingNetworkError `invalid-argument`
 */
export function kelvinRatio(x: number): Complex {
  checkNumber("kelvinRatio", "x", x, { min: 0 });
  return x < 40 ? fraction(x) : asymptote(x);
}

function fraction(x: number): Complex {
  const w = (x * x) / 4;
  // f = n + jw/f′, from above; the fraction has converged where n is well above |w|^½.
  const last = Math.ceil(x / 2 + 3 * Math.cbrt(x)) + 14;
  let re = last;
  let im = 0;
  for (let n = last - 1; n >= 1; n--) {
    const size = re * re + im * im;
    const next = n + (w * im) / size;
    im = (w * re) / size;
    re = next;
  }
  return new Complex(re, im);
}

/**
 * z·J₀(z)/J₁(z) = s·I₀(s)/I₁(s) with s = jz = x·e^(jπ/4); both by Σ (−1)^k a_k(ν)/s^k. The other exponential is e^(−√2·x) times as large, which is
 * nothing beside rounding.
 */
function asymptote(x: number): Complex {
  const half = Math.SQRT1_2 / x;
  // 1/s = (1 − j)/(√2·x).
  const sums = [0, 4].map((mu) => {
    let [re, im, termRe, termIm] = [1, 0, 1, 0];
    for (let k = 1; k <= 30; k++) {
      const factor = (-(mu - (2 * k - 1) ** 2) / (8 * k)) * half;
      [termRe, termIm] = [factor * (termRe + termIm), factor * (termIm - termRe)];
      re += termRe;
      im += termIm;
      if (Math.abs(termRe) + Math.abs(termIm) < 1e-18) break;
    }
    return { re, im };
  });
  const [zero, one] = [sums[0]!, sums[1]!];
  const size = one.re * one.re + one.im * one.im;
  const re = (zero.re * one.re + zero.im * one.im) / size;
  const im = (zero.im * one.re - zero.re * one.im) / size;
  const scale = (x / 2) * Math.SQRT1_2;
  return new Complex(scale * (re - im), scale * (re + im));
}
