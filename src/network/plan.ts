import { invertCoils } from "./coil-matrix";
import type { Elimination } from "./elimination";
import { BLOCK, BLOCK_BYTES, GROUP, OP, SUM_BYTES } from "./kernels/operations";
import { sharedMachine, type Machine } from "./kernels/machine";
import type { Program } from "./program";
import { PSEUDO, triangle } from "./program-builder";
import { naming } from "./refusal";

/** A program laid out for one grid of frequencies above 0 Hz, ready to be run for any values. */
export interface Plan {
  /**
   * Runs the program for the given values (by branch) and writes output k of point i to re[k][from + i], im[k][from + i].
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

/** Above this sum of |ratio|² the fixed order of elimination met a pivot too small to trust. */
const LARGEST_GROWTH = 1e8;
const NONE: readonly number[] = [];

/**
 * Lays a program out: code, values, ω, growth, tables (branches without a kernel of their own, coupled coils), slots,
 * outputs. The machine's memory is shared by all plans; a plan writes its part of it when another has used it since.
 */
export function planFor({ circuit, coils }: Elimination, program: Program, frequencies: Float64Array, given: readonly GivenTable[] = [], machine: Machine = sharedMachine()): Plan {
  const { outputs, sums } = program;
  const count = frequencies.length;
  const padded = Math.ceil(count / GROUP) * GROUP;
  const stride = 8 * padded;
  const omega = Float64Array.from({ length: padded }, (_, index) => 2 * Math.PI * frequencies[Math.min(index, count - 1)]!);

  // Which branches the program fills, and how.
  const used = new Set<number>();
  for (let at = 0; at < program.code.length; at += 4) if (program.code[at] === PSEUDO.fill || program.code[at] === PSEUDO.fillAdd) used.add(program.code[at + 2]!);
  const valueAt = new Map<number, number>();
  const tableAt = new Map<number, number>();
  let [numbers, tables] = [0, 0];
  const tabled: { readonly branch: number; readonly fill: ReturnType<(typeof circuit.branches)[number]["law"]["bind"]>; readonly last: Float64Array; readonly table: number }[] = [];
  for (const branch of used) {
    const { law, values, part } = circuit.branches[branch]!;
    if (law.kernel !== undefined) {
      valueAt.set(branch, numbers);
      numbers += values.length;
    } else {
      tableAt.set(branch, tables);
      tabled.push({ branch, fill: naming(part, () => law.bind(frequencies)), last: new Float64Array(Math.max(1, values.length)).fill(NaN), table: tables });
      tables++;
    }
  }
  const coilTables = tables;
  const coilsOf = coils.map((group) => {
    const first = tables;
    tables += triangle(group.branches.length);
    return { group, first, last: new Float64Array(2 * group.branches.length).fill(NaN) };
  });
  const givenTables = tables;
  tables += given.length;
  const table = new Float64Array(2 * padded * tables);
  given.forEach(({ re, im }, index) => {
    table.set(re, 2 * padded * (givenTables + index));
    table.set(im, 2 * padded * (givenTables + index) + padded);
  });
  const results = new Float64Array(sums);

  // The layout, in bytes.
  const codeBytes = 4 * program.code.length;
  const valuesAt = Math.ceil(codeBytes / 16) * 16;
  const omegaAt = valuesAt + 8 * (numbers + (numbers % 2));
  const growthAt = omegaAt + stride;
  const tablesAt = growthAt + stride;
  const slotsAt = tablesAt + 2 * stride * tables;
  const outputsAt = slotsAt + BLOCK_BYTES * program.slots;
  const sumsAt = outputsAt + 2 * stride * outputs;
  const bytes = sumsAt + SUM_BYTES * sums;
  const code = link();
  const valued = Int32Array.from(valueAt.keys());
  const valuedAt = Int32Array.from(valueAt.values(), (at) => valuesAt / 8 + at);

  return { run, sum: (k) => results[k]! };

  /** Slots, branches and outputs become addresses. */
  function link(): Int32Array {
    const linked = Int32Array.from(program.code);
    const slot = (number: number) => slotsAt + BLOCK_BYTES * number;
    const sumAddress = (number: number) => sumsAt + SUM_BYTES * number;
    const addressOf = (number: number) => tablesAt + 2 * stride * number;
    for (let at = 0; at < linked.length; at += 4) {
      const [operation, d, a, b] = [linked[at]!, linked[at + 1]!, linked[at + 2]!, linked[at + 3]!];
      if (operation === PSEUDO.coils) linked.set([OP.table, slot(d), addressOf(coilTables + a), 0], at);
      else if (operation === OP.timesTable || operation === OP.timesTableAdd) linked.set([operation, slot(d), slot(a), addressOf(givenTables + b)], at);
      else if (operation === OP.powerError) linked.set([operation, slot(d), addressOf(givenTables + a), sumAddress(b)], at);
      else if (operation === OP.sumReal) linked.set([operation, sumAddress(d), slot(a), 0], at);
      else if (operation >= OP.resistanceSlope && operation <= OP.lossSlope) linked.set([operation, slot(d), valuesAt + 8 * valueAt.get(a)!, 0], at);
      else if (operation === OP.outProduct) linked.set([operation, outputsAt + 2 * stride * d, slot(a), slot(b)], at);
      else if (operation === OP.rankOne) linked.set([operation, slot(d), addressOf(givenTables + a), 0], at);
      else if (operation === PSEUDO.givenAdd) linked.set([OP.addTable, slot(d), addressOf(givenTables + a), 0], at);
      else if (operation === PSEUDO.given) linked.set([OP.table, slot(d), addressOf(givenTables + a), 0], at);
      else if (operation === OP.slopeCoil || operation === OP.slopeCapacitor) linked.set([operation, sumAddress(d), valuesAt + 8 * valueAt.get(a)!, slot(b)], at);
      else if (operation === PSEUDO.fill || operation === PSEUDO.fillAdd) {
        const { kernel } = circuit.branches[a]!.law;
        const plain = kernel === undefined ? OP.table : OP[kernel];
        const adding = plain + (OP.addResistance - OP.resistance);
        linked.set([operation === PSEUDO.fill ? plain : adding, slot(d), kernel === undefined ? addressOf(tableAt.get(a)!) : valuesAt + 8 * valueAt.get(a)!, 0], at);
      } else if (operation === OP.out || operation === OP.outNegated) linked.set([operation, outputsAt + 2 * stride * d, slot(a), 0], at);
      else linked.set([operation, slot(d), slot(a), slot(b)], at);
    }
    return linked;
  }

  /** Tables whose values have changed since the last run; true when any was rewritten. */
  function refresh(values: readonly ArrayLike<number>[]): boolean {
    let changed = false;
    for (let i = 0; i < tabled.length; i++) {
      const { branch, fill, last, table: number } = tabled[i]!;
      const now = values[branch]!;
      let same = !Number.isNaN(last[0]!);
      for (let k = 0; k < now.length && same; k++) same = last[k] === now[k];
      if (same) continue;
      if (now.length === 0) last[0] = 0;
      for (let k = 0; k < now.length; k++) last[k] = now[k]!;
      const at = 2 * padded * number;
      fill.admittance(now, 0, 0, count, table.subarray(at, at + padded), table.subarray(at + padded, at + 2 * padded), 0);
      pad(at);
      pad(at + padded);
      changed = true;
    }
    for (const { group, first, last } of coilsOf) {
      let same = true;
      group.branches.forEach((branch, k) => {
        for (let j = 0; j < 2; j++) {
          same &&= last[2 * k + j] === values[branch]![j];
          last[2 * k + j] = values[branch]![j]!;
        }
      });
      if (same) continue;
      const n = group.branches.length;
      const half = triangle(n);
      const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
      for (let i = 0; i < padded; i++) {
        invertCoils(group, values, omega[i]!, work, out);
        for (let k = 0; k < half; k++) {
          table[2 * padded * (first + k) + i] = out[k]!;
          table[2 * padded * (first + k) + padded + i] = out[half + k]!;
        }
      }
      changed = true;
    }
    return changed;
  }

  function pad(at: number): void {
    for (let i = count; i < padded; i++) table[at + i] = table[at + count - 1]!;
  }

  function run(values: readonly ArrayLike<number>[], re: readonly Float64Array[], im: readonly Float64Array[], from: number): readonly number[] {
    const changed = refresh(values);
    machine.ensure(bytes);
    const mine = machine.owner === code;
    const { memory } = machine;
    if (!mine) {
      machine.integers.set(code, 0);
      memory.set(omega, omegaAt / 8);
      machine.owner = code;
    }
    if (!mine || changed) memory.set(table, tablesAt / 8);
    for (let i = 0; i < valued.length; i++) {
      const own = values[valued[i]!]!;
      const at = valuedAt[i]!;
      for (let k = 0; k < own.length; k++) memory[at + k] = own[k]!;
    }
    const growth = growthAt / 8;
    for (let i = 0; i < padded; i++) memory[growth + i] = 0;
    for (let i = sumsAt / 8; i < sumsAt / 8 + 2 * sums; i++) memory[i] = 0;
    if (code.length > 0) {
      for (let start = 0; start < padded; start += BLOCK) {
        machine.run(0, codeBytes, 8 * Math.min(BLOCK, padded - start), 8 * start, stride, growthAt + 8 * start, omegaAt);
      }
    }
    for (let k = 0; k < outputs; k++) {
      const constant = program.constants.get(k);
      if (constant !== undefined) {
        re[k]!.fill(constant, from, from + count);
        im[k]!.fill(0, from, from + count);
      } else {
        const at = outputsAt / 8 + 2 * padded * k;
        re[k]!.set(memory.subarray(at, at + count), from);
        im[k]!.set(memory.subarray(at + padded, at + padded + count), from);
      }
    }
    for (let k = 0; k < sums; k++) results[k] = memory[sumsAt / 8 + 2 * k]! + memory[sumsAt / 8 + 2 * k + 1]!;
    let suspect: number[] | undefined;
    for (let i = 0; i < count; i++) if (!(memory[growth + i]! < LARGEST_GROWTH)) (suspect ??= []).push(i);
    return suspect ?? NONE;
  }
}
