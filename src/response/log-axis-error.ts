/** Largest distance between the data and the cubic through the grid; stops as soon as it exceeds `enough`. */
export function worstResidual(
  x: Float64Array,
  level: Float64Array,
  grid: Float64Array,
  before: number,
  step: number,
  enough: number,
): number {
  let worst = 0;
  const scale = 1 / step;
  const origin = x[0]!;
  const n = x.length;
  for (let i = 0; i < n && worst <= enough;) {
    const k = Math.floor((x[i]! - origin) * scale + before);
    const start = origin + (k - before) * step;
    const end = start + step;
    const y0 = grid[k - 1]!;
    const y1 = grid[k]!;
    const y2 = grid[k + 1]!;
    const y3 = grid[k + 2]!;
    const a1 = y2 - y0 / 3 - y1 / 2 - y3 / 6;
    const a2 = (y0 + y2) / 2 - y1;
    const a3 = (y1 - y2) / 2 + (y3 - y0) / 6;
    do {
      const p = (x[i]! - start) * scale;
      worst = Math.max(worst, Math.abs(y1 + p * (a1 + p * (a2 + p * a3)) - level[i]!));
      i++;
    } while (i < n && x[i]! < end);
  }
  return worst;
}

/**
 * Where the data are sparser than the grid: the miss of the cubic through the four points around each interval, at its middle, by the
 * difference that the point beside them shows. At the ends of the data there is no point on the other side, and the cubic misses by more.
 */
export function skippedPointError(x: Float64Array, level: Float64Array, step: number): number {
  let worst = 0;
  for (let i = 0; i < x.length - 1 && x.length >= 5; i++) {
    if (x[i + 1]! - x[i]! < step) continue;
    const first = Math.min(Math.max(i - 1, 0), x.length - 4);
    const middle = (x[i]! + x[i + 1]!) / 2;
    let product = 1;
    for (let k = first; k < first + 4; k++) product *= middle - x[k]!;
    // One difference alone may happen to vanish.
    const difference = [first - 1, first, first + 1].reduce(
      (most, k) => (k < 0 || k > x.length - 5 ? most : Math.max(most, Math.abs(fourthDifference(x, level, k)))),
      0,
    );
    worst = Math.max(worst, Math.abs(product) * difference);
  }
  return worst;
}

// The divided difference over five points.
function fourthDifference(x: Float64Array, y: Float64Array, first: number): number {
  let sum = 0;
  for (let k = first; k < first + 5; k++) {
    let weight = 1;
    for (let m = first; m < first + 5; m++) if (m !== k) weight *= x[k]! - x[m]!;
    sum += y[k]! / weight;
  }
  return sum;
}
