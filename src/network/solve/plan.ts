import { branchTables, type BranchTables } from "./branch-tables";
import type { Elimination } from "./elimination";
import { sharedMachine, type Machine } from "../kernels/machine";
import { BLOCK, BLOCK_BYTES, SUM_BYTES } from "../kernels/block";
import { GROWING } from "../kernels/generated/operations";
import { linkProgram } from "./link-program";
import type { Program } from "./program";
import { PSEUDO } from "./code-writer";

/** A program laid out for one grid of frequencies above 0 Hz, ready to be run for any values. */
export interface Plan {
  /**
   * Runs the program for the given values (by branch) and writes output k of point i to re[k][from + i], im[k][from + i]; not where those are empty.
   * Returns the points that must be solved by rows; allocates nothing while there are none.
   */
  run(values: readonly ArrayLike<number>[], re: readonly Float64Array[], im: readonly Float64Array[], from: number): readonly number[];
  /** Sum k of the last run. */
  sum(k: number): number;
}

/** A table that the owner of a plan supplies: complex numbers over the grid. Beyond the grid it counts as 0. */
export interface GivenTable {
  readonly re: ArrayLike<number>;
  readonly im: ArrayLike<number>;
}

/** Above this sum of |ratio|², each node's last ratio left out, the fixed order of elimination met a pivot too small to trust. */
const LARGEST_GROWTH = 2.5e7;
const NONE: readonly number[] = [];
/** Bytes of the machine's memory for what has a number for each frequency. Longer grids are run in pieces. */
const PIECE_BYTES = 2 ** 24;

/**
 * Lays a program out: code, values, ω, growth, tables (of the branches, then the given ones), slots, outputs. The machine's
 * memory is shared by all plans; a plan writes its part of it when another has used it since. A grid whose arrays would take too
 * much of it is run piece by piece: the same operations on the same numbers, and sums go on where the piece before ended.
 */
export function planFor(
  elimination: Elimination,
  program: Program,
  frequencies: Float64Array,
  given: readonly GivenTable[] = [],
  machine: Machine = sharedMachine(),
  tables: BranchTables = branchTables(elimination, frequencies, filledBranches(program), program.slopes),
): Plan {
  const { circuit } = elimination;
  const { outputs, sums } = program;
  const count = frequencies.length;
  const { padded } = tables;
  const omega = new Float64Array(padded);
  for (let i = 0; i < count; i++) omega[i] = 2 * Math.PI * frequencies[i]!;
  omega.fill(omega[count - 1]!, count);
  const added = new Float64Array(2 * padded * given.length);
  given.forEach(({ re, im }, index) => {
    added.set(re, 2 * padded * index);
    added.set(im, 2 * padded * index + padded);
  });
  const valueAt = new Map<number, number>();
  let numbers = 0;
  for (const branch of filledBranches(program)) {
    const { law, values } = circuit.branches[branch]!;
    if (law.kernel === undefined) continue;
    valueAt.set(branch, numbers);
    numbers += values.length;
  }
  const results = new Float64Array(sums);
  // Where nothing is put out there is nothing to solve again by rows.
  let growing = false;
  if (outputs > 0) for (let at = 0; at < program.code.length; at += 4) growing ||= GROWING.includes(program.code[at]!);

  // The layout, in bytes.
  const numbersAPoint = 2 + 2 * (tables.count + given.length + outputs);
  const piece = Math.min(padded, Math.max(BLOCK, Math.floor(PIECE_BYTES / (8 * numbersAPoint * BLOCK)) * BLOCK));
  const stride = 8 * piece;
  const codeBytes = 4 * program.code.length;
  const valuesAt = Math.ceil(codeBytes / 16) * 16;
  const omegaAt = valuesAt + 8 * (numbers + (numbers % 2));
  const growthAt = omegaAt + stride;
  const tablesAt = growthAt + stride;
  const givenAt = tablesAt + 2 * stride * tables.count;
  const slotsAt = givenAt + 2 * stride * given.length;
  const outputsAt = slotsAt + BLOCK_BYTES * program.slots;
  const sumsAt = outputsAt + 2 * stride * outputs;
  const bytes = sumsAt + SUM_BYTES * sums;
  const code = linkProgram(program.code, circuit, {
    slot: (number) => slotsAt + BLOCK_BYTES * number,
    sum: (number) => sumsAt + SUM_BYTES * number,
    output: (number) => outputsAt + 2 * stride * number,
    values: (branch) => valuesAt + 8 * valueAt.get(branch)!,
    branch: (branch) => tablesAt + 2 * stride * tables.ofBranch(branch),
    coils: (number) => tablesAt + 2 * stride * (tables.firstOfCoils + number),
    slopes: (number) => tablesAt + 2 * stride * (tables.firstOfSlopes + number),
    table: (number) => givenAt + 2 * stride * number,
  });
  const valued = Int32Array.from(valueAt.keys());
  const valuedAt = Int32Array.from(valueAt.values(), (at) => valuesAt / 8 + at);
  /** Where the outputs of a piece lie in the machine's memory, both parts of each in turn: made anew only when the memory is, or the last piece is shorter. */
  let seen: { readonly memory: Float64Array; readonly length: number; readonly parts: readonly Float64Array[] } | undefined;
  /** The version of the tables that lies in the machine's memory while this plan owns it. */
  let written = -1;

  return { run, sum: (k) => results[k]! };

  /** Writes points `start` … `start + size` of arrays over the whole grid (each `padded` long) to those of a piece. */
  function write(from: Float64Array, to: number, start: number, size: number): void {
    const { memory } = machine;
    if (size === padded) return memory.set(from, to / 8);
    for (let at = 0, k = 0; at < from.length; at += padded, k++)
      memory.set(from.subarray(at + start, at + start + size), to / 8 + piece * k);
  }

  function runPiece(size: number): void {
    if (growing) machine.memory.fill(0, growthAt / 8, growthAt / 8 + size);
    machine.run(0, codeBytes, 8 * size, 0, stride, growthAt, omegaAt);
  }

  function outputParts(length: number): readonly Float64Array[] {
    const { memory } = machine;
    if (seen?.memory !== memory || seen.length !== length) {
      const part = (k: number) => memory.subarray(outputsAt / 8 + piece * k, outputsAt / 8 + piece * k + length);
      seen = { memory, length, parts: Array.from({ length: 2 * outputs }, (_, k) => part(k)) };
    }
    return seen.parts;
  }

  function read(re: readonly Float64Array[], im: readonly Float64Array[], start: number, size: number, to: number): void {
    const length = Math.min(size, count - start);
    const parts = outputParts(length);
    for (let k = 0; k < outputs; k++) {
      if (re[k]!.length === 0) continue;
      const constant = program.constants.get(k);
      if (constant !== undefined) {
        re[k]!.fill(constant, to, to + length);
        im[k]!.fill(0, to, to + length);
      } else {
        re[k]!.set(parts[2 * k]!, to);
        im[k]!.set(parts[2 * k + 1]!, to);
      }
    }
  }

  function run(
    values: readonly ArrayLike<number>[],
    re: readonly Float64Array[],
    im: readonly Float64Array[],
    from: number,
  ): readonly number[] {
    const version = tables.refresh(values);
    machine.ensure(bytes);
    const mine = machine.owner === code;
    const { memory } = machine;
    if (!mine) machine.integers.set(code, 0);
    machine.owner = code;
    for (let i = 0; i < valued.length; i++) {
      const own = values[valued[i]!]!;
      const at = valuedAt[i]!;
      for (let k = 0; k < own.length; k++) memory[at + k] = own[k]!;
    }
    for (let k = sumsAt / 8; k < sumsAt / 8 + 2 * sums; k++) memory[k] = 0;
    let suspect: number[] | undefined;
    for (let start = 0; start < padded; start += piece) {
      const size = Math.min(piece, padded - start);
      if (!mine || size < padded) {
        write(omega, omegaAt, start, size);
        write(added, givenAt, start, size);
      }
      if (!mine || size < padded || version !== written) write(tables.table, tablesAt, start, size);
      if (code.length > 0) runPiece(size);
      read(re, im, start, size, from + start);
      if (!growing) continue;
      const growth = growthAt / 8 - start;
      const end = Math.min(start + size, count);
      for (let i = start; i < end; i++) if (!(memory[growth + i]! < LARGEST_GROWTH)) (suspect ??= []).push(i);
    }
    written = version;
    for (let k = 0; k < sums; k++) results[k] = memory[sumsAt / 8 + 2 * k]! + memory[sumsAt / 8 + 2 * k + 1]!;
    return suspect ?? NONE;
  }
}

/** The branches whose admittances a program fills in. */
function filledBranches({ code }: Program): readonly number[] {
  const found = new Set<number>();
  for (let at = 0; at < code.length; at += 4) if (code[at] === PSEUDO.fill || code[at] === PSEUDO.fillAdd) found.add(code[at + 2]!);
  return [...found];
}
