/** Complex values in two arrays of one length. */
export interface ComplexValues {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * Writes what lies at share t between two sets of complex values: the magnitude runs straight, and the phase is that of the straight
 * complex mix, in which the louder one counts more; where the phases differ by more than 90° the mix itself is taken.
 *
 * @param a values at t = 0
 * @param b values at t = 1
 * @param t share, 0 to 1, dimensionless
 * @param re real parts are written here, in the unit of the values
 * @param im imaginary parts are written here
 */
export function blend(a: ComplexValues, b: ComplexValues, t: number, re: Float64Array, im: Float64Array): void {
  for (let f = 0; f < re.length; f++) {
    const x = (1 - t) * a.re[f]! + t * b.re[f]!;
    const y = (1 - t) * a.im[f]! + t * b.im[f]!;
    const mixed = Math.hypot(x, y);
    const straight = (1 - t) * Math.hypot(a.re[f]!, a.im[f]!) + t * Math.hypot(b.re[f]!, b.im[f]!);
    const scale = mixed > 0 && a.re[f]! * b.re[f]! + a.im[f]! * b.im[f]! >= 0 ? straight / mixed : 1;
    re[f] = scale * x;
    im[f] = scale * y;
  }
}

/**
 * Weights of four places for a value between the middle two: the cubic whose slopes there are those of the parabolas through three
 * neighbours. A place that is absent has weight 0; without either the cubic becomes a parabola, without both a line.
 *
 * @param before angle of the first place, degrees, or nothing
 * @param from angle of the second
 * @param to angle of the third
 * @param beyond angle of the fourth, or nothing
 * @param angle of the value, degrees, between the middle two
 * @returns four weights, dimensionless, whose sum is 1
 */
export function cubicWeights(
  before: number | undefined,
  from: number,
  to: number,
  beyond: number | undefined,
  angle: number,
): readonly [number, number, number, number] {
  const w = to - from;
  const t = (angle - from) / w;
  const u = 1 - t;
  const weights: [number, number, number, number] = [0, u, t, 0];
  // The line's departure at each end: half the second difference of the parabola through three places, times the cubic's share of that end.
  const add = (share: number, first: number, x0: number, x1: number, x2: number): void => {
    const terms = [1 / ((x0 - x1) * (x0 - x2)), 1 / ((x1 - x0) * (x1 - x2)), 1 / ((x2 - x0) * (x2 - x1))];
    terms.forEach((term, i) => {
      weights[first + i]! -= share * w * w * term;
    });
  };
  if (before !== undefined) add(t * u * (beyond === undefined ? 1 : u), 0, before, from, to);
  if (beyond !== undefined) add(t * u * (before === undefined ? 1 : t), 1, from, to, beyond);
  return weights;
}
