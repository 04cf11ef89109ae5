// Tests src/design/: nearest-level.ts, level-floor.ts, loss-of-states.ts, node-sums.ts, spread-order.ts, heard.ts
// What a search takes from sums and products instead of logarithms and eliminations, against the plain way.
import { capacitor, inductor, logGrid, network, resistor, solve, type Entries } from "dividing-network";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { branchSolver } from "../../src/design/branch-solver";
import type { Heard } from "../../src/design/heard";
import { LevelFloor } from "../../src/design/level-floor";
import { nearestLevel } from "../../src/design/nearest-level";
import { firstLooks, spreadOrder } from "../../src/design/spread-order";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { woofer } from "../support/two-way";

describe("the nearest level to intervals of amplitudes", () => {
  it("is never above what a fine grid of levels gives, near it where it matters, and says so of what is enough", () => {
    let [more, rough, far] = [0, 0, 0];
    fc.assert(
      fc.property(
        fc.array(fc.tuple(uniform(-1, 1), uniform(0, 0.6), uniform(0, 1), fc.boolean()), { minLength: 2, maxLength: 20 }),
        fc.constantFrom(0.3, 1, 40),
        uniform(0.2, 3),
        (drawn, spread, share) => {
          const lows = Float64Array.from(drawn, ([middle, radius]) => Math.exp(spread * (middle - radius)));
          const highs = Float64Array.from(drawn, ([middle, radius]) => Math.exp(spread * (middle + radius)));
          const shares = Float64Array.from(drawn, ([, , own, counts]) => (counts ? 0.1 + own : 0));
          const counted = [...shares.keys()].filter((i) => shares[i]! > 0);
          if (counted.length < 2) return;
          const [tallest, lowest] = [Math.max(...counted.map((i) => lows[i]!)), Math.min(...counted.map((i) => highs[i]!))];
          if (!(tallest > lowest)) return;
          const lossAt = (level: number) =>
            counted.reduce((sum, i) => {
              const [a, b] = [Math.log(lows[i]!), Math.log(highs[i]!)];
              const d = a > level ? a - level : b < level ? b - level : 0;
              return sum + shares[i]! * d * d;
            }, 0);
          const [from, to] = [Math.log(lowest), Math.log(tallest)];
          const least = Math.min(...Array.from({ length: 4001 }, (_, i) => lossAt(from + ((to - from) * i) / 4000)));
          const distance = nearestLevel({ lows, highs, shares });
          const precise = distance(drawn.length, tallest, lowest, Infinity);
          expect(precise).toBeLessThanOrEqual(least * (1 + 1e-9) + 1e-15);
          expect(precise).toBeGreaterThan(least * 0.999 - 1e-6);
          const enough = least * share;
          const bound = distance(drawn.length, tallest, lowest, enough);
          expect(bound).toBeLessThanOrEqual(least * (1 + 1e-9) + 1e-15);
          if (enough < 0.99 * least - 1e-5) {
            expect(bound).toBeGreaterThanOrEqual(enough);
            more++;
          } else if (bound < 0.999 * precise) rough++;
          if (spread > 10) far++;
        },
      ),
      { numRuns: cases(400) },
    );
    expect(Math.min(more, rough, far)).toBeGreaterThan(10);
  });
});

describe("a branch of which one part after another is put in", () => {
  const options = [0.2e-3, 0.33e-3, 0.47e-3, 0.68e-3, 1e-3, 1.5e-3].map((l) => inductor(l, { dcr: 0.2 }));
  const films = [4.7e-6, 10e-6, 22e-6].map((c) => capacitor(c));
  const parts = [
    { name: "C1", nodes: ["a", "gnd"], options: films },
    { name: "L1", nodes: ["in", "a"], options },
    { name: "R1", nodes: ["a", "w"], options: [resistor(1), resistor(2.2), resistor(0.1)] },
    { name: "woofer", nodes: ["w", "gnd"], options: [woofer] },
  ];
  // 1/(2π√(LC)) of some of them among the frequencies: without a loss in the capacitor the voltage is highest there.
  const frequencies = Float64Array.from([...logGrid(60, 12_000, 25), 1 / (2 * Math.PI * Math.sqrt(0.68e-3 * 10e-6))]).sort();

  it("gives what the network by itself gives, in whatever order they come", () => {
    const solver = branchSolver(parts, {}, ["woofer"], frequencies);
    const n = frequencies.length;
    const [volts, admittance] = [new Float64Array(2 * n), new Float64Array(2 * n)];
    const first = new Map<string, number[]>();
    for (const step of [1, 5, 7])
      for (let i = 0; i < 54; i++) {
        const at = (i * step) % 54;
        const codes = [at % 3, Math.floor(at / 3) % 6, Math.floor(at / 18), 0];
        expect(solver.solve(codes, volts, admittance)).toBe(true);
        const alone = solve(
          network<Entries>(
            Object.fromEntries(parts.map(({ name, nodes, options: own }, p) => [name, [own[codes[p]!]!, ...nodes]])) as unknown as Entries,
          ),
          frequencies,
        );
        const heard = alone.voltage("woofer" as never);
        for (let f = 0; f < n; f++) {
          expect(Math.hypot(volts[2 * f]! - heard.re[f]!, volts[2 * f + 1]! - heard.im[f]!)).toBeLessThan(1e-11);
          const [re, im] = [alone.impedance.re[f]!, alone.impedance.im[f]!];
          const square = re * re + im * im;
          expect(Math.hypot(admittance[2 * f]! - re / square, admittance[2 * f + 1]! + im / square)).toBeLessThan(1e-11);
        }
        // A state's numbers don't hang on what was solved before.
        const own = [...volts, ...admittance];
        expect(own).toEqual(first.get(String(codes)) ?? own);
        first.set(String(codes), own);
      }
    expect(first.size).toBe(54);
  });
});

describe("the floor under the level", () => {
  it("takes the mean of logarithms from products, also where they would leave the numbers there are", () => {
    const n = 400;
    const heard = {
      points: n,
      weights: Float64Array.of(0.25, 0.75),
      offsets: Float64Array.of(0.5, 1),
      leastLevel: 3,
      axis: 0,
      leastAxis: -Infinity,
    } as unknown as Heard;
    const levels = (k: number, f: number) => 20 * Math.sin(0.3 * f + k) + (k === 0 ? 7 : -3);
    const floor = new LevelFloor(heard);
    for (let round = 0; round < 2; round++) {
      floor.begin();
      let mean = 0;
      for (let f = 0; f < n; f++)
        for (const k of [0, 1]) {
          floor.hear(k, Math.exp(levels(k, f)));
          mean += (heard.weights[k]! * levels(k, f)) / n;
        }
      const level = mean + 0.25 * 0.5 + 0.75;
      expect(floor.missing()).toBeCloseTo(3 - level, 9);
      expect(floor.broken()).toBe(true);
    }
    floor.begin();
    for (let f = 0; f < n; f++) for (const k of [0, 1]) floor.hear(k, f === 5 ? 0 : 1e5);
    expect(floor.missing()).toBe(Infinity);
    floor.begin();
    for (let f = 0; f < n; f++) for (const k of [0, 1]) floor.hear(k, f === 5 ? Infinity : 1e5);
    expect(floor.broken()).toBe(false);
  });
});

describe("the order of the frequencies", () => {
  it("holds every number once, and the first quarter lies spread over all", () => {
    for (const n of [0, 1, 5, 12, 30, 97])
      expect([...spreadOrder(n)].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, i) => i));
    expect([...spreadOrder(12)].slice(0, 3)).toEqual([0, 4, 8]);
    expect(firstLooks(12)).toEqual([2, 5]);
    expect(firstLooks(11)).toEqual([-1, -1]);
  });
});
