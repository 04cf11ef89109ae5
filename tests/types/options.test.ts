// Whoever compiles with `exactOptionalPropertyTypes` can pass an option on that is perhaps not given: `{ esr: esrOrUndefined }`. So
// every optional property of what goes into a public function takes an explicit undefined, and undefined means absent.
import { allPassFilter, bessel, butterworth, crossover, ladder, zobel } from "dividing-network/alignments";
import { checkOptions } from "../../src/errors/internal";
import { network, sensitivities, solve, tolerance } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { pointSource, pressureAt } from "dividing-network/radiation";
import { frequencyResponse, groupDelay, levelDb, minimumPhase } from "dividing-network/response";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { openLibrary, placeOf, subpaths } from "../support/program";

const { checker, exportsOf } = openLibrary();

/**
 * What the library makes, or reads from a project file, and takes back: what isn't there is left out of it, and nobody writes it
 * by hand.
 */
const made = new Set([
  "Assessment",
  "BandResidual",
  "BassDamping",
  "Cause",
  "Combination",
  "Comparison",
  "DriverRelief",
  "DriverStress",
  "GoalAmplifier",
  "PartStress",
  "RatingCheck",
  "Ratings",
  "ProjectMotion",
  "Finding",
  "Goal",
  "GoalPlace",
  "Intention",
  "Issue",
  "ProjectGoal",
  "Quality",
  "RisingBranch",
  "SparedDriver",
  "Suspect",
  "SuspectedFault",
  "TopicVerdict",
  "Trust",
  "Loudspeaker",
  "LPad",
  "MeasuredHalf",
  "ModelCheck",
  "PairComparison",
  "PolarMap",
  "PowerResponse",
  "PressureField",
  "SourceShape",
  "SphereMap",
  "Spread",
  "SpreadContribution",
  "StockPart",
  "Views",
  "DriverJSON",
  "ImpedanceMeasurement",
  "PartJSON",
  "PressureFile",
  "PressureMeasurement",
  "Project",
  "ProjectDriver",
  "ProjectPart",
  "ProjectRedesign",
  "ProjectSpread",
]);

/** Every type that a public function takes in, through properties, elements, unions and type arguments' constraints. */
function optionalWithoutUndefined(): string[] {
  const found = new Set<string>();
  const seen = new Set<ts.Type>();
  const visit = (type: ts.Type, at: ts.Node): void => {
    if (seen.has(type)) return;
    seen.add(type);
    if (type.flags & ts.TypeFlags.TypeParameter) {
      const constraint = checker.getBaseConstraintOfType(type);
      if (constraint !== undefined && constraint !== type) visit(constraint, at);
      return;
    }
    if (type.isUnionOrIntersection()) type.types.forEach((each) => visit(each, at));
    for (const argument of [
      ...(type.aliasTypeArguments ?? []),
      ...((type as ts.TypeReference).target === undefined ? [] : checker.getTypeArguments(type as ts.TypeReference)),
    ])
      visit(argument, at);
    // A function that is passed in isn't data.
    if ((type.flags & ts.TypeFlags.Object) === 0 || type.getCallSignatures().length > 0) return;
    for (const property of type.getProperties()) {
      const declaration = property.declarations?.find((each) => each.getSourceFile().fileName.includes("/src/"));
      if (declaration === undefined || !(ts.isPropertySignature(declaration) || ts.isPropertyDeclaration(declaration))) continue;
      if (declaration.questionToken !== undefined && !takesUndefined(declaration) && !made.has(ownerOf(declaration)))
        found.add(`${placeOf(declaration)} ${ownerOf(declaration)}.${property.name}`);
      visit(checker.getTypeOfSymbol(property), at);
    }
  };
  for (const subpath of subpaths.slice(1)) {
    for (const { symbol } of exportsOf(subpath)) {
      for (const declaration of symbol.declarations ?? []) {
        if (!ts.isFunctionDeclaration(declaration)) continue;
        for (const parameter of declaration.parameters) visit(checker.getTypeAtLocation(parameter), parameter);
      }
    }
  }
  return [...found].sort();
}

/** The type or function in which a property is declared. */
function ownerOf(node: ts.Node): string {
  if ((ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node) || ts.isFunctionDeclaration(node)) && node.name !== undefined)
    return node.name.text;
  return ts.isSourceFile(node) ? "" : ownerOf(node.parent);
}

/** Whether `| undefined` is written, or stands behind a name. */
function takesUndefined({ type }: ts.PropertySignature | ts.PropertyDeclaration): boolean {
  if (type === undefined) return false;
  const members = ts.isUnionTypeNode(type) ? type.types : [type];
  return members.some((member) => member.kind === ts.SyntaxKind.UndefinedKeyword || member.kind === ts.SyntaxKind.UnknownKeyword);
}

describe("optional properties of what a public function takes", () => {
  it("take an explicit undefined", () => {
    expect(optionalWithoutUndefined()).toEqual([]);
  });
});

describe("an option that is undefined", () => {
  const way = network({ C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
  const response = frequencyResponse([100, 200, 400, 800, 1600], [1, 0.5, 0.25, 0.2, 0.1], [0, 0.1, 0.2, 0.1, 0]);
  const plain = (value: unknown): unknown =>
    JSON.parse(
      JSON.stringify(value, (_, each: unknown) =>
        ArrayBuffer.isView(each) ? Array.from(each as Float64Array) : typeof each === "function" ? String(each) : each,
      ),
    );

  it.each<readonly [string, () => unknown, () => unknown]>([
    ["inductor", () => inductor("1 mH", { dcr: undefined }), () => inductor("1 mH")],
    ["capacitor", () => capacitor("1 µF", { esr: undefined, dissipationFactor: undefined }), () => capacitor("1 µF")],
    [
      "capacitor, with one loss of the two",
      () => capacitor("1 µF", { esr: undefined, dissipationFactor: 0.01 }),
      () => capacitor("1 µF", { dissipationFactor: 0.01 }),
    ],
    [
      "driverImpedance",
      () =>
        driverImpedance({
          re: 6,
          le: undefined,
          re2: undefined,
          le2: undefined,
          k: undefined,
          n: undefined,
          fs: undefined,
          qms: undefined,
          qes: undefined,
        }),
      () => driverImpedance({ re: 6 }),
    ],
    ["solve", () => solve(way, [100], { sourceImpedance: undefined }).impedance, () => solve(way, [100]).impedance],
    [
      "sensitivities",
      () =>
        sensitivities(way, [100], {
          outputs: ["t"],
          vary: undefined,
          parasitics: undefined,
          sourceImpedance: { resistance: undefined, inductance: undefined },
        }),
      () => sensitivities(way, [100], { outputs: ["t"] }),
    ],
    [
      "tolerance",
      () =>
        tolerance(way, [100], { outputs: ["t"], samples: 5, seed: undefined, byKind: undefined, limits: undefined, corners: undefined }),
      () => tolerance(way, [100], { outputs: ["t"], samples: 5 }),
    ],
    ["bessel", () => bessel(3, { normalization: undefined }), () => bessel(3)],
    ["allPassFilter", () => allPassFilter({ frequency: 100, q: undefined }), () => allPassFilter({ frequency: 100 })],
    [
      "ladder",
      () => ladder(butterworth(3), { pass: "low", frequency: 100, load: 8, sourceResistance: undefined, first: undefined }).values,
      () => ladder(butterworth(3), { pass: "low", frequency: 100, load: 8 }).values,
    ],
    [
      "crossover",
      () =>
        crossover({ family: "butterworth", order: 2, frequency: 100, load: 8, rippleDb: undefined, normalization: undefined }).lowPass
          .values,
      () => crossover({ family: "butterworth", order: 2, frequency: 100, load: 8 }).lowPass.values,
    ],
    [
      "branch",
      () => zobel({ re: 6, le: 1e-3 }).branch({ from: "a", to: "b", ground: undefined, prefix: undefined }),
      () => zobel({ re: 6, le: 1e-3 }).branch({ from: "a", to: "b" }),
    ],
    ["levelDb", () => levelDb(response, { reference: undefined }), () => levelDb(response)],
    ["groupDelay", () => groupDelay(response, { delay: undefined }), () => groupDelay(response)],
    [
      "minimumPhase",
      () =>
        minimumPhase(response, {
          lowSlope: 0,
          highSlope: 0,
          lowCorner: undefined,
          lowQ: undefined,
          highCorner: undefined,
          highQ: undefined,
        }),
      () => minimumPhase(response, { lowSlope: 0, highSlope: 0 }),
    ],
    [
      "pointSource",
      () => pointSource({ position: undefined, rotation: undefined, polarity: undefined, delay: undefined, gainDb: undefined }),
      () => pointSource({}),
    ],
    [
      "pressureAt",
      () =>
        pressureAt([pointSource({})], [100], {
          points: [[1, 0, 0]],
          drives: undefined,
          tolerance: undefined,
          air: undefined,
          floor: undefined,
          absorption: undefined,
        }),
      () => pressureAt([pointSource({})], [100], { points: [[1, 0, 0]] }),
    ],
  ])("is absent: %s", (_, withUndefined, without) => {
    expect(plain(withUndefined())).toEqual(plain(without()));
  });

  it("leaves no key behind, and is refused all the same where it isn't known", () => {
    expect(Object.keys(checkOptions("f", { a: 1, b: undefined }, ["a", "b"]))).toEqual(["a"]);
    expect(() => checkOptions("f", { c: undefined }, ["a", "b"])).toThrow('unknown option "c"');
    const given = Object.freeze({ a: 1 });
    expect(checkOptions("f", given, ["a"])).toBe(given);
  });
});
