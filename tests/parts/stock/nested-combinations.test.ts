// Tests src/parts/stock/: combination.ts
// Parts in series and side by side, nested as deep as wanted, against the same parts solved as a network: value, and what of the whole's volts, amperes and watts each piece has.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DividingNetworkError, solve, valueAt, type Entries } from "dividing-network";
import { combination, stock, type Arrangement, type StockKind, type StockLine, type StockPart } from "dividing-network/parts";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";

const MIDDLE = { resistor: 10, inductor: 1e-3, capacitor: 1e-5 } as const;
const RATING = { resistor: "power", inductor: "current", capacitor: "voltage" } as const;

/** Lines in groups in groups, series and parallel in turn or not. */
const { tree } = fc.letrec<{ tree: Arrangement; leaf: Arrangement }>((tie) => ({
  leaf: fc.record({ value: uniform(-1, 1), rating: uniform(0.5, 5) }) as never,
  tree: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    tie("leaf"),
    fc.array(tie("tree"), { minLength: 1, maxLength: 3 }).map((series) => ({ series })),
    fc.array(tie("tree"), { minLength: 1, maxLength: 3 }).map((parallel) => ({ parallel })),
  ),
}));

function mapped(each: Arrangement, leaf: (given: { readonly value: number; readonly rating: number }) => StockPart): Arrangement {
  if ("series" in each) return { series: each.series.map((one) => mapped(one, leaf)) };
  if ("parallel" in each) return { parallel: each.parallel.map((one) => mapped(one, leaf)) };
  return leaf(each as never);
}

interface Drawing {
  readonly entries: Record<string, unknown>;
  readonly pieces: { readonly name: string; readonly line: StockPart }[];
  nodes: number;
}

/** Draws the parts between two nodes. */
function draw(each: Arrangement, from: string, to: string, into: Drawing): void {
  if ("parallel" in each) for (const one of each.parallel) draw(one, from, to, into);
  else if ("series" in each) {
    const between = each.series.slice(1).map(() => `n${into.nodes++}`);
    const at = [from, ...between, to];
    each.series.forEach((one, index) => draw(one, at[index]!, at[index + 1]!, into));
  } else {
    const name = `P${into.pieces.length}`;
    into.entries[name] = [each.part, from, to];
    into.pieces.push({ name, line: each });
  }
}

describe("parts nested in series and side by side", () => {
  it("make the value that they have as a network, and bear together what leaves each piece within its rating, one of them at it", () => {
    fc.assert(
      fc.property(tree, fc.constantFrom<StockKind>("resistor", "inductor", "capacitor"), (shape, kind) => {
        const rating = RATING[kind];
        const arrangement = mapped(shape, ({ value, rating: bears }) => {
          const line = { kind, value: MIDDLE[kind] * 10 ** value, [rating]: bears } as unknown as StockLine;
          return stock([line]).parts[0]!;
        });
        const whole = combination(arrangement);
        const drawing: Drawing = { entries: {}, pieces: [], nodes: 0 };
        draw(arrangement, "in", "gnd", drawing);
        const { entries, pieces } = drawing;
        expect(whole.parts.length).toBe(pieces.length);
        const sweep = solve(entries as Entries, [1000, 2000]);
        const impedance = valueAt(sweep.impedance, 1000).abs();
        const alone = solve({ P: [whole.part, "in", "gnd"] } as Entries, [1000, 2000]);
        expect(valueAt(alone.impedance, 1000).abs() / impedance).toBeCloseTo(1, 10);
        // 1 V across all: the sizes of each piece's volts and amperes, all in phase.
        const loads = pieces.map(({ name, line }) => {
          const amperes = valueAt(sweep.current(name as never), 1000).abs();
          const own = solve({ P: [line.part, "in", "gnd"] } as Entries, [1000, 2000]);
          const volts = amperes * valueAt(own.impedance, 1000).abs();
          const share = { power: volts * amperes * impedance, voltage: volts, current: amperes * impedance }[rating];
          return share / line[rating]!;
        });
        expect(whole[rating]! * Math.max(...loads)).toBeCloseTo(1, 9);
      }),
      { numRuns: cases(80) },
    );
  });

  it("may stand twenty deep and be a hundred pieces, no more", () => {
    const [one] = stock([{ kind: "resistor", value: 1 }]).parts as [StockPart];
    const deep = (times: number): Arrangement => {
      let each: Arrangement = one;
      for (let k = 0; k < times; k++) each = k % 2 === 0 ? { series: [each] } : { parallel: [each] };
      return each;
    };
    const many = (count: number): Arrangement => ({ series: Array.from({ length: count }, () => one) });
    const refused = (given: unknown): string => {
      try {
        combination(given as Arrangement);
      } catch (error) {
        if (error instanceof DividingNetworkError) return error.message;
        throw error;
      }
      return "taken";
    };
    expect(combination(deep(20)).part).toEqual(one.part);
    expect(refused(deep(21))).toContain("nested at most 20 deep");
    expect(combination(many(100)).part).toMatchObject({ resistance: 100 });
    expect(refused(many(101))).toContain("at most 100 pieces");
    // Counted over all groups, not in each.
    expect(combination({ parallel: [many(50), many(50)] }).part).toMatchObject({ resistance: 25 });
    expect(refused({ parallel: [many(50), many(51)] })).toContain("at most 100 pieces");
    for (const none of [null, 7, "series", { series: "10 Ω" }, { parallel: [] }, { series: [null] }, { parallel: { length: 1 } }])
      expect(refused(none)).toContain('"arrangement"');
  });

  it("is said in words from the outside in, equal groups counted", () => {
    const [ten, four] = stock([
      { kind: "resistor", value: 10 },
      { kind: "resistor", value: 4.7 },
    ]).parts as [StockPart, StockPart];
    const pair = { parallel: [ten, ten] } as const;
    expect(combination({ series: [pair, pair] }).says).toBe("2 × (2 × 10 Ω in parallel) in series");
    expect(combination({ parallel: [{ series: [ten, four] }, pair] }).says).toBe(
      "(10 Ω and 4.7 Ω in series) and (2 × 10 Ω in parallel) in parallel",
    );
    expect(combination({ series: [ten, ten, four] }).says).toBe("10 Ω and 10 Ω and 4.7 Ω in series");
    expect(combination(pair).arrangement).toEqual(pair);
  });

  it("costs what all pieces cost, and says nothing of cost, tolerance or loss where one of them doesn't", () => {
    const [a, b, free, bare] = stock([
      { kind: "inductor", value: "1 mH", dcr: 0.1, price: 2.5, tolerance: 0.05 },
      { kind: "inductor", value: "2 mH", dcr: 0.2, price: 4, tolerance: 0.1 },
      { kind: "inductor", value: "3 mH", dcr: 0, price: 0, tolerance: 0 },
      { kind: "inductor", value: "4 mH" },
    ]).parts as [StockPart, StockPart, StockPart, StockPart];
    const whole = combination({ series: [a, { parallel: [b, b] }, free] });
    expect(whole.price).toBe(10.5);
    expect(whole.lossKnown).toBe(true);
    // 1 mH ± 5 %, 1 mH ± 10 % and 3 mH: ±0.15 mH of 5 mH.
    expect(whole.tolerance).toBeCloseTo(0.03, 12);
    const unknown = combination({ series: [a, bare] });
    expect(unknown.lossKnown).toBe(false);
    for (const fact of ["price", "tolerance", "current"]) expect(unknown).not.toHaveProperty(fact);
    expect(combination(a)).toMatchObject({ part: a.part, tolerance: 0.05, price: 2.5 });
  });
});
