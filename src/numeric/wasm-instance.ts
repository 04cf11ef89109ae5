/** The little of WebAssembly that is used here, so that the library compiles without a browser's or Node's types. */
interface WasmGlobal {
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Memory: new (limits: { initial: number; maximum: number }) => WasmMemory;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
}

/** Pages of 65,536 bytes; its buffer is another one after it grew. */
export interface WasmMemory {
  readonly buffer: ArrayBuffer;
  grow(pages: number): number;
}

export const WASM_PAGE = 65_536;

/** A module with a memory of its own; undefined where it may not be compiled (a strict content-security policy, an old engine). */
export function wasmInstance<Exports>(
  bytes: Uint8Array<ArrayBuffer>,
  pages: { readonly initial: number; readonly maximum: number },
): { readonly memory: WasmMemory; readonly exports: Exports } | undefined {
  const own = (globalThis as unknown as { readonly WebAssembly?: WasmGlobal }).WebAssembly;
  if (own === undefined) return undefined;
  try {
    const memory = new own.Memory(pages);
    const { exports } = new own.Instance(new own.Module(bytes), { env: { memory } });
    return { memory, exports: exports as Exports };
  } catch {
    return undefined;
  }
}
