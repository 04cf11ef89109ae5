// Source: Rosa and Grover (1912), formula (1) and example 1, for coaxial circles; the near limit after Maxwell (1865), eq. (112); the dipole.
// Provenance: recomputed (by elliptic integrals, by Neumann's integral, and by symmetric integrals); the near limit seen in a secondary text and recomputed.
// No page of these was opened. Lengths in cm and inductances in nH, which were centimetres in the old system.
import { ellipticE, ellipticK } from "dividing-network/numeric";
import { coaxialMutualInductance } from "dividing-network/parts";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const nano = (radius: number, distance: number): number =>
  1e9 * coaxialMutualInductance({ radiusA: radius / 100, radiusB: radius / 100, distance: distance / 100 });

published("recomputed", "mutual inductance of equal coaxial circles of radius 25 cm", () => {
  it.each([
    [1, "1036.6648493"],
    [4, "606.0676284"],
    [10, "337.6847185"],
    [20, "167.0857836"],
    [50, "35.4649816"],
  ])("at %d cm is %s nH", (distance, printed) => {
    expectPrinted(nano(25, distance), printed);
  });

  it("at ten radii is 3 % below that of two dipoles, 0.0383299065 nH of 0.0394784176 nH", () => {
    expectPrinted(nano(2, 20), "0.0383299065");
    expectPrinted(1e9 * ((2e-7 * Math.PI ** 2 * 0.02 ** 4) / 0.2 ** 3), "0.0394784176");
  });
});

published("seen-in-secondary-text and recomputed", "the near limit 4πa(ln(8a/d) − 2) nH", () => {
  it("of circles of 25 cm at 1 cm is 1036.196961 nH, 4.5e-4 below what it is the limit of", () => {
    const limit = 4 * Math.PI * 25 * (Math.log(8 * 25) - 2);
    expectPrinted(limit, "1036.196961");
    expectPrinted(nano(25, 1), "1036.664849");
    expect(nano(25, 1) / limit - 1).toBeCloseTo(4.5e-4, 5);
  });
});

published("recomputed", "complete elliptic integrals at m = 1/2, as in Abramowitz and Stegun's table 17.1", () => {
  it("are 1.8540746773 and 1.3506438810", () => {
    expectPrinted(ellipticK(0.5), "1.8540746773");
    expectPrinted(ellipticE(0.5), "1.3506438810");
  });
});
