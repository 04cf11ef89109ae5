import { DividingNetworkError } from "../../errors";
import { checkList, checkObject, checkOptions, show } from "../../errors/internal";
import { mainOf } from "../../parts/internal";
import { resample } from "../../response";
import { checkedGrid, checkResponse } from "../../response/internal";
import { coupledParts } from "./coupled-parts";
import { throwFindings } from "../diagnose";
import { eliminationOf } from "../solve/elimination";
import type { Entries } from "../entries";
import type { ObjectiveOptions, SumObjective } from "./objective-data";
import { linkVariables } from "./link-variables";
import { checkLink, objectiveByRows } from "./objective-by-rows";
import { targetSizes, weighting } from "./objective-aim";
import { objectiveByElimination } from "./objective-by-elimination";
import { checkValue, valuePlaces } from "./value-places";
import type { GivenTable } from "../solve/plan";
import { numbersOf } from "./row-slopes";
import { sourceValues } from "../solve/source";
import { withSource } from "../solve/with-source";

/**
 * How far the weighted sum of part voltages is from a target, as a function of the network's values, with exact slopes by
 * the adjoint method: $L = \sum_f w_f\left(|\sum_k H_k V_k|^2/T_f^2 - 1\right)^2$. A deviation of 1 dB counts as 0.067
 * where it stands. Evaluating allocates nothing: made for searches and sliders.
 *
 * @param network entries keyed by designator; dimensionless
 * @param options `frequencies` in Hz; `contributions` per volt across a part (Pa/V); `target` in the unit of the sum per
 *   volt of the source; `weights` dimensionless; `sourceImpedance` in Ω and H; `vary`, `parasitics`
 * @returns the variables with their values in SI, and the functions `loss` and `lossAndSlopes` (dimensionless; per SI unit)
 * @throws DividingNetworkError `invalid-network`, `unknown-part`, `invalid-argument`, `outside-band`,
 *   `no-solution`
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, network, resistor } from "dividing-network";
 * import { sumObjective } from "dividing-network/network";
 *
 * const highPass = network({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
 * const flat = frequencyResponse([1000, 10_000], [1, 1], [0, 0]);
 * const objective = sumObjective(highPass, { frequencies: [2000], contributions: { tweeter: flat }, target: Math.SQRT1_2, vary: ["C1"] });
 * objective.loss([1 / (2 * Math.PI * 2000 * 8)]); // 0
 * ```
 */
export function sumObjective(network: Entries, options: ObjectiveOptions): SumObjective {
  const caller = "sumObjective";
  const {
    frequencies: asked,
    contributions: given,
    target,
    weights,
    sourceImpedance,
    vary: chosen,
    parasitics = false,
  } = checkOptions(caller, options, ["frequencies", "contributions", "target", "weights", "sourceImpedance", "vary", "parasitics"]);
  const frequencies = checkedGrid(caller, asked).slice();
  const contributions = checkObject(caller, "contributions", given, "an object of responses by the part's name");
  const vary = chosen === undefined ? undefined : checkList(caller, "vary", chosen, "parts' names");
  const source = sourceValues(caller, sourceImpedance);
  if (typeof parasitics !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "parasitics" must be true or false, got ${show(parasitics)}`);
  const n = frequencies.length;
  if (!(frequencies[0]! > 0))
    throw new DividingNetworkError("invalid-argument", `${caller}: "frequencies" must be above 0 Hz, got ${show(frequencies[0])}`);
  const circuit = withSource(throwFindings(network), source.resistance, source.inductance);
  const elimination = eliminationOf(circuit, false);
  const partOf = (name: string) => {
    const part = circuit.parts.get(name);
    if (part === undefined)
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: there is no part ${show(name)} in this network`,
        `Parts: ${[...circuit.parts.keys()].join(", ")}`,
      );
    return part;
  };
  const names = Object.keys(contributions);
  if (names.length === 0) throw new DividingNetworkError("invalid-argument", `${caller}: "contributions" must name at least one part`);
  const pairs = names.map((name) => [partOf(name).terminals[0]!, partOf(name).terminals[1]!] as const);
  pairs.forEach(([a, b], index) => {
    const [from, to] = [elimination.rootOf[a]!, elimination.rootOf[b]!];
    if (from === to || (from <= 1 && to <= 1))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: ${show(names[index])} lies across the source or across 0 Ω, so no value of the network changes its voltage`,
        "Put a network before it, or state the source's impedance",
      );
  });
  const tables: GivenTable[] = names.map((name) =>
    resample(checkResponse(caller, `contributions.${name}`, contributions[name]), frequencies),
  );
  tables.push({ re: targetSizes(caller, target, frequencies).map((size) => 1 / size ** 2), im: weighting(caller, weights, n) });

  const numbers = numbersOf(circuit);
  const coupled = coupledParts(elimination);
  const couplings = new Set(circuit.couplings.map(({ name }) => name).filter((name) => !circuit.parts.has(name)));
  for (const name of vary ?? []) if (!couplings.has(name)) partOf(name);
  const varied = new Set(
    vary ?? [...circuit.parts].filter(([name, { part }]) => mainOf(part) !== undefined && !coupled.has(name)).map(([name]) => name),
  );
  const places = valuePlaces(caller, circuit, varied, vary, parasitics);
  const links = linkVariables(circuit, varied);
  const rows = { caller, circuit, grid: frequencies, pairs, contributions: tables.slice(0, -1), aim: tables.at(-1)! };
  if (elimination.dense || links.length > 0) {
    return objectiveByRows(rows, numbers, [
      ...places.map(({ part, parameter, value, branch, index, limit }) => ({
        part,
        parameter,
        value,
        place: { branch, index },
        check: (given: number) => checkValue({ part, parameter, index, limit }, given),
      })),
      ...links.map((link) => ({ ...link, check: (given: number) => checkLink(caller, link, given) })),
    ]);
  }
  return objectiveByElimination(elimination, rows, numbers, places, coupled);
}
