import { assess, compare, spread } from "dividing-network/assessment";
import { comparisonPage, spreadPlot } from "dividing-network/report";
import { describe, expect, it } from "vitest";
import { flat, twoWay, twoWayBox } from "../assessment/synthetic";

const box = twoWayBox(twoWay("Butterworth 3", 6, 2500), flat, flat);
const found = spread(box, { samples: 100, percentiles: [10, 50, 90], goal: { limits: "stated" } });

describe("what tolerances do, drawn", () => {
  it("draws the level as it is and each percentile but the median", () => {
    const { svg } = spreadPlot(found, { title: "Made up" });
    for (const words of ["Made up", "as drawn", "10 % below", "90 % below"]) expect(svg).toContain(words);
    expect(svg).not.toContain("50 % below");
    expect(svg).not.toContain("NaN");
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
