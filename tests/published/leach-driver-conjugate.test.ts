// Source: after Leach (Introduction to Electroacoustics), the chapter on crossovers: the dual of a driver's motional branch; Zobel network from textbooks.
// Provenance: recomputed.
import { conjugateNetwork, zobel } from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { join, network, solve } from "dividing-network/network";
import { driverImpedance } from "dividing-network/parts";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

published("recomputed", "networks that make a driver's impedance constant (Leach)", () => {
  it("the series circuit for Re = 6 Ω, fs = 50 Hz, Qms = 4, Qes = 0.5, and 6 Ω at every frequency", () => {
    const driver = { re: 6, fs: 50, qms: 4, qes: 0.5 };
    const { rc, lc, cc, branch } = conjugateNetwork(driver);
    expectPrinted(rc, "6.750000000");
    expectPrinted(lc * 1e3, "9.54929659");
    expectPrinted(cc * 1e6, "1061.03295");
    const { re, im } = solve(
      network(join({ D1: [driverImpedance(driver), "in", "gnd"] }, branch({ from: "in", to: "gnd" }))),
      logGrid(1, 20e3, 201),
    ).impedance;
    re.forEach((value, i) => expect(Math.hypot(value - 6, im[i]!)).toBeLessThan(1e-12));
  });

  it("the Zobel network for Re = 6 Ω, Le = 0.5 mH, and 6 Ω at every frequency", () => {
    const { r, c, branch } = zobel({ re: 6, le: 0.0005 });
    expect(r).toBe(6);
    expectPrinted(c * 1e6, "13.8888889");
    const { re, im } = solve(
      network(join({ D1: [driverImpedance({ re: 6, le: 0.0005 }), "in", "gnd"] }, branch({ from: "in", to: "gnd" }))),
      logGrid(1, 20e3, 201),
    ).impedance;
    re.forEach((value, i) => expect(Math.hypot(value - 6, im[i]!)).toBeLessThan(1e-12));
  });
});
