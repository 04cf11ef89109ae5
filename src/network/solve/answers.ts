import { isDriver } from "../../parts/internal";
import { GND, type Circuit } from "../circuit";
import type { ComplexArrays } from "../../numeric";
import type { Engine } from "./engine";
import type { OutputPair } from "./program-values";
import type { RowPoints } from "./row-points";

/** The voltages of one sweep, per volt at `in`, computed when they are asked for. */
export interface Answers {
  /** Input admittance, S. */
  admittance(): ComplexArrays;
  /** Makes the voltages of these pairs known, all in one run, and on request the input admittance in the same. */
  ask(pairs: readonly OutputPair[], withInput?: boolean): void;
  /** V(a) − V(b). */
  voltage(pair: OutputPair): ComplexArrays;
  /** The points solved by rows. */
  byRows(): readonly number[];
  readonly rows: RowPoints;
}

/** What a sweep was asked for. */
export interface Questions {
  readonly pairs: Map<number, OutputPair>;
  /** The input admittance. */
  input: boolean;
}

/** What the last sweep of a compiled network was asked for: the next one answers it in its first run. */
export interface Habit {
  last: Questions;
}

export const noHabit = (): Habit => ({ last: { pairs: new Map(), input: false } });

/** Voltages that may be computed without having been asked for: 16 MB. */
const MOST_USUAL = 2 ** 20;

/**
 * Which questions share a run of the elimination. The first run answers what is asked, and with it what the sweep before was asked
 * for, if that was among it. Every later one answers as many likely questions more as were asked before, so that a thousand
 * questions take ten runs, and no more than twice as much is computed and kept as is asked for. With `scaled`, no voltage is
 * of use without the input admittance.
 */
export function answers(
  engine: Engine,
  frequencies: Float64Array,
  values: readonly ArrayLike<number>[],
  habit: Habit,
  scaled: boolean,
): Answers {
  const rows = engine.rows(frequencies, values);
  const { last } = habit;
  const usual: ReadonlyMap<number, OutputPair> = last.pairs.size * frequencies.length <= MOST_USUAL ? last.pairs : new Map();
  const asked: Questions = { pairs: new Map(), input: false };
  habit.last = asked;
  const known = new Map<number, ComplexArrays>();
  let input: ComplexArrays | undefined;
  let byRows: readonly number[] | undefined;
  let likely: Iterator<OutputPair, undefined> | undefined;

  function run(pairs: readonly OutputPair[]): void {
    const wanted = input === undefined && (scaled || asked.input || last.input);
    const { re, im, byRows: points } = engine.run(frequencies, pairs, values, rows, wanted);
    byRows ??= points;
    if (re[0]!.length > 0) input ??= { re: re[0]!, im: im[0]! };
    pairs.forEach((pair, k) => known.set(keyOf(pair), { re: re[k + 1]!, im: im[k + 1]! }));
  }

  function ask(pairs: readonly OutputPair[], withInput = false): void {
    asked.input ||= withInput;
    const missing = new Map<number, OutputPair>();
    const before = asked.pairs.size;
    for (const pair of pairs) {
      const key = keyOf(pair);
      asked.pairs.set(key, pair);
      if (!known.has(key)) missing.set(key, pair);
    }
    if (missing.size === 0) return;
    if (known.size === 0) {
      if ([...missing.keys()].every((key) => usual.has(key))) for (const [key, pair] of usual) missing.set(key, pair);
    } else {
      likely ??= likelyPairs(engine.circuit, usual.values());
      for (let more = before; more > 0;) {
        const next: IteratorResult<OutputPair, undefined> = likely.next();
        if (next.done === true) break;
        const key = keyOf(next.value);
        if (known.has(key) || missing.has(key)) continue;
        missing.set(key, next.value);
        more--;
      }
    }
    run([...missing.values()]);
  }

  return {
    admittance() {
      asked.input = true;
      if (input === undefined) run(known.size === 0 ? [...usual.values()] : []);
      return input!;
    },
    ask,
    voltage(pair) {
      ask([pair]);
      return known.get(keyOf(pair))!;
    },
    byRows() {
      if (byRows === undefined) run([...usual.values()]);
      return byRows!;
    },
    rows,
  };
}

/** One number for a pair of nodes in their order. */
const keyOf = ([a, b]: OutputPair): number => a * 65_536 + b;

/** What people ask for, the likeliest first: as before, then the drivers, then every node and every branch. */
function* likelyPairs({ nodes, branches, parts }: Circuit, usual: Iterable<OutputPair>): Generator<OutputPair, undefined> {
  yield* usual;
  for (const { part, terminals } of parts.values()) if (isDriver(part)) yield [terminals[0]!, terminals[1]!];
  for (let node = 1; node < nodes.length; node++) yield [node, GND];
  for (const { from, to } of branches) yield [from, to];
  return undefined;
}
