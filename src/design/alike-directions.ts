import { symmetricEigen } from "../numeric/internal";
import type { Unknown } from "./identify-unknowns";

/** Values that measurements can't tell apart, or one that they don't see. */
export interface AlikeValues {
  /** Designators with the parameter: `"R1 resistance"`. */
  readonly values: readonly string[];
  /** Standard error of the direction, as a part of the values (of a coupling's small factor: the factor itself), dimensionless; Infinity where nothing is seen of it. */
  readonly uncertainty: number;
  /** In words. */
  readonly says: string;
}

/** An eigenvalue of the matrix scaled to a diagonal of ones below which nothing is seen of its direction. */
const UNSEEN = 1e-12;
/** A direction that is less certain than this part of the values is named. */
const VAGUE = 0.3;

/**
 * Standard errors of values on their scales from the normal equations, and the directions that have hardly any.
 *
 * @param scatter standard deviation of a residual
 */
export function alikeDirections(
  unknowns: readonly Unknown[],
  normal: readonly (readonly number[])[],
  scatter: number,
): { readonly alike: readonly AlikeValues[]; readonly errors: readonly (number | undefined)[] } {
  const largest = normal.reduce((most, row, i) => Math.max(most, row[i]!), 0);
  // What moves no residual has no scale of its own.
  const scale = normal.map((row, i) => (row[i]! > 1e-24 * largest ? 1 / Math.sqrt(row[i]!) : 0));
  const { values, vectors } = symmetricEigen(normal.map((row, i) => row.map((value, j) => value * (scale[i]! * scale[j]!))));
  const variances = scale.map(() => 0);
  const lost = scale.map(() => false);
  vectors.forEach((vector, k) =>
    vector.forEach((component, i) => {
      if (values[k]! > UNSEEN) variances[i]! += (scatter * component * scale[i]!) ** 2 / values[k]!;
      else if (Math.abs(component) > 1e-4) lost[i] = true;
    }),
  );
  const errors = variances.map((variance, i) => (lost[i] ? undefined : Math.sqrt(variance)));
  const vague = errors.map((error) => error === undefined || error >= VAGUE);
  const alike = new Map<string, AlikeValues>();
  vectors.forEach((vector, k) => {
    // By the scaled direction, in which a change of each value weighs what it does to the residuals.
    const largestComponent = vector.reduce((size, component) => Math.max(size, Math.abs(component)), 0);
    const named = Array.from(vector, (component, i) => vague[i]! && Math.abs(component) > 0.2 * largestComponent);
    const most = vector.reduce((size, component, i) => (named[i]! ? Math.max(size, Math.abs(component * scale[i]!)) : size), 0);
    const uncertainty = values[k]! > UNSEEN ? (scatter * most) / Math.sqrt(values[k]!) : Infinity;
    const names = unknowns.filter((_unknown, i) => named[i]).map(({ part, parameter }) => `${part} ${parameter}`);
    const key = names.join(", ");
    if (names.length === 0 || uncertainty < VAGUE || (alike.get(key)?.uncertainty ?? -1) >= uncertainty) return;
    const says =
      names.length === 1 ? `${key} hardly changes what was measured` : `${key} can be changed together and hardly change what was measured`;
    alike.set(key, Object.freeze({ values: Object.freeze(names), uncertainty, says }));
  });
  return { alike: Object.freeze([...alike.values()]), errors };
}
