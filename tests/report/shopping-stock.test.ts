// Tests src/report/: parts-list.ts
// Tests src/report/page/: from-stock.ts, shopping-list.ts, shopping.ts
// Tests src/report/build-sheet/: made-of.ts, taken-parts.ts
// What the page's shopping list takes from a stock, worked out by hand.
import { describe, expect, it } from "vitest";
import { capacitor, inductor, logGrid, loudspeaker, resistor } from "dividing-network";
import { assess, compare } from "dividing-network/assessment";
import { stock, type StockLine } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { buildSheet, comparisonPage, comparisonText } from "dividing-network/report";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(100, 20_000, 100);
const ideal = flatDriver(grid);
const judged = (network: Parameters<typeof loudspeaker>[0]["network"]) =>
  assess(
    loudspeaker({
      network,
      drivers: [
        { name: "woofer", role: "woofer", pressures: [ideal] },
        { name: "tweeter", role: "tweeter", pressures: [ideal] },
      ],
    }),
    { ratedImpedance: 8 },
  );
const drivers = { woofer: [resistor(8), "w", "gnd"], tweeter: [resistor(8), "t", "gnd"] } as const;
const found = judged({ L1: [inductor("0.42 mH"), "in", "w"], C1: [capacitor("4.7 µF"), "in", "t"], ...drivers });
const proposed = judged({
  L1: [inductor("0.42 mH"), "in", "w"],
  C1: [capacitor("9 µF"), "in", "n"],
  R1: [resistor(2), "n", "t"],
  ...drivers,
});
const page = (lines: readonly StockLine[]) =>
  comparisonPage(compare(found, proposed), { title: "Made up", stock: stock(lines) })
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ");

describe("the shopping list with a stock", () => {
  it("takes what bears, combines where that is nearer, and adds up what a pair costs", () => {
    const text = page([
      { kind: "capacitor", value: "4.7 µF", name: "small", price: 1.5, count: 4 },
      { kind: "capacitor", value: "4.3 µF", name: "smaller", price: 1.25, count: 2 },
      { kind: "resistor", value: "2 Ω", name: "hot", price: 0.75, count: 2 },
    ]);
    expect(text).toContain("4.3 µF and 4.7 µF in parallel: smaller, small");
    expect(text).toContain("hot");
    // Two of 1.5, two of 1.25, two of 0.75; the coil is reused.
    expect(text).toContain("costs 7.00 for a pair in the stock’s currency.");
  });

  it("says of a pair's worth how much is there and how much is missing", () => {
    const text = page([{ kind: "capacitor", value: "9 µF", name: "single", price: 3, count: 1 }]);
    expect(text).toContain("single; enough for 1 of 2 places, 1 missing");
    expect(text.split("not in stock").length - 1).toBe(1);
    expect(text).toContain("costs 3.00 for a pair in the stock’s currency, without what isn’t in stock or has no price.");
  });

  it("asks for the tolerance that a part states, and says it once", () => {
    const close = judged({ L1: [inductor("0.42 mH"), "in", "w"], C1: [capacitor("9 µF", { tolerance: "1 %" }), "in", "t"], ...drivers });
    const text = comparisonPage(compare(found, close), { title: "Made up" })
      .replace(/<[^>]+>/g, " ")
      .replace(/\s+/g, " ");
    const list = text.slice(text.lastIndexOf("Shopping list"), text.lastIndexOf("Build sheet"));
    expect(list).toMatch(/Capacitor 9 µF C1 1 2 buy ±1 %/);
    expect(list.split("±1 %").length - 1).toBe(1);
  });

  it("builds what it buys: the build sheet says the combination, and how its pieces are wired", () => {
    const text = page([
      { kind: "capacitor", value: "4.7 µF", name: "small", price: 1.5, count: 4 },
      { kind: "capacitor", value: "4.3 µF", name: "smaller", price: 1.25, count: 2 },
      { kind: "resistor", value: "2.2 Ω", name: "hot", price: 0.75, count: 2 },
    ]);
    const sheet = text.slice(text.lastIndexOf("Build sheet"), text.lastIndexOf("Appendix"));
    expect(sheet).toContain("Capacitor 9 µF: 4.3 µF and 4.7 µF in parallel");
    expect(sheet).toContain("C1 is made of 4.3 µF and 4.7 µF in parallel, each from in to n.");
    // A single piece of another value: 2.2 for 2.
    expect(sheet).toContain("Resistor 2 Ω: 2.2 Ω, +10.0 %");
    expect(sheet).toMatch(/Coil 0\.42 mH: old L1/);
  });

  it("joins pieces in series where nothing else goes, and keeps coils of one place apart", () => {
    const drawer = stock([
      { kind: "capacitor", value: "18 µF", count: 4 },
      { kind: "inductor", value: "0.21 mH", dcr: 0.1, count: 4 },
      { kind: "resistor", value: "2 Ω" },
    ]);
    const sheet = buildSheet(proposed.prediction.loudspeaker, { stock: drawer });
    const boxes = sheet.steps.find(({ title }) => title === "Solder joint by joint")!.boxes;
    expect(boxes).toContain("C1 is made of 2 × 18 µF in series, end to end from in to n; what joins them in between goes nowhere else.");
    expect(boxes.find((each) => each.startsWith("L1 is made of"))).toMatch(
      /2 × 0\.21 mH in series.* The coils lie apart and at right angles/,
    );
    expect(sheet.parts.find(({ designator }) => designator === "R1")!.taken).toBeUndefined();
    // Of a mixed one the pieces in series inside it.
    const mixed = buildSheet(proposed.prediction.loudspeaker, {
      stock: stock([
        { kind: "capacitor", value: "6 µF", count: 6 },
        { kind: "inductor", value: "0.42 mH", dcr: 0.1 },
        { kind: "resistor", value: "2 Ω" },
      ]),
    });
    expect(mixed.steps.flatMap((step) => step.boxes).find((each) => each.startsWith("C1 is made of"))).toMatch(
      /each from in to n; what joins those in series goes nowhere else\.$/,
    );
    expect(() => buildSheet(proposed.prediction.loudspeaker, { stock: 5 as never })).toThrowError(
      expect.objectContaining({ code: "invalid-argument", message: expect.stringContaining("buildSheet") as string }),
    );
  });

  it("says of what loses more than was drawn how much it loses", () => {
    const thick = judged({ L1: [inductor("0.42 mH", { dcr: 0.15 }), "in", "w"], C1: [capacitor("4.7 µF"), "in", "t"], ...drivers });
    const bought = (dcr: number) =>
      comparisonText(compare(found, thick), { width: 300, stock: stock([{ kind: "inductor", value: "0.21 mH", dcr, count: 4 }]) });
    // Two of 0.1 Ω in series are 0.2 Ω for 0.15 Ω; two of 0.07 Ω are less.
    expect(bought(0.1)).toContain("; but DCR 0.2 Ω");
    expect(bought(0.07)).not.toContain("; but");
    const winding = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" } as const;
    const two = loudspeaker({
      network: { ...thick.prediction.loudspeaker.network, L2: [inductor("0.3 mH", { dcr: 0.2 }), "t", "gnd"] } as Entries,
      drivers: thick.prediction.loudspeaker.drivers,
    });
    const sheet = buildSheet(two, {
      stock: stock([{ kind: "inductor", value: "0.21 mH", dcr: 0.1, count: 4 }]),
      coils: { windings: { L1: winding, L2: winding }, board: { width: "20 cm", depth: "12 cm" } },
    });
    expect(sheet.steps.flatMap(({ boxes }) => boxes).find((each) => each.startsWith("L1 is made of"))).toMatch(
      /The place above is that of one coil of the whole value: find places for these\.$/,
    );
  });

  it("says nothing of a stock where none is given", () => {
    expect(comparisonPage(compare(found, proposed), { title: "Made up" })).not.toContain("From the stock");
  });
});
