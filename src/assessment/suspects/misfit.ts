import type { ChangedNetwork } from "../../network/internal";
import type { Observed } from "./observed";
import type { Repeatability } from "./repeatability";

/**
 * Residuals of a prediction, so scaled that the root of their sum of squares is the misfit in units of the repeatability: pressures
 * and impedance count half each where both were measured. Differences of pressure are relative to the measured one or, in a null,
 * to the stronger branch of the drawing, so that nulls don't rule.
 */
export function misfitOf(
  observed: Observed,
  drawn: ChangedNetwork,
  { levelDb, impedance: share }: Repeatability,
): (predicted: ChangedNetwork, signs: readonly number[], out: Float64Array) => number {
  const { places, impedance, source, frequencies } = observed;
  const points = places.reduce((sum, { from, to }) => sum + to - from, 0);
  const groups = (points > 0 ? 1 : 0) + (impedance === undefined ? 0 : 1);
  const pressureScale = 8.685889638 / levelDb / Math.sqrt(points * groups);
  const ohmScale = impedance === undefined ? 0 : 1 / share / Math.sqrt((impedance.to - impedance.from) * groups);
  // What the voltages at the drivers come to behind the source's impedance.
  const factor = { re: new Float64Array(frequencies.length).fill(1), im: new Float64Array(frequencies.length) };
  const behindSource = ({ inputRe, inputIm }: ChangedNetwork) => {
    if (source === undefined) return;
    for (let p = 0; p < frequencies.length; p++) {
      const re = 1 + source.re[p]! * inputRe[p]! - source.im[p]! * inputIm[p]!;
      const im = source.re[p]! * inputIm[p]! + source.im[p]! * inputRe[p]!;
      const size = re * re + im * im;
      factor.re[p] = re / size;
      factor.im[p] = -im / size;
    }
  };
  behindSource(drawn);
  const strongest = places.map(({ size, re, im, from, to }) => {
    const all = size.slice();
    for (let p = from; p < to; p++) {
      const gain = Math.hypot(factor.re[p]!, factor.im[p]!);
      for (let d = 0; d < re.length; d++)
        all[p] = Math.max(
          all[p]!,
          gain * Math.hypot(re[d]![p]!, im[d]![p]!) * Math.hypot(drawn.voltageRe[d]![p]!, drawn.voltageIm[d]![p]!),
        );
    }
    return all;
  });
  return (predicted, signs, out) => {
    behindSource(predicted);
    let [at, sum] = [0, 0];
    places.forEach(({ size, re, im, from, to }, place) => {
      for (let p = from; p < to; p++) {
        let [x, y] = [0, 0];
        for (let d = 0; d < re.length; d++) {
          const [vr, vi] = [predicted.voltageRe[d]![p]! * signs[d]!, predicted.voltageIm[d]![p]! * signs[d]!];
          x += re[d]![p]! * vr - im[d]![p]! * vi;
          y += re[d]![p]! * vi + im[d]![p]! * vr;
        }
        const magnitude = Math.sqrt((x * x + y * y) * (factor.re[p]! * factor.re[p]! + factor.im[p]! * factor.im[p]!));
        // In silence nothing is relative to anything; and what is a hundred times too loud is no better known for being more.
        const off = magnitude === size[p]! ? 0 : Math.max(-LOUDEST, Math.min(LOUDEST, (magnitude - size[p]!) / strongest[place]![p]!));
        const e = pressureScale * off;
        out[at++] = e;
        sum += e * e;
      }
    });
    if (impedance !== undefined) {
      for (let p = impedance.from; p < impedance.to; p++) {
        const [yr, yi] = [predicted.inputRe[p]!, predicted.inputIm[p]!];
        // An open circuit has no finite impedance: a megohm stands for it.
        const square = yr * yr + yi * yi + 1e-12;
        const measured = ohmScale / Math.hypot(impedance.re[p]!, impedance.im[p]!);
        // Beyond ten times too much nothing is told any more, and one open part must not drown all else.
        const limit = 10 * ohmScale;
        const er = Math.max(-limit, Math.min(limit, (yr / square - impedance.re[p]!) * measured));
        const ei = Math.max(-limit, Math.min(limit, (-yi / square - impedance.im[p]!) * measured));
        out[at++] = er;
        out[at++] = ei;
        sum += er * er + ei * ei;
      }
    }
    return Math.sqrt(sum);
  };
}

/** Times the stronger branch. */
const LOUDEST = 100;

/** How many residuals there are. */
export function residualCount({ places, impedance }: Observed): number {
  return places.reduce((sum, { from, to }) => sum + to - from, 0) + (impedance === undefined ? 0 : 2 * (impedance.to - impedance.from));
}

/** What is left of pressures and of impedance, each by itself, in units of the repeatability; undefined where it wasn't measured. */
export function halves(
  { places, impedance }: Observed,
  residuals: Float64Array,
): { readonly pressures?: number | undefined; readonly impedance?: number | undefined } {
  const points = places.reduce((sum, { from, to }) => sum + to - from, 0);
  const count = (points > 0 ? 1 : 0) + (impedance === undefined ? 0 : 1);
  const root = (part: Float64Array) => Math.sqrt(part.reduce((sum, e) => sum + e * e, 0) * count);
  return {
    pressures: points === 0 ? undefined : root(residuals.subarray(0, points)),
    impedance: impedance === undefined ? undefined : root(residuals.subarray(points)),
  };
}
