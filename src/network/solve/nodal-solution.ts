import { invertComplex } from "../../numeric";
import { IN, type Circuit } from "../circuit";
import { throwFindings } from "../diagnose";
import type { Entries } from "../entries";

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
