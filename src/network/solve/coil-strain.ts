import { GND, IN } from "../circuit";
import { invertCoils } from "./coil-matrix";
import type { CoilGroup } from "../coupled-coils";
import type { Elimination } from "./elimination";
import type { OutputPair } from "./program-values";
import { branchState } from "../state";

/** Share of the currents at a node, or of a voltage, that may be missing from the balance; more, and the point is solved by rows. */
const LARGEST_MISS = 3e-13;
/** Of the largest mutual admittance: what ties a coil's end to the source must admit as much, or rounding moves the end. */
const WEAKEST_TIE = 1e-4;

/** The voltages that tell how many digits coupled coils lost as branches, and the points at which they lost too many. */
export interface CoilStrain {
  readonly pairs: readonly OutputPair[];
  /** Indices of the strained points: `re` and `im` hold the source's current and, from array `offset` on, the pairs' voltages at the given frequencies (Hz). */
  strained(
    values: readonly ArrayLike<number>[],
    frequencies: Float64Array,
    re: readonly Float64Array[],
    im: readonly Float64Array[],
    offset: number,
  ): number[];
}

/** A branch on a grid: its current, |Y| (the sum of both parts' magnitudes), and the sum of the magnitudes of which the current was made. */
interface Flow {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly admittance: Float64Array;
  readonly terms: Float64Array;
}

/**
 * Coupled coils are branches with mutual admittances across their corners, which add where the coils themselves have nothing:
 * a coil's small voltage is made from the large ones between the coils' nodes, a winding that floats is tied to the rest, and
 * either cancels only down to its rounding. Whether it did is seen in Kirchhoff's laws: in the currents at the coils' nodes, with
 * the coils' own by their own matrix, and in the coils' voltages, which are found apart from those of their ends. What the
 * whole of a floating part does is seen in neither: every end of a coil must be tied to the source.
 */
export function coilStrain({ circuit, coils, rootOf }: Elimination): CoilStrain {
  const { branches } = circuit;
  const from = (branch: number) => rootOf[branches[branch]!.from]!;
  const to = (branch: number) => rootOf[branches[branch]!.to]!;
  const wound = coils.flatMap((group) => group.branches);
  const coupled = new Set(wound);
  const alone = branches
    .map((_, index) => index)
    .filter((index) => !coupled.has(index) && from(index) !== to(index) && branchState(branches[index]!, false) === "finite");
  const listed = [...alone, ...wound];
  const place = new Map(listed.map((branch, index) => [branch, index]));
  const ends = [...new Set(wound.flatMap((branch) => [from(branch), to(branch)]))];
  const borders = Int32Array.from(listed.flatMap((branch) => [from(branch), to(branch)]));
  const potentialAt = new Map(ends.map((node, index) => [node, listed.length + index]));
  const nodes = ends.map((node) => ({
    // What the source feeds into the node, in units of its current.
    fed: node === IN ? 1 : node === GND ? -1 : 0,
    incident: listed
      .filter((branch) => from(branch) !== to(branch) && (from(branch) === node || to(branch) === node))
      .map((branch) => ({ at: place.get(branch)!, sign: from(branch) === node ? 1 : -1 })),
  }));

  return {
    pairs: [
      ...listed.map((branch) => [branches[branch]!.from, branches[branch]!.to] as const),
      ...ends.map((node) => [node, GND] as const),
    ],
    strained(values, frequencies, re, im, offset) {
      const count = frequencies.length;
      const flows = listed.map((): Flow => ({
        re: new Float64Array(count),
        im: new Float64Array(count),
        admittance: new Float64Array(count),
        terms: new Float64Array(count),
      }));
      const add = (at: number, yr: Float64Array, yi: Float64Array, across: number): void =>
        addProduct(flows[at]!, yr, yi, re[offset + across]!, im[offset + across]!);
      const mutual = new Float64Array(count);
      for (const [at, branch] of alone.entries()) {
        const [yr, yi] = [new Float64Array(count), new Float64Array(count)];
        branches[branch]!.law.bind(frequencies).admittance(values[branch]!, 0, 0, count, yr, yi, 0);
        add(at, yr, yi, at);
        largest(flows[at]!.admittance, yr, yi);
      }
      for (const group of coils) {
        const at = group.branches.map((branch) => place.get(branch)!);
        for (const { row, column, yr, yi } of inverseOnGrid(group, values, frequencies)) {
          add(at[row]!, yr, yi, at[column]!);
          if (column !== row) add(at[column]!, yr, yi, at[row]!);
          largest(column === row ? flows[at[row]!]!.admittance : mutual, yr, yi);
        }
      }

      const bad = new Uint8Array(count);
      // Kirchhoff's current law at the coils' ends.
      for (const { fed, incident } of nodes) {
        const only = fed === 0 && incident.length === 1 ? flows[incident[0]!.at]!.terms : undefined;
        for (let i = 0; i < count; i++) {
          let sr = -fed * re[0]![i]!;
          let si = -fed * im[0]![i]!;
          let scale = Math.abs(sr) + Math.abs(si);
          for (const { at, sign } of incident) {
            const flow = flows[at]!;
            sr += sign * flow.re[i]!;
            si += sign * flow.im[i]!;
            scale += Math.abs(flow.re[i]!) + Math.abs(flow.im[i]!);
          }
          // At a loose end the coil's current should be nothing, and is compared with what it is the sum of.
          if (!(Math.abs(sr) + Math.abs(si) <= LARGEST_MISS * (only === undefined ? scale : only[i]!))) bad[i] = 1;
        }
      }
      // Kirchhoff's voltage law for the coils.
      for (const branch of wound) {
        const [v, a, b] = [offset + place.get(branch)!, offset + potentialAt.get(from(branch))!, offset + potentialAt.get(to(branch))!];
        const [vr, vi, ar, ai, br, bi] = [re[v]!, im[v]!, re[a]!, im[a]!, re[b]!, im[b]!];
        for (let i = 0; i < count; i++) {
          const miss = Math.abs(ar[i]! - br[i]! - vr[i]!) + Math.abs(ai[i]! - bi[i]! - vi[i]!);
          if (!(miss <= LARGEST_MISS * (1 + Math.abs(ar[i]!) + Math.abs(ai[i]!)))) bad[i] = 1;
        }
      }
      const points: number[] = [];
      const tied = new Int32Array(rootOf.length);
      for (let i = 0; i < count; i++) {
        if (bad[i] === 1 || floats(tied, flows, i, WEAKEST_TIE * mutual[i]!)) points.push(i);
      }
      return points;
    },
  };

  /** Whether some coil's end isn't tied to the source by admittances of at least so much; `tied` is room to work in. */
  function floats(tied: Int32Array, flows: readonly Flow[], i: number, least: number): boolean {
    tied.fill(0);
    tied[IN] = tied[GND] = 1;
    for (let grown = true; grown;) {
      grown = false;
      for (let at = 0; at < listed.length; at++) {
        const a = borders[2 * at]!;
        const b = borders[2 * at + 1]!;
        if (tied[a] === tied[b] || !(flows[at]!.admittance[i]! >= least)) continue;
        tied[a] = tied[b] = 1;
        grown = true;
      }
    }
    return ends.some((node) => tied[node] === 0);
  }
}

/** The upper triangle of a group's inverse impedance matrix (S), entry by entry on a grid of frequencies in Hz. */
function inverseOnGrid(
  group: CoilGroup,
  values: readonly ArrayLike<number>[],
  frequencies: Float64Array,
): { readonly row: number; readonly column: number; readonly yr: Float64Array; readonly yi: Float64Array }[] {
  const n = group.branches.length;
  const half = (n * (n + 1)) / 2;
  const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
  const entries = [];
  for (let row = 0; row < n; row++)
    for (let column = row; column < n; column++)
      entries.push({ row, column, yr: new Float64Array(frequencies.length), yi: new Float64Array(frequencies.length) });
  for (let i = 0; i < frequencies.length; i++) {
    invertCoils(group, values, 2 * Math.PI * frequencies[i]!, work, out);
    for (let k = 0; k < half; k++) {
      entries[k]!.yr[i] = out[k]!;
      entries[k]!.yi[i] = out[half + k]!;
    }
  }
  return entries;
}

/** Adds y·v to a current and |y|·|v| to its terms. */
function addProduct(sum: Flow, yr: Float64Array, yi: Float64Array, vr: Float64Array, vi: Float64Array): void {
  for (let i = 0; i < yr.length; i++) {
    const [ar, ai, br, bi] = [yr[i]!, yi[i]!, vr[i]!, vi[i]!];
    sum.re[i] = sum.re[i]! + (ar * br - ai * bi);
    sum.im[i] = sum.im[i]! + (ar * bi + ai * br);
    sum.terms[i] = sum.terms[i]! + (Math.abs(ar) + Math.abs(ai)) * (Math.abs(br) + Math.abs(bi));
  }
}

function largest(so: Float64Array, yr: Float64Array, yi: Float64Array): void {
  for (let i = 0; i < yr.length; i++) so[i] = Math.max(so[i]!, Math.abs(yr[i]!) + Math.abs(yi[i]!));
}
