// Roll-offs of a known order: |H|² = 1/Σ cⱼ r^j with r = (f/corner)^±2 of the textbook. What lies beyond the end of the data is known, so the continuation and its doubt can be judged.
import { describe, expect, it } from "vitest";
import { fitEnd, shapeIntercept, shapeLevel } from "../../src/response/fit-end";

/** ln|H| by the ratio to the corner, for 1, 2 and 4 poles: first order, second of Q 0.8, fourth of Butterworth. */
const shapes: Readonly<Record<number, (r: number) => number>> = {
  1: (r) => -0.5 * Math.log(1 + r * r),
  2: (r) => -0.5 * Math.log((1 - r * r) ** 2 + (r / 0.8) ** 2),
  4: (r) => -0.5 * Math.log(1 + r ** 8),
};
const perOctave = 24;

/** ln f and ln|H| of `octaves` up to an end at 1 kHz; `at` is where the corner lies, as a multiple outwards of the end. */
function data(outward: -1 | 1, level: (t: number) => number, octaves = 5): [x: Float64Array, y: Float64Array, outward: -1 | 1] {
  const inward = Array.from({ length: octaves * perOctave + 1 }, (_, i) => (i * Math.LN2) / perOctave);
  const ordered = outward > 0 ? inward.reverse() : inward;
  return [Float64Array.from(ordered, (d) => Math.log(1000) - outward * d), Float64Array.from(ordered, (d) => level(-d)), outward];
}
/** Scatter that repeats from run to run, evenly between −1 and 1. */
function draws(seed: number): () => number {
  let state = seed * 48271 + 11;
  return () => (state = (state * 48271) % 2147483647) / 1073741823.5 - 1;
}

describe("a roll-off", () => {
  for (const outward of [-1, 1] as const)
    for (const sign of [1, -1] as const)
      for (const order of [1, 2, 4])
        it(`of order ${order} that ${sign > 0 ? "falls" : "rises"} ${outward > 0 ? "upwards" : "downwards"} is continued as it is, from half an octave before its corner to two beyond`, () => {
          for (const corner of [1.4, 1, 0.6, 0.25]) {
            const level = (t: number): number => sign * shapes[order]!(Math.exp(t) / corner);
            const found = fitEnd(...data(outward, level), sign, undefined)!;
            expect(found.shape.order).toBe(order);
            for (const t of [0, 0.1, 0.5, 1, 2, 4])
              expect(shapeLevel(found.shape, t), `${corner}, ${t}`).toBeCloseTo(level(t) - level(0), 3);
            expect(shapeIntercept(found.shape)).toBeCloseTo(level(12) - level(0) + sign * order * 12, 3);
            expect(found.residual).toBeLessThan(1e-5);
            expect(found.doubt).toBeLessThan(0.02);
          }
        });

  it("is continued by the order that is stated, also where it is another", () => {
    const level = (t: number): number => shapes[4]!(Math.exp(t) / 0.5);
    expect(fitEnd(...data(1, level), 1, 4)!.shape.order).toBe(4);
    const steeper = fitEnd(...data(1, level), 1, 5);
    expect(steeper === undefined || steeper.shape.order === 5).toBe(true);
    // No first order falls by 24 dB per octave.
    expect(fitEnd(...data(1, level), 1, 1)).toBeUndefined();
  });

  it("needs some eight points, and more for a stated order: fewer, or points octaves apart, explain nothing", () => {
    const cut = (count: number, spacing: number): [Float64Array, Float64Array] => [
      Float64Array.from({ length: count }, (_, i) => (i - count + 1) * spacing),
      Float64Array.from({ length: count }, (_, i) => shapes[2]!(Math.exp((i - count + 1) * spacing) / 0.8)),
    ];
    for (const count of [1, 4, 7]) expect(fitEnd(...cut(count, 0.1), 1, 1, undefined)).toBeUndefined();
    expect(fitEnd(...cut(12, 0.1), 1, 1, undefined)?.shape.order).toBe(2);
    expect(fitEnd(...cut(8, 0.1), 1, 1, 4)).toBeUndefined();
    expect(fitEnd(...cut(12, 2), 1, 1, undefined)).toBeUndefined();
  });

  it("that falls by more than 1300 dB within the octaves looked at is none", () => {
    const [x] = data(1, () => 0);
    expect(
      fitEnd(
        x,
        x.map((value) => -200 * (value - x[0]!)),
        1,
        1,
        undefined,
      ),
    ).toBeUndefined();
  });

  it("reads the order no steeper than scatter allows, and is doubtful by what scatter does to its continuation", () => {
    // What the continuation misses far inside, in orders of slope: ∫ |Δ| e^(−t) dt over ∫ t e^(−t) dt = 1.
    const ratios: number[] = [];
    const doubts: number[] = [];
    for (let seed = 1; seed <= 40; seed++) {
      const next = draws(seed);
      const exact = (t: number): number => shapes[2]!(Math.exp(t) / 0.4);
      const found = fitEnd(...data(1, (t) => exact(t) + 0.0004 * next()), 1, undefined);
      if (found === undefined) continue;
      let missed = 0;
      for (let t = 0.0625; t < 6; t += 0.125) missed += 0.125 * Math.exp(-t) * Math.abs(shapeLevel(found.shape, t) - (exact(t) - exact(0)));
      ratios.push(missed / found.doubt);
      doubts.push(found.doubt);
      expect(found.residual).toBeGreaterThan(0.0001);
      expect(found.residual).toBeLessThan(0.0004);
    }
    expect(ratios.length).toBeGreaterThan(30);
    ratios.sort((a, b) => a - b);
    doubts.sort((a, b) => a - b);
    // As a standard error should: seldom exceeded, and not by far more than the truth.
    expect(ratios.filter((ratio) => ratio < 1).length / ratios.length).toBeGreaterThan(0.6);
    expect(ratios.at(-1)).toBeLessThan(4);
    expect(ratios[Math.floor(ratios.length / 2)]).toBeGreaterThan(0.02);
    expect(doubts[Math.floor(doubts.length / 2)]).toBeLessThan(0.5);
  });
});
