import { DividingNetworkError } from "../errors";
import { invertCoils } from "./coil-matrix";
import { solveDense, type DensePoint } from "./dense";
import { eliminationOf, type Elimination } from "./elimination";
import { programFor, type OutputPair, type Program } from "./program";
import { BLOCK, runBlock, type Fill } from "./run-program";
import type { Circuit } from "./circuit";

/** Above this sum of |ratio|² a frequency is solved again by rows with pivoting. */
const LARGEST_GROWTH = 1e8;

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
        program = programFor(elimination, pairs);
        programs.set(key, program);
      }
      const above = frequencies.subarray(first);
      const growth = new Float64Array(BLOCK);
      const memory = new Float64Array(program.slots * 2 * BLOCK);
      const { fill, fillCoils } = fillers(elimination, above, values);
      const outputs = { re: re.map((array) => array.subarray(first)), im: im.map((array) => array.subarray(first)) };
      for (let start = 0; start < above.length; start += BLOCK) {
        const length = Math.min(BLOCK, above.length - start);
        runBlock(program, memory, growth, start, length, fill, fillCoils, outputs);
        for (let i = 0; i < length; i++) if (!(growth[i]! < LARGEST_GROWTH)) redo(first + start + i, elimination);
      }
      return { re, im, dense };
    },
  };
}

/** The functions that fill admittance blocks: each law bound to the grid once. */
function fillers({ circuit, coils }: Elimination, frequencies: Float64Array, values: readonly ArrayLike<number>[]): { readonly fill: Fill; readonly fillCoils: Fill } {
  const evaluators = circuit.branches.map(({ law, part }) => {
    try {
      return law.bind(frequencies);
    } catch (error) {
      if (error instanceof DividingNetworkError) throw new DividingNetworkError(error.code, `"${part}": ${error.message}`);
      throw error;
    }
  });
  return {
    fill: (branch, start, count, memory, at) => evaluators[branch]!.admittance(values[branch]!, 0, start, count, memory.subarray(at, at + BLOCK), memory.subarray(at + BLOCK, at + 2 * BLOCK), 0),
    fillCoils(index, start, count, memory, at) {
      const group = coils[index]!;
      const n = group.branches.length;
      const half = (n * (n + 1)) / 2;
      const work = new Float64Array(2 * n * n);
      const out = new Float64Array(2 * half);
      for (let i = 0; i < count; i++) {
        invertCoils(group, values, 2 * Math.PI * frequencies[start + i]!, work, out);
        for (let k = 0; k < half; k++) {
          memory[at + k * 2 * BLOCK + i] = out[k]!;
          memory[at + k * 2 * BLOCK + BLOCK + i] = out[half + k]!;
        }
      }
    },
  };
}

function storeDense(point: DensePoint, { circuit, rootOf }: Elimination, pairs: readonly OutputPair[], values: readonly ArrayLike<number>[], frequency: number, re: readonly Float64Array[], im: readonly Float64Array[], at: number): void {
  re[0]![at] = point.admittance[0];
  im[0]![at] = point.admittance[1];
  const ratio = new Float64Array(4);
  pairs.forEach(([a, b], index) => {
    const { voltages: v } = point;
    let vr = v[2 * a]! - v[2 * b]!;
    let vi = v[2 * a + 1]! - v[2 * b + 1]!;
    if (rootOf[a] === rootOf[b]) vr = vi = 0;
    else if (Math.hypot(vr, vi) < 1e-3 * Math.hypot(v[2 * a]!, v[2 * a + 1]!)) {
      // The small difference of two large voltages is had more exactly from the current of a branch between them.
      const branch = circuit.branches.findIndex((candidate, number) => point.solved[number] && ((candidate.from === a && candidate.to === b) || (candidate.from === b && candidate.to === a)));
      if (branch >= 0 && !circuit.couplings.some(({ first, second }) => first === branch || second === branch)) {
        const { law, from } = circuit.branches[branch]!;
        law.ratio(values[branch]!, 0, frequency, ratio);
        const norm = ratio[0]! ** 2 + ratio[1]! ** 2;
        if (norm > 0) {
          const sign = from === a ? 1 : -1;
          const zr = (ratio[2]! * ratio[0]! + ratio[3]! * ratio[1]!) / norm;
          const zi = (ratio[3]! * ratio[0]! - ratio[2]! * ratio[1]!) / norm;
          const [ir, ii] = [point.currents[2 * branch]!, point.currents[2 * branch + 1]!];
          vr = sign * (zr * ir - zi * ii);
          vi = sign * (zr * ii + zi * ir);
        }
      }
    }
    re[index + 1]![at] = vr;
    im[index + 1]![at] = vi;
  });
}

