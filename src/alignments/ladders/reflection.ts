import { DividingNetworkError } from "../../errors";
import { flattened } from "./maximal-flatness";
import {
  fromPrecise,
  overPrecise,
  preciseOne,
  rootComplex,
  timesPrecise,
  toPrecise,
  type Precise,
  type PreciseComplex,
  polynomialFromRoots,
  preciseRoots,
  type PrecisePolynomial,
} from "../../numeric/internal";

/** What the load doesn't get goes back to the source: K/D, both monic. */
export interface Reflection {
  /** K, lowest power first. */
  readonly numerator: Precise[];
  /** D, lowest power first: the one given, freed from the rounding of its poles. */
  readonly denominator: Precise[];
}

/**
 * The reflection at the source, |K|² = |D|² − 4ρ/(1 + ρ)² D(0)² on the imaginary axis. ρ is load over source when the
 * first element is in series, source over load when it is in shunt. All roots of K lie in the left half-plane, but for one
 * real root where ρ < 1 demands K(0) < 0.
 */
export function reflectionOf(caller: string, given: PrecisePolynomial, ratio: number): Reflection {
  const rho = toPrecise(ratio);
  const one = preciseOne();
  const { denominator, squared, flat } = flattened(given);
  const share = overPrecise(rho - one, rho + one);
  // 1 − 4ρ/(1 + ρ)² = (ρ − 1)²/(ρ + 1)²
  squared[0] = timesPrecise(timesPrecise(share, share), timesPrecise(denominator[0]!, denominator[0]!));
  const zerosAtOrigin = squared[0] === 0n ? flat + 1 : 0;
  const roots = leftHalf(caller, preciseRoots(squared.slice(zerosAtOrigin)), squared, denominator);
  if (ratio < 1 && zerosAtOrigin === 0) {
    const real = roots.findIndex(({ im }) => im === 0n);
    if (real < 0) throw unrealisable(caller, ratio);
    roots[real] = { re: -roots[real]!.re, im: 0n };
  }
  return { denominator, numerator: [...new Array<Precise>(zerosAtOrigin).fill(0n), ...polynomialFromRoots(roots)] };
}

/** From the roots x the roots s = −√x. Negative real ones lie on the imaginary axis and must be double. */
function leftHalf(
  caller: string,
  squares: readonly PreciseComplex[],
  squared: PrecisePolynomial,
  denominator: PrecisePolynomial,
): PreciseComplex[] {
  const roots = squares
    .filter(({ re, im }) => im !== 0n || re > 0n)
    .map((square) => rootComplex(square))
    .map(({ re, im }) => ({ re: -re, im }));
  const onAxis = squares
    .filter(({ re, im }) => im === 0n && re <= 0n)
    .map(({ re }) => re)
    .sort((a, b) => (a < b ? -1 : 1));
  for (let k = 0; k < onAxis.length; k += 2) {
    const middle = (onAxis[k]! + (onAxis[k + 1] ?? 0n)) >> 1n;
    // Between two such roots the load would get more than the source has; what rounding makes of a double root is let pass.
    const excess = evaluate(squared, middle);
    const level = timesPrecise(denominator[0]!, denominator[0]!);
    if (onAxis[k + 1] === undefined || -excess > level >> 36n) {
      throw new DividingNetworkError(
        "not-realizable",
        `${caller}: a lossless ladder between these resistances must not pass more power than the source has, `
          + `as this function asks near ω = ${fromPrecise(rootComplex({ re: -middle, im: 0n }).re).toPrecision(4)} rad/s`,
        "Choose a source resistance further from the load's, or an odd order (even-order Chebyshev functions need unequal resistances)",
      );
    }
    const w = rootComplex({ re: -middle, im: 0n }).re;
    roots.push({ re: 0n, im: w }, { re: 0n, im: -w });
  }
  return roots;
}

function evaluate(polynomial: PrecisePolynomial, x: Precise): Precise {
  return polynomial.reduceRight((sum, value) => timesPrecise(sum, x) + value, 0n);
}

/** The refusal of an even order whose first element is of the wrong kind for its resistances. */
export function unrealisable(caller: string, ratio: number): DividingNetworkError {
  return new DividingNetworkError(
    "not-realizable",
    `${caller}: an even order whose first element is in series needs a load of at least the source resistance, `
      + `and one whose first element is in shunt needs a load of at most the source resistance; got a ratio of ${Number((ratio < 1 ? 1 / ratio : ratio).toPrecision(4))} the other way, which would need a transformer`,
    "Begin with the other kind of element (option `first`), or choose an odd order",
  );
}
