// Tests src/parts/stock/: stock.ts
// Lines that were read, copied or changed by hand: what was known of a part stays known, what wasn't stays unknown.
import { describe, expect, it } from "vitest";
import { capacitor, inductor, resistor, stock, stockToJSON, type StockPart } from "dividing-network/parts";

const read = stock([
  { kind: "capacitor", value: "6.8 µF", dissipationFactor: 0.002, price: 3.2 },
  { kind: "capacitor", value: "4.7 µF", dissipationFactor: 0 },
  { kind: "capacitor", value: "2.2 µF", esr: 0 },
  { kind: "capacitor", value: "1 µF" },
  { kind: "inductor", value: "0.47 mH", dcr: "0.24 Ω", count: 2 },
  { kind: "inductor", value: "1 mH", dcr: 0 },
  { kind: "inductor", value: "2 mH" },
  { kind: "resistor", value: "4R7", power: "10 W" },
]).parts;

describe("a line of a stock that is copied", () => {
  it("says what it said, loss and all", () => {
    expect(stock(read.map((line) => ({ ...line }))).parts).toEqual(read);
    expect(stock(JSON.parse(JSON.stringify(read)) as StockPart[]).parts).toEqual(read);
  });

  it("takes the facts that are changed and keeps the rest", () => {
    const [first] = stock([{ ...read[0]!, price: 2.9, count: 7 }]).parts;
    expect(first).toEqual({ ...read[0], price: 2.9, count: 7 });
  });

  it("takes a loss of nothing for one that is stated only where the line says that it is known", () => {
    const known = ({ lossKnown }: StockPart) => lossKnown;
    const bare = { name: "a", part: capacitor(1e-6), lossKnown: false };
    expect(stock([bare, { ...bare, lossKnown: true }, { ...bare, part: inductor(1e-3) }]).parts.map(known)).toEqual([false, true, false]);
    expect(stock([{ name: "b", part: inductor(1e-3), lossKnown: true }]).parts[0]).toEqual({
      name: "b",
      part: inductor(1e-3, { dcr: 0 }),
      lossKnown: true,
    });
    // A part alone can't say: an ideal coil and an ideal capacitor are as they are drawn, not as they are bought.
    expect(stock([inductor(1e-3), capacitor(1e-6), resistor(1)]).parts.map(known)).toEqual([false, false, true]);
  });

  it("is written with the loss that it knows, and without one that it doesn't", () => {
    const losses = stockToJSON(stock(read.map((line) => ({ ...line })))).map((line) =>
      "dcr" in line ? line.dcr : "esr" in line ? line.esr : undefined,
    );
    expect(losses).toEqual([undefined, "0 Ω", "0 Ω", undefined, "0.24 Ω", "0 Ω", undefined, undefined]);
  });

  it("is refused by its index where its part is none", () => {
    const refused = (line: unknown) => () => stock([read[0]!, line as StockPart]);
    expect(refused({ part: null })).toThrow("lines[1]");
    expect(refused({ part: { kind: "transformer", value: 1 } })).toThrow("lines[1].kind");
    expect(refused({ part: { kind: "capacitor" } })).toThrow("lines[1].value");
    expect(refused(null)).toThrow("lines[1]");
    expect(refused([read[0]])).toThrow("lines[1]");
  });
});
