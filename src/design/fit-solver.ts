import type { Entries } from "../network";
import type { ComplexArrays } from "../numeric";
import type { SourceResponse } from "../network/internal";
import { eliminateSmall } from "../numeric/internal";
import { expandPart, isCoupling } from "../parts/internal";
import type { MovingValue } from "./moving-value";
import { movingBranch, type Branch, type MovingBranch } from "./moving-branch";
import { stamp } from "./stamp";

/** What a network's solution gives: V/V of what is watched, parts or nodes against `gnd`, the source's impedance in it, and Z in Ω without it. */
export interface Solved {
  readonly voltages: readonly ComplexArrays[];
  readonly impedance: ComplexArrays;
}

/** Solves one network again and again for other values; its arrays are its own and are written over by the next call. */
export interface FitSolver {
  /** At logarithms of values; false where it can't be solved. */
  readonly solve: (x: Float64Array) => boolean;
  readonly solved: Solved;
  /** The same with its slopes by each logarithm. */
  readonly differentiate: (x: Float64Array) => boolean;
  readonly moved: readonly Solved[];
}

/** A part of the largest admittance in its row below which a pivot counts as 0. */
const VANISHED = 1e-13;

/**
 * A solver made for one drawing; undefined for what it doesn't know: coupled coils, transformers, shorts. Nodal equations are eliminated at each frequency; one more solution by each voltage that is watched, of 1 A into its terminals,
 * gives all slopes (the adjoint method, see `sensitivities`).
 */
export function fitSolver(
  network: Entries,
  variables: readonly MovingValue[],
  watched: readonly string[],
  frequencies: Float64Array,
  source: SourceResponse,
): FitSolver | undefined {
  // One value a part.
  if (new Set(variables.map(({ part }) => part)).size < variables.length) return undefined;
  const n = frequencies.length;
  const numbers = new Map([
    ["gnd", 0],
    ["in", 1],
  ]);
  const number = (node: string) => {
    if (!numbers.has(node)) numbers.set(node, numbers.size);
    return numbers.get(node)!;
  };
  const [branches, moving]: [Branch[], MovingBranch[]] = [[], []];
  const complexes = (): ComplexArrays => ({ re: new Float64Array(n), im: new Float64Array(n) });
  for (const [name, [part, ...nodes]] of Object.entries(network)) {
    if (isCoupling(part)) return undefined;
    const expansion = expandPart(part);
    if (expansion.transformers !== undefined || expansion.couplings !== undefined) return undefined;
    const variable = variables.findIndex((each) => each.part === name);
    for (const { from, to, law, values } of expansion.branches) {
      const evaluator = law.bind(frequencies);
      const { re, im } = complexes();
      const ends = { from: number(nodes[from]!), to: number(nodes[to]!) };
      if (variable < 0) {
        evaluator.admittance(Float64Array.from(values), 0, 0, n, re, im, 0);
        if (!re.every(Number.isFinite) || !im.every(Number.isFinite)) return undefined;
        branches.push({ ...ends, re, im });
        continue;
      }
      const main = law.parameters.indexOf(variables[variable]!.parameter);
      const dcr = law.parameters.indexOf("dcr");
      if (main < 0) return undefined;
      const one = movingBranch({ ...ends, re, im }, variable, variables[variable]!, evaluator, Float64Array.from(values), main, dcr);
      branches.push(one);
      moving.push(one);
    }
  }
  if (!watched.every((name) => numbers.has(name) || Object.hasOwn(network, name))) return undefined;
  const m = numbers.size - 2;
  const W = watched.length;
  const width = m + 1 + W;
  const a = new Float64Array(2 * m * width);
  const ends = watched.map((name): readonly [number, number] =>
    numbers.has(name) ? [number(name), 0] : [number(network[name]![1]), number(network[name]![2])],
  );
  /** By frequency: node voltages, then for each driver the voltages that 1 A into it makes. */
  const all = new Float64Array(2 * (1 + W) * (m + 2));
  const solved: Solved = { voltages: watched.map(complexes), impedance: complexes() };
  const moved: readonly Solved[] = variables.map(() => ({ voltages: watched.map(complexes), impedance: complexes() }));
  const bare = watched.map(() => [0, 0]);

  const run = (x: Float64Array, slopes: boolean): boolean => {
    for (const one of moving) one.set(x[one.variable]!, slopes);
    const used = slopes ? width : m + 1;
    if (slopes) {
      for (const { voltages, impedance } of moved) {
        for (const each of [...voltages, impedance]) {
          each.re.fill(0);
          each.im.fill(0);
        }
      }
    }
    for (let f = 0; f < n; f++) {
      a.fill(0);
      for (let b = 0; b < branches.length; b++) {
        const { from, to, re, im } = branches[b]!;
        if (from === to) continue;
        stamp(a, width, m, from, to, re[f]!, im[f]!);
        stamp(a, width, m, to, from, re[f]!, im[f]!);
      }
      if (slopes)
        for (let w = 0; w < W; w++)
          for (let end = 0; end < 2; end++)
            if (ends[w]![end]! > 1) a[2 * ((ends[w]![end]! - 2) * width + m + 1 + w)]! += end === 0 ? 1 : -1;
      if (!eliminateSmall(a, width, m, used, VANISHED)) return false;
      all.fill(0);
      all[2] = 1;
      for (let c = 0; c < used - m; c++) {
        for (let node = 0; node < m; node++) {
          all[2 * (c * (m + 2) + node + 2)] = a[2 * (node * width + m + c)]!;
          all[2 * (c * (m + 2) + node + 2) + 1] = a[2 * (node * width + m + c) + 1]!;
        }
      }
      let [yr, yi] = [0, 0];
      for (let b = 0; b < branches.length; b++) {
        const { from, to, re, im } = branches[b]!;
        if (from === to || (from !== 1 && to !== 1)) continue;
        const other = from === 1 ? to : from;
        const [dr, di] = [1 - all[2 * other]!, -all[2 * other + 1]!];
        yr += re[f]! * dr - im[f]! * di;
        yi += re[f]! * di + im[f]! * dr;
      }
      // V at `in` behind the source: 1/(1 + Zs·Y).
      let [vr, vi] = [1, 0];
      const [zr, zi] = source === undefined ? [0, 0] : [source.re[f]!, source.im[f]!];
      if (source !== undefined) {
        const [sr, si] = [1 + zr * yr - zi * yi, zr * yi + zi * yr];
        const square = sr * sr + si * si;
        [vr, vi] = [sr / square, -si / square];
      }
      const square = yr * yr + yi * yi;
      const [ir, ii] = [yr / square, -yi / square];
      solved.impedance.re[f] = ir;
      solved.impedance.im[f] = ii;
      for (let w = 0; w < W; w++) {
        const [p, q] = ends[w]!;
        const [r, i] = [all[2 * p]! - all[2 * q]!, all[2 * p + 1]! - all[2 * q + 1]!];
        bare[w]![0] = r;
        bare[w]![1] = i;
        solved.voltages[w]!.re[f] = r * vr - i * vi;
        solved.voltages[w]!.im[f] = r * vi + i * vr;
      }
      if (!slopes) continue;
      for (let b = 0; b < moving.length; b++) {
        const { from, to, variable, slopeRe, slopeIm } = moving[b]!;
        const [ur, ui] = [all[2 * from]! - all[2 * to]!, all[2 * from + 1]! - all[2 * to + 1]!];
        const [sr, si] = [slopeRe[f]! * ur - slopeIm[f]! * ui, slopeRe[f]! * ui + slopeIm[f]! * ur];
        // ∂Y = U²·∂y, ∂Z = −∂Y/Y².
        const [gr, gi] = [sr * ur - si * ui, sr * ui + si * ur];
        const [jr, ji] = [ir * ir - ii * ii, 2 * ir * ii];
        const own = moved[variable]!;
        own.impedance.re[f]! -= gr * jr - gi * ji;
        own.impedance.im[f]! -= gr * ji + gi * jr;
        // What the source loses: −Zs·∂Y·V².
        const [lr, li] = [-(zr * gr - zi * gi), -(zr * gi + zi * gr)];
        for (let w = 0; w < W; w++) {
          const at = (1 + w) * (m + 2);
          const [xr, xi] = [all[2 * (at + from)]! - all[2 * (at + to)]!, all[2 * (at + from) + 1]! - all[2 * (at + to) + 1]!];
          const [hr, hi] = [bare[w]![0]!, bare[w]![1]!];
          // ∂(H·V) = (−λ·∂y·U + H·(−Zs·∂Y)·V)·V.
          const [cr, ci] = [lr * vr - li * vi, lr * vi + li * vr];
          const [tr, ti] = [-(xr * sr - xi * si) + hr * cr - hi * ci, -(xr * si + xi * sr) + hr * ci + hi * cr];
          own.voltages[w]!.re[f]! += tr * vr - ti * vi;
          own.voltages[w]!.im[f]! += tr * vi + ti * vr;
        }
      }
    }
    return true;
  };
  return { solve: (x) => run(x, false), solved, differentiate: (x) => run(x, true), moved };
}
