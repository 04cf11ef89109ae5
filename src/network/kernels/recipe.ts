import type { Operand } from "./operand";
import { c, sum, type Base, type Complex, type Place, type Real } from "./symbols";

/** What the law of an operation is written with. */
export interface Maker {
  /** Value `index` of the branch. */
  value(index: number): Real;
  omega(): Real;
  /** The complex numbers of a slot or of a table; `next`: of the table so many further on. All reading comes before writing. */
  get(operand: "d" | "a" | "b", next?: number): Complex;
  put(operand: "d" | "a" | "b", value: Complex): void;
  add(operand: "d" | "a" | "b", value: Complex): void;
  /** Adds to the real parts; the imaginary parts are left as they are. */
  addReal(operand: "d" | "a" | "b", value: Real): void;
  /** Adds what all points have to a sum, or to the one `next` further on. */
  gather(operand: "d" | "a" | "b", next: number, value: Real): void;
  grow(value: Real): void;
}

export type Law = (k: Maker) => void;

/** What is done at each point, in order. */
export type Step =
  | { readonly kind: "let"; readonly value: Real }
  | { readonly kind: "store"; readonly place: Place; readonly value: Real }
  | { readonly kind: "gather"; readonly operand: "d" | "a" | "b"; readonly next: number; readonly value: Real };

/** An operation as steps: what needs a name of its own is named once, before it is used. */
export interface Recipe {
  readonly name: string;
  readonly operands: readonly Operand[];
  /** Named before the loop over the points: what is the same at each of them. */
  readonly before: readonly Real[];
  readonly steps: readonly Step[];
}

const LETTERS = ["d", "a", "b"] as const;

/** Writes the law of an operation down as steps. */
export function recipe(name: string, operands: readonly Operand[], law: Law): Recipe {
  const reading: Real[] = [];
  const written: Exclude<Step, { readonly kind: "let" }>[] = [];
  const values = new Map<number, Real>();
  const loads = new Map<string, Real>();
  const load = (place: Place): Real => {
    const key = JSON.stringify(place);
    const known = loads.get(key);
    if (known !== undefined) return known;
    const value: Real = { kind: "load", place };
    loads.set(key, value);
    reading.push(value);
    return value;
  };
  const place = (operand: Base, half: number): Place => ({
    base: operand,
    half,
    overGrid: ["table", "output"].includes(operands[LETTERS.indexOf(operand as "d")]!),
  });
  const growth: Place = { base: "growth", half: 0, overGrid: false };
  const store = (at: Place, value: Real) => void written.push({ kind: "store", place: at, value });
  const k: Maker = {
    value(index) {
      const value = values.get(index) ?? ({ kind: "value", index } as const);
      values.set(index, value);
      return value;
    },
    omega: () => load({ base: "omega", half: 0, overGrid: true }),
    get: (operand, next = 0) => ({ re: load(place(operand, 2 * next)), im: load(place(operand, 2 * next + 1)) }),
    put(operand, { re, im }) {
      store(place(operand, 0), re);
      store(place(operand, 1), im);
    },
    add: (operand, value) => k.put(operand, c.sum(k.get(operand), value)),
    addReal: (operand, value) => store(place(operand, 0), sum(load(place(operand, 0)), value)),
    gather: (operand, next, value) => void written.push({ kind: "gather", operand, next, value }),
    grow: (value) => store(growth, sum(load(growth), value)),
  };
  law(k);
  return { name, operands, ...named(reading, written) };
}

export const partsOf = (value: Real): readonly Real[] => ("of" in value ? [value.of] : "first" in value ? [value.first, value.second] : []);

/** The same at each point. */
const uniform = (value: Real): boolean => value.kind !== "load" && partsOf(value).every(uniform);

/** Names what is loaded, what is used twice, and what can be computed before the loop; leaves out what nobody uses. */
function named(reading: readonly Real[], written: readonly Exclude<Step, { readonly kind: "let" }>[]): Pick<Recipe, "before" | "steps"> {
  const uses = new Map<Real, number>();
  const count = (value: Real): void => {
    const known = uses.get(value) ?? 0;
    uses.set(value, known + 1);
    if (known === 0) partsOf(value).forEach(count);
  };
  for (const { value } of written) count(value);
  const before: Real[] = [];
  const steps: Step[] = reading.filter((value) => uses.has(value)).map((value) => ({ kind: "let", value }));
  const done = new Set<Real>(reading);
  const prepare = (value: Real, insideUniform: boolean): void => {
    if (done.has(value) || value.kind === "constant") return;
    done.add(value);
    const fixed = uniform(value);
    for (const part of partsOf(value)) prepare(part, fixed);
    const shared = uses.get(value)! > 1;
    if (fixed && (shared || !insideUniform)) before.push(value);
    else if (!fixed && shared) steps.push({ kind: "let", value });
  };
  for (const step of written) {
    prepare(step.value, false);
    steps.push(step);
  }
  return { before, steps };
}
