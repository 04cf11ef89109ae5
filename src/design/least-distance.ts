/**
 * The least weighted square distance of one common level to intervals, never above it: by Newton's method held in a bracket.
 *
 * @param lows of the first `count` intervals
 * @param highs of the same
 * @param shares what each counts
 */
export function leastDistance(lows: Float64Array, highs: Float64Array, shares: Float64Array, count: number): number {
  // Above every low end or below every high end nothing can be gained.
  let [from, to, middle, weight] = [Infinity, -Infinity, 0, 0];
  for (let i = 0; i < count; i++) {
    if (lows[i]! > to) to = lows[i]!;
    if (highs[i]! < from) from = highs[i]!;
    middle += shares[i]! * Math.max(highs[i]! - 1, (lows[i]! + highs[i]!) / 2);
    weight += shares[i]!;
  }
  if (!(to > from)) return 0;
  let level = middle / weight;
  if (!(level > from && level < to)) level = (from + to) / 2;
  for (let round = 0; ; round++) {
    let [value, slope, curvature, pull] = [0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const share = shares[i]!;
      const d = lows[i]! > level ? lows[i]! - level : highs[i]! < level ? highs[i]! - level : 0;
      if (d === 0) continue;
      value += share * d * d;
      slope -= share * d;
      pull += share * (level + d);
      curvature += share;
    }
    if (slope > 0) to = level;
    else from = level;
    const next = pull / curvature;
    // A convex function lies above its tangents: at most the slope times the bracket is to be gained.
    const left = 2 * Math.abs(slope) * (to - from);
    if (left <= 1e-13 * value || round === 24 || curvature === 0 || Math.abs(next - level) < 1e-14 * Math.max(1, Math.abs(level)))
      return Math.max(0, value - left);
    level = next > from && next < to ? next : (from + to) / 2;
  }
}
