import { DividingNetworkError } from "../errors";
import { compile, type Entries, type Entry } from "../network";
import { resistor } from "../parts";
import { BranchElimination, MOST_PORTS, portSolution, type PortSolution } from "./branch-elimination";
import { optionLaws, type BranchPart, type OptionLaws } from "./branch-laws";
import { nodeNumbers, patternsOf, type Pattern } from "./branch-pattern";

/** Solves one branch for the parts put in: voltages across chosen parts and the input admittance, per volt at `in`. */
export interface BranchSolver {
  /**
   * Solves for one set of parts, by the index of each option, and writes: of each watched part V (V/V), then Y (S), as re and im in turn.
   * False where the parts make no network that can be solved.
   */
  solve(options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean;
}

const DUMMY = "(load)";
/** Ω of a load beside a branch, so that one without a path of its own is a network too. */
const DUMMY_OHMS = 1e3;
/** Relative: how small a sum may be against what it is made of. */
const KEPT = 1e-4;

/** A solver for a branch at frequencies in Hz, above 0. */
export function branchSolver(
  parts: readonly BranchPart[],
  couplings: Entries,
  watched: readonly string[],
  frequencies: Float64Array,
): BranchSolver {
  const networkSolver = new NetworkSolver(parts, couplings, watched, frequencies);
  const laws = optionLaws(parts, couplings, frequencies);
  return laws === undefined ? networkSolver : new MovingSolver(parts, laws, watched, frequencies.length, networkSolver);
}

/** By the network's own solver, which sees lost digits coming. */
class NetworkSolver implements BranchSolver {
  private readonly parts: readonly BranchPart[];
  private readonly couplings: Entries;
  private readonly watched: readonly string[];
  private readonly frequencies: Float64Array;

  constructor(parts: readonly BranchPart[], couplings: Entries, watched: readonly string[], frequencies: Float64Array) {
    [this.parts, this.couplings, this.watched, this.frequencies] = [parts, couplings, watched, frequencies];
  }

  solve(options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean {
    const n = this.frequencies.length;
    try {
      const sweep = compile<Entries>(this.entriesOf(options)).sweep(this.frequencies);
      this.watched.forEach((name, index) => {
        const { re, im } = sweep.voltage(name);
        for (let i = 0; i < n; i++) [voltages[2 * (index * n + i)], voltages[2 * (index * n + i) + 1]] = [re[i]!, im[i]!];
      });
      const { re, im } = sweep.admittance;
      for (let i = 0; i < n; i++) [admittance[2 * i], admittance[2 * i + 1]] = [re[i]! - 1 / DUMMY_OHMS, im[i]!];
      return true;
    } catch (error) {
      if (error instanceof DividingNetworkError && (error.code === "invalid-network" || error.code === "no-solution")) return false;
      throw error;
    }
  }

  /** Whether these parts make a network is asked of the network itself. */
  isNetwork(options: ArrayLike<number>): boolean {
    try {
      compile<Entries>(this.entriesOf(options));
      return true;
    } catch (error) {
      if (error instanceof DividingNetworkError) return false;
      throw error;
    }
  }

  private entriesOf(options: ArrayLike<number>): Entries {
    const entries: Record<string, Entry> = { ...this.couplings, [DUMMY]: [resistor(DUMMY_OHMS), "in", "gnd"] };
    this.parts.forEach(({ name, nodes, options: own }, index) => {
      const part = own[options[index]!];
      if (part !== undefined) entries[name] = [part, ...nodes] as unknown as Entry;
    });
    return entries;
  }
}

/**
 * By admittances alone. The first places with many options are moved from the middle one: what flows through a change of admittance ΔY is ΔY·u/(1 + ΔY·Z), with u the voltage there before and Z what 1 A makes of it
 * (the Sherman–Morrison formula); options of the last lead on from an elimination, those of the one before from there.
 */
class MovingSolver implements BranchSolver {
  private readonly laws: OptionLaws;
  private readonly otherwise: NetworkSolver;
  private readonly patternOf: (options: ArrayLike<number>) => Pattern | undefined;
  private readonly elimination: BranchElimination;
  /** The places that move, the one that changes fastest first, and the option each is moved from. */
  private readonly moving: readonly number[];
  private readonly middles: readonly number[];
  /** By how many of them still stand at their middle: the options it is of, whether it can be used, and the solution. */
  private readonly stages: readonly { readonly options: Int32Array; usable: boolean; readonly solution: PortSolution }[];

  private readonly out: { voltages: Float64Array; admittance: Float64Array } & Pick<PortSolution, "across" | "turns" | "through">;

  constructor(parts: readonly BranchPart[], laws: OptionLaws, watched: readonly string[], points: number, otherwise: NetworkSolver) {
    const numbers = nodeNumbers(parts);
    const places = watched.map((name) => parts.findIndex((part) => part.name === name));
    [this.laws, this.otherwise] = [laws, otherwise];
    this.out = portSolution(0, 0, 0);
    this.patternOf = patternsOf(parts, laws, numbers, (options) => otherwise.isNetwork(options));
    this.elimination = new BranchElimination(laws, points, places, numbers.size - 2);
    const able = laws.flatMap((own, place) =>
      own.length > 2 && own.every((branches) => branches?.length === 1 && !branches[0]!.short) ? [place] : [],
    );
    this.moving = able.slice(0, MOST_PORTS);
    this.middles = this.moving.map((place) => laws[place]!.length >> 1);
    this.stages = this.moving.map((_, index) => ({
      options: Int32Array.from(parts, () => -1),
      usable: false,
      solution: portSolution(points, watched.length, index + 1),
    }));
  }

  solve(options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean {
    const { moving } = this;
    if (moving.length === 0) return this.whole(options, voltages, admittance);
    this.prepare(options, moving.length - 1);
    const first = this.stages[0]!;
    this.out.voltages = voltages;
    this.out.admittance = admittance;
    return (first.usable && this.moved(first.solution, 0, options, this.out)) || this.whole(options, voltages, admittance);
  }

  /** Makes a stage, and those that follow from it, the ones of these options. */
  private prepare(options: ArrayLike<number>, index: number): void {
    const { moving, middles, stages } = this;
    const stage = stages[index]!;
    let same = true;
    for (let p = 0; p < stage.options.length; p++) {
      const port = moving.indexOf(p);
      const option = port >= 0 && port <= index ? middles[port]! : options[p]!;
      if (stage.options[p] === option) continue;
      stage.options[p] = option;
      same = false;
    }
    if (!same) {
      const before = stages[index + 1];
      stage.usable = before?.usable === true ? this.moved(before.solution, index + 1, options, stage.solution) : false;
      stage.usable ||= this.eliminated(stage.options, index, stage.solution);
    }
    if (index > 0) this.prepare(options, index - 1);
  }

  private eliminated(options: ArrayLike<number>, index: number, into: PortSolution): boolean {
    const pattern = this.patternOf(options);
    if (pattern === undefined) return false;
    const ports = this.moving.slice(0, index + 1).map((place, port): readonly [number, number] => {
      const branch = this.laws[place]![this.middles[port]!]![0]!;
      return [pattern.nodes[place]![branch.from]!, pattern.nodes[place]![branch.to]!];
    });
    return this.elimination.solvePorts(options, pattern, ports, into);
  }

  private whole(options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean {
    const pattern = this.patternOf(options);
    if (pattern === undefined) return false;
    return this.elimination.solve(options, pattern, { voltages, admittance }) || this.otherwise.solve(options, voltages, admittance);
  }

  /** Moves the last place of a solution to its option, and writes what becomes of the rest; false where 1 + ΔY·Z is the small difference of large numbers. */
  private moved(from: PortSolution, port: number, options: ArrayLike<number>, into: PortSolution): boolean {
    const place = this.moving[port]!;
    const now = this.laws[place]![options[place]!]![0]!.y;
    const before = this.laws[place]![this.middles[port]!]![0]!.y;
    const [across, turns, through] = [from.across[port]!, from.turns[port]!, from.through[port]!];
    const own = through[port]!;
    const n = across.length >> 1;
    const watched = from.voltages.length / (2 * n);
    for (let i = 0; i < n; i++) {
      const yr = now[2 * i]! - before[2 * i]!;
      const yi = now[2 * i + 1]! - before[2 * i + 1]!;
      const zr = own[2 * i]!;
      const zi = own[2 * i + 1]!;
      const tr = 1 + (yr * zr - yi * zi);
      const ti = yr * zi + yi * zr;
      const square = tr * tr + ti * ti;
      if (!(square > KEPT * KEPT * (1 + (yr * yr + yi * yi) * (zr * zr + zi * zi)))) return false;
      // ΔY/(1 + ΔY·Z), and what flows through the change.
      const gr = (yr * tr + yi * ti) / square;
      const gi = (yi * tr - yr * ti) / square;
      const ur = across[2 * i]!;
      const ui = across[2 * i + 1]!;
      const kr = gr * ur - gi * ui;
      const ki = gr * ui + gi * ur;
      into.admittance[2 * i] = from.admittance[2 * i]! + (kr * ur - ki * ui);
      into.admittance[2 * i + 1] = from.admittance[2 * i + 1]! + (kr * ui + ki * ur);
      less(from.voltages, into.voltages, turns, kr, ki, i, n, watched);
      for (let q = 0; q < port; q++) {
        // Currents through the places that stay flow through this one, too.
        const mutual = through[q]!;
        const mr = mutual[2 * i]!;
        const mi = mutual[2 * i + 1]!;
        less(from.across[q]!, into.across[q]!, mutual, kr, ki, i, n, 1);
        const hr = gr * mr - gi * mi;
        const hi = gr * mi + gi * mr;
        less(from.turns[q]!, into.turns[q]!, turns, hr, hi, i, n, watched);
        for (let r = 0; r <= q; r++) less(from.through[q]![r]!, into.through[q]![r]!, through[r]!, hr, hi, i, n, 1);
      }
    }
    return true;
  }
}

/** Writes a − k·b at one frequency, for so many rows. */
function less(a: Float64Array, out: Float64Array, b: Float64Array, kr: number, ki: number, i: number, n: number, rows: number): void {
  for (let row = 0; row < rows; row++) {
    const at = 2 * (row * n + i);
    const br = b[at]!;
    const bi = b[at + 1]!;
    out[at] = a[at]! - (kr * br - ki * bi);
    out[at + 1] = a[at + 1]! - (kr * bi + ki * br);
  }
}
