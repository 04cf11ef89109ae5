/** ∂loss/∂value from the branch's values and the program's sums. */
export type SlopeOfSums = (values: ArrayLike<number>, sum: (k: number) => number) => number;

/** What a branch's law is known by, and the slopes by its values in order. */
type Slopes = Readonly<Record<"resistance" | "coil" | "capacitor", readonly SlopeOfSums[]>>;

/**
 * ∂loss/∂value = Re Σ −p·∂Y/∂value with p (but for its sign) the product of voltage and adjoint voltage; see the kernels for the sums, the
 * first of which is `first`.
 */
export const slopesAlone = (sign: 1 | -1, first: number): Slopes => ({
  resistance: [(values, sum) => (sign / values[0]! ** 2) * sum(first)],
  coil: [(_, sum) => -sign * sum(first), (_, sum) => sign * sum(first + 1)],
  capacitor: [
    (values, sum) => sign * (sum(first) + values[2]! * sum(first + 2)),
    (values, sum) => -sign * values[0]! ** 2 * sum(first + 1),
    (values, sum) => -sign * values[0]! * sum(first + 2),
  ],
});

/**
 * The same of parts in series: ∂loss/∂value = Re Σ q·∂Z/∂value with q = Y²·p (but for its sign) the product of their current and the adjoint one. Of a capacitor
 * Z = R + (t − j)/(ωC).
 */
export const slopesInSeries = (sign: 1 | -1, first: number): Slopes => ({
  resistance: [(_, sum) => sign * sum(first)],
  coil: [(_, sum) => -sign * sum(first), (_, sum) => sign * sum(first + 1)],
  capacitor: [
    (values, sum) => (-sign * (sum(first) + values[2]! * sum(first + 2))) / values[0]! ** 2,
    (_, sum) => sign * sum(first + 1),
    (values, sum) => (sign * sum(first + 2)) / values[0]!,
  ],
});
