/**
 * Mutual inductance of two coaxial circular filaments of radii a and b at the distance d, divided by µ₀ (m), after Maxwell (1873). With the sums of
 * the arithmetic–geometric mean of the largest and the smallest distance of their points, M = µ₀π/(4·agm) · Σ 2ⁿcₙ² from c₁ = ab/a₁: all terms are
 * positive, so that nothing cancels far apart or close by. The distance must not be 0 for equal radii.
 */
export function loopMutual(a: number, b: number, d: number): number {
  const near = Math.sqrt((a - b) * (a - b) + d * d);
  const far = Math.sqrt((a + b) * (a + b) + d * d);
  let mean = (far + near) / 2;
  let geometric = Math.sqrt(far * near);
  let c = (a * b) / mean;
  let power = 2;
  let sum = 2 * c * c;
  while (c > 1e-8 * mean) {
    const next = (mean + geometric) / 2;
    c = (c * c) / (4 * next);
    geometric = Math.sqrt(mean * geometric);
    mean = next;
    power *= 2;
    sum += power * c * c;
  }
  return (Math.PI * sum) / (2 * (mean + geometric));
}

/** The same divided by b², which stays finite for b = 0: 2π times the vector potential of a at b, per b and µ₀. */
export function loopPotential(a: number, b: number, d: number): number {
  const near = Math.sqrt((a - b) * (a - b) + d * d);
  const far = Math.sqrt((a + b) * (a + b) + d * d);
  let mean = (far + near) / 2;
  let geometric = Math.sqrt(far * near);
  // c over b.
  let c = a / mean;
  let power = 2;
  let sum = 2 * c * c;
  while (c * b > 1e-8 * mean) {
    const next = (mean + geometric) / 2;
    c = (c * c * b) / (4 * next);
    geometric = Math.sqrt(mean * geometric);
    mean = next;
    power *= 2;
    sum += power * c * c;
  }
  return (Math.PI * sum) / (2 * (mean + geometric));
}
