import { assess, compare, dataSensitivity } from "dividing-network/assessment";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { flat, measure, twoWayBox } from "../support/synthetic";

const firstOrder = (farads: number): Entries => ({
  L1: [inductor(0.4244e-3), "in", "w"],
  woofer: [resistor(8), "w", "gnd"],
  C1: [capacitor(farads), "in", "t"],
  tweeter: [resistor(8), "t", "gnd"],
});
const box = (farads: number, tweeter = flat) => twoWayBox(firstOrder(farads), flat, tweeter);

describe("what would change a verdict", () => {
  it("nothing, where the gain is large: each driver's level and phase, up and down, are tried", () => {
    const found = dataSensitivity(box(22e-6), box(6.631e-6), { ratedImpedance: 8 });
    expect(found.overall).toBe("better");
    expect(found.firm).toBe(true);
    expect(found.cases.map(({ driver, error, by }) => `${driver} ${error} ${by}`)).toEqual(
      ["woofer", "tweeter"].flatMap((name) => ["level 1", "level -1", "phase 5", "phase -5"].map((error) => `${name} ${error}`)),
    );
    expect(found.sentence).toContain("stays the same");
  });

  it("a level error, where two networks lie close: the case is the comparison of loudspeakers with that error", () => {
    const [before, after] = [box(6.631e-6), box(6.2e-6)];
    const options = { ratedImpedance: 8, levelDb: 3 };
    const found = dataSensitivity(before, after, options);
    const louder = [measure(() => [0.1 * 10 ** (3 / 20), 0])];
    const verdict = compare(
      assess(box(6.631e-6, louder), { ratedImpedance: 8 }),
      assess(box(6.2e-6, louder), { ratedImpedance: 8 }),
    ).verdict;
    const own = found.cases.find(({ driver, error, by }) => driver === "tweeter" && error === "level" && by === 3)!;
    expect(own.overall).toBe(verdict.overall);
    expect(found.firm).toBe(found.cases.every(({ overall }) => overall === found.overall));
    expect(found.firm).toBe(false);
    expect(found.sentence).toContain("would be otherwise if");
  });

  it("refuses errors that are none, and unknown options", () => {
    expect(() => dataSensitivity(box(1e-5), box(1e-5), { ratedImpedance: 8, levelDb: 0 })).toThrow(/levelDb/);
    expect(() => dataSensitivity(box(1e-5), box(1e-5), { ratedImpedance: 8, phase: 3 } as never)).toThrow(
      expect.objectContaining({ code: "unknown-option" }) as Error,
    );
  });
});
