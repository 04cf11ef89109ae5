// Tests src/report/: curve-labels.ts, polyline.ts
import { assess, compare, spread } from "dividing-network/assessment";
import { comparisonPage, spreadPlot } from "dividing-network/report";
import { describe, expect, it } from "vitest";
import { flat, twoWay, twoWayBox } from "../support/synthetic";

const box = twoWayBox(twoWay("Butterworth 3", 6, 2500), flat, flat);
const found = spread(box, { samples: 100, percentiles: [10, 50, 90], goal: { limits: "stated" } });

describe("what tolerances do, drawn", () => {
  it("draws the level as it is, and a filled band between the outermost percentiles", () => {
    const { svg } = spreadPlot(found, { title: "Made up" });
    for (const words of ["Made up", "as drawn", "Spread: 10 % to 90 % of 100 loudspeakers"]) expect(svg).toContain(words);
    expect(svg.match(/dn-tint[^>]*fill-opacity/g)!.length).toBeGreaterThanOrEqual(1);
    expect(svg).not.toContain("% below");
    expect(svg).not.toContain("NaN");
  });

  it("draws percentiles between them as lines, and one alone as a line without a band", () => {
    const of = (percentiles: readonly number[]) => spreadPlot(spread(box, { samples: 50, percentiles, goal: { limits: "stated" } })).svg;
    const nested = of([5, 25, 50, 75, 95]);
    expect(nested).toContain("Spread: 5 % to 95 %");
    for (const words of ["25 % below", "75 % below"]) expect(nested).toContain(words);
    for (const words of ["5 % below", "50 % below", "95 % below"]) expect(nested).not.toContain(`>${words}<`);
    expect(of([95])).toContain("95 % below");
    expect(of([95])).not.toContain("Spread:");
  });

  it("refuses a place that the goal doesn't name, and what spread didn't make", () => {
    expect(() => spreadPlot(found, { azimuth: 10 })).toThrow(expect.objectContaining({ code: "not-measured" }) as Error);
    expect(() => spreadPlot({} as never)).toThrow(expect.objectContaining({ code: "invalid-argument" }) as Error);
  });

  it("stands on the page with its sentences and its ranking, where it is given", () => {
    const same = assess(box, { ratedImpedance: 6 });
    const page = comparisonPage(compare(same, same), { title: "Made up", spread: found });
    expect(page).toContain("From one loudspeaker to the next");
    expect(page).toContain(found.sentences[0]!.slice(0, 40));
    expect(page).toContain("Good if exact");
    expect(comparisonPage(compare(same, same), { title: "Made up" })).not.toContain("From one loudspeaker to the next");
  });
});
