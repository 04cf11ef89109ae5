import { DividingNetworkError } from "../../errors";
import { checkList, checkOneOf, checkOptions, owned, show } from "../../errors/internal";
import type { FrequencyResponse } from "../../response";
import { checkedGrid, freezeResponse } from "../../response/internal";
import { GND } from "../circuit";
import { throwFindings } from "../diagnose";
import { eliminationOf } from "../solve/elimination";
import type { Entries } from "../entries";
import { fastDerivatives } from "./fast-derivatives";
import { linkVariables } from "./link-variables";
import { rowDerivatives } from "./row-derivatives";
import type { Place } from "../place";
import type { Variable } from "./variable";
import type { Sensitivities, SensitivityOptions } from "./sensitivities-data";
import type { OutputPair } from "../solve/program-values";
import { branchState } from "../state";
import { sourceValues } from "../solve/source";
import { withSource } from "../solve/with-source";

/**
 * Derivatives of voltages and of the input impedance with respect to part values, exactly, by the adjoint method: one
 * extra solution per output, whatever the number of parts. $\partial V/\partial v = -\lambda\,U\,\partial Y/\partial v$ with
 * U the branch's voltage and λ the voltage that 1 A into the output makes across it; $\partial Z/\partial v = -Z^2 U^2\,\partial Y/\partial v$.
 * After Director and Rohrer (1969), cited from memory.
 *
 * @param network entries keyed by designator; dimensionless
 * @param frequencies Hz, above 0, strictly ascending, length n
 * @param options `outputs`: nodes and parts; `vary`: parts; `parasitics`; `sourceImpedance` in Ω and H
 * @returns functions of output, part and parameter; arrays of n points, per SI unit of the value
 * @throws DividingNetworkError `invalid-network`, `unknown-name`, `unknown-part`, `invalid-argument`, `no-solution`, `infinite-impedance`
 * @example
 * ```ts
 * import { network, resistor, valueAt } from "dividing-network";
 * import { sensitivities } from "dividing-network/network";
 *
 * const divider = network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] });
 * const slopes = sensitivities(divider, [100, 1000], { outputs: ["a"] });
 * valueAt(slopes.voltage("a", "R1"), 1000).re; // -0.09375
 * valueAt(slopes.impedance("R1"), 1000).re; // 1.0000
 * ```
 */
export function sensitivities<const T extends Entries>(
  network: T,
  frequencies: ArrayLike<number>,
  options: SensitivityOptions<T>,
): Sensitivities {
  const caller = "sensitivities";
  const {
    parasitics = true,
    sourceImpedance,
    ...given
  } = checkOptions(caller, options, ["outputs", "vary", "parasitics", "sourceImpedance"]);
  const outputs = owned(checkList<string>(caller, "outputs", given.outputs, "names of nodes and parts"));
  const vary = given.vary === undefined ? undefined : checkList<string>(caller, "vary", given.vary, "parts' names");
  const source = sourceValues(caller, sourceImpedance);
  if (typeof parasitics !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "parasitics" must be true or false, got ${show(parasitics)}`);
  const grid = checkedGrid(caller, frequencies);
  if (!(grid[0]! > 0))
    throw new DividingNetworkError("invalid-argument", `${caller}: "frequencies" must be above 0 Hz, got ${show(grid[0])}`);
  const bare = throwFindings(network);
  const circuit = withSource(bare, source.resistance, source.inductance);
  const elimination = eliminationOf(circuit, false);
  const couplings = circuit.couplings.filter(({ name }) => !circuit.parts.has(name)).map(({ name }) => name);
  for (const name of vary ?? []) {
    if (!circuit.parts.has(name) && !couplings.includes(name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: there is no part ${show(name)} in this network`,
        `Parts: ${[...circuit.parts.keys(), ...couplings].join(", ")}`,
      );
  }
  const chosen = new Set<string>(vary ?? circuit.parts.keys());
  const variables: readonly (Variable & { readonly place: Place })[] = [
    ...bare.branches.flatMap((branch, number) =>
      chosen.has(branch.part)
      && elimination.rootOf[circuit.branches[number]!.from] !== elimination.rootOf[circuit.branches[number]!.to]
      && branchState(branch, false) === "finite"
        ? branch.law.parameters.flatMap((parameter, index) =>
            index === 0 || parasitics || branch.law.kernel === undefined
              ? [{ part: branch.part, parameter, value: branch.values[index]!, place: { branch: number, index } }]
              : [],
          )
        : [],
    ),
    ...linkVariables(circuit, chosen),
  ];
  const pairs: OutputPair[] = outputs.map((name) => {
    const node = circuit.nodeNumber.get(name);
    const part = circuit.parts.get(name);
    if (node === undefined && part === undefined)
      throw new DividingNetworkError(
        "unknown-name",
        `${caller}: there is neither a node nor a part named ${show(name)} in this network`,
        `Nodes: ${bare.nodes.join(", ")}; parts: ${[...bare.parts.keys()].join(", ")}`,
      );
    return node === undefined ? [part!.terminals[0]!, part!.terminals[1]!] : [node, GND];
  });
  const asked = { caller, circuit, bare, grid, pairs };
  const derivatives =
    (elimination.dense
      ? undefined
      : fastDerivatives(
          asked,
          elimination,
          variables.map(({ place }) => place),
        )) ?? rowDerivatives(asked);

  const variable = (part: string, parameter: string | undefined) => {
    const own = variables.filter((candidate) => candidate.part === part);
    if (own.length === 0)
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: ${show(part)} has no value to differentiate by here`,
        `Parts: ${[...new Set(variables.map((candidate) => candidate.part))].join(", ")}`,
      );
    return own.find(
      (candidate) =>
        candidate.parameter
        === (parameter === undefined
          ? own[0]!.parameter
          : checkOneOf(
              caller,
              "parameter",
              parameter,
              own.map((each) => each.parameter),
            )),
    )!;
  };
  const outputNumber = (output: string) => {
    const number = outputs.indexOf(output);
    if (number < 0)
      throw new DividingNetworkError(
        "unknown-name",
        `${caller}: ${show(output)} is not among the outputs`,
        `Outputs: ${outputs.join(", ")}`,
      );
    return number;
  };
  const voltage = (output: string, part: string, parameter?: string): FrequencyResponse => {
    const { re, im } = derivatives.slope(outputNumber(output), variable(part, parameter).place);
    return freezeResponse(grid, re, im);
  };
  /** ∂V/V: its real part is the relative slope of the size, its imaginary part that of the angle in radians. */
  const relative = (output: string, part: string, parameter: string | undefined, take: "re" | "im", scale: number) => {
    const volts = derivatives.voltage(outputNumber(output));
    const slope = voltage(output, part, parameter);
    return slope.re.map((sr, i) => {
      const [vr, vi, si] = [volts.re[i]!, volts.im[i]!, slope.im[i]!];
      const size = vr * vr + vi * vi;
      if (size === 0)
        throw new DividingNetworkError(
          "no-level",
          `${caller}: "${output}" is 0 at ${grid[i]} Hz, where level and phase have no slope`,
          "Use voltage()",
        );
      return (scale * (take === "re" ? sr * vr + si * vi : si * vr - sr * vi)) / size;
    });
  };
  const impedance = (part: string, parameter?: string): FrequencyResponse => {
    const { place } = variable(part, parameter);
    const admittance = derivatives.admittance();
    const blocked = grid.findIndex((_, i) => admittance.re[i] === 0 && admittance.im[i] === 0);
    if (blocked >= 0)
      throw new DividingNetworkError(
        "infinite-impedance",
        `${caller}: no current flows at ${grid[blocked]} Hz, so that the impedance is infinite there and has no slope`,
        "Use voltage(), or leave this frequency out",
      );
    const { re, im } = derivatives.impedanceSlope(place);
    return freezeResponse(grid, re, im);
  };
  return Object.freeze({
    frequencies: grid,
    variables: Object.freeze(variables.map(({ part, parameter, value }) => Object.freeze({ part, parameter, value }))),
    voltage,
    levelDb: (output: string, part: string, parameter?: string) => relative(output, part, parameter, "re", 20 / Math.LN10),
    phaseDegrees: (output: string, part: string, parameter?: string) => relative(output, part, parameter, "im", 180 / Math.PI),
    impedance,
    impedanceMagnitude(part: string, parameter?: string) {
      const slope = impedance(part, parameter);
      const admittance = derivatives.admittance();
      return slope.re.map((sr, i) => {
        // ∂|Z| = Re(∂Z · conj Z)/|Z|, Z = 1/Y
        const [yr, yi] = [admittance.re[i]!, admittance.im[i]!];
        return (sr * yr - slope.im[i]! * yi) / Math.hypot(yr, yi);
      });
    },
  });
}
