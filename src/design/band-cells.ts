/** Part of a place's judged band: what of |p|² counts for the mean of its third-octave levels, and how far the curve between the samples may stray. */
export interface BandCell {
  /** The first frequency that counts. */
  readonly first: number;
  /** From there on, what each |p|² counts in the mean power of the cell; none is below 0, their sum is 1. */
  readonly weights: Float64Array;
  /** From there on, what the difference between each frequency and the next may count beside. */
  readonly strays: Float64Array;
  /** Frequencies, first and one after the last, over which the windows of the cell's levels end: what lies there sets how unlike these levels are. */
  readonly ends: readonly (readonly [number, number])[];
  /** Half of how far powers within the cell lie apart, for each unit that |p|² differs by over `ends`. */
  readonly apart: number;
  /** What a difference between neighbours adds at most to how much |p|² differs over `ends`. */
  readonly beyond: number;
  /** ln of amplitude: the target's shape, mean over the cell. */
  readonly shape: number;
  /** What the cell counts of its place, their sum 1. */
  readonly share: number;
}

/** Half a third of an octave, in ln f. */
const HALF = Math.LN2 / 6;
/** Cells to an octave: small against the third of an octave over which powers are taken. */
const PER_OCTAVE = 12;
/** Nodes and weights of three-point Gauss quadrature, as the loss takes them. */
const NODES = [-0.7745966692414834, 0, 0.7745966692414834] as const;
const WEIGHTS = [5 / 9, 8 / 9, 5 / 9] as const;

/**
 * The cells of one place. Between samples the power is a cubic whose slopes lie between 0 and those of the polynomial through the five samples nearest (`monotoneSlopes`). Its integral is that of the straight line,
 * and a sum of slopes and differences, which is bounded here.
 *
 * @param lnf ln of the place's frequencies
 * @param from ln of the judged band's ends
 * @param shape of the target, ln of amplitude over ln f
 */
export function bandCells(lnf: Float64Array, from: number, to: number, shape: (lnf: number) => number): readonly BandCell[] {
  const n = lnf.length;
  const [low, high] = [lnf[0]!, lnf[n - 1]!];
  const [start, end] = [Math.max(low, from), Math.min(high, to)];
  const nodes = quadrature(lnf, start, end);
  const count = Math.max(1, Math.round(((end - start) / Math.LN2) * PER_OCTAVE));
  const slopes = slopesOf(lnf);
  const cells: BandCell[] = [];
  for (let cell = 0; cell < count; cell++) {
    const inside = nodes.filter(({ at }) => Math.min(count - 1, Math.floor(((at - start) / (end - start)) * count)) === cell);
    if (inside.length === 0) continue;
    const total = inside.reduce((sum, { weight }) => sum + weight, 0);
    const [weights, bySlope, byStep] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
    let ownShape = 0;
    for (const { at, weight } of inside) {
      ownShape += (weight / total) * shape(at);
      const [a, b] = [Math.max(low, at - HALF), Math.min(high, at + HALF)];
      const scale = weight / total / (b - a);
      for (let i = intervalOf(lnf, a); i + 1 < n && lnf[i]! < b; i++) {
        const h = lnf[i + 1]! - lnf[i]!;
        const [s, t] = [Math.max(0, (a - lnf[i]!) / h), Math.min(1, (b - lnf[i]!) / h)];
        const line = (t * t - s * s) / 2;
        weights[i]! += scale * h * (t - s - line);
        weights[i + 1]! += scale * h * line;
        const [left, right] = [leftSlope(t) - leftSlope(s), rightSlope(t) - rightSlope(s)];
        bySlope[i]! += scale * h * h * left;
        bySlope[i + 1]! -= scale * h * h * right;
        byStep[i]! += scale * h * (right - left);
      }
    }
    const strays = byStep.map(Math.abs);
    bySlope.forEach((size, i) => slopes[i]!.forEach(({ step, size: per }) => (strays[step]! += Math.abs(size) * per)));
    const [c0, c1] = [inside[0]!.at, inside[inside.length - 1]!.at];
    const cut = c0 - HALF < low || c1 + HALF > high;
    // Where data end, windows differ in length, too: then all of the window counts.
    const ends = (
      cut
        ? [[Math.max(low, c0 - HALF), Math.min(high, c1 + HALF)]]
        : [
            [c0 - HALF, c1 - HALF],
            [c0 + HALF, c1 + HALF],
          ]
    ).map(([p, q]) => [intervalOf(lnf, p!), Math.min(n, intervalOf(lnf, q!) + 2)] as const);
    const widths = [c0, c1, low + HALF, high - HALF]
      .filter((at) => at >= c0 && at <= c1)
      .map((at) => Math.min(high, at + HALF) - Math.max(low, at - HALF));
    const [widest, narrowest] = [Math.max(...widths), Math.min(...widths)];
    const steepest = Math.max(
      ...ends.flatMap(([i, j]) => Array.from({ length: j - i }, (_, k) => slopeSize(slopes[i + k]!) * spacing(lnf, i + k))),
    );
    const [first, last] = extent(weights, strays);
    cells.push({
      first,
      weights: weights.slice(first, last + 1),
      strays: strays.slice(first, last + 1),
      ends,
      apart: ((cut ? 1 : 0) * (widest / narrowest - 1) + (c1 - c0) / narrowest) / 2,
      beyond: (16 / 27) * (1 + steepest),
      shape: ownShape,
      share: total / (end - start),
    });
  }
  return cells;
}

/** Where the loss takes levels, and what each counts: three to each piece between the places at which a window's end passes a sample. */
function quadrature(lnf: Float64Array, from: number, to: number): readonly { readonly at: number; readonly weight: number }[] {
  const bends = [...lnf].flatMap((at) => [at - HALF, at + HALF]).sort((a, b) => a - b);
  const nodes: { readonly at: number; readonly weight: number }[] = [];
  let a = from;
  for (const bend of [...bends.filter((at) => at > from && at < to), to]) {
    const [middle, half] = [(a + bend) / 2, (bend - a) / 2];
    if (half > 0) NODES.forEach((node, k) => nodes.push({ at: middle + half * node, weight: half * WEIGHTS[k]! }));
    a = bend;
  }
  return nodes;
}

/** Of every sample's slope through its five nearest: by how much each step between neighbours can count in it. */
function slopesOf(lnf: Float64Array): readonly (readonly { readonly step: number; readonly size: number }[])[] {
  const n = lnf.length;
  const width = Math.min(5, n);
  return Array.from(lnf, (x, k) => {
    const first = Math.min(Math.max(k - 2, 0), n - width);
    const steps = new Float64Array(n);
    for (let j = first; j < first + width; j++) {
      if (j === k) continue;
      let weight = 1 / (lnf[j]! - x);
      for (let m = first; m < first + width; m++) if (m !== j && m !== k) weight *= (x - lnf[m]!) / (lnf[j]! - lnf[m]!);
      for (let step = Math.min(j, k); step < Math.max(j, k); step++) steps[step]! += j > k ? weight : -weight;
    }
    return [...steps].flatMap((size, step) => (size === 0 ? [] : [{ step, size: Math.abs(size) }]));
  });
}

function slopeSize(own: readonly { readonly size: number }[]): number {
  return own.reduce((sum, { size }) => sum + size, 0);
}

/** The wider of the two intervals beside a sample. */
function spacing(lnf: Float64Array, i: number): number {
  return Math.max(i > 0 ? lnf[i]! - lnf[i - 1]! : 0, i + 1 < lnf.length ? lnf[i + 1]! - lnf[i]! : 0);
}

/** ∫ s(1−s)² ds from 0: what the slope at an interval's beginning adds to the straight line. */
function leftSlope(t: number): number {
  return t * t * (1 / 2 + t * (-2 / 3 + t / 4));
}

/** ∫ s²(1−s) ds from 0: what the slope at its end takes away. */
function rightSlope(t: number): number {
  return t * t * t * (1 / 3 - t / 4);
}

/** The interval in which something lies. */
function intervalOf(lnf: Float64Array, at: number): number {
  let [low, high] = [0, lnf.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (lnf[middle]! <= at) low = middle;
    else high = middle;
  }
  return low;
}

function extent(weights: Float64Array, strays: Float64Array): readonly [number, number] {
  let [first, last] = [weights.length, 0];
  weights.forEach((weight, i) => {
    if (weight > 0 || strays[i]! > 0) [first, last] = [Math.min(first, i), Math.max(last, i)];
  });
  return [first, last];
}
