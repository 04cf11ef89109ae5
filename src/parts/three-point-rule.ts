/** Driver parameters by the classic rule: the peak and two points beside it. */
export interface ThreePointParameters {
  /** Ω: stated, or the real part that was least. */
  readonly re: number;
  /** Hz */
  readonly fs: number;
  /** Mechanical Q, dimensionless. */
  readonly qms: number;
  /** Electrical Q, dimensionless. */
  readonly qes: number;
  /** Total Q, dimensionless. */
  readonly qts: number;
  /** Ω: |Z| at fs. */
  readonly zmax: number;
  /** Hz: where |Z| = √(Re Zmax), below and above fs. */
  readonly f1: number;
  /** Hz: the upper of the two. */
  readonly f2: number;
  /** Dimensionless: √(f₁f₂)/fs, 1 for a symmetrical peak; what differs is the coil's (or an air leak's) doing. */
  readonly symmetry: number;
}

/**
 * Index of the resonance peak: where |Z| stands highest above the lowest values on both of its sides (as a ratio), so that neither the coil's rise
 * nor scatter is taken for it; −1 when no point stands above both. An end never does.
 */
export function peakIndex(magnitude: ArrayLike<number>): number {
  const n = magnitude.length;
  const behind = new Float64Array(n + 1).fill(Infinity);
  for (let k = n - 1; k >= 0; k--) behind[k] = Math.min(behind[k + 1]!, magnitude[k]!);
  let best = -1;
  let most = 1;
  let before = Infinity;
  for (let k = 0; k < n; k++) {
    before = Math.min(before, magnitude[k]!);
    const height = magnitude[k]! / Math.max(before, behind[k]!);
    if (height > most) [most, best] = [height, k];
  }
  return best;
}

/**
 * The rule on sampled |Z| with its peak at index `top`, or one sentence why it does not apply: fs and Zmax from the parabola over ln f
 * through the highest three points, f₁ and f₂ where |Z| crosses √(Re Zmax), straight over ln f and ln |Z| between samples. After
 * Thiele (1971) and Small (1972).
 */
export function threePointRule(
  frequencies: ArrayLike<number>,
  magnitude: ArrayLike<number>,
  re: number,
  top: number,
): ThreePointParameters | string {
  const [x0, x1, x2] = [-1, 0, 1].map((i) => Math.log(frequencies[top + i]!)) as [number, number, number];
  const [y0, y1, y2] = [-1, 0, 1].map((i) => magnitude[top + i]!) as [number, number, number];
  const s1 = (y1 - y0) / (x1 - x0);
  const s2 = (y2 - y1) / (x2 - x1);
  const bend = (s2 - s1) / (x2 - x0);
  // Where the samples are too close together for a slope, the highest is the peak.
  const bends = bend < 0 && Number.isFinite(bend);
  const x = bends ? (x0 + x1) / 2 - s1 / (2 * bend) : x1;
  const zmax = bends ? y0 + s1 * (x - x0) + bend * (x - x0) * (x - x1) : y1;
  const fs = Math.exp(x);
  const r0 = zmax / re;
  // Then √(Re Zmax) is crossed on either side of the highest sample.
  if (!(y1 > re * Math.sqrt(r0))) return `the peak of ${zmax.toPrecision(4)} Ω is not above Re = ${re} Ω`;
  const target = Math.log(re * Math.sqrt(r0));
  const crossing = (direction: -1 | 1): number | undefined => {
    for (let k = top; k + direction >= 0 && k + direction < magnitude.length; k += direction) {
      const inner = Math.log(magnitude[k]!);
      const outer = Math.log(magnitude[k + direction]!);
      if (outer > target) continue;
      const share = (inner - target) / (inner - outer);
      return Math.exp(Math.log(frequencies[k]!) * (1 - share) + Math.log(frequencies[k + direction]!) * share);
    }
    return undefined;
  };
  const f1 = crossing(-1);
  const f2 = crossing(1);
  if (f1 === undefined || f2 === undefined) {
    return `|Z| does not fall to √(Re Zmax) = ${Math.exp(target).toPrecision(4)} Ω ${f1 === undefined ? "below" : "above"} the peak at ${fs.toPrecision(4)} Hz`;
  }
  const qms = (fs * Math.sqrt(r0)) / (f2 - f1);
  const qes = qms / (r0 - 1);
  if (!(qms > 0 && qes < Infinity)) return `the samples around the peak at ${fs.toPrecision(4)} Hz are too close together`;
  return Object.freeze({ re, fs, qms, qes, qts: (qms * qes) / (qms + qes), zmax, f1, f2, symmetry: Math.sqrt(f1 * f2) / fs });
}
