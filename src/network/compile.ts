import { checkOptions, DividingNetworkError, shown } from "../errors";
import { checkedGrid, type Mark } from "../response";
import { noHabit } from "./answers";
import type { CheckedShape } from "./checked";
import { circuitIssues, throwFindings, throwIssues } from "./diagnose";
import { engineFor } from "./engine";
import type { Entries, UncheckedEntries } from "./entries";
import { mayResonateWithoutLoss } from "./lossless-resonance";
import { sourceResponse, type SourceImpedance } from "./source";
import { sweepOf, type Sweep } from "./sweep";
import { compiledText } from "./views";

/** What a sweep may be told. */
export interface SweepOptions {
  /** Between the ideal source and `in`: Ω, `{ resistance, inductance }`, or a `FrequencyResponse` in Ω. Default: none. */
  readonly sourceImpedance?: SourceImpedance | undefined;
}

/** A network whose structure has been analysed, ready to be swept any number of times. */
export interface CompiledNetwork<T extends UncheckedEntries = Entries> {
  sweep(frequencies: ArrayLike<number>, options?: SweepOptions): Sweep<T>;
}

/**
 * Analyses a network once, so that it can be swept many times: numbers its nodes, merges what 0 Ω joins, finds the
 * order in which nodes are eliminated and writes the elimination as a program.
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @returns an object whose `sweep(frequencies, options)` takes Hz and answers as `solve` does
 * @throws DividingNetworkError `malformed-network`, `invalid-network`
 * @example
 * ```ts
 * import { compile, network, resistor, valueAt } from "dividing-network";
 *
 * const pad = compile(network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] }));
 * valueAt(pad.sweep([100, 1000]).voltage("a"), 1000).re; // 0.75
 * ```
 */
export function compile<const T extends UncheckedEntries>(network: CheckedShape<T>): CompiledNetwork<T> {
  const circuit = throwFindings(network as Entries);
  const engine = engineFor(circuit, () => throwIssues(circuitIssues(circuit, true)));
  const risky = engine.elimination.dense || mayResonateWithoutLoss(engine.elimination);
  const marks = measuredMarks(network as Entries);
  const habit = noHabit();
  let last: Float64Array | undefined;
  const compiled: CompiledNetwork<T> = {
    sweep(frequencies: ArrayLike<number>, options: SweepOptions = {}) {
      const { sourceImpedance } = checkOptions("solve", options, ["sourceImpedance"]);
      // The same frequencies again are the grid that is there already: nothing to check or to lay out anew.
      const grid = last !== undefined && frequencies instanceof Float64Array && sameGrid(last, frequencies) ? last : (last = boundedGrid("solve", frequencies));
      return sweepOf<T>(engine, grid, sourceResponse("solve", sourceImpedance, grid), marks, habit, risky);
    },
  };
  return Object.freeze(shown(compiled, { text: () => compiledText(circuit) }));
}

/** Whether an array holds the frequencies of a grid, which nobody else has written to. */
function sameGrid(grid: Float64Array, frequencies: Float64Array): boolean {
  if (grid.length !== frequencies.length || !Object.is(grid[0], frequencies[0])) return false;
  for (let i = 1; i < grid.length; i++) if (grid[i] !== frequencies[i]) return false;
  return true;
}

/** Frequencies within bounds at which no product of the solver leaves the range of floating-point numbers. */
export function boundedGrid(caller: string, frequencies: ArrayLike<number>): Float64Array {
  const grid = checkedGrid(caller, frequencies);
  const lowest = grid[0] === 0 ? grid[1] : grid[0];
  const highest = grid[grid.length - 1]!;
  if (lowest !== undefined && (lowest < 1e-30 || highest > 1e30)) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "frequencies" must be 0 Hz or between 1e-30 Hz and 1e30 Hz, got ${lowest < 1e-30 ? lowest : highest}`);
  }
  return grid;
}

/** What must be known about the measured impedances in a network, each once. */
export function measuredMarks(network: Entries): readonly Mark[] {
  const marks = new Map<string, Mark>();
  for (const [part] of Object.values(network)) {
    if (part.kind !== "driver" || !("response" in part)) continue;
    for (const mark of part.response.marks ?? []) marks.set(JSON.stringify(mark), mark);
  }
  return [...marks.values()];
}
