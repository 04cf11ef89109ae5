// Whatever family and order is meant, flat drivers behind the ladders of that family keep the limits of phase, null, overlap and slope that the intention brings: the ladders are solved
// as networks, the limits come from the prototype. What was not meant is told from it.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess, compare, goal, type Finding, type GoalOptions } from "dividing-network/assessment";
import { crossover, type FamilyName } from "dividing-network/alignments";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { join, type Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { logGrid } from "dividing-network/numeric";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { measure } from "../support/synthetic";

type Meant = Omit<NonNullable<GoalOptions["intentions"]>[number], "lower" | "upper"> & { readonly family: FamilyName };

/** Flat drivers, each with a load of its own, on the library's crossover. */
function pairOf(
  { family, order, rippleDb, normalization, frequency }: Meant & { readonly frequency: number },
  loads: { readonly lowPass: number; readonly highPass: number },
  wide = 200,
): Loudspeaker {
  const { lowPass, highPass, polarity } = crossover({ family, order, frequency, load: loads, rippleDb, normalization } as never);
  const network = join(
    lowPass.branch({ from: "in", to: "w", prefix: "W" }) as never,
    highPass.branch({ from: "in", to: "t", prefix: "T" }) as never,
    {
      woofer: [resistor(loads.lowPass), "w", "gnd"],
      tweeter: [resistor(loads.highPass), ...(polarity === "reversed" ? ["gnd", "t"] : ["t", "gnd"])],
    } as never,
  ) as unknown as Entries;
  const grid = logGrid(frequency / wide, frequency * wide, 900);
  const pressures = [measure(() => [0.1, 0], {}, grid)];
  return loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures },
      { name: "tweeter", role: "tweeter", pressures },
    ],
  });
}

function rowsOf(box: Loudspeaker, meant: Meant): readonly Finding[] {
  const aim = goal({
    limits: "stated",
    band: { from: (meant.frequency as number) / 4, to: (meant.frequency as number) * 4 },
    intentions: [{ lower: "woofer", upper: "tweeter", ...meant }],
  });
  const judged = assess(box, { ratedImpedance: 8, goal: aim });
  return compare(judged, judged).findings.filter(({ topic }) => topic === "crossover");
}

const members: fc.Arbitrary<Meant> = fc.oneof(
  fc.record({ family: fc.constant("butterworth" as const), order: fc.integer({ min: 1, max: 8 }) }),
  fc.record({ family: fc.constant("linkwitz-riley" as const), order: fc.constantFrom(2, 4, 6, 8) }),
  fc.record({
    family: fc.constant("bessel" as const),
    order: fc.integer({ min: 1, max: 8 }),
    normalization: fc.constantFrom("half-power" as const, "asymptote" as const),
  }),
  fc.record({ family: fc.constant("chebyshev" as const), order: fc.integer({ min: 1, max: 8 }), rippleDb: uniform(0.1, 2) }),
  fc.record({ family: fc.constant("legendre-papoulis" as const), order: fc.integer({ min: 1, max: 8 }) }),
  fc.record({ family: fc.constant("critically-damped" as const), order: fc.integer({ min: 1, max: 8 }) }),
);

describe("an ideal pair that was meant", () => {
  it("keeps its own limits, of any family and order", () => {
    fc.assert(
      fc.property(members, uniform(2.5, 3.6), uniform(3, 12), uniform(3, 12), (meant, decade, low, high) => {
        const frequency = 10 ** decade;
        const rows = rowsOf(pairOf({ ...meant, frequency }, { lowPass: low, highPass: high }), { ...meant, frequency });
        expect(rows.filter(({ threshold }) => threshold !== undefined).map(({ code }) => code)).toEqual(
          expect.arrayContaining(["crossover-place", "slope-steepness", "slope-match", "overlap", "phase-tracking"]),
        );
        for (const { code, kept, after, threshold } of rows) expect(kept, `${code}: ${after} against ${threshold?.value}`).not.toBe(false);
      }),
      { numRuns: cases(40) },
    );
  });

  it("breaks them when the other polarity, a wider overlap or another frequency is built", () => {
    const meant = { family: "linkwitz-riley" as const, order: 4, frequency: 2000 };
    const loads = { lowPass: 8, highPass: 8 };
    const broken = (box: Loudspeaker) =>
      rowsOf(box, meant)
        .filter(({ kept }) => kept === false)
        .map(({ code }) => code);
    expect(broken(pairOf(meant, loads))).toEqual([]);
    expect(broken(pairOf({ ...meant, frequency: 2700 }, loads))).toEqual(["crossover-place"]);
    const right = pairOf(meant, loads);
    const turned = { ...right.network, tweeter: [resistor(8), "gnd", "t"] } as unknown as Entries;
    expect(broken(loudspeaker({ ...right, network: turned }))).toEqual(["phase-tracking", "reversed-null"]);
    expect(broken(pairOf({ ...meant, order: 2 }, loads))).toEqual(expect.arrayContaining(["slope-steepness", "overlap"]));
    // A second-order pair for which fourth order was meant is in phase all the same.
    expect(broken(pairOf({ ...meant, order: 2 }, loads))).not.toContain("phase-tracking");
  });

  it("of odd order is a quarter turn apart, and isn't asked for a null", () => {
    const meant = { family: "butterworth" as const, order: 3, frequency: 1500 };
    const rows = rowsOf(pairOf(meant, { lowPass: 6, highPass: 6 }), meant);
    const row = (code: string) => rows.find((each) => each.code === code)!;
    expect(row("phase-tracking").after).toBeCloseTo(90, 3);
    expect(row("phase-tracking").threshold!.value).toBeCloseTo(120, 6);
    expect(row("reversed-null").threshold).toBeUndefined();
  });

  it("is refused where there is no such pair", () => {
    const meaning = (more: object) => () => goal({ intentions: [{ lower: "woofer", upper: "tweeter", order: 3, ...more }] });
    for (const more of [
      { family: "linkwitz-riley" },
      { family: "chebyshev" },
      { family: "gauss" },
      { rippleDb: 1 },
      { family: "butterworth", normalization: "delay" },
      { order: 9 },
    ]) {
      expect(meaning(more), JSON.stringify(more)).toThrowError(expect.objectContaining({ name: "DividingNetworkError" }));
    }
  });
});
