import { invertComplex, type ComplexArrays } from "../../numeric";
import { IN, type Circuit } from "../circuit";
import { throwFindings } from "../diagnose";
import type { Entries } from "../entries";

/** One change of a network: an admittance num/den (S) added between two nodes, by frequency; den 0 is a short. */
export interface NodalChange {
  readonly from: number;
  readonly to: number;
  readonly numRe: Float64Array;
  readonly numIm: Float64Array;
  readonly denRe: Float64Array;
  readonly denIm: Float64Array;
}

/**
 * A network solved once, so that what one or two changes do to it costs a few multiplications a frequency: the voltages per volt at
 * `in` and the matrix of transfer impedances (Ω) among all inner nodes. The changes follow from Woodbury's identity.
 */
export interface NodalSolution {
  readonly circuit: Circuit;
  /** Hz. */
  readonly frequencies: Float64Array;
  /** How many frequencies. */
  readonly points: number;
  /** S, of each branch, by branch and frequency. */
  readonly branchRe: readonly Float64Array[];
  readonly branchIm: readonly Float64Array[];
  /** Whether a branch is a coil that is coupled to another: its admittance is no longer its own. */
  readonly coupled: readonly boolean[];
  /** V/V of a pair of nodes, at a point. Writes re, im to out[0], out[1]. */
  voltage(from: number, to: number, point: number, out: Float64Array): void;
  /** Ω: voltage across one pair for a current into another. */
  transfer(a: readonly [number, number], b: readonly [number, number], point: number, out: Float64Array): void;
  /** S: the input admittance. */
  readonly inputRe: Float64Array;
  readonly inputIm: Float64Array;
}

/** Stands for a connection without resistance: far above any part's admittance, and harmless to double precision. */
const WIRE = 1e7;
/** Holds nodes that nothing else holds. */
const LEAK = 1e-13;

/** Solves a network for changes, at frequencies above 0 Hz; undefined when it has no single solution at one of them. */
export function nodalSolution(network: Entries, frequencies: Float64Array): NodalSolution | undefined {
  const circuit = throwFindings(network);
  const [points, inner] = [frequencies.length, circuit.nodes.length - 2];
  const groups = coupledGroups(circuit);
  const coupled = circuit.branches.map((_, branch) => groups.some((group) => group.includes(branch)));
  const tables = circuit.branches.map(({ law, values }, branch) => {
    const [re, im] = [new Float64Array(points), new Float64Array(points)];
    law.bind(frequencies).admittance(values, 0, 0, points, re, im, 0);
    for (let i = 0; i < points; i++) if (!(Math.abs(re[i]!) + Math.abs(im[i]!) < WIRE) && !coupled[branch]) [re[i], im[i]] = [WIRE, 0];
    return { re, im };
  });
  const [zRe, zIm] = [new Float64Array(points * inner * inner), new Float64Array(points * inner * inner)];
  const [vRe, vIm] = [new Float64Array(points * (inner + 2)), new Float64Array(points * (inner + 2))];
  const [inputRe, inputIm] = [new Float64Array(points), new Float64Array(points)];
  const [yRe, yIm] = [new Float64Array((inner + 2) ** 2), new Float64Array((inner + 2) ** 2)];
  const all = inner + 2;
  for (let point = 0; point < points; point++) {
    yRe.fill(0);
    yIm.fill(0);
    for (let node = 2; node < all; node++) yRe[node * all + node] = LEAK;
    const stamp = (a: number, b: number, c: number, d: number, re: number, im: number) => {
      for (const [row, sign] of [
        [a, 1],
        [b, -1],
      ] as const) {
        yRe[row * all + c]! += sign * re;
        yIm[row * all + c]! += sign * im;
        yRe[row * all + d]! -= sign * re;
        yIm[row * all + d]! -= sign * im;
      }
    };
    circuit.branches.forEach(({ from, to }, branch) => {
      if (!coupled[branch]) stamp(from, to, from, to, tables[branch]!.re[point]!, tables[branch]!.im[point]!);
    });
    // An ideal transformer is V₁ = n·V₂ and I₂ = −n·I₁, here with the resistance of a wire in its primary.
    for (const { primary, secondary, ratio } of circuit.transformers) {
      const windings = [
        [primary, 1],
        [secondary, -ratio],
      ] as const;
      for (const [[a, b], x] of windings) for (const [[c, d], y] of windings) stamp(a, b, c, d, WIRE * x * y, 0);
    }
    for (const group of groups) stampGroup(circuit, group, 2 * Math.PI * frequencies[point]!, stamp);
    const [blockRe, blockIm] = [
      zRe.subarray(point * inner * inner, (point + 1) * inner * inner),
      zIm.subarray(point * inner * inner, (point + 1) * inner * inner),
    ];
    for (let i = 0; i < inner; i++) {
      for (let j = 0; j < inner; j++) {
        blockRe[i * inner + j] = yRe[(i + 2) * all + j + 2]!;
        blockIm[i * inner + j] = yIm[(i + 2) * all + j + 2]!;
      }
    }
    if (!invertComplex(blockRe, blockIm, inner)) return undefined;
    vRe[point * all + IN] = 1;
    let [re, im] = [yRe[IN * all + IN]!, yIm[IN * all + IN]!];
    for (let i = 0; i < inner; i++) {
      let [x, y] = [0, 0];
      for (let j = 0; j < inner; j++) {
        const [zr, zi, cr, ci] = [blockRe[i * inner + j]!, blockIm[i * inner + j]!, yRe[(j + 2) * all + IN]!, yIm[(j + 2) * all + IN]!];
        x -= zr * cr - zi * ci;
        y -= zr * ci + zi * cr;
      }
      vRe[point * all + i + 2] = x;
      vIm[point * all + i + 2] = y;
      re += yRe[IN * all + i + 2]! * x - yIm[IN * all + i + 2]! * y;
      im += yRe[IN * all + i + 2]! * y + yIm[IN * all + i + 2]! * x;
    }
    inputRe[point] = re;
    inputIm[point] = im;
  }
  const z = (table: Float64Array, point: number, i: number, j: number) =>
    i < 2 || j < 2 ? 0 : table[point * inner * inner + (i - 2) * inner + j - 2]!;
  return {
    circuit,
    frequencies,
    points,
    branchRe: tables.map(({ re }) => re),
    branchIm: tables.map(({ im }) => im),
    coupled,
    voltage(from, to, point, out) {
      out[0] = vRe[point * all + from]! - vRe[point * all + to]!;
      out[1] = vIm[point * all + from]! - vIm[point * all + to]!;
    },
    transfer([a, b], [c, d], point, out) {
      out[0] = z(zRe, point, a, c) - z(zRe, point, a, d) - z(zRe, point, b, c) + z(zRe, point, b, d);
      out[1] = z(zIm, point, a, c) - z(zIm, point, a, d) - z(zIm, point, b, c) + z(zIm, point, b, d);
    },
    inputRe,
    inputIm,
  };
}

/** Sets of branches that couplings tie together. */
function coupledGroups({ couplings }: Circuit): readonly (readonly number[])[] {
  const groups: Set<number>[] = [];
  for (const { first, second } of couplings) {
    const touching = groups.filter((group) => group.has(first) || group.has(second));
    const merged = new Set([first, second, ...touching.flatMap((group) => [...group])]);
    for (const group of touching) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  return groups.map((group) => [...group]);
}

/** Coupled coils: the inverse of their impedance matrix R + jωL, between the ends of each. */
function stampGroup(
  { branches, couplings }: Circuit,
  group: readonly number[],
  omega: number,
  stamp: (a: number, b: number, c: number, d: number, re: number, im: number) => void,
): void {
  const n = group.length;
  const [re, im] = [new Float64Array(n * n), new Float64Array(n * n)];
  const inductance = (branch: number) => branches[branch]!.values[0]!;
  group.forEach((branch, i) => {
    re[i * n + i] = branches[branch]!.values[1] ?? 0;
    im[i * n + i] = omega * inductance(branch);
  });
  for (const { first, second, k } of couplings) {
    const [i, j] = [group.indexOf(first), group.indexOf(second)];
    if (i < 0 || j < 0) continue;
    const mutual = omega * k * Math.sqrt(inductance(first) * inductance(second));
    im[i * n + j]! += mutual;
    im[j * n + i]! += mutual;
  }
  if (!invertComplex(re, im, n)) return;
  group.forEach((a, i) =>
    group.forEach((b, j) => stamp(branches[a]!.from, branches[a]!.to, branches[b]!.from, branches[b]!.to, re[i * n + j]!, im[i * n + j]!)),
  );
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
