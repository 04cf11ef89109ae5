/** ln of an amplitude, of silence −500. */
const SILENT = -500;
/** Rounds after which it is said what is known. */
const ROUNDS = 24;
/** How far from its argument of 1 a logarithm is taken from its series, by (x − 1)/(x + 1), and how far that is off at most: $2 \sum_{k \ge 6} z^{2k+1}/(2k+1)$. */
const NEAR = 1 / 3;
const OFF = 1.1e-7;

/** Intervals of amplitudes, of which a bound is asked for again and again. */
export interface Intervals {
  readonly lows: Float64Array;
  readonly highs: Float64Array;
  /** What each counts; 0 where it doesn't. */
  readonly shares: Float64Array;
}

/** ln (x/reference), from below or from above. */
function nearLog(x: number, reference: number, off: number): number {
  const z = (x - reference) / (x + reference);
  if (!(z <= NEAR && z >= -NEAR)) return Math.max(SILENT, Math.log(x / reference));
  const w = z * z;
  return 2 * z * (1 + w * (1 / 3 + w * (1 / 5 + w * (1 / 7 + w * (1 / 9 + w / 11))))) + off;
}

/**
 * The least weighted square distance (ln²) of one common level to the first `count` intervals, never above it. What is above `enough` or below it is given roughly.
 *
 * The level lies between the lowest high end and the tallest low end: an interval that holds all of that counts nothing, and of an end that lies outside it no logarithm is taken.
 */
export function nearestLevel({
  lows,
  highs,
  shares,
}: Intervals): (count: number, tallestLow: number, lowestHigh: number, enough: number) => number {
  const from = new Float64Array(lows.length);
  const to = new Float64Array(lows.length);
  const share = new Float64Array(lows.length);
  return (count, tallestLow, lowestHigh, enough) => {
    const rough = enough < Infinity && lowestHigh > 0;
    const reference = rough ? Math.sqrt(tallestLow * lowestHigh) : 1;
    let least = rough ? nearLog(lowestHigh, reference, OFF) : Math.max(SILENT, Math.log(lowestHigh));
    let most = rough ? nearLog(tallestLow, reference, -OFF) : Math.log(tallestLow);
    if (!(most > least)) return 0;
    let kept = 0;
    let middle = 0;
    let weight = 0;
    for (let i = 0; i < count; i++) {
      const own = shares[i]!;
      const above = lows[i]! > lowestHigh;
      const under = highs[i]! < tallestLow;
      if (own === 0 || (!above && !under)) continue;
      const low = !above ? least : rough ? nearLog(lows[i]!, reference, -OFF) : Math.log(lows[i]!);
      const high = !under ? most : rough ? nearLog(highs[i]!, reference, OFF) : Math.max(SILENT, Math.log(highs[i]!));
      middle += own * (low + high);
      weight += own;
      from[kept] = low;
      to[kept] = high;
      share[kept++] = own;
    }
    let level = middle / (2 * weight);
    if (!(level > least && level < most)) level = (least + most) / 2;
    for (let round = 0; ; round++) {
      let value = 0;
      let slope = 0;
      let curvature = 0;
      for (let i = 0; i < kept; i++) {
        const up = from[i]! - level;
        const down = to[i]! - level;
        const d = up > 0 ? up : down < 0 ? down : 0;
        const pull = share[i]! * d;
        slope -= pull;
        value += pull * d;
        curvature += d === 0 ? 0 : share[i]!;
      }
      if (slope > 0) most = level;
      else least = level;
      // A convex function lies above its tangents: at most the slope times the bracket is to be gained.
      const left = 2 * Math.abs(slope) * (most - least);
      const bound = value > left ? value - left : 0;
      if (rough && (bound >= enough || (value < enough && round > 0))) return bound;
      const next = curvature > 0 ? level - slope / curvature : level;
      if (left <= 1e-13 * value || round === ROUNDS || Math.abs(next - level) < 1e-14 * Math.max(1, Math.abs(level))) return bound;
      level = next > least && next < most ? next : (least + most) / 2;
    }
  };
}
