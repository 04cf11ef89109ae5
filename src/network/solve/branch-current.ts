import type { Answers } from "./answers";
import { invertCoils } from "./coil-matrix";
import type { ComplexArrays } from "../../numeric";
import { addTo, product, zeros } from "../../numeric/internal";
import type { CoilGroup } from "../coupled-coils";
import { cutAt, type Cut } from "./currents";
import type { DensePoint } from "./dense";
import type { Elimination } from "./elimination";
import type { Engine } from "./engine";
import { triangleIndex } from "./triangle";
import type { OutputPair } from "./program-values";
import { branchState } from "../state";

/** The currents of one sweep's branches, A per volt at `in`, from the first node to the second. */
export interface BranchCurrents {
  /** The pairs whose voltages a branch's current is computed from. */
  pairsFor(branch: number): readonly OutputPair[];
  branch(branch: number): ComplexArrays;
  /** Into the primary's first terminal. */
  transformer(index: number): ComplexArrays;
}

/** Y·V where a branch has an admittance, by Kirchhoff's law where it is a connection, and as solved at points solved by rows. */
export function branchCurrents(
  engine: Engine,
  answers: Answers,
  frequencies: Float64Array,
  values: readonly ArrayLike<number>[],
): BranchCurrents {
  const { circuit, elimination } = engine;
  const count = frequencies.length;
  const first = frequencies[0] === 0 ? 1 : 0;
  const acrossOf = (branch: number): OutputPair => [circuit.branches[branch]!.from, circuit.branches[branch]!.to];
  const groupOf = (branch: number) => elimination.coils.find(({ branches }) => branches.includes(branch));

  function pairsFor(branch: number): readonly OutputPair[] {
    if (elimination.dense || first === count) return [];
    if (isMerged(elimination, branch)) return cutAt(branch, elimination).branches.flatMap(([other]) => pairsFor(other));
    return (groupOf(branch)?.branches ?? [branch]).map(acrossOf);
  }

  function current(branch: number): ComplexArrays {
    const merged = isMerged(elimination, branch);
    const found =
      first === count
        ? zeros(count)
        : merged
          ? byKirchhoff(cutAt(branch, elimination))
          : elimination.dense
            ? zeros(count)
            : throughAdmittance(branch);
    for (const point of answers.byRows()) {
      const solved = answers.rows.at(point);
      if (point === 0 && first === 1) [found.re[0], found.im[0]] = atZero(branch, solved);
      else if (solved.solved[branch]) [found.re[point], found.im[point]] = numberAt(solved.currents, branch);
    }
    return found;
  }

  /** Above 0 Hz. */
  function throughAdmittance(branch: number): ComplexArrays {
    const group = groupOf(branch);
    if (group !== undefined) return throughCoils(group, group.branches.indexOf(branch));
    const y = zeros(count);
    circuit.branches[branch]!.law.bind(frequencies.subarray(first)).admittance(values[branch]!, 0, 0, count - first, y.re, y.im, first);
    return product(y, answers.voltage(acrossOf(branch)));
  }

  function throughCoils(group: CoilGroup, row: number): ComplexArrays {
    const n = group.branches.length;
    const half = (n * (n + 1)) / 2;
    const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
    const voltages = group.branches.map((branch) => answers.voltage(acrossOf(branch)));
    const { re, im } = zeros(count);
    for (let i = first; i < count; i++) {
      invertCoils(group, values, 2 * Math.PI * frequencies[i]!, work, out);
      for (let column = 0; column < n; column++) {
        const at = triangleIndex(n, Math.min(row, column), Math.max(row, column));
        const [yr, yi, vr, vi] = [out[at]!, out[half + at]!, voltages[column]!.re[i]!, voltages[column]!.im[i]!];
        re[i] = re[i]! + yr * vr - yi * vi;
        im[i] = im[i]! + yr * vi + yi * vr;
      }
    }
    return { re, im };
  }

  /** Above 0 Hz. */
  function byKirchhoff(cut: Cut): ComplexArrays {
    const sum = zeros(count);
    answers.ask(cut.branches.flatMap(([other]) => pairsFor(other)));
    for (const [other, sign] of cut.branches) addTo(sum, cut.sign * sign, current(other), first);
    for (const [index, winding, sign] of cut.transformers) addTo(sum, cut.sign * sign * turns(index, winding), transformer(index), first);
    if (cut.source) addTo(sum, -cut.sign, answers.admittance(), first);
    return sum;
  }

  /** One current at 0 Hz. */
  function atZero(branch: number, solved: DensePoint): [number, number] {
    if (solved.solved[branch]) return numberAt(solved.currents, branch);
    if (!isMerged(engine.atZero(), branch)) return [0, 0];
    const cut = cutAt(branch, engine.atZero());
    const sum: [number, number] = [0, 0];
    const add = (factor: number, [re, im]: readonly [number, number]) => {
      sum[0] += factor * re;
      sum[1] += factor * im;
    };
    for (const [other, sign] of cut.branches) add(cut.sign * sign, atZero(other, solved));
    for (const [index, winding, sign] of cut.transformers)
      add(cut.sign * sign * turns(index, winding), numberAt(solved.transformerCurrents, index));
    if (cut.source) add(-cut.sign, solved.admittance);
    return sum;
  }

  const turns = (index: number, winding: "primary" | "secondary"): number =>
    winding === "primary" ? 1 : -circuit.transformers[index]!.ratio;

  function transformer(index: number): ComplexArrays {
    const { re, im } = zeros(count);
    for (const point of answers.byRows()) [re[point], im[point]] = numberAt(answers.rows.at(point).transformerCurrents, index);
    return { re, im };
  }

  return { pairsFor, branch: current, transformer };
}

const numberAt = (interleaved: Float64Array, index: number): [number, number] => [interleaved[2 * index]!, interleaved[2 * index + 1]!];

function isMerged({ circuit, rootOf, zeroFrequency }: Elimination, branch: number): boolean {
  const { from, to } = circuit.branches[branch]!;
  return rootOf[from] === rootOf[to] && from !== to && branchState(circuit.branches[branch]!, zeroFrequency) === "short";
}
