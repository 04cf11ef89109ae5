// Tests src/parts/stock/: best-combination.ts, combination-search.ts, stock-part.ts
// Drawers so small that the best combination is seen: every shape of two and three pieces, what counts among equally near ones, what pieces must bear and may cost, to the limit itself.
import { describe, expect, it } from "vitest";
import { capacitor, DividingNetworkError, inductor, resistor } from "dividing-network";
import { bestCombination, stock, type StockKind, type StockLine } from "dividing-network/parts";
import { isStockKind, lossAtOneKilohertz, mainValue, stockedKind } from "../../../src/parts/stock/stock-part";

function refusal(run: () => unknown): DividingNetworkError {
  try {
    run();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}
const UNIT = { resistor: 1, inductor: 1e-3, capacitor: 1e-6 } as const;
const KINDS = ["resistor", "inductor", "capacitor"] as const;
const lines = (kind: StockKind, values: readonly number[], more: object = {}) =>
  values.map((value) => ({ kind, value: value * UNIT[kind], ...more }) as StockLine);
const add = (...values: readonly number[]) => values.reduce((a, b) => a + b, 0);
const side = (...values: readonly number[]) => 1 / values.reduce((a, b) => a + 1 / b, 0);

describe("the best combination", () => {
  // Of 2, 3 and 7, one of each: no two shapes make the same.
  const shapes: readonly (readonly [value: number, adding: string, beside: string])[] = [
    [2, "2", "2"],
    [7, "7", "7"],
    [add(2, 3), "2 and 3 in series", "2 and 3 in parallel"],
    [add(3, 7), "3 and 7 in series", "3 and 7 in parallel"],
    [side(2, 3), "2 and 3 in parallel", "2 and 3 in series"],
    [side(2, 7), "2 and 7 in parallel", "2 and 7 in series"],
    [add(2, 3, 7), "2 and 3 and 7 in series", "2 and 3 and 7 in parallel"],
    [side(2, 3, 7), "2 and 3 and 7 in parallel", "2 and 3 and 7 in series"],
    [add(2, side(3, 7)), "2 and (3 and 7 in parallel) in series", "2 and (3 and 7 in series) in parallel"],
    [add(3, side(2, 7)), "3 and (2 and 7 in parallel) in series", "3 and (2 and 7 in series) in parallel"],
    [add(7, side(2, 3)), "7 and (2 and 3 in parallel) in series", "7 and (2 and 3 in series) in parallel"],
    [side(2, add(3, 7)), "2 and (3 and 7 in series) in parallel", "2 and (3 and 7 in parallel) in series"],
    [side(3, add(2, 7)), "3 and (2 and 7 in series) in parallel", "3 and (2 and 7 in parallel) in series"],
    [side(7, add(2, 3)), "7 and (2 and 3 in series) in parallel", "7 and (2 and 3 in parallel) in series"],
  ];

  it.each(KINDS)("of a %s is found in every shape", (kind) => {
    const unit = { resistor: " Ω", inductor: " mH", capacitor: " µF" }[kind];
    for (const [value, adding, beside] of shapes) {
      const found = bestCombination(lines(kind, [3, 7, 2], { count: 1 }), kind, { value: value * UNIT[kind] });
      expect(Math.abs(found.deviation)).toBeLessThan(1e-12);
      expect(found.says).toBe((kind === "capacitor" ? beside : adding).replace(/\d/g, (digit) => digit + unit));
      // With one piece less it is farther away, if it took more than one.
      const most = found.parts.length;
      if (most > 1)
        expect(
          Math.abs(
            bestCombination(lines(kind, [3, 7, 2], { count: 1 }), kind, { value: value * UNIT[kind], mostParts: (most - 1) as 1 })
              .deviation,
          ),
        ).toBeGreaterThan(1e-3);
    }
  });

  it("takes pieces of one value twice and three times, as far as they go", () => {
    const made = (value: number, count?: number) =>
      bestCombination(lines("resistor", [10, 1000], count === undefined ? {} : { count }), "resistor", { value }).says;
    expect([made(20), made(30), made(5), made(10 / 3), made(15), made(20 / 3)]).toEqual([
      "2 × 10 Ω in series",
      "3 × 10 Ω in series",
      "2 × 10 Ω in parallel",
      "3 × 10 Ω in parallel",
      "10 Ω and (2 × 10 Ω in parallel) in series",
      "10 Ω and (2 × 10 Ω in series) in parallel",
    ]);
    expect(made(30, 3)).toBe("3 × 10 Ω in series");
    expect(made(30, 2)).toBe("2 × 10 Ω in series");
    // Two lines of one value with one piece each.
    const two = [...lines("resistor", [10], { count: 1, name: "box 1" }), ...lines("resistor", [10], { count: 1, name: "box 2" })];
    expect(bestCombination(two, "resistor", { value: 20 }).parts.map(({ name }) => name)).toEqual(["box 1", "box 2"]);
    expect(bestCombination(two, "resistor", { value: 30 }).parts).toHaveLength(2);
  });

  it("looks at parts of the kind alone", () => {
    const mixed = [...KINDS.map((kind) => ({ kind, value: 8, name: kind }) as StockLine), ...lines("resistor", [7.9])];
    for (const kind of KINDS) expect(bestCombination(mixed, kind, { value: 8 }).parts.map(({ name }) => name)).toEqual([kind]);
  });

  it("of those that are equally near is that of fewest pieces, then the cheapest; what has no price is the dearest", () => {
    const named = (drawer: readonly object[], more: object = {}) =>
      bestCombination(drawer as readonly StockLine[], "resistor", { value: 10, ...more }).parts.map(({ name }) => name);
    const one = { kind: "resistor", value: 10, name: "one", price: 5 };
    const half = { kind: "resistor", value: 5, name: "half", price: 1 };
    const twice = { kind: "resistor", value: 20, name: "twice", price: 0.5 };
    expect(named([half, twice, one])).toEqual(["one"]);
    expect(named([half, twice])).toEqual(["twice", "twice"]);
    expect(named([{ ...half, price: 0.4 }, twice])).toEqual(["half", "half"]);
    expect(named([twice, half, { ...half, name: "cheap half", price: 0.1, count: 1 }])).toEqual(["twice", "twice"]);
    expect(named([{ ...twice, price: 0.6 }, half, { ...half, name: "cheap half", price: 0.1, count: 1 }])).toEqual(["cheap half", "half"]);
    expect(named([{ ...twice, price: undefined }, half])).toEqual(["half", "half"]);
    expect(named([twice, { ...half, price: undefined }])).toEqual(["twice", "twice"]);
    expect(
      named([
        { ...one, price: undefined },
        { ...one, name: "priced" },
      ]),
    ).toEqual(["priced"]);
    expect(
      named([
        { ...one, name: "dear" },
        { ...one, price: 4 },
      ]),
    ).toEqual(["one"]);
    // Of the same price the one that comes first.
    expect(
      named([
        { ...one, name: "first" },
        { ...one, name: "second" },
      ]),
    ).toEqual(["first"]);
    expect(
      named([
        { ...one, price: undefined, name: "first" },
        { ...one, price: undefined, name: "second" },
      ]),
    ).toEqual(["first"]);
    // Within what is close enough fewer and cheaper ones win over nearer ones.
    const near = { kind: "resistor", value: 10.4, name: "near", price: 2 };
    expect(named([near, half, twice])).toEqual(["twice", "twice"]);
    expect(named([near, half, twice], { closeEnough: 0.04 })).toEqual(["near"]);
    expect(named([near, half, twice], { closeEnough: 0.039 })).toEqual(["twice", "twice"]);
    expect(named([near, one], { closeEnough: 0.04 })).toEqual(["near"]);
    expect(named([near, { ...one, price: 1 }], { closeEnough: 0.04 })).toEqual(["one"]);
    // Beyond it the nearer one, above or below.
    expect(named([near, { ...one, value: 9.5, name: "below" }], { closeEnough: 0.01 })).toEqual(["near"]);
    expect(
      named(
        [
          { ...near, value: 10.6 },
          { ...one, value: 9.5, name: "below", count: 1 },
        ],
        { closeEnough: 0.01, mostParts: 1 },
      ),
    ).toEqual(["below"]);
  });

  it("bears what is asked for by its pieces' shares, and what doesn't say isn't taken", () => {
    const films = lines("capacitor", [10], { voltage: 63 });
    const volts = (voltage: number) => bestCombination(films, "capacitor", { value: "5 µF", voltage });
    expect(volts(126).says).toBe("2 × 10 µF in series");
    expect(volts(126).voltage).toBeCloseTo(126, 9);
    expect(bestCombination(films, "capacitor", { value: "10 µF", voltage: 63 }).parts).toHaveLength(1);
    // 126 V asks for two in series at least, 189 V for three, more for more than three.
    expect(bestCombination(films, "capacitor", { value: "10 µF", voltage: 127 }).says).toBe("3 × 10 µF in series");
    expect(bestCombination(films, "capacitor", { value: "10 µF", voltage: 189 }).parts).toHaveLength(3);
    expect(refusal(() => bestCombination(films, "capacitor", { value: "10 µF", voltage: 189.001 })).code).toBe("not-in-stock");
    expect(refusal(() => bestCombination(lines("capacitor", [10]), "capacitor", { value: "10 µF", voltage: 1 })).code).toBe("not-in-stock");
    expect(
      bestCombination([...lines("capacitor", [10]), ...lines("capacitor", [12], { voltage: 63 })], "capacitor", {
        value: "10 µF",
        voltage: 1,
        mostParts: 1,
      }).says,
    ).toBe("12 µF");
    const coils = lines("inductor", [1], { current: 3 });
    expect(bestCombination(coils, "inductor", { value: "0.5 mH", current: 6 }).says).toBe("2 × 1 mH in parallel");
    expect(bestCombination(coils, "inductor", { value: "0.5 mH", current: 6.001 }).says).toBe("3 × 1 mH in parallel");
    expect(refusal(() => bestCombination(coils, "inductor", { value: "0.5 mH", current: 9.001 })).code).toBe("not-in-stock");
    const watts = lines("resistor", [8], { power: 5 });
    expect(bestCombination(watts, "resistor", { value: 8, power: 5 }).parts).toHaveLength(1);
    expect(bestCombination(watts, "resistor", { value: 8, power: 5.001 }).parts.length).toBeGreaterThan(1);
    expect(bestCombination(watts, "resistor", { value: 8, power: 15 }).power).toBeCloseTo(15, 9);
    expect(refusal(() => bestCombination(watts, "resistor", { value: 8, power: 15.001 })).code).toBe("not-in-stock");
    expect(refusal(() => bestCombination(watts, "resistor", { value: 8, power: 5.001, mostParts: 1 })).code).toBe("not-in-stock");
    // Of one value that which bears more, though it costs more.
    const two = [
      ...lines("resistor", [8], { power: 5, price: 1, name: "small" }),
      ...lines("resistor", [8], { power: 20, price: 9, name: "large" }),
    ];
    expect(bestCombination(two, "resistor", { value: 8, power: 20 }).parts.map(({ name }) => name)).toEqual(["large"]);
    expect(bestCombination(two, "resistor", { value: 8, power: 5 }).parts.map(({ name }) => name)).toEqual(["small"]);
    // Nothing is asked for: what says nothing is as good.
    expect(bestCombination(lines("resistor", [8]), "resistor", { value: 8, power: 0, voltage: 0, current: 0 }).parts).toHaveLength(1);
  });

  it("costs no more than it may, all pieces together", () => {
    const drawer = [...lines("resistor", [5], { price: 1.5 }), ...lines("resistor", [9], { price: 1 })];
    const says = (largestPrice: number) => bestCombination(drawer, "resistor", { value: 10, largestPrice }).says;
    expect(says(3)).toBe("2 × 5 Ω in series");
    expect(says(2.99)).toBe("9 Ω");
    expect(says(1)).toBe("9 Ω");
    expect(refusal(() => says(0.99)).code).toBe("not-in-stock");
    expect(refusal(() => bestCombination(lines("resistor", [10]), "resistor", { value: 10, largestPrice: 100 })).code).toBe("not-in-stock");
    expect(bestCombination(lines("resistor", [10], { price: 0 }), "resistor", { value: 10, largestPrice: 0 }).price).toBe(0);
  });

  it("says what it couldn't find", () => {
    const said = (kind: StockKind, more: object = {}, drawer: readonly StockLine[] = []) =>
      refusal(() => bestCombination(drawer, kind, { value: 8 * UNIT[kind], ...more })).message;
    expect(said("resistor")).toContain('"drawer" must hold a resistor, got none for 8 Ω.');
    expect(said("inductor")).toContain('"drawer" must hold an inductor, got none for 8 mH.');
    expect(said("capacitor", { voltage: 9 })).toContain(
      "must hold a capacitor or combination of at most 3 that bears what is asked for, got none for 8 µF.",
    );
    expect(said("capacitor", { largestPrice: 9, mostParts: 2 })).toContain("of at most 2 that costs at most 9, got");
    expect(said("capacitor", { largestPrice: 9, current: 1 })).toContain("that bears what is asked for and costs at most 9, got");
    const given = (more: object) =>
      refusal(() => bestCombination(lines("resistor", [8]), "resistor", { value: 8, ...more } as never)).message;
    for (const [name, values] of Object.entries({
      value: [0, -1, NaN, "8 mH"],
      mostParts: [0, 4, 1.5, NaN],
      closeEnough: [-1e-9, 1.1, NaN],
      frequency: [0, -1, "1 s"],
      power: [-1, NaN, "1 V"],
      voltage: [-1, "1 W"],
      current: [-1, "1 V"],
      largestPrice: [-1, NaN, "3 EUR"],
    }))
      for (const value of values) expect(given({ [name]: value }), `${name} ${String(value)}`).toContain(`"${name}"`);
    expect(given({ tolerance: 1 })).toContain("tolerance");
    expect(refusal(() => bestCombination(lines("resistor", [8]), "coil" as never, { value: 8 })).message).toContain('"kind"');
    expect(refusal(() => bestCombination("drawer" as never, "resistor", { value: 8 })).message).toContain('"drawer"');
    for (const drawer of [stock(lines("resistor", [8])), { parts: lines("resistor", [8]) }])
      expect(bestCombination(drawer as never, "resistor", { value: 8 }).says).toBe("8 Ω");
  });

  it("is looked for among two thousand values of a kind, no more", () => {
    const many = (count: number) => Array.from({ length: count }, (_, k) => ({ kind: "resistor", value: 1 + k / 1000 }) as StockLine);
    expect(bestCombination(many(2000), "resistor", { value: 2.5, mostParts: 1 }).deviation).toBe(0);
    expect(refusal(() => bestCombination(many(2001), "resistor", { value: 2.5, mostParts: 1 })).code).toBe("too-many-parts");
    // What there is none of isn't counted.
    expect(
      bestCombination([...many(2000), { kind: "resistor", value: 99, count: 0 }], "resistor", { value: 2.5, mostParts: 1 }).deviation,
    ).toBe(0);
  });
});

describe("what a stock holds of a part", () => {
  it("is its kind, its value, and what it loses at 1 kHz", () => {
    expect([resistor(8), inductor(1e-3), capacitor(1e-6), { kind: "driver" }].map(stockedKind)).toEqual([
      "resistor",
      "inductor",
      "capacitor",
      undefined,
    ]);
    expect([resistor(8), inductor(1e-3), capacitor(1e-6)].map(mainValue)).toEqual([8, 1e-3, 1e-6]);
    expect([isStockKind(resistor(8), "resistor"), isStockKind(resistor(8), "inductor")]).toEqual([true, false]);
    expect(lossAtOneKilohertz(resistor(8))).toBe(0);
    expect(lossAtOneKilohertz(inductor(1e-3, { dcr: 0.3 }))).toBe(0.3);
    expect(lossAtOneKilohertz(capacitor(1e-5, { esr: 0.2 }))).toBe(0.2);
    // tan δ / (ωC) = 0.01 / (2π · 1000 · 10 µF).
    expect(lossAtOneKilohertz(capacitor(1e-5, { dissipationFactor: 0.01 }))).toBeCloseTo(0.01 / (2 * Math.PI * 0.01), 12);
  });
});
