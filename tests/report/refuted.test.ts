// Tests src/report/: refuted.ts, comparison-page.ts, comparison-text.ts, page/summary.ts, build-sheet/build-sheet.ts
// A drawing that the loudspeaker as measured refutes: nothing of page, text, list and build sheet may look as if it held.
import { assess, compare, spread, type Comparison } from "dividing-network/assessment";
import { loudspeaker, predict, pressurePerVolt, type Loudspeaker } from "dividing-network/loudspeaker";
import { solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { buildSheet, comparisonPage, comparisonText } from "dividing-network/report";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = logGrid(100, 16_000, 352);
const late = (f: number) => -2 * Math.PI * f * 1e-4;
const response = frequencyResponse(grid, grid.map((f) => 0.1 * Math.cos(late(f))), grid.map((f) => 0.1 * Math.sin(late(f)))); // prettier-ignore
const pressures = [pressurePerVolt({ response, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" })];
const box = (farad: number, swapped = false): Loudspeaker =>
  loudspeaker({
    network: {
      L1: [inductor("0.6366 mH"), "in", "w"],
      woofer: [resistor(8), "w", "gnd"],
      C1: [capacitor(farad), "in", "t"],
      tweeter: swapped ? [resistor(8), "gnd", "t"] : [resistor(8), "t", "gnd"],
    },
    drivers: (["woofer", "tweeter"] as const).map((name) => ({ name, role: name, pressures })),
  } as never) as unknown as Loudspeaker;
const drawn = box(9.947e-6);
const judged = (of: Loudspeaker) => assess(of, { ratedImpedance: 8, goal: { band: { from: 200, to: 8000 }, limits: "stated" } });
const against = (built: Loudspeaker): Comparison => {
  const place = { distance: 1, azimuth: 0, elevation: 0 };
  const { sum } = predict(built, { places: [place], voltage: 1 }).places[0]!;
  return compare(judged(drawn), judged(box(6.8e-6)), {
    measured: {
      pressures: [{ ...place, voltage: 1, response: sum, timed: true }],
      impedance: solve(built.network as never, grid).impedance,
    },
  });
};
const [healthy, refuted, twice] = [against(drawn), against(box(9.947e-6, true)), against(box(4e-6, true))];
const tolerances = spread(drawn, { samples: 50, goal: { band: { from: 200, to: 8000 } }, ratedImpedance: 8 });
const page = (of: Comparison) => comparisonPage(of, { title: "Invented", spread: tolerances });
const count = (text: string, words: string) => text.split(words).length - 1;

describe("a drawing that is refuted", () => {
  it("stands in a box at the top of page, list and build sheet", () => {
    expect(refuted.verdict.trust.state).toBe("refuted");
    const html = page(refuted);
    expect(count(html, "The drawing is refuted")).toBeGreaterThanOrEqual(3);
    expect(html.indexOf("The drawing is refuted")).toBeLessThan(html.indexOf("There is no verdict"));
    for (const words of ["Find the fault first", "Buy nothing by this list", "Don’t build by this sheet"]) expect(html).toContain(words);
    expect(page(healthy)).not.toContain("refuted");
  });

  it("has no tiles, no share of good loudspeakers and no band of tolerances", () => {
    const parts = ['class="tiles"', "From one loudspeaker to the next", "Still open"];
    for (const part of parts) expect([count(page(healthy), part) > 0, count(page(refuted), part)], part).toEqual([true, 0]);
  });

  it("says which one measurement would tell, on the page and in the terminal", () => {
    const [first] = refuted.verdict.suspects;
    expect(first!.wouldTell).toBeDefined();
    const plain = (text: string) => text.replaceAll(/\s+/g, " ");
    expect(plain(page(refuted))).toContain(`What would tell the first suspects apart: ${first!.wouldTell!}`);
    const text = plain(comparisonText(refuted, { width: 100 }));
    expect(text).toContain(`explains all of it alone. ${first!.wouldTell!}`);
    expect(text.indexOf("The drawing is refuted")).toBe(0);
    expect(text).toContain("What the drawing that is refuted would do:");
    expect(text).not.toMatch(/Topic +Before/);
    expect(comparisonText(healthy)).toMatch(/^The new network is .*Topic +Before/s);
  });

  it("says where no single fault explains it, and where one does it doesn't", () => {
    const words = "No single fault explains all that was measured";
    expect([refuted, twice].map((each) => each.verdict.suspects[0]!.explains)).toEqual([true, false]);
    expect([refuted, twice].map((each) => [page(each), comparisonText(each, { width: 1000 })].map((text) => text.includes(words)))).toEqual(
      [
        [false, false],
        [true, true],
      ],
    );
  });

  it("is the first caution of the build sheet", () => {
    const cautions = buildSheet(refuted).steps.flatMap((step) => step.cautions);
    expect(cautions[0]).toMatch(/^The drawing is refuted: .* Don’t build by this sheet: .* There is no verdict/s);
    expect(
      buildSheet(healthy)
        .steps.flatMap((step) => step.cautions)
        .join(" "),
    ).not.toContain("refuted");
  });
});
