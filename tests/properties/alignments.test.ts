import fc from "fast-check";
import {
  bessel,
  butterworth,
  chebyshev,
  criticallyDamped,
  crossover,
  crossoverSum,
  ladder,
  ladderValues,
  legendrePapoulis,
  linkwitzRiley,
  subtractive,
  highPass,
  lowPass,
  sumOf,
  attenuator,
  zobel,
  conjugateNetwork,
  parallelTrap,
  type Prototype,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve, type Entries } from "dividing-network/network";
import { driverImpedance } from "dividing-network/parts";
import { describe, expect, it } from "vitest";

const logUniform = (from: number, to: number) => fc.double({ min: Math.log(from), max: Math.log(to), noNaN: true }).map(Math.exp);
const load = logUniform(0.5, 500);
const corner = logUniform(10, 50e3);
const order = fc.integer({ min: 1, max: 10 });
const prototype: fc.Arbitrary<Prototype> = fc.oneof(
  order.map(butterworth),
  fc.integer({ min: 1, max: 5 }).map((half) => linkwitzRiley(2 * half)),
  order.map((n) => bessel(n)),
  fc.tuple(order, logUniform(0.01, 3)).map(([n, rippleDb]) => chebyshev(n, { rippleDb })),
  order.map(legendrePapoulis),
  order.map((n) => criticallyDamped(n)),
);
const near = (a: number, b: number, tolerance = 1e-12) => expect(Math.abs(a / b - 1)).toBeLessThan(tolerance);

/** Expects the values of a prototype moved up k times to be 1/k of its own. */
function scales(made: Prototype, k: number, sourceResistance: number): void {
  const higher = { ...made, poles: made.poles.map(({ re, im }) => ({ re: re * k, im: im * k })), gain: made.gain * k ** made.order };
  const [one, other] = [made, higher].map((each) => ladderValues(each, { sourceResistance }));
  one!.forEach((value, i) => near(other![i]! * k, value));
}

describe("laws of alignments", () => {
  it("low-pass and high-pass are duals: each coil times its capacitor is 1/ω₀²", () => {
    fc.assert(
      fc.property(prototype, load, corner, (made, r, frequency) => {
        const [low, high] = (["low", "high"] as const).map((pass) => ladder(made, { pass, frequency, load: r }));
        low!.values.forEach((value, k) => near(value * high!.values[k]! * (2 * Math.PI * frequency) ** 2, 1));
        low!.elements.forEach(({ kind, placement }, k) => {
          expect(high!.elements[k]!.placement).toBe(placement);
          expect(high!.elements[k]!.kind).not.toBe(kind);
        });
      }),
    );
  });

  it("impedance scaling: k times the load takes k times the coils and 1/k of the capacitors", () => {
    fc.assert(
      fc.property(prototype, load, logUniform(0.1, 10), corner, (made, r, k, frequency) => {
        const [one, other] = [r, k * r].map((each) => ladder(made, { pass: "low", frequency, load: each }));
        one!.elements.forEach(({ kind, value }, i) => near(other!.values[i]!, kind === "inductor" ? value * k : value / k));
      }),
    );
  });

  it("frequency scaling: a prototype k times as high takes 1/k of every element", () => {
    fc.assert(
      fc.property(prototype, logUniform(1e-3, 1e3), fc.constantFrom(0, 0.2), (made, k, sourceResistance) => {
        fc.pre(!(sourceResistance > 0 && made.family === "chebyshev" && made.order % 2 === 0));
        scales(made, k, sourceResistance);
      }),
    );
  });

  // Found by the property above: 2.1e-5 once, where the scaled poles were no longer recognised and the reflection's rounding was magnified.
  it("frequency scaling of a Butterworth function of order 10 by 1 − 1e-13", () => {
    scales(butterworth(10), 0.9999999999999, 0.2);
  });

  it("Linkwitz–Riley ways are in phase at every frequency and sum flat", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), corner, (half, frequency) => {
        const made = crossover({ family: "linkwitz-riley", order: 2 * half, frequency, load: 8 });
        const { phaseDifferenceDegrees, levelDb } = crossoverSum(made, logGrid(frequency / 100, frequency * 100, 61));
        for (const degrees of phaseDifferenceDegrees)
          expect(Math.abs(Math.abs(degrees) - (made.polarity === "reversed" ? 180 : 0))).toBeLessThan(1e-9);
        for (const level of levelDb) expect(Math.abs(level)).toBeLessThan(1e-10);
      }),
    );
  });

  it("Butterworth pairs are constant-resistance to order 10", () => {
    fc.assert(
      fc.property(order, load, corner, (n, r, frequency) => {
        const { inputImpedance } = crossoverSum(
          crossover({ family: "butterworth", order: n, frequency, load: r }),
          logGrid(frequency / 100, frequency * 100, 61),
        );
        inputImpedance.re.forEach((re, i) => expect(Math.hypot(re / r - 1, inputImpedance.im[i]! / r)).toBeLessThan(1e-9));
      }),
    );
  });

  it("constant-voltage ways sum to exactly 1", () => {
    fc.assert(
      fc.property(prototype, corner, fc.boolean(), (made, frequency, low) => {
        const given = low ? lowPass(made, frequency) : highPass(made, frequency);
        const { re, im } = sumOf(
          [{ transfer: given }, { transfer: subtractive(given) }],
          logGrid(frequency / 100, frequency * 100, 31),
        ).response;
        re.forEach((value, i) => expect(Math.hypot(value - 1, im[i]!)).toBeLessThan(1e-9));
      }),
    );
  });

  it("the last step of a working is the value returned", () => {
    fc.assert(
      fc.property(prototype, load, corner, fc.double({ min: 0.1, max: 40, noNaN: true }), (made, r, frequency, attenuationDb) => {
        for (const pass of ["low", "high"] as const) {
          const { working, values } = ladder(made, { pass, frequency, load: r });
          expect(working.at(-1)!.value).toBe(values.at(-1));
        }
        const pad = attenuator({ attenuationDb, load: r });
        expect(pad.working.at(-1)!.value).toBe(pad.rp);
        const coil = zobel({ re: r, le: 1e-4 * r });
        expect(coil.working.at(-1)!.value).toBe(coil.c);
        const trap = parallelTrap({ depthDb: attenuationDb, frequency, bandwidth: frequency / 3, load: r });
        expect(trap.working.at(-1)!.value).toBe(trap.l);
        const conjugate = conjugateNetwork({ re: r, fs: frequency, qms: 3, qes: 0.6 });
        expect(conjugate.working.at(-1)!.value).toBe(conjugate.cc);
      }),
    );
  });

  it("the conjugate network makes a driver's impedance constant", () => {
    const driver = fc.record({
      re: logUniform(2, 30),
      le: logUniform(1e-5, 5e-3),
      re2: logUniform(0.5, 50),
      le2: logUniform(1e-5, 5e-3),
      fs: logUniform(15, 2000),
      qms: logUniform(0.5, 15),
      qes: logUniform(0.2, 3),
    });
    fc.assert(
      fc.property(driver, fc.boolean(), fc.boolean(), (each, withCoil, lossy) => {
        const { re, fs, qms, qes } = each;
        const options = { re, fs, qms, qes, ...(withCoil ? { le: each.le } : {}), ...(lossy ? { re2: each.re2, le2: each.le2 } : {}) };
        const whole = join(
          { driver: [driverImpedance(options), "in", "gnd"] } as Entries,
          conjugateNetwork(options).branch({ from: "in", to: "gnd" }),
        );
        const { re: real, im } = solve(network(whole), logGrid(5, 40e3, 61)).impedance;
        real.forEach((value, i) => expect(Math.hypot(value / re - 1, im[i]! / re)).toBeLessThan(1e-10));
      }),
    );
  });
});
