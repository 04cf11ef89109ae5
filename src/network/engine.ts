import { coilStrain, type CoilStrain } from "./coil-strain";
import type { Circuit } from "./circuit";
import { solveDense, type DensePoint } from "./dense";
import { eliminationOf, type Elimination } from "./elimination";
import { planFor, type Plan } from "./plan";
import { programFor, type Program } from "./program";
import type { OutputPair } from "./program-builder";

/** Unscaled results per volt at `in`: output 0 is the input admittance (S), output k + 1 the voltage of pair k. */
export interface EngineResult {
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
  /** The points that were solved by rows, by index of the frequency. */
  readonly dense: ReadonlyMap<number, DensePoint>;
}

/** The structure of a circuit with its two frequency classes, analysed at first use. */
export interface Engine {
  readonly circuit: Circuit;
  /** Structure above 0 Hz. */
  readonly elimination: Elimination;
  /** Structure at 0 Hz; throws what is wrong there. */
  atZero(): Elimination;
  run(frequencies: Float64Array, pairs: readonly OutputPair[], values?: readonly ArrayLike<number>[]): EngineResult;
}

export function engineFor(circuit: Circuit, checkZero: () => void): Engine {
  const elimination = eliminationOf(circuit, false);
  const strain: CoilStrain = elimination.coils.length === 0 || elimination.dense ? { pairs: [], strained: () => [] } : coilStrain(elimination);
  let zero: Elimination | undefined;
  const atZero = () => {
    if (zero === undefined) {
      checkZero();
      zero = eliminationOf(circuit, true);
    }
    return zero;
  };
  const programs = new Map<string, Program>();
  const own = circuit.branches.map(({ values }) => values);
  // Sweeps usually come again on the same grid with the same questions: the last plan is kept.
  let last: { key: string; frequencies?: Float64Array; plan?: Plan } = { key: "" };

  return {
    circuit,
    elimination,
    atZero,
    run(frequencies, pairs, values = own) {
      const count = frequencies.length;
      const re = Array.from({ length: pairs.length + 1 }, () => new Float64Array(count));
      const im = Array.from({ length: pairs.length + 1 }, () => new Float64Array(count));
      const dense = new Map<number, DensePoint>();
      const first = count > 0 && frequencies[0] === 0 ? 1 : 0;
      const redo = (point: number, structure: Elimination) => {
        const solved = solveDense(structure, frequencies[point]!, values);
        dense.set(point, solved);
        storeDense(solved, structure, pairs, values, frequencies[point]!, re, im, point);
      };
      if (first === 1) redo(0, atZero());
      if (elimination.dense) {
        for (let point = first; point < count; point++) redo(point, elimination);
        return { re, im, dense };
      }
      if (first === count) return { re, im, dense };
      const key = pairs.join(";");
      let program = programs.get(key);
      if (program === undefined) {
        program = programFor(elimination, [...pairs, ...strain.pairs]);
        programs.set(key, program);
      }
      if (last.plan === undefined || last.key !== key || !sameGrid(last.frequencies!, frequencies)) {
        // A copy: the caller's array may be filled with other frequencies for the next sweep.
        last = { key, frequencies: frequencies.slice(), plan: planFor(elimination, program, frequencies.slice(first)) };
      }
      const beside = () => strain.pairs.map(() => new Float64Array(count));
      const [allRe, allIm] = [[...re, ...beside()], [...im, ...beside()]];
      for (const point of last.plan!.run(values, allRe, allIm, first)) redo(first + point, elimination);
      if (strain.pairs.length > 0) {
        const above = (array: Float64Array) => array.subarray(first);
        for (const point of strain.strained(values, frequencies.slice(first), allRe.map(above), allIm.map(above), pairs.length + 1)) {
          if (!dense.has(first + point)) redo(first + point, elimination);
        }
      }
      return { re, im, dense };
    },
  };
}

function sameGrid(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

function storeDense(point: DensePoint, structure: Elimination, pairs: readonly OutputPair[], values: readonly ArrayLike<number>[], frequency: number, re: readonly Float64Array[], im: readonly Float64Array[], at: number): void {
  re[0]![at] = point.admittance[0];
  im[0]![at] = point.admittance[1];
  const { voltages: v } = point;
  pairs.forEach(([a, b], index) => {
    const merged = structure.rootOf[a] === structure.rootOf[b];
    const difference = merged ? [0, 0] : [v[2 * a]! - v[2 * b]!, v[2 * a + 1]! - v[2 * b + 1]!];
    const size = Math.hypot(v[2 * a]!, v[2 * a + 1]!);
    const small = !merged && Math.hypot(difference[0]!, difference[1]!) < 1e-3 * size;
    const [vr, vi] = (small ? voltageByCurrent(point, structure, a, b, values, frequency, size) : undefined) ?? difference;
    re[index + 1]![at] = vr!;
    im[index + 1]![at] = vi!;
  });
}

/**
 * The small difference of two large voltages, more exactly from the current of a branch between them: of the one with the
 * least impedance, and only where the rounding of the currents weighs less there than that of the voltages.
 */
function voltageByCurrent({ currents, solved, admittance }: DensePoint, { circuit, rootOf }: Elimination, a: number, b: number, values: readonly ArrayLike<number>[], frequency: number, voltage: number): readonly number[] | undefined {
  let current = Math.hypot(admittance[0], admittance[1]);
  for (let k = 0; k < currents.length; k += 2) current = Math.max(current, Math.hypot(currents[k]!, currents[k + 1]!));
  const ratio = new Float64Array(4);
  let least = voltage / current;
  let found: readonly number[] | undefined;
  circuit.branches.forEach(({ from, to, law }, branch) => {
    const sign = rootOf[from] === rootOf[a] && rootOf[to] === rootOf[b] ? 1 : rootOf[from] === rootOf[b] && rootOf[to] === rootOf[a] ? -1 : 0;
    if (sign === 0 || !solved[branch] || circuit.couplings.some(({ first, second }) => first === branch || second === branch)) return;
    law.ratio(values[branch]!, 0, frequency, ratio);
    const norm = ratio[0]! ** 2 + ratio[1]! ** 2;
    const [zr, zi] = [(ratio[2]! * ratio[0]! + ratio[3]! * ratio[1]!) / norm, (ratio[3]! * ratio[0]! - ratio[2]! * ratio[1]!) / norm];
    const impedance = Math.hypot(zr, zi);
    if (!(impedance < least)) return;
    least = impedance;
    const [ir, ii] = [currents[2 * branch]!, currents[2 * branch + 1]!];
    found = [sign * (zr * ir - zi * ii), sign * (zr * ii + zi * ir)];
  });
  return found;
}
