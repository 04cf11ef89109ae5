// Tests src/network/: peak-of.ts, signal-spectrum.ts
// Tests src/network/spice/: section-shape.ts
// What parts have to stand: closed forms of the mean and of the worst sine, the balance of the source's power, and an independent simulator.
import { Simulation } from "eecircuit-engine";
import { network, solve, stress, type Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { randomNetwork, seeded } from "../support/random-network";

const near = (found: number, wanted: number, relative: number) =>
  expect(Math.abs(found / wanted - 1), `${found} against ${wanted}`).toBeLessThan(relative);

describe("stress", () => {
  it("of a resistor alone is V²/R whatever the spectrum, by the signal's own rms", () => {
    for (const spectrum of ["pink", "programme", { frequencies: [100, 1000, 3000], levelDb: [0, -20, 3] }] as const) {
      const found = stress(network({ R1: [resistor(8), "in", "gnd"] }), { voltage: 20, spectrum, crestFactor: 4 });
      near(found.signalVoltage, (20 * Math.SQRT2) / 4, 1e-12);
      near(found.parts.R1.power.mean, 50 / 8, 1e-12);
      near(found.parts.R1.power.sine, 400 / 8, 1e-12);
      near(found.parts.R1.voltage.peak, 20 * Math.SQRT2, 1e-12);
      near(found.source, 50 / 8, 1e-12);
    }
  });

  it("under pink noise is the integral over log frequency: a first-order high-pass in closed form", () => {
    const [ohms, farads] = [8, 10e-6];
    const { parts, signalVoltage, band } = stress(network({ C1: [capacitor(farads), "in", "t"], R1: [resistor(ohms), "t", "gnd"] }), {
      voltage: "28.3 V",
      spectrum: "pink",
    });
    const x = (f: number) => 2 * Math.PI * f * ohms * farads;
    const share = Math.log((1 + x(20_000) ** 2) / (1 + x(20) ** 2)) / 2 / Math.log(1000);
    expect(band).toEqual({ from: 20, to: 20_000 });
    near(parts.R1.power.mean, (share * signalVoltage ** 2) / ohms, 1e-6);
    near(parts.C1.voltage.rms ** 2, (1 - share) * signalVoltage ** 2, 1e-5);
    // The whole low end stands across the capacitor.
    near(parts.C1.voltage.sinePeak, (28.3 * Math.SQRT2) / Math.hypot(1, x(20)), 1e-9);
    expect(parts.C1.voltage.frequency).toBe(20);
    expect(parts.C1.power.mean).toBe(0);
  });

  it("finds the worst sine between its points: a series resonance of any Q in closed form", () => {
    for (const q of [2, 15, 80]) {
      const [henries, f0] = [0.5e-3, 1234.5];
      const farads = 1 / ((2 * Math.PI * f0) ** 2 * henries);
      const ohms = (2 * Math.PI * f0 * henries) / q;
      const { parts } = stress(
        network({ L1: [inductor(henries), "in", "a"], C1: [capacitor(farads), "a", "b"], R1: [resistor(ohms), "b", "gnd"] }),
        { voltage: 10 },
      );
      near(parts.R1.power.sine, 100 / ohms, 1e-4);
      near(parts.R1.power.frequency, f0, 1e-4);
      near(parts.C1.voltage.sinePeak, (10 * Math.SQRT2 * q) / Math.sqrt(1 - 1 / (4 * q * q)), 1e-4);
      near(parts.C1.voltage.frequency, f0 * Math.sqrt(1 - 1 / (2 * q * q)), 1e-4);
      near(parts.L1.current.sinePeak, (10 * Math.SQRT2) / ohms, 1e-4);
    }
  });

  it("of a sine is its worst frequency's, for each part by itself", () => {
    const { parts, crestFactor, signalVoltage, source } = stress(
      network({ C1: [capacitor(10e-6), "in", "t"], R1: [resistor(8), "t", "gnd"] }),
      { voltage: 10, spectrum: "sine", crestFactor: 4 },
    );
    expect([crestFactor, signalVoltage]).toEqual([Math.SQRT2, 10]);
    for (const { power, voltage, current } of Object.values(parts)) {
      expect(power.mean).toBeCloseTo(power.sine, 12);
      expect(voltage.peak).toBeCloseTo(voltage.sinePeak, 12);
      expect(current.peak).toBeCloseTo(current.sinePeak, 12);
    }
    expect(source).toBeCloseTo(parts.R1.power.sine, 9);
  });

  it("gives a driver's heat in its resistance alone where the model states it, less than all it takes", () => {
    const dome = driverImpedance({ re: 5, fs: 800, qms: 2, qes: 1 });
    const { parts } = stress(network({ tweeter: [dome, "in", "gnd"] }), {
      voltage: 10,
      spectrum: { frequencies: [799.99, 800.01], levelDb: [0, 0] },
      crestFactor: Math.SQRT2,
    });
    // At the resonance it is 15 Ω, of which 5 Ω are its own.
    near(parts.tweeter.power.mean, 100 / 15, 1e-6);
    near(parts.tweeter.voiceCoil!.mean, 100 / 45, 1e-6);
    const grid = Array.from({ length: 200 }, (_, i) => 100 * 1.02 ** i);
    const measured = driverImpedance(solve({ d: [dome, "in", "gnd"] }, grid).impedance);
    const found = stress(network({ d: [measured, "in", "gnd"] }), { voltage: 10 });
    expect(found.parts.d.voiceCoil).toBeUndefined();
    expect(found.band).toEqual({ from: 100, to: grid[199] });
  });

  it("balances: the heat of all parts and of the source's impedance is what the source gives", () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const random = seeded(seed);
        const entries: Entries = randomNetwork(random, {
          nodes: 1 + Math.floor(random() * 5),
          decades: 4,
          loss: 1,
          couplings: Math.floor(random() * 2),
        });
        const spectrum = (["pink", "programme", { frequencies: [50, 500, 5000], levelDb: [0, -6, 3] }] as const)[seed % 3]!;
        const { parts, source, sourceImpedance } = stress(entries, {
          voltage: 12,
          spectrum,
          sourceImpedance: { resistance: 0.2, inductance: 2e-6 },
        });
        const heat = Object.values(parts).reduce((sum, { power }) => sum + power.mean, sourceImpedance);
        const apparent = Object.values(parts).reduce((sum, { voltage, current }) => sum + voltage.rms * current.rms, source);
        expect(Math.abs(heat - source)).toBeLessThanOrEqual(1e-11 * apparent);
        for (const { power, voltage, current } of Object.values(parts)) {
          expect(power.mean).toBeLessThanOrEqual(0.5 * power.sine * (1 + 1e-9));
          expect(voltage.peak).toBeLessThanOrEqual(voltage.sinePeak * (1 + 1e-9));
          expect(current.peak).toBeLessThanOrEqual(current.sinePeak * (1 + 1e-9));
        }
      }),
      { numRuns: cases(60) },
    );
  });

  it("is what a circuit simulator's analysis gives, summed by Simpson's rule", async () => {
    const simulation = new Simulation();
    await simulation.start();
    simulation.setNetList(
      [
        "pad",
        "V1 in 0 DC 0 AC 1",
        "C1 in a 6.8u",
        "L1 a y 0.33m",
        "RL y 0 0.24",
        "R1 a d 2.2",
        "R2 d 0 8",
        "R3 d 0 5.1",
        ".options noopac",
        ".ac dec 400 20 20k",
        ".end",
        "",
      ].join("\n"),
    );
    const result = await simulation.runSim();
    if (result.dataType !== "complex") throw new Error(simulation.getError().join("\n"));
    const column = (name: string) => result.data.find((each) => each.name.toLowerCase() === name)!.values;
    const square = (name: string, minus?: string) =>
      column(name).map(
        ({ real, img }, i) =>
          (real - (minus === undefined ? 0 : column(minus)[i]!.real)) ** 2 + (img - (minus === undefined ? 0 : column(minus)[i]!.img)) ** 2,
      );
    // 1201 points, evenly over log frequency.
    const simpson = (values: number[]) =>
      values.reduce((sum, value, i) => sum + value * (i === 0 || i === 1200 ? 1 : i % 2 === 1 ? 4 : 2), 0) / 3600;
    expect(column("frequency")).toHaveLength(1201);
    const { parts } = stress(
      network({
        C1: [capacitor("6.8 µF"), "in", "a"],
        L1: [inductor("0.33 mH", { dcr: 0.24 }), "a", "gnd"],
        R1: [resistor(2.2), "a", "d"],
        R2: [resistor(8), "d", "gnd"],
        tweeter: [resistor(5.1), "d", "gnd"],
      }),
      { voltage: Math.SQRT2, spectrum: "pink", crestFactor: 2 },
    );
    near(parts.R1.power.mean, simpson(square("v(a)", "v(d)")) / 2.2, 1e-5);
    near(parts.tweeter.power.mean, simpson(square("v(d)")) / 5.1, 1e-5);
    near(parts.L1.power.mean, simpson(square("v(y)")) / 0.24, 1e-5);
    near(parts.C1.voltage.rms ** 2, simpson(square("v(in)", "v(a)")), 1e-5);
  }, 120_000);

  it("refuses what can't be, and changes nothing that it is given", () => {
    const entries = network({ R1: [resistor(8), "in", "gnd"] });
    const levels = { frequencies: [100, 1000], levelDb: [0, -3] };
    stress(entries, { voltage: 1, spectrum: levels });
    expect(levels).toEqual({ frequencies: [100, 1000], levelDb: [0, -3] });
    const code = (wanted: string) => expect.objectContaining({ code: wanted });
    for (const wrong of [
      {},
      { voltage: 0 },
      { voltage: 1, crestFactor: 0.5 },
      { voltage: 1, spectrum: "white" },
      { voltage: 1, spectrum: null },
      { voltage: 1, spectrum: { frequencies: [100], levelDb: [0] } },
      { voltage: 1, spectrum: { frequencies: [0, 100], levelDb: [0, 0] } },
      { voltage: 1, spectrum: { frequencies: [50, 100], levelDb: [0, NaN] } },
    ]) {
      expect(() => stress(entries, wrong as never), JSON.stringify(wrong)).toThrow(code("invalid-argument"));
    }
    expect(() => stress(entries, { voltage: 1, power: 3 } as never)).toThrow(code("unknown-option"));
    const above = driverImpedance(solve({ d: [resistor(8), "in", "gnd"] }, [30_000, 40_000]).impedance);
    expect(() => stress({ d: [above, "in", "gnd"] }, { voltage: 1 })).toThrow(code("outside-band"));
  });
});
