// Tests src/response/: from-level-and-phase.ts, level.ts, phase-steps.ts, phase.ts, response-json.ts
import { linearGrid, logGrid } from "dividing-network/numeric";
import {
  delayResponse,
  frequencyResponse,
  fromLevelAndPhase,
  levelDb,
  magnitude,
  phaseDegrees,
  responseFromJSON,
  responseToJSON,
  unwrappedPhaseDegrees,
} from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { comb, copied, delayed, errorOf, firstOrder, sample, secondOrder } from "./closed-forms";

describe("the level", () => {
  it("is 20 lg of the magnitude over the reference, and −∞ for zero", () => {
    const response = frequencyResponse([1, 2, 3, 4], [1, 0, -10, 0], [0, 2, 0, 0]);
    expect(Array.from(levelDb(response))).toEqual([0, 20 * Math.log10(2), 20, -Infinity]);
    expect(levelDb(response, { reference: 20e-6 })[0]).toBeCloseTo(93.9794000867, 10);
    expect(Array.from(magnitude(response))).toEqual([1, 2, 10, 0]);
  });

  it("stays finite for the largest and smallest values", () => {
    const [large, small] = levelDb(frequencyResponse([1, 2], [1e300, 3e-320], [1e300, 4e-320]));
    expect(large).toBeCloseTo(6000 + 20 * Math.log10(Math.SQRT2), 9);
    expect(small).toBeCloseTo(20 * Math.log10(5e-320), 2);
  });

  it("refuses a reference that is none, and options it does not know", () => {
    const response = frequencyResponse([1], [1], [0]);
    for (const reference of [0, -1, NaN, Infinity, "1"])
      expect(errorOf(() => levelDb(response, { reference: reference as number })).code).toBe("invalid-argument");
    expect(errorOf(() => levelDb(response, { ref: 1 } as object)).code).toBe("unknown-option");
  });
});

describe("the wrapped phase", () => {
  it("lies in (−180°, 180°], also where the imaginary part is a negative zero", () => {
    expect(Array.from(phaseDegrees(frequencyResponse([1, 2, 3, 4, 5], [-1, -1, 0, 1, 0], [-0, 0, -3, -0, 0])))).toEqual([
      180, 180, -90, -0, 0,
    ]);
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.double({ noNaN: true, noDefaultInfinity: true }), (re, im) => {
        const [phase] = phaseDegrees(frequencyResponse([1], [re], [im]));
        expect(phase! > -180 && phase! <= 180).toBe(true);
      }),
    );
  });
});

describe("the unwrapped phase", () => {
  it("follows a delay that turns the phase by more than a full turn between samples", () => {
    const grid = logGrid(20, 20000, 480); // 48 points an octave
    const flight = 1 / 343.2;
    const unwrapped = unwrappedPhaseDegrees(sample(delayed(firstOrder(3000), flight), grid));
    grid.forEach((f, i) => expect(unwrapped[i]).toBeCloseTo(-360 * f * flight - (180 / Math.PI) * Math.atan(f / 3000), 7));
    expect(360 * (grid[479]! - grid[478]!) * flight).toBeGreaterThan(290);
  });

  it("does not depend on the grid while the rest turns little between samples", () => {
    const system = delayed(secondOrder(2000, 2), 0.004);
    const [coarse, fine] = [logGrid(20, 20000, 181), logGrid(20, 20000, 1801)];
    const [a, b] = [unwrappedPhaseDegrees(sample(system, coarse)), unwrappedPhaseDegrees(sample(system, fine))];
    coarse.forEach((_, i) => expect(a[i]).toBeCloseTo(b[10 * i]!, 6));
  });

  it("equals the wrapped phase but for whole turns, on any response", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -2, max: 2, noNaN: true }), fc.double({ min: -2, max: 2, noNaN: true })), {
          minLength: 1,
          maxLength: 20,
        }),
        (values) => {
          const response = frequencyResponse(
            values.map((_, i) => 20 * 1.3 ** i),
            values.map(([re]) => re),
            values.map(([, im]) => im),
          );
          const before = copied(response);
          const [wrapped, unwrapped] = [phaseDegrees(response), unwrappedPhaseDegrees(response)];
          values.forEach(([re, im], i) => {
            if (re === 0 && im === 0) return;
            const turns = (unwrapped[i]! - wrapped[i]!) / 360;
            expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-10 * (1 + Math.abs(turns)));
          });
          expect(copied(response)).toEqual(before);
        },
      ),
    );
  });

  it("takes a delay that is stated, which decides the turns on a linear grid", () => {
    const grid = linearGrid(100, 1000, 10);
    const late = delayResponse(
      frequencyResponse(
        grid,
        grid.map(() => 1),
        grid.map(() => 0),
      ),
      "12 ms",
    );
    // Spaced by 100 Hz, 12 ms and 2 ms look the same: the estimate is the shorter.
    unwrappedPhaseDegrees(late).forEach((phase, i) => expect(phase).toBeCloseTo(-360 * grid[i]! * 0.002, 8));
    unwrappedPhaseDegrees(late, { delay: "12 ms" }).forEach((phase, i) => expect(phase).toBeCloseTo(-360 * grid[i]! * 0.012, 8));
  });

  it("goes through a null by the shorter way and holds at a zero", () => {
    const through = unwrappedPhaseDegrees(sample(comb(0, 1e-3, 0.98), linearGrid(10, 900, 179)), { delay: "0.5 ms" });
    expect(through.every((phase, i) => i === 0 || Math.abs(phase - through[i - 1]!) < 180)).toBe(true);
    expect(Array.from(unwrappedPhaseDegrees(frequencyResponse([1, 2, 3, 4], [0, 0, 0, 0], [0, 1, 0, 1]), { delay: 0 }))).toEqual([
      0, 90, 90, 90,
    ]);
  });
});

describe("a response from levels and phases", () => {
  it("comes back from its own levels and phases", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -1e3, max: 1e3, noNaN: true }), fc.double({ min: -1e3, max: 1e3, noNaN: true })), {
          minLength: 1,
          maxLength: 10,
        }),
        (values) => {
          const response = frequencyResponse(
            values.map((_, i) => i),
            values.map(([re]) => re),
            values.map(([, im]) => im),
          );
          const back = fromLevelAndPhase(response.frequencies, levelDb(response, { reference: 0.5 }), phaseDegrees(response), {
            reference: 0.5,
          });
          // A level of L dB rounded to a double is L·ln(10)/20 roundings of the magnitude.
          const roundings = levelDb(response).map((level) => 16 * Number.EPSILON * (1 + Math.abs(level) * (Math.LN10 / 20)));
          values.forEach(([re, im], i) =>
            expect(Math.hypot(back.re[i]! - re, back.im[i]! - im)).toBeLessThanOrEqual(
              re === 0 && im === 0 ? 0 : roundings[i]! * Math.hypot(re, im) + 1e-323,
            ),
          );
        },
      ),
    );
  });

  it("is exact at quarter turns, however many", () => {
    const response = fromLevelAndPhase([1, 2, 3, 4, 5], [0, 0, 0, 0, -Infinity], [90, -180, -450, 36000, 45]);
    expect(Array.from(response.re, (value) => value + 0)).toEqual([0, -1, 0, 1, 0]);
    expect(Array.from(response.im, (value) => value + 0)).toEqual([1, 0, -1, 0, 0]);
  });

  it("refuses what is no level or phase", () => {
    expect(errorOf(() => fromLevelAndPhase([1], [NaN], [0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([1], [1e6], [0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([1], [0], [Infinity])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([1], ["3"] as unknown as number[], [0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([1], [0, 1], [0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase(undefined as unknown as number[], [0], [0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([2, 1], [0, 0], [0, 0])).code).toBe("invalid-response");
    expect(errorOf(() => fromLevelAndPhase([1], [0], [0], { reference: 0 })).code).toBe("invalid-argument");
    expect(errorOf(() => fromLevelAndPhase([1], [0], [0], { unit: "Pa" } as object)).code).toBe("unknown-option");
  });
});

describe("a response as JSON", () => {
  const marks = [
    { kind: "splice", from: 300, to: 400, note: "near field below" },
    { kind: "model", note: "phase is a model" },
  ] as const;

  it("comes back bit for bit, marks included", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.double({ noNaN: true, noDefaultInfinity: true })), {
          minLength: 1,
          maxLength: 10,
        }),
        (values) => {
          const response = frequencyResponse(
            values.map((_, i) => i / 3),
            values.map(([re]) => re + 0),
            values.map(([, im]) => im + 0),
            marks,
          );
          const back = responseFromJSON(JSON.parse(JSON.stringify(responseToJSON(response))));
          expect(copied(back)).toEqual(copied(response));
        },
      ),
    );
    expect(responseToJSON(frequencyResponse([1], [2], [3]))).toEqual({ frequencies: [1], re: [2], im: [3] });
  });

  it("is checked all through when it comes in", () => {
    const good = { frequencies: [1, 2], re: [0, 0], im: [0, 0] };
    const bad: [unknown, string][] = [
      [undefined, "invalid-response"],
      [null, "invalid-response"],
      ["{}", "invalid-response"],
      [{}, "invalid-response"],
      [[], "invalid-argument"],
      [{ ...good, extra: 1 }, "unknown-option"],
      [JSON.parse('{"__proto__": 1, "frequencies": [1], "re": [1], "im": [1]}'), "unknown-option"],
      [{ ...good, re: { 0: 1, 1: 2 } }, "invalid-response"],
      [{ ...good, re: [1, "2"] }, "invalid-response"],
      [{ ...good, re: [1, null] }, "invalid-response"],
      [{ ...good, im: [1] }, "invalid-response"],
      [{ ...good, frequencies: [2, 1] }, "invalid-response"],
      [{ ...good, frequencies: [1, 1] }, "invalid-response"],
      [{ ...good, frequencies: [-1, 1] }, "invalid-response"],
      [{ ...good, re: [1, Infinity] }, "invalid-response"],
      [{ ...good, marks: {} }, "invalid-argument"],
      [{ ...good, marks: [{ kind: "model" }] }, "invalid-argument"],
    ];
    for (const [json, code] of bad) expect(errorOf(() => responseFromJSON(json)).code).toBe(code);
    expect(Object.hasOwn(Object.prototype, "frequencies")).toBe(false);
  });
});
