import { WASM_PAGE, wasmInstance } from "../../numeric/internal";
import { memoryFor } from "../solve/memory";
import type { Run } from "./frame";
import { LENGTH, RULES, TEXT } from "./generated/wasm";
import { plainRun } from "./plain-run";
import { unpack } from "./unpack";

/** One memory with the kernels that work on it. Its owner is whoever laid it out last. */
export interface Machine {
  readonly kind: "webassembly" | "plain";
  memory: Float64Array;
  integers: Int32Array;
  run: Run;
  owner: object | undefined;
  /** Makes the memory at least this large; what it held may be lost. Refused with `out-of-memory` where there isn't so much. */
  ensure(bytes: number): void;
}

const MOST_PAGES = 32_768;
const MOST_BYTES = MOST_PAGES * WASM_PAGE;

/** A machine on plain arrays: always there, and the oracle of the other. */
export function plainMachine(): Machine {
  const machine: Machine = {
    kind: "plain",
    memory: new Float64Array(0),
    integers: new Int32Array(0),
    run: () => undefined,
    owner: undefined,
    ensure(bytes) {
      if (machine.memory.byteLength >= bytes) return;
      machine.memory = memoryFor(bytes, () => new Float64Array(Math.ceil(bytes / 8) * 2), MOST_BYTES);
      machine.integers = new Int32Array(machine.memory.buffer);
      machine.run = plainRun(machine.memory, machine.integers);
      machine.owner = undefined;
    },
  };
  return machine;
}

/** The bytes of the WebAssembly kernels. */
export const wasmModule = (): Uint8Array<ArrayBuffer> => unpack(LENGTH, RULES, TEXT);

/** A machine on WebAssembly; undefined where it may not be compiled (a strict content-security policy, an old engine). */
export function wasmMachine(): Machine | undefined {
  const made = wasmInstance<{ readonly run: Run }>(wasmModule(), { initial: 4, maximum: MOST_PAGES });
  if (made === undefined) return undefined;
  const { memory, exports } = made;
  const machine: Machine = {
    kind: "webassembly",
    memory: new Float64Array(memory.buffer),
    integers: new Int32Array(memory.buffer),
    run: exports.run,
    owner: undefined,
    ensure(bytes) {
      if (machine.memory.byteLength >= bytes) return;
      memoryFor(bytes, () => memory.grow(Math.ceil((bytes - machine.memory.byteLength) / WASM_PAGE)), MOST_BYTES);
      machine.memory = new Float64Array(memory.buffer);
      machine.integers = new Int32Array(memory.buffer);
      machine.owner = undefined;
    },
  };
  return machine;
}

let shared: Machine | undefined;

/** The machine that everything shares: made at first use, WebAssembly where it may be. */
export function sharedMachine(): Machine {
  shared ??= wasmMachine() ?? plainMachine();
  return shared;
}
