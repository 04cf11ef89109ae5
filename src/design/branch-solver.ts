import { DividingNetworkError } from "../errors";
import { compile, type Entries, type Entry } from "../network";
import { eliminateSmall } from "../numeric/internal";
import { resistor, type Part } from "../parts";
import { expandPart } from "../parts/internal";
import { stamp } from "./stamp";

/** Solves one branch for the parts put in: voltages across chosen parts and the input admittance, per volt at `in`. */
export interface BranchSolver {
  /**
   * Solves for one set of parts, by the index of each option, and writes: of each watched part V (V/V), then Y (S), as re and im in turn.
   * False where the parts make no network that can be solved.
   */
  readonly solve: (options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array) => boolean;
}

/** What may stand at one designator of a branch. */
export interface BranchPart {
  readonly name: string;
  readonly nodes: readonly string[];
  /** One for a part that stays. */
  readonly options: readonly (Part | undefined)[];
}

/** Share of a row below which a pivot has lost too many digits. */
const LOST = 1e-7;
/** Relative: how small a sum may be against what it is made of. */
const KEPT = 1e-4;
const DUMMY = "(load)";
/** Ω of a load beside a branch, so that one without a path of its own is a network too. */
const DUMMY_OHMS = 1e3;

/** How the parts put in are connected, once for each pattern of open and shorted places. */
interface Topology {
  /** By part: numbers of the nodes (0 `gnd`, 1 `in`, 2 … the rest), united by shorts. */
  readonly nodes: readonly (readonly number[])[];
  readonly unknowns: number;
}

/** A solver for a branch at frequencies in Hz, above 0. */
export function branchSolver(
  parts: readonly BranchPart[],
  couplings: Entries,
  watched: readonly string[],
  frequencies: Float64Array,
): BranchSolver {
  const n = frequencies.length;
  const entriesOf = (options: ArrayLike<number>): Entries => {
    const entries: Record<string, Entry> = { ...couplings, [DUMMY]: [resistor(DUMMY_OHMS), "in", "gnd"] };
    parts.forEach(({ name, nodes, options: own }, index) => {
      const part = own[options[index]!];
      if (part !== undefined) entries[name] = [part, ...nodes] as unknown as Entry;
    });
    return entries;
  };
  const solved = (options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean => {
    try {
      const sweep = compile<Entries>(entriesOf(options)).sweep(frequencies);
      watched.forEach((name, index) => {
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
  };

  // Admittances of every option's branches, re and im in turn; undefined for a place that is open.
  let plain = Object.keys(couplings).length === 0;
  const laws = parts.map(({ options }) =>
    options.map((part) => {
      if (part === undefined) return undefined;
      const expansion = expandPart(part);
      if (expansion.transformers !== undefined || expansion.couplings !== undefined) plain = false;
      const branches = expansion.branches.map(({ from, to, law, values }) => {
        const [re, im, both] = [new Float64Array(n), new Float64Array(n), new Float64Array(2 * n)];
        law.bind(frequencies).admittance(Float64Array.from(values), 0, 0, n, re, im, 0);
        for (let i = 0; i < n; i++) [both[2 * i], both[2 * i + 1]] = [re[i]!, im[i]!];
        return { from, to, y: both, short: !both.every(Number.isFinite) };
      });
      if (branches.some(({ short }) => short) && branches.length > 1) plain = false;
      return branches;
    }),
  );
  if (!plain) return { solve: solved };

  const numbers = new Map([
    ["gnd", 0],
    ["in", 1],
  ]);
  for (const { nodes } of parts) for (const node of nodes) if (!numbers.has(node)) numbers.set(node, numbers.size);
  const topologies = new Map<string, Topology | undefined>();
  const topologyOf = (options: ArrayLike<number>): Topology | undefined => {
    let key = "";
    for (let p = 0; p < parts.length; p++) {
      const branches = laws[p]![options[p]!];
      key += branches === undefined ? "o" : branches[0]!.short ? "s" : "y";
    }
    if (topologies.has(key)) return topologies.get(key);
    const made = makeTopology(options);
    topologies.set(key, made);
    return made;
  };
  const makeTopology = (options: ArrayLike<number>): Topology | undefined => {
    // Whether these parts make a network is asked of the network itself.
    try {
      compile<Entries>(entriesOf(options));
    } catch (error) {
      if (error instanceof DividingNetworkError) return undefined;
      throw error;
    }
    const united = Array.from({ length: numbers.size }, (_, node) => node);
    const find = (node: number): number => (united[node] === node ? node : find(united[node]!));
    parts.forEach(({ nodes }, p) => {
      if (laws[p]![options[p]!]?.[0]!.short !== true) return;
      const [a, b] = [find(numbers.get(nodes[0]!)!), find(numbers.get(nodes[1]!)!)];
      united[Math.max(a, b)] = Math.min(a, b);
    });
    const renumbered = new Map([
      [0, 0],
      [1, 1],
    ]);
    // Only nodes at which something conducts are unknown; at any other no current flows and nothing is heard of it.
    parts.forEach(({ nodes }, p) => {
      if (laws[p]![options[p]!] === undefined) return;
      for (const node of nodes) if (!renumbered.has(find(numbers.get(node)!))) renumbered.set(find(numbers.get(node)!), renumbered.size);
    });
    return {
      nodes: parts.map(({ nodes }) => nodes.map((node) => renumbered.get(find(numbers.get(node)!)) ?? 0)),
      unknowns: renumbered.size - 2,
    };
  };

  const most = numbers.size - 2;
  // Two right-hand sides: 1 V at `in`, and 1 A through the place that moves.
  const width = most + 2;
  const a = new Float64Array(2 * most * width);
  // By node: 0 V at `gnd`, 1 V at `in`, then the unknowns.
  const v = new Float64Array(2 * (most + 2));
  v[2] = 1;
  const places = watched.map((name) => parts.findIndex((part) => part.name === name));
  const stamped = (options: ArrayLike<number>, topology: Topology, i: number): void => {
    a.fill(0);
    for (let p = 0; p < parts.length; p++) {
      const branches = laws[p]![options[p]!];
      if (branches === undefined) continue;
      const ends = topology.nodes[p]!;
      for (let b = 0; b < branches.length; b++) {
        const branch = branches[b]!;
        const from = ends[branch.from]!;
        const to = ends[branch.to]!;
        if (branch.short || from === to) continue;
        const yr = branch.y[2 * i]!;
        const yi = branch.y[2 * i + 1]!;
        stamp(a, width, topology.unknowns, from, to, yr, yi);
        stamp(a, width, topology.unknowns, to, from, yr, yi);
      }
    }
  };
  /** Reads the solution in a column of `a` into `v`. */
  const read = (m: number, column: number): void => {
    for (let k = 0; k < m; k++) {
      v[2 * (k + 2)] = a[2 * (k * width + column)]!;
      v[2 * (k + 2) + 1] = a[2 * (k * width + column) + 1]!;
    }
  };
  const write = (options: ArrayLike<number>, topology: Topology, i: number, voltages: Float64Array, admittance: Float64Array): void => {
    let inRe = 0;
    let inIm = 0;
    for (let p = 0; p < parts.length; p++) {
      const branches = laws[p]![options[p]!];
      if (branches === undefined) continue;
      const ends = topology.nodes[p]!;
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
    between(topology, i, voltages);
  };
  /** The watched voltages of what is in `v`. */
  const between = (topology: Topology, i: number, voltages: Float64Array): void => {
    for (let w = 0; w < places.length; w++) {
      const ends = topology.nodes[places[w]!]!;
      voltages[2 * (w * n + i)] = v[2 * ends[0]!]! - v[2 * ends[1]!]!;
      voltages[2 * (w * n + i) + 1] = v[2 * ends[0]! + 1]! - v[2 * ends[1]! + 1]!;
    }
  };
  const whole = (options: ArrayLike<number>, voltages: Float64Array, admittance: Float64Array): boolean => {
    const topology = topologyOf(options);
    if (topology === undefined) return false;
    const m = topology.unknowns;
    for (let i = 0; i < n; i++) {
      stamped(options, topology, i);
      // Next to a lossless resonance digits are lost: the solver that sees it coming takes over.
      if (!eliminateSmall(a, width, m, m + 1, LOST)) return solved(options, voltages, admittance);
      read(m, m);
      write(options, topology, i, voltages, admittance);
    }
    return true;
  };

  const moving = laws.findIndex(
    (own) => own.length > 2 && own.every((branches) => branches !== undefined && branches.length === 1 && !branches[0]!.short),
  );
  if (moving < 0) return { solve: whole };

  // The state with the middle one in the place that moves, what 1 A through that place changes, and the voltage across it.
  const middle = laws[moving]!.length >> 1;
  const own = Int32Array.from(parts, () => -1);
  const [baseVolts, baseTurns] = [new Float64Array(2 * n * places.length), new Float64Array(2 * n * places.length)];
  const [baseY, across, through] = [new Float64Array(2 * n), new Float64Array(2 * n), new Float64Array(2 * n)];
  let isBase = false;
  const prepared = (): boolean => {
    const topology = topologyOf(own);
    if (topology === undefined) return false;
    const m = topology.unknowns;
    const [branch] = laws[moving]![middle]!;
    const [from, to] = [topology.nodes[moving]![branch!.from]!, topology.nodes[moving]![branch!.to]!];
    for (let i = 0; i < n; i++) {
      stamped(own, topology, i);
      if (from > 1) a[2 * ((from - 2) * width + m + 1)]! += 1;
      if (to > 1) a[2 * ((to - 2) * width + m + 1)]! -= 1;
      if (!eliminateSmall(a, width, m, m + 2, LOST)) return false;
      read(m, m);
      write(own, topology, i, baseVolts, baseY);
      across[2 * i] = v[2 * from]! - v[2 * to]!;
      across[2 * i + 1] = v[2 * from + 1]! - v[2 * to + 1]!;
      read(m, m + 1);
      v[2] = 0;
      between(topology, i, baseTurns);
      through[2 * i] = v[2 * from]! - v[2 * to]!;
      through[2 * i + 1] = v[2 * from + 1]! - v[2 * to + 1]!;
      v[2] = 1;
    }
    return true;
  };
  return {
    solve(options, voltages, admittance) {
      let same = true;
      for (let p = 0; p < parts.length; p++) {
        const option = p === moving ? middle : options[p]!;
        if (own[p] === option) continue;
        own[p] = option;
        same = false;
      }
      if (!same) isBase = prepared();
      if (!isBase) return whole(options, voltages, admittance);
      const [now, before] = [laws[moving]![options[moving]!]![0]!.y, laws[moving]![middle]![0]!.y];
      for (let i = 0; i < n; i++) {
        const yr = now[2 * i]! - before[2 * i]!;
        const yi = now[2 * i + 1]! - before[2 * i + 1]!;
        const zr = through[2 * i]!;
        const zi = through[2 * i + 1]!;
        // 1 + ΔY·Z; where that is the small difference of large numbers the network itself is solved.
        const tr = 1 + (yr * zr - yi * zi);
        const ti = yr * zi + yi * zr;
        const square = tr * tr + ti * ti;
        if (!(square > KEPT * KEPT * (1 + (yr * yr + yi * yi) * (zr * zr + zi * zi)))) return whole(options, voltages, admittance);
        const ur = across[2 * i]!;
        const ui = across[2 * i + 1]!;
        // What flows through the change: ΔY·u/(1 + ΔY·Z).
        const xr = yr * ur - yi * ui;
        const xi = yr * ui + yi * ur;
        const kr = (xr * tr + xi * ti) / square;
        const ki = (xi * tr - xr * ti) / square;
        admittance[2 * i] = baseY[2 * i]! + (kr * ur - ki * ui);
        admittance[2 * i + 1] = baseY[2 * i + 1]! + (kr * ui + ki * ur);
        for (let w = 0; w < places.length; w++) {
          const at = 2 * (w * n + i);
          voltages[at] = baseVolts[at]! - (kr * baseTurns[at]! - ki * baseTurns[at + 1]!);
          voltages[at + 1] = baseVolts[at + 1]! - (kr * baseTurns[at + 1]! + ki * baseTurns[at]!);
        }
      }
      return true;
    },
  };
}
