import { DividingNetworkError } from "../../errors";
import { checkNumber, listed, show, type NumberRange } from "../../errors/internal";
import type { Capacitor, CustomPart, DriverImpedance, Inductor, LPad, Resistor, Transformer } from "../../parts";
import { mainOf } from "../../parts/internal";
import type { Capacitance, Frequency, Inductance, Resistance, Unit } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Circuit } from "../circuit";

/** What each value of a part is given as. */
interface ValueKinds {
  readonly resistance: Resistance;
  readonly inductance: Inductance;
  readonly dcr: Resistance;
  readonly capacitance: Capacitance;
  readonly esr: Resistance;
  readonly dissipationFactor: number;
  readonly series: Resistance;
  readonly shunt: Resistance;
  readonly primaryInductance: Inductance;
  readonly primaryResistance: Resistance;
  readonly secondaryInductance: Inductance;
  readonly secondaryResistance: Resistance;
  readonly re: Resistance;
  readonly le: Inductance;
  readonly re2: Resistance;
  readonly le2: Inductance;
  readonly k: number;
  readonly n: number;
  readonly fs: Frequency;
  readonly qms: number;
  readonly qes: number;
}

type PartIn<E> = Exclude<E, undefined> extends readonly [infer P, ...unknown[]] ? P : never;
type MainOf<P> = P extends Resistor ? "resistance" : P extends Inductor ? "inductance" : P extends Capacitor ? "capacitance" : never;
type ValuesIn<P> =
  | MainOf<P>
  | (P extends Inductor ? "dcr" : P extends Capacitor ? "esr" | "dissipationFactor" : P extends LPad ? "series" | "shunt" : never)
  | (P extends Transformer ? "primaryInductance" | "primaryResistance" | "secondaryInductance" | "secondaryResistance" : never)
  | (P extends DriverImpedance ? "re" | "le" | "re2" | "le2" | "k" | "n" | "fs" | "qms" | "qes" : P extends CustomPart ? string : never);

/** The names of a network's values: `C1` for a part's main value, `L1.dcr` for any by its own name. */
type ValueName<T> = {
  [K in keyof T & string]-?: [MainOf<PartIn<T[K]>>] extends [never]
    ? `${K}.${ValuesIn<PartIn<T[K]>>}`
    : K | `${K}.${ValuesIn<PartIn<T[K]>>}`;
}[keyof T & string];
type ValueAt<T, N> = N extends keyof T
  ? ValueKinds[MainOf<PartIn<T[N]>>]
  : N extends `${string}.${infer Q extends keyof ValueKinds}`
    ? ValueKinds[Q]
    : number | string;

/**
 * Other values of a network's parts, by name: `C1` for the main value of a resistor, coil or capacitor, `"L1.dcr"`, `"C1.esr"`,
 * `"tweeter.fs"` for any value by its own name. Numbers in SI, or text with the unit.
 */
export type SweepValues<T> = string extends keyof T
  ? Readonly<Record<string, number | string>>
  : { readonly [N in ValueName<T>]?: ValueAt<T, N> | undefined };

/** A value of a part: where it stands, and what it may be. */
interface NamedValue {
  readonly name: string;
  readonly branch: number;
  readonly index: number;
  readonly unit: Unit | undefined;
  readonly range: NumberRange;
}

/** The values of a network that can be given anew, under each of their names. */
export type ValueNames = ReadonlyMap<string, NamedValue>;

/** Finds the values of a circuit: those of every part but couplings, and of a driver only what it has. */
export function valueNames(circuit: Circuit): ValueNames {
  const names = new Map<string, NamedValue>();
  const main = new Map<string, NamedValue>();
  for (const [part, { part: device, branches }] of circuit.parts) {
    const own = mainOf(device)?.parameter;
    for (const branch of branches) {
      const { law, values } = circuit.branches[branch]!;
      law.parameters.forEach((parameter, index) => {
        const { unit, range } = law.limits[index]!;
        if (values[index] === 0 && range.above === 0) return;
        const value: NamedValue = { name: `${part}.${parameter}`, branch, index, unit, range };
        names.set(value.name, value);
        if (parameter === own) main.set(part, value);
      });
    }
  }
  // A part whose own name is that of another's value keeps it.
  return new Map([...names, ...main]);
}

/**
 * The values of every branch, some of them given anew; `structural` where one became 0 or was 0 before, which may join or part nodes
 * or take the last loss away.
 */
export function changedValues(
  caller: string,
  circuit: Circuit,
  names: ValueNames,
  given: unknown,
): { readonly values: readonly (readonly number[])[]; readonly structural: boolean } {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "values" must be an object, got ${show(given)}`,
      'Write { values: { C1: "4.7 µF", "L1.dcr": 0.3 } }',
    );
  }
  const values = circuit.branches.map((branch) => branch.values as number[]);
  const taken = new Map<NamedValue, string>();
  let structural = false;
  for (const [name, value] of Object.entries(given as Readonly<Record<string, unknown>>)) {
    if (value === undefined) continue;
    const place = names.get(name);
    if (place === undefined) throw unknownValue(caller, circuit, names, name);
    const before = taken.get(place);
    if (before !== undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: ${show(before)} and ${show(name)} in "values" are one value`,
        "Give it once",
      );
    taken.set(place, name);
    const { branch, index, unit, range } = place;
    const label = `values[${JSON.stringify(name)}]`;
    const fresh = unit === undefined ? checkNumber(caller, label, value, range) : inSi(caller, label, value, unit, range);
    if (fresh !== 0) checkNumber(caller, label, fresh, { min: 1e-30, max: 1e30, ...(unit === undefined ? {} : { unit }) });
    const old = circuit.branches[branch]!.values;
    structural ||= (fresh === 0) !== (old[index] === 0);
    if (values[branch] === old) values[branch] = [...old];
    values[branch]![index] = fresh;
  }
  for (const { name, branch } of taken.keys()) {
    const [, esr, loss] = values[branch]!;
    if (circuit.branches[branch]!.law.kernel !== "capacitor" || esr === 0 || loss === 0) continue;
    const part = circuit.branches[branch]!.part;
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${part}.esr" and "${part}.dissipationFactor" describe the same loss, got both with ${show(name)} in "values"`,
      "Set the other to 0 beside it",
    );
  }
  return { values, structural };
}

function unknownValue(caller: string, circuit: Circuit, names: ValueNames, name: string): DividingNetworkError {
  const part = [...circuit.parts.keys()].find((each) => name === each || name.startsWith(`${each}.`));
  const own = part === undefined ? [] : [...names.keys()].filter((each) => each === part || each.startsWith(`${part}.`));
  return new DividingNetworkError(
    "unknown-name",
    `${caller}: there is no value named ${show(name)} in this network`,
    own.length > 0
      ? `"${part}" has ${listed(own)}`
      : part === undefined
        ? `The values are ${listed([...names.keys()])}`
        : `"${part}" has no values that can be given`,
  );
}
