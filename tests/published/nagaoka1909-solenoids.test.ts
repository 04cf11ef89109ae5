// Source: Nagaoka (1909), coefficient of a single layer; Wheeler (1928) and Lundin (1985), approximations; Brooks (1931), the best shape.
// Provenance: recomputed from the closed form with elliptic integrals; Lundin's coefficients recalled from memory, then recomputed; the constant of the Brooks
// coil from memory. No table and no paper was seen.
import {
  brooksCoilInductance,
  lundinInductance,
  nagaokaCoefficient,
  solenoidInductance,
  wheelerSolenoidInductance,
} from "dividing-network/parts";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const coils = [
  [100, 0.025, 0.05],
  [50, 0.0127, 0.0254],
  [10, 0.05, 0.02],
  [200, 0.01, 0.1],
] as const;
const micro = (
  inductance: (coil: { turns: number; radius: number; length: number }) => number,
  [turns, radius, length]: readonly [number, number, number],
): number => 1e6 * inductance({ turns, radius, length });

published("recomputed", "single layers as current sheets", () => {
  it.each([
    [0.1, "0.958807"],
    [0.5, "0.818136"],
    [1, "0.688423"],
    [3, "0.429199"],
  ])("have Nagaoka's coefficient at diameter/length = %d: %s", (ratio, printed) => {
    expectPrinted(nagaokaCoefficient(ratio), printed);
  });

  it.each(["339.72294", "43.14481", "15.78275", "145.29521"].map((printed, i) => [printed, coils[i]!] as const))(
    "have %s µH",
    (printed, coil) => {
      expectPrinted(micro(solenoidInductance, coil), printed);
    },
  );
});

published("recomputed", "Wheeler's formula for a single layer", () => {
  it.each(["339.39723", "43.10345", "15.14234", "144.47735"].map((printed, i) => [printed, coils[i]!] as const))(
    "gives %s µH",
    (printed, coil) => {
      expectPrinted(micro(wheelerSolenoidInductance, coil), printed);
    },
  );

  it("is 4.06 % low for the coil of 0.4 radii, outside of what it is stated for, and within 1 % for the others", () => {
    expect(
      coils.map((coil) => (100 * (micro(wheelerSolenoidInductance, coil) / micro(solenoidInductance, coil) - 1)).toPrecision(3)),
    ).toEqual(["-0.0959", "-0.0959", "-4.06", "-0.563"]);
  });
});

published("recalled-then-recomputed", "Lundin's formula for 100 turns of radius 25 mm", () => {
  it.each([
    [0.05, "339.72379"],
    [0.5, "47.31521"],
    [0.02, "582.14021"],
  ])("of length %d m gives %s µH, within 3e-6 of the current sheet", (length, printed) => {
    const coil = { turns: 100, radius: 0.025, length };
    expectPrinted(1e6 * lundinInductance(coil), printed);
    expect(Math.abs(lundinInductance(coil) / solenoidInductance(coil) - 1)).toBeLessThan(3e-6);
  });
});

published("from-memory", "the Brooks coil", () => {
  it("has 0.025491 µH times its side in cm times the square of its turns", () => {
    // Side = inner radius = 1 cm: mean radius 1.5 cm.
    expectPrinted(1e6 * brooksCoilInductance({ turns: 1, meanRadius: 0.015 }), "0.025491");
  });
});
