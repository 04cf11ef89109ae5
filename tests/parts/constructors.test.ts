// Tests src/parts/: basic-laws.ts, describe.ts, inductor.ts, l-pad.ts, pad-resistances.ts, transformer.ts
// What makes a part: numbers in SI or text with a unit, checked once, frozen. What isn't understood is refused by name.
import { DividingNetworkError } from "dividing-network/errors";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer, type Part } from "dividing-network/parts";
import { expandPart } from "../../src/parts/internal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { uniform } from "../support/uniform";
import { cases } from "../support/cases";

function refused(work: () => unknown): DividingNetworkError {
  try {
    work();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

const untyped = (value: unknown): never => value as never;

describe("resistor, inductor and capacitor", () => {
  it("take numbers in SI and text with its unit", () => {
    expect(resistor("4.7 Ω")).toEqual({ kind: "resistor", resistance: 4.7 });
    expect(resistor("4R7")).toEqual(resistor(4.7));
    expect(resistor(0).resistance).toBe(0);
    expect(inductor("0.33 mH", { dcr: "0.24 Ω" })).toEqual({ kind: "inductor", inductance: 0.33e-3, dcr: 0.24 });
    expect(inductor(1e-3)).toEqual({ kind: "inductor", inductance: 1e-3, dcr: 0 });
    expect(inductor(0, { dcr: 1 }).inductance).toBe(0);
    expect(capacitor("6.8 µF", { esr: "15 mΩ" })).toEqual({ kind: "capacitor", capacitance: 6.8e-6, esr: 0.015, dissipationFactor: 0 });
    expect(capacitor("6.8uF", { dissipationFactor: 0.001 })).toEqual({
      kind: "capacitor",
      capacitance: 6.8e-6,
      esr: 0,
      dissipationFactor: 0.001,
    });
  });

  it("give frozen parts", () => {
    for (const part of [
      resistor(1),
      inductor(1),
      capacitor(1),
      lPad({ attenuationDb: 3, load: 8 }),
      transformer({ ratio: 2 }),
      coupling(0.1),
      driverImpedance({ re: 5 }),
    ])
      expect(Object.isFrozen(part)).toBe(true);
    const driver = driverImpedance({ re: 5 });
    expect("model" in driver && Object.isFrozen(driver.model)).toBe(true);
  });

  it.each([
    [
      "resistor",
      "resistance",
      (value: unknown) => resistor(untyped(value)),
      [-1, NaN, Infinity, "4.7", "4.7 mH", "-4.7 Ω", "4,7 Ω", null, undefined, [4], {}, 4n, Symbol("4")],
    ],
    [
      "inductor",
      "inductance",
      (value: unknown) => inductor(untyped(value)),
      [-1, NaN, Infinity, "1 µF", "4R7", "1", null, undefined, [], {}, 1n],
    ],
    ["inductor", "dcr", (value: unknown) => inductor(1e-3, { dcr: untyped(value) }), [-1, NaN, "1 mH", null, [], {}]],
    [
      "capacitor",
      "capacitance",
      (value: unknown) => capacitor(untyped(value)),
      [0, -1, NaN, Infinity, "1 mH", "4R7", "1 MF", null, undefined, [], {}],
    ],
    ["capacitor", "esr", (value: unknown) => capacitor(1e-6, { esr: untyped(value) }), [-1, NaN, "1 mH", null, [], {}]],
    [
      "capacitor",
      "dissipationFactor",
      (value: unknown) => capacitor(1e-6, { dissipationFactor: untyped(value) }),
      [-1, NaN, Infinity, "0.01", null, [], {}],
    ],
  ])("%s refuses an impossible %s by name", (caller, argument, make, values) => {
    for (const value of values) {
      const { code, message } = refused(() => make(value));
      expect(["invalid-argument", "invalid-quantity"]).toContain(code);
      expect(message.startsWith(`${caller}: "${argument}"`), message).toBe(true);
    }
  });

  it("refuse unknown options, and two descriptions of one loss", () => {
    expect(refused(() => inductor(1, untyped({ esr: 1 })))).toMatchObject({ code: "unknown-option" });
    expect(refused(() => capacitor(1, untyped({ dcr: 1 })))).toMatchObject({ code: "unknown-option" });
    expect(refused(() => capacitor(1, untyped(null)))).toMatchObject({ code: "invalid-argument" });
    expect(refused(() => capacitor(1e-6, { esr: 0.1, dissipationFactor: 0.01 })).message).toContain("got both");
  });
});

describe("lPad", () => {
  it("keeps the load's resistance at its input, at 0 dB with no shunt", () => {
    expect(lPad({ attenuationDb: 0, load: "8 Ω" })).toEqual({ kind: "l-pad", attenuationDb: 0, load: 8, series: 0 });
    fc.assert(
      fc.property(uniform(-9, 2), uniform(0.1, 1000), (exponent, load) => {
        const attenuationDb = 10 ** exponent;
        const { series, shunt } = lPad({ attenuationDb, load });
        const loaded = 1 / (1 / shunt! + 1 / load);
        expect(Math.abs(series + loaded - load)).toBeLessThan(1e-14 * load);
        // The ratio to all the digits, at the smallest attenuation too.
        const ratio = Math.log1p(series / loaded) * (20 / Math.LN10);
        expect(Math.abs(ratio / attenuationDb - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  it("refuses a gain and a load of nothing", () => {
    for (const options of [{ attenuationDb: -1, load: 8 }, { attenuationDb: 201, load: 8 }, { attenuationDb: NaN, load: 8 }, { load: 8 }])
      expect(refused(() => lPad(untyped(options))).message).toContain('"attenuationDb"');
    for (const options of [{ attenuationDb: 3, load: 0 }, { attenuationDb: 3 }, { attenuationDb: 3, load: "8 mH" }])
      expect(refused(() => lPad(untyped(options))).message).toContain('"load"');
    for (const options of [undefined, null, [], 3]) expect(refused(() => lPad(untyped(options)))).toBeInstanceOf(DividingNetworkError);
  });
});

describe("coupling and transformer", () => {
  it("keep what they are given", () => {
    expect(coupling(-0.02)).toEqual({ kind: "coupling", k: -0.02 });
    expect(transformer({ ratio: -2 })).toEqual({ kind: "transformer", ratio: -2 });
    expect(transformer({ primaryInductance: "10 mH", secondaryInductance: "5 mH", k: 0.99, primaryResistance: "1 Ω" })).toEqual({
      kind: "transformer",
      primaryInductance: 0.01,
      secondaryInductance: 0.005,
      k: 0.99,
      primaryResistance: 1,
      secondaryResistance: 0,
    });
  });

  it("refuse what no coils can do", () => {
    for (const k of [1, -1, 2, NaN, "0.1", null, undefined]) expect(refused(() => coupling(untyped(k))).message).toContain('"k"');
    for (const ratio of [0, NaN, Infinity, "2", null, undefined, Symbol("2"), 2n])
      expect(refused(() => transformer(untyped({ ratio }))).message).toContain('"ratio"');
    const windings = { primaryInductance: 1, secondaryInductance: 1, k: 0.5 };
    for (const [name, value] of [
      ["primaryInductance", 0],
      ["secondaryInductance", "1 µF"],
      ["k", 1],
      ["primaryResistance", -1],
      ["secondaryResistance", NaN],
    ] as const) {
      expect(refused(() => transformer(untyped({ ...windings, [name]: value }))).message).toContain(`"${name}"`);
    }
    expect(refused(() => transformer(untyped({ ratio: 2, k: 0.5 }))).code).toBe("unknown-option");
    for (const options of [undefined, null, [], 3])
      expect(refused(() => transformer(untyped(options)))).toBeInstanceOf(DividingNetworkError);
  });
});

describe("driverImpedance", () => {
  it("asks for parameters that belong together", () => {
    for (const [options, missing] of [
      [{ re2: 3 }, "le2"],
      [{ le2: 1e-3 }, "re2"],
      [{ k: 0.01 }, "n"],
      [{ n: 0.5 }, "k"],
      [{ fs: 40 }, "qms"],
      [{ qms: 3, qes: 0.4 }, "fs"],
    ] as const) {
      expect(refused(() => driverImpedance(untyped({ re: 5, ...options }))).message).toContain(missing);
    }
    expect(refused(() => driverImpedance({ re: 5, re2: 3, le2: 1e-3, k: 0.01, n: 0.5 })).message).toContain("two formulas");
  });

  it("refuses impossible parameters by name", () => {
    for (const [name, value] of [
      ["re", 0],
      ["re", -5],
      ["re", undefined],
      ["le", -1],
      ["le", "1 µF"],
      ["fs", 0],
      ["qms", 0],
      ["qes", -1],
      ["qms", "3"],
      ["re2", 0],
      ["le2", 0],
      ["k", 0],
      ["n", 0],
      ["n", 1.1],
      ["n", NaN],
    ] as const) {
      const lossy = name === "k" || name === "n" ? { k: 0.01, n: 0.6 } : { re2: 3, le2: 1e-3 };
      expect(refused(() => driverImpedance(untyped({ re: 5, fs: 40, qms: 3, qes: 0.4, ...lossy, [name]: value }))).message).toContain(
        `"${name}"`,
      );
    }
    expect(refused(() => driverImpedance(untyped({ re: 5, bl: 7 }))).code).toBe("unknown-option");
    for (const value of [undefined, null, [], 5])
      expect(refused(() => driverImpedance(untyped(value)))).toBeInstanceOf(DividingNetworkError);
  });

  it("refuses a measurement that is no driver's impedance, with the frequency at which it isn't", () => {
    const response = (re: number[], im: number[] = re.map(() => 0), frequencies = re.map((_, i) => 100 * (i + 1))) => ({
      frequencies: Float64Array.from(frequencies),
      re: Float64Array.from(re),
      im: Float64Array.from(im),
    });
    for (const re of [
      [8, 0],
      [8, -1],
      [8, NaN],
      [8, Infinity],
    ])
      expect(refused(() => driverImpedance(response(re))).message).toContain("200 Hz");
    expect(refused(() => driverImpedance(response([8, 8], [0, NaN]))).message).toContain("200 Hz");
    expect(refused(() => driverImpedance(response([8, 8], [0, 0], [200, 100]))).message).toContain("ascending");
    for (const value of [
      { frequencies: null },
      { frequencies: [1], re: [1], im: [1] },
      response([]),
      { ...response([8]), im: new Float64Array(2) },
    ])
      expect(refused(() => driverImpedance(untyped(value))).code).toBe("invalid-response");
  });
});

describe("expandPart", () => {
  it("gives each part its terminals and branches", () => {
    const shape = (part: Part) => {
      const { terminals, branches, couplings = [], transformers = [] } = expandPart(part);
      return [
        terminals,
        branches.map(({ from, to, law, values }) => [from, to, law.name, values.length === law.parameters.length]),
        couplings.length,
        transformers.length,
      ];
    };
    expect(shape(resistor(1))).toEqual([2, [[0, 1, "resistance", true]], 0, 0]);
    expect(shape(inductor(1))).toEqual([2, [[0, 1, "coil", true]], 0, 0]);
    expect(shape(capacitor(1))).toEqual([2, [[0, 1, "capacitor", true]], 0, 0]);
    expect(shape(driverImpedance({ re: 5 }))).toEqual([2, [[0, 1, "driver", true]], 0, 0]);
    expect(shape(lPad({ attenuationDb: 3, load: 8 }))).toEqual([
      3,
      [
        [0, 1, "resistance", true],
        [1, 2, "resistance", true],
      ],
      0,
      0,
    ]);
    expect(shape(transformer({ ratio: 2 }))).toEqual([4, [], 0, 1]);
    expect(shape(transformer({ primaryInductance: 1, secondaryInductance: 1, k: 0.5 }))).toEqual([
      4,
      [
        [0, 1, "coil", true],
        [2, 3, "coil", true],
      ],
      1,
      0,
    ]);
  });

  it("refuses what is no part", () => {
    for (const part of [undefined, null, 1, "resistor", {}, { kind: "toString" }, coupling(0.1)])
      expect(refused(() => expandPart(untyped(part))).code).toBe("unknown-part");
  });
});

describe("random garbage", () => {
  it("gets nothing but the library's own error out of the constructors", () => {
    const makers = [resistor, inductor, capacitor, lPad, transformer, coupling, driverImpedance] as readonly ((
      ...given: unknown[]
    ) => unknown)[];
    const keys = fc.constantFrom(
      "dcr",
      "esr",
      "dissipationFactor",
      "attenuationDb",
      "load",
      "ratio",
      "k",
      "n",
      "re",
      "le",
      "re2",
      "le2",
      "fs",
      "qms",
      "qes",
      "frequencies",
      "im",
      "primaryInductance",
      "secondaryInductance",
    );
    const value = fc.oneof(fc.double(), fc.constantFrom<unknown>(1, 0.5, "1 Ω", "1 mH", "1 µF", "50 Hz"), fc.anything());
    const options = fc.oneof(fc.dictionary(keys, value), fc.anything());
    fc.assert(
      fc.property(fc.nat({ max: makers.length - 1 }), fc.oneof(value, options), options, (which, first, second) => {
        try {
          const part = makers[which]!(first, second);
          expect(JSON.stringify(part)).not.toMatch(/null|NaN/);
        } catch (error) {
          if (!(error instanceof DividingNetworkError)) throw error;
        }
      }),
      { numRuns: cases(4000) },
    );
  });
});
