// Tests src/parts/stock/: combination.ts
// What pieces lose and bear as one part, by hand: series resistances add, halves of equal ones side by side; a dissipation factor is the mean of equal capacitors' own.
import { describe, expect, it } from "vitest";
import { combination, stock, type StockLine, type StockPart } from "dividing-network/parts";

const of = (...lines: readonly StockLine[]): readonly StockPart[] => stock(lines).parts;

describe("a combination as one part", () => {
  const film = { kind: "capacitor", value: "10 µF", voltage: 250, tolerance: 0.05 } as const;

  it("of capacitors with a dissipation factor has theirs in the middle, and their ratings", () => {
    const [a, b] = of({ ...film, dissipationFactor: 0.01 }, { ...film, dissipationFactor: 0.02 }) as [StockPart, StockPart];
    expect(combination({ series: [a, b] }).part).toEqual({
      kind: "capacitor",
      capacitance: expect.closeTo(5e-6, 15) as number,
      esr: 0,
      dissipationFactor: expect.closeTo(0.015, 12) as number,
      voltage: expect.closeTo(500, 9) as number,
      tolerance: expect.closeTo(0.05, 12) as number,
    });
    const parallel = combination({ parallel: [a, b] });
    // Side by side to the square of the factors.
    expect(parallel.part).toMatchObject({
      capacitance: expect.closeTo(20e-6, 15) as number,
      dissipationFactor: expect.closeTo(0.015, 4) as number,
      voltage: 250,
    });
    // Whatever the frequency: that is what a dissipation factor means.
    expect(combination({ series: [a, b] }, { frequency: 50 }).part).toMatchObject({
      dissipationFactor: expect.closeTo(0.015, 12) as number,
    });
  });

  it("of capacitors of which one has a series resistance has one, too, at the stated frequency", () => {
    const [a, b] = of({ ...film, esr: 0.3 }, { ...film, dissipationFactor: 0.02 }) as [StockPart, StockPart];
    for (const frequency of [100, 1000]) {
      const { part } = combination({ series: [a, b] }, { frequency });
      expect(part).toMatchObject({
        esr: expect.closeTo(0.3 + 0.02 / (2 * Math.PI * frequency * 10e-6), 9) as number,
        dissipationFactor: 0,
        voltage: expect.closeTo(500, 9) as number,
      });
      expect(combination({ series: [b, a] }, { frequency }).part).toEqual(part);
    }
    expect(combination({ parallel: [a, a] }).part).toMatchObject({ esr: expect.closeTo(0.15, 9) as number });
  });

  it("of coils adds their resistances, and of two equal ones side by side has half", () => {
    const [a, b] = of(
      { kind: "inductor", value: "1 mH", dcr: 0.4, current: 3, tolerance: 0.1 },
      { kind: "inductor", value: "2 mH", dcr: 0.5, current: 2, tolerance: 0.1 },
    ) as [StockPart, StockPart];
    expect(combination({ series: [a, b] }).part).toEqual({
      kind: "inductor",
      inductance: expect.closeTo(3e-3, 12) as number,
      dcr: expect.closeTo(0.9, 9) as number,
      current: 2,
      tolerance: expect.closeTo(0.1, 12) as number,
    });
    expect(combination({ parallel: [a, a] }).part).toMatchObject({
      inductance: expect.closeTo(0.5e-3, 12) as number,
      dcr: expect.closeTo(0.2, 9) as number,
      current: expect.closeTo(6, 9) as number,
    });
  });

  it("of resistors has their watts and their tolerance", () => {
    const [a] = of({ kind: "resistor", value: 10, power: 5, tolerance: 0.05 }) as [StockPart];
    expect(combination({ parallel: [a, a] }).part).toEqual({
      kind: "resistor",
      resistance: expect.closeTo(5, 12) as number,
      power: expect.closeTo(10, 9) as number,
      tolerance: expect.closeTo(0.05, 12) as number,
    });
    const [bare] = of({ kind: "resistor", value: 10 }) as [StockPart];
    expect(combination({ series: [a, bare] }).part).toEqual({ kind: "resistor", resistance: 20 });
  });
});
