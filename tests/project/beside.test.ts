// What is measured beside the loudspeaker: a partner whose pressure is added to it, and the other one of the pair. By construction the answers are known: files are multiples of what the
// fixture's closed forms give.
import { assess, comparePair, lossOf } from "dividing-network/assessment";
import { predict } from "dividing-network/loudspeaker";
import { parseProject, writeProject } from "dividing-network/project";
import { describe, expect, it } from "vitest";
import {
  byHand,
  columns,
  frequencies,
  load,
  plus,
  projectData,
  projectFiles,
  reIm,
  times,
  tweeterPressure,
  wooferPressure,
  type Complexish,
} from "../support/fixture";

/** Pa for 2 V of the source. */
const whole = (f: number): Complexish =>
  times({ re: 2, im: 0 }, plus(times(byHand(f).woofer, wooferPressure(f)), times(byHand(f).tweeter, tweeterPressure(f))));
const scaled = (by: number, grid?: readonly number[]) => reIm((f) => times({ re: by, im: 0 }, whole(f)), grid);
const measurement = (of: string, more: object = {}) => ({
  ...projectData().measurements[0],
  of,
  drive: { voltage: 2, at: "input" },
  files: [{ azimuth: 0, elevation: 0, file: `data/${of}.txt` }],
  ...more,
});
const withMeasured = (more: readonly object[], rest: object = {}) => {
  const data = projectData();
  return { ...data, measurements: [...data.measurements, ...more], ...rest };
};
const refused = (data: object, words: RegExp) =>
  expect(() => parseProject(JSON.stringify(data))).toThrowError(
    expect.objectContaining({ code: "invalid-project", message: expect.stringMatching(words) as unknown }),
  );

describe("a partner that was measured", () => {
  it("is added to the loudspeaker wherever it is judged: one that gives the same again is 6.02 dB more", async () => {
    const files = { ...projectFiles(), "data/partner.txt": scaled(1) };
    const alone = await load(projectData());
    const { found, goal, project } = await load(withMeasured([measurement("partner")]), files);
    expect(goal.partner).toMatchObject({ pressures: [{ azimuth: 0, elevation: 0 }] });
    expect(project.goal).toBeUndefined();
    const level = (given: object) => assess(found, { ratedImpedance: 6, goal: given }).quality.levelDb;
    expect(level(goal) - level(alone.goal)).toBeCloseTo(20 * Math.log10(2), 6);
    expect(lossOf(found, goal).levelDb - lossOf(found, {}).levelDb).toBeCloseTo(20 * Math.log10(2), 6);
    // In antiphase nothing is left.
    const silent = await load(withMeasured([measurement("partner")]), { ...files, "data/partner.txt": scaled(-0.999) });
    expect(level(silent.goal) - level(alone.goal)).toBeCloseTo(-60, 2);
  });

  it("may cover less than the loudspeaker: what both have is judged, and a stated band beyond it is refused", async () => {
    const files = {
      ...projectFiles(),
      "data/partner.txt": scaled(
        1,
        frequencies.filter((f) => f < 3000),
      ),
    };
    const data = (goal: object) => withMeasured([measurement("partner", { trusted: { from: 100, to: 2900 } })], { goal });
    const { found, goal } = await load(data({}), files);
    expect(assess(found, { ratedImpedance: 6, goal }).quality.band.to).toBeLessThan(3000);
    await expect(load(data({ band: { from: 300, to: 8000 } }), files)).rejects.toThrowError(/goal\.band/);
  });

  it("must be measured where the loudspeaker is judged, on its time zero, and not be stated as a high-pass as well", async () => {
    await expect(
      load(withMeasured([measurement("partner", { distance: 2 })]), { ...projectFiles(), "data/partner.txt": scaled(1) }),
    ).rejects.toThrowError(/the partner must be measured where the loudspeaker is judged, at 1 m, got 2 m/);
    refused(withMeasured([measurement("partner", { timeZero: { common: false } })]), /must be common or state a delay for a partner/);
    refused(
      withMeasured([measurement("partner", { drive: { voltage: 2, at: "terminals" } })]),
      /must be "input" for a partner, got "terminals"/,
    );
    refused(
      withMeasured([measurement("partner")], { goal: { partner: { highPass: { family: "butterworth", order: 2, frequency: 80 } } } }),
      /goal\.partner.* is stated as a high-pass, and measured at measurements\[2\]/,
    );
  });
});

describe("the other one of a pair", () => {
  const impedance = (of: string) => ({ of, quantity: "impedance", columns: "re-im", files: [{ file: `data/${of}-z.txt` }] });
  const z = (by: number) => reIm((f) => times({ re: by, im: 0 }, byHand(f).impedance));
  const files = {
    ...projectFiles(),
    "data/loudspeaker.txt": scaled(1),
    "data/twin.txt": scaled(0.5),
    "data/loudspeaker-z.txt": z(1),
    "data/twin-z.txt": z(1.1),
  };
  const data = (rest: object = {}) =>
    withMeasured([measurement("loudspeaker"), measurement("twin"), impedance("loudspeaker"), impedance("twin")], rest);

  it("makes left and right as found, for comparePair", async () => {
    const { pair, measured } = await load(data(), files);
    expect(measured.pressures).toHaveLength(1);
    const { left, right, mirrored } = pair!;
    const compared = comparePair(left, right, { mirrored });
    expect(compared.places[0]!.meanDb).toBeCloseTo(20 * Math.log10(2), 6);
    // 0.1 of a mean of 1.05.
    expect(compared.impedance!.part).toBeCloseTo(0.1 / 1.05, 6);
    const turned = (await load(data({ pair: { measured: "right", mirrored: true } }), files)).pair!;
    expect(turned.mirrored).toBe(true);
    expect(comparePair(turned.left, turned.right).places[0]!.meanDb).toBeCloseTo(-20 * Math.log10(2), 6);
  });

  it("is held against the drawing as the first one is", async () => {
    const { pair, found } = await load(data(), {
      ...files,
      "data/twin.txt": scaled(1),
      "data/twin-z.txt": columns((f) => [byHand(f).impedance.re + 40, byHand(f).impedance.im]),
    });
    const { suspects, sentence } = comparePair(pair!.left, pair!.right, { drawing: found });
    expect(suspects.left).toEqual([]);
    expect(suspects.right.length).toBeGreaterThan(0);
    expect(sentence).toMatch(/are not one loudspeaker twice/);
  });

  it("is absent where it wasn't measured, and comes back from the project's own text", async () => {
    expect((await load(projectData())).pair).toBeUndefined();
    const project = parseProject(JSON.stringify(data({ pair: { mirrored: true } })));
    expect(parseProject(writeProject(project))).toEqual(project);
    refused(withMeasured([], { pair: {} }), /pair.* needs a measurement of the other loudspeaker/);
    refused(withMeasured([impedance("twin"), impedance("twin")]), /is the second impedance of the twin/);
  });

  it.each(["loudspeaker", "twin", "partner"])("keeps its word: no driver is called %s", (name) => {
    const project = projectData();
    project.drivers[0].name = name;
    refused(project, /must be another name: ".*" means .* in "of"/);
  });
});

describe("files that are narrower than the goal's band", () => {
  const narrow = (goal: object) => {
    const project = projectData();
    for (const [index, of] of ["woofer", "tweeter"].entries())
      project.measurements[index].files.push({ azimuth: 30, elevation: 0, file: `data/${of}-30.txt` });
    return load(
      {
        ...project,
        goal,
        measurements: [...project.measurements.map((each: object) => ({ ...each, trusted: { from: 2000, to: 20000 } }))],
      },
      {
        ...projectFiles(),
        "data/woofer-30.txt": reIm(
          wooferPressure,
          frequencies.filter((f) => f > 1900),
        ),
        "data/tweeter-30.txt": reIm(
          tweeterPressure,
          frequencies.filter((f) => f > 1900),
        ),
      },
    );
  };

  it("are read off the axis, and judged over what they have where the goal names their direction; its stated frequencies they must reach", async () => {
    const { found } = await narrow({ band: { from: 300, to: 8000 } });
    expect(predict(found).places.map(({ sum }) => sum.frequencies[0]! < 150)).toEqual([true, false]);
    const named = { band: { from: 300, to: 8000 }, places: [{}, { azimuth: 30, slopeDbPerOctave: -1 }] };
    const own = await narrow(named);
    expect(lossOf(own.found, own.goal!).places.map(({ band }) => Math.round(band.from / 100))).toEqual([3, 19]);
    await expect(narrow({ ...named, frequencies: [500, 1000, 4000] })).rejects.toThrowError(/"goal\.band" asks for/);
  });
});

describe("what can't be", () => {
  it("is refused where it is read: a family of no such order, a curve of two lengths", () => {
    const goalOf = (goal: object) => ({ ...projectData(), goal });
    refused(goalOf({ intentions: [{ lower: "woofer", upper: "tweeter", order: 3, family: "linkwitz-riley" }] }), /goal\.intentions\[0\]/);
    refused(goalOf({ partner: { highPass: { family: "chebyshev", order: 2, frequency: 80 } } }), /goal\.partner\.highPass/);
    refused(goalOf({ curve: { frequencies: [100, 200, 300], levelDb: [0, 0] } }), /goal\.curve/);
    const text = JSON.stringify(
      goalOf({ intentions: [{ lower: "woofer", upper: "tweeter", order: 3, family: "linkwitz-riley" }] }),
      null,
      1,
    );
    try {
      parseProject(text, { file: "box.json" });
      expect.unreachable();
    } catch (error) {
      const { issues } = error as { issues: readonly { file: string; line: number }[] };
      expect(issues[0]!.file).toBe("box.json");
      expect(text.split("\n")[issues[0]!.line - 1]).toMatch(/\{|intentions|lower/);
    }
  });

  it.each([50, 100, 20_000, 30_000])("so is a near field joined at %d Hz, outside of what is trusted", (below) => {
    const project = projectData();
    project.measurements[0].nearField = { below };
    refused(project, /nearField\.below.* must lie within the trusted band, 100 Hz to 20 kHz/);
  });
});
