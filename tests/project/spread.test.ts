// What scatters, in a project file: every key is read, written back to the same, and taken by `spread` as it stands.
import { describe, expect, it } from "vitest";
import { spread } from "dividing-network/assessment";
import { parseProject, writeProject } from "dividing-network/project";
import { load, projectData } from "../support/fixture";

const whole = {
  drivers: { tweeter: { levelDb: 0.5, resonance: "8 %", q: 0.2, delay: "3 µs" }, woofer: {} },
  byKind: { resistor: "1 %", inductor: 0.03, capacitor: "5%", "l-pad": 0, transformer: 0.1 },
  unstated: "assumed",
  lots: [["woofer", "tweeter"]],
  matched: ["C1", "tweeter"],
  distribution: "normal",
  samples: 20,
  seed: 3,
  largestLossDb: 3,
};
const withTolerance = (tolerance: unknown, key: unknown = whole) => {
  const data = projectData();
  for (const { parts } of [data.networks.found, data.networks.proposed])
    parts.find(({ name }: { name: string }) => name === "C1").tolerance = tolerance;
  return { ...data, spread: key };
};

describe("what scatters, in a project file", () => {
  it("is read with every key, and comes back from its own text", () => {
    const project = parseProject(JSON.stringify(withTolerance("2.5 %")));
    expect(project.spread).toMatchObject({
      drivers: { tweeter: { resonance: 0.08, delay: 3e-6 } },
      byKind: { resistor: 0.01, capacitor: 0.05 },
    });
    expect(project.networks.found.parts.find(({ name }) => name === "C1")).toMatchObject({ tolerance: 0.025 });
    const text = writeProject(project);
    expect(text).toContain('"2.5 %"');
    expect(parseProject(text)).toEqual(project);
    expect(Object.keys(project.spread!).sort()).toEqual(Object.keys(whole).sort());
  });

  it("is what the loudspeakers are drawn by", async () => {
    const { proposed, project } = await load(withTolerance("2.5 %", { ...whole, lots: [] }));
    const found = spread(proposed, { ...project.spread, goal: project.goal });
    expect(found).toMatchObject({ samples: 20, seed: 3, distribution: "normal" });
    expect(found.ranking.find(({ of }) => of[0] === "C1")).toMatchObject({ tolerance: 0.025, assumed: false });
    expect(found.ranking.find(({ of }) => of[0] === "L1")).toMatchObject({ tolerance: 0.03, assumed: false });
    expect(found.ranking.find(({ of, quantity }) => of[0] === "tweeter" && quantity === "levelDb")).toMatchObject({
      tolerance: 0.5,
      assumed: false,
    });
    expect(found.ranking.find(({ of, quantity }) => of[0] === "woofer" && quantity === "levelDb")).toMatchObject({
      tolerance: 1,
      assumed: true,
    });
    expect(found.matchedPair).toBeDefined();
  });

  it("is refused by the place of what is wrong", () => {
    const refused = (data: object, place: RegExp) =>
      expect(() => parseProject(JSON.stringify(data))).toThrowError(
        expect.objectContaining({ name: "DividingNetworkError", message: expect.stringMatching(place) as unknown }),
      );
    refused(withTolerance("5", {}), /tolerance.*got "5".*"5 %"/s);
    refused(withTolerance(5, {}), /tolerance/);
    refused(withTolerance("101 %", {}), /tolerance/);
    refused(withTolerance(0.1, { drivers: { dome: {} } }), /spread\.drivers\.dome/);
    refused(withTolerance(0.1, { drivers: { tweeter: { levelDb: "1 dB" } } }), /spread\.drivers\.tweeter\.levelDb/);
    refused(withTolerance(0.1, { lots: [["C1", "C9"]] }), /spread\.lots\[0\]\[1\].*C9/s);
    refused(withTolerance(0.1, { matched: ["C9"] }), /spread\.matched\[0\]/);
    refused(withTolerance(0.1, { sample: 3 }), /sample/);
  });
});
