// The outside route: the rigid sphere of Olson's curves (1951), whose diffraction on axis is known exactly as a sum over spherical harmonics. No
// curve of the paper was seen; the sum is computed here.
import { baffleStep } from "dividing-network/alignments";
import { join, network, solve, type Entries } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { resistor } from "dividing-network/parts";
import { baffleStepResponse, levelDb, phaseDegrees } from "dividing-network/response";
import { describe, expect, it } from "vitest";

/**
 * dB: how much a point source on a rigid sphere gains on its axis in the far field over its level at zero frequency:
 * (ka)⁻² |Σ (2n + 1) jⁿ / hₙ′(ka)|, hₙ the outgoing spherical Hankel functions.
 */
function sphereGainDb(ka: number): number {
  const terms = 40;
  // jₙ by recurrence from above, yₙ from below: each the way in which it doesn't cancel.
  const [j, y] = [new Array<number>(91).fill(0), [-Math.cos(ka) / ka, -Math.cos(ka) / ka ** 2 - Math.sin(ka) / ka]];
  j[89] = 1e-280;
  for (let n = 89; n > 0; n--) j[n - 1] = ((2 * n + 1) / ka) * j[n]! - j[n + 1]!;
  const scale = Math.sin(ka) / ka / j[0]!;
  for (let n = 1; n <= terms; n++) y[n + 1] = ((2 * n + 1) / ka) * y[n]! - y[n - 1]!;
  const slope = (of: readonly number[], n: number): number => (n === 0 ? -of[1]! : of[n - 1]! - ((n + 1) / ka) * of[n]!);
  let [re, im] = [0, 0];
  for (let n = 0; n < terms; n++) {
    // 1/(j′ − jy′), turned by jⁿ
    const [a, b] = [slope(j, n) * scale, slope(y, n)];
    const size = a * a + b * b;
    if (!Number.isFinite(size)) break;
    const [c, s] = [[1, 0, -1, 0][n % 4]!, [0, 1, 0, -1][n % 4]!];
    re += ((2 * n + 1) * (a * c - b * s)) / size;
    im += ((2 * n + 1) * (a * s + b * c)) / size;
  }
  return 20 * Math.log10(Math.hypot(re, im) / ka ** 2);
}

const width = 0.23;
const speed = 343.2;
const ofWidth = (frequency: number): number => (2 * Math.PI * frequency * (width / 2)) / speed;
const grid = logGrid(20, 5000, 97);
const shelf = (options: Parameters<typeof baffleStep>[0]) => {
  const made = baffleStep(options);
  return (frequencies: ArrayLike<number>) =>
    solve(
      network(join(made.branch({ from: "in", to: "d" }), { D1: [resistor(options.load), "d", "gnd"] } as Entries)),
      frequencies,
    ).voltage("d");
};

describe("the sphere", () => {
  it("gains nothing at low frequencies and 6 dB at high ones", () => {
    expect(sphereGainDb(0.001)).toBeCloseTo(0, 5);
    expect(sphereGainDb(20)).toBeCloseTo(6.02, 0);
  });
});

describe("baffleStep", () => {
  it("has half of its step where a sphere of the baffle's width has gained 3 dB, to 0.2 dB", () => {
    const { frequency } = baffleStep({ stepDb: 6, width, load: 8 });
    expect(Math.abs(sphereGainDb(ofWidth(frequency)) - 3)).toBeLessThan(0.2);
  });

  it("makes the sphere's response flat to −0.5 and +0.2 dB", () => {
    const levels = levelDb(shelf({ stepDb: 6, width, load: 8 })(grid)).map((level, i) => level + sphereGainDb(ofWidth(grid[i]!)));
    expect(Math.min(...levels)).toBeGreaterThan(-0.5);
    expect(Math.max(...levels)).toBeLessThan(0.2);
  });

  it("is the shelf of one zero and one pole, symmetrical on a logarithmic axis", () => {
    for (const stepDb of [0.5, 3, 6, 20]) {
      const [frequency, load] = [700, 5.6];
      const at = shelf({ stepDb, frequency, load });
      for (const ratio of [1, 1.3, 4, 50]) {
        const [below, above] = [frequency / ratio, frequency * ratio];
        const response = at(ratio === 1 ? [frequency] : [below, above]);
        const [levels, phases] = [levelDb(response), phaseDegrees(response)];
        expect(levels[0]! + levels.at(-1)!).toBeCloseTo(-stepDb, 10);
        expect(phases[0]).toBeCloseTo(phases.at(-1)!, 10);
        // The zero lies √k above fm and the pole √k below it.
        const root = 10 ** (stepDb / 40);
        const lag = Math.atan(above / frequency / root) - Math.atan((above / frequency) * root);
        expect(phases.at(-1)).toBeCloseTo((lag * 180) / Math.PI, 10);
      }
    }
  });
});

describe("baffleStepResponse", () => {
  it("has the sphere's step on axis to 0.5 dB", () => {
    levelDb(baffleStepResponse(grid, { width, air: { speedOfSound: speed } })).forEach((level, i) => {
      expect(Math.abs(level + 20 * Math.log10(2) - sphereGainDb(ofWidth(grid[i]!)))).toBeLessThan(0.5);
    });
  });
});
