/**
 * Solves m complex equations, whose rows of `width` numbers are interleaved in `a`, for the right-hand sides in columns m to
 * `used` − 1, which the solutions replace: by elimination with row exchange, in place and without allocation, for the innermost
 * loops of searches. False when a pivot is below `vanished` times the largest of its row.
 */
export function eliminateSmall(a: Float64Array, width: number, m: number, used: number, vanished: number): boolean {
  const row = 2 * width;
  for (let k = 0; k < m; k++) {
    let [best, size, scale] = [k, 0, 0];
    for (let r = k; r < m; r++) {
      const s = Math.abs(a[r * row + 2 * k]!) + Math.abs(a[r * row + 2 * k + 1]!);
      if (s > size) [best, size] = [r, s];
    }
    for (let c = k; c <= m; c++) scale = Math.max(scale, Math.abs(a[best * row + 2 * c]!) + Math.abs(a[best * row + 2 * c + 1]!));
    if (!(size > vanished * scale)) return false;
    if (best !== k) {
      for (let c = 2 * k; c < 2 * used; c++) {
        const kept = a[k * row + c]!;
        a[k * row + c] = a[best * row + c]!;
        a[best * row + c] = kept;
      }
    }
    const [pr, pi] = [a[k * row + 2 * k]!, a[k * row + 2 * k + 1]!];
    const square = pr * pr + pi * pi;
    for (let r = k + 1; r < m; r++) {
      const [xr, xi] = [a[r * row + 2 * k]!, a[r * row + 2 * k + 1]!];
      if (xr === 0 && xi === 0) continue;
      const [fr, fi] = [(xr * pr + xi * pi) / square, (xi * pr - xr * pi) / square];
      for (let c = k + 1; c < used; c++) {
        const [yr, yi] = [a[k * row + 2 * c]!, a[k * row + 2 * c + 1]!];
        a[r * row + 2 * c]! -= fr * yr - fi * yi;
        a[r * row + 2 * c + 1]! -= fr * yi + fi * yr;
      }
    }
  }
  for (let c = m; c < used; c++) {
    for (let k = m - 1; k >= 0; k--) {
      let [sr, si] = [a[k * row + 2 * c]!, a[k * row + 2 * c + 1]!];
      for (let j = k + 1; j < m; j++) {
        const [yr, yi, ur, ui] = [a[k * row + 2 * j]!, a[k * row + 2 * j + 1]!, a[j * row + 2 * c]!, a[j * row + 2 * c + 1]!];
        sr -= yr * ur - yi * ui;
        si -= yr * ui + yi * ur;
      }
      const [pr, pi] = [a[k * row + 2 * k]!, a[k * row + 2 * k + 1]!];
      const square = pr * pr + pi * pi;
      a[k * row + 2 * c] = (sr * pr + si * pi) / square;
      a[k * row + 2 * c + 1] = (si * pr - sr * pi) / square;
    }
  }
  return true;
}
