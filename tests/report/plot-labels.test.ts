// Tests src/report/: plot-shapes.ts, theme.ts
import { frequencyPlot, responsePlot, type Picture } from "dividing-network/report";
import type { Mark } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { curvesOf, findAll, named, parseXml, runsOf, shownTexts, textOf, withClass, type XmlElement } from "./xml";

const grid = Array.from({ length: 201 }, (_, i) => 20 * 1000 ** (i / 200));
const labels = (root: XmlElement): { text: string; x: number; y: number }[] =>
  findAll(root, withClass("dn-halo")).map((element) => ({
    text: textOf(element),
    x: Number(element.attributes["x"]),
    y: Number(element.attributes["y"]),
  }));
/** The samples of a legend are curves outside of the panels' clips. */
const samples = (root: XmlElement): number =>
  findAll(root, (element) => withClass("dn-curve")(element) && /h28$/.test(element.attributes["d"]!)).length;
const lines = (values: ((f: number) => number)[], name = (i: number): string => `No ${i}`): Picture =>
  frequencyPlot({
    title: "x",
    panels: [
      { label: "y", range: [0, 100], series: values.map((value, i) => ({ label: name(i), frequencies: grid, values: grid.map(value) })) },
    ],
  });

describe("the names of curves", () => {
  it("stand at the ends of the curves, level with them where there is room", () => {
    const root = parseXml(lines([() => 20, () => 50, () => 80]));
    const ends = curvesOf(root).map((curve) => runsOf(curve.attributes["d"]!).at(-1)!.at(-1)![1]);
    expect(
      labels(root)
        .map(({ text }) => text)
        .sort(),
    ).toEqual(["No 0", "No 1", "No 2"]);
    for (const { text, y } of labels(root)) expect(y - 4).toBeCloseTo(ends[Number(text.slice(3))]!, 1);
    expect(samples(root)).toBe(0);
  });

  it("move apart where they would touch, in the order of the curves, within the panel", () => {
    const root = parseXml(lines([50, 51, 52, 49, 99.5, 100, 0.5, 0].map((value) => () => value)));
    const placed = labels(root).sort((a, b) => a.y - b.y);
    expect(placed.map(({ text }) => text)).toEqual(["No 5", "No 4", "No 2", "No 1", "No 0", "No 3", "No 6", "No 7"]);
    for (let i = 1; i < placed.length; i++) expect(placed[i]!.y - placed[i - 1]!.y).toBeGreaterThanOrEqual(13);
    expect(placed[0]!.y).toBeGreaterThan(4);
    expect(placed.at(-1)!.y).toBeLessThanOrEqual(260);
  });

  it("stand beside a curve that leaves the plot at the bottom, clear of the others", () => {
    const root = parseXml(lines([() => 80, (f) => 80 - 60 * Math.log10(f / 500)], (i) => (i === 0 ? "Sum" : "Low")));
    const low = labels(root).find(({ text }) => text === "Low")!;
    const run = runsOf(curvesOf(root)[1]!.attributes["d"]!)[0]!;
    const height = 260;
    const leaves = run.find(([, y]) => y > height)![0];
    expect(Math.abs(low.x - leaves)).toBeLessThan(80);
    expect(low.y).toBeGreaterThan(height - 80);
    for (const [x, y] of run) if (x > low.x - 2 && x < low.x + 22) expect(y < low.y - 9 || y > low.y).toBe(true);
  });

  it("stand beside curves that leave together without covering any", () => {
    const dense = Array.from({ length: 3001 }, (_, i) => 20 * 1000 ** (i / 3000));
    const corners = [500, 560, 1500, 1600];
    const series = corners.map((corner) => ({
      label: `f ${corner}`,
      frequencies: dense,
      values: dense.map((f) => 80 - 60 * Math.max(0, Math.log10(f / corner))),
    }));
    const root = parseXml(frequencyPlot({ title: "x", panels: [{ label: "y", range: [0, 100], series }] }));
    expect(labels(root)).toHaveLength(4);
    const points = curvesOf(root).flatMap((curve) => runsOf(curve.attributes["d"]!)[0]!);
    for (const { x, y } of labels(root)) expect(points.filter(([px, py]) => px > x && px < x + 30 && py > y - 9 && py < y)).toEqual([]);
  });

  it("go to a legend when they are too long or too many", () => {
    const long = parseXml(lines([() => 1, () => 2], (i) => `A name of a curve that is much too long to stand beside it, number ${i}`));
    expect([labels(long).length, samples(long)]).toEqual([0, 2]);
    const many = parseXml(lines(Array.from({ length: 30 }, (_, i) => () => 3 * i)));
    expect([labels(many).length, samples(many)]).toEqual([0, 30]);
    expect(shownTexts(many)).toEqual(expect.arrayContaining(["No 0", "No 29"]));
  });

  it("wrap in a legend rather than leave the picture", () => {
    const texts = shownTexts(parseXml(lines([() => 1], () => "word ".repeat(60))));
    expect(texts.filter((text) => text.startsWith("word")).length).toBeGreaterThan(1);
  });
});

describe("marks", () => {
  const marks: Mark[] = [
    { kind: "no-data", to: 200, note: "the gate is short." },
    { kind: "model", from: 5000, to: 9000, note: "minimum phase." },
    { kind: "smoothed", note: "one third of an octave." },
  ];
  const draw = (first: readonly Mark[] | undefined, second?: readonly Mark[], common?: readonly Mark[]): XmlElement => {
    const response = (of: readonly Mark[] | undefined) => ({ frequencies: [20, 20000], levelDb: [80, 80], marks: of });
    return parseXml(
      responsePlot({
        title: "x",
        yLabel: "y",
        marks: common,
        series: [
          { label: "A", response: response(first) },
          { label: "B", response: response(second) },
        ],
      }),
    );
  };
  const notes = (root: XmlElement): string[] => shownTexts(root).filter((text) => text.includes(": "));

  it("of one curve are shaded and explained with its name", () => {
    const root = draw(marks);
    expect(notes(root)).toEqual([
      "No data below 200 Hz (A): the gate is short.",
      "Model 5 kHz to 9 kHz (A): minimum phase.",
      "Smoothed throughout (A): one third of an octave.",
    ]);
    const band = findAll(root, withClass("dn-band"))[0]!;
    const width = Number(
      findAll(root, (element) => element !== root && named("svg")(element))
        .map((element) => Number(element.attributes["width"]))
        .sort((a, b) => b - a)[0],
    );
    expect(Number(band.attributes["x"])).toBe(0);
    expect(Number(band.attributes["width"])).toBeCloseTo(width / 3, 1);
  });

  it("that all curves share are explained once, without names", () => {
    expect(notes(draw(marks, marks))).toEqual([
      "No data below 200 Hz: the gate is short.",
      "Model 5 kHz to 9 kHz: minimum phase.",
      "Smoothed throughout: one third of an octave.",
    ]);
    expect(notes(draw(undefined, undefined, marks))).toHaveLength(3);
  });

  it("outside of the plot or absent leave no trace", () => {
    const root = draw([
      { kind: "no-data", to: 10, note: "low." },
      { kind: "no-data", from: 30000, note: "high." },
    ]);
    expect(notes(root)).toEqual([]);
    expect(findAll(root, withClass("dn-band"))).toEqual([]);
  });

  it("of each kind look different without colour", () => {
    const looks = (["no-data", "coarse", "model", "splice", "smoothed", "uncertain"] as const).map((kind) => {
      const root = draw([{ kind, from: 100, to: 200, note: "n" }]);
      const [shape] = findAll(root, (element) => withClass("dn-band")(element) || withClass("dn-hatch")(element));
      return JSON.stringify([shape!.name, shape!.attributes["d"], shape!.attributes["stroke-dasharray"]]);
    });
    expect(new Set(looks).size).toBe(6);
  });

  it("of one kind that overlap are shaded once", () => {
    const root = draw([{ kind: "model", from: 100, to: 300, note: "a." }], [{ kind: "model", from: 200, to: 2000, note: "b." }]);
    const panel = findAll(
      root,
      (element) =>
        element.name === "svg"
        && findAll(element, withClass("dn-hatch")).length > 0
        && Number(element.attributes["height"]) > 100
        && element !== root,
    );
    expect(panel).toHaveLength(1);
    expect(notes(root)).toEqual(["Model 100 Hz to 300 Hz (A): a.", "Model 200 Hz to 2 kHz (B): b."]);
  });

  it("that are too many to list are counted", () => {
    const many = Array.from({ length: 40 }, (_, i): Mark => ({ kind: "uncertain", from: 100 + i, to: 101 + i, note: `${i}` }));
    expect(shownTexts(draw(many, many))).toContain("and 29 more bands");
  });
});
