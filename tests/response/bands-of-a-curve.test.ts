// Tests src/response/: magnitude-curve.ts, frequency-response.ts
// Where a curve is looked at: at every sample of the band that is asked for, within the samples, above 0 Hz; and what is no response.
import { describe, expect, it } from "vitest";
import { crossings, extremes, frequencyResponse } from "dividing-network/response";

const real = (f: readonly number[], values: readonly number[]) =>
  frequencyResponse(
    f,
    values,
    values.map(() => 0),
  );
/** Up and down at each sample: 100, 110, … 500 Hz. */
const teeth = Array.from({ length: 41 }, (_, i) => 100 + 10 * i);
const comb = real(
  teeth,
  teeth.map((_, i) => (i % 2 === 0 ? 1 : 2)),
);

describe("turns of a curve", () => {
  it("are found between all samples of the band, and only there", () => {
    expect(extremes(comb).maxima).toHaveLength(20);
    expect(extremes(comb).minima).toHaveLength(19);
    // From 205 Hz to 295 Hz: teeth at 210, 230, … 290 Hz.
    const part = extremes(comb, { from: 205, to: 295 });
    expect(part.maxima).toHaveLength(5);
    for (const { frequency } of [...part.maxima, ...part.minima]) {
      expect(frequency).toBeGreaterThan(205);
      expect(frequency).toBeLessThan(295);
    }
    expect(crossings(comb, 20 * Math.log10(1.5), { from: 200, to: 300 })).toHaveLength(10);
  });

  it("may be asked for from end to end of the samples, and not beyond either, nor from high to low", () => {
    expect(extremes(comb, { from: 100, to: 500 })).toEqual(extremes(comb));
    const code = (band: { from?: number; to?: number }) => {
      try {
        extremes(comb, band);
      } catch (error) {
        return (error as { code: string }).code;
      }
      return "taken";
    };
    expect([{ from: 99 }, { to: 501 }, { from: 99, to: 501 }, { from: 600 }, { to: 50 }].map(code)).toEqual([
      "outside-band",
      "outside-band",
      "outside-band",
      "invalid-argument",
      "invalid-argument",
    ]);
    expect([{ from: 300, to: 200 }, { from: 300, to: 300 }, { from: 500 }].map(code)).toEqual([
      "invalid-argument",
      "invalid-argument",
      "invalid-argument",
    ]);
    expect(
      [{ from: 0 }, { from: -100 }, { to: 0 }].map((band) => {
        try {
          extremes(comb, band);
        } catch (error) {
          return (error as Error).message;
        }
        return "";
      }),
    ).toEqual([
      expect.stringMatching(/"from" must be .*above 0 Hz/),
      expect.stringMatching(/"from" must be .*above 0 Hz/),
      expect.stringMatching(/"to" must be .*above 0 Hz/),
    ]);
  });

  it("begin above a sample at 0 Hz, which lies nowhere on a logarithmic axis", () => {
    const from0 = real([0, ...teeth], [9, ...teeth.map((_, i) => (i % 2 === 0 ? 1 : 2))]);
    expect(extremes(from0)).toEqual(extremes(comb));
    expect(extremes(from0).highest.magnitude).toBeLessThan(2.1);
    expect(() => extremes(real([0], [1]))).toThrow(/in ascending order/);
    expect(() => extremes(real([100], [1]))).toThrow(/in ascending order/);
  });
});

describe("what is no response", () => {
  it.each<[string, number[], number[], number[]]>([
    ["nothing", [], [], []],
    ["fewer real parts", [1, 2], [1], [0, 0]],
    ["fewer imaginary parts", [1, 2], [1, 1], [0]],
    ["more real parts", [1, 2], [1, 1, 1], [0, 0]],
    ["more imaginary parts", [1, 2], [1, 1], [0, 0, 0]],
  ])("is refused by the three lengths: %s", (_, f, re, im) => {
    expect(() => frequencyResponse(f, re, im)).toThrow(
      `must have one length of at least 1, got ${f.length}, ${re.length} and ${im.length}`,
    );
  });
});
