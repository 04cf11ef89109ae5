import { symmetricEigen } from "./symmetric-eigen";

/** A direction is unknown up to this eigenvalue of the matrix scaled to a diagonal of ones: a millionth of the residuals' slopes. */
const least = 1e-12;

/** What normal equations tell. */
export interface KnownDirections {
  /** How many directions are determined. */
  readonly rank: number;
  /** Inverse over these directions, with rows and columns of 0 for parameters in which an undetermined direction outweighs the rest. */
  readonly inverse: readonly Float64Array[];
  /** The full step to the minimum along them, to be subtracted. */
  readonly step: Float64Array;
  /** By how much that would lower the sum of squares. */
  readonly decrease: number;
}

/** Sorts out what normal equations, JᵀJ and Jᵀr, determine and what they don't. */
export function knownDirections(normal: readonly (readonly number[])[], gradient: Float64Array): KnownDirections {
  const size = normal.map((row, i) => Math.sqrt(row[i]!));
  if (!size.every(Number.isFinite)) {
    return { rank: 0, inverse: normal.map((row) => new Float64Array(row.length)), step: gradient.map(() => Infinity), decrease: Infinity };
  }
  const scale = size.map((value) => (value > 0 ? 1 / value : 0));
  const { values, vectors } = symmetricEigen(normal.map((row, i) => row.map((value, j) => value * (scale[i]! * scale[j]!))));
  const known = vectors.map((vector, k) => ({ vector, value: values[k]! })).filter(({ value }) => value > least);
  const unknown = vectors.filter((_vector, k) => !(values[k]! > least));
  const scaled = (i: number, j: number): number => known.reduce((sum, { vector, value }) => sum + (vector[i]! * vector[j]!) / value, 0);
  const lost = scale.map((_value, i) => unknown.reduce((sum, vector) => sum + vector[i]! ** 2, 0) > least * scaled(i, i));
  const along = known.map(({ vector }) => vector.reduce((sum, value, i) => sum + value * scale[i]! * gradient[i]!, 0));
  const element = (i: number, j: number): number => (lost[i] || lost[j] ? 0 : scaled(i, j) * (scale[i]! * scale[j]!));
  return {
    rank: known.length,
    inverse: scale.map((_value, i) => Float64Array.from(scale, (_other, j) => element(i, j))),
    step: gradient.map((_value, i) => known.reduce((sum, { vector, value }, k) => sum + (vector[i]! * along[k]! * scale[i]!) / value, 0)),
    decrease: known.reduce((sum, { value }, k) => sum + along[k]! ** 2 / value, 0),
  };
}
