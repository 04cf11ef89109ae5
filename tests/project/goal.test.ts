// The goal of a project file: every key is read, written back to the same, and taken by the assessment as it stands.
import { describe, expect, it } from "vitest";
import { assess, goal } from "dividing-network/assessment";
import { parseProject, writeProject } from "dividing-network/project";
import { load, projectData } from "../support/fixture";

const whole = {
  band: { from: "400 Hz", to: 8000 },
  distance: 1,
  levelDb: 85,
  slopeDbPerOctave: -0.5,
  corridorDb: 2.5,
  curve: { frequencies: [400, 8000], levelDb: [0, -1] },
  places: [{ azimuth: 0, elevation: 0, weight: 2 }],
  largestLevelLossDb: 2,
  leastLevelDb: 80,
  amplifier: { smallestImpedance: "3 Ω", smallestPeakDissipationResistance: 1 },
  drivers: { tweeter: 10, woofer: "not spared" },
  intentions: [{ lower: "woofer", upper: "tweeter", family: "bessel", normalization: "asymptote", order: 3, frequency: "2.5 kHz" }],
  damping: { largestQ: 0.8, largestSourceResistance: "0.6 Ω" },
  partner: { highPass: { family: "chebyshev", rippleDb: 0.5, order: 4, frequency: "80 Hz" } },
  limits: "default",
};

describe("the goal of a project file", () => {
  it("is read with every key, and comes back from its own text", () => {
    const project = parseProject(JSON.stringify({ ...projectData(), goal: whole }));
    expect(project.goal).toMatchObject({
      band: { from: 400, to: 8000 },
      intentions: [{ frequency: 2500, family: "bessel" }],
      damping: { largestSourceResistance: 0.6 },
      partner: { highPass: { frequency: 80, rippleDb: 0.5 } },
    });
    expect(parseProject(writeProject(project))).toEqual(project);
    // What the schema knows, the goal knows: no key is lost between them.
    expect(goal(project.goal)).toMatchObject({
      levelDb: 85,
      damping: { largestQ: 0.8 },
      intentions: [{ order: 3, normalization: "asymptote" }],
    });
    expect(Object.keys(project.goal!).sort()).toEqual(Object.keys(whole).sort());
  });

  it("is what the loudspeaker is judged by", async () => {
    // Of these drivers no impedance tells a Q that could be held to a limit.
    const { found, project } = await load({ ...projectData(), goal: { ...whole, damping: { largestSourceResistance: "0.6 Ω" } } });
    const judged = assess(found, { ratedImpedance: project.ratedImpedance, goal: project.goal });
    expect(judged.goal.intentions[0]!.family).toBe("bessel");
    expect(judged.handovers[0]!.meant).toMatchObject({ lower: "woofer", upper: "tweeter", order: 3 });
  });

  it("is refused by the place of what is wrong", () => {
    const refused = (goalOf: object) => () => parseProject(JSON.stringify({ ...projectData(), goal: goalOf }));
    for (const [wrong, place] of [
      [{ partner: { highPass: { family: "gauss", order: 2, frequency: 80 } } }, /goal\.partner\.highPass\.family/],
      [{ damping: { largestQ: 0 } }, /goal\.damping\.largestQ/],
      [{ intentions: [{ lower: "woofer", upper: "tweeter", order: "four" }] }, /goal\.intentions\[0\]\.order/],
      [{ dampng: {} }, /dampng/],
      [{ drivers: { tweetr: 12 } }, /goal\.drivers\.tweetr must be a driver of the project.*"woofer", "tweeter"/],
      [
        { intentions: [{ lower: "cone", upper: "tweeter", order: 4 }] },
        /goal\.intentions\[0\]\.lower must be a driver of the project, got "cone"/,
      ],
    ] as const) {
      expect(refused(wrong)).toThrowError(
        expect.objectContaining({ name: "DividingNetworkError", message: expect.stringMatching(place) as unknown }),
      );
    }
  });
});
