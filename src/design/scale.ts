/** The scale on which a search moves a value: it has no ends, so that no step leaves what the value may be. */
export interface Scale {
  readonly of: (value: number) => number;
  readonly value: (x: number) => number;
  /** ∂value/∂x. */
  readonly slope: (x: number) => number;
}

const LOGARITHM: Scale = { of: Math.log, value: Math.exp, slope: Math.exp };
/** A ratio below 0 is that of a winding the other way round: its size moves, and its sign stays. */
const TURNED: Scale = { of: (value) => Math.log(-value), value: (x) => -Math.exp(x), slope: (x) => -Math.exp(x) };
/** The factor of a coupling lies between −1 and 1, and hardly differs from the scale's number where it is small. */
const FACTOR: Scale = { of: Math.atanh, value: Math.tanh, slope: (x) => 1 / Math.cosh(x) ** 2 };

/** ln of the size, or the area tangent of a coupling's factor. */
export function scaleOf(parameter: string, drawn: number): Scale {
  return parameter === "k" ? FACTOR : drawn < 0 ? TURNED : LOGARITHM;
}
