// Tests src/parts/: basic-laws.ts, driver-law.ts, law.ts, measured-law.ts
// Tests src/parts/custom/: compound-law.ts
// Each law as a circuit of elements, reckoned with here by series and parallel connection, is the law; and a law writes what it is asked for and nothing beside it.
import {
  capacitor,
  capacitive,
  driverImpedance,
  fractional,
  inductive,
  inductor,
  inParallel,
  inSeries,
  lPad,
  part,
  resistive,
  resistor,
  transformer,
  type LawData,
  type Part,
} from "dividing-network/parts";
import { solve, type Entries } from "dividing-network/network";
import { frequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expandPart, type Law } from "../../src/parts/internal";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

type C = readonly [re: number, im: number];
type Pieces = ReturnType<NonNullable<Law["circuit"]>>;
const inverse = ([re, im]: C): C => [re / (re * re + im * im), -im / (re * re + im * im)];
const plus = (a: C, b: C): C => [a[0] + b[0], a[1] + b[1]];
const none: C = [0, 0];

function lawAt(law: Law, values: readonly number[], f: number): C {
  const out = new Float64Array(4);
  law.ratio(values, 0, f, out);
  const [ar, ai, br, bi] = out as unknown as [number, number, number, number];
  const size = ar * ar + ai * ai;
  return [(br * ar + bi * ai) / size, (bi * ar - br * ai) / size];
}
/** Impedance of pieces in series, at a frequency above 0 Hz. */
function impedance(pieces: Pieces, f: number): C {
  const w = 2 * Math.PI * f;
  return pieces.reduce<C>((sum, piece) => {
    if ("near" in piece) return plus(sum, lawAt(piece.law, piece.values, f));
    if ("beside" in piece) return plus(sum, inverse(piece.beside.map((chain) => inverse(impedance(chain, f))).reduce(plus, none)));
    const { r, l, c } = piece;
    // A wire beside anything is a wire.
    if (r === 0 || l === 0) return sum;
    const beside = [
      r === undefined ? none : ([1 / r, 0] as C),
      l === undefined ? none : ([0, -1 / (w * l)] as C),
      c === undefined ? none : ([0, w * c] as C),
    ];
    return plus(sum, inverse(beside.reduce(plus, none)));
  }, none);
}
const decade = (middle: number) => uniform(-1, 1).map((exponent) => middle * 10 ** exponent);
const maybe = (of: fc.Arbitrary<number>) => fc.option(of, { nil: 0 });
const driver = { re: decade(6), fs: decade(100), qms: uniform(1, 9), qes: uniform(0.2, 2) };
const leaf = (name: string): fc.Arbitrary<LawData> =>
  fc.oneof(
    decade(10).map((r) => resistive(r, name)),
    decade(1e-3).map((l) => inductive(l, name)),
    decade(1e-5).map((c) => capacitive(c, name)),
    decade(0.02).map((k) => fractional({ k, n: 0.6, name })),
    decade(1e-3).map((k) => fractional({ k, n: 1, name })),
  );
const anyPart: fc.Arbitrary<Part> = fc.oneof(
  decade(8).map((r) => resistor(r)),
  fc.tuple(decade(1e-3), maybe(decade(0.3))).map(([l, dcr]) => inductor(l, { dcr })),
  fc.tuple(decade(1e-5), maybe(decade(0.1))).map(([c, esr]) => capacitor(c, { esr })),
  decade(1e-5).map((c) => capacitor(c, { dissipationFactor: 0.01 })),
  fc.record(driver).map((options) => driverImpedance(options)),
  fc.record({ re: driver.re, le: maybe(decade(3e-4)) }).map((options) => driverImpedance(options)),
  fc.record({ ...driver, le: decade(3e-4), re2: decade(5), le2: decade(5e-4) }).map((options) => driverImpedance(options)),
  fc.record({ ...driver, k: decade(0.02), n: uniform(0.3, 1) }).map((options) => driverImpedance(options)),
  fc
    .tuple(leaf("a"), leaf("b"), leaf("c"), leaf("d"))
    .map(([a, b, c, d]) => part({ title: "x", branches: [{ law: inSeries(a, inParallel(b, inSeries(c, d))) }] })),
  fc.tuple(leaf("a"), leaf("b"), leaf("c")).map(([a, b, c]) => part({ title: "x", branches: [{ law: inParallel(inSeries(a, b), c) }] })),
  uniform(1, 20).map((attenuationDb) => lPad({ attenuationDb, load: 8 })),
  decade(1e-2).map((l) =>
    transformer({ primaryInductance: l, secondaryInductance: l / 2, k: 0.5, primaryResistance: 0.5, secondaryResistance: 0.2 }),
  ),
);

describe("the circuit of a law", () => {
  it("is the law", () => {
    fc.assert(
      fc.property(anyPart, decade(1000), (given, f) => {
        for (const { law, values } of expandPart(given).branches) {
          const [found, wanted] = [impedance(law.circuit!(values), f), lawAt(law, values, f)];
          expect(Math.hypot(found[0] - wanted[0], found[1] - wanted[1])).toBeLessThan(1e-11 * Math.hypot(...wanted));
        }
      }),
      { numRuns: cases(200) },
    );
  });

  const circuit = (given: Part) => expandPart(given).branches.map(({ law, values }) => law.circuit!(values));

  it("has no element for what isn't there", () => {
    expect(circuit(resistor(0))).toEqual([[{ r: 0 }]]);
    expect(circuit(inductor(1e-3))).toEqual([[{ l: 1e-3 }]]);
    expect(circuit(inductor(1e-3, { dcr: 0.2 }))).toEqual([[{ l: 1e-3 }, { r: 0.2 }]]);
    expect(circuit(inductor(0, { dcr: 0.2 }))).toEqual([[{ r: 0.2 }]]);
    expect(circuit(inductor(0))).toEqual([[{ r: 0 }]]);
    expect(circuit(capacitor(1e-6))).toEqual([[{ c: 1e-6 }]]);
    expect(circuit(capacitor(1e-6, { esr: 0.1 }))).toEqual([[{ c: 1e-6 }, { r: 0.1 }]]);
    expect(circuit(driverImpedance({ re: 6 }))).toEqual([[{ r: 6 }]]);
    expect(circuit(driverImpedance({ re: 6, le: 1e-4 }))).toEqual([[{ r: 6 }, { l: 1e-4 }]]);
    expect(circuit(driverImpedance({ re: 6, re2: 3, le2: 1e-4 }))).toEqual([[{ r: 6 }, { r: 3, l: 1e-4 }]]);
    expect(circuit(driverImpedance({ re: 6, k: 1e-3, n: 1 }))).toEqual([[{ r: 6 }, { l: 1e-3 }]]);
    const custom = (law: LawData) => circuit(part({ title: "x", branches: [{ law }] }))[0];
    expect(custom(inSeries(resistive(1), inductive(2), capacitive(3)))).toEqual([{ r: 1 }, { l: 2 }, { c: 3 }]);
    expect(custom(inParallel(resistive(1), inSeries(inductive(2), capacitive(3))))).toEqual([
      { beside: [[{ r: 1 }], [{ l: 2 }, { c: 3 }]] },
    ]);
    expect(custom(inSeries(resistive(0), inductive(0)))).toEqual([{ r: 0 }, { r: 0 }]);
  });

  it("is told to be none for what no circuit has, with what to describe instead", () => {
    const [, coil] = circuit(driverImpedance({ re: 6, k: 0.02, n: 0.7 }))[0]!;
    expect(coil).toMatchObject({ near: "coil", values: [0.02, 0.7], what: "the coil K(jw)^n with K 0.02, n 0.7" });
    expect("near" in coil! && coil.otherwise).toContain('"le"');
    expect(circuit(part({ title: "x", branches: [{ law: fractional({ k: 0.02, n: 0.7 }) }] }))[0]![0]).toMatchObject({
      near: "coil",
      otherwise: "Draw it out of resistors and coils",
    });
    const [lossy] = circuit(capacitor(1e-6, { dissipationFactor: 0.02 }))[0]!;
    expect(lossy).toMatchObject({ near: "capacitor", values: [1e-6, 0, 0.02], what: "the dissipation factor of 0.02" });
    const [measured] = circuit(driverImpedance(frequencyResponse([20, 200, 2000], [6, 7, 8], [0, 1, 2])))[0]!;
    expect(measured).toMatchObject({ near: "driver", values: [], band: [20, 2000] });
  });
});

describe("a law that is asked for some points", () => {
  const laws = [
    resistor(8),
    inductor(1e-3, { dcr: 0.3 }),
    capacitor(1e-5, { esr: 0.1 }),
    driverImpedance({ re: 6, le: 3e-4, fs: 50, qms: 3, qes: 0.5 }),
    driverImpedance(frequencyResponse([20, 200, 2000, 9000], [6, 7, 8, 9], [0, 1, 2, 3])),
    part({ title: "x", branches: [{ law: inParallel(resistive(5, "r"), inSeries(inductive(1e-3, "l"), capacitive(1e-5, "c"))) }] }),
  ].map((given) => expandPart(given).branches[0]!);
  const grid = Float64Array.of(30, 70, 300, 900, 4000, 8000);

  it("writes those, at their place, and nothing beside them", () => {
    for (const { law, values } of laws) {
      const bound = law.bind(grid);
      const whole = [new Float64Array(6), new Float64Array(6)] as const;
      bound.admittance(values, 0, 0, 6, ...whole, 0);
      const wanted = (start: number, count: number, at: number, from: Float64Array) =>
        Float64Array.from({ length: 9 }, (_, i) => (i >= at && i < at + count ? from[start + i - at]! : 99));
      for (const [start, count, at] of [
        [0, 3, 2],
        [2, 3, 4],
        [4, 2, 0],
        [3, 0, 1],
      ] as const) {
        const [re, im] = [new Float64Array(9).fill(99), new Float64Array(9).fill(99)];
        bound.admittance([7, ...values], 1, start, count, re, im, at);
        expect([re, im], law.name).toEqual([wanted(start, count, at, whole[0]), wanted(start, count, at, whole[1])]);
        values.forEach((_, index) => {
          const slopes = [new Float64Array(6), new Float64Array(6)] as const;
          bound.derivative(values, 0, index, 0, 6, ...slopes, 0);
          const [dr, di] = [new Float64Array(9).fill(99), new Float64Array(9).fill(99)];
          bound.derivative([7, ...values], 1, index, start, count, dr, di, at);
          expect([dr, di], `${law.name} ${index}`).toEqual([wanted(start, count, at, slopes[0]), wanted(start, count, at, slopes[1])]);
        });
      }
      const out = new Float64Array(6).fill(99);
      law.ratio(values, 0, 300, out);
      expect([out[4], out[5]]).toEqual([99, 99]);
    }
  });

  it("has finite slopes at 0 Hz: a coil's and a resonance's values don't count there", () => {
    const at0 = (given: Part) => {
      const { law, values } = expandPart(given).branches[0]!;
      const bound = law.bind(Float64Array.of(0, 1));
      return Object.fromEntries(
        values.map((_, index) => {
          const [re, im] = [new Float64Array(1), new Float64Array(1)];
          bound.derivative(values, 0, index, 0, 1, re, im, 0);
          return [law.parameters[index], Number(Math.hypot(re[0]!, im[0]!).toPrecision(12))];
        }),
      );
    };
    const rest = { le: 0, re2: 0, le2: 0, fs: 0, qms: 0, qes: 0, k: 0, n: 0 };
    // Y = 1/re there.
    expect(at0(driverImpedance({ re: 5, le: 1e-4, k: 0.02, n: 0.7, fs: 50, qms: 3, qes: 0.5 }))).toEqual({ ...rest, re: 1 / 25 });
    expect(at0(driverImpedance({ re: 5, re2: 3, le2: 1e-4 }))).toEqual({ ...rest, re: 1 / 25 });
    const own = part({
      title: "x",
      branches: [
        { law: inSeries(resistive(5, "r"), inParallel(inductive(1e-3, "l"), resistive(3, "core")), fractional({ k: 0.02, n: 0.7 })) },
      ],
    });
    expect(at0(own)).toEqual({ r: 1 / 25, l: 0, core: 0, k: 0, n: 0 });
  });
});

describe("a law of many laws", () => {
  it("with gaps in series and wires side by side is a gap and a wire: at 0 Hz it is what the same elements drawn out are", () => {
    const at0 = (law: LawData) =>
      solve(
        {
          R1: [resistor(8), "in", "m"],
          X1: [part({ title: "x", branches: [{ law }] }), "m", "gnd"],
          R2: [resistor(4), "m", "gnd"],
        } as Entries,
        [0],
      ).voltage("m" as never).re[0];
    const [c, d, e] = [capacitive(1e-6, "c"), capacitive(2e-6, "d"), capacitive(3e-6, "e")];
    const [l, m] = [inductive(1e-3, "l"), inductive(2e-3, "m")];
    const third = expect.closeTo(1 / 3, 12) as number;
    // A gap: 8 Ω and 4 Ω share the voltage.
    for (const gap of [
      inSeries(c, d),
      inSeries(c, d, e),
      inSeries(c, resistive(1), d),
      inSeries(c, inSeries(d, l)),
      inParallel(inSeries(c, d), e),
    ])
      expect(at0(gap)).toEqual(third);
    // A wire: nothing is left.
    for (const wire of [
      inParallel(l, m),
      inParallel(l, resistive(5), m),
      inParallel(resistive(0, "a"), resistive(0, "b")),
      inParallel(l, inParallel(m, c)),
      inSeries(inParallel(l, m), resistive(0)),
    ])
      expect(at0(wire)).toBe(0);
    expect(at0(inSeries(inParallel(l, m), resistive(4), inParallel(c, resistive(0, "z"))))).toBeCloseTo(0.2, 12);
  });

  it("stays within numbers where the product of its values doesn't", () => {
    const z = (of: readonly number[], law: (value: never, name: string) => LawData, join: typeof inSeries) => {
      const { law: made, values } = expandPart(
        part({ title: "x", branches: [{ law: join(...of.map((value, k) => law(value as never, `v${k}`))) }] }),
      ).branches[0]!;
      const [re, im] = [new Float64Array(1), new Float64Array(1)];
      made.bind(Float64Array.of(1000)).admittance(values, 0, 0, 1, re, im, 0);
      return inverse([re[0]!, im[0]!]);
    };
    const many = (value: number) => new Array<number>(49).fill(value);
    expect(z(many(1e12), resistive, inParallel)[0] / (1e12 / 49)).toBeCloseTo(1, 12);
    expect(z(many(1e-12), resistive, inParallel)[0] / (1e-12 / 49)).toBeCloseTo(1, 12);
    expect(z(many(1e12), resistive, inSeries)[0] / 49e12).toBeCloseTo(1, 12);
    expect(z(many(1e-12), capacitive, inSeries)[1] / (-49 / (2 * Math.PI * 1e-9))).toBeCloseTo(1, 12);
    expect(z(many(1e-12), capacitive, inParallel)[1] / (-1 / (49 * 2 * Math.PI * 1e-9))).toBeCloseTo(1, 12);
    expect(z(many(1e-12), inductive, inParallel)[1] / ((2 * Math.PI * 1e-9) / 49)).toBeCloseTo(1, 12);
  });
});
