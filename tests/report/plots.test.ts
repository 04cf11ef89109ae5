// Tests src/report/: angle-map-classes.ts, angle-map-plot.ts, angles-plot.ts, bands.ts, curve-checks.ts, draw-panel.ts, draw-plot.ts, frequency-axis.ts
// Tests src/report/: frequency-plot.ts, impedance-plot.ts, picture.ts, plot-legend.ts, response-plot.ts, spread-area.ts, time-plot.ts
// Tests src/report/: value-axis.ts
// Tests src/report/page/: excursion-figures.ts, pair-figure.ts, step-figure.ts
// Tests src/report/schematic/: general-layout.ts
import fc from "fast-check";
import { DividingNetworkError } from "dividing-network/errors";
import {
  anglesPlot,
  frequencyPlot,
  impedancePlot,
  responsePlot,
  type FrequencyPlotOptions,
  type Picture,
  type ResponsePlotOptions,
} from "dividing-network/report";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { curvesOf, findAll, named, parseXml, runsOf, shownTexts, textOf, withClass } from "./xml";
import { cases } from "../support/cases";

const grid = Array.from({ length: 301 }, (_, i) => 20 * 1000 ** (i / 300));
const flat = { frequencies: grid, levelDb: grid.map(() => 86) };
const hostile = `</text><script>alert("1")</script> & 'x' <b>\u0000\ud800`;
const level: ResponsePlotOptions = { title: "Sum", yLabel: "Level, dB re 20 µPa", series: [{ label: "Built", response: flat }] };
const impedance = frequencyResponse(
  grid,
  grid.map(() => 6),
  grid.map((f) => f / 4000),
);

const plots: [string, (text: string) => Picture][] = [
  [
    "responsePlot",
    (text) =>
      responsePlot({
        title: text,
        description: text,
        yLabel: text,
        series: [
          { label: text, response: { ...flat, marks: [{ kind: "model", from: 1000, note: text }] } },
          { label: `${text}2`, response: flat },
        ],
      }),
  ],
  [
    "impedancePlot",
    (text) =>
      impedancePlot({ title: text, series: [{ label: text, response: impedance }], marks: [{ kind: "no-data", to: 100, note: text }] }),
  ],
  ["anglesPlot", (text) => anglesPlot({ title: text, yLabel: text, series: [-30, 0, 30].map((angle) => ({ angle, response: flat })) })],
  [
    "frequencyPlot",
    (text) =>
      frequencyPlot({ title: text, panels: [{ label: text, series: [{ label: text.repeat(20), frequencies: grid, values: grid }] }] }),
  ],
];

describe.each(plots)("%s", (_, draw) => {
  it("returns well-formed SVG that says what it is and needs nothing from outside", () => {
    const { svg } = draw("Two ways");
    const root = parseXml(svg);
    expect(root.name).toBe("svg");
    expect(root.attributes).toMatchObject({ xmlns: "http://www.w3.org/2000/svg", role: "img", width: "720" });
    expect(root.attributes["viewBox"]).toBe(`0 0 720 ${root.attributes["height"]!}`);
    const [title, description] = root.children.filter((child) => typeof child !== "string");
    expect([title?.name, title && textOf(title)]).toEqual(["title", "Two ways"]);
    expect(description?.name).toBe("desc");
    expect(textOf(description!).length).toBeGreaterThan(20);
    expect(svg.replace('xmlns="http://www.w3.org/2000/svg"', "")).not.toMatch(/https?:|url\(|@import|href|<script|<image|\son[a-z]+=/);
  });

  it("shows text from outside as text, whatever is in it", () => {
    const svg = draw(hostile);
    const root = parseXml(svg);
    expect(svg).not.toContain("<script");
    expect(svg).not.toContain("<b>");
    expect(findAll(root, named("script"))).toEqual([]);
    expect(textOf(findAll(root, named("title"))[0]!)).toBe(`</text><script>alert("1")</script> & 'x' <b>\ufffd\ufffd`);
    const shown = shownTexts(root).join("").replace(/\s/g, "");
    expect(shown).toContain(`</text><script>alert("1")</script>&'x'<b>\ufffd\ufffd`);
  });

  it("gives equal bytes for equal input", () => {
    expect(draw("Again").svg).toBe(draw("Again").svg);
  });

  it("restyles itself for dark screens and for paper", () => {
    const style = textOf(findAll(parseXml(draw("x")), named("style"))[0]!);
    expect(style).toMatch(/@media screen and \(prefers-color-scheme:dark\)\{\.dn-plot\{--dn-paper:#15181c/);
    expect(style).toMatch(/@media print\{\.dn-plot\{--dn-paper:#ffffff;--dn-ink:#000000/);
  });
});

describe("the frequency axis", () => {
  const labelsOf = (options: Partial<ResponsePlotOptions>): string[] => {
    const texts = findAll(parseXml(responsePlot({ ...level, ...options })), named("text"));
    const frequency = texts.find((text) => textOf(text) === "Frequency")!;
    return texts.filter((text) => Number(text.attributes["y"]) === Number(frequency.attributes["y"]) - 18).map(textOf);
  };

  it("is labelled from 20 Hz to 20 kHz in steps of 1, 2 and 5", () => {
    expect(labelsOf({})).toEqual(["20 Hz", "50", "100", "200", "500", "1 kHz", "2", "5", "10", "20 kHz"]);
  });

  it("keeps to labels that do not touch when it is narrow, short or long", () => {
    expect(labelsOf({ width: 360 })).toEqual(["20 Hz", "100", "1 kHz", "10", "20"]);
    expect(labelsOf({ width: 280 })).toEqual(["100 Hz", "1 kHz", "10 kHz"]);
    expect(labelsOf({ from: 2100, to: 4800 })).toEqual(["3 kHz", "4 kHz"]);
    expect(labelsOf({ from: 1010, to: 1090 })).toEqual(["1.01 kHz", "1.09 kHz"]);
    expect(labelsOf({ from: 1e-3, to: 1e9, width: 280 }).length).toBeGreaterThan(1);
  });

  it("has a line at every decade and at 2 to 9 between, each where its logarithm puts it", () => {
    const root = parseXml(responsePlot(level));
    const x = (kind: string): number[] =>
      findAll(root, (element) => element.name === "path" && withClass(kind)(element)).flatMap((path) =>
        [...path.attributes["d"]!.matchAll(/M(\S+) 0V/g)].map((match) => Number(match[1])),
      );
    const width = Number(findAll(root, (element) => element !== root && element.name === "svg")[0]!.attributes["width"]);
    const at = (frequency: number): number => (width * Math.log10(frequency / 20)) / 3;
    const wanted = {
      "dn-major": [100, 1e3, 1e4],
      "dn-minor": [2, 3, 4, 5, 6, 7, 8, 9]
        .map((digit) => digit * 10)
        .concat(
          [2, 3, 4, 5, 6, 7, 8, 9].map((digit) => digit * 100),
          [2, 3, 4, 5, 6, 7, 8, 9].map((digit) => digit * 1000),
          2e4,
        ),
    };
    for (const [kind, frequencies] of Object.entries(wanted)) {
      expect(x(kind)).toHaveLength(frequencies.length);
      for (const [i, frequency] of frequencies.entries()) expect(x(kind)[i]).toBeCloseTo(at(frequency), 1);
    }
  });
});

describe("the value axis", () => {
  it("carries its label with the unit, and ticks in whole steps", () => {
    const texts = shownTexts(parseXml(responsePlot({ ...level, yRange: [50, 100] })));
    expect(texts).toContain("Level, dB re 20 µPa");
    expect(texts).toEqual(expect.arrayContaining(["50", "60", "70", "80", "90", "100"]));
  });

  it("makes a decade as long as 25 dB are high when the range is 50 dB", () => {
    const root = parseXml(responsePlot({ ...level, yRange: [50, 100] }));
    const clip = findAll(root, (element) => element !== root && element.name === "svg")[0]!;
    expect(Number(clip.attributes["height"]) / 2).toBeCloseTo(Number(clip.attributes["width"]) / 3, -0.5);
  });

  it("shows at most 50 dB below the highest level by itself", () => {
    const steep = { frequencies: grid, levelDb: grid.map((f) => 86 - 200 * Math.log10(f / 20)) };
    const texts = shownTexts(parseXml(responsePlot({ ...level, series: [{ label: "Steep", response: steep }] })));
    expect(texts).toContain("40");
    expect(texts).toContain("90");
    expect(texts).not.toContain("35");
  });

  it("puts a level where it belongs", () => {
    const root = parseXml(
      responsePlot({ ...level, yRange: [60, 100], series: [{ label: "x", response: { frequencies: [20, 20000], levelDb: [90, 70] } }] }),
    );
    const clip = findAll(root, (element) => element !== root && element.name === "svg")[0]!;
    const [width, height] = [Number(clip.attributes["width"]), Number(clip.attributes["height"])];
    const [run] = runsOf(curvesOf(root)[0]!.attributes["d"]!);
    expect(run![0]![0]).toBeCloseTo(0, 2);
    expect(run![0]![1]).toBeCloseTo(height / 4, 1);
    expect(run![1]![0]).toBeCloseTo(width, 1);
    expect(run![1]![1]).toBeCloseTo((height * 3) / 4, 1);
  });

  it("takes a response's level against the reference", () => {
    const pressure = frequencyResponse([20, 20000], [0.2, 0], [0, 0.002]);
    const as = (response: ResponsePlotOptions["series"][0]["response"], reference?: number): string =>
      curvesOf(
        parseXml(
          responsePlot({
            ...level,
            yRange: [20, 100],
            ...(reference === undefined ? {} : { reference }),
            series: [{ label: "x", response }],
          }),
        ),
      )[0]!.attributes["d"]!;
    expect(as(pressure, 20e-6)).toBe(as({ frequencies: [20, 20000], levelDb: [80, 40] }));
  });
});

describe("impedancePlot", () => {
  it("has a panel in ohms and a panel in degrees below it", () => {
    const root = parseXml(impedancePlot({ title: "Load", series: [{ label: "Built", response: impedance }] }));
    const texts = shownTexts(root);
    expect(texts).toEqual(expect.arrayContaining(["Impedance magnitude, Ω", "Phase, degrees", "0", "−90", "−45", "45", "90"]));
    expect(curvesOf(root)).toHaveLength(2);
  });

  it("breaks the phase where it wraps and where the impedance is zero", () => {
    const turning = frequencyResponse([20, 200, 2000, 20000], [-1, -1, 0, 1], [0.1, -0.1, 0, 0]);
    const phase = curvesOf(parseXml(impedancePlot({ title: "Load", series: [{ label: "x", response: turning }] })))[1]!;
    expect(runsOf(phase.attributes["d"]!).map((run) => run.length)).toEqual([1, 1, 1]);
  });

  it("takes its range from the band shown", () => {
    const rising = frequencyResponse([20, 20000, 200000], [6, 8, 900], [0, 0, 0]);
    expect(shownTexts(parseXml(impedancePlot({ title: "Load", series: [{ label: "x", response: rising }] })))).toContain("10");
  });
});

describe("the limit of an impedancePlot", () => {
  const built = { title: "Load", series: [{ label: "Built", response: impedance }] };

  it("is a level line in the upper panel, named with its value, and within the range", () => {
    const root = parseXml(impedancePlot({ ...built, limit: "60 Ω" }));
    expect(curvesOf(root)).toHaveLength(3);
    expect(shownTexts(root)).toEqual(expect.arrayContaining(["limit 60 Ω", "60"]));
    const [run] = runsOf(curvesOf(root)[1]!.attributes["d"]!);
    expect(run!.length).toBe(2);
    expect(run![0]![1]).toBe(run![1]![1]);
    expect(run![1]![0]).toBeGreaterThan(run![0]![0]! + 400);
  });

  it("is left out where it is undefined", () => {
    expect(impedancePlot({ ...built, limit: undefined }).svg).toBe(impedancePlot(built).svg);
  });

  it.each([[-1], ["4 V"], [NaN], [Infinity]])("is refused as %s", (limit) => {
    expect(() => impedancePlot({ ...built, limit: limit as never })).toThrowError(
      expect.objectContaining({ code: expect.stringMatching(/^(invalid-argument|invalid-quantity)$/) as string }),
    );
  });
});

describe("a long list", () => {
  it("is refused for a gap wherever it is", () => {
    for (const gap of [0, 9_999, 10_000, 24_999]) {
      const marks = Array.from({ length: 25_000 }, () => ({ kind: "coarse", from: 20, to: 30, note: "x" }) as const);
      delete marks[gap];
      expect(() => frequencyPlot({ title: "x", panels: [], marks })).toThrow(`must have no gaps, got none at index ${gap}`);
    }
  });

  it("that only says it is long is refused at once", () => {
    const endless = new Proxy([], {
      has: () => true,
      get: (target, key, receiver) => (key === "length" ? 2 ** 32 - 1 : (Reflect.get(target, key, receiver) as unknown)),
    });
    expect(() => frequencyPlot({ title: "x", panels: endless })).toThrow(/must have at most 10000000 entries, got 4294967295/);
  });
});

describe("anglesPlot", () => {
  const family = (angles: number[]) =>
    angles.map((angle) => ({
      angle,
      response: { frequencies: grid, levelDb: grid.map((f) => 86 - Math.abs(angle) * (f / 20000) * (angle < 0 ? 0.4 : 0.35)) },
    }));

  it("has a panel for each side, with the axis in both, last and strongest", () => {
    const root = parseXml(anglesPlot({ title: "Family", yLabel: "Level, dB", plane: "horizontal", series: family([-60, -30, 0, 30, 60]) }));
    expect(shownTexts(root).filter((text) => /loudspeaker|°/i.test(text))).toEqual([
      "To the loudspeaker's left: Level, dB",
      "0° on axis",
      "+30°",
      "+60°",
      "To the loudspeaker's right: Level, dB",
      "0° on axis",
      "−30°",
      "−60°",
    ]);
    expect(curvesOf(root).map((curve) => curve.attributes["stroke-width"])).toEqual(["1.75", "1.75", "2.5", "1.75", "1.75", "2.5"]);
  });

  it("has one panel when there is one side", () => {
    for (const angles of [[0, 15], [0, -15], [15], [-15], [0]]) {
      const root = parseXml(anglesPlot({ title: "Family", yLabel: "Level, dB", plane: "vertical", series: family(angles) }));
      expect(curvesOf(root)).toHaveLength(angles.length);
    }
  });

  it("names every second or third curve in equal steps when the labels are crowded, the axis always", () => {
    const angles = Array.from({ length: 46 }, (_, i) => 2 * i);
    const labels = shownTexts(parseXml(anglesPlot({ title: "Family", yLabel: "Level, dB", series: family(angles) }))).filter((text) =>
      text.includes("°"),
    );
    const named = labels.map((label) => parseInt(label, 10));
    expect(named).toContain(0);
    expect(named.length).toBeGreaterThan(5);
    expect(named.length).toBeLessThan(46);
    expect(new Set(named.slice(1).map((angle, i) => angle - named[i]!)).size).toBe(1);
  });

  it("refuses an angle given twice", () => {
    expect(() => anglesPlot({ title: "Family", yLabel: "Level, dB", series: family([10, 10]) })).toThrow(/each angle once/);
  });
});

describe("a curve", () => {
  const draw = (
    frequencies: ArrayLike<number>,
    values: ArrayLike<number>,
    options: Partial<FrequencyPlotOptions> = {},
  ): [number, number][][] =>
    curvesOf(
      parseXml(frequencyPlot({ title: "x", panels: [{ label: "y", series: [{ label: "c", frequencies, values }] }], ...options })),
    ).flatMap((path) => runsOf(path.attributes["d"]!));

  it("is broken where a value is not finite, and a lone point is a dot", () => {
    expect(draw([20, 50, 100, 200, 500, 1000], [1, 2, -Infinity, 3, NaN, 4]).map((run) => run.length)).toEqual([2, 1, 1]);
  });

  it("is absent, and the plot says so, when there is nothing to draw", () => {
    for (const values of [
      [-Infinity, -Infinity],
      [NaN, Infinity],
      [1e300, -1e300],
    ]) {
      const { svg } = frequencyPlot({ title: "x", panels: [{ label: "y", series: [{ label: "c", frequencies: [20, 20000], values }] }] });
      expect(shownTexts(parseXml(svg))).toContain("No data in this band");
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(shownTexts(parseXml(responsePlot({ ...level, series: [] })))).toContain("No data in this band");
    expect(shownTexts(parseXml(frequencyPlot({ title: "x", panels: [] })))).toContain("x");
  });

  it("is cut at the edges of the band, on the line between its points", () => {
    const root = parseXml(
      frequencyPlot({
        title: "x",
        from: 100,
        to: 10000,
        panels: [{ label: "y", range: [0, 1], series: [{ label: "c", frequencies: [10, 1000, 40000], values: [0, 1, 0] }] }],
      }),
    );
    const [run] = runsOf(curvesOf(root)[0]!.attributes["d"]!);
    const clip = findAll(root, (element) => element !== root && element.name === "svg")[0]!;
    const [width, height] = [Number(clip.attributes["width"]), Number(clip.attributes["height"])];
    expect(run!.map(([x]) => x / width)).toEqual([0, expect.closeTo(0.5, 3), expect.closeTo(1, 3)]);
    expect(run!.map(([, y]) => 1 - y / height)).toEqual([
      expect.closeTo(0.5, 3),
      expect.closeTo(1, 3),
      expect.closeTo(1 - Math.log(10) / Math.log(40), 3),
    ]);
  });

  it("is seen by the range where it crosses the edges of the band", () => {
    const [run] = draw([10, 1000, 40000], [0, 1, 0], { from: 100, to: 10000 });
    const heights = run!.map(([, y]) => y);
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...heights)).toBeLessThanOrEqual(260);
    expect(Math.max(...heights) - Math.min(...heights)).toBeGreaterThan(130);
  });

  it("starts after 0 Hz, which a logarithmic axis does not have", () => {
    expect(draw([0, 100, 1000], [5, 1, 2]).map((run) => run.length)).toEqual([2]);
  });

  it("has no more than four points to the pixel column, among them the highest and the lowest", () => {
    const n = 1_000_000;
    const frequencies = Float64Array.from({ length: n }, (_, i) => 20 * 1000 ** (i / (n - 1)));
    const values = Float64Array.from({ length: n }, (_, i) => Math.sin(i * 1.7));
    values[123_456] = 5;
    values[765_432] = -4;
    const [run] = draw(frequencies, values);
    const width = run![run!.length - 1]![0];
    expect(run!.length).toBeLessThanOrEqual(4 * (width + 1));
    expect(run!.length).toBeGreaterThan(2 * width);
    const heights = run!.map(([, y]) => y);
    const spans = Math.max(...heights) - Math.min(...heights);
    const [small] = draw([20, 200, 20000], [5, -4, 0]);
    expect(spans).toBeCloseTo(small![1]![1] - small![0]![1], 1);
    expect(run!.every(([x], i) => i === 0 || x >= run![i - 1]![0])).toBe(true);
  });

  it("is written to 0.01 px", () => {
    const svg = frequencyPlot({
      title: "x",
      panels: [{ label: "y", series: [{ label: "c", frequencies: grid, values: grid.map(Math.sin) }] }],
    });
    expect(curvesOf(parseXml(svg))[0]!.attributes["d"]!).not.toMatch(/\.\d{3}|e/);
  });

  it("leaves its input as it was", () => {
    const response = frequencyResponse(Float64Array.from(grid), new Float64Array(301).fill(3), new Float64Array(301).fill(4));
    const copies = [response.frequencies, response.re, response.im].map((array) => array.slice());
    const series = Object.freeze([Object.freeze({ label: "a", response, style: Object.freeze({ line: "dotted" as const }) })]);
    responsePlot(Object.freeze({ title: "x", yLabel: "y", series }));
    impedancePlot(Object.freeze({ title: "x", series }));
    expect([response.frequencies, response.re, response.im]).toEqual(copies);
  });
});

describe("any plot", () => {
  it("is well-formed and free of NaN whatever the numbers and texts are", () => {
    const value = fc.oneof(fc.double(), fc.double({ min: -100, max: 100 }), fc.constantFrom(-Infinity, NaN, 0, -0, 5e-324, 1e308));
    const curve = fc.tuple(
      fc.uniqueArray(fc.double({ min: 0, max: 1e5, noNaN: true }), { maxLength: 30 }),
      fc.array(value, { minLength: 30, maxLength: 30 }),
    );
    const text = fc.string({ unit: "binary", maxLength: 40 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(text, curve), { maxLength: 12 }),
        text,
        fc.integer({ min: 280, max: 1200 }),
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        fc.double({ min: 1.06, max: 1e5, noNaN: true }),
        (curves, title, width, from, ratio) => {
          const series = curves.map(([label, [frequencies, values]]) => {
            const sorted = frequencies
              .map(Math.abs)
              .sort((a, b) => a - b)
              .filter((f, i, all) => i === 0 || f > all[i - 1]!);
            return { label, frequencies: sorted, values: values.slice(0, sorted.length) };
          });
          for (const svg of [
            frequencyPlot({ title, width, from, to: from * ratio, panels: [{ label: title, series }] }),
            responsePlot({
              title,
              width,
              from,
              to: from * ratio,
              yLabel: title,
              series: series.map(({ label, frequencies, values }) => ({ label, response: { frequencies, levelDb: values } })),
            }),
          ]) {
            const root = parseXml(svg);
            const attributes = findAll(root, () => true)
              .flatMap((element) => Object.entries(element.attributes).filter(([name]) => name !== "style"))
              .map(([, attribute]) => attribute);
            expect(attributes.join("\n")).not.toMatch(/NaN|Infinity|undefined|null/);
          }
        },
      ),
      { numRuns: cases(60) },
    );
  });
});

describe("wrong input", () => {
  const wrong: [string, () => unknown, RegExp][] = [
    ["no options", () => responsePlot(undefined as never), /responsePlot: "series" must be an array/],
    ["an unknown option", () => responsePlot({ ...level, colour: "red" } as never), /unknown option "colour"/],
    ["a title that is no text", () => responsePlot({ ...level, title: 3 as never }), /"title" must be text, got 3/],
    [
      "a label that is no text",
      () => responsePlot({ ...level, series: [{ label: {} as never, response: flat }] }),
      /"series\[0\]\.label" must be text/,
    ],
    ["no response", () => responsePlot({ ...level, series: [{ label: "x", response: null as never }] }), /"series\[0\]\.response" must be/],
    ["no impedance", () => impedancePlot({ title: "x", series: [undefined as never] }), /"series\[0\]\.response" must be/],
    [
      "levels of another length",
      () => responsePlot({ ...level, series: [{ label: "x", response: { frequencies: [20, 30], levelDb: [1] } }] }),
      /arrays of one length/,
    ],
    [
      "descending frequencies",
      () => responsePlot({ ...level, series: [{ label: "x", response: { frequencies: [30, 20], levelDb: [1, 2] } }] }),
      /strictly ascending, got 20 at index 1/,
    ],
    [
      "a level that is text",
      () => responsePlot({ ...level, series: [{ label: "x", response: { frequencies: [20], levelDb: ["8"] as never } }] }),
      /must be numbers, got "8" at index 0/,
    ],
    [
      "a band that ends before it begins",
      () => responsePlot({ ...level, from: 200, to: 100 }),
      /"to" must be a finite number above 200 Hz/,
    ],
    ["a band without width", () => responsePlot({ ...level, from: 100, to: 101 }), /at least 5 %/],
    [
      "a range upside down",
      () => responsePlot({ ...level, yRange: [90, 40] }),
      /"yRange" must be two finite numbers, the lower first, got \[90, 40\]/,
    ],
    ["a reference of zero", () => responsePlot({ ...level, reference: 0 }), /"reference" must be a finite number above 0/],
    [
      "an unknown colour",
      () => responsePlot({ ...level, series: [{ label: "x", response: flat, style: { color: "red" as never } }] }),
      /"series\[0\]\.style\.color" must be one of "blue"/,
    ],
    [
      "a colour that carries more than a colour",
      () => responsePlot({ ...level, series: [{ label: "x", response: flat, style: { color: { light: "#000000;}", dark: "#ffffff" } } }] }),
      /must be a hex colour/,
    ],
    [
      "an unknown kind of mark",
      () => responsePlot({ ...level, marks: [{ kind: "constructor" as never, note: "" }] }),
      /"marks\[0\]\.kind" must be one of "no-data"/,
    ],
    ["a picture too narrow to read", () => responsePlot({ ...level, width: 100 }), /"width" must be a finite number at least 280 px/],
    [
      "an angle that is none",
      () => anglesPlot({ title: "x", yLabel: "y", series: [{ angle: NaN, response: flat }] }),
      /"series\[0\]\.angle"/,
    ],
    [
      "a panel's series that is none",
      () => frequencyPlot({ title: "x", panels: [{ label: "y", series: 3 as never }] }),
      /"panels\[0\]\.series" must be an array/,
    ],
  ];
  it.each(wrong)("is refused: %s", (_, call, message) => {
    let caught: unknown;
    try {
      call();
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(DividingNetworkError);
    expect((caught as Error).message).toMatch(message);
  });
});
