import { WASM_PAGE, wasmInstance } from "../numeric/internal";
import { boundModule, type BoundShape } from "./bound-kernels";

/** Kernels of one shape, and the memory they work on. */
export interface BoundMachine {
  readonly hear: (constants: number, nodes: number, intervals: number, end: number) => void;
  readonly logarithms: (intervals: number, logarithms: number, end: number) => void;
  readonly pull: (logarithms: number, shares: number, end: number) => void;
  /** Bytes in all, as numbers. */
  readonly memory: () => Float64Array;
  /** Whoever laid it out last. */
  owner: object | undefined;
  /** Makes the memory at least this large; false where that is more than it can be. */
  readonly ensure: (bytes: number) => boolean;
}

/** 16 MiB: what needs more goes without. */
const MOST_PAGES = 256;
const machines = new Map<string, BoundMachine | undefined>();

/** The machine of a shape, made once; undefined where WebAssembly may not be compiled. */
export function boundMachine(shape: BoundShape): BoundMachine | undefined {
  const { channels, branches, places, source, beside } = shape;
  const key = [channels, branches, places, source, beside].join(" ");
  if (!machines.has(key)) machines.set(key, made(shape));
  return machines.get(key);
}

function made(shape: BoundShape): BoundMachine | undefined {
  const instance = wasmInstance<Pick<BoundMachine, "hear" | "logarithms" | "pull">>(boundModule(shape), {
    initial: 1,
    maximum: MOST_PAGES,
  });
  if (instance === undefined) return undefined;
  const { memory, exports } = instance;
  let numbers = new Float64Array(memory.buffer);
  const machine: BoundMachine = {
    hear: exports.hear,
    logarithms: exports.logarithms,
    pull: exports.pull,
    memory: () => numbers,
    owner: undefined,
    ensure(bytes) {
      if (bytes > MOST_PAGES * WASM_PAGE) return false;
      if (numbers.byteLength < bytes) {
        memory.grow(Math.ceil((bytes - numbers.byteLength) / WASM_PAGE));
        numbers = new Float64Array(memory.buffer);
        machine.owner = undefined;
      }
      return true;
    },
  };
  return machine;
}
