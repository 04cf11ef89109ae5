/**
 * Sum of the products of neighbouring deviations of one curve, real and imaginary part in turn (or with a `step` of 1 one number each): over the sum of their squares it is their correlation,
 * within some 2/√n of 0 for independent scatter, near 1 where a formula doesn't fit or a curve was smoothed.
 */
export function neighbourProducts(deviations: Float64Array, step = 2): number {
  let sum = 0;
  for (let i = 0; i < deviations.length - step; i++) sum += deviations[i]! * deviations[i + step]!;
  return sum;
}
