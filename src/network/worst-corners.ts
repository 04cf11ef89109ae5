import { DividingNetworkError } from "../errors";
import { resistor } from "../parts";
import type { Circuit } from "./circuit";
import type { Entries, Entry } from "./entries";
import { sensitivities } from "./sensitivities";
import { sourceValues, type SourceImpedance } from "./source";
import type { TolerancedValue } from "./toleranced-values";

/** The squares of one output at its worst corners. */
export interface Corners {
  readonly lowest: Float64Array;
  readonly highest: Float64Array;
}

/**
 * For each output and frequency: the square of the output with every value at the end of its tolerance to which its slope points.
 * Frequencies whose slopes have the same signs are solved together.
 */
export function cornerSquares(
  caller: string,
  network: Entries,
  circuit: Circuit,
  variables: readonly TolerancedValue[],
  outputs: readonly string[],
  frequencies: Float64Array,
  source: SourceImpedance | undefined,
  squaresAt: (grid: Float64Array, deviation: (variable: number) => number) => readonly Float64Array[],
): readonly Corners[] {
  if (typeof source === "object" && source !== null && "frequencies" in source) throw new DividingNetworkError("unsupported", `${caller}: "corners" can't be had with a source impedance that is a response`, "Give the source's resistance and inductance");
  const { entries, nameOf } = resistorsForPads(network, circuit);
  const slopes = sensitivities(entries, frequencies, {
    outputs: outputs.filter((output) => output !== "impedance"),
    vary: [...new Set(variables.map(nameOf))],
    sourceImpedance: sourceValues(caller, source),
  });
  return outputs.map((output, at) => {
    const signs = variables.map((variable) => {
      const part = nameOf(variable);
      // What 0 Ω bridges changes nothing.
      const parameter = part === variable.part && variable.parameter !== "series" ? variable.parameter : "resistance";
      if (!slopes.variables.some((each) => each.part === part && each.parameter === parameter)) return new Float64Array(frequencies.length);
      return (output === "impedance" ? slopes.impedanceMagnitude(part, parameter) : slopes.levelDb(output, part, parameter)).map(Math.sign);
    });
    const groups = new Map<string, number[]>();
    frequencies.forEach((_, i) => {
      const key = signs.map((list) => list[i]!).join();
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [i]);
      else group.push(i);
    });
    const ends = { lowest: new Float64Array(frequencies.length), highest: new Float64Array(frequencies.length) };
    for (const points of groups.values()) {
      const grid = Float64Array.from(points, (i) => frequencies[i]!);
      const put = (into: Float64Array, direction: 1 | -1) => squaresAt(grid, (k) => direction * signs[k]![points[0]!]!)[at]!.forEach((square, j) => (into[points[j]!] = square));
      put(ends.highest, 1);
      put(ends.lowest, -1);
    }
    return ends;
  });
}

/** The same network with two resistors for every L-pad, so that each has a name; and the name of a value's part in it. */
function resistorsForPads(network: Entries, circuit: Circuit): { readonly entries: Entries; readonly nameOf: (variable: TolerancedValue) => string } {
  const shunts = new Map<string, string>();
  const entries = Object.entries(network).flatMap(([name, entry]): [string, Entry][] => {
    const [part, input, output, common] = entry;
    if (part.kind !== "l-pad") return [[name, entry]];
    const series: [string, Entry] = [name, [resistor(part.series), input, output]];
    if (part.shunt === undefined) return [series];
    let shunt = `${name} (shunt)`;
    while (Object.hasOwn(network, shunt) || circuit.nodeNumber.has(shunt)) shunt += "'";
    shunts.set(name, shunt);
    return [series, [shunt, [resistor(part.shunt), output, common!]]];
  });
  return { entries: Object.fromEntries(entries), nameOf: ({ part, branch }) => (circuit.parts.get(part)!.branches[0] === branch ? part : (shunts.get(part) ?? part)) };
}
