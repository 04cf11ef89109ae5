import { DividingNetworkError } from "../../errors";
import { GND, IN } from "../circuit";
import type { Elimination } from "./elimination";
import { LinearSystem } from "../../numeric/internal";
import { naming } from "../refusal";
import { branchState } from "../state";

/** One frequency solved by rows: voltages by node and currents by branch, per volt at `in`. */
export interface DensePoint {
  readonly admittance: readonly [re: number, im: number];
  /** V(node) − V(gnd) by node number, [re, im] interleaved. */
  readonly voltages: Float64Array;
  /** Current by branch number, [re, im] interleaved; 0 for branches that 0 Ω bridges. */
  readonly currents: Float64Array;
  /** Current into the primary's first terminal by transformer number, interleaved. */
  readonly transformerCurrents: Float64Array;
  /** Branches that are unknowns here, so that `currents` holds their current. */
  readonly solved: readonly boolean[];
}

/** A current of re + j·im A that flows into `from` and out of `to`. */
export interface InjectedCurrent {
  readonly from: number;
  readonly to: number;
  readonly re: number;
  readonly im: number;
}

/**
 * Solves one frequency with a row for every branch, a·(V_from − V_to) − b·I = 0, beside Kirchhoff's law for every node,
 * by elimination with partial pivoting. Slow and exact where the fast order of elimination meets a vanishing pivot: at
 * the resonance of a lossless trap, for ideal transformers, for coils coupled almost completely, at 0 Hz. With injected
 * currents these are what drives the network, and the source stands at 0 V.
 */
export function solveDense(
  elimination: Elimination,
  frequency: number,
  values: readonly ArrayLike<number>[],
  { caller = "solve", injected }: { readonly caller?: string; readonly injected?: readonly InjectedCurrent[] } = {},
): DensePoint {
  const { circuit, rootOf, zeroFrequency, coils, ratios } = elimination;
  const column = new Map<number, number>();
  for (let node = 1; node < rootOf.length; node++) if (rootOf[node] === node && touches(elimination, node)) column.set(node, column.size);
  const nodes = column.size;
  const rows: number[] = [];
  // A coil bridged by 0 Ω carries what its neighbours induce in it.
  const coupled = new Set(coils.flatMap((group) => group.branches));
  circuit.branches.forEach((branch, index) => {
    if (coupled.has(index) || (rootOf[branch.from] !== rootOf[branch.to] && branchState(branch, zeroFrequency, values[index]) !== "short"))
      rows.push(index);
  });
  const columnOfBranch = new Map(rows.map((branch, index) => [branch, nodes + index]));
  const size = nodes + rows.length + circuit.transformers.length + 1;
  const system = new LinearSystem(size);
  const voltageColumn = (node: number) => column.get(rootOf[node]!);
  const incidence = (row: number, at: number, node: number, sign: number) => {
    const col = voltageColumn(node);
    if (col === undefined) return;
    system.add(row, col, sign, 0);
    system.add(col, at, sign, 0);
  };

  const out = new Float64Array(4);
  const units = new Float64Array(size).fill(1);
  units[size - 1] = 0;
  for (const branch of rows) {
    const { part, from, to, law } = circuit.branches[branch]!;
    const row = columnOfBranch.get(branch)!;
    naming(part, () => law.ratio(values[branch]!, 0, frequency, out));
    const [top, bottom] = [Math.hypot(out[0]!, out[1]!), Math.hypot(out[2]!, out[3]!)];
    const scale = Math.max(top, bottom);
    // Currents are counted in units of the branch's own admittance, so that volts and amperes of any size stand side by side.
    const unit = top === 0 || bottom === 0 ? 1 : 2 ** Math.round(Math.log2(top) - Math.log2(bottom));
    units[row] = unit;
    if (rootOf[from] === IN || rootOf[to] === IN) units[size - 1] = Math.max(units[size - 1]!, unit);
    for (let k = 0; k < 4; k++) out[k] = out[k]! / scale;
    for (const [node, sign] of [
      [from, 1],
      [to, -1],
    ] as const) {
      const col = voltageColumn(node);
      if (col === undefined) continue;
      system.add(row, col, sign * out[0]!, sign * out[1]!);
      system.add(col, row, sign, 0);
    }
    system.add(row, row, -out[2]!, -out[3]!);
    // Mutual terms: V = (R + jωL) I + jω Σ M I
    for (const { branches, factors } of coils) {
      const i = branches.indexOf(branch);
      if (i < 0) continue;
      branches.forEach((other, j) => {
        const col = columnOfBranch.get(other);
        if (i === j || col === undefined) return;
        const mutual = factors[i * branches.length + j]! * Math.sqrt(values[branch]![0]! * values[other]![0]!);
        system.add(row, col, 0, (-2 * Math.PI * frequency * mutual) / scale);
      });
    }
  }
  circuit.transformers.forEach(({ primary, secondary }, index) => {
    const ratio = ratios[index]!;
    const at = nodes + rows.length + index;
    incidence(at, at, primary[0], 1);
    incidence(at, at, primary[1], -1);
    incidence(at, at, secondary[0], -ratio);
    incidence(at, at, secondary[1], ratio);
  });
  // The source's current and its equation V(in) = 1.
  const source = size - 1;
  const input = voltageColumn(IN)!;
  system.add(source, input, 1, 0);
  system.add(input, source, -1, 0);
  const drive = injected === undefined ? 1 : 0;
  system.right[2 * source] = drive;
  for (const { from, to, re, im } of injected ?? [])
    for (const [node, sign] of [
      [from, 1],
      [to, -1],
    ] as const) {
      const col = voltageColumn(node);
      if (col === undefined) continue;
      system.right[2 * col] = system.right[2 * col]! + sign * re;
      system.right[2 * col + 1] = system.right[2 * col + 1]! + sign * im;
    }
  if (units[source] === 0) units[source] = 1;
  const solution = system.solve(units, nodes);
  if (solution === undefined) {
    throw new DividingNetworkError(
      "no-solution",
      `${caller}: the network has no finite solution at ${frequency} Hz: lossless parts resonate across the source or with each other${circuit.transformers.length > 0 ? ", or ideal transformers contradict each other" : ""}`,
      "Give the coils their resistance (dcr) and the capacitors their loss (esr), or leave this frequency out",
    );
  }
  const voltages = new Float64Array(2 * rootOf.length);
  rootOf.forEach((root, node) => {
    const col = column.get(root);
    if (root === GND || col === undefined) return;
    // The source's own volt is known and not taken from the rounded solution.
    voltages[2 * node] = root === IN ? drive : solution[2 * col]!;
    voltages[2 * node + 1] = root === IN ? 0 : solution[2 * col + 1]!;
  });
  const currents = new Float64Array(2 * circuit.branches.length);
  for (const [branch, col] of columnOfBranch) {
    currents[2 * branch] = solution[2 * col]!;
    currents[2 * branch + 1] = solution[2 * col + 1]!;
  }
  const transformerCurrents = solution.slice(2 * (nodes + rows.length), 2 * source);
  return {
    transformerCurrents,
    admittance: [solution[2 * source]!, solution[2 * source + 1]!],
    voltages,
    currents,
    solved: circuit.branches.map((_, index) => columnOfBranch.has(index)),
  };
}

function touches({ circuit, rootOf }: Elimination, root: number): boolean {
  if (root === IN) return true;
  for (const { terminals } of circuit.parts.values()) if (terminals.some((node) => rootOf[node] === root)) return true;
  return false;
}
