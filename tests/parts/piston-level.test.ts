// Tests src/physics/: simple-source.ts
import { displacementLevelDb, volumeDisplacementFromLevel } from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { uniform } from "../support/uniform";

const decade = (middle: number, spread: number) => uniform(-spread, spread).map((exponent) => middle * 10 ** exponent);

/** kg/m³ at 20 °C and 101 325 Pa: p/(R T) with 287.058 J/(kg K), after ISO 2533. */
const dryAir = 101_325 / (287.058 * 293.15);

describe("level and displacement of a small piston in a baffle", () => {
  it("are those of a monopole: p = ρ Sd ω² x / (2π r), and its root mean square", () => {
    fc.assert(
      fc.property(
        decade(1e-3, 2),
        decade(0.01, 1),
        decade(50, 1),
        decade(1, 1),
        uniform(1, 1.3),
        (displacement, sd, frequency, distance, airDensity) => {
          const pressure = (airDensity * sd * (2 * Math.PI * frequency) ** 2 * displacement) / (2 * Math.PI * distance) / Math.sqrt(2);
          expect(displacementLevelDb({ displacement, sd, frequency, distance, air: { density: airDensity } })).toBeCloseTo(
            20 * Math.log10(pressure / 20e-6),
            9,
          );
        },
      ),
    );
  });

  it("undo each other", () => {
    fc.assert(
      fc.property(uniform(20, 130), decade(50, 1), decade(1, 1), uniform(1, 1.3), (levelDb, frequency, distance, airDensity) => {
        const volume = volumeDisplacementFromLevel({ levelDb, frequency, distance, air: { density: airDensity } });
        expect(
          displacementLevelDb({ displacement: volume / 0.02, sd: 0.02, frequency, distance, air: { density: airDensity } }),
        ).toBeCloseTo(levelDb, 9);
      }),
    );
  });

  it("are those at 1 m in air of 20 °C unless stated, and take text with units", () => {
    const given = { displacement: 0.002, sd: 0.0132, frequency: 40 };
    expect(displacementLevelDb({ displacement: "2 mm", sd: "132 cm²", frequency: "40 Hz" })).toBe(
      displacementLevelDb({ ...given, distance: 1, air: { density: dryAir } }),
    );
    expect(volumeDisplacementFromLevel({ levelDb: 90, frequency: 40 })).toBe(
      volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, distance: "100 cm", air: { density: dryAir } }),
    );
  });

  it("are refused by name where they can't be", () => {
    const given = { displacement: 0.002, sd: 0.0132, frequency: 40, distance: 1, air: { density: 1.2 } };
    for (const name of ["sd", "frequency", "distance"])
      expect(() => displacementLevelDb({ ...given, [name]: 0 }), name).toThrow(new RegExp(`"${name}" must be a finite number above 0`));
    expect(() => displacementLevelDb({ ...given, air: { density: 0 } })).toThrow(/"air.density" must be a finite number at least/);
    expect(() => displacementLevelDb({ ...given, voltage: 3 } as never)).toThrow(/unknown option/);
    for (const levelDb of [-200, 250]) expect(volumeDisplacementFromLevel({ levelDb, frequency: 40 })).toBeGreaterThan(0);
    for (const levelDb of [-200.1, 250.1, NaN]) expect(() => volumeDisplacementFromLevel({ levelDb, frequency: 40 })).toThrow(/"levelDb"/);
    for (const name of ["frequency", "distance"])
      expect(() => volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, [name]: 0 }), name).toThrow(
        new RegExp(`"${name}" must be a finite number above 0`),
      );
    expect(() => volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, sd: 3 } as never)).toThrow(/unknown option/);
  });
});
