// A second solver for the tests: 50 digits, no cleverness. Every branch is a row a·(V_from − V_to) = b·I beside Kirchhoff's
// current law for every node, solved by Gaussian elimination with pivoting. It shares nothing with the library.
import { Decimal } from "decimal.js";
import type { Entries } from "dividing-network/network";

const Precise = Decimal.clone({ precision: 60, toExpNeg: -40, toExpPos: 40 });
type D = InstanceType<typeof Precise>;
type C = readonly [re: D, im: D];

const zero = new Precise(0);
const one = new Precise(1);
const pi = Precise.acos(-1);

interface Branch {
  readonly part: string;
  readonly from: string;
  readonly to: string;
  readonly a: C;
  readonly b: C;
  /** For coupled coils: inductance, H. */
  readonly inductance?: D;
}

export interface PrecisePoint {
  /** V(node) − V(gnd) per volt at `in`. */
  readonly voltage: (node: string) => C;
  /** Current of a part's first branch from its first node, A per volt at `in`. */
  readonly current: (part: string) => C;
  /** Current into `in`. */
  readonly source: C;
}

/** Solves a network of resistors, coils, capacitors, L-pads, couplings and transformers at one frequency in Hz. */
export function solvePrecisely(entries: Entries, frequency: number): PrecisePoint {
  const omega = pi.times(2).times(frequency);
  const branches: Branch[] = [];
  const ideal: { part: string; nodes: readonly string[]; ratio: D }[] = [];
  const mutual: { first: string; second: string; k: D }[] = [];
  const coil = (part: string, from: string, to: string, l: number, r: number) =>
    branches.push({ part, from, to, a: [one, zero], b: [new Precise(r), omega.times(l)], inductance: new Precise(l) });
  for (const [name, [part, ...nodes]] of Object.entries(entries)) {
    const [from, to, third, fourth] = nodes as [string, string, string, string];
    if (part.kind === "coupling") mutual.push({ first: from, second: to, k: new Precise(part.k) });
    else if (part.kind === "resistor") branches.push({ part: name, from, to, a: [one, zero], b: [new Precise(part.resistance), zero] });
    else if (part.kind === "inductor") coil(name, from, to, part.inductance, part.dcr);
    else if (part.kind === "capacitor") {
      const wc = omega.times(part.capacitance);
      branches.push({ part: name, from, to, a: [zero, wc], b: [one, wc.times(part.esr).plus(part.dissipationFactor)] });
    } else if (part.kind === "l-pad") {
      branches.push({ part: name, from, to, a: [one, zero], b: [new Precise(part.series), zero] });
      if (part.shunt !== undefined)
        branches.push({ part: `${name} shunt`, from: to, to: third, a: [one, zero], b: [new Precise(part.shunt), zero] });
    } else if (part.kind === "transformer") {
      if ("ratio" in part) ideal.push({ part: name, nodes: [from, to, third, fourth], ratio: new Precise(part.ratio) });
      else {
        coil(name, from, to, part.primaryInductance, part.primaryResistance);
        coil(`${name} secondary`, third, fourth, part.secondaryInductance, part.secondaryResistance);
        mutual.push({ first: name, second: `${name} secondary`, k: new Precise(part.k) });
      }
    } else throw new Error(`the precise solver knows no ${part.kind}`);
  }

  const column = new Map<string, number>();
  const put = (node: string) => node === "gnd" || column.has(node) || column.set(node, column.size);
  put("in");
  for (const { from, to } of branches) [from, to].forEach(put);
  for (const { nodes } of ideal) nodes.forEach(put);
  const nodes = column.size;
  const branchAt = new Map(branches.map(({ part }, index) => [part, nodes + index]));
  const source = nodes + branches.length + ideal.length;
  const rows = Array.from({ length: source + 1 }, () => new Map<number, C>());
  const right: C[] = rows.map(() => [zero, zero]);
  const add = (row: number, at: number, re: D, im: D = zero) => {
    const [r, i] = rows[row]!.get(at) ?? [zero, zero];
    rows[row]!.set(at, [r.plus(re), i.plus(im)]);
  };
  const terminal = (current: number, node: string, sign: number) => {
    const at = column.get(node);
    if (at !== undefined) add(at, current, new Precise(sign));
  };
  branches.forEach(({ part, from, to, a, b, inductance }, index) => {
    const row = nodes + index;
    terminal(row, from, 1);
    terminal(row, to, -1);
    for (const [node, sign] of [
      [from, 1],
      [to, -1],
    ] as const) {
      const at = column.get(node);
      if (at !== undefined) add(row, at, a[0].times(sign), a[1].times(sign));
    }
    add(row, row, b[0].neg(), b[1].neg());
    for (const { first, second, k } of mutual) {
      const other = first === part ? second : second === part ? first : undefined;
      if (other === undefined) continue;
      const l = branches[branchAt.get(other)! - nodes]!.inductance!;
      add(row, branchAt.get(other)!, zero, omega.times(k).times(inductance!.times(l).sqrt()).neg());
    }
  });
  ideal.forEach(({ nodes: [p1, p2, s1, s2], ratio }, index) => {
    const row = nodes + branches.length + index;
    for (const [node, weight] of [
      [p1!, one],
      [p2!, one.neg()],
      [s1!, ratio.neg()],
      [s2!, ratio],
    ] as const) {
      const at = column.get(node);
      if (at === undefined) continue;
      add(at, row, weight);
      add(row, at, weight);
    }
  });
  add(column.get("in")!, source, one.neg());
  add(source, column.get("in")!, one);
  right[source] = [one, zero];

  const solution = eliminate(rows, right);
  const at = (index: number | undefined): C => (index === undefined ? [zero, zero] : solution[index]!);
  const transformers = new Map(ideal.map(({ part }, index) => [part, nodes + branches.length + index]));
  return {
    voltage: (node) => at(column.get(node)),
    current: (part) => at(branchAt.get(part) ?? transformers.get(part)),
    source: at(source),
  };
}

function eliminate(rows: Map<number, C>[], right: C[]): C[] {
  const size = rows.length;
  for (let k = 0; k < size; k++) {
    let pivot = k;
    let best = zero;
    for (let row = k; row < size; row++) {
      const value = rows[row]!.get(k);
      if (value === undefined) continue;
      const norm = value[0].abs().plus(value[1].abs());
      if (norm.gt(best)) [pivot, best] = [row, norm];
    }
    if (best.isZero()) throw new Error("the precise solver met a singular matrix");
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    [right[k], right[pivot]] = [right[pivot]!, right[k]!];
    const top = rows[k]!;
    for (let row = k + 1; row < size; row++) {
      const value = rows[row]!.get(k);
      if (value === undefined) continue;
      const factor = divide(value, top.get(k)!);
      for (const [c, entry] of top) if (c > k) rows[row]!.set(c, minus(rows[row]!.get(c), times(factor, entry)));
      right[row] = minus(right[row], times(factor, right[k]!));
      rows[row]!.delete(k);
    }
  }
  const x: C[] = [];
  for (let k = size - 1; k >= 0; k--) {
    let sum: C = right[k]!;
    for (const [c, entry] of rows[k]!) if (c > k) sum = minus(sum, times(entry, x[c]!));
    x[k] = divide(sum, rows[k]!.get(k)!);
  }
  return x;
}

const times = ([a, b]: C, [c, d]: C): C =>
  b.isZero() && d.isZero() ? [a.times(c), zero] : [a.times(c).minus(b.times(d)), a.times(d).plus(b.times(c))];
const minus = (x: C | undefined, [c, d]: C): C => (x === undefined ? [c.neg(), d.neg()] : [x[0].minus(c), x[1].minus(d)]);
const divide = ([a, b]: C, [c, d]: C): C => {
  const norm = c.times(c).plus(d.times(d));
  return [a.times(c).plus(b.times(d)).div(norm), b.times(c).minus(a.times(d)).div(norm)];
};

/** |found − exact| / scale, where scale defaults to |exact|; 0 when both are 0. */
export function errorOf(re: number, im: number, exact: C, scale?: number): number {
  const miss = Precise.hypot(exact[0].minus(re), exact[1].minus(im));
  if (miss.isZero()) return 0;
  return miss.div(scale ?? Precise.hypot(exact[0], exact[1])).toNumber();
}

/** Difference of two exact values. */
export const difference = (x: C, y: C): C => minus(x, y);
