// Tests src/response/: baffle-step.ts
// Work without bound, overflow and long input in the response tools: named counterexamples.
import { DividingNetworkError } from "dividing-network/errors";
import {
  baffleStepResponse,
  combineNearFields,
  delayResponse,
  addResponses,
  frequencyResponse,
  gateFromGeometry,
  impedanceFromChannels,
  mergeAt,
  relativeAcousticOffset,
  responseFromImpulse,
  responseOf,
  scaleResponse,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const code = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    return error instanceof DividingNetworkError ? error.code : String(error);
  }
  return "nothing thrown";
};
const grid = (n: number, from = 20, to = 20000): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));
const ones = (frequencies: Float64Array) =>
  frequencyResponse(
    frequencies,
    frequencies.map(() => 1),
    frequencies.map(() => 0),
  );

describe("long input", () => {
  it("is joined whatever its length", () => {
    const long = ones(Float64Array.from({ length: 300_000 }, (_, i) => 1 + i / 10));
    const { response } = mergeAt(long, long, { frequency: 1000 });
    expect(response.frequencies).toEqual(long.frequencies);
    expect(response.re.every((value) => Math.abs(value - 1) < 1e-12)).toBe(true);
  });

  it("of near fields with many bands of leakage is marked band by band", () => {
    const frequencies = Float64Array.from({ length: 300_000 }, (_, i) => 1 + i);
    const comb = frequencyResponse(
      frequencies,
      frequencies.map((_, i) => (i % 2 === 0 ? 1e-6 : 1)),
      frequencies.map(() => 0),
    );
    const { marks } = combineNearFields(
      [
        { response: ones(frequencies), radius: 0.1 },
        { response: comb, radius: 0.1 },
      ],
      { spacing: 1 },
    );
    expect(marks).toHaveLength(150_000);
  });

  it("is refused where a search for an offset would take more than 1e8 steps", () => {
    const long = ones(grid(200_000));
    expect(code(() => relativeAcousticOffset({ first: long, second: long, both: scaleResponse(long, 2), largestOffset: 10 }))).toBe(
      "too-large",
    );
  });
});

describe("a search for an offset", () => {
  const f = grid(200, 1000, 90_000);
  const pole = { re: -2 * Math.PI * 2500, im: 0 };
  const low = responseOf({ zeros: [], poles: [pole], gain: 2 * Math.PI * 2500 }, f);
  const high = responseOf({ zeros: [{ re: 0, im: 0 }], poles: [pole], gain: 1 }, f);

  it("is as fine far away as near by: 6 m are found with a band up to 90 kHz", () => {
    const both = addResponses(low, delayResponse(high, 6 / 343.2));
    expect(relativeAcousticOffset({ first: low, second: high, both, largestOffset: 8, polarity: "same" }).offset).toBeCloseTo(6, 6);
  });

  it("without room to search is refused", () => {
    expect(code(() => relativeAcousticOffset({ first: low, second: high, both: low, largestOffset: 5e-324 }))).toBe("undetermined");
  });
});

describe("numbers beyond what a number can hold", () => {
  it("leave a baffle step finite, and an impedance refused", () => {
    const { re, im } = baffleStepResponse([0, 1e-300, 1e300], { width: 0.2 });
    expect(Array.from(re)).toEqual([0.5, 0.5, 1]);
    expect(im.every((value) => Number.isFinite(value) && value < 1e-100)).toBe(true);
    const one = ones(grid(3));
    expect(
      code(() => impedanceFromChannels({ source: scaleResponse(one, 2), load: one, reference: 1e308, inputResistance: 5e-324 })),
    ).not.toBe("nothing thrown");
    expect(code(() => impedanceFromChannels({ source: scaleResponse(one, 1.1), load: one, reference: 1e308 }))).toBe("overflow");
    expect(code(() => responseFromImpulse({ samples: Float64Array.of(1, 0), sampleRate: 48000, startTime: 1e308 }))).toBe(
      "invalid-argument",
    );
  });

  it("and walls that are no list are refused by name", () => {
    expect(() => gateFromGeometry({ distance: 1, sourceHeight: 1, microphoneHeight: 1, walls: 3 as never })).toThrow(
      /"walls" must be an array/,
    );
  });
});
