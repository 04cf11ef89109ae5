// Responses that somebody made by hand are looked at where they enter, once, whichever function they come in by. The list of
// entrances is held to the library's own types: a new one without a call in response-takers.ts fails here.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "../../src/errors";
import { frequencyResponse, levelDb, type FrequencyResponse } from "../../src/response";
import { openLibrary, subpaths } from "../support/program";
import { GRID, TAKERS } from "./response-takers";

const good = frequencyResponse(
  GRID,
  GRID.map(() => 1),
  GRID.map(() => 0),
);
const made = (change: (frequencies: Float64Array, re: Float64Array, im: Float64Array) => void): FrequencyResponse => {
  const [frequencies, re, im] = [good.frequencies.slice(), good.re.slice(), good.im.slice()];
  change(frequencies, re, im);
  return { frequencies, re, im };
};
const spoiled: Readonly<Record<string, FrequencyResponse>> = {
  "frequencies out of order": made((frequencies) => ([frequencies[20], frequencies[21]] = [frequencies[21]!, frequencies[20]!])),
  "a frequency twice": made((frequencies) => (frequencies[20] = frequencies[21]!)),
  "a frequency below 0 Hz": made((frequencies) => (frequencies[0] = -1)),
  "a frequency that is no number": made((frequencies) => (frequencies[20] = NaN)),
  "a value that is no number": made((_, re) => (re[20] = NaN)),
  "a value without end": made((_, __, im) => (im[500] = Infinity)),
  "arrays of several lengths": { ...good, re: good.re.slice(1) },
  "plain arrays": { ...good, re: [...good.re] as never },
  "nothing in it": { frequencies: new Float64Array(), re: new Float64Array(), im: new Float64Array() },
  "marks that are none": { ...good, marks: [{ kind: "odd" }] as never },
};

/** Values of these types are made by the library alone, out of responses that it has looked at. */
const OWN = new Set([
  "Sweep",
  "Prediction",
  "Assessment",
  "Comparison",
  "PolarMap",
  "SphereMap",
  "PowerResponse",
  "PressureField",
  "Source",
  "Ladder",
  "LoadedProject",
  "Crossover",
]);
/** Values of these types may be made by hand and hold responses inside: the test puts one there. */
const HOLDERS = new Set(["Entries", "Loudspeaker"]);
/** Networks that come with a textbook crossover, and pages of parts: each entry goes through the same door as `solve`'s. */
const THROUGH_NETWORK =
  /^(crossoverSum|ladderImpedance|refitLadder|lossyZobel|join|fragment|partsList|connections|schematic|topologyText|dipoleSource|compare|comparisonPage|comparisonText|redesignText|buildSheet|buildSheetText|drivenBy) /;

function entrances(): string[] {
  const { checker, exportsOf } = openLibrary();
  const found = new Set<string>();
  const look = (name: string, type: ts.Type, path: string, seen: readonly ts.Type[]): void => {
    const label = (type.aliasSymbol ?? type.symbol)?.name ?? "";
    if (label === "FrequencyResponse" || HOLDERS.has(label)) return void found.add(`${name} ${path}`);
    if (seen.length > 6 || seen.includes(type) || OWN.has(label) || type.getCallSignatures().length > 0) return;
    const next = [...seen, type];
    if (type.flags & ts.TypeFlags.TypeParameter) {
      const constraint = checker.getBaseConstraintOfType(type);
      if (constraint !== undefined) look(name, constraint, path, next);
    } else if (type.isUnionOrIntersection()) for (const each of type.types) look(name, each, path, next);
    else if (checker.isArrayType(type) || checker.isTupleType(type))
      for (const each of checker.getTypeArguments(type as ts.TypeReference)) look(name, each, `${path}[]`, next);
    else if (type.flags & ts.TypeFlags.Object) {
      for (const property of type.getProperties()) {
        const place = property.valueDeclaration ?? property.declarations?.[0];
        if (place !== undefined && !place.getSourceFile().fileName.includes("/typescript/lib/"))
          look(name, checker.getTypeOfSymbolAtLocation(property, place), `${path}.${property.name}`, next);
      }
      const index = type.getStringIndexType();
      if (index !== undefined) look(name, index, `${path}[*]`, next);
    }
  };
  for (const subpath of subpaths.slice(1)) {
    for (const { name, symbol } of exportsOf(subpath)) {
      const declaration = symbol.valueDeclaration;
      if (declaration === undefined || !ts.isFunctionDeclaration(declaration)) continue;
      for (const signature of checker.getTypeOfSymbol(symbol).getCallSignatures()) {
        for (const parameter of signature.parameters)
          look(name, checker.getTypeOfSymbolAtLocation(parameter, declaration), parameter.name, []);
      }
    }
  }
  return [...found].filter((each) => !/ \S*\.(network|sweep)\b/.test(each));
}

/** The arguments' names don't matter to who calls a function: `given` stands for the loudspeaker, say. */
const functionOf = (entrance: string): string => entrance.split(" ")[0]!;

describe("a response made by hand", () => {
  it("can enter only where this test puts one", () => {
    const known = new Set(Object.keys(TAKERS).map(functionOf));
    expect(entrances().filter((each) => !known.has(functionOf(each)) && !THROUGH_NETWORK.test(each))).toEqual([]);
  });

  it.each(Object.keys(spoiled))("is refused with %s, wherever it enters", async (kind) => {
    const accepted = await Promise.all(
      Object.entries(TAKERS).map(async ([entrance, call]) => {
        try {
          await call(spoiled[kind]!);
          return [entrance];
        } catch (error) {
          return /^invalid-/.test((error as DividingNetworkError).code ?? "") ? [] : [`${entrance}: ${String(error)}`];
        }
      }),
    );
    expect(accepted.flat()).toEqual([]);
  });

  it("is refused when it is frozen, too", async () => {
    const frozen = Object.freeze({ ...spoiled["a value that is no number"]! });
    const accepted = await Promise.all(
      Object.entries(TAKERS).map(async ([entrance, call]) => {
        try {
          await call(frozen);
          return [entrance];
        } catch (error) {
          return (error as DividingNetworkError).code?.startsWith("invalid-") === true ? [] : [entrance];
        }
      }),
    );
    expect(accepted.flat()).toEqual([]);
  });

  it("may begin at 0 Hz, as impulses give it", async () => {
    const answers = await Promise.all(
      Object.entries(TAKERS).map(async ([entrance, call]) => {
        try {
          await call(good);
          return [];
        } catch (error) {
          return [`${entrance}: ${String(error)}`];
        }
      }),
    );
    // There is no script for workers beside the source.
    const refused = answers
      .flat()
      .filter((each) => !/^(redesign|chooseValues)OnAllCores .*DividingNetworkError: .*a worker could not be started/.test(each));
    // A flat impedance has no resonance to fit, and a text file's axis is logarithmic for whoever reads it.
    expect(refused).toEqual([
      ...Array.from(
        { length: 6 },
        () => expect.stringMatching(/^(zobel|conjugateNetwork|approximateConjugate) driver.*: driverParameters: /) as unknown,
      ),
      expect.stringMatching(/^driverParameters .*: DividingNetworkError: /),
      expect.stringMatching(/^writeResponseText .*: DividingNetworkError: /),
    ]);
  });

  it("is looked at once: its samples aren't read for the check again", () => {
    const response = Object.freeze({ frequencies: new Float64Array([100, 200]), re: new Float64Array([1, 1]), im: new Float64Array(2) });
    levelDb(response);
    // Against the rules (a frozen response's arrays belong to nobody), and the only way to see that nobody looks twice.
    response.re[0] = NaN;
    expect(() => levelDb(response)).not.toThrow();
  });
});
