// Tests src/response/: smooth.ts, excess-phase.ts
// Smoothing by its definition: the mean over 1/n octave of straight lines between samples over ln f, summed here in 20,000 steps; at the ends the band is cut equally on both sides.
// The delay of what begins at 0 Hz or has four points.
import { describe, expect, it } from "vitest";
import { acousticDelay, delayResponse, frequencyResponse, magnitude, smoothResponse } from "dividing-network/response";

/** Unevenly spaced, from a third of an octave to a fiftieth. */
const uneven = [100, 125, 130, 133, 170, 171, 172, 200, 240, 247, 300, 304, 306, 360, 400, 500, 508, 640, 650, 800];
const values = [1, 3, 0.5, 2, 2.5, 0.2, 4, 1, 1, 6, 2, 0.1, 3, 3, 1, 0.7, 2, 5, 0.3, 1];

function straight(at: number, y: readonly number[]): number {
  const i = Math.max(
    1,
    uneven.findIndex((f) => Math.log(f) >= at),
  );
  const [a, b] = [Math.log(uneven[i - 1]!), Math.log(uneven[i]!)];
  return y[i - 1]! + ((y[i]! - y[i - 1]!) * (at - a)) / (b - a);
}
function mean(k: number, fraction: number, y: readonly number[]): number {
  const x = Math.log(uneven[k]!);
  const reach = Math.min(Math.LN2 / (2 * fraction), x - Math.log(uneven[0]!), Math.log(uneven.at(-1)!) - x);
  if (reach <= 0) return y[k]!;
  const n = 20_000;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += straight(x - reach + (2 * reach * (i + 0.5)) / n, y);
  return sum / n;
}

describe("smoothing of unevenly spaced points", () => {
  it.each([1, 3, 6, 24])("over 1/%d octave is the mean of straight lines, of the value or of its square", (fraction) => {
    const given = frequencyResponse(
      uneven,
      values,
      values.map(() => 0),
    );
    const complex = smoothResponse(given, { fraction, kind: "complex", delay: 0 });
    const power = magnitude(smoothResponse(given, { fraction }));
    uneven.forEach((f, k) => {
      expect(complex.re[k], `${f} Hz`).toBeCloseTo(mean(k, fraction, values), 5);
      expect(power[k]! ** 2, `${f} Hz`).toBeCloseTo(
        mean(
          k,
          fraction,
          values.map((value) => value * value),
        ),
        4,
      );
    });
  });
});

describe("the delay of a flat driver", () => {
  const flat = (frequencies: readonly number[]) =>
    frequencyResponse(
      frequencies,
      frequencies.map(() => 1),
      frequencies.map(() => 0),
    );
  const options = { lowSlope: 0, highSlope: 0, longest: "5 ms" } as const;

  it("is found from bins that begin at 0 Hz, from a part of them, and from no fewer than four", () => {
    // Bins of 100 Hz leave 10 ms undecided.
    const late = delayResponse(flat(Array.from({ length: 101 }, (_, i) => 100 * i)), 1.25e-3);
    expect(acousticDelay(late, options).delay).toBeCloseTo(1.25e-3, 9);
    expect(acousticDelay(late, { ...options, from: 1000, to: 1300 }).delay).toBeCloseTo(1.25e-3, 9);
    expect(() => acousticDelay(late, { ...options, from: 1000, to: 1299 })).toThrow(expect.objectContaining({ code: "outside-band" }));
    expect(() => acousticDelay(late, { ...options, from: 1001, to: 1300 })).toThrow(/got 3/);
  });

  it("is looked for as far as it is said, and no further than 10 s", () => {
    const late = delayResponse(flat(Array.from({ length: 200 }, (_, i) => 200 + 7 * i)), 8e-3);
    expect(acousticDelay(late, { ...options, longest: "9 ms" }).delay).toBeCloseTo(8e-3, 9);
    for (const longest of [0, -1, 10.1]) expect(() => acousticDelay(late, { ...options, longest })).toThrow(/"longest"/);
  });
});
