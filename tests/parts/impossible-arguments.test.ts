// What no part and no measurement can have is refused by the argument's name: a length, a mass or a resistance of 0 or less, a Q below 0, a coupling of 1, a temperature below absolute zero.
// Each function is asked once with everything possible, and then with one thing impossible at a time.
import { describe, expect, it } from "vitest";
import * as parts from "dividing-network/parts";
import { refusalText } from "../support/refusal-text";

const none = [0, -1, NaN, Infinity, -Infinity];
const negative = [-1, NaN, Infinity];
type Options = Readonly<Record<string, unknown>>;
/** A function of one object of options, options that it takes, and for each argument what it refuses. */
type Row = readonly [name: string, work: (options: never) => unknown, good: Options, refused: Readonly<Record<string, readonly unknown[]>>];

const free = { re: 5.6, fs: 48, qms: 4, qes: 0.4, sd: 0.0137 };
const constants = { re: 5.6, bl: 7, mms: 0.02, cms: 5e-4, rms: 1, sd: 0.0137 };
const winding = { turns: 100, meanRadius: 0.02, length: 0.01, depth: 0.01 };
const rows: readonly Row[] = [
  [
    "thieleSmall",
    parts.thieleSmall,
    { ...constants, ratedImpedance: 8 },
    { re: none, bl: none, mms: none, cms: none, rms: none, sd: none, ratedImpedance: none },
  ],
  [
    "parametersFromAddedMass",
    parts.parametersFromAddedMass,
    { ...free, addedMass: 0.01, fsWithMass: 38 },
    { re: none, fs: none, qms: none, qes: none, sd: none, addedMass: none, fsWithMass: [...none, 48, 50] },
  ],
  [
    "parametersFromKnownVolume",
    parts.parametersFromKnownVolume,
    { ...free, volume: 0.02, fc: 80, qec: 0.6 },
    { volume: none, fc: none, qec: none },
  ],
  [
    "closedBox",
    parts.closedBox,
    { fs: 48, qms: 4, qes: 0.4, vas: 0.05, volume: 0.02 },
    { fs: none, qms: none, qes: none, vas: none, volume: none },
  ],
  [
    "closedBoxResponse",
    (given: { fc: number; qtc: number }) => parts.closedBoxResponse([50, 100], given),
    { fc: 80, qtc: 0.7 },
    { fc: none, qtc: none },
  ],
  [
    "driverImpedance",
    parts.driverImpedance,
    { re: 6, le: 1e-4, re2: 3, le2: 1e-4, fs: 800, qms: 3, qes: 1 },
    { re: none, le: negative, re2: none, le2: none, fs: none, qms: none, qes: none },
  ],
  ["driverImpedance with a lossy coil", parts.driverImpedance, { re: 6, k: 0.02, n: 0.6 }, { k: none, n: [...none, 1.01] }],
  [
    "transformer",
    parts.transformer,
    { primaryInductance: 0.1, secondaryInductance: 0.2, k: 0.9, primaryResistance: 1, secondaryResistance: 2 },
    {
      primaryInductance: none,
      secondaryInductance: none,
      k: [1, -1, 1.5, NaN],
      primaryResistance: negative,
      secondaryResistance: negative,
    },
  ],
  ["lPad", parts.lPad, { attenuationDb: 6, load: 8, power: 10 }, { attenuationDb: [-0.1, 201, NaN], load: none, power: none }],
  [
    "capacitorEsr",
    parts.capacitorEsr,
    { capacitance: 1e-5, dissipationFactor: 0.01, frequency: 1000 },
    { capacitance: none, dissipationFactor: none, frequency: none },
  ],
  [
    "bipolarElectrolytic",
    parts.bipolarElectrolytic,
    { capacitance: 1e-5, tolerance: 0.2 },
    { capacitance: none, tolerance: [-0.1, 1, NaN] },
  ],
  [
    "displacementLevelDb",
    parts.displacementLevelDb,
    { sd: 0.0137, displacement: 1e-3, frequency: 50, distance: 2 },
    { sd: none, frequency: none, distance: none },
  ],
  [
    "volumeDisplacementFromLevel",
    parts.volumeDisplacementFromLevel,
    { levelDb: 90, frequency: 50, distance: 2 },
    { levelDb: [-201, 251, NaN], frequency: none, distance: none },
  ],
  ["windingInductance", parts.windingInductance, winding, { turns: none, meanRadius: none, length: negative, depth: negative }],
  ["brooksCoilInductance", parts.brooksCoilInductance, { turns: 100, meanRadius: 0.02 }, { turns: none, meanRadius: none }],
  ["solenoidInductance", parts.solenoidInductance, { turns: 100, radius: 0.02, length: 0.1 }, { turns: none, radius: none, length: none }],
  [
    "coaxialMutualInductance",
    parts.coaxialMutualInductance,
    { radiusA: 0.02, radiusB: 0.03, distance: 0.01 },
    { radiusA: none, radiusB: none, distance: [NaN] },
  ],
  [
    "smallestCoil",
    parts.smallestCoil,
    { inductance: 1e-3, dcr: 0.5, temperature: 20, fill: 0.8 },
    { inductance: none, dcr: none, temperature: [-201, 301], fill: [...none, 1.01] },
  ],
  [
    "windCoil",
    parts.windCoil,
    { inductance: 1e-3, wire: { diameter: 1e-3 }, former: { diameter: 0.03, length: 0.02 }, temperature: 20, largestDcr: 2 },
    { inductance: [...none, 101], temperature: [-201, 301], largestDcr: none },
  ],
  ["wireDiameter", parts.wireDiameter, { awg: 18 }, { awg: [-4, 57, NaN] }],
  ["wireGauge", parts.wireGauge, { diameter: 1e-3 }, { diameter: none }],
  [
    "wireResistance",
    parts.wireResistance,
    { diameter: 1e-3, length: 2, temperature: 20 },
    { diameter: none, length: none, temperature: [-201, 1001] },
  ],
  ["wireRun", parts.wireRun, { length: 3, diameter: 2e-3, spacing: 4e-3 }, { length: none, diameter: none, spacing: [...none, 1e-3] }],
  ["skinEffect", parts.skinEffect, { diameter: 1e-3, frequency: 1e4 }, { diameter: none, frequency: negative }],
  [
    "fuseResistance",
    parts.fuseResistance,
    { rating: 3, current: 1, hotRatio: 1.6, coldResistance: 0.05 },
    { rating: none, current: [-1, 3.1], hotRatio: [0.9, 101], coldResistance: none },
  ],
];

describe("what can't be", () => {
  it.each(rows)("is refused by its name: %s", (_, work, good, refused) => {
    const run = work as (options: Options) => unknown;
    expect(() => run(good)).not.toThrow();
    for (const [key, values] of Object.entries(refused)) {
      for (const value of values)
        expect(
          refusalText(() => run({ ...good, [key]: value })),
          `${key}: ${String(value)}`,
        ).toContain(`"${key}"`);
    }
    expect(refusalText(() => run({ ...good, "an-unknown-one": 1 }))).toContain("an-unknown-one");
    for (const nothing of [undefined, null, 3, []]) expect(refusalText(() => run(nothing as never))).not.toBe("taken");
  });

  it.each<[string, (value: never) => unknown, readonly unknown[]]>([
    ["resistance", parts.resistor, negative],
    ["power", (power: number) => parts.resistor(8, { power }), none],
    ["tolerance", (tolerance: number) => parts.resistor(8, { tolerance }), [-0.1, 1, NaN]],
    ["inductance", parts.inductor, negative],
    ["dcr", (dcr: number) => parts.inductor(1e-3, { dcr }), negative],
    ["current", (current: number) => parts.inductor(1e-3, { current }), none],
    ["capacitance", parts.capacitor, none],
    ["esr", (esr: number) => parts.capacitor(1e-6, { esr }), negative],
    ["dissipationFactor", (dissipationFactor: number) => parts.capacitor(1e-6, { dissipationFactor }), negative],
    ["voltage", (voltage: number) => parts.capacitor(1e-6, { voltage }), none],
    ["k", parts.coupling, [1, -1, 2, NaN]],
    ["resistance", parts.resistive, negative],
    ["inductance", parts.inductive, negative],
    ["capacitance", parts.capacitive, none],
    ["k", (k: number) => parts.fractional({ k, n: 0.5 } as never), none],
    ["n", (n: number) => parts.fractional({ k: 1, n } as never), [...none, 1.01]],
    ["diameterToLength", parts.nagaokaCoefficient, negative],
    ["frequency", (frequency: number) => parts.bypassedCapacitor(parts.capacitor(1e-5), parts.capacitor(1e-7), frequency), none],
  ])("is refused by its name: %s alone", (name, work, values) => {
    for (const value of values)
      expect(
        refusalText(() => (work as (value: unknown) => unknown)(value)),
        String(value),
      ).toContain(`"${name}"`);
  });
});
