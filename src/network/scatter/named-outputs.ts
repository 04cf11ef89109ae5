import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import { GND, type Circuit } from "../circuit";
import type { EngineResult } from "../solve/engine";
import type { OutputPair } from "../solve/program-values";
import type { SourceResponse } from "../solve/source";

/** An output of a network by its name: a node, a part, or the impedance. */
export interface NamedOutput {
  readonly name: string;
  /** Its place among the engine's outputs; 0: the impedance. */
  readonly place: number;
}

/** What was asked for, each once, with the pairs of nodes for the engine. */
export function namedOutputs(
  caller: string,
  circuit: Circuit,
  names: readonly string[],
): { readonly outputs: readonly NamedOutput[]; readonly pairs: readonly OutputPair[] } {
  if (!Array.isArray(names) || names.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "outputs" must be an array of at least one node, part or "impedance", got ${show(names)}`,
    );
  if (names.length > 100_000)
    throw new DividingNetworkError("invalid-argument", `${caller}: "outputs" must name at most 100000 nodes and parts, got ${show(names)}`);
  const pairs: OutputPair[] = [];
  const outputs = [...new Set(names as readonly string[])].map((name) => {
    if (name === "impedance") return { name, place: 0 };
    const node = circuit.nodeNumber.get(name);
    const part = circuit.parts.get(name);
    if (node === undefined && part === undefined)
      throw new DividingNetworkError(
        "unknown-name",
        `${caller}: there is neither a node nor a part named ${show(name)} in this network`,
        `Nodes: ${circuit.nodes.join(", ")}; parts: ${[...circuit.parts.keys()].join(", ")}`,
      );
    return { name, place: pairs.push(node === undefined ? [part!.terminals[0]!, part!.terminals[1]!] : [node, GND]) };
  });
  return { outputs, pairs };
}

/** By output: |V|² per squared volt of the source, or |Z|² in Ω². */
export function squaresOf(
  { re, im }: EngineResult,
  outputs: readonly NamedOutput[],
  source: SourceResponse,
  grid: Float64Array,
): Float64Array[] {
  const n = grid.length;
  const [yr, yi] = [re[0]!, im[0]!];
  return outputs.map(({ place }) => {
    const [vr, vi, out] = [re[place]!, im[place]!, new Float64Array(n)];
    for (let i = 0; i < n; i++) {
      const size = vr[i]! * vr[i]! + vi[i]! * vi[i]!;
      if (place === 0) {
        if (size === 0)
          throw new DividingNetworkError(
            "infinite-impedance",
            `tolerance: no current flows at ${grid[i]} Hz, so that the impedance is infinite there`,
            "Leave this frequency or this output out",
          );
        out[i] = 1 / size;
      } else if (source === undefined) out[i] = size;
      else {
        // V(in) per volt of the source is 1/(1 + Z·Y).
        const [zr, zi] = [source.re[i]!, source.im[i]!];
        const [a, b] = [1 + zr * yr[i]! - zi * yi[i]!, zr * yi[i]! + zi * yr[i]!];
        out[i] = size / (a * a + b * b);
      }
    }
    return out;
  });
}

/** dB of a squared voltage, Ω of a squared impedance. */
export function inUnit(square: number, { place }: NamedOutput): number {
  return place === 0 ? Math.sqrt(square) : 10 * Math.log10(square);
}
