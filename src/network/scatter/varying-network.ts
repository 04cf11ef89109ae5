import type { ComplexArrays } from "../../numeric";
import { DividingNetworkError } from "../../errors";
import type { Law } from "../../parts/internal";
import type { Circuit } from "../circuit";
import { circuitIssues, throwFindings, throwIssues } from "../diagnose";
import { engineFor } from "../solve/engine";
import type { Entries } from "../entries";
import type { Place } from "../place";
import { sourceResponse, type SourceImpedance } from "../solve/source";
import { writeValue } from "../solve/write-value";

/** A network that is solved again and again on one grid, with other values each time, into the same arrays. */
export interface VaryingNetwork {
  readonly circuit: Circuit;
  /** The values of each branch in SI, to be written to before a run; as drawn at first. */
  readonly values: readonly Float64Array[];
  /** Gives a value of the circuit another number before a run: one of `values`, or a factor or ratio. */
  write(place: Place, value: number): void;
  /** Solves for the present values. */
  run(): void;
  /** S: the input admittance at each frequency. */
  readonly admittance: ComplexArrays;
  /** V per V of the source across each part that was asked for. */
  readonly volts: readonly ComplexArrays[];
}

/** A part's law in place of its own, with its values; for a part of one branch. */
export interface OtherLaw {
  readonly law: Law;
  readonly values: readonly number[];
}

/** Analyses a network once for frequencies above 0 Hz and the voltages across some of its parts. */
export function varyingNetwork(
  caller: string,
  network: Entries,
  frequencies: Float64Array,
  parts: readonly string[],
  sourceImpedance: SourceImpedance | undefined,
  laws: ReadonlyMap<string, OtherLaw> = new Map(),
): VaryingNetwork {
  const drawn = throwFindings(network);
  const circuit: Circuit =
    laws.size === 0 ? drawn : { ...drawn, branches: drawn.branches.map((branch) => ({ ...branch, ...laws.get(branch.part) })) };
  const engine = engineFor(circuit, () => throwIssues(circuitIssues(circuit, true)));
  const values = circuit.branches.map((branch) => Float64Array.from(branch.values));
  const source = sourceResponse(caller, sourceImpedance, frequencies);
  const pairs = parts.map((name) => [circuit.parts.get(name)!.terminals[0]!, circuit.parts.get(name)!.terminals[1]!] as const);
  const arrays = () => [...pairs, pairs].map(() => new Float64Array(frequencies.length));
  const [re, im] = [arrays(), arrays()];
  const admittance = { re: re[0]!, im: im[0]! };
  return {
    circuit,
    values,
    write: (place, value) => writeValue(engine.elimination, values, place, value),
    admittance,
    volts: pairs.map((_, k) => ({ re: re[k + 1]!, im: im[k + 1]! })),
    run() {
      engine.runInto(frequencies, pairs, values, re, im);
      if (source === undefined) return;
      // V(in) per volt of the source is 1/(1 + Z·Y).
      for (let i = 0; i < frequencies.length; i++) {
        const zr = source.re[i]!;
        const zi = source.im[i]!;
        const yr = admittance.re[i]!;
        const yi = admittance.im[i]!;
        const dr = 1 + (zr * yr - zi * yi);
        const di = zr * yi + zi * yr;
        const size = dr * dr + di * di;
        if (!(size > 0))
          throw new DividingNetworkError(
            "no-solution",
            `${caller}: the source's impedance and the network's cancel at ${frequencies[i]} Hz`,
            "An amplifier's output impedance has a real part of 0 Ω or more: check `sourceImpedance`",
          );
        for (let k = 1; k < re.length; k++) {
          const vr = re[k]![i]!;
          const vi = im[k]![i]!;
          re[k]![i] = (vr * dr + vi * di) / size;
          im[k]![i] = (vi * dr - vr * di) / size;
        }
      }
    },
  };
}
