// Tests src/response/: natural-logarithms.ts, log-axis-grid.ts, marked-band.ts, checked-marks.ts
// The tools of the logarithmic axis, by hand and against Math.log; where marks leave data; what a mark must be.
import { frequencyResponse, type Mark } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { isUniform, smallestStep, transformLength } from "../../src/response/log-axis-grid";
import { bandWithout, usableBand } from "../../src/response/marked-band";
import { naturalLogarithms } from "../../src/response/natural-logarithms";

describe("logarithms of neighbours", () => {
  it.each([0.0003, 0.004, 0.0099, 0.0101, 0.3, -0.0003, -0.0099, -0.3])(
    "that differ by a share of %d are those of Math.log to the last digits",
    (share) => {
      const values = Float64Array.from({ length: 200 }, (_, i) => 50 * (1 + share) ** i);
      const found = new Float64Array(200);
      naturalLogarithms(values, found);
      found.forEach((value, i) => expect(Math.abs(value - Math.log(values[i]!))).toBeLessThan(2e-14));
    },
  );
});

describe("the grid of a transform", () => {
  it("has a power of two of points, 1024 at least, and no more for rounding", () => {
    expect([1, 1024, 1024.0000005, 1025, 2048, 5000].map(transformLength)).toEqual([1024, 1024, 1024, 2048, 2048, 8192]);
  });

  it("is that of the data where their steps are equal to a millionth", () => {
    const even = Float64Array.from({ length: 9 }, (_, i) => 3 + i * 0.01);
    expect(isUniform(even, 0.01)).toBe(true);
    for (const at of [1, 4, 8]) {
      const moved = (by: number): Float64Array => even.map((value, i) => (i === at ? value + by : value));
      expect(isUniform(moved(5e-9), 0.01)).toBe(true);
      expect(isUniform(moved(2e-8), 0.01)).toBe(false);
      expect(isUniform(moved(-2e-8), 0.01)).toBe(false);
    }
    expect(smallestStep(Float64Array.of(1, 1.5, 1.7, 2.7, 3))).toBeCloseTo(0.2, 12);
    expect(smallestStep(Float64Array.of(1, 1.5))).toBeCloseTo(0.5, 12);
  });
});

describe("what marks leave of the data", () => {
  const f = [100, 200, 300, 400, 500];
  const band = (...marks: Omit<Mark, "note" | "kind">[]) => {
    const { first, last, cutLow, cutHigh } = usableBand(
      frequencyResponse(
        f,
        f.map(() => 1),
        f.map(() => 0),
        marks.map((mark) => ({ ...mark, kind: "no-data", note: "gate" }) as Mark),
      ),
    );
    return [first, last, cutLow, cutHigh];
  };
  it.each<[Omit<Mark, "note" | "kind">[], [number, number, boolean, boolean]]>([
    [[], [0, 4, false, false]],
    [[{ to: 200 }], [1, 4, true, false]],
    [[{ to: 201 }], [2, 4, true, false]],
    [[{ from: 100, to: 250 }], [2, 4, true, false]],
    [[{ from: 101, to: 250 }], [0, 4, false, false]],
    [[{ from: 400 }], [0, 3, false, true]],
    [[{ from: 350, to: 500 }], [0, 2, false, true]],
    [[{ from: 350, to: 499 }], [0, 4, false, false]],
    [
      [{ to: 150 }, { from: 150, to: 250 }],
      [2, 4, true, false],
    ],
    [
      [{ to: 150 }, { from: 450 }],
      [1, 3, true, true],
    ],
  ])("%j", (marks, expected) => {
    expect(band(...marks)).toEqual(expected);
  });

  it("nothing, where one covers them all", () => {
    const [first, last] = band({});
    expect(last).toBeLessThan(first as number);
  });
});

describe("the band without marks of some kinds", () => {
  const f = [0, 100, 200, 300, 400, 500];
  const left = (kinds: readonly Mark["kind"][], ...marks: Omit<Mark, "note">[]) => {
    const all = marks.map((mark) => ({ ...mark, note: "x" }) as Mark);
    const { from, to } = bandWithout(frequencyResponse(f, f.map(() => 1), f.map(() => 0), all), kinds); // prettier-ignore
    return [from, to];
  };
  it("ends where an end is marked, be the mark open there or stated, and begins above 0 Hz", () => {
    expect(left(["no-data", "coarse"])).toEqual([100, 500]);
    for (const low of [{}, { from: 0 }, { from: 60 }, { from: 100 }])
      expect(left(["no-data"], { kind: "no-data", ...low, to: 230 }), JSON.stringify(low)).toEqual([230, 500]);
    for (const high of [{}, { to: 500 }, { to: 700 }])
      expect(left(["coarse"], { kind: "coarse", from: 420, ...high }), JSON.stringify(high)).toEqual([100, 420]);
    expect(left(["no-data", "coarse"], { kind: "no-data", to: 150 }, { kind: "coarse", to: 210 }, { kind: "coarse", from: 450 })).toEqual([
      210, 450,
    ]);
  });

  it("is whole where marks lie within it, or are of other kinds, and nothing where one holds for all", () => {
    expect(left(["no-data"], { kind: "no-data", from: 101, to: 499 }, { kind: "coarse", to: 300 })).toEqual([100, 500]);
    const [from, to] = left(["no-data"], { kind: "no-data" });
    expect(from).toBeGreaterThan(to!);
  });
});

describe("a mark", () => {
  const made = (...marks: unknown[]) => frequencyResponse([100], [1], [0], marks as Mark[]).marks;
  it("is a kind, a note and a band in ascending order above 0 Hz; each thing else is named", () => {
    expect(made({ kind: "coarse", note: "x", from: 5, to: 5 })).toEqual([{ kind: "coarse", from: 5, to: 5, note: "x" }]);
    expect(made({ kind: "coarse", note: "x" })).toEqual([{ kind: "coarse", note: "x" }]);
    for (const [mark, name] of [
      [null, "marks[0]"],
      [undefined, "marks[0]"],
      [{ kind: "loud", note: "x" }, "marks[0].kind"],
      [{ kind: "coarse" }, "marks[0].note"],
      [{ kind: "coarse", note: "x", from: -1 }, "marks[0].from"],
      [{ kind: "coarse", note: "x", to: -1 }, "marks[0].to"],
      [{ kind: "coarse", note: "x", from: 5, to: 4 }, "marks[0].to"],
      [{ kind: "coarse", note: "x", to: NaN }, "marks[0].to"],
    ] as const)
      expect(() => made(mark), name).toThrow(name);
    expect(() => frequencyResponse([100], [1], [0], 3 as never)).toThrow(/"marks" must be an array/);
  });
});
