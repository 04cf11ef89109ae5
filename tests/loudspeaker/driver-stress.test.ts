// Tests src/loudspeaker/: driver-relief.ts
// What drivers have to stand through their network: against the closed form of the motion, energy, and the limits by hand.
import {
  capacitor,
  driverImpedance,
  frequencyResponse,
  inductor,
  loudspeaker,
  network,
  pressurePerVolt,
  resistor,
  solve,
  stress,
  valueAt,
} from "dividing-network";
import { driverStress } from "dividing-network/loudspeaker";
import { displacementPerVolt } from "dividing-network/parts";
import { describe, expect, it } from "vitest";

const near = (found: number, wanted: number, relative: number) =>
  expect(Math.abs(found / wanted - 1), `${found} against ${wanted}`).toBeLessThan(relative);
const heard = pressurePerVolt({
  response: frequencyResponse([500, 1000], [1, 1], [0, 0]),
  drive: { voltage: 1, at: "terminals" },
  distance: 1,
  timeZero: "common",
});
const dome = { re: 5.1, fs: 820, qms: 2.1, qes: 1.4 };
const motion = { ...dome, mms: 0.3e-3 };
const boxOf = (farads: number, more: object = {}, ohms = 0) =>
  loudspeaker({
    network: network({ C1: [capacitor(farads), "in", "a"], R1: [resistor(ohms), "a", "d"], tweeter: [driverImpedance(dome), "d", "gnd"] }),
    drivers: [{ name: "tweeter", role: "tweeter", pressures: [heard], motion, ratings: { power: "15 W", excursion: "0.4 mm" }, ...more }],
  });

describe("driverStress", () => {
  it("of a driver at the amplifier is the closed form: x = U·Qms/(Qms + Qes)/(ωBl) at its resonance", () => {
    const alone = loudspeaker({
      network: network({ tweeter: [driverImpedance(dome), "in", "gnd"] }),
      drivers: [{ name: "tweeter", pressures: [heard], motion }],
    });
    const [found] = driverStress(alone, {
      voltage: 10,
      spectrum: { frequencies: [819.99, 820.01], levelDb: [0, 0] },
      crestFactor: Math.SQRT2,
    });
    const bl = Math.sqrt((2 * Math.PI * 820 * 0.3e-3 * 5.1) / 1.4);
    const x = ((10 * Math.SQRT2) / (2 * Math.PI * 820 * bl)) * (2.1 / 3.5);
    near(found!.excursion!.peak, x, 1e-5);
    near(found!.excursion!.sinePeak, x, 1e-4);
    // At the resonance the impedance is Re(1 + Qms/Qes).
    near(found!.power.mean, (10 / (5.1 * 2.5)) ** 2 * 5.1, 1e-5);
    expect([found!.powerOf, found!.ratings, found!.first, found!.relief]).toEqual(["voice coil", {}, undefined, undefined]);
  });

  it("goes through the network: the excursion at each frequency is its voltage there", () => {
    const box = boxOf(6.8e-6);
    const excursion = driverStress(box, { voltage: 20 })[0]!.excursion!;
    for (const frequency of [100, 700, 5000]) {
      const u = valueAt(solve(box.network, [frequency]).voltage("tweeter"), frequency);
      const x = valueAt(displacementPerVolt([frequency], motion), frequency);
      near(valueAt(excursion.response, frequency).abs(), Math.SQRT2 * 20 * u.abs() * x.abs(), 1e-4);
    }
    // The worst is the largest of all.
    const size = excursion.response.re.map((re, i) => Math.hypot(re, excursion.response.im[i]!));
    near(excursion.sinePeak, Math.max(...size), 1e-3);
    expect(excursion.peak).toBeLessThan(excursion.sinePeak);
  });

  it("says which limit comes first, and at that level it is just reached", () => {
    for (const [farads, limit] of [
      [22e-6, "excursion"],
      [1e-6, "power"],
    ] as const) {
      const box = boxOf(farads, limit === "power" ? { ratings: { power: 0.5, excursion: 0.4e-3 } } : {});
      const [found] = driverStress(box, { voltage: 20 });
      expect(found!.first!.limit).toBe(limit);
      const [there] = driverStress(box, { voltage: found!.first!.voltage });
      near(limit === "power" ? there!.power.mean : there!.excursion!.peak, limit === "power" ? 0.5 : 0.4e-3, 1e-12);
      expect(there!.relief === undefined || there!.relief.attenuationDb < 1e-9).toBe(true);
    }
  });

  it("names what relieves it: each of them, tried, does about what it says", () => {
    const level = { voltage: 40 };
    // A resistor stands for the driver's impedance, so that a corner moves with the capacitance.
    const of = (farads: number, more: object = {}) =>
      driverStress(
        loudspeaker({
          network: network({ C1: [capacitor(farads), "in", "t"], tweeter: [resistor(6), "t", "gnd"], ...more }),
          drivers: [{ name: "tweeter", pressures: [heard], motion, ratings: { excursion: 0.4e-3 } }],
        }),
        level,
      )[0]!;
    const found = of(15e-6);
    const { attenuationDb, cornerOctaves, steeperDb } = found.relief!;
    near(found.excursion!.peak / 0.4e-3, 10 ** (attenuationDb / 20), 1e-9);
    const higher = of(15e-6 / 2 ** cornerOctaves!);
    expect(Math.abs(20 * Math.log10(higher.excursion!.peak / 0.4e-3))).toBeLessThan(0.1);
    // Second order, Butterworth's, with the same corner of 1768 Hz: √2/(ωR) and R/(√2ω)·… as in any table. One order more by first order's curve is near it.
    const [omega, q] = [1 / (6 * 15e-6), Math.SQRT1_2];
    const second = of(q / (omega * 6), { L1: [inductor(6 / (q * omega)), "t", "gnd"] });
    expect(Math.abs(20 * Math.log10(found.excursion!.peak / second.excursion!.peak) - steeperDb!)).toBeLessThan(3);
    expect(steeperDb).toBeGreaterThan(3);
    const none = driverStress(
      loudspeaker({
        network: network({ tweeter: [resistor(6), "in", "gnd"] }),
        drivers: [{ name: "tweeter", pressures: [heard], motion, ratings: { excursion: 0.4e-3 } }],
      }),
      level,
    )[0]!;
    expect(Object.keys(none.relief!)).toEqual(["attenuationDb"]);
    const [heat] = driverStress(boxOf(100e-6, { ratings: { power: 1 } }), level);
    expect(heat!.first!.limit).toBe("power");
    expect(Object.keys(heat!.relief!)).toEqual(["attenuationDb"]);
  });

  it("of a measured impedance takes the coil's resistance from the motion, and else all that the driver takes", () => {
    const grid = Array.from({ length: 400 }, (_, i) => 20 * 1000 ** (i / 399));
    const measured = driverImpedance(solve(network({ d: [driverImpedance(dome), "in", "gnd"] }), grid).impedance);
    const of = (part: typeof measured, more: object) =>
      driverStress(
        loudspeaker({
          network: network({ L1: [inductor(1e-4), "in", "d"], tweeter: [part, "d", "gnd"] }),
          drivers: [{ name: "tweeter", pressures: [heard], ...more }],
        }),
        { voltage: 10 },
      )[0]!;
    const [known, told, silent] = [of(driverImpedance(dome), {}), of(measured, { motion }), of(measured, {})];
    near(told.power.mean, known.power.mean, 1e-3);
    expect([known.powerOf, told.powerOf, silent.powerOf]).toEqual(["voice coil", "voice coil", "driver"]);
    expect(silent.power.mean).toBeGreaterThan(told.power.mean);
    expect(silent.excursion).toBeUndefined();
    const box = loudspeaker({ network: network({ tweeter: [measured, "in", "gnd"] }), drivers: [{ name: "tweeter", pressures: [heard] }] });
    near(driverStress(box, { voltage: 10 })[0]!.power.mean, stress(box.network, { voltage: 10 }).parts.tweeter.power.mean, 1e-12);
  });

  it("counts the source's impedance, and refuses what isn't a loudspeaker, a level or a rating", () => {
    const [stiff, soft] = [boxOf(6.8e-6), { ...boxOf(6.8e-6), sourceImpedance: 5 }].map((box) => driverStress(box, { voltage: 20 })[0]!);
    expect(soft!.power.mean).toBeLessThan(stiff!.power.mean);
    const refused = (make: () => unknown) => expect(make).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
    refused(() => driverStress({} as never, { voltage: 1 }));
    refused(() => driverStress(boxOf(1e-6), {} as never));
    refused(() => driverStress(boxOf(1e-6), { voltage: 1, sourceImpedance: 3 } as never));
    refused(() => boxOf(1e-6, { ratings: { power: 0 } }));
    refused(() => boxOf(1e-6, { ratings: { force: 3 } }));
    refused(() => boxOf(1e-6, { motion: dome }));
    const box = boxOf(1e-6);
    refused(() => driverStress({ ...box, drivers: [{ ...box.drivers[0]!, ratings: { power: NaN } }] }, { voltage: 1 }));
  });
});
