// Source: standard attenuator theory; resonant circuits from textbooks; the first-order series network by exact algebra.
// Provenance: recomputed, all of them.
import { attenuator, parallelTrap, seriesCrossover } from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { levelDb } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const pads: readonly [number, string, string][] = [
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
];

published("recomputed", "attenuators and traps (textbooks)", () => {
  it.each(pads)("an L-pad of %d dB for 8 Ω", (attenuationDb, rs, rp) => {
    const pad = attenuator({ attenuationDb, load: 8 });
    expectPrinted(pad.rs, rs);
    expectPrinted(pad.rp, rp);
    const sweep = solve(network(join(pad.branch({ from: "in", to: "d" }), { D1: [resistor(8), "d", "gnd"] })), [1000]);
    expect(sweep.impedance.re[0]).toBeCloseTo(8, 12);
    expect(levelDb(sweep.voltage("d"))[0]).toBeCloseTo(-attenuationDb, 12);
  });

  it("a trap of 8 Ω at 1 kHz, 500 Hz wide, before 8 Ω", () => {
    const trap = parallelTrap({ depthDb: 20 * Math.log10(2), frequency: 1000, bandwidth: 500, load: 8 });
    expectPrinted(trap.r, "8.00000000");
    expectPrinted(trap.c * 1e6, "39.7887358");
    expectPrinted(trap.l * 1e3, "0.636619772");
    const level = levelDb(
      solve(network(join(trap.branch({ from: "in", to: "d" }), { D1: [resistor(8), "d", "gnd"] })), [500, 1000, 2000]).voltage("d"),
    );
    expectPrinted(level[0], "-1.139434");
    expectPrinted(level[1], "-6.0206");
    expectPrinted(level[2], "-1.139434");
  });

  it("a first-order series network is 1/(1 + s) and s/(1 + s), and R at every frequency", () => {
    const made = seriesCrossover({ order: 1, frequency: 1000, load: 8 });
    const nodes = { from: "in", to: "gnd" };
    const { lowPass, highPass } = made.terminals(nodes);
    const drivers = { W1: [resistor(8), ...lowPass], T1: [resistor(8), ...highPass] } as const;
    const grid = logGrid(10, 100e3, 201);
    const sweep = solve(network(join(made.branch(nodes), drivers)), grid);
    const [woofer, tweeter] = [sweep.voltage("W1"), sweep.voltage("T1")];
    grid.forEach((frequency, i) => {
      const x = frequency / 1000;
      expect(Math.hypot(woofer.re[i]! - 1 / (1 + x * x), woofer.im[i]! + x / (1 + x * x))).toBeLessThan(1e-12);
      expect(Math.hypot(tweeter.re[i]! - (x * x) / (1 + x * x), tweeter.im[i]! - x / (1 + x * x))).toBeLessThan(1e-12);
      expect(Math.hypot(sweep.impedance.re[i]! - 8, sweep.impedance.im[i]!)).toBeLessThan(8e-12);
    });
  });
});
