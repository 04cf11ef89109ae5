import type { ComplexArrays } from "../../numeric";
import type { NodalSolution } from "./nodal-solution";

/** One change of a network: an admittance num/den (S) added between two nodes, by frequency; den 0 is a short. */
export interface NodalChange {
  readonly from: number;
  readonly to: number;
  readonly numRe: Float64Array;
  readonly numIm: Float64Array;
  readonly denRe: Float64Array;
  readonly denIm: Float64Array;
}

/** What changes of a network do: fills `voltages` (pair by pair, re and im by point) and the input admittance. */
export interface ChangedNetwork {
  readonly voltageRe: readonly Float64Array[];
  readonly voltageIm: readonly Float64Array[];
  readonly inputRe: Float64Array;
  readonly inputIm: Float64Array;
}

/**
 * A function of up to two changes at fixed pairs of nodes that gives the voltages across `outputs` and the input admittance. What
 * depends on the pairs alone is made once, so that a value can be fitted cheaply. The arrays of the answer are used again by the next call.
 */
export function changer(
  solution: NodalSolution,
  pairs: readonly (readonly [number, number])[],
  outputs: readonly (readonly [number, number])[],
): (changes: readonly NodalChange[]) => ChangedNetwork {
  const { points } = solution;
  const out = new Float64Array(2);
  const table = (fill: (point: number) => void) => {
    const [re, im] = [new Float64Array(points), new Float64Array(points)];
    for (let point = 0; point < points; point++) {
      fill(point);
      re[point] = out[0]!;
      im[point] = out[1]!;
    }
    return { re, im };
  };
  const across = pairs.map(([a, b]) => table((point) => solution.voltage(a, b, point, out)));
  const between = pairs.map((a) => pairs.map((b) => table((point) => solution.transfer(a, b, point, out))));
  const base = outputs.map(([a, b]) => table((point) => solution.voltage(a, b, point, out)));
  const reach = outputs.map((pair) => pairs.map((b) => table((point) => solution.transfer(pair, b, point, out))));
  const answer = {
    voltageRe: outputs.map(() => new Float64Array(points)),
    voltageIm: outputs.map(() => new Float64Array(points)),
    inputRe: new Float64Array(points),
    inputIm: new Float64Array(points),
  };
  const rank = pairs.length;
  const [xr, xi] = [new Float64Array(2), new Float64Array(2)];
  return (changes) => {
    for (let p = 0; p < points; p++) {
      solve(changes, between, across, p, rank, xr, xi);
      let [yr, yi] = [solution.inputRe[p]!, solution.inputIm[p]!];
      for (let r = 0; r < rank; r++) {
        yr += across[r]!.re[p]! * xr[r]! - across[r]!.im[p]! * xi[r]!;
        yi += across[r]!.re[p]! * xi[r]! + across[r]!.im[p]! * xr[r]!;
      }
      answer.inputRe[p] = yr;
      answer.inputIm[p] = yi;
      for (let o = 0; o < base.length; o++) {
        let [vr, vi] = [base[o]!.re[p]!, base[o]!.im[p]!];
        for (let r = 0; r < rank; r++) {
          const { re, im } = reach[o]![r]!;
          vr -= re[p]! * xr[r]! - im[p]! * xi[r]!;
          vi -= re[p]! * xi[r]! + im[p]! * xr[r]!;
        }
        answer.voltageRe[o]![p] = vr;
        answer.voltageIm[o]![p] = vi;
      }
    }
    return answer;
  };
}

/** (den + num·W) x = num·v for one or two changes. */
function solve(
  changes: readonly NodalChange[],
  between: readonly (readonly ComplexArrays[])[],
  across: readonly ComplexArrays[],
  p: number,
  rank: number,
  xr: Float64Array,
  xi: Float64Array,
): void {
  const first = changes[0]!;
  const [nr, ni] = [first.numRe[p]!, first.numIm[p]!];
  const w = between[0]![0]!;
  const ar = first.denRe[p]! + nr * w.re[p]! - ni * w.im[p]!;
  const ai = first.denIm[p]! + nr * w.im[p]! + ni * w.re[p]!;
  const br = nr * across[0]!.re[p]! - ni * across[0]!.im[p]!;
  const bi = nr * across[0]!.im[p]! + ni * across[0]!.re[p]!;
  if (rank === 1) {
    const size = ar * ar + ai * ai;
    if (size === 0) return void (xr[0] = xi[0] = 0);
    xr[0] = (br * ar + bi * ai) / size;
    xi[0] = (bi * ar - br * ai) / size;
    return;
  }
  const second = changes[1]!;
  const [mr, mi] = [second.numRe[p]!, second.numIm[p]!];
  const [w01, w10, w11] = [between[0]![1]!, between[1]![0]!, between[1]![1]!];
  const cr = nr * w01.re[p]! - ni * w01.im[p]!;
  const ci = nr * w01.im[p]! + ni * w01.re[p]!;
  const dr = mr * w10.re[p]! - mi * w10.im[p]!;
  const di = mr * w10.im[p]! + mi * w10.re[p]!;
  const er = second.denRe[p]! + mr * w11.re[p]! - mi * w11.im[p]!;
  const ei = second.denIm[p]! + mr * w11.im[p]! + mi * w11.re[p]!;
  const fr = mr * across[1]!.re[p]! - mi * across[1]!.im[p]!;
  const fi = mr * across[1]!.im[p]! + mi * across[1]!.re[p]!;
  const [hr, hi] = [ar * er - ai * ei - (cr * dr - ci * di), ar * ei + ai * er - (cr * di + ci * dr)];
  const size = hr * hr + hi * hi;
  if (size === 0) return void (xr[0] = xr[1] = xi[0] = xi[1] = 0);
  const put = (at: number, ur: number, ui: number) => {
    xr[at] = (ur * hr + ui * hi) / size;
    xi[at] = (ui * hr - ur * hi) / size;
  };
  put(0, br * er - bi * ei - (cr * fr - ci * fi), br * ei + bi * er - (cr * fi + ci * fr));
  put(1, ar * fr - ai * fi - (dr * br - di * bi), ar * fi + ai * fr - (dr * bi + di * br));
}
