// Tests src/parts/: resistor.ts
// Tests src/parts/stock/: best-combination.ts, combination-search.ts
// Combinations against a plain enumeration of all of them, written here, and against the laws of series and parallel connection, solved as networks.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DividingNetworkError, solve, valueAt, type Entries } from "dividing-network";
import {
  bestCombination,
  combination,
  stock,
  type Arrangement,
  type StockKind,
  type StockLine,
  type StockPart,
} from "dividing-network/parts";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";

const KINDS = ["resistor", "inductor", "capacitor"] as const;
const codeOf = (run: () => unknown): string => {
  try {
    run();
    return "none";
  } catch (error) {
    return (error as DividingNetworkError).code;
  }
};
const size = ({ part }: StockPart) =>
  part.kind === "resistor" ? part.resistance : part.kind === "inductor" ? part.inductance : part.capacitance;

/** What pieces make, by the formulas of series and parallel connection. */
const add = (...values: readonly number[]) => values.reduce((a, b) => a + b, 0);
const side = (...values: readonly number[]) => 1 / values.reduce((a, b) => a + 1 / b, 0);

/** Deviation, pieces and price of the best of all combinations, one after the other. */
function enumerated(
  parts: readonly StockPart[],
  target: number,
  most: number,
  close: number,
): { deviation: number; pieces: number; price: number } {
  let best = { deviation: Infinity, pieces: 0, price: 0 };
  const offer = (values: readonly number[], from: readonly StockPart[]) => {
    if (from.some((one) => from.filter((other) => other === one).length > (one.count ?? 3))) return;
    const price = from.reduce((sum, one) => sum + (one.price ?? Infinity), 0);
    for (const value of values) {
      const deviation = Math.max(0, Math.round((Math.abs(value / target - 1) - close) * 1e9));
      if (
        deviation < best.deviation
        || (deviation === best.deviation && (from.length < best.pieces || (from.length === best.pieces && price < best.price)))
      )
        best = { deviation, pieces: from.length, price };
    }
  };
  for (const a of parts) {
    offer([size(a)], [a]);
    if (most < 2) continue;
    for (const b of parts) {
      offer([add(size(a), size(b)), side(size(a), size(b))], [a, b]);
      if (most < 3) continue;
      for (const c of parts)
        offer(
          [
            add(size(a), size(b), size(c)),
            side(size(a), size(b), size(c)),
            add(size(a), side(size(b), size(c))),
            side(size(a), add(size(b), size(c))),
          ],
          [a, b, c],
        );
    }
  }
  return best;
}

const line = (kind: StockKind): fc.Arbitrary<StockLine> =>
  fc.record({
    kind: fc.constant(kind),
    value: fc.oneof(fc.constantFrom(1, 2, 2.2, 3.3, 4.7, 5, 10), uniform(0.5, 20)),
    price: fc.option(fc.constantFrom(1, 2, 3), { nil: undefined }),
    count: fc.option(fc.nat(3), { nil: undefined }),
  }) as fc.Arbitrary<StockLine>;

describe("the best combination of a stock", () => {
  it("is the one that an enumeration of all finds: as near, of as few pieces, as cheap", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...KINDS).chain((kind) => fc.tuple(fc.constant(kind), fc.array(line(kind), { minLength: 1, maxLength: 6 }))),
        uniform(0.2, 40),
        fc.constantFrom(1, 2, 3),
        fc.constantFrom(0, 0, 0.01, 0.1),
        ([kind, lines], value, most, closeEnough) => {
          const drawer = stock(lines);
          const own = enumerated(drawer.parts, value, most, closeEnough);
          if (own.pieces === 0) {
            expect(codeOf(() => bestCombination(drawer, kind, { value, mostParts: most as 3 }))).toBe("not-in-stock");
            return;
          }
          const found = bestCombination(drawer, kind, { value, mostParts: most as 3, closeEnough });
          expect(Math.abs(Math.max(0, Math.round((Math.abs(found.deviation) - closeEnough) * 1e9)) - own.deviation)).toBeLessThanOrEqual(1);
          expect(found.parts.length).toBe(own.pieces);
          expect(found.price ?? Infinity).toBeCloseTo(own.price, 9);
          for (const one of found.parts) expect(found.parts.filter((other) => other === one).length).toBeLessThanOrEqual(one.count ?? 3);
        },
      ),
      { numRuns: cases(400) },
    );
  });

  it("is never farther than the nearest single part, nor than one of fewer pieces", () => {
    fc.assert(
      fc.property(fc.array(line("capacitor"), { minLength: 1, maxLength: 30 }), uniform(0.2, 40), (lines, value) => {
        const drawer = stock([{ kind: "capacitor", value: 1 }, ...lines]);
        const [one, two, three] = ([1, 2, 3] as const).map((mostParts) =>
          Math.abs(bestCombination(drawer, "capacitor", { value, mostParts }).deviation),
        );
        expect(two).toBeLessThanOrEqual(one! + 1e-9);
        expect(three).toBeLessThanOrEqual(two! + 1e-9);
      }),
      { numRuns: cases(100) },
    );
  });

  it("takes a value twice only where there are two of it", () => {
    const lines = (count: number) =>
      [
        { kind: "resistor", value: "10 Ω", count },
        { kind: "resistor", value: "4.7 Ω", count: 1 },
      ] as const;
    expect(bestCombination(lines(2), "resistor", { value: 5 }).says).toBe("2 × 10 Ω in parallel");
    expect(bestCombination(lines(1), "resistor", { value: 5 }).says).toBe("4.7 Ω");
    expect(
      bestCombination(
        [
          { kind: "resistor", value: 8, count: 0 },
          { kind: "resistor", value: 7 },
        ],
        "resistor",
        { value: 8, mostParts: 1 },
      ).deviation,
    ).toBeCloseTo(-0.125, 12);
  });

  it("keeps what it must bear, by every piece's share, and what it may cost", () => {
    const lines = [
      { kind: "resistor", value: "8 Ω", power: "5 W", price: 1 },
      { kind: "resistor", value: "16 Ω", power: "5 W", price: 1 },
      { kind: "resistor", value: "7.5 Ω", power: "20 W", price: 9 },
      { kind: "resistor", value: "8 Ω", price: 0.5 },
    ] as const;
    expect(bestCombination(lines, "resistor", { value: 8 }).price).toBe(0.5);
    expect(bestCombination(lines, "resistor", { value: 8, power: 5 }).says).toBe("8 Ω");
    const two = bestCombination(lines, "resistor", { value: 8, power: "10 W" });
    expect([two.says, two.power]).toEqual(["2 × 16 Ω in parallel", 10]);
    expect(bestCombination(lines, "resistor", { value: 8, power: "20 W" }).says).toBe("7.5 Ω");
    expect(codeOf(() => bestCombination(lines, "resistor", { value: 8, power: "20 W", largestPrice: 5 }))).toBe("not-in-stock");
    expect(codeOf(() => bestCombination(lines, "resistor", { value: 8, voltage: 1 }))).toBe("not-in-stock");
  });

  it("answers from a full drawer, and refuses one that is too large", () => {
    const many = (n: number, more: object = {}) =>
      Array.from({ length: n }, (_, i) => ({ kind: "resistor", value: 1.01 ** i, ...more }) as StockLine);
    expect(Math.abs(bestCombination(many(500), "resistor", { value: 7.123456 }).deviation)).toBeLessThan(1e-6);
    expect(codeOf(() => bestCombination(many(2001), "resistor", { value: 7 }))).toBe("too-many-parts");
    expect(codeOf(() => bestCombination(many(500, { power: 1 }), "resistor", { value: 7, power: 100 }))).toBe("not-in-stock");
    expect(codeOf(() => bestCombination(many(300, { power: 1, count: 1 }), "resistor", { value: 7, power: 2.9999 }))).toBe(
      "too-many-parts",
    );
    const same = Array.from({ length: 600 }, (_, i) => ({ kind: "resistor", value: 1 + i * 1e-14 }) as StockLine);
    expect(codeOf(() => bestCombination(same, "resistor", { value: 3 }))).toBe("too-many-parts");
    expect(codeOf(() => bestCombination([], "inductor", { value: 1 }))).toBe("not-in-stock");
  });
});

describe("a combination", () => {
  const lossy: fc.Arbitrary<StockLine> = fc.oneof(
    fc.record({ kind: fc.constant("inductor" as const), value: uniform(1e-4, 1e-2), dcr: uniform(0, 2), tolerance: uniform(0, 0.3) }),
    fc.record({ kind: fc.constant("capacitor" as const), value: uniform(1e-6, 1e-4), esr: uniform(0, 1), tolerance: uniform(0, 0.3) }),
    fc.record({
      kind: fc.constant("capacitor" as const),
      value: uniform(1e-6, 1e-4),
      dissipationFactor: uniform(0, 0.1),
      tolerance: uniform(0, 0.3),
    }),
    fc.record({ kind: fc.constant("resistor" as const), value: uniform(1, 100), tolerance: uniform(0, 0.3) }),
  );
  /** Three of one kind, in every way they can be connected. */
  const three = fc
    .tuple(lossy, lossy, lossy)
    .filter(([a, b, c]) => a.kind === b.kind && b.kind === c.kind)
    .map((lines) => stock(lines).parts as readonly [StockPart, StockPart, StockPart]);
  const ways = (a: StockPart, b: StockPart, c: StockPart): readonly { readonly arrangement: Arrangement; readonly entries: Entries }[] => {
    const of = (nodes: readonly (readonly [string, string])[]) =>
      Object.fromEntries([a, b, c].map(({ part }, i) => [`P${i}`, [part, ...nodes[i]!]])) as unknown as Entries;
    return [
      {
        arrangement: { series: [a, b, c] },
        entries: of([
          ["in", "m"],
          ["m", "n"],
          ["n", "gnd"],
        ]),
      },
      {
        arrangement: { parallel: [a, b, c] },
        entries: of([
          ["in", "gnd"],
          ["in", "gnd"],
          ["in", "gnd"],
        ]),
      },
      {
        arrangement: { series: [a, { parallel: [b, c] }] },
        entries: of([
          ["in", "m"],
          ["m", "gnd"],
          ["m", "gnd"],
        ]),
      },
      {
        arrangement: { parallel: [a, { series: [b, c] }] },
        entries: of([
          ["in", "gnd"],
          ["in", "m"],
          ["m", "gnd"],
        ]),
      },
    ];
  };

  it("loses at the stated frequency what the same parts lose as a network", () => {
    fc.assert(
      fc.property(three, uniform(100, 10_000), ([a, b, c], frequency) => {
        for (const { arrangement, entries } of ways(a, b, c)) {
          const whole = valueAt(solve(entries, [frequency, 2 * frequency]).impedance, frequency);
          const { part } = combination(arrangement, { frequency });
          const one = valueAt(solve({ P: [part, "in", "gnd"] } as Entries, [frequency, 2 * frequency]).impedance, frequency);
          expect(Math.abs(one.re - whole.re)).toBeLessThan(1e-9 * whole.abs());
        }
      }),
      { numRuns: cases(60) },
    );
  });

  it("has the value of its parts without loss", () => {
    fc.assert(
      fc.property(three, ([a, b, c]) => {
        const [x, y, z] = [a, b, c].map(size) as [number, number, number];
        const [up, down] = a.part.kind === "capacitor" ? [side, add] : [add, side];
        const wanted = [up(x, y, z), down(x, y, z), up(x, down(y, z)), down(x, up(y, z))];
        ways(a, b, c).forEach(({ arrangement }, index) =>
          expect(size({ part: combination(arrangement).part } as StockPart) / wanted[index]!).toBeCloseTo(1, 12),
        );
      }),
      { numRuns: cases(60) },
    );
  });

  it("deviates by no more than the worst of its parts, and as they do where all deviate alike", () => {
    fc.assert(
      fc.property(three, ([a, b, c]) => {
        for (const { arrangement } of ways(a, b, c)) {
          const { tolerance } = combination(arrangement);
          const [least, most] = [Math.min(a.tolerance!, b.tolerance!, c.tolerance!), Math.max(a.tolerance!, b.tolerance!, c.tolerance!)];
          expect(tolerance!).toBeGreaterThanOrEqual(least - 1e-12);
          expect(tolerance!).toBeLessThanOrEqual(most + 1e-12);
        }
      }),
      { numRuns: cases(60) },
    );
  });

  it("shares watts and volts as a network does, and no piece bears more than it may", () => {
    const [ten, four] = stock([
      { kind: "resistor", value: 10, power: 10 },
      { kind: "resistor", value: 4.7, power: 10 },
    ]).parts as [StockPart, StockPart];
    // 4.7 Ω in series with 5 Ω: of 20.64 W, 4.7 Ω get 10 W and each 10 Ω 5.32 W.
    const mixed = combination({ series: [four, { parallel: [ten, ten] }] });
    expect(mixed.power).toBeCloseTo((10 * 9.7) / 4.7, 9);
    expect(mixed.says).toBe("4.7 Ω and (2 × 10 Ω in parallel) in series");
    // 1 µF and 3 µF in series at 100 V: the small one has 75 V.
    const [one, other] = stock([
      { kind: "capacitor", value: 1e-6, voltage: 63 },
      { kind: "capacitor", value: 3e-6, voltage: 63 },
    ]).parts as [StockPart, StockPart];
    expect(combination({ series: [one, other] }).voltage).toBeCloseTo(63 / 0.75, 9);
    expect(combination({ parallel: [one, other] }).voltage).toBe(63);
    // 1 mH and 3 mH side by side: the small one has three quarters of the current.
    const [small, large] = stock([
      { kind: "inductor", value: 1e-3, current: 3 },
      { kind: "inductor", value: 3e-3, current: 3 },
    ]).parts as [StockPart, StockPart];
    expect(combination({ parallel: [small, large] }).current).toBeCloseTo(4, 9);
    expect(combination({ series: [small, large] }).current).toBe(3);
    expect(combination({ series: [small, large] }).power).toBeUndefined();
  });

  it("is refused of parts of two kinds, of none, of endless nesting", () => {
    const [r, c] = stock([
      { kind: "resistor", value: 1 },
      { kind: "capacitor", value: 1 },
    ]).parts as [StockPart, StockPart];
    expect(codeOf(() => combination({ series: [r, c] }))).toBe("invalid-argument");
    expect(codeOf(() => combination({ series: [] }))).toBe("invalid-argument");
    const round: { series: Arrangement[] } = { series: [] };
    round.series.push(round);
    expect(codeOf(() => combination(round))).toBe("invalid-argument");
    expect(combination(r)).toMatchObject({ says: "1 Ω", part: r.part });
  });
});
