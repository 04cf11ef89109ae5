import { invertCoils } from "./coil-matrix";
import type { CircuitCoupling } from "../circuit";
import type { CoilGroup } from "../coupled-coils";
import type { BranchPlace } from "../place";
import type { Elimination } from "./elimination";
import { triangle, triangleIndex } from "./triangle";

/** A table of ∂Y/∂value over the grid: of a branch's own admittance, or of one entry of the inverse matrix that coupled coils share. */
export interface SlopeTable {
  readonly branch: number;
  /** Of the branch's law's values; of a coupled coil 0 and 1 are its inductance and resistance, and `FACTORS` + j its factor with coil j of its group. */
  readonly index: number;
  /** The two coils of the group, by their place in it, the first not after the second; absent: the branch's own admittance. */
  readonly entry?: readonly [row: number, column: number];
}

/** The coupled coils among which a branch is. */
export function groupOf({ coils }: Elimination, branch: number): CoilGroup | undefined {
  return coils.find(({ branches }) => branches.includes(branch));
}

/** The first number of a coupled coil's factors among its values. */
const FACTORS = 2;

/** The factor of a coupling as a value of its first coil. */
export function factorOf(elimination: Elimination, { first, second }: CircuitCoupling): BranchPlace {
  return { branch: first, index: FACTORS + groupOf(elimination, first)!.branches.indexOf(second) };
}

/** The slope tables of a value: one, or one for each entry of the upper triangle of its group's matrix. */
export function slopeTablesOf(elimination: Elimination, branch: number, index: number): readonly SlopeTable[] {
  const n = groupOf(elimination, branch)?.branches.length;
  if (n === undefined) return [{ branch, index }];
  return Array.from({ length: n }, (_, row) =>
    Array.from({ length: n - row }, (_unused, k): SlopeTable => ({ branch, index, entry: [row, row + k] })),
  ).flat();
}

/** Writes slope tables for the values at hand: number k to re(k) and im(k), of at least as many numbers as the grid (Hz) has. */
export function slopeWriter(
  elimination: Elimination,
  frequencies: Float64Array,
  tables: readonly SlopeTable[],
): (values: readonly ArrayLike<number>[], re: (table: number) => Float64Array, im: (table: number) => Float64Array) => void {
  const count = frequencies.length;
  const own = tables.flatMap(({ branch, index, entry }, table) =>
    entry === undefined ? [{ branch, index, table, evaluator: elimination.circuit.branches[branch]!.law.bind(frequencies) }] : [],
  );
  const coupled = elimination.coils
    .map((group) => ({
      group,
      tables: tables.flatMap((table, number) =>
        table.entry !== undefined && group.branches.includes(table.branch) ? [{ ...table, entry: table.entry, number }] : [],
      ),
    }))
    .filter((each) => each.tables.length > 0);
  return (values, re, im) => {
    for (const { branch, index, table, evaluator } of own)
      evaluator.derivative(values[branch]!, 0, index, 0, count, re(table), im(table), 0);
    for (const each of coupled) writeCoupled(each.group, each.tables, values, frequencies, re, im);
  };
}

/**
 * ∂Y/∂v = −Y·∂Z/∂v·Y with Z = R + jωM. A value of coil m is in row and column m of Z alone, ∂Z = e·dᵀ + d·eᵀ with e the unit vector m: for its resistance d_m = ½; for its inductance
 * d_m = jω/2 and d_j = jω·(k/2)·√(L_j/L_m), since M_mj = k·√(L_m·L_j); for its factor with coil c d_c = jω·√(L_m·L_c) alone.
 */
function writeCoupled(
  group: CoilGroup,
  tables: readonly (SlopeTable & { readonly entry: readonly [number, number]; readonly number: number })[],
  values: readonly ArrayLike<number>[],
  frequencies: Float64Array,
  re: (table: number) => Float64Array,
  im: (table: number) => Float64Array,
): void {
  const n = group.branches.length;
  const half = triangle(n);
  const [work, y, d] = [new Float64Array(2 * n * n), new Float64Array(2 * half), new Float64Array(n)];
  const at = (row: number, column: number) => triangleIndex(n, Math.min(row, column), Math.max(row, column));
  for (let i = 0; i < frequencies.length; i++) {
    const omega = 2 * Math.PI * frequencies[i]!;
    invertCoils(group, values, omega, work, y);
    for (const {
      branch,
      index,
      entry: [row, column],
      number,
    } of tables) {
      const m = group.branches.indexOf(branch);
      const own = values[branch]![0]!;
      const inductanceOf = (j: number) => values[group.branches[j]!]![0]!;
      for (let j = 0; j < n; j++) {
        if (index === 1) d[j] = j === m ? 0.5 : 0;
        else if (index >= FACTORS) d[j] = j === index - FACTORS ? omega * Math.sqrt(own * inductanceOf(j)) : 0;
        else d[j] = (omega / 2) * (j === m ? 1 : group.factors[m * n + j]! * Math.sqrt(inductanceOf(j) / own));
      }
      // g = Y·d, of the row and of the column; real d for a resistance, imaginary for an inductance.
      const along = (k: number): readonly [number, number] => {
        let [gr, gi] = [0, 0];
        for (let j = 0; j < n; j++) {
          gr += y[at(k, j)]! * d[j]!;
          gi += y[half + at(k, j)]! * d[j]!;
        }
        return index === 1 ? [gr, gi] : [-gi, gr];
      };
      const [[ar, ai], [br, bi]] = [along(row), along(column)];
      const [pr, pi] = [y[at(row, m)]!, y[half + at(row, m)]!];
      const [qr, qi] = [y[at(column, m)]!, y[half + at(column, m)]!];
      re(number)[i] = -(pr * br - pi * bi + ar * qr - ai * qi);
      im(number)[i] = -(pr * bi + pi * br + ar * qi + ai * qr);
    }
  }
}
