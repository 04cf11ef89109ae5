// Sources from so far away that the rounding of a path is a fair part of a radian: against the closed forms of the far field, J1 and J0 from their
// integrals over angle, by a rule that is exact to rounding for periodic functions.
import { type Point } from "dividing-network/physics";
import { lineSource, panelSource, pistonSource, pressureAt, ringSource, type Source } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";

const speedOfSound = 340;
/** The Bessel function of whole order, as the mean of cos(nφ − x sin φ) over a turn. */
const bessel = (order: number, x: number): number => {
  const steps = 256;
  return Array.from({ length: steps }, (_, i) => (2 * Math.PI * i) / steps).reduce(
    (sum, phi) => sum + Math.cos(order * phi - x * Math.sin(phi)) / steps,
    0,
  );
};
const sinc = (x: number): number => (x === 0 ? 1 : Math.sin(x) / x);

function farLevel(source: Source, frequency: number, distance: number, degrees: number, tolerance: number): number {
  const angle = (degrees * Math.PI) / 180;
  const point: Point = [distance * Math.cos(angle), 0, distance * Math.sin(angle)];
  const { re, im, errorEstimate } = pressureAt([source], [frequency], { points: [point], air: { speedOfSound }, tolerance });
  expect(errorEstimate).toBeLessThanOrEqual(tolerance);
  return distance * Math.hypot(re[0]!, im[0]!);
}

describe("far away", () => {
  it("a piston of 0.1 m is heard at 100 km, 0.005 418° off its axis, within 1e-8 (ka = 3.1096)", () => {
    const [ka, degrees] = [3.109602559193266, 0.00541828665882349];
    const x = ka * Math.sin((degrees * Math.PI) / 180);
    const level = farLevel(pistonSource({ radius: 0.1 }), (ka * speedOfSound) / (2 * Math.PI * 0.1), 1e5, degrees, 1e-8);
    expect(Math.abs(level - (2 * bessel(1, x)) / x)).toBeLessThan(2e-8);
  });

  const a = 0.1;
  const shapes: readonly [name: string, source: Source, pattern: (kaSine: number) => number][] = [
    ["a piston", pistonSource({ radius: a }), (x) => (2 * bessel(1, x)) / x],
    ["a ring", ringSource({ radius: a }), (x) => bessel(0, x)],
    ["a line", lineSource({ length: 2 * a }), sinc],
    ["a panel", panelSource({ width: 3 * a, height: 2 * a }), sinc],
    ["a line with free edges", lineSource({ length: 2 * a, mounting: "free-edge" }), sinc],
  ];
  it.each(shapes)("%s has its far-field pattern at the finest tolerance, from 10 to 10 000 km", (name, source, pattern) => {
    for (const distance of [1e4, 1e6, 1e7]) {
      for (const ka of [0.3, 5, 20]) {
        for (const degrees of [1e-4, 0.03, 2, 40, 89]) {
          const sine = Math.sin((degrees * Math.PI) / 180);
          const slant = name.endsWith("free edges") ? (1 + Math.cos((degrees * Math.PI) / 180)) / 2 : 1;
          const level = farLevel(source, (ka * speedOfSound) / (2 * Math.PI * a), distance, degrees, 1e-9);
          expect(Math.abs(level - slant * Math.abs(pattern(ka * sine))), `${distance} m, ka ${ka}, ${degrees}°`).toBeLessThan(
            2e-9 + (ka * a) / distance,
          );
        }
      }
    }
  });
});
