/** A place on the interval −1 … 1 and the value there. */
export interface Extreme {
  readonly at: number;
  readonly value: number;
}

/** How well the rational function must give the value that was kept back, as a share of the largest. */
const FITS = 1e-7;
const SCANNED = 33;

/**
 * The least (direction −1) or greatest (+1) value that a function is found to have on −1 … 1. A squared voltage or impedance is a
 * ratio of two quadratics in the value of a resistor, coil or capacitor, since a network is bilinear in each: five values give the
 * two quadratics, and these the places where it turns. A sixth value tells whether that holds; where it doesn't (a
 * driver's resonance, a coupled coil), the interval is searched.
 */
export function extremeAlong(f: (x: number) => number, direction: 1 | -1): Extreme {
  let best: Extreme = { at: 0, value: f(0) };
  const look = (x: number): number => {
    const value = f(x);
    if (direction * value > direction * best.value) best = { at: x, value };
    return value;
  };
  const middle = best.value;
  const [a, b, c, d, kept] = [look(-1), look(1), look(-0.5), look(0.5), look(0.75)];
  const places = turns(middle, a, b, c, d, kept);
  if (places !== undefined) for (const place of places) look(place);
  else scan(look, () => best.at);
  return best;
}

/** Where the ratio of quadratics through five values turns inside −1 … 1; undefined when the sixth value isn't on it. */
function turns(
  f0: number,
  fMinus: number,
  fPlus: number,
  fMinusHalf: number,
  fPlusHalf: number,
  fKept: number,
): readonly number[] | undefined {
  const scale = Math.max(f0, fMinus, fPlus, fMinusHalf, fPlusHalf, fKept);
  if (!(scale > 0) || !Number.isFinite(scale)) return [];
  const [S, D] = [(fPlus + fMinus) / 2 / scale, (fPlus - fMinus) / 2 / scale];
  const [s, d] = [(fPlusHalf + fMinusHalf) / 2 / scale, (fPlusHalf - fMinusHalf) / 2 / scale];
  const a0 = f0 / scale;
  // f·(1 + b₁x + b₂x²) = a₀ + a₁x + a₂x² at ±1 and ±½, with a₁ and a₂ eliminated.
  const [m11, m12, r1] = [D / 4 - d / 2, (S - s) / 4, s - S / 4 - 0.75 * a0];
  const [m21, m22, r2] = [(S - s) / 2, D / 2 - d / 4, d - D / 2];
  const determinant = m11 * m22 - m12 * m21;
  const fits = (b1: number, b2: number): readonly number[] | undefined => {
    const a1 = D * (1 + b2) + S * b1;
    const a2 = S * (1 + b2) + D * b1 - a0;
    const at = (x: number): number => (a0 + x * (a1 + x * a2)) / (1 + x * (b1 + x * b2));
    if (!(Math.abs(at(0.75) - fKept / scale) <= FITS) || !(Math.abs(at(0.5) - fPlusHalf / scale) <= FITS)) return undefined;
    return rootsInside(a2 * b1 - a1 * b2, 2 * (a2 - a0 * b2), a1 - a0 * b1);
  };
  // Without a denominator the two equations are empty or contradict each other; a parabola is tried then.
  return (
    (Math.abs(determinant) > 1e-14 ? fits((r1 * m22 - r2 * m12) / determinant, (m11 * r2 - m21 * r1) / determinant) : undefined)
    ?? fits(0, 0)
  );
}

/** Real roots of ax² + bx + c between −1 and 1. */
function rootsInside(a: number, b: number, c: number): readonly number[] {
  const size = b * b - 4 * a * c;
  if (!(size >= 0)) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(size)) / 2;
  return [q / a, c / q].filter((x) => x > -1 && x < 1);
}

/** Evenly, then by thirds around the best. */
function scan(look: (x: number) => number, best: () => number): void {
  for (let k = 0; k < SCANNED; k++) look(-1 + (2 * k) / (SCANNED - 1));
  for (let step = 2 / (SCANNED - 1); step > 1e-6; step /= 3) {
    const at = best();
    for (const x of [at - (2 * step) / 3, at - step / 3, at + step / 3, at + (2 * step) / 3]) if (x >= -1 && x <= 1) look(x);
  }
}
