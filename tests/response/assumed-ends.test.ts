// Tests src/response/: tail.ts
// How a response goes on where no roll-off can be fitted to its end: six points are too few for that. ln|H| is made an exact parabola of ln f, so that slope and
// bend at the edge are what is written here, in orders (6 dB per octave) and orders per neper. The expected numbers are worked out by hand from the rule that `minimumPhase` states.
import { frequencyResponse, minimumPhaseWithError } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { fitTail, tailIntercept, tailLevel, type StatedTail, type Tail } from "../../src/response/tail";

/** Evenly spaced ln f up to or from an edge at 1000 Hz, and ln|H| by the distance t ≤ 0 from it, counted outwards. */
function data(
  end: "low" | "high",
  level: (t: number) => number,
  count = 6,
  spacing = 0.12,
): [x: Float64Array, y: Float64Array, outward: -1 | 1] {
  const outward = end === "high" ? 1 : -1;
  const inward = Array.from({ length: count }, (_, i) => i * spacing);
  const ordered = end === "high" ? inward.reverse() : inward;
  return [Float64Array.from(ordered, (d) => Math.log(1000) - outward * d), Float64Array.from(ordered, (d) => level(-d)), outward];
}
const parabola =
  (slope: number, bend: number) =>
  (t: number): number =>
    2 + slope * t + (bend * t * t) / 2;
const nothing: StatedTail = { slope: undefined, corner: undefined, q: undefined, cut: false };
const tail = (end: "low" | "high", level: (t: number) => number, stated: Partial<StatedTail> = {}, count = 6, spacing = 0.12): Tail =>
  fitTail("test", ...data(end, level, count, spacing), { ...nothing, ...stated });

const ends = ["low", "high"] as const;

describe("six points go on", () => {
  // Doubt: at least half an order, since no roll-off explains them; and what the rule leaves open.
  it.each([
    [-1.9, -0.3, 12, 0.5, "almost at the second order and still bending to it"],
    [-1.9, -1.1, 12, 0.5, "the same, bending fast, but not by twelve times what is left"],
    [-2.1, 0.3, 12, 0.5, "beyond the second order and bending back to it"],
    [-2.1, -0.1, 12, 0.5, "a tenth beyond the second order, hardly bending"],
    [-2.1, -0.3, 18, 0.5, "past the second order on its way to the third"],
    [-1.98, -0.3, 18, 0.51, "bending too fast to stop at the second order"],
    [-1.4, 0.01, 8.4, 0.5, "straight at no whole order: as they are"],
    [-1.15, 0.01, 6, 0.5, "straight within 1.2 dB per octave of a whole order"],
    [-1.25, 0.01, 7.5, 0.5, "straight beyond 1.2 dB per octave of a whole order"],
    [-1.25, -0.01, 7.5, 0.5, "the same, bent the other way"],
    [-1.25, -0.03, 12, 0.5, "bending down between two orders: the steeper one"],
    [-1.7, -0.3, 12, 0.5, "bending down between two orders: the steeper one"],
    [-1.6, 0.3, 12, 0.9, "bending up between two orders: the nearer one"],
    [-1.3, 0.3, 6, 0.8, "bending up between two orders: the nearer one"],
    [-2.05, 1, 12, 0.55, "bending up too fast to stop at the second order: the nearest all the same"],
    [0, 0, 0, 0, "level: a straight line needs no explanation"],
    [1.1, 0.15, -6, 0.5, "rising, a tenth beyond the first order"],
  ])("with slope %d and bend %d at %d dB per octave, doubtful by %d orders: %s", (slope, bend, expected, doubt) => {
    for (const end of ends) {
      const found = tail(end, parabola(slope, bend));
      expect(-6 * found.finalSlope, end).toBeCloseTo(expected, 8);
      expect(found.slope, end).toBeCloseTo(slope, 8);
      expect(found.level, end).toBe(2);
      expect(found.doubt, end).toBeCloseTo(doubt, 6);
    }
    const [x, y] = data("high", parabola(slope, bend));
    const response = frequencyResponse(x.map(Math.exp), y.map(Math.exp), new Float64Array(6));
    expect(minimumPhaseWithError(response).highSlope).toBeCloseTo(expected, 6);
  });
});

describe("a stated slope of data that were cut", () => {
  it.each([
    // The bend is what is left to the final slope, times the rate, wherever that rate is between 1 and 8 per neper; else 2.
    [-1, -3, 12, 3],
    [-1, -1.5, 12, 1.5],
    [-1, -7.5, 12, 7.5],
    [-1, -0.5, 12, 2],
    [-1, -9, 12, 2],
    [-1, 3, 12, 2],
    [-2, -3, 12, 2],
    [-3, 3, 12, 3],
  ])("is reached from slope %d and bend %d: %d dB per octave, at a rate of %d", (slope, bend, stated, rate) => {
    for (const end of ends) {
      const found = tail(end, parabola(slope, bend), { slope: stated, cut: true });
      expect(found.stated).toBe(true);
      expect(found.rate, end).toBeCloseTo(rate, 6);
      expect(found.doubt, end).toBeCloseTo(Math.abs(slope + stated / 6) / 2, 6);
      // The slope at the distance t is the final one and e^(−rate t) of what the edge lacked: its integral, and the line it tends to.
      const lack = slope + stated / 6;
      for (const t of [0, 0.1, 1, 3])
        expect(tailLevel(found, t)).toBeCloseTo(2 - (stated / 6) * t + (lack * (1 - Math.exp(-rate * t))) / rate, 6);
      expect(tailIntercept(found)).toBeCloseTo(2 + lack / rate, 6);
      expect(tailLevel(found, 30) + (stated / 6) * 30).toBeCloseTo(tailIntercept(found), 8);
    }
  });
});

describe("a stated corner", () => {
  // |H|² of the textbook: 1/(1 + r^2n) of Butterworth, 1/((1 − r²)² + (r/Q)²) of the second order.
  it.each([
    [18, 1300, undefined, (r: number) => -0.5 * Math.log(1 + r ** 6)],
    [6, 1300, undefined, (r: number) => -0.5 * Math.log(1 + r ** 2)],
    [12, 1300, 2.5, (r: number) => -0.5 * Math.log((1 - r * r) ** 2 + (r / 2.5) ** 2)],
    [12, 700, 0.6, (r: number) => -0.5 * Math.log((1 - r * r) ** 2 + (r / 0.6) ** 2)],
  ])(
    "of %d dB per octave at %d Hz with Q %s continues the closed form, and data of that form leave next to no doubt",
    (slope, corner, q, shape) => {
      for (const end of ends) {
        const hertz = end === "high" ? corner : 1e6 / corner;
        const at = (t: number): number => shape((1000 / corner) * Math.exp(t));
        const found = tail(end, at, { slope, corner: hertz, q, cut: true }, 40, 0.01);
        for (const t of [0, 0.05, 0.4, 2, 6]) expect(tailLevel(found, t), `${end} ${t}`).toBeCloseTo(at(t), 9);
        expect(tailLevel(found, 25) + (slope / 6) * 25).toBeCloseTo(tailIntercept(found), 9);
        expect(found.doubt, end).toBeLessThan(0.04);
        // Where the data have another slope at the edge, the doubt is the difference.
        const other = tail(end, (t) => at(t) + 0.4 * t, { slope, corner: hertz, q, cut: true }, 40, 0.01);
        expect(other.doubt).toBeGreaterThan(0.36);
        expect(other.doubt).toBeLessThan(0.44);
      }
    },
  );
});

describe("the slope at the edge", () => {
  // Scatter of ± d in turn on a straight line of slope −2: what a least-squares line over the last octave makes of it.
  const scattered =
    (d: number, spacing: number) =>
    (t: number): number =>
      -2 * t + (Math.round(-t / spacing) % 2 === 0 ? d : -d);

  it("is that of a straight line over an octave where scatter hides the bend, with the line's own standard error", () => {
    const [spacing, d] = [Math.LN2 / 24.5, 0.05];
    for (const end of ends) {
      const found = tail(end, scattered(d, spacing), { slope: 12, cut: true }, 100, spacing);
      const t = Array.from({ length: 25 }, (_, i) => -i * spacing);
      const y = t.map(scattered(d, spacing));
      const mean = (list: number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
      const [mt, my] = [mean(t), mean(y)];
      const sxx = t.reduce((sum, each) => sum + (each - mt) ** 2, 0);
      const slope = t.reduce((sum, each, i) => sum + (each - mt) * (y[i]! - my), 0) / sxx;
      const left = t.reduce((sum, each, i) => sum + (y[i]! - my - slope * (each - mt)) ** 2, 0);
      expect(found.slope, end).toBeCloseTo(slope, 8);
      expect(found.doubt - Math.abs(slope + 2) / 2, end).toBeCloseTo(Math.sqrt(left / 23 / sxx), 8);
    }
  });
});
