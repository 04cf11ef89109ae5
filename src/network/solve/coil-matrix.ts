import type { CoilGroup } from "../coupled-coils";

/**
 * Inverts the impedance matrix R + jωM of a group of coupled coils at one angular frequency and writes the upper
 * triangle, row by row, as re to out[0 …] and im to out[half …]. Gauss–Jordan without pivoting: the matrix has a
 * positive definite imaginary part, so every pivot is safe.
 */
export function invertCoils(
  group: CoilGroup,
  values: readonly ArrayLike<number>[],
  omega: number,
  work: Float64Array,
  out: Float64Array,
): void {
  const n = group.branches.length;
  const width = 2 * n;
  for (let i = 0; i < n; i++) {
    const own = values[group.branches[i]!]!;
    for (let j = 0; j < n; j++) {
      const other = values[group.branches[j]!]!;
      const at = i * width + 2 * j;
      work[at] = i === j ? own[1]! : 0;
      work[at + 1] = omega * (i === j ? own[0]! : group.factors[i * n + j]! * Math.sqrt(own[0]! * other[0]!));
    }
  }
  for (let k = 0; k < n; k++) {
    const at = k * width + 2 * k;
    const [pr, pi] = [work[at]!, work[at + 1]!];
    const norm = pr * pr + pi * pi;
    const [rr, ri] = [pr / norm, -pi / norm];
    work[at] = 1;
    work[at + 1] = 0;
    for (let c = k * width; c < (k + 1) * width; c += 2) {
      const [ar, ai] = [work[c]!, work[c + 1]!];
      work[c] = ar * rr - ai * ri;
      work[c + 1] = ar * ri + ai * rr;
    }
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const [fr, fi] = [work[i * width + 2 * k]!, work[i * width + 2 * k + 1]!];
      work[i * width + 2 * k] = 0;
      work[i * width + 2 * k + 1] = 0;
      for (let j = 0; j < n; j++) {
        const [ar, ai] = [work[k * width + 2 * j]!, work[k * width + 2 * j + 1]!];
        work[i * width + 2 * j] = work[i * width + 2 * j]! - (fr * ar - fi * ai);
        work[i * width + 2 * j + 1] = work[i * width + 2 * j + 1]! - (fr * ai + fi * ar);
      }
    }
  }
  const half = (n * (n + 1)) / 2;
  let at = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i; j < n; j++, at++) {
      out[at] = work[i * width + 2 * j]!;
      out[half + at] = work[i * width + 2 * j + 1]!;
    }
  }
}
