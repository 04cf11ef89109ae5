import { DividingNetworkError } from "../../errors";
import { show, shown, type Views } from "../../errors/internal";
import type { FrequencyResponse, Mark } from "../../response";
import { freezeResponse } from "../../response/internal";
import { answers, type Habit } from "./answers";
import { branchCurrents, type BranchCurrents } from "./branch-current";
import { GND, type Circuit } from "../circuit";
import type { ComplexArrays } from "../../numeric";
import { product, withoutMinusZero } from "../../numeric/internal";
import { impedanceOf } from "./impedance-of";
import type { Engine } from "./engine";
import type { UncheckedEntries } from "../entries";
import type { SourceResponse } from "./source";
import { mayCancel, sourceScale } from "./source-scale";
import { BEHIND, COMPUTED, type Behind, type SweepBranches } from "./sweep-behind";
import type { Sweep } from "./sweep-data";
import { sweepViews } from "../views";

/**
 * Makes a sweep whose answers are computed when they are asked for, each once. Whether there are any is known at once: what
 * may have no solution (`risky`: at some frequency, whatever is asked for) is solved before. `changed` stands in for the circuit's own values.
 */
export function sweepOf<T extends UncheckedEntries>(
  engine: Engine,
  frequencies: Float64Array,
  source: SourceResponse,
  marks: readonly Mark[],
  habit: Habit,
  risky: boolean,
  changed?: readonly ArrayLike<number>[],
): Sweep<T> {
  const { circuit } = engine;
  // What is handed out is a copy: the engine recognises a grid by its array, which nobody else may write to.
  const handedOut = frequencies.slice();
  const values = changed ?? circuit.branches.map((branch) => branch.values);
  const found = answers(engine, frequencies, values, habit, source !== undefined);
  let own: BranchCurrents | undefined;
  const currents = () => (own ??= branchCurrents(engine, found, frequencies, values));
  const responses = new Map<string, FrequencyResponse>();
  let known: { readonly scale: ComplexArrays | undefined } | undefined;
  const scale = () => (known ??= { scale: sourceScale(found.admittance, source, frequencies) }).scale;
  const scaled = (arrays: ComplexArrays): ComplexArrays => {
    const factor = scale();
    return factor === undefined ? arrays : product(arrays, factor);
  };
  const scaledCurrent = (current: ComplexArrays): ComplexArrays => scaled(withoutMinusZero(current));
  const response = (key: string, make: () => ComplexArrays): FrequencyResponse => {
    const before = responses.get(key);
    if (before !== undefined) return before;
    const { re, im } = make();
    const fresh = freezeResponse(handedOut, re, im, marks);
    responses.set(key, fresh);
    return fresh;
  };
  const between = (a: number, b: number): FrequencyResponse => response(`v ${a},${b}`, () => scaled(found.voltage([a, b])));

  if (frequencies[0] === 0) found.rows.at(0);
  if (!engine.reaches(frequencies) || risky) found.admittance();
  if (mayCancel(source)) scale();

  const sweep = {
    frequencies: handedOut,
    voltage(name: string) {
      const node = circuit.nodeNumber.get(name);
      if (node !== undefined) return between(node, GND);
      const part = circuit.parts.get(name);
      if (part !== undefined) return between(part.terminals[0]!, part.terminals[1]!);
      throw new DividingNetworkError(
        "unknown-name",
        `solve: there is neither a node nor a part named ${show(name)} in this network`,
        `Nodes: ${circuit.nodes.join(", ")}; parts: ${[...circuit.parts.keys()].join(", ")}`,
      );
    },
    voltageBetween: (first: string, second: string) => between(nodeNumber(circuit, first), nodeNumber(circuit, second)),
    current(name: string) {
      const part = circuit.parts.get(name);
      if (part === undefined)
        throw new DividingNetworkError(
          "unknown-part",
          `solve: there is no part ${show(name)} in this network`,
          `Parts: ${[...circuit.parts.keys()].join(", ")}`,
        );
      // Every part's first branch starts at its first terminal, where no other of its branches ends.
      const branch = part.branches[0];
      return response(`i ${name}`, () => {
        if (branch === undefined)
          return scaledCurrent(currents().transformer(circuit.transformers.findIndex((transformer) => transformer.part === name)));
        found.ask(currents().pairsFor(branch));
        return scaledCurrent(currents().branch(branch));
      });
    },
  } satisfies Omit<Sweep, keyof typeof COMPUTED>;
  const everything = (): SweepBranches => {
    const across = circuit.branches.map(({ from, to }) => [from, to] as const);
    found.ask(across, true);
    return {
      engine,
      values,
      admittance: found.admittance(),
      scale: scale(),
      source,
      voltage: (branch) => found.voltage(across[branch]!),
      current: currents().branch,
    };
  };
  const behind: Behind = {
    admittance: () => response("admittance", found.admittance),
    impedance: () => response("impedance", () => withoutMinusZero(impedanceOf(found.admittance(), frequencies))),
    sourceCurrent: () => response("source-current", () => scaled(found.admittance())),
    everything,
  };
  return Object.freeze(
    shown(
      Object.defineProperties(Object.defineProperty(sweep, BEHIND, { value: behind }), COMPUTED),
      sweepViews(circuit) as unknown as Views<typeof sweep>,
    ),
  ) as typeof sweep & Pick<Sweep, keyof typeof COMPUTED>;
}

function nodeNumber({ nodeNumber: numbers, nodes }: Circuit, name: string): number {
  const number = numbers.get(name);
  if (number !== undefined) return number;
  throw new DividingNetworkError("unknown-node", `solve: there is no node ${show(name)} in this network`, `Nodes: ${nodes.join(", ")}`);
}
