// Tests src/design/: bound-kernels.ts, bound-machine.ts, vector-layout.ts
// Bounds by vectors of two numbers against the same bounds one number at a time, with exact logarithms; both are held to the states themselves in loss-bound.test.ts.
import { capacitor, frequencyResponse, logGrid, pressurePerVolt, resistor, type SourceImpedance } from "dividing-network";
import { goal } from "dividing-network/assessment";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { boundMachine } from "../../src/design/bound-machine";
import { choicesOf } from "../../src/design/choices";
import { limitsOf } from "../../src/design/limits";
import { searchProblem } from "../../src/design/search-problem";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { drawn, monitor } from "../support/two-way";

const shunted = { ...drawn, R9: [resistor(3), "in", "q"], C9: [capacitor(30e-6), "q", "gnd"] } as const;
const values = (factors: readonly number[]) => ({
  L1: factors.map((x) => 0.68e-3 * x),
  C1: factors.map((x) => 10e-6 / x),
  R2: factors.map((x) => 2.2 * x),
  C2: factors.map((x) => 5.6e-6 * x),
  C9: factors.map((x) => 30e-6 * x * x * x),
});
const wide = logGrid(100, 20e3, 60);
const low = pressurePerVolt({
  response: frequencyResponse(
    wide,
    wide.map((f) => 0.3 / (1 + (f / 900) ** 2)),
    wide.map((f) => -0.1 * Math.sin(f / 700)),
  ),
  drive: { voltage: 1, at: "terminals" },
  distance: 1,
  timeZero: "common",
});

describe("bounds by vectors", () => {
  it("are those by single numbers", async () => {
    let [cut, kept, far, quiet] = [0, 0, 0, 0];
    await fc.assert(
      fc.asyncProperty(
        fc.record({
          factors: fc.array(uniform(0.4, 2.5), { minLength: 2, maxLength: 3 }),
          points: fc.integer({ min: 1, max: 31 }),
          shares: fc.tuple(uniform(0, 1), uniform(0, 1), uniform(0, 1)),
          source: fc.constantFrom<SourceImpedance | undefined>(undefined, 0.5, 6, { resistance: 20, inductance: 1e-3 }),
          beside: fc.boolean(),
          levelDb: fc.option(uniform(80, 90), { nil: undefined }),
          leastLevelDb: fc.option(uniform(60, 88), { nil: undefined }),
          enough: uniform(0.2, 4),
          places: fc.integer({ min: 1, max: 3 }),
        }),
        async ({ factors, points, shares, source, beside, levelDb, leastLevelDb, enough, places }) => {
          const box = monitor(shunted, source);
          const frequencies = points === 1 ? Float64Array.of(2000) : logGrid(500, 9000, points);
          const aim = goal({
            frequencies,
            limits: "stated",
            corridorDb: 20,
            places: [{ weight: 2 }, { azimuth: 20 }, { azimuth: -20 }].slice(0, places),
            ...(beside ? { partner: { pressures: [low, low, low].map((one, k) => ({ ...one, azimuth: [0, 20, -20][k]! })) } } : {}),
            leastLevelDb,
            levelDb,
          });
          const choices = choicesOf("test", box, values(factors));
          const limits = limitsOf("test", box, aim, undefined);
          const { trees, boundFor } = await searchProblem("test", box, aim, choices, limits, frequencies, 0, () => undefined);
          for (const tree of trees) for (let node = 0; node < tree.left.length; node++) tree.split(node);
          const bounds = boundFor(new Set());
          const at = Int32Array.from(trees, ({ left }, g) => {
            const node = Math.floor(shares[g]! ** 0.3 * (left.length + 1));
            return node >= left.length ? -1 : node;
          });
          const plain = bounds.below(at, 0);
          for (const some of [enough * plain, plain * (1 + 1e-5), plain * (1 - 1e-5), 0.05]) {
            if (plain === Infinity || !(some > 0)) continue;
            const own = bounds.below(at, 0, some);
            // What is enough or more may be any such number, where the bound is.
            if (own < some) expect(own).toBeLessThanOrEqual(plain * (1 + 1e-9) + 1e-12);
            else expect(plain).toBeGreaterThanOrEqual(some * (1 - 1e-9));
            // Logarithms are off by 1.1e-7 to either side.
            if (Math.sqrt(plain) >= Math.sqrt(some) * (1 + 1e-6) + 4e-7) {
              // What can be cut is cut.
              expect(own).toBeGreaterThanOrEqual(some);
              cut++;
            } else kept++;
            if (plain > 0.2) far++;
          }
          if (plain === Infinity) {
            quiet++;
            expect(bounds.below(at, 0, enough)).toBeGreaterThanOrEqual(enough);
          }
          if (!at.every((node) => node < 0)) return;
          const loss = bounds.exact(at, 0);
          if (loss < Infinity) expect(bounds.exact(at, 0, loss * 1.001)).toBe(loss);
          expect(bounds.exact(at, 0, loss * 0.999)).toBeGreaterThanOrEqual(loss * 0.999);
        },
      ),
      { numRuns: cases(150) },
    );
    for (const count of [cut, kept, far, quiet]) expect(count).toBeGreaterThan(0);
  });
});

describe("the machine", () => {
  it("keeps nothing of a search that has ended but the name of its last user", async () => {
    const frequencies = logGrid(500, 9000, 13);
    const aim = goal({ frequencies, limits: "stated" });
    const box = monitor(drawn);
    const choices = choicesOf("test", box, { L1: [0.5e-3, 1e-3, 2e-3], C2: [4e-6, 6e-6] });
    const { trees, boundFor } = await searchProblem(
      "test",
      box,
      aim,
      choices,
      limitsOf("test", box, aim, undefined),
      frequencies,
      0,
      () => undefined,
    );
    boundFor(new Set()).below(
      Int32Array.from(trees, ({ root }) => root),
      0,
      1e3,
    );
    const { owner } = boundMachine({ channels: 2, branches: 2, places: 1, source: false, beside: false })!;
    expect(owner).toBeDefined();
    expect(Object.keys(owner!)).toEqual([]);
  });
});

describe("without WebAssembly", () => {
  afterEach(() => vi.unstubAllGlobals());

  it("there are no vectors, and the search goes by single numbers", () => {
    vi.stubGlobal("WebAssembly", undefined);
    expect(boundMachine({ channels: 7, branches: 5, places: 11, source: true, beside: true })).toBeUndefined();
  });
});
