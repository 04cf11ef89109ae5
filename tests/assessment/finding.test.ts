// Tests src/assessment/: finding.ts, context.ts
// One row of numbers, decided: which way it went, whether that is more than nothing, whether the model can tell it, and whether a limit is kept.
import { describe, expect, it } from "vitest";
import type { Mark } from "dividing-network/response";
import { axisAmong, marksIn, measuredPlaces, miss, type Context } from "../../src/assessment/context";
import { decide, type FindingInput } from "../../src/assessment/finding";
import { sampled } from "../support/synthetic";

const row = (more: Partial<FindingInput>) =>
  decide({
    topic: "on the axis",
    code: "smoothness",
    subject: "smoothness",
    before: 3,
    after: 2,
    unit: "dB",
    decimals: 1,
    better: "lower",
    negligible: 0.5,
    says: "It strays",
    ...more,
  });
const said = (more: Partial<FindingInput>) => row(more).sentence;
const atMost = (value: number) => ({ threshold: { value, comparison: "at most", reason: "choice" } }) as const;
const atLeast = (value: number) => ({ threshold: { value, comparison: "at least", reason: "choice" } }) as const;

describe("which way a number went", () => {
  it.each<[better: FindingInput["better"], before: number, after: number, verdict: string]>([
    ["lower", 3, 2, "better"],
    ["lower", 2, 3, "worse"],
    ["higher", 2, 3, "better"],
    ["higher", 3, 2, "worse"],
    ["lower", -3, -2, "worse"],
    // Nearer to zero counts sizes, whatever their signs.
    ["nearer to zero", -3, 2, "better"],
    ["nearer to zero", 2, -3, "worse"],
    ["nearer to zero", -2, 2, "unchanged"],
    ["nearer to zero", -3, -2, "better"],
    ["neither", 3, 200, "for information"],
  ])("%s: from %d to %d", (better, before, after, verdict) => {
    expect(row({ better, before, after }).verdict).toBe(verdict);
  });

  it("a difference below what is negligible is none; just as large, it is one", () => {
    const verdicts = [2.75, 2.5, 2.25, 3.25, 3.5].map((after) => row({ after }).verdict);
    expect(verdicts).toEqual(["unchanged", "better", "better", "unchanged", "worse"]);
  });
});

describe("what the model can't resolve", () => {
  it("isn't decided: it misses the measurement by more than the number changed", () => {
    expect([0.999, 1, 1.001].map((residual) => row({ residual }).verdict)).toEqual([
      "better",
      "better",
      "cannot be decided from these data",
    ]);
    expect(said({ residual: 1.25, unit: "Ω", decimals: 2 })).toBe(
      "It strays: cannot be decided from these data, since the model misses the measurement by 1.25 Ω.",
    );
    expect(said({ residual: 1.25, unit: "", decimals: 2 })).toBe(
      "It strays: cannot be decided from these data, since the model misses the measurement by 1.25.",
    );
  });

  it("is decided, where the miss itself is negligible; and a row that only informs has nothing to decide", () => {
    expect(row({ after: 2.75, residual: 0.5 }).verdict).toBe("unchanged");
    expect(row({ after: 2.75, residual: 0.6 }).verdict).toBe("cannot be decided from these data");
    expect(row({ better: "neither", residual: 9 }).verdict).toBe("for information");
  });
});

describe("a limit", () => {
  it("is kept on itself, on the side that was meant", () => {
    expect([1.9, 2, 2.1].map((limit) => row(atMost(limit)).kept)).toEqual([false, true, true]);
    expect([1.9, 2, 2.1].map((limit) => row(atLeast(limit)).kept)).toEqual([true, true, false]);
  });

  it("bounds the size of what should be near zero", () => {
    expect(row({ better: "nearer to zero", after: -2, ...atMost(2) }).kept).toBe(true);
    expect(row({ better: "nearer to zero", after: -2.5, ...atMost(2) }).kept).toBe(false);
    expect(row({ better: "nearer to zero", after: -2.5, ...atLeast(2) }).kept).toBe(true);
    expect(row({ better: "lower", after: -2.5, ...atLeast(2) }).kept).toBe(false);
  });

  it("stands beside the verdict in the sentence, and doesn't make it", () => {
    expect(said({})).toBe("It strays: better.");
    expect(said(atMost(2))).toBe("It strays: better.");
    expect(said(atMost(1))).toBe("It strays: better, but not yet what it should be.");
    expect(said({ after: 4, ...atMost(1) })).toBe("It strays: worse, and not what it should be.");
    expect(said({ after: 3, ...atMost(1) })).toBe("It strays: unchanged, and not what it should be.");
    expect(said({ better: "neither" })).toBe("It strays.");
    expect(said({ better: "neither", ...atMost(2) })).toBe("It strays: as it should be.");
    expect(said({ better: "neither", ...atMost(1) })).toBe("It strays: not yet what it should be.");
  });

  it("that isn't there, and a model that wasn't checked, leave no key behind", () => {
    expect(Object.keys(row({}))).not.toEqual(expect.arrayContaining([expect.stringMatching(/threshold|kept|residual|negligible|says/)]));
    expect(row({ residual: 0.25, ...atMost(2) })).toMatchObject({ residual: 0.25, kept: true, threshold: { value: 2 } });
  });

  it("and its marks are the row's own, and can't be written to", () => {
    const marks: Mark[] = [{ kind: "coarse", to: 300, note: "gate" }];
    const made = row({ marks, ...atMost(2) });
    marks.pop();
    expect(made.marks).toEqual([{ kind: "coarse", to: 300, note: "gate" }]);
    expect([made, made.marks, made.threshold].every((each) => Object.isFrozen(each))).toBe(true);
    expect(row({}).marks).toEqual([]);
  });
});

const flat = (pascal: number) => sampled(() => [pascal, 0], [100, 1000, 10_000]);
const place = (azimuth: number, elevation: number, pascal: number, distance = 1) => ({
  distance,
  azimuth,
  elevation,
  sum: flat(pascal),
});
const context = (more: object): Context => more as Context;

describe("what a row is made from", () => {
  it("marks touch a band where they share more than an end with it; an open end reaches as far as there is", () => {
    const marks: readonly Mark[] = [
      { kind: "coarse", to: 200, note: "below" },
      { kind: "coarse", to: 201, note: "into it" },
      { kind: "coarse", from: 1000, note: "above" },
      { kind: "coarse", from: 999, note: "out of it" },
      { kind: "coarse", from: 300, to: 400, note: "inside" },
      { kind: "coarse", note: "everywhere" },
    ];
    expect(marksIn(context({ after: { marks } }), { from: 200, to: 1000 }).map(({ note }) => note)).toEqual([
      "into it",
      "out of it",
      "inside",
      "everywhere",
    ]);
  });

  it("what was measured of the whole counts at the judged distance, for the voltage of the prediction", () => {
    const whole = (distance: number) => ({ distance, azimuth: 0, elevation: 0, voltage: 0.5, response: flat(0.1) });
    const before = { distance: 1, prediction: { voltage: 2 } };
    const found = (distance: number) => measuredPlaces(context({ before, model: { measured: { pressures: [whole(distance)] } } })).places;
    expect(found(1.0005)[0]!.sum.re[0]).toBeCloseTo(0.4, 12);
    expect([found(0.9995), found(1.002), found(0.998)].map(({ length }) => length)).toEqual([1, 0, 0]);
    expect(measuredPlaces(context({ before, model: undefined })).places).toEqual([]);
  });

  it("the miss is how far one number of both lies apart; what either doesn't have can't be missed", () => {
    const here = (measured: readonly object[]) =>
      context({
        before: { distance: 1, prediction: { voltage: 1, places: [place(0, 0, 3)] } },
        model: { measured: { pressures: measured } },
      });
    const measured = { distance: 1, azimuth: 0, elevation: 0, voltage: 1, response: flat(5) };
    const size = ({ places }: { readonly places: readonly { readonly sum: { readonly re: Float64Array } }[] }) => places[0]?.sum.re[0];
    expect(miss(here([measured]), size)).toBe(2);
    expect(miss(here([]), size)).toBeUndefined();
    expect(miss(here([measured]), (places) => (size(places) === 3 ? undefined : 1))).toBeUndefined();
    expect(miss(here([measured]), (places) => (size(places) === 5 ? undefined : 1))).toBeUndefined();
  });

  it("the axis is where both angles are 0", () => {
    expect(axisAmong({ places: [place(0, 10, 1), place(10, 0, 2), place(0, 0, 3)] })!.re[0]).toBe(3);
    expect(axisAmong({ places: [place(0, 10, 1), place(10, 0, 2)] })).toBeUndefined();
  });
});
