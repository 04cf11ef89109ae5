// Tests src/report/: wire.ts
// Tests src/report/build-sheet/: coil-distance.ts, coil-harm.ts, placed-coils.ts, wound-parts.ts
// What is bought and soldered where a network holds what isn't usual: links of 0 Ω, coupled coils, coils of one's own, one driver alone.
import { describe, expect, it } from "vitest";
import { assess, compare } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import {
  capacitor,
  coupling,
  driverImpedance,
  fractional,
  inductive,
  inductor,
  inParallel,
  inSeries,
  part,
  resistive,
  resistor,
  transformer,
} from "dividing-network/parts";
import { buildSheet, buildSheetText, comparisonPage, comparisonText, partsList } from "dividing-network/report";
import { logGrid } from "dividing-network";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(100, 20_000, 100);
const cone = flatDriver(grid);
const box = (network: Entries, drivers: readonly (readonly [string, "woofer" | "tweeter" | "full-range"])[] = two) =>
  loudspeaker({ network, drivers: drivers.map(([name, role]) => ({ name, role, pressures: [cone] })) });
const two = [
  ["woofer", "woofer"],
  ["tweeter", "tweeter"],
] as const;
const woofer = driverImpedance({ re: 5.7, le: "0.5 mH" });
const tweeter = driverImpedance({ re: 5, le: "40 µH", fs: "900 Hz", qms: 2, qes: 1.5 });
const plain = {
  L1: [inductor("0.8 mH", { dcr: 0.3 }), "in", "w"],
  woofer: [woofer, "w", "gnd"],
  C1: [capacitor("6.8 µF"), "in", "t"],
  L2: [inductor("0.2 mH", { dcr: 0.2 }), "t", "gnd"],
  tweeter: [tweeter, "t", "gnd"],
} as const;
const judged = (network: Entries, drivers = two as Parameters<typeof box>[1]) =>
  assess(box(network, drivers), { ratedImpedance: 4, goal: { amplifier: { voltage: 10 } } });
const found = judged(plain);
const words = (page: string) =>
  page
    .replace(/<style[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replace(/[\s\u00A0]+/g, " ");

describe("a link of 0 Ω", () => {
  const linked: Entries = {
    ...plain,
    R9: [resistor(0), "t", "u"],
    L9: [inductor(0), "w", "v"],
    woofer: [woofer, "v", "gnd"],
    tweeter: [tweeter, "u", "gnd"],
  };
  const sheet = buildSheet(box(linked));

  it("is a wire: nothing is bought, feared for heat, or measured for it, and it feeds no driver", () => {
    expect(partsList(linked).flatMap(({ designators }) => designators)).toEqual(["L1", "C1", "L2"]);
    expect(sheet.parts.filter(({ part: what }) => what === "wire").map(({ designator }) => designator)).toEqual(["R9", "L9"]);
    expect(sheet.topology.join(" ")).toBe("L1 feeds the woofer. C1 feeds the tweeter; L2 stands after C1, from t to gnd.");
    expect(sheet.steps.flatMap(({ cautions }) => cautions).join(" ")).not.toMatch(/R9|L9|can get hot/);
    expect(sheet.unseen.join()).not.toMatch(/9 bridged/);
    expect(sheet.resistance.map(({ note }) => note).join("")).not.toContain("L9");
    expect(sheet.coils.coils).toEqual(["L1", "L2"]);
    const text = comparisonText(compare(found, judged(linked)));
    expect(text).not.toMatch(/Resistor 0|Coil 0 /);
  });

  it("is soldered all the same", () => {
    expect(sheet.joints.find(({ joint }) => joint === "u")!.terminals).toEqual(["tweeter +", "R9"]);
  });
});

describe("coils that couple on purpose", () => {
  const coupled: Entries = { ...plain, K1: [coupling(0.3), "L1", "L2"] };

  it("are checked by what two of them in series measure: 1 mH and twice 0.3·0.4 mH, added or taken away", () => {
    const [sentence] = buildSheet(box(coupled)).coils.sentences;
    expect(sentence).toMatch(/^L1 and L2 are meant to couple, k = 0\.3: .*1\.24 mH; with one turned round, 0\.76 mH\.$/);
  });

  it("are no plain reuse where a coupling is gained or lost", () => {
    const text = (before: typeof found, after: typeof found) => comparisonText(compare(before, after), { width: 200 });
    expect(text(found, judged(coupled))).toMatch(/reuse L1 \(now coupled to L2\)/);
    expect(text(judged(coupled), found)).toMatch(/reuse L1 \(if it comes apart from old L2\)/);
    expect(text(judged(coupled), judged(coupled))).not.toMatch(/coupled|apart/);
    expect(text(found, found)).not.toMatch(/coupled|apart/);
  });
});

describe("what is wound but no plain coil", () => {
  const own = part({
    title: "Cored coil",
    branches: [{ law: inSeries(inParallel(inductive("0.8 mH"), resistive(300, "coreLoss")), resistive(0.2, "dcr")) }],
  });

  it("lies by the same rules as coils", () => {
    for (const [L1, name] of [
      [own, "a coil of three laws"],
      [part({ title: "Sheet coil", branches: [{ law: fractional({ k: 0.02, n: 0.7 }) }] }), "one of a power of frequency"],
    ] as const) {
      const { coils } = buildSheet(box({ ...plain, L1: [L1, "in", "w"] }));
      expect(coils.coils, name).toEqual(["L1", "L2"]);
      expect(coils.sentences[0], name).toMatch(/^Set L1, L2 at right angles/);
    }
    const wound = buildSheet(box({ ...plain, T1: [transformer({ ratio: 2 }), "t", "gnd", "u", "gnd"], tweeter: [tweeter, "u", "gnd"] }));
    expect(wound.coils.coils).toEqual(["L1", "L2", "T1"]);
    expect(wound.coils.sentences.join(" ")).toMatch(/keep \d+ cm.*T1: no plain air coil/);
  });

  it("isn't what is made of resistance and capacitance alone", () => {
    const lamp = part({ title: "Lamp", branches: [{ law: resistive(2) }] });
    expect(buildSheet(box({ ...plain, B1: [lamp, "t", "u"], tweeter: [tweeter, "u", "gnd"] })).coils.coils).toEqual(["L1", "L2"]);
  });

  it("is placed by its winding where that is known", () => {
    const winding = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" } as const;
    const { coils } = buildSheet(box({ ...plain, L1: [own, "in", "w"] }), {
      coils: { windings: { L1: winding, L2: winding }, board: { width: "20 cm", depth: "12 cm" } },
    });
    expect(coils.places?.map(({ coil }) => coil)).toEqual(["L1", "L2"]);
    expect(coils.sentences.join(" ")).not.toContain("The winding stated for L1 makes");
  });
});

describe("a loudspeaker of one driver", () => {
  const alone = (role: "full-range" | "woofer") => [["cone", role]] as const;
  const before = judged({ cone: [woofer, "in", "gnd"] }, alone("full-range"));
  const after = judged(
    { L1: [inductor("1 mH", { dcr: 0.3 }), "in", "w"], R1: [resistor(5), "in", "w"], cone: [woofer, "w", "gnd"] },
    alone("full-range"),
  );

  it("has no tweeter that could fail, and no polarity that could be heard", () => {
    const comparison = compare(before, after);
    expect(buildSheetText(buildSheet(comparison))).not.toMatch(/tweeter|woofer|olarity|reversed|others|side by side/);
    expect(words(comparisonPage(comparison, { title: "One" }))).not.toMatch(/tweeter|woofer|olarity/);
    // Two of them are warned of.
    const several = buildSheetText(buildSheet(compare(found, found)));
    expect(several).toMatch(/A tweeter that gets what belongs to the woofer/);
    expect(several).toMatch(/a reversed tweeter among them/);
  });
});
