// Sources with free edges seen from behind, where the weights (1 + cos θ)/2 of their elements vanish: against closed forms, and Simpson's rule with
// steps below a fortieth of a radian. Errors are stated in parts of the source in phase with every element counted whole.
import { type Point } from "dividing-network/physics";
import { lineSource, panelSource, pistonSource, pressureAt, ringSource, type Source } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";

const speedOfSound = 343;
const mounting = "free-edge";
const fieldOf = (source: Source, frequency: number, point: Point, tolerance = 1e-6): { re: number; im: number; errorEstimate: number } => {
  const { re, im, errorEstimate } = pressureAt([source], [frequency], { points: [point], air: { speedOfSound }, tolerance });
  return { re: re[0]!, im: im[0]!, errorEstimate };
};

/** Simpson's rule for a line of length 1 m bent to a radius of 2 m, at (x, 0, 0) from its middle: its field, and the same in phase and whole. */
function bentLine(x: number, k: number, intervals: number): { re: number; im: number; whole: number } {
  let [re, im, whole] = [0, 0, 0];
  for (let i = 0; i <= intervals; i++) {
    const weight = (i === 0 || i === intervals ? 1 : i % 2 === 1 ? 4 : 2) / (3 * intervals);
    const angle = (i / intervals - 0.5) / 2;
    const [dx, dz] = [x - 2 * (Math.cos(angle) - 1), -2 * Math.sin(angle)];
    const path = Math.hypot(dx, dz);
    const slant = (1 + (dx * Math.cos(angle) + dz * Math.sin(angle)) / path) / 2;
    re += (weight * slant * Math.cos(k * path)) / path;
    im -= (weight * slant * Math.sin(k * path)) / path;
    whole += weight / path;
  }
  return { re, im, whole };
}

describe("behind a source with free edges", () => {
  it("a bent line has a field straight behind it, however small: 1 m long, of radius 2 m, 4.0714 m away, 11 344 Hz", () => {
    const source = lineSource({ position: [1.0714, 3, -3], length: 1, bendRadius: 2, mounting });
    const k = (2 * Math.PI * 11344) / speedOfSound;
    const [exact, coarser] = [16000, 8000].map((intervals) => bentLine(-4.0714, k, intervals)) as [
      ReturnType<typeof bentLine>,
      ReturnType<typeof bentLine>,
    ];
    expect(Math.hypot(exact.re - coarser.re, exact.im - coarser.im)).toBeLessThan(1e-12);
    const { re, im, errorEstimate } = fieldOf(source, 11344, [-3, 3, -3]);
    expect(errorEstimate).toBeLessThanOrEqual(1e-6);
    expect(Math.hypot(re - exact.re, im - exact.im)).toBeLessThan(1e-6 * exact.whole);
    // A hundred times the tolerance: a field that was lost would not pass.
    expect(Math.hypot(exact.re, exact.im)).toBeGreaterThan(1e-4 * exact.whole);
  });

  it.each([
    [-0.3, 40],
    [-1, 2000],
    [-4, 11344],
    [-40, 20000],
  ])("a bent line at %d m and %d Hz has the field of its elements", (x, frequency) => {
    const exact = bentLine(x, (2 * Math.PI * frequency) / speedOfSound, 16000);
    const { re, im } = fieldOf(lineSource({ length: 1, bendRadius: 2, mounting }), frequency, [x, 0, 0], 1e-8);
    expect(Math.hypot(re - exact.re, im - exact.im)).toBeLessThan(1e-8 * exact.whole);
  });

  it.each([0.1, 1, 4, 30, 1000])(
    "the static limits at %d m are (asinh t − atan t)/L of a line and (R − x − x ln(R/x))/a² of a disc",
    (x) => {
      const [length, a] = [1.2, 0.1];
      const t = length / 2 / x;
      // Far away both differences cancel; their series begin with t³/6 and a⁴/8x³.
      const line = x > 100 ? (t ** 3 / 6 - t ** 5 * (1 / 5 - 3 / 40)) / length : (Math.asinh(t) - Math.atan(t)) / length;
      expect(Math.abs(fieldOf(lineSource({ length, mounting }), 0, [-x, 0, 0], 1e-9).re - line) * x).toBeLessThan(1e-9);
      const edge = Math.hypot(x, a);
      const disc = x > 10 ? a ** 2 / (8 * x ** 3) : (edge - x - x * Math.log(edge / x)) / a ** 2;
      expect(Math.abs(fieldOf(pistonSource({ radius: a, mounting }), 0, [-x, 0, 0], 1e-9).re - disc) * x).toBeLessThan(2e-9);
    },
  );

  it("a ring has on its axis (1 − x/R)/2 of what reaches the front", () => {
    for (const x of [0.01, 0.5, 20, 1e4]) {
      const path = Math.hypot(x, 0.2);
      const { re, im } = fieldOf(ringSource({ radius: 0.2, mounting }), 3000, [-x, 0, 0]);
      expect(Math.abs(Math.hypot(re, im) * path - (1 - x / path) / 2)).toBeLessThan(1e-12);
    }
  });

  it("every shape has a field at every distance, which fades against the front", () => {
    const shapes = [
      lineSource({ length: 1, bendRadius: 2, mounting }),
      lineSource({ length: 1, bendRadius: -2, mounting }),
      lineSource({ length: 1, mounting }),
      panelSource({ width: 0.3, height: 1, mounting }),
      pistonSource({ radius: 0.1, mounting }),
      ringSource({ radius: 0.2, mounting }),
    ];
    for (const source of shapes) {
      for (const distance of [5, 100, 1e5, 1e8]) {
        for (const frequency of [0, 20, 1000, 11344]) {
          const [rear, front] = [-distance, distance].map((x) => fieldOf(source, frequency, [x, 0, 0])) as [
            ReturnType<typeof fieldOf>,
            ReturnType<typeof fieldOf>,
          ];
          expect(Math.hypot(rear.re, rear.im) * distance, `${distance} m, ${frequency} Hz`).toBeLessThan(0.02);
          expect(Math.hypot(front.re, front.im) * distance).toBeLessThan(1.01);
        }
      }
    }
  });
});
