// Tests src/alignments/: branch.ts
// Tests src/alignments/compensation/: all-pass-lattice.ts, approximate-conjugate.ts, bridged-tee.ts, conjugate-network.ts, excess-step.ts
// Tests src/alignments/compensation/: flatness.ts, given-driver.ts, join-workings.ts, lossy-zobel.ts, series-attenuator.ts
// Tests src/alignments/compensation/: shunt-attenuator.ts, shunt-notch.ts, zobel.ts
// Tests src/errors/: error.ts
import fc from "fast-check";
import {
  allPassFilter,
  allPassLattice,
  approximateConjugate,
  attenuator,
  baffleStep,
  breakupTrap,
  bridgedTee,
  conjugateNetwork,
  groupDelayOf,
  lossyZobel,
  parallelTrap,
  seriesAttenuator,
  shuntAttenuator,
  shuntNotch,
  zobel,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve, type Entries, type Network, type Sweep } from "dividing-network/network";
import { driverImpedance, driverParameters, resistor, type DriverImpedance } from "dividing-network/parts";
import { levelDb, responseOf } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = logGrid(20, 20e3, 121);
const into = (branch: Network, load: number, frequencies: ArrayLike<number>, sourceImpedance = 0) =>
  solve(network(join(branch, { D1: [resistor(load), "d", "gnd"] } as Entries)), frequencies, { sourceImpedance });
const anyError = expect.objectContaining({ name: "DividingNetworkError" });

describe("attenuators", () => {
  it("L-pad: input resistance, attenuation and output resistance are what they are said to be", () => {
    const pad = attenuator({ attenuationDb: 7, load: 6 });
    expect(pad.outputResistance).toBeCloseTo((pad.rs * pad.rp!) / (pad.rs + pad.rp!), 12);
    expect(Object.keys(pad.branch({ from: "a", to: "b", prefix: "T" }))).toEqual(["TR1", "TR2"]);
    const none = attenuator({ attenuationDb: 0, load: 6 });
    expect(none).toMatchObject({ rs: 0, rp: undefined, outputResistance: 0 });
    expect(into(none.branch({ from: "in", to: "d" }), 6, [100]).voltage("d").re[0]).toBe(1);
  });

  it("a resistor in series attenuates as stated, and the network before it sees k times the load", () => {
    const { branch, inputResistance, rs, outputResistance } = seriesAttenuator({ attenuationDb: 4, load: 8 });
    const sweep = into(branch({ from: "in", to: "d" }), 8, [1000]);
    expect(levelDb(sweep.voltage("d"))[0]).toBeCloseTo(-4, 12);
    expect(sweep.impedance.re[0]).toBeCloseTo(inputResistance, 12);
    expect(outputResistance).toBe(rs);
  });

  it("a resistor across the load attenuates as stated from its source, and loads it", () => {
    const { branch, inputResistance } = shuntAttenuator({ attenuationDb: 4, load: 8, sourceResistance: 2 });
    const across = branch({ from: "d", to: "gnd" });
    const pad = { S1: [resistor(2), "in", "d"] } as Entries;
    const [before, after] = [pad, join(pad, across)].map((entries) => into(entries as Network, 8, [1000]));
    expect(levelDb(after!.voltage("d"))[0]! - levelDb(before!.voltage("d"))[0]!).toBeCloseTo(-4, 12);
    expect(after!.impedance.re[0]! - 2).toBeCloseTo(inputResistance, 12);
  });

  it("refuse attenuation below 0 dB, and loads that are none", () => {
    for (const attenuationDb of [-1, NaN, 300, "6 dB", undefined]) {
      expect(() => attenuator({ attenuationDb: attenuationDb as number, load: 8 })).toThrow(
        /"attenuationDb" must be a finite number at least 0 dB/,
      );
      expect(() => seriesAttenuator({ attenuationDb: attenuationDb as number, load: 8 })).toThrow(anyError);
      expect(() => shuntAttenuator({ attenuationDb: attenuationDb as number, load: 8, sourceResistance: 1 })).toThrow(anyError);
    }
    for (const load of [0, -8, Infinity, "8 H", undefined])
      expect(() => attenuator({ attenuationDb: 6, load: load as number })).toThrow(/"load" must/);
    expect(() => shuntAttenuator({ attenuationDb: 4, load: 8, sourceResistance: 0 })).toThrow(/"sourceResistance"/);
  });
});

describe("conjugate networks", () => {
  const driver = { re: 5.6, le: 0.6e-3, fs: 40, qms: 3.5, qes: 0.45 };

  it("the two separate branches stray by what is stated, the exact network by nothing", () => {
    const near = approximateConjugate(driver);
    const whole = (branch: Network) =>
      solve(network(join({ D1: [driverImpedance(driver), "in", "gnd"] } as Entries, branch)), logGrid(10, 20e3, 1999)).impedance;
    const strays = ({ re, im }: { re: Float64Array; im: Float64Array }) =>
      re.reduce((worst, value, i) => Math.max(worst, Math.hypot(value / driver.re - 1, im[i]! / driver.re)), 0);
    expect(strays(whole(near.branch({ from: "in", to: "gnd" }))) / near.error.worst).toBeCloseTo(1, 4);
    expect(near.error.worst).toBeGreaterThan(0.01);
    expect(strays(whole(conjugateNetwork(driver).branch({ from: "in", to: "gnd" })))).toBeLessThan(1e-12);
    expect(near.working.at(-1)!.value).toBe(near.cc);
  });

  it("the error vanishes with the voice coil's inductance", () => {
    const errors = [1e-3, 1e-4, 1e-5].map((le) => approximateConjugate({ ...driver, le }).error.worst);
    expect(errors[1]! / errors[0]!).toBeLessThan(0.2);
    expect(errors[2]! / errors[1]!).toBeLessThan(0.2);
  });

  it("take a driver as people have it: a part, what was fitted, a measured impedance with its own error over what was measured", () => {
    const plain = approximateConjugate(driver);
    const part = driverImpedance(driver);
    expect(approximateConjugate(part)).toMatchObject({ r: plain.r, c: plain.c, lc: plain.lc, error: plain.error });
    const { impedance } = solve(network({ D1: [part, "in", "gnd"] }), logGrid(15, 15e3, 400));
    const measured = approximateConjugate(impedance);
    expect(measured.lc / plain.lc).toBeCloseTo(1, 3);
    expect(measured.c / plain.c).toBeCloseTo(1, 3);
    expect(measured.error.worst / approximateConjugate(driver, { from: 15, to: 15e3 }).error.worst).toBeCloseTo(1, 2);
    expect(measured.error.worstFrequency).toBeGreaterThanOrEqual(15);
    expect(approximateConjugate(driverParameters(impedance, { coil: "inductance" })).cc / plain.cc).toBeCloseTo(1, 3);
    expect(() => approximateConjugate(driverImpedance({ ...driver, re2: 3, le2: 1e-3 }))).toThrow(
      /"driver" must have a coil that is an inductance, got a lossy one/,
    );
    expect(() => approximateConjugate({ ...driver, from: 100 } as never)).toThrow(/from/);
  });

  it("refuse drivers that are none", () => {
    for (const change of [{ re: 0 }, { le: -1 }, { fs: 0 }, { qms: 0 }, { qes: NaN }, { re2: 3 }, { le2: 1e-3 }, { k: 1 }])
      expect(() => conjugateNetwork({ ...driver, ...change } as never), JSON.stringify(change)).toThrow(anyError);
    expect(() => approximateConjugate({ ...driver, le: 0 })).toThrow(/"le" must be a number above 0 H/);
    expect(() => approximateConjugate(driver, { from: 100, to: 50 })).toThrow(anyError);
    for (const options of [{ re: 0, le: 1e-3 }, { re: 6, le: 0 }, { re: 6, le: "6 µF" }, { re: 6 }])
      expect(() => zobel(options as never)).toThrow(anyError);
  });
});

describe("lossyZobel", () => {
  it("finds the textbook network for a coil without loss", () => {
    const { r, c, error } = lossyZobel(driverImpedance({ re: 6, le: 0.5e-3 }), { from: 100, to: 20e3 });
    expect(r).toBeCloseTo(6, 8);
    expect(c * 1e6).toBeCloseTo(13.8888889, 6);
    expect(error.worst).toBeLessThan(1e-9);
  });

  it("is at a minimum: no change of R or C makes the sum of squares smaller", () => {
    const driver = driverImpedance({ re: 6, k: 0.03, n: 0.65, fs: 45, qms: 4, qes: 0.5 });
    const { r, c, error, before } = lossyZobel(driver, { from: 300, to: 20e3 });
    const band = logGrid(300, 20e3, 200);
    const cost = (resistance: number, capacitance: number): number => {
      const z = solve(network({ D1: [driver, "in", "gnd"] } as Entries), band).impedance;
      return z.re.reduce((sum, re, i) => {
        const [zs, x] = [re * re + z.im[i]! ** 2, -1 / (2 * Math.PI * band[i]! * capacitance)];
        const size = resistance ** 2 + x * x;
        return sum + (6 * (re / zs + resistance / size) - 1) ** 2 + (6 * (-z.im[i]! / zs - x / size)) ** 2;
      }, 0);
    };
    for (const [a, b] of [
      [1.01, 1],
      [0.99, 1],
      [1, 1.01],
      [1, 0.99],
      [1.01, 1.01],
      [0.99, 0.99],
      [1.01, 0.99],
      [0.99, 1.01],
    ] as const)
      expect(cost(r * a, c * b)).toBeGreaterThan(cost(r, c));
    expect(error.worst).toBeLessThan(before.worst / 4);
  });

  it("takes a measurement, for which the resistance must be stated, and refuses what is no driver", () => {
    const frequencies = logGrid(10, 40e3, 800);
    const measured = driverImpedance(
      solve(network({ D1: [driverImpedance({ re: 6, le: 0.5e-3 }), "in", "gnd"] } as Entries), frequencies).impedance,
    );
    expect(lossyZobel(measured, { from: 100, to: 20e3, resistance: 6 }).c * 1e6).toBeCloseTo(13.889, 2);
    expect(() => lossyZobel(measured, { from: 100, to: 20e3 })).toThrow(/"resistance"/);
    expect(() => lossyZobel(resistor(6) as never, { from: 100, to: 20e3 })).toThrow(/must come from driverImpedance/);
    expect(() => lossyZobel(measured, { from: 200, to: 100, resistance: 6 })).toThrow(anyError);
  });
});

describe("notches and shelves", () => {
  it("a parallel trap and a shunt notch have one law: depth, width at half depth", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 40, noNaN: true }),
        fc.double({ min: 100, max: 10e3, noNaN: true }),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        (depthDb, f, relative) => {
          const options = { depthDb, frequency: f, bandwidth: f * relative, load: 8 };
          const trap = parallelTrap(options);
          const notch = shuntNotch({ ...options, sourceResistance: 3 });
          const half = trap.halfDepthBandwidth / 2;
          const [low, high] = [Math.sqrt(f * f + half * half) - half, Math.sqrt(f * f + half * half) + half];
          const levels = levelDb(into(trap.branch({ from: "in", to: "d" }), 8, [low, f, high]).voltage("d"));
          const shunted = join({ S1: [resistor(3), "in", "d"] } as Entries, notch.branch({ from: "d", to: "gnd" }));
          const without = 20 * Math.log10(8 / 11);
          const other = levelDb(into(shunted as Network, 8, [low, f, high]).voltage("d"));
          [-depthDb / 2, -depthDb, -depthDb / 2].forEach((wanted, i) => {
            expect(levels[i]).toBeCloseTo(wanted, 8);
            expect(other[i]! - without).toBeCloseTo(wanted, 8);
          });
          expect(notch.halfDepthBandwidth).toBeCloseTo(trap.halfDepthBandwidth, 9);
        },
      ),
    );
  });

  it("a breakup trap divides a resonant peak away", () => {
    const [k, q, f] = [10 ** (9 / 20), 6, 4200];
    const { branch } = breakupTrap({ peakDb: 9, frequency: f, q, load: 8 });
    const w = 2 * Math.PI * f;
    const roots = (damping: number) =>
      [1, -1].map((sign) => ({ re: (-w * damping) / 2, im: sign * w * Math.sqrt(1 - (damping / 2) ** 2) }));
    const peak = responseOf({ zeros: roots(k / q), poles: roots(1 / q), gain: 1 }, grid);
    const trap = into(branch({ from: "in", to: "d" }), 8, grid).voltage("d");
    peak.re.forEach((re, i) => {
      const [x, y] = [re * trap.re[i]! - peak.im[i]! * trap.im[i]!, re * trap.im[i]! + peak.im[i]! * trap.re[i]!];
      expect(Math.hypot(x - 1, y)).toBeLessThan(1e-12);
    });
  });

  it("a baffle's shelf is 0 dB below, the step above, and half of it at its frequency", () => {
    const { branch, frequency } = baffleStep({ stepDb: 5, width: "200 mm", load: 8 });
    expect(frequency).toBeCloseTo(575, 9);
    const levels = levelDb(into(branch({ from: "in", to: "d" }), 8, [0, frequency, 1e6]).voltage("d"));
    [0, -2.5, -5].forEach((wanted, i) => expect(levels[i]).toBeCloseTo(wanted, 4));
    expect(baffleStep({ stepDb: 5, frequency: 575, load: 8 }).l).toBeCloseTo(baffleStep({ stepDb: 5, width: 0.2, load: 8 }).l, 12);
  });

  it("refuse depths, widths and loads that make none", () => {
    const good = { depthDb: 6, frequency: 1000, bandwidth: 300, load: 8 };
    for (const change of [{ depthDb: 0 }, { depthDb: -3 }, { frequency: 0 }, { frequency: 2e6 }, { bandwidth: 0 }, { load: 0 }, { q: 3 }]) {
      expect(() => parallelTrap({ ...good, ...change }), JSON.stringify(change)).toThrow(anyError);
      expect(() => shuntNotch({ ...good, sourceResistance: 2, ...change })).toThrow(anyError);
    }
    expect(() => shuntNotch({ ...good, sourceResistance: 0 })).toThrow(anyError);
    expect(() => breakupTrap({ peakDb: 6, frequency: 1000, q: 0, load: 8 })).toThrow(anyError);
    for (const change of [{}, { frequency: 500, width: 0.2 }, { stepDb: 0, width: 0.2 }, { width: 0 }])
      expect(() => baffleStep({ stepDb: 6, load: 8, ...change } as never)).toThrow(anyError);
  });
});

describe("all-pass sections", () => {
  const check = (
    made: { readonly transfer: Parameters<typeof responseOf>[0]; readonly delay: number },
    whole: Entries,
    voltage: (sweep: Sweep) => { re: Float64Array; im: Float64Array },
  ) => {
    const sweep = solve(network(whole), grid);
    const [solved, wanted] = [voltage(sweep), responseOf(made.transfer, grid)];
    wanted.re.forEach((re, i) => {
      expect(Math.hypot(solved.re[i]! - re, solved.im[i]! - wanted.im[i]!)).toBeLessThan(1e-10);
      expect(Math.hypot(re, wanted.im[i]!)).toBeCloseTo(1, 12);
      expect(Math.hypot(sweep.impedance.re[i]! - 8, sweep.impedance.im[i]!)).toBeLessThan(1e-9);
    });
    expect(groupDelayOf(made.transfer, [0])[0]! / made.delay).toBeCloseTo(1, 12);
  };

  it.each([undefined, 0.3, 0.577, 1, 2])("a lattice of Q %s delays, and leaves level and input resistance alone", (q) => {
    const made = allPassLattice({ frequency: 900, load: 8, ...(q === undefined ? {} : { q }) });
    check(made, join(made.branch({ from: "in", to: "p", toReturn: "m" }), { D1: [resistor(8), "p", "m"] } as Entries), (sweep) =>
      sweep.voltage("D1"),
    );
  });

  it.each([0.3, 0.577, 0.999, 1, 2])("a bridged T of Q %s does so with a common return", (q) => {
    const made = bridgedTee({ frequency: 900, load: 8, q });
    check(made, join(made.branch({ from: "in", to: "d", prefix: "A" }), { D1: [resistor(8), "d", "gnd"] } as Entries), (sweep) =>
      sweep.voltage("D1"),
    );
    expect("K1" in made.parts).toBe(q < 1);
  });

  it("are made for a delay as well as for a frequency", () => {
    for (const options of [
      { delay: "100 µs", load: 8 },
      { delay: 1e-4, q: 0.577, load: 8 },
    ] as const)
      expect(allPassLattice(options).delay).toBeCloseTo(1e-4, 15);
    const { zeros, poles } = allPassFilter({ frequency: 100, q: 0.2 });
    poles.forEach(({ re, im }, k) => expect(zeros[k]).toEqual({ re: -re, im }));
  });

  it("refuse a first-order bridged T with the reason, and options that make no section", () => {
    expect(() => bridgedTee({ frequency: 900, load: 8 })).toThrow(/coupled completely, which no winding has\. Use allPassLattice/);
    for (const options of [
      { load: 8 },
      { frequency: 900, delay: 1e-4, load: 8 },
      { frequency: 900, q: 0, load: 8 },
      { frequency: 0, load: 8 },
      { frequency: 900, load: 0 },
      { delay: -1, load: 8 },
    ])
      expect(() => allPassLattice(options)).toThrow(anyError);
    const { branch } = allPassLattice({ frequency: 900, load: 8 });
    expect(() => branch({ from: "in", to: "p", toReturn: "gnd" })).toThrow(/must be a node of its own/);
  });
});

describe("drivers as people have them", () => {
  const given = { re: 5.6, le: 0.6e-3, fs: 40, qms: 3.5, qes: 0.45 };
  const impedanceOf = (part: DriverImpedance) => solve(network({ D1: [part, "in", "gnd"] }), logGrid(8, 20e3, 300)).impedance;
  const part = driverImpedance(given);
  const measured = impedanceOf(part);
  const lossy = driverImpedance({ ...given, re2: 8, le2: 0.9e-3 });
  const power = driverImpedance({ re: 5.6, k: 0.03, n: 0.7, fs: 40, qms: 3.5, qes: 0.45 });

  it.each([
    ["a part", part],
    ["a measured impedance", measured],
    ["a part that is measured", driverImpedance(measured)],
    ["parameters found", driverParameters(measured, { coil: "inductance" })],
    ["their fit", driverParameters(measured, { coil: "inductance" }).fit],
  ] as const)("zobel of %s is R = Re and C = Le/Re²", (_, driver) => {
    const { r, c } = zobel(driver);
    expect(r / 5.6).toBeCloseTo(1, 6);
    expect(c / (0.6e-3 / 5.6 ** 2)).toBeCloseTo(1, 6);
  });

  it.each([
    ["a part", lossy],
    ["a measured impedance", impedanceOf(lossy)],
    ["parameters found", driverParameters(impedanceOf(lossy), { coil: "parallel" })],
  ] as const)("conjugateNetwork of %s makes the lossy driver a resistance", (_, driver) => {
    const { re, im } = solve(
      network(join({ D1: [lossy, "in", "gnd"] }, conjugateNetwork(driver).branch({ from: "in", to: "gnd" }))),
      grid,
    ).impedance;
    expect(Math.max(...re.map((value, i) => Math.hypot(value / 5.6 - 1, im[i]! / 5.6)))).toBeLessThan(1e-5);
  });

  it("lossyZobel of all of them is that of the part", () => {
    const band = { from: 300, to: 20e3 } as const;
    const { r, c } = lossyZobel(power, band);
    for (const driver of [{ re: 5.6, k: 0.03, n: 0.7, fs: 40, qms: 3.5, qes: 0.45 }, driverParameters(impedanceOf(power))]) {
      expect(lossyZobel(driver, band).r / r).toBeCloseTo(1, 5);
      expect(lossyZobel(driver, band).c / c).toBeCloseTo(1, 5);
    }
    expect(lossyZobel(impedanceOf(power), { ...band, resistance: 5.6 }).c / c).toBeCloseTo(1, 3);
  });

  it("a coil without an exact dual is refused, with the way out", () => {
    expect(() => zobel(power)).toThrow(/lossyZobel/);
    expect(() => zobel(lossy)).toThrow(/must have a coil that is an inductance/);
    expect(() => conjugateNetwork(power)).toThrow(/no exact dual of finite size.*coil: "parallel"/);
    expect(() => zobel(driverImpedance({ re: 6 }))).toThrow(/must have an inductance/);
  });

  it("what is no driver, or a fit that did not end, is refused", () => {
    expect(() => zobel(resistor(6) as never)).toThrow(/must come from driverImpedance/);
    expect(() => conjugateNetwork({ kind: "driver" } as never)).toThrow(anyError);
    expect(() => lossyZobel(null as never, { from: 100, to: 1000 })).toThrow(anyError);
    expect(() => zobel({ fit: { ...driverParameters(measured).fit, converged: false } } as never)).toThrow(/least sum of squares/);
    expect(() => zobel({ re: 6, le: 1e-3, fs: 40 } as never)).toThrow(/unknown option/);
  });
});
