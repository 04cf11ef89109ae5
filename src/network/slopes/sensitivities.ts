import { DividingNetworkError } from "../../errors";
import { checkList, checkOneOf, checkOptions, owned, show } from "../../errors/internal";
import type { FrequencyResponse } from "../../response";
import { checkedGrid, freezeResponse } from "../../response/internal";
import { GND } from "../circuit";
import { throwFindings } from "../diagnose";
import { eliminationOf } from "../solve/elimination";
import { engineFor } from "../solve/engine";
import type { Entries } from "../entries";
import { jacobianProgram } from "./jacobian-program";
import type { Sensitivities, SensitivityOptions } from "./sensitivities-data";
import { planFor } from "../solve/plan";
import type { OutputPair } from "../solve/program-builder";
import { groupOf, slopeTablesOf, slopeWriter } from "../solve/slope-tables";
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
 * @throws DividingNetworkError `invalid-network`, `unknown-name`, `unknown-part`, `invalid-argument`, `unsupported` for
 *   ideal transformers and for coils coupled by more than 0.95
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
  if (elimination.dense)
    throw new DividingNetworkError(
      "unsupported",
      `${caller}: networks with an ideal transformer or with coils coupled by more than 0.95 can't be differentiated`,
      "Give the transformer its inductances, or couple the coils less",
    );
  for (const name of vary ?? []) {
    if (!circuit.parts.has(name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: there is no part ${show(name)} in this network`,
        `Parts: ${[...circuit.parts.keys()].join(", ")}`,
      );
  }
  const chosen = new Set<string>(vary ?? circuit.parts.keys());
  const variables = bare.branches.flatMap((branch, number) =>
    chosen.has(branch.part)
    && elimination.rootOf[circuit.branches[number]!.from] !== elimination.rootOf[circuit.branches[number]!.to]
    && branchState(branch, false) === "finite"
      ? branch.law.parameters.flatMap((parameter, index) =>
          index === 0 || parasitics || branch.law.kernel === undefined
            ? [{ part: branch.part, parameter, value: branch.values[index]!, branch: number, index }]
            : [],
        )
      : [],
  );
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
  const values = circuit.branches.map((branch) => branch.values);
  const { program, entries } = jacobianProgram(elimination, pairs, variables);
  const n = grid.length;
  const make = (count: number) => Array.from({ length: count }, () => new Float64Array(n));
  const [re, im] = [make(entries.length), make(entries.length)];
  const ones = { re: new Float64Array(n).fill(1), im: new Float64Array(n) };
  const doubtful = planFor(elimination, program, grid.slice(), [ones]).run(values, re, im, 0);
  if (doubtful.length > 0)
    throw new DividingNetworkError(
      "no-solution",
      `${caller}: at ${grid[doubtful[0]!]} Hz lossless parts resonate, and the derivatives have no finite value there`,
      "Give the coils their resistance (dcr) and the capacitors their loss (esr), or leave this frequency out",
    );
  const engine = engineFor(circuit, () => undefined);
  let voltages: ReturnType<typeof engine.run> | undefined;
  let atInput: ReturnType<typeof engine.run> | undefined;

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
    const [pair, { branch, index }] = [outputNumber(output), variable(part, parameter)];
    const at = entries.findIndex((entry) => entry.pair === pair && entry.branch === branch && entry.index === index);
    return at < 0 ? freezeResponse(grid, new Float64Array(n), new Float64Array(n)) : freezeResponse(grid, re[at]!, im[at]!);
  };
  /** ∂V/V: its real part is the relative slope of the size, its imaginary part that of the angle in radians. */
  const relative = (output: string, part: string, parameter: string | undefined, take: "re" | "im", scale: number) => {
    voltages ??= engine.run(grid, pairs, values);
    const number = outputNumber(output) + 1;
    const slope = voltage(output, part, parameter);
    return slope.re.map((sr, i) => {
      const [vr, vi, si] = [voltages!.re[number]![i]!, voltages!.im[number]![i]!, slope.im[i]!];
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
    const { branch, index } = variable(part, parameter);
    atInput ??= engineFor(bare, () => undefined).run(
      grid,
      bare.branches.map(({ from, to }) => [from, to] as const),
      values,
    );
    // −Σ (U/Y)·(U'/Y)·∂Y' with Y the input admittance: over the branch alone, or over all pairs of the coils that are coupled.
    const [sr, si] = [new Float64Array(n), new Float64Array(n)];
    const tables = slopeTablesOf(elimination, branch, index);
    const slopes = tables.map(() => ({ re: new Float64Array(n), im: new Float64Array(n) }));
    slopeWriter(elimination, grid, tables)(
      values,
      (table) => slopes[table]!.re,
      (table) => slopes[table]!.im,
    );
    const group = groupOf(elimination, branch);
    tables.forEach(({ entry }, table) => {
      const [first, second] = entry === undefined ? [branch, branch] : [group!.branches[entry[0]]!, group!.branches[entry[1]]!];
      const [a, b, times] = [first + 1, second + 1, first === second ? 1 : 2];
      for (let i = 0; i < n; i++) {
        const [yr, yi] = [atInput!.re[0]![i]!, atInput!.im[0]![i]!];
        const size = yr * yr + yi * yi;
        const ratio = (re: number, im: number) => [(re * yr + im * yi) / size, (im * yr - re * yi) / size] as const;
        const [[ar, ai], [br, bi]] = [ratio(atInput!.re[a]![i]!, atInput!.im[a]![i]!), ratio(atInput!.re[b]![i]!, atInput!.im[b]![i]!)];
        const [pr, pi] = [times * (ar * br - ai * bi), times * (ar * bi + ai * br)];
        const [dr, di] = [slopes[table]!.re[i]!, slopes[table]!.im[i]!];
        sr[i] = sr[i]! - (pr * dr - pi * di);
        si[i] = si[i]! - (pr * di + pi * dr);
      }
    });
    return freezeResponse(grid, sr, si);
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
      return slope.re.map((sr, i) => {
        // ∂|Z| = Re(∂Z · conj Z)/|Z|, Z = 1/Y
        const [yr, yi] = [atInput!.re[0]![i]!, atInput!.im[0]![i]!];
        return (sr * yr - slope.im[i]! * yi) / Math.hypot(yr, yi);
      });
    },
  });
}
