import type { ChangedNetwork } from "../../network/internal";
import { counts } from "./kinds";
import type { Observed } from "./observed";
import type { Repeatability } from "./repeatability";
import { signAndDelayFit, type SignAndDelays } from "./sign-and-delay";

/** dB per neper: 20/ln 10. */
export const DB_PER_NEPER = 20 / Math.LN10;

/**
 * Residuals of a prediction, so scaled that the root of their sum of squares is the misfit in units of the repeatability: level, phase
 * and impedance count equally where they were measured. Differences of pressure are relative to the measured one or, in a null,
 * to the stronger branch of the drawing, so that nulls don't rule. With p and q predicted and measured, |p − q|² = (|p| − |q|)² + 4|p||q| sin²(φ/2):
 * the first is the level's part, the second the phase's, after one sign for all places and one delay for each.
 */
export function misfitOf(observed: Observed, drawn: ChangedNetwork, { levelDb, path, impedance: share }: Repeatability) {
  const { places, impedance, source, frequencies, speedOfSound, phaseStride: stride } = observed;
  const { levels, phases, ohms, kinds } = counts(observed);
  const pressureScale = DB_PER_NEPER / levelDb / Math.sqrt(levels * kinds);
  const ohmScale = impedance === undefined ? 0 : 1 / share / Math.sqrt((ohms / 2) * kinds);
  const phaseScale = 1 / Math.sqrt(phases * kinds);
  // What a repeated measurement may turn one driver against another by: a part of its size, and what a path does at this frequency.
  const angles = frequencies.map((f) => Math.hypot(levelDb / DB_PER_NEPER, (2 * Math.PI * f * path) / speedOfSound));
  const fit = signAndDelayFit(frequencies);
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
  const gainOf = (p: number) => Math.hypot(factor.re[p]!, factor.im[p]!);
  behindSource(drawn);
  const strongest = places.map(({ size, re, im, from, to }) => {
    const all = size.slice();
    for (let p = from; p < to; p++) {
      const gain = gainOf(p);
      for (let d = 0; d < re.length; d++)
        all[p] = Math.max(
          all[p]!,
          gain * Math.hypot(re[d]![p]!, im[d]![p]!) * Math.hypot(drawn.voltageRe[d]![p]!, drawn.voltageIm[d]![p]!),
        );
    }
    return all;
  });
  // Where branches meet askew, a path turns into level: |p| moves by Im(b·p*)/|p| for each radian that a branch b is turned by. In units of the level's own repeatability.
  const levelUnits = places.map(({ size, re, im, from, to }, place) => {
    const units = size.map(() => 1);
    for (let p = from; p < to; p++) {
      const branches = re.map((_, d): readonly [number, number] => {
        const [vr, vi, br, bi] = [drawn.voltageRe[d]![p]!, drawn.voltageIm[d]![p]!, re[d]![p]!, im[d]![p]!];
        return [br * vr - bi * vi, br * vi + bi * vr];
      });
      const [x, y] = branches.reduce(([sx, sy], [bx, by]) => [sx + bx, sy + by], [0, 0]);
      const sum = Math.hypot(x, y);
      const moved = branches.reduce((total, [bx, by]) => total + (sum > 0 ? (by * x - bx * y) / sum : 0) ** 2, 0);
      const strong = strongest[place]![p]!;
      const turns = (2 * Math.PI * frequencies[p]! * path) / speedOfSound;
      const unit = Math.hypot(1, ((DB_PER_NEPER / levelDb) * turns * gainOf(p) * Math.sqrt(moved)) / strong);
      // In silence, and beyond what a number holds, nothing is added.
      if (Number.isFinite(unit)) units[p] = unit;
    }
    return units;
  });
  const cross = places.map(({ from, to, complex }) =>
    complex === undefined
      ? undefined
      : { re: new Float64Array(frequencies.length), im: new Float64Array(frequencies.length), from, to, stride },
  );
  const [sumRe, sumIm] = [new Float64Array(frequencies.length), new Float64Array(frequencies.length)];
  const perOhm = impedance?.re.map((r, p) => ohmScale / Math.hypot(r, impedance.im[p]!)) ?? sumRe;
  const plainSquares = places.map(() => 0);
  const timed = cross.flatMap((products) => products ?? []);
  const run = (
    predicted: ChangedNetwork,
    signs: readonly number[],
    out: Float64Array,
  ): { readonly misfit: number; readonly fitted: SignAndDelays } => {
    behindSource(predicted);
    let [at, sum] = [0, 0];
    // Loops, not callbacks: numbers that a callback changes are kept on the heap, and that takes twice as long.
    for (let place = 0; place < places.length; place++) {
      const { size, re, im, from, to, complex } = places[place]!;
      const [products, stronger, units] = [cross[place], strongest[place]!, levelUnits[place]!];
      let plain = 0;
      sumRe.fill(0, from, to);
      sumIm.fill(0, from, to);
      for (let d = 0; d < re.length; d++) {
        const [pressureRe, pressureIm, voltageRe, voltageIm] = [re[d]!, im[d]!, predicted.voltageRe[d]!, predicted.voltageIm[d]!];
        const sign = signs[d]!;
        for (let p = from; p < to; p++) {
          const vr = voltageRe[p]! * sign;
          const vi = voltageIm[p]! * sign;
          sumRe[p]! += pressureRe[p]! * vr - pressureIm[p]! * vi;
          sumIm[p]! += pressureRe[p]! * vi + pressureIm[p]! * vr;
        }
      }
      for (let p = from; p < to; p++) {
        const x = sumRe[p]!;
        const y = sumIm[p]!;
        const fr = factor.re[p]!;
        const fi = factor.im[p]!;
        const strong = stronger[p]!;
        const magnitude = Math.sqrt((x * x + y * y) * (fr * fr + fi * fi));
        // In silence nothing is relative to anything; and what is a hundred times too loud is no better known for being more.
        const off = magnitude === size[p]! ? 0 : Math.max(-LOUDEST, Math.min(LOUDEST, (magnitude - size[p]!) / strong));
        plain += off * off;
        const e = (pressureScale * off) / units[p]!;
        out[at++] = e;
        sum += e * e;
        if (products === undefined || (p - from) % stride !== 0) continue;
        // p·q*, relative to the stronger branch twice, and no more than that: how loud it is, the level's part tells.
        const largest = Math.max(strong, magnitude) * strong * angles[p]! ** 2;
        const px = x * fr - y * fi;
        const py = x * fi + y * fr;
        // Beyond what a number holds there is no phase.
        const told = largest > 0 && largest < Infinity && Number.isFinite(px + py);
        products.re[p] = told ? (px * complex!.re[p]! + py * complex!.im[p]!) / largest : 0;
        products.im[p] = told ? (py * complex!.re[p]! - px * complex!.im[p]!) / largest : 0;
      }
      plainSquares[place] = plain;
    }
    const fitted = fit.fit(timed);
    for (let index = 0; index < timed.length; index++) {
      const { re, im, from, to } = timed[index]!;
      const { cos, sin } = fit.turn(fitted.steps[index]!);
      for (let p = from; p < to; p += stride) {
        const along = fitted.sign * (re[p]! * cos[p]! - im[p]! * sin[p]!);
        const beside = fitted.sign * (re[p]! * sin[p]! + im[p]! * cos[p]!);
        // 2·sin(φ/2) of the product's size, with the sign of φ.
        const e = phaseScale * Math.sign(beside) * Math.sqrt(Math.max(0, 2 * (Math.sqrt(along * along + beside * beside) - along)));
        out[at++] = e;
        sum += e * e;
      }
    }
    if (impedance !== undefined) {
      for (let p = impedance.from; p < impedance.to; p++) {
        const yr = predicted.inputRe[p]!;
        const yi = predicted.inputIm[p]!;
        // An open circuit has no finite impedance: a megohm stands for it.
        const square = yr * yr + yi * yi + 1e-12;
        const measured = perOhm[p]!;
        // Beyond ten times too much nothing is told any more, and one open part must not drown all else.
        const limit = 10 * ohmScale;
        const er = Math.max(-limit, Math.min(limit, (yr / square - impedance.re[p]!) * measured));
        const ei = Math.max(-limit, Math.min(limit, (-yi / square - impedance.im[p]!) * measured));
        out[at++] = er;
        out[at++] = ei;
        sum += er * er + ei * ei;
      }
    }
    return { misfit: Math.sqrt(sum), fitted };
  };
  return {
    misfit: (predicted: ChangedNetwork, signs: readonly number[], out: Float64Array): number => run(predicted, signs, out).misfit,
    /** Of the whole against a prediction: −1 where everything is turned round. */
    signOf: (predicted: ChangedNetwork, signs: readonly number[]) =>
      run(predicted, signs, new Float64Array(levels + phases + ohms)).fitted.sign,
    /** dB of the stronger branch, root mean square over all places and at each, of what was predicted last: the plain numbers. */
    levelsDb: () => ({
      all: DB_PER_NEPER * Math.sqrt(plainSquares.reduce((sum, each) => sum + each, 0) / levels),
      places: places.map(({ from, to }, index) => DB_PER_NEPER * Math.sqrt(plainSquares[index]! / (to - from))),
    }),
    /** Predicted times measured of what was predicted last, place by place, in units of the repeatability squared; undefined where the phase isn't compared. */
    productsOf: () => cross,
  };
}

/** Times the stronger branch. */
const LOUDEST = 100;
