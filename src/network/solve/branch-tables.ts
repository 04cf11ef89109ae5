import { invertCoils } from "./coil-matrix";
import type { Elimination } from "./elimination";
import { GROUP } from "../kernels/block";
import { triangle } from "./triangle";
import { naming } from "../refusal";
import { groupOf, slopeWriter, type SlopeTable } from "./slope-tables";

/**
 * The admittances over a grid, as tables, of what no kernel computes: branches whose law is a measurement or a driver's, and
 * coupled coils. They don't hang on what is asked for: all plans on one grid share them.
 */
export interface BranchTables {
  /** How many tables there are. */
  readonly count: number;
  /** Points of the grid, made a multiple of GROUP; the last one stands for those beyond. */
  readonly padded: number;
  /** Table k: real parts from 2·padded·k on, imaginary parts `padded` further on. */
  readonly table: Float64Array;
  /** The table of a branch. */
  ofBranch(branch: number): number;
  /** The first of the tables of the coupled coils. */
  readonly firstOfCoils: number;
  /** The first of the slope tables. */
  readonly firstOfSlopes: number;
  /** Writes what has other values than at the last call. Returns a number that is another one whenever anything was written. */
  refresh(values: readonly ArrayLike<number>[]): number;
}

/** The branches without a kernel that an elimination starts from. */
export function tabledBranches({ circuit, pairs }: Elimination): readonly number[] {
  return [...pairs.values()].flatMap((all) =>
    all.flatMap((one) => (one.kind === "branch" && circuit.branches[one.branch]!.law.kernel === undefined ? [one.branch] : [])),
  );
}

/** Binds the laws of branches to a grid (Hz); those with a kernel need no table. Throws, with the part's name, where a law doesn't reach. */
export function branchTables(
  elimination: Elimination,
  frequencies: Float64Array,
  branches: readonly number[],
  slopes: readonly SlopeTable[] = [],
): BranchTables {
  const { circuit, coils } = elimination;
  const count = frequencies.length;
  const padded = Math.ceil(count / GROUP) * GROUP;
  const tabled = branches
    .filter((branch) => circuit.branches[branch]!.law.kernel === undefined)
    .map((branch) => {
      const { law, part, values } = circuit.branches[branch]!;
      return { branch, evaluator: naming(part, () => law.bind(frequencies)), last: new Float64Array(Math.max(1, values.length)).fill(NaN) };
    });
  const places = new Map(tabled.map(({ branch }, place) => [branch, place]));
  let tables = tabled.length;
  const groups = coils.map((group) => {
    const first = tables;
    tables += triangle(group.branches.length);
    return { group, first, last: new Float64Array(2 * group.branches.length).fill(NaN), factors: group.factors.slice() };
  });
  const firstOfSlopes = tables;
  tables += slopes.length;
  const table = new Float64Array(2 * padded * tables);
  const writeSlopes = slopes.length === 0 ? undefined : slopeWriter(elimination, frequencies, slopes);
  const sloped = [...new Set(slopes.flatMap(({ branch }) => groupOf(elimination, branch)?.branches ?? [branch]))].map((branch) => ({
    branch,
    last: new Float64Array(circuit.branches[branch]!.values.length).fill(NaN),
  }));
  let version = 0;

  function pad(at: number): void {
    for (let i = count; i < padded; i++) table[at + i] = table[at + count - 1]!;
  }

  function refreshBranch(
    { branch, evaluator, last }: (typeof tabled)[number],
    place: number,
    values: readonly ArrayLike<number>[],
  ): boolean {
    const now = values[branch]!;
    let same = !Number.isNaN(last[0]!);
    for (let k = 0; k < now.length && same; k++) same = last[k] === now[k];
    if (same) return false;
    if (now.length === 0) last[0] = 0;
    for (let k = 0; k < now.length; k++) last[k] = now[k]!;
    const at = 2 * padded * place;
    evaluator.admittance(now, 0, 0, count, table.subarray(at, at + padded), table.subarray(at + padded, at + 2 * padded), 0);
    pad(at);
    pad(at + padded);
    return true;
  }

  function refreshCoils({ group, first, last, factors }: (typeof groups)[number], values: readonly ArrayLike<number>[]): boolean {
    let same = true;
    for (let k = 0; k < factors.length; k++) {
      same &&= factors[k] === group.factors[k];
      factors[k] = group.factors[k]!;
    }
    group.branches.forEach((branch, k) => {
      for (let j = 0; j < 2; j++) {
        same &&= last[2 * k + j] === values[branch]![j];
        last[2 * k + j] = values[branch]![j]!;
      }
    });
    if (same) return false;
    const n = group.branches.length;
    const half = triangle(n);
    const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
    for (let i = 0; i < padded; i++) {
      invertCoils(group, values, 2 * Math.PI * frequencies[Math.min(i, count - 1)]!, work, out);
      for (let k = 0; k < half; k++) {
        table[2 * padded * (first + k) + i] = out[k]!;
        table[2 * padded * (first + k) + padded + i] = out[half + k]!;
      }
    }
    return true;
  }

  function refreshSlopes(values: readonly ArrayLike<number>[]): boolean {
    let same = true;
    for (const { branch, last } of sloped) {
      for (let k = 0; k < last.length; k++) {
        same &&= last[k] === values[branch]![k];
        last[k] = values[branch]![k]!;
      }
    }
    if (same || writeSlopes === undefined) return false;
    const at = (number: number) => 2 * padded * (firstOfSlopes + number);
    writeSlopes(
      values,
      (number) => table.subarray(at(number), at(number) + padded),
      (number) => table.subarray(at(number) + padded, at(number) + 2 * padded),
    );
    slopes.forEach((_, number) => {
      pad(at(number));
      pad(at(number) + padded);
    });
    return true;
  }

  return {
    count: tables,
    padded,
    table,
    ofBranch: (branch) => places.get(branch)!,
    firstOfCoils: tabled.length,
    firstOfSlopes,
    refresh(values) {
      let changed = false;
      for (let place = 0; place < tabled.length; place++) changed = refreshBranch(tabled[place]!, place, values) || changed;
      for (let k = 0; k < groups.length; k++) changed = refreshCoils(groups[k]!, values) || changed;
      changed = refreshSlopes(values) || changed;
      if (changed) version++;
      return version;
    },
  };
}
