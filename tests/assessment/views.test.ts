// Tests src/assessment/: change-words.ts
// What values of the verdict say of themselves, in a terminal and in a notebook, on numbers made up here.
import { describe, expect, it } from "vitest";
import { changeWords, quieter } from "../../src/assessment/change-words";
import { assessmentViews, comparisonViews, findingsViews, findingViews, pairViews } from "../../src/assessment/views";

const text = (views: { readonly text: (value: never) => string }, value: object) => views.text(value as never);
const markdown = (views: object, value: object) => (views as { readonly markdown: (value: object) => string }).markdown(value);
const finding = {
  topic: "load and drive",
  code: "impedance-minimum",
  subject: "smallest impedance",
  before: 3.456,
  after: 6.5,
  unit: "Ω",
  decimals: 2,
  verdict: "better",
  sentence: "It is *better*.",
};

describe("a finding", () => {
  it("says its verdict, its numbers with their decimals and unit, and its sentence", () => {
    expect(text(findingViews, finding)).toBe(
      "Finding: better (load and drive, impedance-minimum)\n  smallest impedance: 3.46 before, 6.50 after (Ω)\n  It is *better*.",
    );
    expect(text(findingViews, { ...finding, unit: "" })).toContain("3.46 before, 6.50 after\n");
    expect(text(findingViews, { ...finding, decimals: -1 })).toContain("3 before, 7 after");
    expect(text(findingViews, { ...finding, decimals: 30 })).toContain("6.50000000000000000000 after");
    expect(markdown(findingViews, finding)).toBe("**better**: It is \\*better\\*.");
  });

  it("among others is a line in a terminal, ten at most, and a row of a table in a notebook", () => {
    const many = (count: number) => Array.from({ length: count }, () => finding);
    expect(text(findingsViews, many(10)).split("\n")).toEqual([
      "Findings: 10",
      ...many(10).map(() => "  better: smallest impedance, 3.46 before, 6.50 after (Ω)"),
    ]);
    expect(text(findingsViews, many(12)).split("\n").slice(-2)).toEqual([
      "  better: smallest impedance, 3.46 before, 6.50 after (Ω)",
      "  and 2 more",
    ]);
    expect(markdown(findingsViews, many(2)).split("\n")).toEqual([
      "| Finding | Before | After | Unit | Verdict |",
      "| --- | ---: | ---: | --- | --- |",
      "| smallest impedance | 3.46 | 6.50 | Ω | better |",
      "| smallest impedance | 3.46 | 6.50 | Ω | better |",
    ]);
  });
});

describe("an assessment", () => {
  const made = (dangers: readonly object[] = []) => ({
    band: { from: 300, to: 10_000 },
    distance: 1,
    sensitivity: { for2V83Db: 86.04, for1WDb: -3.01 },
    ratedImpedance: 4,
    quality: { axisDb: 1.234, worstDb: -2.56, worstFrequency: 1250, places: [1, 2, 3] },
    load: { minimum: 3.256, minimumFrequency: 200 },
    handovers: Array.from({ length: 5 }, (_, i) => ({ lower: `W${i}`, upper: "T1", frequency: 1000 * (i + 1) })),
    dangers,
    limitsNotChecked: [],
  });

  it("says how loud, how smooth, the load, where branches hand over, and what could do harm", () => {
    const lines = text(assessmentViews, made()).split("\n");
    expect(lines.slice(0, 5)).toEqual([
      "Assessment: at 1 m, judged from 300 Hz to 10 kHz",
      "  sensitivity 86.0 dB for 2.83 V, −3.0 dB for 1 W into 4 Ω",
      "  on the axis 1.23 dB from its target (rms), largest −2.6 dB at 1.25 kHz",
      "  off the axis: 3 places judged",
      "  least |Z| 3.26 Ω at 200 Hz",
    ]);
    expect(lines[5]).toMatch(/^ {2}crossovers: W0 to T1 at 1 kHz, W1 to T1 at 2 kHz, W2 to T1 at 3 kHz, W3 to T1 at 4 kHz.*1 more$/);
    expect(lines[6]).toBe("  dangers: 0");
    expect(lines).toHaveLength(8);
  });

  it("names three dangers at most, each on one line that isn't longer than 200 letters", () => {
    const sentences = ["short", "a".repeat(201), "two\r\n\nlines", "fourth"];
    const lines = text(assessmentViews, made(sentences.map((sentence) => ({ sentence })))).split("\n");
    expect(lines.slice(6, 10)).toEqual(["  dangers: 4", "    short", `    ${"a".repeat(199)}…`, "    two lines"]);
    expect(lines).toHaveLength(11);
    expect(text(assessmentViews, made([{ sentence: "b".repeat(200) }]))).toContain("b".repeat(200));
  });
});

describe("a comparison", () => {
  const topic = { topic: "load", before: 3.2, after: 6.45, decimals: 1, unit: "Ω", limit: "at least 6.4 Ω", change: "better", sentence: "The load" }; // prettier-ignore
  const verdict = { sentence: "The new network is *better*", topics: [topic, { ...topic, before: undefined }], trust: { sentence: "Not checked" } }; // prettier-ignore

  it("says the verdict, each topic and what it rests on", () => {
    expect(text(comparisonViews, { verdict }).split("\n")).toEqual([
      "Comparison: The new network is *better*",
      "  better: The load",
      "  better: The load",
      "  Not checked",
    ]);
  });

  it("in a notebook is the sentence, a table of topics and one of findings", () => {
    const lines = markdown(comparisonViews, { verdict, findings: [finding] }).split("\n");
    expect(lines).toEqual([
      "**The new network is \\*better\\***",
      "",
      "| Topic | Before | After | Limit | |",
      "| --- | ---: | ---: | --- | --- |",
      "| load | 3.2 Ω | 6.5 Ω | at least 6.4 Ω | better |",
      "| load |  | 6.5 Ω | at least 6.4 Ω | better |",
      "",
      "| Finding | Before | After | Unit | Verdict |",
      "| --- | ---: | ---: | --- | --- |",
      "| smallest impedance | 3.46 | 6.50 | Ω | better |",
    ]);
  });
});

describe("a pair", () => {
  const place = (azimuth: number) => ({ azimuth, elevation: 0, meanDb: 1.04, spreadDb: 0.55 });
  const made = (count: number) => ({
    sentence: "Left and right *differ*",
    places: Array.from({ length: count }, (_, i) => place(10 * i)),
    suspects: { left: [1], right: [] },
  });

  it("says its sentence, ten places at most, and how many suspects there are", () => {
    expect(text(pairViews, made(1)).split("\n")).toEqual([
      "Pair: Left and right *differ*",
      "  azimuth 0°, elevation 0°: 1.0 dB on the average, 0.6 dB in colour",
      "  suspects: 1 in the left, 0 in the right",
    ]);
    expect(text(pairViews, made(12)).split("\n")).toHaveLength(12);
    expect(markdown(pairViews, made(1))).toBe("Left and right \\*differ\\*");
  });
});

describe("what became of a topic", () => {
  const loud = (before: number | undefined, after: number | undefined, more: object = {}) =>
    ({ topic: "loudness", change: "unchanged", before, after, ...more }) as never;

  it("is its change, in words, and whether its limit is kept", () => {
    const of = (change: string, kept?: boolean) => changeWords({ topic: "load", change, before: 9, after: 1, kept } as never);
    expect([of("better"), of("both"), of("worse", false), of("unchanged", true)]).toEqual([
      "better",
      "better here, worse there",
      "worse, limit not kept",
      "unchanged",
    ]);
  });

  it("says what level was given up within what the goal allows, from half a decibel on", () => {
    expect([loud(90, 88.5), loud(90, 89.5), loud(90, 89.6), loud(90, 91)].map((topic) => changeWords(topic))).toEqual([
      "1.5 dB quieter, allowed",
      "0.5 dB quieter, allowed",
      "unchanged",
      "unchanged",
    ]);
    expect(changeWords(loud(undefined, 80))).toBe("unchanged");
    expect(changeWords(loud(90, undefined))).toBe("unchanged");
    expect(changeWords(loud(90, 80, { change: "worse", kept: false }))).toBe("worse, limit not kept");
    expect(quieter([{ topic: "load", change: "unchanged", before: 9, after: 1 } as never, loud(90, 88)])).toBe(
      ", 2.0 dB quieter as the goal allows",
    );
    expect(quieter([loud(90, 89.9)])).toBe("");
    expect(quieter([])).toBe("");
  });
});
