import { eliminateSmall } from "../numeric/internal";
import type { OptionLaws } from "./branch-laws";
import type { Pattern } from "./branch-pattern";
import { stamp } from "./stamp";

/** Share of a row below which a pivot has lost too many digits. */
const LOST = 1e-7;

/** Places that move: so many of a branch at most. */
export const MOST_PORTS = 3;

/** A solution at all frequencies, per volt at `in`; re and im in turn. */
export interface Solution {
  /** Of each watched part, one after another. */
  readonly voltages: Float64Array;
  /** S. */
  readonly admittance: Float64Array;
}

/** The same, and what 1 A through places that move changes. */
export interface PortSolution extends Solution {
  /** By place: the voltage across it. */
  readonly across: readonly Float64Array[];
  /** By place: the watched voltages that 1 A through it makes. */
  readonly turns: readonly Float64Array[];
  /** By two places, the later one first: the voltage (V) that 1 A through one makes across the other. */
  readonly through: readonly (readonly Float64Array[])[];
}

/** Room for a solution at n frequencies. */
export function portSolution(n: number, watched: number, ports: number): PortSolution {
  const numbers = (many: number) => new Float64Array(2 * n * many);
  const by = <T>(many: number, make: (index: number) => T): readonly T[] => Array.from({ length: many }, (_, index) => make(index));
  return {
    voltages: numbers(watched),
    admittance: numbers(1),
    across: by(ports, () => numbers(1)),
    turns: by(ports, () => numbers(watched)),
    through: by(ports, (one) => by(one + 1, () => numbers(1))),
  };
}

/** Solves the node equations of a branch, frequency by frequency, with no allocation. */
export class BranchElimination {
  private readonly laws: OptionLaws;
  private readonly points: number;
  /** Which parts are watched, by their places among all. */
  private readonly watched: readonly number[];
  private readonly width: number;
  private readonly a: Float64Array;
  /** By node: 0 V at `gnd`, 1 V at `in`, then the unknowns. */
  private readonly v: Float64Array;

  constructor(laws: OptionLaws, points: number, watched: readonly number[], mostUnknowns: number) {
    [this.laws, this.points, this.watched] = [laws, points, watched];
    // Right-hand sides: 1 V at `in`, and 1 A through each place that moves.
    this.width = mostUnknowns + 1 + MOST_PORTS;
    this.a = new Float64Array(2 * mostUnknowns * this.width);
    this.v = new Float64Array(2 * (mostUnknowns + 2));
    this.v[2] = 1;
  }

  /** Writes the solution; false where digits would be lost, next to a resonance without loss. */
  solve(options: ArrayLike<number>, pattern: Pattern, { voltages, admittance }: Solution): boolean {
    const m = pattern.unknowns;
    for (let i = 0; i < this.points; i++) {
      this.stamped(options, pattern, i);
      if (!eliminateSmall(this.a, this.width, m, m + 1, LOST)) return false;
      this.read(m, m);
      this.writeAdmittance(options, pattern, i, admittance);
      this.writeWatched(pattern, i, voltages);
    }
    return true;
  }

  /** The same with what 1 A changes that flows through each of some places, given by the numbers of their ends. */
  solvePorts(
    options: ArrayLike<number>,
    pattern: Pattern,
    ports: readonly (readonly [from: number, to: number])[],
    into: PortSolution,
  ): boolean {
    const m = pattern.unknowns;
    const { a, v, width } = this;
    for (let i = 0; i < this.points; i++) {
      this.stamped(options, pattern, i);
      for (let p = 0; p < ports.length; p++) {
        const [from, to] = ports[p]!;
        if (from > 1) a[2 * ((from - 2) * width + m + 1 + p)]! += 1;
        if (to > 1) a[2 * ((to - 2) * width + m + 1 + p)]! -= 1;
      }
      if (!eliminateSmall(a, width, m, m + 1 + ports.length, LOST)) return false;
      this.read(m, m);
      this.writeAdmittance(options, pattern, i, into.admittance);
      this.writeWatched(pattern, i, into.voltages);
      for (let p = 0; p < ports.length; p++) this.writeBetween(ports[p]!, i, into.across[p]!);
      v[2] = 0;
      for (let p = 0; p < ports.length; p++) {
        this.read(m, m + 1 + p);
        this.writeWatched(pattern, i, into.turns[p]!);
        for (let q = 0; q <= p; q++) this.writeBetween(ports[q]!, i, into.through[p]![q]!);
      }
      v[2] = 1;
    }
    return true;
  }

  private stamped(options: ArrayLike<number>, { nodes, unknowns }: Pattern, i: number): void {
    const { laws, a, width } = this;
    a.fill(0);
    for (let p = 0; p < laws.length; p++) {
      const branches = laws[p]![options[p]!];
      if (branches === undefined) continue;
      const ends = nodes[p]!;
      for (let b = 0; b < branches.length; b++) {
        const branch = branches[b]!;
        const from = ends[branch.from]!;
        const to = ends[branch.to]!;
        if (branch.short || from === to) continue;
        const yr = branch.y[2 * i]!;
        const yi = branch.y[2 * i + 1]!;
        stamp(a, width, unknowns, from, to, yr, yi);
        stamp(a, width, unknowns, to, from, yr, yi);
      }
    }
  }

  /** Reads the solution in a column of `a` into `v`. */
  private read(m: number, column: number): void {
    const { a, v, width } = this;
    for (let k = 0; k < m; k++) {
      v[2 * (k + 2)] = a[2 * (k * width + column)]!;
      v[2 * (k + 2) + 1] = a[2 * (k * width + column) + 1]!;
    }
  }

  private writeAdmittance(options: ArrayLike<number>, { nodes }: Pattern, i: number, admittance: Float64Array): void {
    const { laws, v } = this;
    let inRe = 0;
    let inIm = 0;
    for (let p = 0; p < laws.length; p++) {
      const branches = laws[p]![options[p]!];
      if (branches === undefined) continue;
      const ends = nodes[p]!;
      for (let b = 0; b < branches.length; b++) {
        const branch = branches[b]!;
        const from = ends[branch.from]!;
        const to = ends[branch.to]!;
        if (branch.short || from === to || (from !== 1 && to !== 1)) continue;
        const other = from === 1 ? to : from;
        const dr = 1 - v[2 * other]!;
        const di = -v[2 * other + 1]!;
        const yr = branch.y[2 * i]!;
        const yi = branch.y[2 * i + 1]!;
        inRe += yr * dr - yi * di;
        inIm += yr * di + yi * dr;
      }
    }
    admittance[2 * i] = inRe;
    admittance[2 * i + 1] = inIm;
  }

  /** The watched voltages of what is in `v`. */
  private writeWatched({ nodes }: Pattern, i: number, voltages: Float64Array): void {
    const { watched, points: n, v } = this;
    for (let w = 0; w < watched.length; w++) {
      const ends = nodes[watched[w]!]!;
      voltages[2 * (w * n + i)] = v[2 * ends[0]!]! - v[2 * ends[1]!]!;
      voltages[2 * (w * n + i) + 1] = v[2 * ends[0]! + 1]! - v[2 * ends[1]! + 1]!;
    }
  }

  private writeBetween([from, to]: readonly [from: number, to: number], i: number, out: Float64Array): void {
    const { v } = this;
    out[2 * i] = v[2 * from]! - v[2 * to]!;
    out[2 * i + 1] = v[2 * from + 1]! - v[2 * to + 1]!;
  }
}
