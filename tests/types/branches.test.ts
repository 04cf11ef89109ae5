// What the types of branches, joins and ladders know, compared with what there is at run time: the snippet is compiled, and the
// same code is run.
import * as alignments from "dividing-network/alignments";
import { type Entries } from "dividing-network/network";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { compileSnippets } from "./snippets";

/** Expressions that give a fragment, each with every option that brings or takes parts. */
const fragments: Readonly<Record<string, string>> = {
  zobel: `zobel({ re: 6, le: 0.0005 }).branch(nodes)`,
  attenuator: `attenuator({ attenuationDb: 3, load: 8 }).branch(nodes)`,
  attenuatorOfNothing: `attenuator({ attenuationDb: 0, load: 8 }).branch(nodes)`,
  seriesAttenuator: `seriesAttenuator({ attenuationDb: 3, load: 8 }).branch(nodes)`,
  shuntAttenuator: `shuntAttenuator({ attenuationDb: 3, load: 8, sourceResistance: 4 }).branch(nodes)`,
  conjugateOfResonance: `conjugateNetwork({ re: 6, fs: 50, qms: 4, qes: 0.5 }).branch(nodes)`,
  conjugateOfCoil: `conjugateNetwork({ re: 6, le: 0.0005, fs: 50, qms: 4, qes: 0.5 }).branch(nodes)`,
  conjugateOfLossyCoil: `conjugateNetwork({ re: 6, le: 0.0005, re2: 4, le2: 0.001, fs: 50, qms: 4, qes: 0.5 }).branch(nodes)`,
  approximateConjugate: `approximateConjugate({ re: 6, le: 0.0005, fs: 50, qms: 4, qes: 0.5 }).branch(nodes)`,
  parallelTrap: `parallelTrap({ depthDb: 6, frequency: 1000, bandwidth: 300, load: 8 }).branch(nodes)`,
  breakupTrap: `breakupTrap({ peakDb: 6, frequency: 1000, q: 3, load: 8 }).branch(nodes)`,
  shuntNotch: `shuntNotch({ depthDb: 6, frequency: 1000, bandwidth: 300, load: 8, sourceResistance: 4 }).branch(nodes)`,
  baffleStep: `baffleStep({ stepDb: 4, frequency: 500, load: 8 }).branch(nodes)`,
  bridgedTeeCoupled: `bridgedTee({ frequency: 1000, q: 0.5, load: 8 }).branch(nodes)`,
  bridgedTee: `bridgedTee({ frequency: 1000, q: 2, load: 8 }).branch(nodes)`,
  latticeOfFirstOrder: `allPassLattice({ frequency: 1000, load: 8 }).branch(floating)`,
  latticeOfSecondOrder: `allPassLattice({ frequency: 1000, q: 1, load: 8 }).branch(floating)`,
  seriesCrossoverOfFirstOrder: `seriesCrossover({ order: 1, frequency: 1000, load: 8 }).branch(nodes)`,
  seriesCrossoverOfSecondOrder: `seriesCrossover({ order: 2, frequency: 1000, load: 8 }).branch(nodes)`,
  ladder: `ladder(butterworth(5), { pass: "low", frequency: 1000, load: 8 }).branch(nodes)`,
  ladderBand: `ladder(butterworth(3), { pass: "band", from: 100, to: 1000, load: 8 }).branch(nodes)`,
  ladderShunt: `ladder(butterworth(1), { pass: "low", frequency: 1000, load: 8, sourceResistance: 4, first: "shunt" }).branch(nodes)`,
  ladderNetwork: `ladder(butterworth(4), { pass: "high", frequency: 1000, load: 8 }).network`,
};
const places = `{ const nodes = { from: "f", to: "t", ground: "g", prefix: "Z" } as const; const floating = { from: "f", to: "t", fromReturn: "g", toReturn: "u", prefix: "Z" } as const; `;

const names = `
import * as a from "dividing-network/alignments";
import { fragment, join, network, solve, type Entry, type Network } from "dividing-network/network";
import { capacitor, resistor, type Resistor } from "dividing-network/parts";
declare const grid: Float64Array; declare const anyText: string; declare const made: Record<string, Entry>; declare const someNodes: a.BranchNodes; declare const someWays: Network<{ readonly R1: readonly [Resistor, "in", "gnd"] }>[];
const way = network({ C1: [capacitor("1 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
const zobel = a.zobel({ re: 6, le: "0.5 mH" });
const { lowPass, highPass } = a.crossover({ family: "butterworth", order: 4, frequency: 2000, load: 8 });
const voltageOf = <T extends { voltage(name: never): unknown }>(sweep: T): Parameters<T["voltage"]>[0] => { throw sweep; };
export const afterBranch = voltageOf(solve(join(way, zobel.branch({ from: "t", to: "gnd", prefix: "Z" })), grid));
export const explicitUndefined = voltageOf(solve(join(fragment({ R9: [resistor(1), "in", "t"] }), zobel.branch({ from: "t", to: "gnd", prefix: undefined, ground: undefined })), grid));
export const ladders = voltageOf(solve(network(join(lowPass.branch({ from: "in", to: "w", prefix: "LP" }), highPass.branch({ from: "in", to: "t", prefix: "HP" }), { woofer: [resistor(8), "w", "gnd"], tweeter: [resistor(8), "t", "gnd"] })), grid));
export const laddersWithoutPrefix = voltageOf(solve(network(join(lowPass.branch({ from: "in", to: "w" }), highPass.branch({ from: "in", to: "t" }))), grid));
export const open = voltageOf(solve(join(made, way), grid));
export const openNode = voltageOf(solve(join(way, fragment({ R1: [resistor(1), "t", anyText] })), grid));
export const openPrefix = voltageOf(solve(join(way, zobel.branch({ from: "t", to: "gnd", prefix: anyText })), grid));
export const openNodes = voltageOf(solve(join(way, zobel.branch(someNodes)), grid));
export const manyPieces = voltageOf(solve(join(...someWays), grid));
`;
const snippet = `import { ${[...new Set(Object.values(fragments).flatMap((code) => code.match(/\b\w+(?=\()/g)!))].filter((name) => name in alignments).join(", ")} } from "dividing-network/alignments";
${Object.entries(fragments)
  .map(([name, code]) => `export const of_${name} = (() => ${places}return ${code}; })();`)
  .join("\n")}`;
const { program, messages } = compileSnippets({ fragments: snippet, names });
const checker = program.getTypeChecker();
const typesOf = (file: string): Map<string, ts.Type> => {
  const source = program.getSourceFiles().find(({ fileName }) => fileName.endsWith(`snippet-${file}.ts`))!;
  return new Map(
    checker.getExportsOfModule(checker.getSymbolAtLocation(source)!).map((symbol) => [symbol.name, checker.getTypeOfSymbol(symbol)]),
  );
};
const members = (type: ts.Type): readonly ts.Type[] => (type.isUnion() ? type.types : [type]);

/** The names in a list of names, and whether any text is taken beside them. */
function listed(type: ts.Type): { readonly names: readonly string[]; readonly open: boolean } {
  const parts = members(type);
  const literals = parts.filter((part) => part.isStringLiteral()).map((part) => (part as ts.StringLiteralType).value);
  return { names: literals.sort(), open: checker.isTypeAssignableTo(checker.getStringType(), type) };
}

it("every snippet compiles", () => {
  expect(messages).toEqual({ fragments: [], names: [] });
});

describe("the type of a branch knows the parts and nodes that there are at run time", () => {
  const types = typesOf("fragments");

  it.each(Object.entries(fragments))("%s", (name, code) => {
    const type = types.get(`of_${name}`)!;
    const run = new Function(...Object.keys(alignments), `${places.replace(/ as const/g, "")}return ${code}; }`) as (
      ...all: unknown[]
    ) => Entries;
    const entries = Object.entries(run(...Object.values(alignments)));
    const known = new Map(checker.getPropertiesOfType(type).map((property) => [property.name, property]));
    for (const [designator, [part, ...nodes]] of entries) {
      const property = known.get(designator)!;
      expect(property, designator).toBeDefined();
      const entry = checker.getNonNullableType(checker.getTypeOfSymbol(property));
      const [kind, ...terminals] = checker.getTypeArguments(entry as ts.TypeReference);
      expect(checker.typeToString(kind!).toLowerCase()).toBe(part.kind);
      expect(terminals).toHaveLength(nodes.length);
      nodes.forEach((node, k) =>
        expect(
          checker.isTypeAssignableTo(checker.getStringLiteralType(node), terminals[k]!),
          `${designator}: ${node} in ${checker.typeToString(terminals[k]!)}`,
        ).toBe(true),
      );
    }
    const certain = [...known.values()].filter(({ flags }) => (flags & ts.SymbolFlags.Optional) === 0).map((property) => property.name);
    expect(entries.map(([designator]) => designator)).toEqual(expect.arrayContaining(certain));
  });
});

describe("the names that complete in voltage(…)", () => {
  const types = typesOf("names");
  const ladderNames = (prefix: string): string[] =>
    ["L", "C"].flatMap((letter) => Array.from({ length: 20 }, (_, k) => `${prefix}${letter}${k + 1}`)).concat(`${prefix}W1`);

  it("after a join with a branch are those of both, and no others", () => {
    expect(listed(types.get("afterBranch")!)).toEqual({ names: ["C1", "ZC1", "ZR1", "ZR1.a", "gnd", "in", "t", "tweeter"], open: false });
    expect(listed(types.get("explicitUndefined")!)).toEqual({ names: ["C1", "R1", "R1.a", "R9", "gnd", "in", "t"], open: false });
  });

  it("of ladders are those that may be there, the drivers beside them, and no others", () => {
    expect(listed(types.get("ladders")!)).toEqual({
      names: [...ladderNames("LP"), ...ladderNames("HP"), "gnd", "in", "t", "tweeter", "w", "woofer"].sort(),
      open: false,
    });
    expect(listed(types.get("laddersWithoutPrefix")!)).toEqual({ names: [...ladderNames(""), "gnd", "in", "t", "w"].sort(), open: false });
    const takes = (name: string): boolean => checker.isTypeAssignableTo(checker.getStringLiteralType(name), types.get("ladders")!);
    expect(["LPL1.2", "HPC3.2", "LPL1", "tweeetr", "LPL1.a", "L1.2", "XXL1"].map(takes)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
      false,
    ]);
  });

  it("of what is known only at run time are those that are known, and any text", () => {
    expect(listed(types.get("open")!)).toEqual({ names: ["C1", "tweeter"], open: true });
    expect(listed(types.get("openNode")!)).toEqual({ names: ["C1", "R1", "tweeter"], open: true });
    for (const each of ["openPrefix", "openNodes"]) expect(listed(types.get(each)!)).toEqual({ names: ["C1", "tweeter"], open: true });
    expect(listed(types.get("manyPieces")!).open).toBe(true);
  });
});
