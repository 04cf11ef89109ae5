// The nonnegative fit against the conditions that single out its optimum (Karush, Kuhn and Tucker): no coefficient below 0, no gain left in any column,
// and none at all in those that are used. They don't share the way by which it was found.
import { describe, expect, it } from "vitest";
import { nonnegativeFit } from "../../src/numeric/internal";
import { seeded } from "../support/random-network";

const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, value, i) => sum + value * b[i]!, 0);

describe("nonnegativeFit", () => {
  it("meets the conditions of the optimum on random problems", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = seeded(seed);
      const [rows, n] = [12 + Math.floor(random() * 20), 2 + Math.floor(random() * 9)];
      const columns = Array.from({ length: n }, () => Float64Array.from({ length: rows }, () => random() - 0.3));
      const target = Float64Array.from({ length: rows }, () => random() - 0.4);
      const x = nonnegativeFit(columns, target, n);
      const rest = target.map((value, row) => value - columns.reduce((sum, column, i) => sum + column[row]! * x[i]!, 0));
      columns.forEach((column, i) => {
        const gain = dot(column, rest) / Math.sqrt(dot(column, column) * dot(target, target));
        expect(x[i]).toBeGreaterThanOrEqual(0);
        expect(gain).toBeLessThan(1e-9);
        if (x[i]! > 0) expect(gain).toBeGreaterThan(-1e-9);
      });
    }
  });

  it("finds the coefficients that made the target, and no more columns than allowed", () => {
    const random = seeded(5);
    const columns = Array.from({ length: 30 }, () => Float64Array.from({ length: 60 }, () => random()));
    const target = Float64Array.from({ length: 60 }, (_, row) => 2 * columns[3]![row]! + 0.5 * columns[17]![row]!);
    const x = nonnegativeFit(columns, target, 30);
    expect([x[3], x[17]].map((value) => Number(value!.toFixed(9)))).toEqual([2, 0.5]);
    expect(nonnegativeFit(columns, target, 1).filter((value) => value > 0)).toHaveLength(1);
  });

  it("gives zeros where nothing helps", () => {
    expect([...nonnegativeFit([Float64Array.of(1, 0), Float64Array.of(0, 0)], Float64Array.of(-1, 0), 2)]).toEqual([0, 0]);
  });
});
