import { DividingNetworkError, show } from "../errors";
import { freezeResponse, type FrequencyResponse, type Mark } from "../response";
import { GND, type Circuit } from "./circuit";
import { invertCoils } from "./coil-matrix";
import { cutAt } from "./currents";
import type { Elimination } from "./elimination";
import type { Engine, EngineResult } from "./engine";
import type { Entries, NodeName, PartName } from "./entries";
import type { OutputPair } from "./program-builder";
import type { SourceResponse } from "./source";
import { branchState } from "./state";

/**
 * The answer to one sweep of frequencies. Every response is per volt (V rms) of the source's open-circuit voltage and
 * lies on the grid that was asked for; time convention e^(+jωt).
 */
export interface Sweep<T extends Entries = Entries> {
  /** Hz, as asked for. */
  readonly frequencies: Float64Array;
  /** What the amplifier's terminals see: V(in)/I, Ω, without the source's own impedance. Refused where no current flows. */
  readonly impedance: FrequencyResponse;
  /** Its reciprocal, S: 0 where no current flows. */
  readonly admittance: FrequencyResponse;
  /** V(node) − V(gnd), or V(first node) − V(second node) of a part; V per V. */
  voltage(nodeOrPart: NodeName<T> | PartName<T> | "in" | "gnd"): FrequencyResponse;
  /** V(a) − V(b) between any two nodes; V per V. */
  voltageBetween(a: NodeName<T> | "in" | "gnd", b: NodeName<T> | "in" | "gnd"): FrequencyResponse;
  /** Current into the part's first terminal, A per V; of a two-terminal part, the current from its first node to its second. */
  current(part: PartName<T>): FrequencyResponse;
  /** Current from the source into `in`, A per V. */
  readonly sourceCurrent: FrequencyResponse;
}

/** What lies behind a sweep: voltages and currents of branches, per volt at `in`, not of the source. */
export interface SweepBranches {
  readonly engine: Engine;
  /** The values of each branch. */
  readonly values: readonly ArrayLike<number>[];
  /** Input admittance, S. */
  readonly admittance: { readonly re: Float64Array; readonly im: Float64Array };
  /** V(in) per volt of the source. */
  readonly scale: { readonly re: Float64Array; readonly im: Float64Array };
  readonly source: SourceResponse;
  voltage(branch: number): { readonly re: Float64Array; readonly im: Float64Array };
  current(branch: number): { readonly re: Float64Array; readonly im: Float64Array };
}

const behind = /* @__PURE__ */ new WeakMap<object, SweepBranches>();

/** What lies behind a sweep; undefined for what `sweepOf` didn't make. For this folder's own use. */
export function branchesOf(sweep: object): SweepBranches | undefined {
  return behind.get(sweep);
}

/** Makes a sweep whose answers are computed when they are asked for, each once. */
export function sweepOf<T extends Entries>(engine: Engine, frequencies: Float64Array, source: SourceResponse, marks: readonly Mark[], values?: readonly ArrayLike<number>[]): Sweep<T> {
  const { circuit } = engine;
  const results = new Map<string, EngineResult>();
  const responses = new Map<string, FrequencyResponse>();
  const run = (pairs: readonly OutputPair[]): EngineResult => {
    const key = pairs.join(";");
    const known = results.get(key);
    if (known !== undefined) return known;
    const fresh = engine.run(frequencies, pairs, values);
    results.set(key, fresh);
    return fresh;
  };
  const own = values ?? circuit.branches.map((branch) => branch.values);
  const everything = allPairs(circuit);
  // The first question is answered together with all that are likely to follow: every node and every branch.
  const all = run(everything.pairs);
  const scale = sourceScale(all, source, frequencies);
  const response = (key: string, make: () => { readonly re: Float64Array; readonly im: Float64Array }): FrequencyResponse => {
    const known = responses.get(key);
    if (known !== undefined) return known;
    const { re, im } = make();
    const fresh = freezeResponse(frequencies, re, im, marks);
    responses.set(key, fresh);
    return fresh;
  };
  const scaled = (re: Float64Array, im: Float64Array) => multiply(re, im, scale.re, scale.im);
  const pairVoltage = (a: number, b: number) => {
    const index = everything.index.get(`${a},${b}`);
    if (index !== undefined) return { re: all.re[index + 1]!, im: all.im[index + 1]! };
    const one = run([[a, b]]);
    return { re: one.re[1]!, im: one.im[1]! };
  };
  const nodeNumber = (name: string): number => {
    const number = circuit.nodeNumber.get(name);
    if (number !== undefined) return number;
    throw new DividingNetworkError("unknown-node", `solve: there is no node ${show(name)} in this network`, `Nodes: ${circuit.nodes.join(", ")}`);
  };
  const knownPart = (name: string) => {
    const part = circuit.parts.get(name);
    if (part !== undefined) return part;
    throw new DividingNetworkError("unknown-part", `solve: there is no part ${show(name)} in this network`, `Parts: ${[...circuit.parts.keys()].join(", ")}`);
  };

  const sweep = Object.freeze({
    frequencies,
    get admittance() {
      return response("admittance", () => ({ re: all.re[0]!, im: all.im[0]! }));
    },
    get impedance() {
      return response("impedance", () => reciprocal(all.re[0]!, all.im[0]!, frequencies));
    },
    get sourceCurrent() {
      return response("source-current", () => scaled(all.re[0]!, all.im[0]!));
    },
    voltage(name: string) {
      const node = circuit.nodeNumber.get(name);
      const part = circuit.parts.get(name);
      if (node === undefined && part === undefined) {
        throw new DividingNetworkError("unknown-name", `solve: there is neither a node nor a part named ${show(name)} in this network`, `Nodes: ${circuit.nodes.join(", ")}; parts: ${[...circuit.parts.keys()].join(", ")}`);
      }
      return response(`v ${name}`, () => {
        const [a, b] = node === undefined ? [part!.terminals[0]!, part!.terminals[1]!] : [node, GND];
        const { re, im } = pairVoltage(a, b);
        return scaled(re, im);
      });
    },
    voltageBetween(first: string, second: string) {
      const [a, b] = [nodeNumber(first), nodeNumber(second)];
      return response(`b ${a},${b}`, () => {
        const { re, im } = pairVoltage(a, b);
        return scaled(re, im);
      });
    },
    current(name: string) {
      const part = knownPart(name);
      return response(`i ${name}`, () => {
        const { re, im } = partCurrent(engine, all, everything, part, frequencies, own);
        return scaled(re, im);
      });
    },
  } satisfies Sweep) as Sweep<T>;
  behind.set(sweep, {
    engine,
    values: own,
    admittance: { re: all.re[0]!, im: all.im[0]! },
    scale,
    source,
    voltage: (branch) => ({ re: all.re[everything.ofBranch[branch]! + 1]!, im: all.im[everything.ofBranch[branch]! + 1]! }),
    current: (branch) => branchCurrent(engine, all, everything, branch, frequencies, own),
  });
  return sweep;
}

interface AllPairs {
  readonly pairs: readonly OutputPair[];
  readonly index: ReadonlyMap<string, number>;
  /** Index of each branch's pair. */
  readonly ofBranch: readonly number[];
}

/** Every node against gnd and every branch's ends, each once. */
function allPairs(circuit: Circuit): AllPairs {
  const pairs: OutputPair[] = [];
  const index = new Map<string, number>();
  const put = (a: number, b: number): number => {
    const key = `${a},${b}`;
    let at = index.get(key);
    if (at === undefined) {
      at = pairs.push([a, b]) - 1;
      index.set(key, at);
    }
    return at;
  };
  for (let node = 1; node < circuit.nodes.length; node++) put(node, GND);
  const ofBranch = circuit.branches.map(({ from, to }) => put(from, to));
  return { pairs, index, ofBranch };
}

/** V(in) per volt of the source: 1/(1 + Z·Y). */
function sourceScale(all: EngineResult, source: SourceResponse, frequencies: Float64Array): { readonly re: Float64Array; readonly im: Float64Array } {
  const count = frequencies.length;
  const re = new Float64Array(count).fill(1);
  const im = new Float64Array(count);
  if (source === undefined) return { re, im };
  for (let i = 0; i < count; i++) {
    const [zr, zi, yr, yi] = [source.re[i]!, source.im[i]!, all.re[0]![i]!, all.im[0]![i]!];
    const dr = 1 + (zr * yr - zi * yi);
    const di = zr * yi + zi * yr;
    const size = dr * dr + di * di;
    if (!(size > 0)) throw new DividingNetworkError("no-solution", `solve: the source's impedance and the network's cancel at ${frequencies[i]} Hz`, "An amplifier's output impedance has a real part of 0 Ω or more: check `sourceImpedance`");
    re[i] = dr / size;
    im[i] = -di / size;
  }
  return { re, im };
}

/** The unscaled current into a part's first terminal. */
function partCurrent(engine: Engine, all: EngineResult, everything: AllPairs, part: { readonly part: { readonly kind: string }; readonly terminals: readonly number[]; readonly branches: readonly number[] }, frequencies: Float64Array, values: readonly ArrayLike<number>[]) {
  const { circuit } = engine;
  const count = frequencies.length;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const add = (sign: number, current: { readonly re: Float64Array; readonly im: Float64Array }) => {
    for (let i = 0; i < count; i++) {
      re[i] = re[i]! + sign * current.re[i]!;
      im[i] = im[i]! + sign * current.im[i]!;
    }
  };
  if (part.branches.length === 0) {
    const index = circuit.transformers.findIndex(({ part: name }) => circuit.parts.get(name) === part);
    add(1, transformerCurrent(all, index, count));
    return { re, im };
  }
  // Every part's first branch starts at its first terminal, where no other of its branches ends.
  add(1, branchCurrent(engine, all, everything, part.branches[0]!, frequencies, values));
  return { re, im };
}

function transformerCurrent(all: EngineResult, index: number, count: number) {
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  for (const [point, solved] of all.dense) {
    re[point] = solved.transformerCurrents[2 * index]!;
    im[point] = solved.transformerCurrents[2 * index + 1]!;
  }
  return { re, im };
}

/** The unscaled current of a branch: Y·V where it has an admittance, by Kirchhoff's law where it is a connection. */
export function branchCurrent(engine: Engine, all: EngineResult, everything: AllPairs, branch: number, frequencies: Float64Array, values: readonly ArrayLike<number>[]): { readonly re: Float64Array; readonly im: Float64Array } {
  const count = frequencies.length;
  const first = frequencies[0] === 0 ? 1 : 0;
  const re = new Float64Array(count);
  const im = new Float64Array(count);
  const pair = everything.ofBranch[branch]! + 1;
  const { elimination } = engine;
  const group = elimination.coils.find(({ branches }) => branches.includes(branch));
  if (isMerged(elimination, branch)) {
    if (first < count) byKirchhoff(engine, elimination, all, everything, branch, frequencies, values, first, count, re, im);
  } else if (group !== undefined) {
    const n = group.branches.length;
    const half = (n * (n + 1)) / 2;
    const [work, out] = [new Float64Array(2 * n * n), new Float64Array(2 * half)];
    const row = group.branches.indexOf(branch);
    for (let i = first; i < count; i++) {
      invertCoils(group, values, 2 * Math.PI * frequencies[i]!, work, out);
      group.branches.forEach((other, column) => {
        const [r, c] = row < column ? [row, column] : [column, row];
        const at = r * n - (r * (r - 1)) / 2 + (c - r);
        const [yr, yi] = [out[at]!, out[half + at]!];
        const index = everything.ofBranch[other]! + 1;
        const [vr, vi] = [all.re[index]![i]!, all.im[index]![i]!];
        re[i] = re[i]! + yr * vr - yi * vi;
        im[i] = im[i]! + yr * vi + yi * vr;
      });
    }
  } else if (first < count) {
    const above = frequencies.subarray(first);
    const [yr, yi] = [new Float64Array(count - first), new Float64Array(count - first)];
    engine.circuit.branches[branch]!.law.bind(above).admittance(values[branch]!, 0, 0, count - first, yr, yi, 0);
    for (let i = first; i < count; i++) {
      const [ar, ai, vr, vi] = [yr[i - first]!, yi[i - first]!, all.re[pair]![i]!, all.im[pair]![i]!];
      re[i] = ar * vr - ai * vi;
      im[i] = ar * vi + ai * vr;
    }
  }
  for (const [point, solved] of all.dense) {
    if (!solved.solved[branch]) {
      if (point === 0 && first === 1) {
        const zero = engine.atZero();
        if (isMerged(zero, branch)) byKirchhoff(engine, zero, all, everything, branch, frequencies, values, 0, 1, re, im);
      }
      continue;
    }
    re[point] = solved.currents[2 * branch]!;
    im[point] = solved.currents[2 * branch + 1]!;
  }
  return { re, im };
}

function isMerged({ circuit, rootOf, zeroFrequency }: Elimination, branch: number): boolean {
  const { from, to } = circuit.branches[branch]!;
  return rootOf[from] === rootOf[to] && from !== to && branchState(circuit.branches[branch]!, zeroFrequency) === "short";
}

function byKirchhoff(engine: Engine, structure: Elimination, all: EngineResult, everything: AllPairs, branch: number, frequencies: Float64Array, values: readonly ArrayLike<number>[], from: number, to: number, re: Float64Array, im: Float64Array): void {
  const cut = cutAt(branch, structure);
  for (const [other, sign] of cut.branches) {
    const current = branchCurrent(engine, all, everything, other, frequencies, values);
    for (let i = from; i < to; i++) {
      re[i] = re[i]! + cut.sign * sign * current.re[i]!;
      im[i] = im[i]! + cut.sign * sign * current.im[i]!;
    }
  }
  for (const [index, winding, sign] of cut.transformers) {
    const current = transformerCurrent(all, index, frequencies.length);
    const ratio = winding === "primary" ? 1 : -engine.circuit.transformers[index]!.ratio;
    for (let i = from; i < to; i++) {
      re[i] = re[i]! + cut.sign * sign * ratio * current.re[i]!;
      im[i] = im[i]! + cut.sign * sign * ratio * current.im[i]!;
    }
  }
  if (cut.source) {
    for (let i = from; i < to; i++) {
      re[i] = re[i]! - cut.sign * all.re[0]![i]!;
      im[i] = im[i]! - cut.sign * all.im[0]![i]!;
    }
  }
}

function multiply(ar: Float64Array, ai: Float64Array, br: Float64Array, bi: Float64Array) {
  const re = new Float64Array(ar.length);
  const im = new Float64Array(ar.length);
  for (let i = 0; i < ar.length; i++) {
    re[i] = ar[i]! * br[i]! - ai[i]! * bi[i]!;
    im[i] = ar[i]! * bi[i]! + ai[i]! * br[i]!;
  }
  return { re, im };
}

function reciprocal(ar: Float64Array, ai: Float64Array, frequencies: Float64Array) {
  const re = new Float64Array(ar.length);
  const im = new Float64Array(ar.length);
  for (let i = 0; i < ar.length; i++) {
    if (ar[i] === 0 && ai[i] === 0) throw new DividingNetworkError("infinite-impedance", `solve: no current flows at ${frequencies[i]} Hz, so that the impedance is infinite there`, "Use `admittance`, which is 0 there, or leave this frequency out");
    // After Smith (1962): 1/Y of a conductance alone is exactly the resistance.
    if (Math.abs(ar[i]!) >= Math.abs(ai[i]!)) {
      const ratio = ai[i]! / ar[i]!;
      re[i] = 1 / (ar[i]! + ai[i]! * ratio);
      im[i] = -ratio * re[i]!;
    } else {
      const ratio = ar[i]! / ai[i]!;
      im[i] = -1 / (ai[i]! + ar[i]! * ratio);
      re[i] = -ratio * im[i]!;
    }
  }
  return { re, im };
}
