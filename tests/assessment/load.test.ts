// Tests src/assessment/: drive.ts, load-grid.ts
// Resistive two-way networks by computation: a Butterworth pair presents exactly R, a Linkwitz–Riley pair rises to 2R at its corner (the
// conductances |H|²/R add, the susceptances cancel), and a second-order Butterworth pair whose corners are spread into overlap by 1.5
// each dips to R (1 + 1.5⁻⁴)/2 = 0.60 R.
import { describe, expect, it } from "vitest";
import { driveLevelDb, loadOf } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import { solve, type Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { flat, meanOverOctaves, sampled, twoWay, twoWayBox } from "../support/synthetic";

const R = 6;
const corner = 1000;
const loadOfPair = (network: Entries) => loadOf(twoWayBox(network, flat, flat), { ratedImpedance: R });
const magnitudes = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }) =>
  Array.from(re, (value, index) => Math.hypot(value, im[index]!));

/** Hz above the corner at which two second-order Butterworth ladders, spread by 1.5 each, come to `part` of R: by bisection on their own impedances. */
function edgeOfDip(part: number): number {
  // √2 j x + 1/(1 + j x/√2), x = f/f₁, in units of R; the high-pass has the same with −f₂/f for x.
  const admittance = (x: number): readonly [number, number] => {
    const square = 1 + x ** 2 / 2;
    const [re, im] = [1 / square, Math.SQRT2 * x - x / Math.SQRT2 / square];
    return [re / (re ** 2 + im ** 2), -im / (re ** 2 + im ** 2)];
  };
  const size = (f: number) => {
    const [low, high] = [admittance(f / (corner * 1.5)), admittance(-(corner / 1.5) / f)];
    return 1 / Math.hypot(low[0] + high[0], low[1] + high[1]);
  };
  let [below, above] = [corner, 3 * corner];
  for (let i = 0; i < 60; i++) {
    const middle = (below + above) / 2;
    if (size(middle) < part) below = middle;
    else above = middle;
  }
  return below;
}

describe("the load of a resistive two-way network", () => {
  for (const [name, digits] of [
    ["Butterworth 1", 9],
    ["Butterworth 2", 9],
    ["Butterworth 3", 9],
    ["Butterworth 4", 5],
  ] as const) {
    it(`${name}: stays at R`, () => {
      const { impedance, minimum, lowestPhaseDegrees, highestPhaseDegrees } = loadOfPair(twoWay(name, R, corner));
      for (const value of magnitudes(impedance)) expect(value / R).toBeCloseTo(1, digits);
      expect(minimum / R).toBeCloseTo(1, digits);
      expect(lowestPhaseDegrees).toBeCloseTo(0, digits - 2);
      expect(highestPhaseDegrees).toBeCloseTo(0, digits - 2);
    });
  }

  for (const name of ["Linkwitz–Riley 2", "Linkwitz–Riley 4"]) {
    it(`${name}: rises to 2R at the corner, and is R far from it`, () => {
      const { impedance, minimum } = loadOfPair(twoWay(name, R, corner));
      const size = magnitudes(impedance);
      const largest = size.indexOf(Math.max(...size));
      expect(impedance.frequencies[largest]).toBeCloseTo(corner, 6);
      expect(size[largest]! / R).toBeCloseTo(2, 9);
      expect(size[0]! / R).toBeCloseTo(1, 2);
      expect(minimum / R).toBeGreaterThan(0.99);
    });
  }

  it("second-order corners spread into overlap by 1.5 each: dips to 0.60 R, half the current in each branch", () => {
    const { minimum, minimumFrequency, shares, octavesBelowLimit } = loadOfPair(twoWay("Butterworth 2", R, corner * 1.5, corner / 1.5));
    expect(minimum / R).toBeCloseTo((1 + 1.5 ** -4) / 2, 9);
    expect(minimum / R).toBeCloseTo(0.6, 2);
    expect(minimumFrequency).toBeCloseTo(corner, 6);
    expect(shares.map(({ drivers }) => drivers).sort()).toEqual([["tweeter"], ["woofer"]]);
    for (const { share } of shares) expect(share).toBeCloseTo(0.5, 9);
    // Below 0.8 R from the mirror image of this edge to it, the pair being symmetrical about its corner.
    expect(octavesBelowLimit).toBeCloseTo(2 * Math.log2(edgeOfDip(0.8) / corner), 3);
  });
});

describe("whose current makes the smallest impedance", () => {
  const woofer = driverImpedance({ re: 6, le: 0.0005, fs: 50, qms: 3, qes: 0.4 });
  const tweeter = driverImpedance({ re: 5, le: 0.00004, fs: 800, qms: 2, qes: 1.2 });

  it("is both drivers' where they work on top of each other", () => {
    const { shares } = loadOf(
      twoWayBox(
        {
          L1: [inductor("0.1 mH"), "in", "w"],
          woofer: [woofer, "w", "gnd"],
          C1: [capacitor("30 µF"), "in", "t"],
          tweeter: [tweeter, "t", "gnd"],
        },
        flat,
        flat,
      ),
      { ratedImpedance: 6 },
    );
    expect(shares.map(({ drivers, parts }) => [...drivers, ...parts])).toEqual(
      expect.arrayContaining([
        ["woofer", "L1"],
        ["tweeter", "C1"],
      ]),
    );
    for (const { share } of shares) expect(share).toBeGreaterThan(0.25);
    expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  it("is that of a shunt trap where one sits across the input, which feeds no driver and is named so", () => {
    const box = loudspeaker({
      network: {
        woofer: [woofer, "in", "gnd"],
        Rt: [resistor("1 Ω"), "in", "a"],
        Lt: [inductor("1 mH"), "a", "b"],
        Ct: [capacitor("25.33 µF"), "b", "gnd"],
      },
      drivers: [{ name: "woofer", role: "woofer", pressures: flat }],
    });
    const { minimumFrequency, shares } = loadOf(box, { ratedImpedance: 6 });
    // 1/(2π √(LC)) = 1000 Hz; the woofer beside it is inductive and moves the least by some hertz.
    expect(minimumFrequency / 1000).toBeCloseTo(1, 2);
    expect(shares[0]).toMatchObject({ parts: ["Rt"], drivers: [] });
    expect(shares[0]!.share).toBeGreaterThan(0.8);
    expect(shares[1]).toMatchObject({ parts: ["woofer"], drivers: ["woofer"] });
  });

  it("counts a current into the terminal by its sign, whichever way round a part is entered", () => {
    const shares = (entry: readonly [ReturnType<typeof resistor>, string, string]) =>
      loadOf(loudspeaker({ network: { a: entry, b: [resistor(12), "in", "gnd"] } as Entries, drivers: [{ name: "a", pressures: flat }] }), {
        ratedImpedance: 6,
      }).shares;
    for (const entry of [
      [resistor(4), "in", "gnd"],
      [resistor(4), "gnd", "in"],
    ] as const) {
      expect(shares(entry)).toMatchObject([{ parts: ["a"] }, { parts: ["b"] }]);
      expect(shares(entry)[0]!.share).toBeCloseTo(0.75, 12);
    }
  });
});

describe("the load", () => {
  it("leaves out amplifier and cable, and is judged where the drivers' impedances are known", () => {
    const measured = driverImpedance(sampled(() => [8, 0]));
    const box = loudspeaker({
      network: { cone: [measured, "in", "gnd"] },
      drivers: [{ name: "cone", pressures: flat }],
      sourceImpedance: 3,
    });
    const { minimum, impedance, octavesBelowLimit } = loadOf(box, { ratedImpedance: 8 });
    expect(minimum).toBeCloseTo(8, 12);
    expect(impedance.frequencies[0]).toBeGreaterThanOrEqual(62.5 - 1e-9);
    expect(impedance.frequencies.at(-1)).toBeLessThanOrEqual(16_000 + 1e-6);
    expect(octavesBelowLimit).toBe(0);
    expect(loadOf(box, { ratedImpedance: 11 }).octavesBelowLimit).toBeCloseTo(8, 6);
  });

  it("is asked for at frequencies, or refused", () => {
    const box = twoWayBox(twoWay("Butterworth 1", R, corner), flat, flat);
    expect(loadOf(box, { ratedImpedance: 6, frequencies: [100, 200] }).impedance.frequencies).toEqual(Float64Array.of(100, 200));
    expect(() => loadOf(box, { ratedImpedance: 6, frequencies: [200, 100] })).toThrowError(
      expect.objectContaining({ code: "invalid-argument" }),
    );
    expect(() => loadOf(box, { ratedImpedance: -4 })).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => loadOf(box, { rated: 4 } as never)).toThrowError(expect.objectContaining({ code: "unknown-option" }));
  });
});

describe("the drive of a part", () => {
  it("is the mean of its level over log frequency in a band, behind amplifier and cable", () => {
    const network: Entries = { C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(5), "t", "gnd"] };
    const box = loudspeaker({ network, drivers: [{ name: "tweeter", role: "tweeter", pressures: flat }], sourceImpedance: 0.5 });
    const mean = meanOverOctaves((f) => 20 * Math.log10(5 / Math.hypot(5.5, 1 / (2 * Math.PI * f * 10e-6))), 500, 2000);
    expect(driveLevelDb(box, { part: "tweeter", band: { from: 500, to: 2000 } })).toBeCloseTo(mean, 4);
    expect(driveLevelDb(box, { part: "tweeter", band: { from: "500 Hz", to: "2 kHz" } })).toBeCloseTo(mean, 4);
    const { re, im } = solve(network, [1000], { sourceImpedance: 0.5 }).voltage("tweeter");
    expect(driveLevelDb(box, { part: "tweeter", band: { from: 990, to: 1010 } })).toBeCloseTo(
      20 * Math.log10(Math.hypot(re[0]!, im[0]!)),
      3,
    );
  });

  it("is refused for a part that isn't there and without a band", () => {
    const box = twoWayBox(twoWay("Butterworth 1", R, corner), flat, flat);
    expect(() => driveLevelDb(box, { part: "squawker", band: { from: 500, to: 2000 } })).toThrowError(
      expect.objectContaining({ name: "DividingNetworkError" }),
    );
    expect(() => driveLevelDb(box, { part: "tweeter" } as never)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });
});
