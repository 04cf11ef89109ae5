import { OP, type Program } from "./program";

/** Frequencies worked on at once: small enough that a network's slots stay in the nearest caches. */
export const BLOCK = 128;

/** Fills a block (count points from `start` of the grid) with an admittance: `at` is where its real parts go, the imaginary parts go BLOCK later. */
export type Fill = (index: number, start: number, count: number, memory: Float64Array, at: number) => void;

/** Where the results of a run go: output k of point i at [k][i]. */
export interface Outputs {
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
}

/**
 * Runs a program over one block. `memory` holds the slots (2·BLOCK numbers each); `growth` receives, for each point, the
 * sum of |ratio|², which tells where the fixed order of elimination met a pivot too small to trust.
 */
export function runBlock(program: Program, memory: Float64Array, growth: Float64Array, start: number, count: number, fill: Fill, fillCoils: Fill, outputs: Outputs): void {
  const { code } = program;
  const size = 2 * BLOCK;
  growth.fill(0);
  for (let at = 0; at < code.length; at += 4) {
    const target = code[at + 1]!;
    const t = target * size;
    const a = code[at + 2]! * size;
    const b = code[at + 3]! * size;
    switch (code[at]) {
      case OP.fill:
        fill(code[at + 2]!, start, count, memory, t);
        break;
      case OP.fillCoils:
        fillCoils(code[at + 2]!, start, count, memory, t);
        break;
      case OP.move:
        memory.copyWithin(t, a, a + size);
        break;
      case OP.negate:
        for (let i = 0; i < size; i++) memory[t + i] = -memory[a + i]!;
        break;
      case OP.add:
        for (let i = 0; i < size; i++) memory[t + i] = memory[t + i]! + memory[a + i]!;
        break;
      case OP.subtract:
        for (let i = 0; i < size; i++) memory[t + i] = memory[t + i]! - memory[a + i]!;
        break;
      case OP.sum:
        for (let i = 0; i < size; i++) memory[t + i] = memory[a + i]! + memory[b + i]!;
        break;
      case OP.reciprocal:
        reciprocal(memory, t, a, count);
        break;
      case OP.multiply:
        multiply(memory, t, a, b, count);
        break;
      case OP.ratio:
        multiply(memory, t, a, b, count);
        for (let i = 0; i < count; i++) growth[i] = growth[i]! + memory[t + i]! * memory[t + i]! + memory[t + BLOCK + i]! * memory[t + BLOCK + i]!;
        break;
      case OP.multiplyAdd:
        multiplyAdd(memory, t, a, b, count);
        break;
      case OP.multiplySubtract:
        multiplySubtract(memory, t, a, b, count);
        break;
      case OP.multiplyNegate:
        multiply(memory, t, a, b, count);
        for (let i = 0; i < size; i++) memory[t + i] = -memory[t + i]!;
        break;
      case OP.out:
        outputs.re[target]!.set(memory.subarray(a, a + count), start);
        outputs.im[target]!.set(memory.subarray(a + BLOCK, a + BLOCK + count), start);
        break;
      case OP.outNegated:
        for (let i = 0; i < count; i++) {
          outputs.re[target]![start + i] = -memory[a + i]!;
          outputs.im[target]![start + i] = -memory[a + BLOCK + i]!;
        }
        break;
      case OP.outZero:
      case OP.outOne:
        outputs.re[target]!.fill(code[at] === OP.outOne ? code[at + 2]! : 0, start, start + count);
        outputs.im[target]!.fill(0, start, start + count);
        break;
    }
  }
}

function reciprocal(m: Float64Array, t: number, a: number, count: number): void {
  for (let i = 0; i < count; i++) {
    const re = m[a + i]!;
    const im = m[a + BLOCK + i]!;
    const size = re * re + im * im;
    m[t + i] = re / size;
    m[t + BLOCK + i] = -im / size;
  }
}

function multiply(m: Float64Array, t: number, a: number, b: number, count: number): void {
  for (let i = 0; i < count; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[t + i] = ar * br - ai * bi;
    m[t + BLOCK + i] = ar * bi + ai * br;
  }
}

function multiplyAdd(m: Float64Array, t: number, a: number, b: number, count: number): void {
  for (let i = 0; i < count; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[t + i] = m[t + i]! + (ar * br - ai * bi);
    m[t + BLOCK + i] = m[t + BLOCK + i]! + (ar * bi + ai * br);
  }
}

function multiplySubtract(m: Float64Array, t: number, a: number, b: number, count: number): void {
  for (let i = 0; i < count; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[t + i] = m[t + i]! - (ar * br - ai * bi);
    m[t + BLOCK + i] = m[t + BLOCK + i]! - (ar * bi + ai * br);
  }
}
