import { GROUP, HALF_BYTES, SUM_BYTES } from "./block";
import type { Recipe, Step } from "./recipe";
import type { Base, Place, Real } from "./symbols";
import { wasm, type Code, type WasmFunction } from "../../numeric/internal";

const {
  added,
  block,
  branch,
  branchIf,
  branchTable,
  call,
  constant,
  divided,
  get,
  getGlobal,
  lessUnsigned,
  loadI32,
  loadSplat,
  loadVector,
  loop,
  moduleOf,
  multiplied,
  negated,
  minus,
  plus,
  select,
  set,
  setGlobal,
  splat,
  storeVector,
  subtracted,
  tee,
} = wasm;

/** Parameters of a kernel: its operands. */
const PARAMETERS = ["d", "a", "b"] as const;
/** What it is told beside them, the same for all kernels on one block, in globals: see `Run`. */
const GLOBALS = ["size", "at", "stride", "growth", "omega"] as const;
const given = (name: (typeof PARAMETERS)[number] | (typeof GLOBALS)[number]): Code => {
  const parameter = (PARAMETERS as readonly string[]).indexOf(name);
  return parameter < 0 ? getGlobal((GLOBALS as readonly string[]).indexOf(name)) : get(parameter);
};
const ARITHMETIC = { sum: added, difference: subtracted, product: multiplied, quotient: divided } as const;
/** An operation of more steps than this has its loop once for two points, a shorter one for all of a group. */
const LONG = 10;

/** The module's bytes: `run` goes through a program and calls a function for each operation, which works on two points at a time. */
export function wasmBytes(recipes: readonly Recipe[]): Uint8Array<ArrayBuffer> {
  const kernels = recipes.map(kernel);
  return moduleOf([...kernels, interpreter(kernels.length)], { run: kernels.length }, GLOBALS.length);
}

/** Parameters: see `Run`. Goes through the program for each block, the last of which may be shorter. */
function interpreter(count: number): WasmFunction {
  const [code, end, size, at, stride, growth, omega, pc, stop] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
  const told = (name: (typeof GLOBALS)[number], local: number): Code => [...get(local), ...setGlobal(GLOBALS.indexOf(name))];
  const onwards = (local: number): Code => [...get(local), ...constant(HALF_BYTES), ...plus, ...set(local)];
  const operation = (index: number): Code => [...[4, 8, 12].flatMap((offset) => [...get(pc), ...loadI32(offset)]), ...call(index)];
  let body: Code = block(
    get(pc),
    loadI32(0),
    branchTable(
      Array.from({ length: count }, (_, index) => index),
      count - 1,
    ),
  );
  for (let index = 0; index < count; index++)
    body = index === count - 1 ? [...body, ...operation(index)] : block(body, operation(index), branch(count - 1 - index));
  return {
    parameters: 7,
    integers: 2,
    vectors: 0,
    body: [
      ...told("stride", stride),
      ...told("omega", omega),
      ...[...get(at), ...get(size), ...plus, ...set(stop)],
      ...loop(
        // What is left, but no more than a block.
        [...get(stop), ...get(at), ...minus, ...set(size)],
        [...get(size), ...constant(HALF_BYTES), ...get(size), ...constant(HALF_BYTES), ...lessUnsigned, ...select],
        setGlobal(GLOBALS.indexOf("size")),
        told("at", at),
        told("growth", growth),
        [...get(code), ...set(pc)],
        loop(block(body), get(pc), constant(16), plus, set(pc), get(pc), get(end), lessUnsigned, branchIf(0)),
        onwards(growth),
        onwards(at),
        [...get(at), ...get(stop), ...lessUnsigned, ...branchIf(0)],
      ),
    ],
  };
}

/** The locals that walk along the places of an operation, from `first` on; operands walk themselves. */
function walkers(
  steps: readonly Step[],
  first: number,
): {
  /** What leaves the address of a place on the stack, and the offset to add. */
  readonly to: (place: Place) => readonly [address: Code, offset: number];
  readonly locals: readonly number[];
  readonly start: Code;
  readonly own: number;
} {
  const found = new Map<string, { readonly local: number; readonly start: Code }>();
  let next = first;
  const places = steps.flatMap((step) =>
    step.kind === "store" ? [step.place] : step.kind === "let" && step.value.kind === "load" ? [step.value.place] : [],
  );
  // A row of tables would take more walkers than there are registers: one walks, and another runs from it along the row at each point.
  const rows = new Map(places.filter(({ half }) => half > 1).map(({ base }) => [base, { local: next++, half: 0 }]));
  const strides = (count: number): Code => Array.from({ length: count }, () => [...given("stride"), ...plus]).flat();
  const walking = (base: Base, half: number, overGrid: boolean): number => {
    const letter = (PARAMETERS as readonly string[]).indexOf(base);
    const key = !overGrid && letter >= 0 ? base : `${base} ${half}`;
    const known = found.get(key);
    if (known !== undefined) return known.local;
    const local = key === base ? letter : next++;
    const start = key === base ? [] : [...given(base), ...(overGrid ? [...given("at"), ...plus] : []), ...strides(half), ...set(local)];
    found.set(key, { local, start });
    return local;
  };
  const to = ({ base, half, overGrid }: Place): readonly [Code, number] => {
    if (!overGrid && (PARAMETERS as readonly string[]).includes(base)) return [get(walking(base, 0, false)), half * HALF_BYTES];
    const row = rows.get(base);
    if (row === undefined) return [get(walking(base, half, overGrid)), 0];
    const walker = walking(base, 0, overGrid);
    const address = half > row.half ? [...get(row.local), ...strides(half - row.half)] : [...get(walker), ...strides(half)];
    row.half = half;
    return [[...address, ...tee(row.local)], 0];
  };
  for (const place of places) to(place);
  for (const row of rows.values()) row.half = Infinity;
  const all = [...found.values()];
  return { to, locals: all.map(({ local }) => local), start: all.flatMap(({ start }) => start), own: next - first };
}

/** One operation as a function: its loop over the points of a block, two to a vector. */
function kernel({ operands, before, steps }: Recipe): WasmFunction {
  const turns = steps.length > LONG ? 1 : GROUP / 2;
  const stop = PARAMETERS.length;
  const { to: pointerTo, locals, start, own: pointers } = walkers(steps, stop + 1);
  const integers = 1 + pointers;
  const firstVector = PARAMETERS.length + integers;
  const names = new Map<Real, number>();
  const own = (["d", "a", "b"] as const)[operands.indexOf("values")];
  const code = (value: Real, step: number): Code => {
    const name = names.get(value);
    if (name !== undefined) return get(name);
    switch (value.kind) {
      case "constant":
        return splat(value.value);
      case "value":
        return [...given(own!), ...loadSplat(8 * value.index)];
      case "load": {
        const [address, offset] = pointerTo(value.place);
        return [...address, ...loadVector(offset + 16 * step)];
      }
      case "negative":
        return [...code(value.of, step), ...negated];
      default:
        return [...code(value.first, step), ...code(value.second, step), ...ARITHMETIC[value.kind]];
    }
  };
  const define = (value: Real, step: number): Code => {
    const made = code(value, step);
    const name = names.get(value) ?? firstVector + sums.size + names.size;
    names.set(value, name);
    return [...made, ...set(name)];
  };
  // Sums are carried from point to point, not written.
  const gathers = steps.filter((step) => step.kind === "gather");
  const sums = new Map(gathers.map((step, k) => [step, firstVector + k] as const));
  const fixed = before.flatMap((value) => define(value, 0));
  const outside = new Map(names);
  let vectors = names.size;
  const body = (step: number): Code => {
    names.clear();
    for (const [value, name] of outside) names.set(value, name);
    const made = steps.flatMap((each) => {
      if (each.kind === "let") return define(each.value, step);
      if (each.kind === "store") {
        const [address, offset] = pointerTo(each.place);
        return [...address, ...code(each.value, step), ...storeVector(offset + 16 * step)];
      }
      const sum = sums.get(each)!;
      return [...get(sum), ...code(each.value, step), ...added, ...set(sum)];
    });
    vectors = Math.max(vectors, names.size);
    return made;
  };
  const points = Array.from({ length: turns }, (_, step) => body(step)).flat();
  const first = locals[0]!;
  return {
    parameters: PARAMETERS.length,
    integers,
    vectors: vectors + sums.size,
    body: [
      ...gathers.flatMap((step) => [...given(step.operand), ...loadVector(SUM_BYTES * step.next), ...set(sums.get(step)!)]),
      ...start,
      ...fixed,
      ...get(first),
      ...given("size"),
      ...plus,
      ...set(stop),
      ...loop(
        points,
        ...locals.map((local) => [...get(local), ...constant(16 * turns), ...plus, ...set(local)]),
        get(first),
        get(stop),
        lessUnsigned,
        branchIf(0),
      ),
      ...gathers.flatMap((step) => [...given(step.operand), ...get(sums.get(step)!), ...storeVector(SUM_BYTES * step.next)]),
    ],
  };
}
