import { DividingNetworkError } from "../errors";
import type { Entries } from "../network";
import type { Part } from "../parts";
import { isCoupling } from "../parts/internal";
import type { BranchPart } from "./branch-laws";
import { branchLimits } from "./branch-limits";
import { branchSolver } from "./branch-solver";
import type { Choice } from "./choices";
import type { Damped, Spared } from "./limits";
import type { Pause } from "./pause";
import type { Shard } from "./shard";

/** Most states of one branch. */
export const MOST_STATES = 4_000_000;
/** Most numbers kept for all branches: 8 bytes each, 960 MB. */
export const MOST_NUMBERS = 120_000_000;

/** What of every state a search needs, at which frequencies (Hz). */
export interface Grids {
  /** Of the pressure. */
  readonly heard: Float64Array;
  /** Outside the judged band; empty where no limit asks for it. */
  readonly outer: Float64Array;
  /** Whether the admittance counts at both too, behind a source's impedance. */
  readonly behindSource: boolean;
  /** Of the load; empty where no limit asks for it. */
  readonly load: Float64Array;
  /** In which order its numbers stand in the table. */
  readonly loadOrder: Int32Array;
  /** Where drivers' voltages are judged. */
  readonly drive: Float64Array;
  /** Drivers whose voltage each branch settles by itself, which it does without a source's impedance. */
  readonly spared: readonly Spared[];
  /** Where voltages are asked for, state by state, behind a source's impedance; empty where no limit asks for it. */
  readonly driven: Float64Array;
  /** Woofers of which each branch settles by itself what they see. */
  readonly damped: readonly Damped[];
}

/** All states of one independent branch: one complex vector each. */
export interface BranchTable {
  /** Designators of all its parts. */
  readonly parts: readonly string[];
  /** Index of each choice that is in this branch. */
  readonly choices: readonly number[];
  /** States of which there is a network. */
  readonly states: number;
  /** The choices' codes of each state as one number, the first choice counting fastest. */
  readonly codes: Int32Array;
  /** The state of each such number, −1 where there is no network. */
  readonly stateOf: Int32Array;
  /** Drivers' parts in this branch. */
  readonly channels: readonly string[];
  /** Complex numbers of a state: V/V of each channel on `heard`, then Y (S) on `heard` behind a source, then Y on `load`, in its order. */
  readonly width: number;
  /** re and im in turn, one state after another. */
  readonly table: Float64Array;
  /** The same of what is looked at outside the judged band, of single states alone: V/V of each channel, then Y (S) behind a source. */
  readonly outer: Float64Array;
  /** By state, 1 where the whole network's own solution showed that it asks too much of a part: known as the search goes on, and shared by all that share the table. */
  readonly beyond: Uint8Array;
  /** Of a state, V/V of each channel and Y (S) on the grid of driven voltages, re and im in turn; solved when it is first asked for. Absent where there is none. */
  readonly drivenOf?: ((state: number) => Driven) | undefined;
}

/** What a state of a branch gives on the grid of driven voltages. */
export interface Driven {
  readonly voltages: Float64Array;
  readonly admittance: Float64Array;
}

/** How many states the choices of one branch have. */
export function stateCount(choices: readonly Choice[], inside: readonly number[]): number {
  return inside.reduce((product, index) => product * choices[index]!.options.length, 1);
}

/** Refuses what would need more memory than is stated. */
export function checkSize(
  caller: string,
  choices: readonly Choice[],
  inside: readonly (readonly number[])[],
  widths: readonly number[],
): void {
  let numbers = 0;
  inside.forEach((own, branch) => {
    const states = stateCount(choices, own);
    numbers += states > 1 ? 5 * states * widths[branch]! : 0;
    if (states <= MOST_STATES && numbers <= MOST_NUMBERS) return;
    throw new DividingNetworkError(
      "too-many-states",
      `${caller}: the branch of ${own.map((index) => choices[index]!.name).join(", ")} must have at most ${MOST_STATES} states and all branches together at most ${MOST_NUMBERS} numbers in memory, got ${states} states and ${numbers} numbers`,
      "Give fewer candidates, or the goal fewer frequencies",
    );
  });
}

/** Solves every state of a branch, but for those that leave a driver unspared. */
export async function branchTable(
  network: Entries,
  names: readonly string[],
  choices: readonly Choice[],
  channels: readonly string[],
  { heard, outer, behindSource, load, loadOrder, drive, spared, driven, damped }: Grids,
  pause: Pause,
  shard?: Shard,
): Promise<BranchTable> {
  const couplings = Object.fromEntries(names.filter((name) => isCoupling(network[name]![0])).map((name) => [name, network[name]!]));
  const inside: number[] = [];
  const parts: BranchPart[] = names
    .filter((name) => !(name in couplings))
    .map((name) => {
      const [part, ...nodes] = network[name]!;
      const index = choices.findIndex((choice) => choice.name === name);
      if (index >= 0) inside.push(index);
      return { name, nodes, options: index >= 0 ? choices[index]!.options : [part as Part] };
    });
  const combinations = stateCount(choices, inside);
  const [n, m, c, o] = [heard.length, load.length, channels.length, outer.length];
  const width = c * n + (behindSource ? n : 0) + m;
  const sound = branchSolver(parts, couplings, channels, heard);
  const beyond = o > 0 ? branchSolver(parts, couplings, channels, outer) : undefined;
  const electric = m > 0 ? branchSolver(parts, couplings, [], load) : undefined;
  const held = branchLimits(parts, couplings, channels, { spared, drive, damped });
  const options = new Int32Array(parts.length);
  const [heardY, loadY, none] = [new Float64Array(2 * n), new Float64Array(2 * m), new Float64Array(0)];
  const voltages = new Float64Array(2 * c * n);
  const outerWidth = c * o + (behindSource ? o : 0);
  const [outerVoltages, outerY] = [new Float64Array(2 * c * o), new Float64Array(2 * o)];
  const table = new Float64Array(combinations * 2 * width);
  const outerTable = new Float64Array(combinations * 2 * outerWidth);
  const codes = new Int32Array(combinations);
  const stateOf = new Int32Array(combinations).fill(-1);
  let states = 0;
  const finite = (values: Float64Array) => {
    for (let i = 0; i < values.length; i++) if (!Number.isFinite(values[i]!)) return false;
    return true;
  };
  const put = (combination: number) => {
    let rest = combination;
    parts.forEach(({ options: own }, index) => {
      options[index] = rest % own.length;
      rest = Math.floor(rest / own.length);
    });
  };
  for (let code = 0; code < combinations; code++) {
    const wait = code % 64 === 63 ? pause() : undefined;
    if (wait !== undefined) await wait;
    if (shard !== undefined && code % shard.of !== shard.index) continue;
    put(code);
    if (!held(options)) continue;
    if (!sound.solve(options, voltages, heardY) || (electric !== undefined && !electric.solve(options, none, loadY))) continue;
    if (beyond !== undefined && !beyond.solve(options, outerVoltages, outerY)) continue;
    if (![voltages, heardY, loadY, outerVoltages, outerY].every(finite)) continue;
    const at = states * 2 * width;
    table.set(voltages, at);
    if (behindSource) table.set(heardY, at + 2 * c * n);
    for (let i = 0; i < m; i++) {
      const [to, from] = [at + 2 * (width - m + i), 2 * loadOrder[i]!];
      table[to] = loadY[from]!;
      table[to + 1] = loadY[from + 1]!;
    }
    outerTable.set(outerVoltages, states * 2 * outerWidth);
    if (behindSource) outerTable.set(outerY, states * 2 * outerWidth + 2 * c * o);
    codes[states] = code;
    stateOf[code] = states++;
  }
  const known = new Map<number, Driven>();
  const solver = driven.length > 0 ? branchSolver(parts, couplings, channels, driven) : undefined;
  const drivenOf = (state: number): Driven => {
    const before = known.get(state);
    if (before !== undefined) return before;
    put(codes[state]!);
    const now = { voltages: new Float64Array(2 * c * driven.length), admittance: new Float64Array(2 * driven.length) };
    solver!.solve(options, now.voltages, now.admittance);
    known.set(state, now);
    return now;
  };
  return {
    parts: names,
    choices: inside,
    states,
    codes,
    stateOf,
    channels,
    width,
    table: table.subarray(0, states * 2 * width),
    outer: outerTable.subarray(0, states * 2 * outerWidth),
    beyond: new Uint8Array(states),
    drivenOf: solver === undefined ? undefined : drivenOf,
  };
}

/** Writes the codes of a state to the places of its choices. */
export function writeCodes({ choices: inside, codes }: BranchTable, choices: readonly Choice[], state: number, out: Int32Array): void {
  let rest = codes[state]!;
  for (const index of inside) {
    const { length } = choices[index]!.options;
    out[index] = rest % length;
    rest = Math.floor(rest / length);
  }
}

/** The state of a branch that the codes of all choices make, −1 where there is no network. */
export function stateFor({ choices: inside, stateOf }: BranchTable, choices: readonly Choice[], codes: ArrayLike<number>): number {
  let [number, step] = [0, 1];
  for (const index of inside) {
    number += step * codes[index]!;
    step *= choices[index]!.options.length;
  }
  return stateOf[number]!;
}
