/**
 * How an interval between two samples is interpolated once the bulk delay is removed: by log magnitude and phase (`polar`);
 * by real and imaginary part, across a null (`null`) or where they are the smoother pair (`parts`); or not at all, since the
 * phase turns by more than 90° and no null explains it (`refused`).
 */
export type IntervalKind = "polar" | "parts" | "null" | "refused";

/** A response over ln f without its bulk delay, in both forms. */
interface Samples {
  readonly x: Float64Array;
  readonly size: Float64Array;
  readonly logMagnitude: Float64Array;
  /** rad, unwrapped. */
  readonly phase: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** rad, from each sample to the next. */
  readonly steps: Float64Array;
  /** How much each step counts. */
  readonly weights: Float64Array;
}

/** How far, as a ratio, the lower of two samples must lie below both outer neighbours to count as a dip: 3 dB. */
const dip = Math.SQRT1_2;

/**
 * The mean cosine of the steps must reach this, or no value between samples is trusted: steps spread at random over the circle come
 * to 2/√n at most when the best of some hundred delays is chosen for them. It says nothing about fewer steps than `fewest`.
 */
const coherence = 0.6;
const fewest = 12;

/** The kind of each of the n − 1 intervals. */
export function intervalKinds(samples: Samples): readonly IntervalKind[] {
  if (!coherent(samples)) return Array.from(samples.steps, () => "refused");
  return Array.from(samples.steps, (step, i): IntervalKind => {
    if (Math.min(samples.size[i]!, samples.size[i + 1]!) === 0) return "null";
    if (Math.abs(step) > Math.PI / 2) return dips(samples.size, i) ? "null" : "refused";
    return samples.x[i] === -Infinity || partsAreSmoother(samples, i) ? "parts" : "polar";
  });
}

function coherent({ steps, weights }: Samples): boolean {
  let [sum, total] = [0, 0];
  for (let i = 0; i < steps.length; i++) {
    sum += weights[i]! * Math.cos(steps[i]!);
    total += weights[i]!;
  }
  return steps.length < fewest || sum >= coherence * total;
}

function dips(size: Float64Array, i: number): boolean {
  const outer = Math.min(size[i - 1] ?? Infinity, size[i + 2] ?? Infinity);
  return outer < Infinity && Math.min(size[i]!, size[i + 1]!) <= dip * outer;
}

/**
 * Compares the third differences over the four samples around an interval, relative to the magnitude: near a shallow null or
 * beside a deep one the logarithm and the phase bend sharply while the parts do not; on a steep slope it is the other way.
 */
function partsAreSmoother({ x, size, logMagnitude, phase, re, im }: Samples, i: number): boolean {
  const lowest = x[0] === -Infinity ? 1 : 0;
  const first = Math.min(Math.max(i - 1, lowest), x.length - 4);
  if (first < lowest) return false;
  const [polar, parts] = [
    [0, 0],
    [0, 0],
  ] as [[number, number], [number, number]];
  for (let j = first; j < first + 4; j++) {
    if (size[j] === 0) return true;
    let weight = 1;
    for (let m = first; m < first + 4; m++) if (m !== j) weight /= x[j]! - x[m]!;
    polar[0] += weight * logMagnitude[j]!;
    polar[1] += weight * phase[j]!;
    parts[0] += weight * re[j]!;
    parts[1] += weight * im[j]!;
  }
  return Math.hypot(...parts) < Math.min(size[i]!, size[i + 1]!) * Math.hypot(...polar);
}
