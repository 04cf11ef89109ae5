// Tests src/network/solve/: impedance-of.ts, source-law.ts
// Tests src/numeric/: complex-arrays.ts
// The impedance between any two nodes: closed forms, reciprocity, open-circuit voltage over short-circuit current, and 50 digits.
import { drivingPointImpedance, network, solve, type Entries, type Entry } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { difference, errorOf, solvePrecisely } from "../support/precise";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";
import { cases } from "../support/cases";

type C = readonly [re: number, im: number];
const add = (a: C, b: C): C => [a[0] + b[0], a[1] + b[1]];
const divide = ([a, b]: C, [c, d]: C): C => [(a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)];
const inverse = (a: C): C => divide([1, 0], a);
const parallel = (...all: readonly C[]): C => inverse(all.map(inverse).reduce(add));
const at = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }, i = 0): C => [re[i]!, im[i]!];
const near = (found: C, wanted: C, relative = 1e-14) =>
  expect(Math.hypot(found[0] - wanted[0], found[1] - wanted[1])).toBeLessThanOrEqual(relative * Math.hypot(...wanted));

const omega = 2 * Math.PI * 700;
const highPass = network({
  C1: [capacitor(6.8e-6, { esr: 0.015 }), "in", "a"],
  L1: [inductor(0.33e-3, { dcr: 0.24 }), "a", "gnd"],
  R1: [resistor(2.2), "a", "d"],
  tweeter: [driverImpedance({ re: 5.1, le: 45e-6, fs: 820, qms: 2.1, qes: 1.4 }), "d", "gnd"],
});
const zc: C = [0.015, -1 / (omega * 6.8e-6)];
const zl: C = [0.24, omega * 0.33e-3];

describe("the impedance between two nodes", () => {
  it("is what a driver sees of a second-order network: R + (C with the source's impedance across L)", () => {
    const seen = drivingPointImpedance(highPass, { from: "d" }, [700], {
      sourceImpedance: { resistance: 0.2, inductance: 3e-6 },
      without: "tweeter",
    });
    near(at(seen), add([2.2, 0], parallel(add(zc, [0.2, omega * 3e-6]), zl)));
    near(at(drivingPointImpedance(highPass, { from: "d" }, [700], { without: ["tweeter"] })), add([2.2, 0], parallel(zc, zl)));
  });

  it("has the driver across it unless that is left out", () => {
    const z = at(driverAlone([700]));
    near(at(drivingPointImpedance(highPass, { from: "d" }, [700])), parallel(z, add([2.2, 0], parallel(zc, zl))));
  });

  it("at the input is the source's impedance across what the source sees", () => {
    const z = at(solve(highPass, [700]).impedance);
    near(at(drivingPointImpedance(highPass, { from: "in" }, [700], { sourceImpedance: 4 })), parallel([4, 0], z));
    expect(at(drivingPointImpedance(highPass, { from: "in" }, [700]))).toEqual([0, 0]);
  });

  it("takes the source's impedance as a response, of which 0 Ω at one frequency is a value like any other", () => {
    const source = frequencyResponse([500, 700, 900], [0.3, 0, 0.5], [0.1, 0, -0.1]);
    const grid = [500, 700, 900];
    const seen = drivingPointImpedance(highPass, { from: "a" }, grid, { sourceImpedance: source });
    const shorted = drivingPointImpedance(highPass, { from: "a" }, grid);
    const stated = drivingPointImpedance(highPass, { from: "a" }, grid, { sourceImpedance: 0.5 });
    near(at(seen, 1), at(shorted, 1));
    expect(at(seen, 0)).not.toEqual(at(shorted, 0));
    expect(at(seen, 2)).not.toEqual(at(stated, 2));
    const atInput = drivingPointImpedance(highPass, { from: "in" }, grid, { sourceImpedance: source });
    expect(at(atInput, 1)).toEqual([0, 0]);
    near(at(atInput, 0), parallel([0.3, 0.1], at(solve(highPass, grid).impedance, 0)));
    expect(() => drivingPointImpedance(highPass, { from: "a" }, [100], { sourceImpedance: source })).toThrow(
      /must be known at every frequency/,
    );
  });

  it("through an ideal transformer is that of the other side times the ratio squared", () => {
    const entries = network({
      R0: [resistor(3), "in", "p"],
      T1: [transformer({ ratio: 2 }), "p", "gnd", "s", "gnd"],
      R1: [resistor(5), "s", "gnd"],
    });
    near(at(drivingPointImpedance(entries, { from: "s" }, [100], { without: "R1" })), [0.75, 0], 1e-13);
    near(at(drivingPointImpedance(entries, { from: "p" }, [100], { sourceImpedance: 1 })), parallel([4, 0], [20, 0]), 1e-13);
  });

  it("knows a winding that nothing but its field joins to the rest", () => {
    const entries = network({
      R0: [resistor(3), "in", "p"],
      L1: [inductor(2e-3), "p", "gnd"],
      L2: [inductor(1e-3), "s", "t"],
      K: [coupling(0.6), "L1", "L2"],
      R2: [resistor(7), "s", "t"],
      tie: [resistor(1e3), "t", "gnd"],
    });
    const mutual = omega * 0.6 * Math.sqrt(2e-6);
    const coil = add([0, omega * 2e-3], divide([mutual * mutual, 0], [7, omega * 1e-3]));
    near(at(drivingPointImpedance(entries, { from: "p" }, [700])), parallel([3, 0], coil), 1e-13);
    near(at(drivingPointImpedance(entries, { from: "p" }, [700], { without: "tie" })), parallel([3, 0], coil), 1e-13);
    near(at(drivingPointImpedance(entries, { from: "p" }, [700], { without: "L2" })), parallel([3, 0], [0, omega * 2e-3]), 1e-13);
    expect(at(drivingPointImpedance(entries, { from: "s", to: "t" }, [0], { without: "R2" }))).toEqual([0, 0]);
    near(
      at(drivingPointImpedance(entries, { from: "s", to: "t" }, [700], { without: ["R2", "tie"] })),
      add([0, omega * 1e-3], divide([mutual * mutual, 0], [3, omega * 2e-3])),
      1e-12,
    );
  });

  it("at 0 Hz has capacitors open and coils as their resistance", () => {
    near(at(drivingPointImpedance(highPass, { from: "d" }, [0, 700], { without: "tweeter" })), [2.44, 0]);
    expect(() => drivingPointImpedance(highPass, { from: "in", to: "a" }, [0], { sourceImpedance: 1, without: ["L1"] })).not.toThrow();
    const blocked = network({ C1: [capacitor(1e-6), "in", "a"], R1: [resistor(8), "a", "gnd"] });
    expect(() => drivingPointImpedance(blocked, { from: "a" }, [0], { without: "R1" })).toThrow(
      expect.objectContaining({ code: "infinite-impedance" }),
    );
  });

  it("is the same both ways, whatever the network", () => {
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const random = seeded(seed);
        const entries = randomNetwork(random, { nodes: 2 + Math.floor(random() * 7), decades: 12, couplings: Math.floor(random() * 3) });
        const nodes = ["gnd", ...nodesOf(entries)];
        const from = nodes[Math.floor(random() * nodes.length)]!;
        const to = nodes.filter((node) => node !== from)[Math.floor(random() * (nodes.length - 1))]!;
        const frequency = 10 ** (random() * 5);
        const there = at(drivingPointImpedance(entries, { from, to }, [frequency], { sourceImpedance: 0.1 }));
        const back = at(drivingPointImpedance(entries, { from: to, to: from }, [frequency], { sourceImpedance: 0.1 }));
        near(back, there, 1e-12);
      }),
      { numRuns: cases(200) },
    );
  });

  it("is open-circuit voltage over short-circuit current, as solve finds them", () => {
    let compared = 0;
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const random = seeded(seed);
        const entries = randomNetwork(random, { nodes: 3 + Math.floor(random() * 6) });
        const frequency = 10 ** (1 + random() * 4);
        const sweep = solve(entries, [frequency]);
        for (const from of nodesOf(entries).filter((node) => node !== "in")) {
          const open = at(sweep.voltage(from));
          if (Math.hypot(...open) < 1e-9) continue;
          const short = at(solve({ ...entries, meter: [resistor(0), from, "gnd"] } as Entries, [frequency]).current("meter"));
          near(at(drivingPointImpedance(entries, { from }, [frequency])), divide(open, short), 1e-10);
          compared++;
        }
      }),
      { numRuns: cases(150) },
    );
    expect(compared).toBeGreaterThan(cases(200));
  });

  it("agrees with a 50-digit solution of the network turned round by hand, over 12 decades of values", () => {
    let worst = 0;
    for (let seed = 1; seed <= 150; seed++) {
      const random = seeded(seed);
      const entries = randomNetwork(random, { nodes: 3 + Math.floor(random() * 5), decades: 12, couplings: seed % 3 === 0 ? 1 : 0 });
      const others = nodesOf(entries).filter((node) => node !== "in");
      const from = others[Math.floor(random() * others.length)]!;
      const names: Record<string, string> = { in: "terminal", [from]: "in" };
      const turned = Object.fromEntries(
        Object.entries(entries).map(([name, [part, ...nodes]]) => [
          name,
          [part, ...nodes.map((node) => names[node] ?? node)] as unknown as Entry,
        ]),
      );
      const [resistance, frequency] = [10 ** (12 * random() - 6), 10 ** (1 + 4 * random())];
      const exact = solvePrecisely({ ...turned, source: [resistor(resistance), "terminal", "gnd"] }, frequency).source;
      const [re, im] = at(drivingPointImpedance(entries, { from }, [frequency], { sourceImpedance: resistance }));
      // Z·Y by 50 digits, which should be 1.
      const product = [exact[0].times(re).minus(exact[1].times(im)), exact[0].times(im).plus(exact[1].times(re))] as const;
      const one = [exact[0].times(0).plus(1), exact[0].times(0)] as const;
      worst = Math.max(worst, errorOf(0, 0, difference(product, one), 1));
    }
    expect(worst).toBeGreaterThan(0);
    expect(worst).toBeLessThan(1e-13);
  });

  it("leaves what it is given as it was, and refuses what makes no sense", () => {
    const grid = Float64Array.of(100, 200);
    const before = [JSON.stringify(highPass), grid.slice()];
    drivingPointImpedance(highPass, { from: "d" }, grid, { without: "tweeter" });
    expect([JSON.stringify(highPass), grid]).toEqual(before);
    const code = (wanted: string) => expect.objectContaining({ code: wanted });
    expect(() => drivingPointImpedance(highPass as Entries, { from: "x" }, [100])).toThrow(code("unknown-node"));
    expect(() => drivingPointImpedance(highPass, { from: "d", to: "d" }, [100])).toThrow(code("invalid-argument"));
    expect(() => drivingPointImpedance(highPass as Entries, { from: "d" }, [100], { without: "woofer" })).toThrow(code("unknown-part"));
    expect(() => drivingPointImpedance(highPass, { from: "d" }, [100], { source: 1 } as object)).toThrow(code("unknown-option"));
    expect(() => drivingPointImpedance(highPass, { from: "d" }, [])).toThrow(code("invalid-argument"));
    expect(() => drivingPointImpedance(highPass, { from: "d" }, [100], { without: ["tweeter", "R1"] })).toThrow(code("infinite-impedance"));
    expect(() => drivingPointImpedance(highPass, { from: "d" }, [100], { sourceImpedance: -1 })).toThrow(code("invalid-argument"));
  });
});

function driverAlone(frequencies: number[]) {
  return solve(network({ tweeter: [highPass.tweeter[0], "in", "gnd"] }), frequencies).impedance;
}
