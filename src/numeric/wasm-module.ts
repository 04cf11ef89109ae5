/**
 * Just enough of a WebAssembly assembler: numbers, sections, and the instructions that are used, after the
 * WebAssembly core specification 2.0 with its 128-bit vectors.
 */
export type Code = readonly number[];

/** Unsigned LEB128. */
function unsigned(value: number): Code {
  const bytes: number[] = [];
  do {
    const low = value & 0x7f;
    value >>>= 7;
    bytes.push(value === 0 ? low : low | 0x80);
  } while (value !== 0);
  return bytes;
}

/** Signed LEB128. */
function signed(value: number): Code {
  const bytes: number[] = [];
  for (;;) {
    const low = value & 0x7f;
    value >>= 7;
    const done = (value === 0 && (low & 0x40) === 0) || (value === -1 && (low & 0x40) !== 0);
    bytes.push(done ? low : low | 0x80);
    if (done) return bytes;
  }
}

const I32 = 0x7f;
const V128 = 0x7b;
const vector = (operation: number, ...rest: Code): Code => [0xfd, ...unsigned(operation), ...rest];

const get = (local: number): Code => [0x20, ...unsigned(local)];
const set = (local: number): Code => [0x21, ...unsigned(local)];
/** Sets, and leaves the number on the stack. */
const tee = (local: number): Code => [0x22, ...unsigned(local)];
const getGlobal = (global: number): Code => [0x23, ...unsigned(global)];
const setGlobal = (global: number): Code => [0x24, ...unsigned(global)];
const constant = (value: number): Code => [0x41, ...signed(value)];
const plus: Code = [0x6a];
const minus: Code = [0x6b];
const lessUnsigned: Code = [0x49];
/** The first of two numbers below a third that isn't 0, else the second. */
const select: Code = [0x1b];
const loadI32 = (offset: number): Code => [0x28, 2, ...unsigned(offset)];
const loadVector = (offset: number): Code => vector(0, 3, ...unsigned(offset));
const loadSplat = (offset: number): Code => vector(10, 3, ...unsigned(offset));
const storeVector = (offset: number): Code => vector(11, 3, ...unsigned(offset));
/** One number, twice. */
const splat = (value: number): Code => [0x44, ...new Uint8Array(Float64Array.of(value).buffer), ...vector(20)];
/** 1s where two differ. */
const differ: Code = [0xfd, 0x48];
const both: Code = [0xfd, 0x4e];
const root: Code = [0xfd, 0xef, 1];
const negated: Code = [0xfd, 0xed, 1];
const added: Code = [0xfd, 0xf0, 1];
const subtracted: Code = [0xfd, 0xf1, 1];
const multiplied: Code = [0xfd, 0xf2, 1];
const divided: Code = [0xfd, 0xf3, 1];
/** The first, unless the second is less, or more; what is no number is neither. */
const smaller: Code = [0xfd, 0xf6, 1];
const larger: Code = [0xfd, 0xf7, 1];

const block = (...body: readonly Code[]): Code => [0x02, 0x40, ...body.flat(), 0x0b];
const loop = (...body: readonly Code[]): Code => [0x03, 0x40, ...body.flat(), 0x0b];
const call = (index: number): Code => [0x10, ...unsigned(index)];
const branch = (depth: number): Code => [0x0c, ...unsigned(depth)];
const branchIf = (depth: number): Code => [0x0d, ...unsigned(depth)];
const branchTable = (targets: readonly number[], otherwise: number): Code => [
  0x0e,
  ...unsigned(targets.length),
  ...targets.flatMap(unsigned),
  ...unsigned(otherwise),
];

const section = (id: number, body: Code): Code => [id, ...unsigned(body.length), ...body];
const name = (text: string): Code => [...unsigned(text.length), ...[...text].map((character) => character.charCodeAt(0))];

/** A function of i32 parameters that returns nothing, with locals of i32 and then of v128. */
export interface WasmFunction {
  readonly parameters: number;
  readonly integers: number;
  readonly vectors: number;
  readonly body: Code;
}

const vectorOf = (items: readonly Code[]): Code => [...unsigned(items.length), ...items.flat()];

/** A module of functions on an imported memory `env.memory`; some of them are exported. Globals are of i32, and 0 at first. */
function moduleOf(
  functions: readonly WasmFunction[],
  exported: Readonly<Record<string, number>>,
  globals: number,
): Uint8Array<ArrayBuffer> {
  const types = [...new Set(functions.map(({ parameters }) => parameters))];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(1, vectorOf(types.map((count) => [0x60, ...vectorOf(Array.from({ length: count }, () => [I32])), 0]))),
    ...section(2, [1, ...name("env"), ...name("memory"), 2, 0, 1]),
    ...section(3, vectorOf(functions.map(({ parameters }) => [types.indexOf(parameters)]))),
    ...section(6, vectorOf(Array.from({ length: globals }, () => [I32, 1, ...constant(0), 0x0b]))),
    ...section(7, vectorOf(Object.entries(exported).map(([text, index]) => [...name(text), 0, ...unsigned(index)]))),
    ...section(
      10,
      vectorOf(
        functions.map(({ integers, vectors, body }) => {
          const code = [2, ...unsigned(integers), I32, ...unsigned(vectors), V128, ...body, 0x0b];
          return [...unsigned(code.length), ...code];
        }),
      ),
    ),
  ]);
}

/** The assembler. */
export const wasm = {
  unsigned,
  get,
  set,
  tee,
  getGlobal,
  setGlobal,
  constant,
  plus,
  minus,
  lessUnsigned,
  select,
  loadI32,
  loadVector,
  loadSplat,
  storeVector,
  splat,
  differ,
  both,
  root,
  negated,
  added,
  subtracted,
  multiplied,
  divided,
  smaller,
  larger,
  block,
  loop,
  call,
  branch,
  branchIf,
  branchTable,
  moduleOf,
} as const;
