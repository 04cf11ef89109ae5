import type { NumberRange } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { capacitor } from "./capacitor";
import { coupling } from "./coupling";
import { part } from "./custom/custom-part";
import { driverImpedance, type DriverOptions } from "./driver-impedance";
import { inductor } from "./inductor";
import type { PartField } from "./kind";
import { lPad } from "./l-pad";
import type { PartOrCoupling } from "./part";
import { resistor } from "./resistor";
import { transformer, type TransformerOptions } from "./transformer";

type Values = Readonly<Record<string, number>>;

/** How a kind of part stands in JSON: its values, what it hangs on, and the part that they make. */
export interface JsonKind {
  readonly fields: Readonly<Record<string, PartField>>;
  /** Under which key stands what it hangs on, and how many there are. */
  readonly places: "nodes" | "coils";
  readonly count: number | ((json: Readonly<Record<string, unknown>>) => number);
  /** Keys of what is no number and stands as it is, checked by `make`. */
  readonly data?: readonly string[];
  readonly make: (values: Values, data: Readonly<Record<string, unknown>>) => PartOrCoupling;
  /** Whether a measured impedance may stand in place of its values, and the part that it makes. */
  readonly makeMeasured?: (response: FrequencyResponse) => PartOrCoupling;
  /** Where in the part its values stand, if not in itself. */
  readonly held?: (part: PartOrCoupling) => object;
  /** Values that may be left out but are written when they are 0, since 0 isn't what is meant without them. */
  readonly written?: readonly string[];
  /** What can be wrong with values that are right one by one; `response`: the name of a measured impedance. */
  readonly lacking?: (values: Values, response: string | undefined) => JsonLack | undefined;
}

/** What is wrong with a part's values together: a sentence that goes on after the place, and the way out. */
export interface JsonLack {
  readonly message: string;
  readonly hint: string;
}

const above0: NumberRange = { above: 0 };
const atLeast0: NumberRange = { min: 0 };
const factor: NumberRange = { above: -1, below: 1 };
const optional = true;
const tolerance: PartField = { optional, percent: true, range: { min: 0, below: 1 } };

/** The kinds by name, in the order in which messages list them. What a driver measures stands beside its values. */
export const jsonKinds: Readonly<Record<PartOrCoupling["kind"], JsonKind>> = {
  resistor: {
    fields: { resistance: { unit: "Ω", range: atLeast0 }, power: { unit: "W", optional, range: above0 }, tolerance },
    places: "nodes",
    count: 2,
    make: ({ resistance, ...rating }) => resistor(resistance!, rating),
  },
  inductor: {
    fields: {
      inductance: { unit: "H", range: atLeast0 },
      dcr: { unit: "Ω", optional, range: atLeast0 },
      current: { unit: "A", optional, range: above0 },
      tolerance,
    },
    places: "nodes",
    count: 2,
    make: ({ inductance, ...more }) => inductor(inductance!, more),
  },
  capacitor: {
    fields: {
      capacitance: { unit: "F", range: above0 },
      esr: { unit: "Ω", optional, range: atLeast0 },
      dissipationFactor: { optional, range: atLeast0 },
      voltage: { unit: "V", optional, range: above0 },
      tolerance,
    },
    places: "nodes",
    count: 2,
    make: ({ capacitance, ...more }) => capacitor(capacitance!, more),
  },
  "l-pad": {
    fields: {
      attenuationDb: { range: { min: 0, max: 200, unit: "dB" } },
      load: { unit: "Ω", range: above0 },
      power: { unit: "W", optional, range: above0 },
    },
    places: "nodes",
    count: 3,
    make: ({ attenuationDb, load, ...rating }) => lPad({ attenuationDb: attenuationDb!, load: load!, ...rating }),
  },
  driver: {
    fields: {
      re: { unit: "Ω", optional, range: above0 },
      le: { unit: "H", optional, range: atLeast0 },
      re2: { unit: "Ω", optional, range: above0 },
      le2: { unit: "H", optional, range: above0 },
      k: { optional, range: { above: 0, unit: "Ω·sⁿ" } },
      n: { optional, range: { above: 0, max: 1 } },
      fs: { unit: "Hz", optional, range: above0 },
      qms: { optional, range: above0 },
      qes: { optional, range: above0 },
    },
    places: "nodes",
    count: 2,
    make: (values) => driverImpedance(values as unknown as DriverOptions),
    makeMeasured: driverImpedance,
    held: (part) => ("model" in part ? part.model : {}),
    lacking(values, response) {
      const others = Object.keys(values);
      if (response !== undefined) {
        return others.length === 0
          ? undefined
          : {
              message: `has "response" and ${others.map((key) => `"${key}"`).join(", ")}: it is measured, or known by its parameters`,
              hint: "Remove one of the two",
            };
      }
      return values["re"] === undefined
        ? {
            message: 'must have "re" (and what else is known of it), or "response"',
            hint: 'Write "re": "5.1 Ω" for a driver by its parameters, "response": "…" for the name of its measured impedance',
          }
        : undefined;
    },
  },
  custom: {
    fields: {},
    data: ["title", "terminals", "branches"],
    places: "nodes",
    count: ({ terminals }) => (typeof terminals === "number" ? terminals : 2),
    make: (_, { title, terminals, branches }) =>
      part({ title, branches, ...(terminals === undefined ? {} : { terminals }) } as Parameters<typeof part<2 | 3 | 4>>[0]),
  },
  coupling: { fields: { k: { range: factor } }, places: "coils", count: 2, make: ({ k }) => coupling(k!) },
  transformer: {
    fields: {
      ratio: { optional, range: {} },
      primaryInductance: { unit: "H", optional, range: above0 },
      secondaryInductance: { unit: "H", optional, range: above0 },
      k: { optional, range: factor },
      primaryResistance: { unit: "Ω", optional, range: atLeast0 },
      secondaryResistance: { unit: "Ω", optional, range: atLeast0 },
    },
    places: "nodes",
    count: 4,
    make: (values) => transformer(values as TransformerOptions),
    written: ["k"],
    lacking(values) {
      const missing = ["primaryInductance", "secondaryInductance", "k"].filter((key) => values[key] === undefined);
      if (values["ratio"] !== undefined || missing.length === 0) return undefined;
      return {
        message: `must have "ratio", or two windings, whose ${missing.map((key) => `"${key}"`).join(", ")} ${missing.length === 1 ? "is" : "are"} missing`,
        hint: 'Write "ratio" (primary to secondary turns) for an ideal transformer, else the values of both windings and "k"',
      };
    },
  },
};

/** The values of a part in JSON, in the order of its kind's fields. */
export function jsonValues(kind: string, part: object): Values {
  const names = Object.keys(jsonKinds[kind as keyof typeof jsonKinds].fields);
  const given = part as Readonly<Record<string, number | undefined>>;
  return Object.fromEntries(names.filter((name) => given[name] !== undefined).map((name) => [name, given[name]!]));
}

/** The part that values make, or its measured impedance where it may have one. */
export function partFromValues(
  kind: PartOrCoupling["kind"],
  values: Values,
  response?: FrequencyResponse,
  data: object = {},
): PartOrCoupling {
  const { make, makeMeasured } = jsonKinds[kind];
  return response === undefined || makeMeasured === undefined
    ? make(values, data as Readonly<Record<string, unknown>>)
    : makeMeasured(response);
}
