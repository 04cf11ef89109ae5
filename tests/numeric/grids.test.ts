// Tests src/numeric/: grid-ends.ts, linear-grid.ts, log-grid.ts
import { Decimal } from "decimal.js";
import { DividingNetworkError } from "dividing-network/errors";
import { linearGrid, logGrid } from "dividing-network/numeric";
import type { Frequency } from "dividing-network/quantity";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const codeOf = (call: () => unknown): string => {
  try {
    call();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.code;
    throw error;
  }
  return "nothing thrown";
};

describe("a logarithmic grid", () => {
  it("holds both ends exactly, and takes text with units", () => {
    const grid = logGrid("20 Hz", "20 kHz", 480);
    expect(grid).toHaveLength(480);
    expect(grid[0]).toBe(20);
    expect(grid[479]).toBe(20000);
    expect(grid).toEqual(logGrid(20, 20000, 480));
  });

  it("agrees with its formula computed in 40 digits", () => {
    const precise = Decimal.clone({ precision: 40 });
    const [from, to, points] = [17.3, 23456.7, 97];
    const ratio = new precise(to).div(from);
    logGrid(from, to, points).forEach((f, i) => {
      const exact = ratio.pow(new precise(i).div(points - 1)).times(from);
      expect(new precise(f).minus(exact).div(exact).abs().toNumber()).toBeLessThan(4e-16 * 4);
    });
  });

  it("ascends strictly between its ends, whatever they are", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 6, noNaN: true }),
        fc.double({ min: 0.001, max: 4, noNaN: true }),
        fc.integer({ min: 2, max: 500 }),
        (decade, span, points) => {
          const [from, to] = [10 ** decade, 10 ** (decade + span)];
          const grid = logGrid(from, to, points);
          expect([grid[0], grid[points - 1]]).toEqual([from, to]);
          expect(grid.every((f, i) => i === 0 || f > grid[i - 1]!)).toBe(true);
        },
      ),
    );
  });

  it("refuses what is no band, no count, or too dense to tell its points apart", () => {
    expect(codeOf(() => logGrid(0, 100, 5))).toBe("invalid-argument");
    expect(codeOf(() => logGrid(-20, 100, 5))).toBe("invalid-argument");
    expect(codeOf(() => logGrid(100, 100, 5))).toBe("invalid-argument");
    expect(codeOf(() => logGrid(200, 100, 5))).toBe("invalid-argument");
    for (const points of [1, 0, -3, 2.5, NaN, Infinity, 1e12]) expect(codeOf(() => logGrid(20, 20000, points))).toBe("invalid-argument");
    expect(codeOf(() => logGrid(1000, 1000.0000000001, 10_000))).toBe("invalid-argument");
    expect(codeOf(() => logGrid(1e-300, 1e300, 5))).toBe("invalid-argument");
    expect(codeOf(() => logGrid("20 mm" as Frequency, 100, 5))).toBe("invalid-quantity");
    expect(codeOf(() => logGrid(undefined as unknown as number, 100, 5))).toBe("invalid-argument");
  });

  it("says in its message what was wrong", () => {
    expect(() => logGrid(200, 100, 5)).toThrow('logGrid: "to" must be above "from" (200 Hz), got 100 Hz');
  });
});

describe("a linear grid", () => {
  it("may begin at 0 Hz and holds both ends exactly", () => {
    expect(Array.from(linearGrid(0, "24 kHz", 7))).toEqual([0, 4000, 8000, 12000, 16000, 20000, 24000]);
    expect(linearGrid(0.1, 0.7, 4)[3]).toBe(0.7);
  });

  it("refuses a band that is none", () => {
    expect(codeOf(() => linearGrid(100, 0, 5))).toBe("invalid-argument");
    expect(codeOf(() => linearGrid(-1, 1, 5))).toBe("invalid-argument");
    expect(codeOf(() => linearGrid(1, 1.0000000000000002, 5))).toBe("invalid-argument");
  });
});
