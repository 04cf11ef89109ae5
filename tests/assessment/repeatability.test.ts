// How well a measurement repeats, as it is stated: its path is a length like every other, a number in metres or text with its unit.
import { comparePair, suspects } from "dividing-network/assessment";
import { frequencyResponse } from "dividing-network/response";
import { logGrid } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";
import { checkRepeatability } from "../../src/assessment/suspects/repeatability";
import { faultyCase } from "./faulty-networks";

const of = (repeatability: unknown) => checkRepeatability("test", { repeatability } as never);

describe("how well a measurement repeats", () => {
  it("is 1 dB, 3 % and 3 mm unless stated, each by itself", () => {
    expect(checkRepeatability("test", {})).toEqual({ levelDb: 1, impedance: 0.03, path: 0.003 });
    expect(of({ levelDb: 2 })).toEqual({ levelDb: 2, impedance: 0.03, path: 0.003 });
  });

  it.each([
    ["4 mm", 0.004],
    ["0.5 cm", 0.005],
    ["0 m", 0],
    [0.004, 0.004],
  ])("takes a path as %o", (path, metres) => {
    expect(of({ path }).path).toBe(metres);
  });

  it.each([
    ["3", "invalid-quantity"],
    ["3 ms", "invalid-quantity"],
    ["3,5 mm", "invalid-quantity"],
    ["2 m", "invalid-argument"],
    ["-3 mm", "invalid-argument"],
    [-0.003, "invalid-argument"],
    [NaN, "invalid-argument"],
    [{ m: 3 }, "invalid-argument"],
  ])("refuses %o by its name", (path, code) => {
    expect(() => of({ path })).toThrowError(
      expect.objectContaining({ code, message: expect.stringContaining('"repeatability.path"') as unknown }),
    );
  });

  it("is read alike by all that take it", () => {
    const { drawn, measured } = faultyCase(30_001)!;
    expect(suspects(drawn, measured, { repeatability: { path: "8 mm" } })).toEqual(
      suspects(drawn, measured, { repeatability: { path: 0.008 } }),
    );
    const grid = logGrid(100, 1000, 40);
    const half = { impedance: frequencyResponse(grid, grid.map(() => 6), grid.map(() => 0)) }; // prettier-ignore
    expect(comparePair(half, half, { repeatability: { path: "3 mm" } }).alike).toBe(true);
    expect(() => comparePair(half, half, { repeatability: { path: "3 kg" as never } })).toThrowError(/comparePair: "repeatability.path"/);
  });
});
