import { GND, IN } from "./circuit";
import { invertCoils } from "./coil-matrix";
import type { Elimination } from "./elimination";
import type { OutputPair } from "./program-builder";
import { branchState } from "./state";

/** Share of the currents at a node that may be missing from their balance; more, and the frequency is solved again by rows. */
const LARGEST_MISS = 3e-13;

/** The voltages that tell how many digits coupled coils lost as branches, and the points at which they lost too many. */
export interface CoilStrain {
  readonly pairs: readonly OutputPair[];
  /** Indices of the strained points: `re` and `im` hold the source's current and, from array `offset` on, the pairs' voltages at the given frequencies (Hz). */
  strained(values: readonly ArrayLike<number>[], frequencies: Float64Array, re: readonly Float64Array[], im: readonly Float64Array[], offset: number): number[];
}

interface Complex {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A current, and the sum of the magnitudes of which it was made. */
interface Flow extends Complex {
  readonly terms: Float64Array;
}

/**
 * Coupled coils are branches with mutual admittances across their corners, which add where the coils themselves have nothing:
 * a coil's small voltage is made from the large ones between the coils' nodes, a winding that floats is tied to the rest, and
 * either cancels only down to its rounding. Whether it did is seen in Kirchhoff's law at the coils' nodes, with the coils'
 * currents by their own matrix.
 */
export function coilStrain({ circuit, coils, rootOf }: Elimination): CoilStrain {
  const { branches } = circuit;
  const groupOf = new Map(coils.flatMap((group) => group.branches.map((branch) => [branch, group] as const)));
  const ends = new Set(coils.flatMap((group) => group.branches.flatMap((branch) => [rootOf[branches[branch]!.from]!, rootOf[branches[branch]!.to]!])));
  const nodes = [...ends].map((node) => ({
    // What the source feeds into the node, in units of its current.
    fed: node === IN ? 1 : node === GND ? -1 : 0,
    incident: branches.flatMap((branch, index) => {
      const [from, to] = [rootOf[branch.from]!, rootOf[branch.to]!];
      if (from === to || (from !== node && to !== node) || branchState(branch, false) !== "finite") return [];
      return [{ branch: index, sign: from === node ? 1 : -1 }];
    }),
  }));
  const asked = new Set(nodes.flatMap(({ incident }) => incident.map(({ branch }) => branch)));
  const grouped = new Set([...asked].flatMap((branch) => groupOf.get(branch) ?? []));
  const alone = [...asked].filter((branch) => !groupOf.has(branch));
  const listed = [...alone, ...[...grouped].flatMap((group) => group.branches)];
  const place = new Map(listed.map((branch, index) => [branch, index]));

  return {
    pairs: listed.map((branch) => [branches[branch]!.from, branches[branch]!.to]),
    strained(values, frequencies, re, im, offset) {
      const count = frequencies.length;
      const voltage = (branch: number): Complex => ({ re: re[offset + place.get(branch)!]!, im: im[offset + place.get(branch)!]! });
      const currents = new Map<number, Flow>();
      const flow = (): Flow => ({ re: new Float64Array(count), im: new Float64Array(count), terms: new Float64Array(count) });
      for (const branch of alone) {
        const y = { re: new Float64Array(count), im: new Float64Array(count) };
        branches[branch]!.law.bind(frequencies).admittance(values[branch]!, 0, 0, count, y.re, y.im, 0);
        const current = flow();
        for (let i = 0; i < count; i++) addProduct(current, i, y.re[i]!, y.im[i]!, voltage(branch));
        currents.set(branch, current);
      }
      for (const group of grouped) {
        const n = group.branches.length;
        const half = (n * (n + 1)) / 2;
        const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
        const flows = group.branches.map(flow);
        const across = group.branches.map(voltage);
        for (let i = 0; i < count; i++) {
          invertCoils(group, values, 2 * Math.PI * frequencies[i]!, work, out);
          for (let row = 0, at = 0; row < n; row++) {
            for (let column = row; column < n; column++, at++) {
              addProduct(flows[row]!, i, out[at]!, out[half + at]!, across[column]!);
              if (column > row) addProduct(flows[column]!, i, out[at]!, out[half + at]!, across[row]!);
            }
          }
        }
        group.branches.forEach((branch, row) => currents.set(branch, flows[row]!));
      }
      const points: number[] = [];
      for (let i = 0; i < count; i++) {
        const misses = ({ fed, incident }: (typeof nodes)[number]) => {
          let [sr, si] = [-fed * re[0]![i]!, -fed * im[0]![i]!];
          let scale = Math.abs(sr) + Math.abs(si);
          for (const { branch, sign } of incident) {
            const current = currents.get(branch)!;
            sr += sign * current.re[i]!;
            si += sign * current.im[i]!;
            scale += Math.abs(current.re[i]!) + Math.abs(current.im[i]!);
          }
          // At a coil's loose end its current should be nothing, and is compared with what it is the sum of.
          if (fed === 0 && incident.length === 1) scale = currents.get(incident[0]!.branch)!.terms[i]!;
          return !(Math.abs(sr) + Math.abs(si) <= LARGEST_MISS * scale);
        };
        if (nodes.some(misses)) points.push(i);
      }
      return points;
    },
  };
}

function addProduct(sum: Flow, i: number, yr: number, yi: number, v: Complex): void {
  sum.terms[i] = sum.terms[i]! + (Math.abs(yr) + Math.abs(yi)) * (Math.abs(v.re[i]!) + Math.abs(v.im[i]!));
  sum.re[i] = sum.re[i]! + (yr * v.re[i]! - yi * v.im[i]!);
  sum.im[i] = sum.im[i]! + (yr * v.im[i]! + yi * v.re[i]!);
}
