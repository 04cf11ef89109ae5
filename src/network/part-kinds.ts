import type { NumberRange } from "../errors/internal";
import {
  capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer, type DriverOptions, type PartOrCoupling, type TransformerOptions,
} from "../parts";
import type { Unit } from "../quantity";
import type { FrequencyResponse } from "../response";

/** One value of a part in JSON: a quantity where there is a unit, else a plain number; the range is in that unit. */
export interface PartField {
  readonly unit?: Unit;
  readonly optional?: boolean;
  /** A relative number, or text in percent. */
  readonly percent?: boolean;
  readonly range: NumberRange;
}

type Values = Readonly<Record<string, number>>;

/** How a kind of part stands in JSON: its values, what it hangs on, and the part that they make. */
export interface PartKind {
  readonly fields: Readonly<Record<string, PartField>>;
  /** Under which key stands what it hangs on, and how many there are. */
  readonly places: "nodes" | "coils";
  readonly count: number;
  readonly make: (values: Values) => PartOrCoupling;
}

const above0: NumberRange = { above: 0 };
const atLeast0: NumberRange = { min: 0 };
const factor: NumberRange = { above: -1, below: 1 };
const optional = true;
const tolerance: PartField = { optional, percent: true, range: { min: 0, below: 1 } };

/** The kinds by name, in the order in which messages list them. What a driver measures stands beside its values. */
export const partKinds: Readonly<Record<PartOrCoupling["kind"], PartKind>> = {
  resistor: {
    fields: { resistance: { unit: "Ω", range: atLeast0 }, power: { unit: "W", optional, range: above0 }, tolerance },
    places: "nodes", count: 2, make: ({ resistance, ...rating }) => resistor(resistance!, rating),
  },
  inductor: {
    fields: { inductance: { unit: "H", range: atLeast0 }, dcr: { unit: "Ω", optional, range: atLeast0 }, current: { unit: "A", optional, range: above0 }, tolerance },
    places: "nodes", count: 2, make: ({ inductance, ...more }) => inductor(inductance!, more),
  },
  capacitor: {
    fields: { capacitance: { unit: "F", range: above0 }, esr: { unit: "Ω", optional, range: atLeast0 }, dissipationFactor: { optional, range: atLeast0 }, voltage: { unit: "V", optional, range: above0 }, tolerance },
    places: "nodes", count: 2, make: ({ capacitance, ...more }) => capacitor(capacitance!, more),
  },
  "l-pad": {
    fields: { attenuationDb: { range: { min: 0, max: 200, unit: "dB" } }, load: { unit: "Ω", range: above0 }, power: { unit: "W", optional, range: above0 } },
    places: "nodes", count: 3, make: ({ attenuationDb, load, ...rating }) => lPad({ attenuationDb: attenuationDb!, load: load!, ...rating }),
  },
  driver: {
    fields: {
      re: { unit: "Ω", optional, range: above0 }, le: { unit: "H", optional, range: atLeast0 },
      re2: { unit: "Ω", optional, range: above0 }, le2: { unit: "H", optional, range: above0 },
      k: { optional, range: { above: 0, unit: "Ω·sⁿ" } }, n: { optional, range: { above: 0, max: 1 } },
      fs: { unit: "Hz", optional, range: above0 }, qms: { optional, range: above0 }, qes: { optional, range: above0 },
    },
    places: "nodes", count: 2, make: (values) => driverImpedance(values as unknown as DriverOptions),
  },
  coupling: { fields: { k: { range: factor } }, places: "coils", count: 2, make: ({ k }) => coupling(k!) },
  transformer: {
    fields: {
      ratio: { optional, range: {} }, primaryInductance: { unit: "H", optional, range: above0 }, secondaryInductance: { unit: "H", optional, range: above0 },
      k: { optional, range: factor }, primaryResistance: { unit: "Ω", optional, range: atLeast0 }, secondaryResistance: { unit: "Ω", optional, range: atLeast0 },
    },
    places: "nodes", count: 4, make: (values) => transformer(values as TransformerOptions),
  },
};

/** The values of a part in JSON, in the order of its kind's fields. */
export function valuesOf(kind: string, part: object): Values {
  const names = Object.keys(partKinds[kind as keyof typeof partKinds].fields);
  const given = part as Readonly<Record<string, number | undefined>>;
  return Object.fromEntries(names.filter((name) => given[name] !== undefined).map((name) => [name, given[name]!]));
}

/** The part that values make; a driver may be measured instead. */
export function partFromValues(kind: PartOrCoupling["kind"], values: Values, response?: FrequencyResponse): PartOrCoupling {
  return response === undefined ? partKinds[kind].make(values) : driverImpedance(response);
}
