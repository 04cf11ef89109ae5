// Tests src/report/: check-comparison.ts, comparison-page.ts, comparison-text.ts, findings-words.ts, markup.ts, not-checked.ts
// Tests src/report/: pair-words.ts, schematics.ts, shopping-text.ts, spread-blocks.ts
// Tests src/report/build-sheet/: build-sheet-blocks.ts
// Tests src/report/page/: alternative.ts, appendix.ts, axis-figure.ts, branch-figures.ts, findings-table.ts, off-axis-figures.ts
// Tests src/report/page/: partner-curves.ts, shown.ts, summary.ts, words.ts
// The comparison as people read it: the page and the terminal's table, made from two small networks on resistors.
import { describe, expect, it } from "vitest";
import { assess, compare, comparePair, type Comparison } from "dividing-network/assessment";
import { loudspeaker, predict, pressurePerVolt } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, inductor, resistor, stock } from "dividing-network/parts";
import { comparisonPage, comparisonText } from "dividing-network/report";
import { notChecked } from "../../src/report/not-checked";
import { partnerOnAxis } from "../../src/report/page/partner-curves";
import { frequencyResponse, scaleResponse } from "dividing-network/response";
import { parseXml } from "./xml";
import { boxWith, found, proposed } from "./two-networks";

const grid = Float64Array.from({ length: 385 }, (_, index) => 1000 * 2 ** ((index - 192) / 48));
const marks = [{ kind: "coarse", from: 200, to: 600, note: "the gate of T = 5 ms at 1 m loses details below 3/T" }] as const;
const flat = (gain: number, azimuth = 0) =>
  pressurePerVolt({
    response: frequencyResponse(
      grid,
      grid.map(() => gain),
      grid.map(() => 0),
      marks,
    ),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    azimuth,
    timeZero: "common",
  });
const box = boxWith(flat);
const [before, after] = [box(found), box(proposed)];

function comparison(wrongBy: number): Comparison {
  const { places, voltage } = predict(before);
  const pressures = places.map(({ distance, azimuth, elevation, sum }) => ({
    distance,
    azimuth,
    elevation,
    response: scaleResponse(sum, wrongBy),
    voltage,
  }));
  return compare(assess(before, { ratedImpedance: 8 }), assess(after, { ratedImpedance: 8 }), {
    measured: { pressures },
    repeatability: { levelDb: 20 },
  });
}
const right = comparison(1);
const wrong = comparison(4);
/** What a reader sees: no tags. */
const textOf = (page: string): string =>
  page
    .replace(/<style[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("\u00A0", " ")
    .replaceAll("&amp;", "&")
    .replaceAll("&quot;", '"')
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&#39;", "'");

describe("the page of a comparison", () => {
  const page = comparisonPage(right, { title: "Before & after", description: "Invented <for> a test.", generatedFrom: "nothing" });

  it("is one well-formed document with its plots, that fetches nothing", () => {
    expect(() => parseXml(page)).not.toThrow();
    expect(page.match(/<svg/g)!.length).toBeGreaterThanOrEqual(2 * 6);
    expect(page).not.toMatch(/\b(src|href)="(?!#)/);
    expect(page).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("begins with the verdict, and holds every finding with its numbers, its limit and the limit's reason", () => {
    const text = textOf(page);
    expect(text.indexOf(right.verdict.sentence)).toBeGreaterThan(0);
    expect(text.indexOf(right.verdict.sentence)).toBeLessThan(text.indexOf("Invented <for> a test."));
    const table = text.slice(text.indexOf("Appendix: findings", text.indexOf("Build sheet")));
    for (const { subject, before: found, decimals, unit, threshold } of right.findings) {
      expect(table.split(subject).length - 1, subject).toBeGreaterThanOrEqual(1);
      expect(table).toContain(
        `${found < 0 && Number(found.toFixed(decimals)) !== 0 ? "−" : ""}${Math.abs(found).toFixed(decimals)}${unit === "" || unit === "°" ? unit : ` ${unit}`}`,
      );
      if (threshold !== undefined) expect(table).toContain(threshold.reason.replace(" (common practice, no source)", "*."));
    }
    // What numbers alone don't say is there in words, once.
    for (const { code, sentence } of right.findings.filter((finding) =>
      ["worst-deviation", "overlap", "impedance-minimum"].includes(finding.code),
    ))
      expect(text.split(sentence).length - 1, code).toBe(1);
  });

  it("carries the data's marks into plots and findings, and says each once where drivers share it", () => {
    const figure = page.slice(page.indexOf("On the axis at"), page.indexOf("<figcaption", page.indexOf("On the axis at")));
    // Two drawings, for wide and for narrow screens; in each the legend and the description for those who don't see it. Lines may break in it.
    expect(textOf(figure).replace(/\s+/g, " ").split("loses details below 3/T").length - 1).toBe(4);
    expect(textOf(page)).toContain("Coarse 200 Hz to 600 Hz: the gate of T = 5 ms at 1 m loses details below 3/T");
  });

  it("lists what is to be bought and where it goes, and the cautions", () => {
    const text = textOf(page);
    for (const words of [
      "Coil 0.64 mH",
      "Capacitor 10 µF",
      "Resistor 4.7 Ω",
      "in – w",
      "For a pair",
      "hot enough to burn",
      "mains voltage",
      "damage hearing",
    ])
      expect(text).toContain(words);
  });

  it("names what is still not what it should be, and each topic", () => {
    const text = textOf(page);
    for (const { topic, sentence, kept } of right.verdict.topics) {
      expect(text).toContain(topic.replace("off the axis, ", ""));
      if (kept === false) expect(text).toContain(sentence);
    }
    expect(right.verdict.topics.filter(({ kept }) => kept === false).length).toBeGreaterThan(0);
    expect(text).toContain("limit not kept");
  });

  it("says that a model wasn't checked, where it wasn't", () => {
    const unchecked = compare(assess(before, { ratedImpedance: 8 }), assess(after, { ratedImpedance: 8 }));
    expect(textOf(comparisonPage(unchecked, { title: "x" }))).toContain("The model was not checked");
  });

  it("says dangers first, in words", () => {
    const shorted = box({ ...after.network, R9: [resistor("0.6 Ω"), "in", "gnd"] } as unknown as Entries);
    const text = textOf(
      comparisonPage(compare(assess(before, { ratedImpedance: 8 }), assess(shorted, { ratedImpedance: 8 })), { title: "x" }),
    );
    expect(text.indexOf("Danger: The load falls to 0.5")).toBeGreaterThan(0);
    expect(text.indexOf("Danger:")).toBeLessThan(text.indexOf("is not fit to be connected"));
  });

  it("gives what wasn't judged a sentence and no tile, and says what nobody checked once", () => {
    const tiles = textOf(/<ul class="tiles"[^>]*>[\s\S]*?<\/ul>/.exec(page)![0]);
    const open = right.verdict.topics.filter(({ change }) => change === "not checked").map(({ topic }) => topic);
    expect(open).toEqual(["off the axis, up and down", "off the axis, behind", "drivers"]);
    for (const topic of open) expect(tiles).not.toContain(topic.replace("off the axis, ", ""));
    expect(tiles).toContain("to the sides");
    expect(textOf(page)).toContain(
      "Not judged: off the axis, up and down (not measured); off the axis, behind (not measured; a dipole or a panel sends half of its sound there); drivers (drive of tweeter: ",
    );
    expect(textOf(page).split(notChecked(right.after)).length - 1).toBe(1);
  });

  it("shows the load's limit, and pressures from a third of an octave below their data", () => {
    expect(page.match(/>limit 6\.4 Ω</g)).toHaveLength(2);
    expect(page.match(/Frequency from 49\.6 Hz to 20000 Hz/g)!.length).toBe(2 * 7);
    expect(grid[0]! / 2 ** (1 / 3)).toBeCloseTo(49.6, 1);
  });

  it("has its sections in the order in which they are read, the build sheet and the findings on sides of their own", () => {
    expect(
      Array.from(
        page.matchAll(/<section id="[^"]*"(?: class="([^"]*)")? [^>]*><h2[^>]*>([^<]*)</g),
        ([, own, heading]) => `${heading!}${own === undefined ? "" : "*"}`,
      ),
    ).toEqual(["Summary", "Schematics", "Plots", "Shopping list", "Build sheet*", "Appendix: findings, inputs, the model’s check*"]);
  });

  it("marks the crossover in the plots of branches and maps, and draws the corridor of the goal", () => {
    expect(page.match(/Marked: \d/g)!.length).toBeGreaterThanOrEqual(2 * 2);
    expect(page).toContain("Corridor: ±3 dB about the target, for third octaves (area)");
    expect(page).toContain("within ±3 dB");
  });

  it("says what of the old network is reused, and asks for the rest", () => {
    const list = (found: Entries, proposed: Entries, suspects: Comparison["verdict"]["suspects"] = []) => {
      const comparison = compare(assess(box(found), { ratedImpedance: 8 }), assess(box(proposed), { ratedImpedance: 8 }));
      const whole = textOf(comparisonPage({ ...comparison, verdict: { ...comparison.verdict, suspects } }, { title: "x" }));
      return whole.slice(whole.lastIndexOf("Shopping list"), whole.lastIndexOf("Build sheet")).replace(/\s+/g, " ");
    };
    const [found, proposed] = [before.network as unknown as Entries, after.network as unknown as Entries];
    expect(list(found, proposed)).not.toContain("reuse:");
    expect(list(found, { ...proposed, C9: [capacitor("22 µF"), "t", "gnd"] } as Entries)).toContain("Capacitor 22 µF C9 1 2 reuse old C1");
    // What a measurement suspects, or what can't be told from it, doesn't serve again.
    const suspect = (parts: readonly string[]) => ({ parts, fault: "value", value: 12e-6, unit: "F", misfit: 1 }) as const;
    for (const suspects of [[suspect(["C1"])], [{ ...suspect(["R1"]), alike: [suspect(["C1"])] }]])
      expect(list(found, { ...proposed, C9: [capacitor("22 µF"), "t", "gnd"] } as Entries, suspects)).toContain(
        "Capacitor 22 µF C9 1 2 buy",
      );
  });

  it("holds a third network as one more number and one more curve", () => {
    const byHand = assess(box({ ...after.network, R1: [resistor("3.3 Ω"), "t", "x"] } as unknown as Entries), { ratedImpedance: 8 });
    const other = compare(right.before, byHand);
    const three = comparisonPage(right, { title: "x", alternative: { name: "by hand", comparison: other } });
    const load = other.verdict.topics.find(({ topic }) => topic === "load")!;
    expect(textOf(three)).toContain(`→ ${load.after!.toFixed(2)} Ω`);
    // The verdict's sentence speaks of "the new network": here it is that one.
    expect(textOf(three)).toMatch(/Third number: by hand\. It is (better|a trade|worse)/);
    const text = comparisonText(right, { alternative: { name: "by hand", comparison: other }, width: 400 });
    expect(text).toMatch(/\nThe third network, by hand\. It is (better|a trade|worse)/);
    expect(comparisonText(right)).not.toContain("third network");
    expect(() => comparisonText(right, { alternative: { name: "by hand" } as never })).toThrowError(
      /comparisonText: "alternative\.comparison"/,
    );
    expect(three).toContain("by hand (dash-dot line)");
    expect(() => parseXml(three)).not.toThrow();
    const named = comparisonPage(right, { title: "x", alternative: { name: "made by hand in a long week", comparison: other } });
    expect(named).toContain("the third (dash-dot line)");
    expect(textOf(named)).toContain("Third number: made by hand in a long week.");
    expect(textOf(named).split("made by hand in a long week").length - 1).toBe(1);
    const elsewhere = compare(assess(after, { ratedImpedance: 8 }), byHand);
    expect(() => comparisonPage(right, { title: "x", alternative: { name: "y", comparison: elsewhere } })).toThrowError(
      expect.objectContaining({ code: "invalid-argument" }),
    );
  });

  it("asks for its texts by its own name, before it computes anything", () => {
    for (const [argument, options] of [
      ["title", {}],
      ["title", { title: 5 }],
      ["description", { title: "x", description: 5 }],
      ["generatedFrom", { title: "x", generatedFrom: null }],
      ["proof", { title: "x", proof: {} }],
    ] as const)
      expect(() => comparisonPage({} as never, options as never)).toThrowError(
        expect.objectContaining({
          code: "invalid-argument",
          message: expect.stringMatching(`^comparisonPage: "${argument}" must be text`) as string,
        }),
      );
  });

  it("refuses an option that it doesn't know", () => {
    expect(() => comparisonPage(right, { title: "x", colour: "red" } as never)).toThrowError(
      expect.objectContaining({ code: "unknown-option" }),
    );
  });
});

/** The section with the drawings. */
const drawingsOf = (page: string): string =>
  page.slice(page.indexOf(">Schematics</h2>"), page.indexOf("</section>", page.indexOf(">Schematics</h2>")));
/** Another pair of networks on the same drivers. */
const drawn = (found: Entries, proposed: Entries): string =>
  drawingsOf(
    comparisonPage(compare(assess(box(found), { ratedImpedance: 8 }), assess(box(proposed), { ratedImpedance: 8 })), { title: "x" }),
  );
/** Designators with a frame, in the order of the drawings. */
const framed = (section: string): string[] =>
  Array.from(section.matchAll(/<g data-part="([^"]*)"(?:(?!<\/g>).)*rx="3"/gs), ([, name]) => name!);

describe("the schematics of the page", () => {
  const [found, proposed] = [before.network as unknown as Entries, after.network as unknown as Entries];

  it("stand once each, right after the summary, with frames around what differs", () => {
    const page = comparisonPage(right, { title: "x" });
    expect(Array.from(page.matchAll(/<h2[^>]*>([^<]*)<\/h2>/g), ([, heading]) => heading).slice(0, 2)).toEqual(["Summary", "Schematics"]);
    expect(Array.from(drawingsOf(page).matchAll(/<title>([^<]*)<\/title>/g), ([, title]) => title)).toEqual(["As found", "Proposed"]);
    expect(framed(drawingsOf(page)).sort()).toEqual(["C1", "C1", "L1", "L1", "R1", "tweeter", "tweeter"]);
    expect(textOf(drawingsOf(page))).toContain("A frame around a designator");
    expect(textOf(drawingsOf(page))).not.toContain("the other way round");
  });

  it("say in words which driver is connected the other way round", () => {
    expect(textOf(drawn(found, { ...proposed, tweeter: [resistor(8), "gnd", "x"] } as Entries))).toContain(
      "The tweeter is connected the other way round: its + and − are exchanged.",
    );
    const floating = { ...proposed, R2: [resistor(1), "y", "gnd"], tweeter: [resistor(8), "x", "y"] } as unknown as Entries;
    expect(textOf(drawn(found, floating))).toContain("Whether the tweeter’s polarity changes must be read from its + and − here.");
  });

  it("say that nothing is framed where both networks are the same", () => {
    const section = drawn(found, found);
    expect(framed(section)).toEqual([]);
    expect(textOf(section)).toContain("Both networks are the same.");
  });

  it.each<readonly [string, Entries]>([
    [
      "a bridge",
      {
        L1: [inductor("0.1 mH"), "in", "w"],
        woofer: [resistor(8), "w", "gnd"],
        C1: [capacitor("22 µF"), "in", "t"],
        tweeter: [resistor(8), "t", "gnd"],
        R1: [resistor(10), "w", "t"],
      },
    ],
    ["a single branch", { L1: [inductor("0.1 mH"), "in", "w"], woofer: [resistor(8), "w", "t"], tweeter: [resistor(8), "t", "gnd"] }],
    ["drivers at the terminals", { woofer: [resistor(8), "in", "gnd"], tweeter: [resistor(8), "in", "gnd"] }],
  ])("draw %s", (_what, network) => {
    for (const section of [drawn(found, network), drawn(network, found)]) {
      expect(section.match(/<svg/g)).toHaveLength(2);
      expect(section).not.toMatch(/NaN|undefined|Infinity/);
      expect(() => parseXml(`<section><h2${section}</section>`)).not.toThrow();
    }
  });

  it("stand below each other where they are too wide to be read beside each other, and then don't shrink each other", () => {
    expect(drawingsOf(comparisonPage(right, { title: "x" }))).toContain('<figure class="drawings beside beside-on-paper"');
    const wide = {
      ...found,
      ...Object.fromEntries(Array.from({ length: 24 }, (_, k) => [`R${k}`, [resistor(100 + k), k % 2 === 0 ? "w" : "t", "gnd"]])),
    } as unknown as Entries;
    const section = drawn(found, wide);
    expect(section).toContain('<figure class="drawings"');
    const [small, large] = Array.from(
      section.matchAll(/--width:(\d+)px;--share:([\d.]+)%/g),
      ([, width, share]) => [Number(width), Number(share)] as const,
    );
    expect(large![0]).toBeGreaterThan(1500);
    expect(large![1]).toBe(100);
    expect(small![1]).toBeCloseTo((100 * small![0]) / 900, 1);
  });

  it("draw one driver by itself", () => {
    const alone = assess(
      loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [flat(0.1)] }] }),
      { ratedImpedance: 8 },
    );
    expect(drawingsOf(comparisonPage(compare(alone, alone), { title: "x" })).match(/<svg/g)).toHaveLength(2);
  });

  it("leave a sentence that points to the connections where a network can't be drawn", () => {
    const swap = (network: Entries): string =>
      drawingsOf(
        comparisonPage(
          {
            ...right,
            after: {
              ...right.after,
              prediction: { ...right.after.prediction, loudspeaker: { ...right.after.prediction.loudspeaker, network } },
            },
          } as Comparison,
          { title: "x" },
        ),
      );
    const many = Object.fromEntries(Array.from({ length: 201 }, (_, k) => [`R${k}`, [resistor(1), "in", "gnd"]])) as unknown as Entries;
    for (const [network, words] of [
      [{ R1: [resistor(1), "in", "x"] }, "couldn’t be drawn"],
      [{}, "couldn’t be drawn"],
      [many, "more than 200 parts"],
    ] as const) {
      expect(swap(network as Entries)).not.toContain("<svg");
      expect(textOf(swap(network as Entries))).toContain(words);
      expect(textOf(swap(network as Entries))).toContain("The build sheet says where");
    }
  });
});

describe("the table of a comparison for the terminal", () => {
  it("says once what nobody checked", () => {
    expect(comparisonText(right, { width: 1000 }).split(notChecked(right.after)).length - 1).toBe(1);
  });

  it("groups the findings by topic and ends with the verdict", () => {
    const text = comparisonText(right, { width: 120 });
    expect(text.startsWith("The new network is")).toBe(true);
    const order = ["Topic", "ON THE AXIS", "CROSSOVER", "OFF THE AXIS", "LOAD AND DRIVE", "The new network is"].map((heading) =>
      text.lastIndexOf(heading),
    );
    expect(order.every((place) => place > 0)).toBe(true);
    expect([...order].sort((a, b) => a - b)).toEqual(order);
    for (const { subject } of right.findings) expect(text).toContain(subject.split(" ")[0]);
  });

  it("lists what is to be bought, for a pair, before the verdict is said again", () => {
    const text = comparisonText(right, { width: 120 });
    const list = text.slice(text.indexOf("To buy"), text.lastIndexOf("The new network is"));
    for (const words of [/Coil 0\.64 mH +L1 +2 +±5 %/, /Resistor 4\.7 Ω +R1 +2/, /Capacitor 10 µF +C1 +2/]) expect(list).toMatch(words);
    expect(list).not.toContain("woofer");
    const stocked = comparisonText(right, {
      width: 140,
      stock: stock([{ kind: "resistor", value: "4.7 Ω", name: "wire", price: 0.75, count: 4, tolerance: "1 %" }]),
    });
    expect(stocked).toMatch(/Resistor 4\.7 Ω.* wire.* 1\.50/);
    expect(stocked).toContain("Together 1.50 for a pair, without what isn't in stock or has no price.");
  });

  it("keeps to the width, with one kind of minus", () => {
    for (const width of [60, 80, 120]) {
      const lines = comparisonText(right, { width }).split("\n");
      for (const line of lines) expect([...line].length, line).toBeLessThanOrEqual(width);
      expect(lines.filter((line) => /\s-\d/.test(line))).toEqual([]);
    }
  });

  it("calls undecided what the model can't resolve", () => {
    expect(wrong.findings.filter(({ verdict }) => verdict === "cannot be decided from these data").length).toBeGreaterThan(0);
    expect(comparisonText(wrong)).toContain("undecided");
    expect(
      comparisonText(right)
        .split("\n")
        .filter((line) => line.endsWith("undecided")),
    ).toEqual([]);
  });

  it("refuses a width that is none", () => {
    expect(() => comparisonText(right, { width: 3 })).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => comparisonText(right, { columns: 80 } as never)).toThrowError(expect.objectContaining({ code: "unknown-option" }));
  });
});

describe("left against right of the pair", () => {
  const stereo = comparePair(
    { pressures: [{ distance: 1, azimuth: 0, elevation: 0, voltage: 1, response: flat(0.1).response }] },
    { pressures: [{ distance: 1, azimuth: 0, elevation: 0, voltage: 1, response: flat(0.05).response }] },
    { band: { from: 700, to: 4000 } },
  );
  it("stands on the page and in the terminal where it was compared, and nowhere else", () => {
    expect(textOf(comparisonPage(right, { title: "A pair", pair: stereo }))).toContain("Left against right");
    expect(textOf(comparisonPage(right, { title: "A pair", pair: stereo }))).toContain(`${stereo.sentence}.`);
    expect(comparisonText(right, { width: 1000, pair: stereo })).toContain(`${stereo.sentence}.`);
    expect(textOf(comparisonPage(right, { title: "A pair" }))).not.toContain("Left against right");
    expect(comparisonText(right)).not.toContain("Left and right");
  });

  it("says what may be wrong in either", () => {
    const suspected = {
      ...stereo,
      suspects: {
        left: [],
        right: [{ parts: ["C1"], fault: "value" as const, value: 10e-6, unit: "F" as const, misfit: 2, explains: false }],
      },
    };
    expect(comparisonText(right, { width: 1000, pair: suspected })).toContain(
      "What may be wrong in the right one, by its drawing: C1 is 10 µF. None of them alone explains what was measured.",
    );
  });

  it("is looked at", () => {
    for (const pair of [{}, 3, { sentence: "x" }])
      expect(() => comparisonPage(right, { title: "A pair", pair: pair as never })).toThrowError(
        expect.objectContaining({ code: "invalid-argument" }),
      );
  });
});

describe("a partner that plays beside the network", () => {
  // The woofer's own kind: 0.05 Pa for 1 V from 62.5 Hz to 2 kHz, in phase, so that the sum with it is known at every point.
  const beside = frequencyResponse(
    grid.filter((f) => f < 2001),
    grid.filter((f) => f < 2001).map(() => 2.83 * 0.05),
    grid.filter((f) => f < 2001).map(() => 0),
  );
  const goal = { band: { from: 300, to: 2000 }, partner: { pressures: [{ azimuth: 0, elevation: 0, response: beside }] } };
  const judged = (of: typeof before) => assess(of, { ratedImpedance: 8, goal });
  const { before: found, after: proposed } = compare(judged(before), judged(after as unknown as typeof before));

  it("has its curve and the sum with it in the plots of the axis and of the branches", () => {
    const text = textOf(comparisonPage(compare(found, proposed), { title: "With a partner" }));
    expect(text).toContain("as found, with the partner");
    expect(text).toContain("proposed, with the partner");
    expect(text).toContain("the partner alone");
    expect(text).toContain("sum with the partner");
    expect(text).toContain("is added as measured, as far as both are known");
    expect(textOf(comparisonPage(right, { title: "Without" }))).not.toContain("partner");
  });

  it("adds as complex pressures over what both cover, and no further", () => {
    const { alone, together } = partnerOnAxis(found)!;
    const { sum } = found.prediction.places.find(({ azimuth }) => azimuth === 0)!;
    expect(together.frequencies.at(-1)).toBeCloseTo(2000, 6);
    for (const i of [0, 96, together.frequencies.length - 1]) {
      expect(alone.re[i]).toBeCloseTo(0.1415, 9);
      expect(together.re[i]).toBeCloseTo(sum.re[i]! + 0.1415, 9);
      expect(together.im[i]).toBeCloseTo(sum.im[i]!, 9);
    }
    expect(partnerOnAxis(right.before)).toBeUndefined();
    // One that was measured at other places alone is none on the axis; nor is one that the target carries as a high-pass.
    expect(
      partnerOnAxis(
        assess(before, { ratedImpedance: 8, goal: { partner: { highPass: { family: "butterworth", order: 2, frequency: 80 } } } }),
      ),
    ).toBeUndefined();
  });
});
