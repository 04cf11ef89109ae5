// Source: textbook circuit theory for coupled coils, dividers and attenuators; the definition of the tangent of loss angle after
// IEC 60384-1; Thiele (1971) and Small (1972) for the peak of a driver's impedance; dual branches for the compensation.
// Where: single parts and pairs of parts as the solver finds them.
// Provenance: recomputed, all of them.
import { network, solve } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor } from "dividing-network/parts";
import { levelDb } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const omega = 2 * Math.PI * 1000;

published("recomputed", "parts between nodes (textbooks)", () => {
  it.each([
    [
      "in series aiding",
      "3.282842712",
      [
        ["in", "m"],
        ["m", "gnd"],
      ],
    ],
    [
      "in series opposing",
      "2.717157288",
      [
        ["in", "m"],
        ["gnd", "m"],
      ],
    ],
    [
      "in parallel aiding",
      "0.728702755",
      [
        ["in", "gnd"],
        ["in", "gnd"],
      ],
    ],
  ] as const)("two coils of 1 mH and 2 mH coupled by 0.1, %s, are %s mH", (_, printed, [first, second]) => {
    const coils = { L1: [inductor("1 mH"), ...first], L2: [inductor("2 mH"), ...second], K1: [coupling(0.1), "L1", "L2"] } as const;
    const { impedance } = solve(coils, [1000]);
    expectPrinted((impedance.im[0]! / omega) * 1e3, printed);
    expect(Math.abs(impedance.re[0]!)).toBeLessThan(1e-12);
  });

  it.each([
    [8, "-0.526579"],
    [4, "-1.02305"],
  ] as const)("a coil's 0.5 Ω cost a load of %d Ω %s dB at low frequencies", (load, printed) => {
    const filter = network({ L1: [inductor("1 mH", { dcr: 0.5 }), "in", "w"], woofer: [resistor(load), "w", "gnd"] });
    expectPrinted(levelDb(solve(filter, [0]).voltage("woofer"))[0], printed);
    expectPrinted(levelDb(solve(filter, [1e-3]).voltage("woofer"))[0], printed);
  });

  it.each([
    [1, "0.8700", "65.5639"],
    [2, "1.6454", "30.8969"],
    [3, "2.3364", "19.3922"],
    [4, "2.9523", "13.6777"],
    [5, "3.5013", "10.2791"],
    [6, "3.9905", "8.0381"],
    [7, "4.4265", "6.4583"],
    [8, "4.8151", "5.2914"],
    [9, "5.1615", "4.3995"],
    [10, "5.4702", "3.6998"],
    [11, "5.7453", "3.1396"],
    [12, "5.9905", "2.6836"],
    [20, "7.2000", "0.8889"],
  ] as const)("an L-pad of %d dB for 8 Ω has %s Ω and %s Ω, and the source sees 8 Ω", (attenuationDb, series, shunt) => {
    const pad = lPad({ attenuationDb, load: 8 });
    expectPrinted(pad.series, series);
    expectPrinted(pad.shunt, shunt);
    const sweep = solve(network({ pad: [pad, "in", "t", "gnd"], tweeter: [resistor(8), "t", "gnd"] }), [1000]);
    expect(Math.abs(sweep.impedance.re[0]! - 8)).toBeLessThan(1e-12);
    expect(Math.abs(levelDb(sweep.voltage("tweeter"))[0]! + attenuationDb)).toBeLessThan(1e-12);
  });

  it("a tangent of loss angle of 0.001 is a series resistance of 0.0159154943 Ω in 10 µF at 1 kHz, and as much less as the frequency is more", () => {
    const { impedance } = solve({ C1: [capacitor("10 µF", { dissipationFactor: 0.001 }), "in", "gnd"] }, [1000, 10_000]);
    expectPrinted(impedance.re[0], "0.0159154943");
    expectPrinted(impedance.re[1]! * 10, "0.0159154943");
    expect(Math.abs(impedance.im[0]! * omega * 10e-6 + 1)).toBeLessThan(1e-14);
  });

  it("a voice coil of 6 Ω and 0.5 mH is 6 Ω beside 6 Ω in series with 13.8888889 µF", () => {
    const c = 0.0005 / 6 ** 2;
    expectPrinted(c * 1e6, "13.8888889");
    const { impedance } = solve(
      { woofer: [driverImpedance({ re: 6, le: 0.0005 }), "in", "gnd"], R1: [resistor(6), "in", "z"], C1: [capacitor(c), "z", "gnd"] },
      [0, 10, 100, 1000, 10_000, 100_000],
    );
    impedance.re.forEach((re, i) => expect(Math.hypot(re - 6, impedance.im[i]!)).toBeLessThan(2e-15 * 6));
  });

  it("a driver of 6 Ω with Qms 4 and Qes 0.5 at 50 Hz peaks at 54 Ω and is 18 Ω at 34.6500234 Hz and 72.1500234 Hz", () => {
    const driver = driverImpedance({ re: 6, fs: 50, qms: 4, qes: 0.5 });
    const { impedance } = solve({ woofer: [driver, "in", "gnd"] }, [34.6500234, 50, 72.1500234]);
    expect(Math.hypot(impedance.re[1]! - 54, impedance.im[1]!)).toBeLessThan(1e-13);
    // The frequencies are printed to 5e-8 Hz, and |Z| changes there by less than 2 Ω per Hz.
    for (const i of [0, 2]) expect(Math.abs(Math.hypot(impedance.re[i]!, impedance.im[i]!) - 18)).toBeLessThan(1e-6);
  });

  it("a driver's resonance is levelled to 6 Ω by 6.75 Ω, 9.54929659 mH and 1061.03295 µF in series", () => {
    const [re, fs, qms, qes] = [6, 50, 4, 0.5];
    const [rc, lc, cc] = [re * (1 + qes / qms), (re * qes) / (2 * Math.PI * fs), 1 / (2 * Math.PI * fs * re * qes)];
    expectPrinted(rc, "6.75");
    expectPrinted(lc * 1e3, "9.54929659");
    expectPrinted(cc * 1e6, "1061.03295");
    const levelled = network({
      woofer: [driverImpedance({ re, fs, qms, qes }), "in", "gnd"],
      R1: [resistor(rc), "in", "a"],
      L1: [inductor(lc), "a", "b"],
      C1: [capacitor(cc), "b", "gnd"],
    });
    const { impedance } = solve(levelled, [1, 20, 50, 51, 200, 20_000]);
    impedance.re.forEach((value, i) => expect(Math.hypot(value - 6, impedance.im[i]!)).toBeLessThan(1e-13));
  });

  it("a trap of 8 Ω, 0.636619772 mH and 39.7887358 µF before 8 Ω takes 6.0206 dB at 1 kHz and 1.139434 dB an octave to either side", () => {
    const [r, f, width] = [8, 1000, 500];
    const c = 1 / (2 * Math.PI * width * r);
    const l = 1 / ((2 * Math.PI * f) ** 2 * c);
    expectPrinted(c * 1e6, "39.7887358");
    expectPrinted(l * 1e3, "0.636619772");
    const trap = network({
      R1: [resistor(r), "in", "t"],
      L1: [inductor(l), "in", "t"],
      C1: [capacitor(c), "in", "t"],
      tweeter: [resistor(8), "t", "gnd"],
    });
    const level = levelDb(solve(trap, [500, 1000, 2000]).voltage("tweeter"));
    expectPrinted(level[0], "-1.139434");
    expectPrinted(level[1], "-6.0206");
    expectPrinted(level[2], "-1.139434");
  });
});
