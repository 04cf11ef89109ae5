import type { FrequencyResponse } from "./sampled-function";
import { unitTurn } from "./unit-turn";

/** One frequency: |P₁|, |P₂| and |sum| re the louder of the two, and the phase of P₂ against P₁ in turns. */
export interface OffsetPoint {
  readonly f: number;
  readonly a: number;
  readonly b: number;
  readonly sum: number;
  readonly turns: number;
}

/** The frequencies of a band at which there is sound. */
export function overlapOf(
  first: FrequencyResponse,
  second: FrequencyResponse,
  both: FrequencyResponse,
  low: number,
  high: number,
): OffsetPoint[] {
  const points: OffsetPoint[] = [];
  for (let k = 0; k < first.frequencies.length; k++) {
    const f = first.frequencies[k]!;
    const a = Math.hypot(first.re[k]!, first.im[k]!);
    const b = Math.hypot(second.re[k]!, second.im[k]!);
    const louder = Math.max(a, b);
    if (f < low || f > high || f === 0 || louder === 0) continue;
    const turns = (Math.atan2(second.im[k]!, second.re[k]!) - Math.atan2(first.im[k]!, first.re[k]!)) / (2 * Math.PI);
    points.push({ f, a: a / louder, b: b / louder, sum: Math.hypot(both.re[k]!, both.im[k]!) / louder, turns });
  }
  return points;
}

/** The squared misfit of a delay and a polarity, and how it grows. */
export function residuals(
  points: readonly OffsetPoint[],
  tau: number,
  sign: 1 | -1,
): { squares: number; slopeSquares: number; cross: number } {
  let squares = 0;
  let slopeSquares = 0;
  let cross = 0;
  for (const { f, a, b, sum, turns } of points) {
    const [cos, sin] = unitTurn(turns - f * tau);
    const model = Math.sqrt(Math.max(0, a * a + b * b + 2 * sign * a * b * cos));
    const residual = model - sum;
    // d|model| / dτ
    const slope = model > 1e-9 ? (sign * a * b * sin * 2 * Math.PI * f) / model : 0;
    squares += residual * residual;
    slopeSquares += slope * slope;
    cross += slope * residual;
  }
  return { squares, slopeSquares, cross };
}

/**
 * All minima of the misfit within the reach, looked for 16 times per period of the highest frequency, best first; each refined by
 * Gauss–Newton steps that are halved until they help.
 */
export function searchDelays(
  points: readonly OffsetPoint[],
  reach: number,
  count: number,
  signs: readonly (1 | -1)[],
): { tau: number; sign: 1 | -1; squares: number }[] {
  const found: { tau: number; sign: 1 | -1; squares: number }[] = [];
  for (const sign of signs) {
    const misfits = Array.from({ length: count + 1 }, (_, i) => residuals(points, -reach + (2 * reach * i) / count, sign).squares);
    for (let i = 0; i <= count; i++) {
      if ((misfits[i - 1] ?? Infinity) < misfits[i]! || (misfits[i + 1] ?? Infinity) < misfits[i]!) continue;
      let tau = -reach + (2 * reach * i) / count;
      let now = residuals(points, tau, sign);
      for (let round = 0; round < 50 && now.slopeSquares > 0; round++) {
        let change = -now.cross / now.slopeSquares;
        let next = residuals(points, tau + change, sign);
        for (let halvings = 0; halvings < 30 && next.squares > now.squares; halvings++) {
          change /= 2;
          next = residuals(points, tau + change, sign);
        }
        if (!(next.squares < now.squares)) break;
        tau += change;
        now = next;
        if (Math.abs(change) < 1e-13) break;
      }
      if (Math.abs(tau) <= reach * (1 + 1e-9)) found.push({ tau, sign, squares: now.squares });
    }
  }
  return found.sort((p, q) => p.squares - q.squares);
}
