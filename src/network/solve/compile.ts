import { DividingNetworkError } from "../../errors";
import { checkOptions, shown } from "../../errors/internal";
import { measuredImpedance } from "../../parts/internal";
import type { Mark } from "../../response";
import { checkedGrid } from "../../response/internal";
import { noHabit } from "./answers";
import type { CheckedShape } from "../checked";
import { circuitIssues, throwFindings, throwIssues } from "../diagnose";
import type { Circuit, CircuitBranch } from "../circuit";
import { engineFor, type Engine } from "./engine";
import type { Entries, UncheckedEntries } from "../entries";
import { mayResonateWithoutLoss } from "./lossless-resonance";
import { sourceResponse, type SourceImpedance } from "./source";
import { sweepOf } from "./sweep";
import type { Sweep } from "./sweep-data";
import { changedValues, valueNames, type SweepValues, type ValueNames } from "./sweep-values";
import { compiledText } from "../views";

/** What a sweep may be told. */
export interface SweepOptions {
  /** Between the ideal source and `in`: Ω, `{ resistance, inductance }`, or a `FrequencyResponse` in Ω. Default: none. */
  readonly sourceImpedance?: SourceImpedance | undefined;
}

/** What a sweep of a compiled network may be told. */
export interface CompiledSweepOptions<T extends UncheckedEntries = Entries> extends SweepOptions {
  /**
   * Other values of parts for this sweep, numbers in SI or text with the unit: `C1` is a part's main value, `"L1.dcr"` any by its own
   * name. What isn't named is as it was when the network was compiled. Default: none.
   */
  readonly values?: SweepValues<T> | undefined;
}

/** A network whose structure has been analysed, ready to be swept any number of times. */
export interface CompiledNetwork<T extends UncheckedEntries = Entries> {
  /** Solves at these frequencies (Hz), with other values of parts where they are given, without analysing the network again. */
  sweep(frequencies: ArrayLike<number>, options?: CompiledSweepOptions<T>): Sweep<T>;
}

/**
 * Analyses a network once, so that it can be swept many times: numbers its nodes, merges what 0 Ω joins, finds the
 * order in which nodes are eliminated and writes the elimination as a program. For a slider, `sweep` takes other values of the parts:
 * nothing is analysed again, but where a value becomes 0 or was 0.
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @returns an object whose `sweep(frequencies, options)` takes Hz and answers as `solve` does; beside `sourceImpedance`, its options
 *   hold `values`: `C1` for a part's main value, `"L1.dcr"` for any by its own name
 * @throws DividingNetworkError `malformed-network`, `invalid-network`; `sweep`: `unknown-name` for a value that isn't there
 * @example
 * ```ts
 * import { compile, network, resistor, valueAt } from "dividing-network";
 *
 * const pad = compile(network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] }));
 * valueAt(pad.sweep([100, 1000]).voltage("a"), 1000).re; // 0.75
 * valueAt(pad.sweep([100, 1000], { values: { R1: "6 Ω" } }).voltage("a"), 1000).re; // 0.5
 * ```
 */
export function compile<const T extends UncheckedEntries>(network: CheckedShape<T>): CompiledNetwork<T> {
  const circuit = throwFindings(network as Entries);
  const analysed = analysis(circuit);
  const marks = measuredMarks(network as Entries);
  const habit = noHabit();
  let last: Float64Array | undefined;
  let names: ValueNames | undefined;
  // Where a value comes to 0 or from there the structure is another: the last such one is kept, since a slider comes back.
  let other: Analysis | undefined;
  const compiled: CompiledNetwork<T> = {
    sweep(frequencies: ArrayLike<number>, options: CompiledSweepOptions<T> = {}) {
      const { sourceImpedance, values } = checkOptions("solve", options, ["sourceImpedance", "values"]);
      // The same frequencies again are the grid that is there already: nothing to check or to lay out anew.
      const grid =
        last !== undefined && frequencies instanceof Float64Array && sameGrid(last, frequencies)
          ? last
          : (last = boundedGrid("solve", frequencies));
      const source = sourceResponse("solve", sourceImpedance, grid);
      if (values === undefined) return sweepOf<T>(analysed.engine, grid, source, marks, habit, analysed.risky);
      const changed = changedValues("solve", circuit, (names ??= valueNames(circuit)), values);
      if (!changed.structural) return sweepOf<T>(analysed.engine, grid, source, marks, habit, analysed.risky, changed.values);
      if (other === undefined || !sameZeros(other.engine.circuit.branches, changed.values)) {
        const branches = circuit.branches.map((branch, index) => ({ ...branch, values: changed.values[index]! }));
        const altered = { ...circuit, branches };
        throwIssues(circuitIssues(altered, false));
        other = analysis(altered);
      }
      return sweepOf<T>(other.engine, grid, source, marks, noHabit(), other.risky, changed.values);
    },
  };
  return Object.freeze(shown(compiled, { text: () => compiledText(circuit) }));
}

/** A structure ready to be run, and whether it may have no solution somewhere. */
interface Analysis {
  readonly engine: Engine;
  readonly risky: boolean;
}

function analysis(circuit: Circuit): Analysis {
  const engine = engineFor(circuit, () => throwIssues(circuitIssues(circuit, true)));
  return { engine, risky: engine.elimination.dense || mayResonateWithoutLoss(engine.elimination) };
}

/** Whether values are 0 where those of a circuit's branches are, so that its structure is theirs. */
function sameZeros(branches: readonly CircuitBranch[], values: readonly ArrayLike<number>[]): boolean {
  return branches.every((branch, index) => branch.values.every((value, k) => (value === 0) === (values[index]![k] === 0)));
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
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "frequencies" must be 0 Hz or between 1e-30 Hz and 1e30 Hz, got ${lowest < 1e-30 ? lowest : highest}`,
    );
  }
  return grid;
}

/** What must be known about the measured impedances in a network, each once. */
export function measuredMarks(network: Entries): readonly Mark[] {
  const marks = new Map<string, Mark>();
  for (const [part] of Object.values(network)) {
    for (const mark of measuredImpedance(part)?.marks ?? []) marks.set(JSON.stringify(mark), mark);
  }
  return [...marks.values()];
}
