import { branchTables, tabledBranches, type BranchTables } from "./branch-tables";
import { coilStrain, type CoilStrain } from "./coil-strain";
import type { Circuit } from "../circuit";
import { eliminationOf, isTight, type Elimination } from "./elimination";
import { memoryFor } from "./memory";
import { planFor, type Plan } from "./plan";
import { programFor, type Program } from "./program";
import type { OutputPair } from "./program-values";
import { rowPoints, type RowPoints } from "./row-points";
import { storeRows } from "./row-voltages";

/** Unscaled results per volt at `in`: output 0 is the input admittance (S), output k + 1 the voltage of pair k. */
export interface EngineResult {
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
  /** The points that were solved by rows, by index of the frequency. They don't hang on the pairs asked for. */
  readonly byRows: readonly number[];
}

/** The structure of a circuit with its two frequency classes, analysed at first use. */
export interface Engine {
  readonly circuit: Circuit;
  /** Structure above 0 Hz. */
  readonly elimination: Elimination;
  /** Structure at 0 Hz; throws what is wrong there. */
  atZero(): Elimination;
  /** Asks all laws whether they reach over the frequencies (Hz) and throws when one doesn't; false where that would take too long. */
  reaches(frequencies: Float64Array): boolean;
  /** The points that a run solves by rows. */
  rows(frequencies: Float64Array, values?: readonly ArrayLike<number>[]): RowPoints;
  /**
   * Solves for the pairs at the frequencies (Hz, an array that nobody writes to later), in pieces, so that little memory is taken beside
   * the results'. Without `admittance`, output 0 may be empty.
   */
  run(
    frequencies: Float64Array,
    pairs: readonly OutputPair[],
    values?: readonly ArrayLike<number>[],
    rows?: RowPoints,
    admittance?: boolean,
  ): EngineResult;
  /** The same into arrays of the caller, output 0 the admittance. Returns the points that were solved by rows. */
  runInto(
    frequencies: Float64Array,
    pairs: readonly OutputPair[],
    values: readonly ArrayLike<number>[],
    re: readonly Float64Array[],
    im: readonly Float64Array[],
    rows?: RowPoints,
  ): readonly number[];
}

/** Frequencies run at once, and kept for the next run: some MB with all tables. */
const PIECE = 131_072;
/** Plans kept for the present grid, and programs kept for any. */
const PLANS = 8;
const PROGRAMS = 32;
const NONE: readonly number[] = [];

export function engineFor(circuit: Circuit, checkZero: () => void): Engine {
  const elimination = eliminationOf(circuit, false);
  const strain: CoilStrain =
    elimination.coils.length === 0 || elimination.dense ? { pairs: [], strained: () => [] } : coilStrain(elimination);
  let zero: Elimination | undefined;
  const atZero = () => {
    if (zero === undefined) {
      checkZero();
      // Ratios hold at every frequency, and may be written to.
      zero = { ...eliminationOf(circuit, true), ratios: elimination.ratios };
    }
    return zero;
  };
  const structureAt = (frequency: number) => (frequency === 0 ? atZero() : elimination);
  const own = circuit.branches.map(({ values }) => values);
  const rows = (frequencies: Float64Array, values: readonly ArrayLike<number>[] = own) => rowPoints(structureAt, frequencies, values);
  const tabled = tabledBranches(elimination);
  const programs = new Map<string, Program>();
  // Sweeps usually come again on the same grid with the same questions.
  let last: { readonly grid: Float64Array; readonly tables: BranchTables; readonly plans: Map<string, Plan> } | undefined;
  const onGrid = (grid: Float64Array) => {
    if (last?.grid === grid) return last;
    last =
      last !== undefined && sameNumbers(last.grid, grid)
        ? { ...last, grid }
        : { grid, tables: branchTables(elimination, grid, tabled), plans: new Map() };
    return last;
  };
  const programOf = (key: string, pairs: readonly OutputPair[]) =>
    kept(programs, PROGRAMS, key, () => programFor(elimination, [...pairs, ...strain.pairs]));

  return {
    circuit,
    elimination,
    atZero,
    reaches(frequencies) {
      const above = frequencies[0] === 0 ? frequencies.subarray(1) : frequencies;
      if (above.length > PIECE) return tabled.length === 0;
      if (above.length > 0) onGrid(above);
      return true;
    },
    rows,
    run(frequencies, pairs, values = own, points = rows(frequencies, values), admittance = true) {
      const count = frequencies.length;
      const input = admittance || strain.pairs.length > 0 ? count : 0;
      const outputs = () =>
        memoryFor(8 * count * (pairs.length + 1), () => {
          const list = [new Float64Array(input)];
          for (let k = 0; k < pairs.length; k++) list.push(new Float64Array(count));
          return list;
        });
      const [re, im] = [outputs(), outputs()];
      return { re, im, byRows: runInto(frequencies, pairs, values, re, im, points) };
    },
    runInto,
  };

  function runInto(
    frequencies: Float64Array,
    pairs: readonly OutputPair[],
    values: readonly ArrayLike<number>[],
    re: readonly Float64Array[],
    im: readonly Float64Array[],
    points?: RowPoints,
  ): readonly number[] {
    const count = frequencies.length;
    let byRows: number[] | undefined;
    const redo = (point: number) => {
      points ??= rows(frequencies, values);
      storeRows(points.at(point), structureAt(frequencies[point]!), pairs, values, frequencies[point]!, re, im, point);
      (byRows ??= []).push(point);
    };
    const first = count > 0 && frequencies[0] === 0 ? 1 : 0;
    if (first === 1) redo(0);
    // Factors may have been written to.
    if (elimination.dense || elimination.coils.some(isTight)) for (let point = first; point < count; point++) redo(point);
    else {
      for (let from = first; from < count; from += PIECE) {
        for (const point of runPiece(part(frequencies, from, PIECE), count - first <= PIECE, pairs, values, re, im, from))
          redo(from + point);
      }
    }
    return byRows ?? NONE;
  }

  /** Runs a piece of a grid and returns the points in it that must be solved by rows. */
  function runPiece(
    grid: Float64Array,
    whole: boolean,
    pairs: readonly OutputPair[],
    values: readonly ArrayLike<number>[],
    re: readonly Float64Array[],
    im: readonly Float64Array[],
    from: number,
  ): readonly number[] {
    let key = "";
    for (const [a, b] of pairs) key += `${a},${b};`;
    const program = programOf(key, pairs);
    const count = grid.length;
    const { tables, plans } = whole ? onGrid(grid) : { tables: branchTables(elimination, grid, tabled), plans: new Map<string, Plan>() };
    const plan = kept(plans, PLANS, key, () => planFor(elimination, program, grid, [], undefined, tables));
    if (strain.pairs.length === 0) return plan.run(values, re, im, from);
    const all = (results: readonly Float64Array[]) => [
      ...results.map((array) => part(array, from, count)),
      ...strain.pairs.map(() => new Float64Array(count)),
    ];
    const [allRe, allIm] = [all(re), all(im)];
    const suspect = plan.run(values, allRe, allIm, 0);
    return [...new Set([...suspect, ...strain.strained(values, grid, allRe, allIm, pairs.length + 1)])];
  }
}

/** What a map has under a key, made when it isn't there; of the rest, so many are kept. */
function kept<T>(map: Map<string, T>, most: number, key: string, make: () => T): T {
  const known = map.get(key);
  if (known !== undefined) return known;
  const fresh = make();
  if (map.size >= most) map.delete(map.keys().next().value!);
  map.set(key, fresh);
  return fresh;
}

function part(array: Float64Array, from: number, count: number): Float64Array {
  return from === 0 && count >= array.length ? array : array.subarray(from, from + count);
}

function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
