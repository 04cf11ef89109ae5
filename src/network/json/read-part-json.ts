import { checkNumber, saidBy, show } from "../../errors/internal";
import { jsonKinds, jsonValues, partFromValues, type JsonKind, type PartField, type PartJSON } from "../../parts/internal";
import { inSi, relativeTolerance } from "../../quantity/internal";

/** One thing that is wrong with a part in JSON: where in it, what (a sentence that goes on after the place), and the way out. */
export interface JsonComplaint {
  readonly path: readonly (string | number)[];
  readonly message: string;
  readonly hint: string;
  /** Whether the value isn't there at all, or its key isn't known. */
  readonly what?: "missing" | "unknown-key";
}

/** What `readPartJSON` found. */
export interface PartReading {
  /** The part with its quantities in SI; absent when something is wrong. */
  readonly part?: PartJSON<number>;
  /** All that is wrong; empty when nothing is. */
  readonly complaints: readonly JsonComplaint[];
}

/** How `readPartJSON` reads. */
export interface ReadPartOptions {
  /** What is wrong with a name of a part or a node; by default a node's name must not be empty. */
  readonly checkName?: (name: string, of: "part" | "node") => { readonly message: string; readonly hint: string } | undefined;
  /** Drivers stand here without impedance, which is given elsewhere. */
  readonly bareDrivers?: boolean;
}

/**
 * Reads one part of a network in JSON, for a format that holds parts among other things. Nothing is thrown: all that is wrong is
 * listed with its place in the part. Quantities may be numbers in SI or text with their unit.
 *
 * @param json `{ name, kind, …values, nodes }`, or `coils` in place of `nodes` for a coupling
 * @param options a rule for names; whether drivers stand without impedance
 * @returns the part with quantities in SI, or the complaints
 */
export function readPartJSON(json: unknown, options: ReadPartOptions = {}): PartReading {
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    return {
      complaints: [
        {
          path: [],
          message: `must be an object { … }, got ${show(json)}`,
          hint: 'Write { "name": "R1", "kind": "resistor", "resistance": "2.2 Ω", "nodes": ["in", "gnd"] }',
        },
      ],
    };
  }
  const given = Object.fromEntries(Object.entries(json)) as Readonly<Record<string, unknown>>;
  const kind = Object.hasOwn(given, "kind") ? given["kind"] : undefined;
  if (typeof kind !== "string" || !Object.hasOwn(jsonKinds, kind)) {
    const known = Object.keys(jsonKinds)
      .map((each) => `"${each}"`)
      .join(", ");
    const hint = 'Write what the part is: "kind": "inductor"';
    return {
      complaints: [
        kind === undefined
          ? { path: ["kind"], message: "is missing", hint, what: "missing" }
          : { path: ["kind"], message: `must be one of ${known}, got ${show(kind)}`, hint },
      ],
    };
  }
  const own = kind as PartJSON["kind"];
  const { fields, places, count, data = [] } = shapeOf(own, options);
  const complaints: JsonComplaint[] = [];
  const known = ["name", "kind", ...(hasResponse(own, options) ? ["response"] : []), ...Object.keys(fields), ...data, places];
  for (const key of Object.keys(given)) {
    if (!known.includes(key))
      complaints.push({
        path: [key],
        message: "isn't a known key",
        hint: `Known keys are ${known.map((each) => `"${each}"`).join(", ")}`,
        what: "unknown-key",
      });
  }
  const name = readName(given, options, complaints);
  const values = Object.entries(fields).flatMap(([key, field]) => readField(given[key], key, field, complaints));
  const hung = readPlaces(given[places], places, typeof count === "number" ? count : count(given), options, complaints);
  const response = given["response"];
  if (hasResponse(own, options) && response !== undefined && typeof response !== "string") {
    complaints.push({
      path: ["response"],
      message: `must be the name of a measured impedance, got ${show(response)}`,
      hint: 'Give the curve under "responses", and its name here',
    });
  }
  const part = {
    name,
    kind,
    ...(response === undefined ? {} : { response }),
    ...Object.fromEntries(values),
    ...Object.fromEntries(data.filter((key) => given[key] !== undefined).map((key) => [key, given[key]])),
    [places]: hung,
  } as unknown as PartJSON<number>;
  if (complaints.length === 0) complaints.push(...wholePart(part, options));
  return complaints.length > 0 ? { complaints } : { part, complaints };
}

function hasResponse(kind: PartJSON["kind"], { bareDrivers = false }: ReadPartOptions): boolean {
  return !bareDrivers && jsonKinds[kind].makeMeasured !== undefined;
}

function shapeOf(kind: PartJSON["kind"], { bareDrivers = false }: ReadPartOptions): JsonKind {
  const shape = jsonKinds[kind];
  return bareDrivers && shape.makeMeasured !== undefined ? { ...shape, fields: {} } : shape;
}

function readName(given: Readonly<Record<string, unknown>>, { checkName }: ReadPartOptions, complaints: JsonComplaint[]): unknown {
  const name = given["name"];
  const hint = 'Give it a name: "name": "…"';
  if (name === undefined) complaints.push({ path: ["name"], message: "is missing", hint, what: "missing" });
  else if (typeof name !== "string") complaints.push({ path: ["name"], message: `must be a text, got ${show(name)}`, hint });
  else {
    const complaint = checkName?.(name, "part");
    if (complaint !== undefined) complaints.push({ path: ["name"], ...complaint });
  }
  return name;
}

/** The value in SI as a pair of key and number; none where it is left out or wrong. */
function readField(
  value: unknown,
  key: string,
  { unit, optional = false, percent = false, range }: PartField,
  complaints: JsonComplaint[],
): readonly (readonly [string, number])[] {
  const hint = percent
    ? 'Write text such as "5 %", or a number below 1'
    : unit === undefined
      ? "Write a number"
      : `Write a number in ${unit}, or text with its unit`;
  if (value === undefined) {
    if (!optional) complaints.push({ path: [key], message: "is missing", hint, what: "missing" });
    return [];
  }
  try {
    if (percent) return [[key, relativeTolerance("part", "value", value)]];
    return [[key, unit === undefined ? checkNumber("part", "value", value, range) : inSi("part", "value", value, unit, range)]];
  } catch (error) {
    const said = saidBy(error);
    complaints.push({ path: [key], message: said.message, hint: said.hint === "" ? hint : said.hint });
    return [];
  }
}

function readPlaces(
  value: unknown,
  places: JsonKind["places"],
  count: number,
  { checkName }: ReadPartOptions,
  complaints: JsonComplaint[],
): unknown {
  const hint =
    places === "coils"
      ? 'Name the two coils: "coils": ["L1", "L2"]'
      : 'Name the node at each terminal, in the order of the terminals (2 for most parts; l-pad: input, output, common; transformer: 4): "nodes": ["in", "gnd"]';
  if (value === undefined) complaints.push({ path: [places], message: "is missing", hint, what: "missing" });
  else if (!Array.isArray(value)) complaints.push({ path: [places], message: `must be a list [ … ], got ${show(value)}`, hint });
  else if (value.length !== count)
    complaints.push({ path: [places], message: `must have exactly ${count} entries, got ${value.length}`, hint });
  else {
    return Array.from<unknown>(value).map((each, index) => {
      const path = [places, index];
      if (typeof each !== "string") complaints.push({ path, message: `must be a text, got ${show(each)}`, hint });
      else {
        const complaint =
          checkName === undefined
            ? each === ""
              ? { message: 'must be a name of at least one character, got ""', hint }
              : undefined
            : checkName(each, "node");
        if (complaint !== undefined) complaints.push({ path, ...complaint });
      }
      return each;
    });
  }
  return undefined;
}

/** What can be wrong with values that are right one by one. */
function wholePart(part: PartJSON<number>, options: ReadPartOptions): readonly JsonComplaint[] {
  const { kind, response } = part as { readonly kind: PartJSON["kind"]; readonly response?: string };
  const { lacking, makeMeasured } = jsonKinds[kind];
  if (options.bareDrivers === true && makeMeasured !== undefined) return [];
  const values = jsonValues(kind, part);
  const lack = lacking?.(values, response);
  if (lack !== undefined) return [{ path: [], ...lack }];
  if (response !== undefined) return [];
  try {
    partFromValues(kind, values, undefined, part);
    return [];
  } catch (error) {
    const { message, hint } = saidBy(error);
    return [
      {
        path: [],
        message: `isn't a ${kind} that can be made: ${message}`,
        hint: hint === "" ? "Give the values that this kind of part needs" : hint,
      },
    ];
  }
}
