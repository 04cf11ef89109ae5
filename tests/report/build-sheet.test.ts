// Tests src/report/: cautions.ts, topology-text.ts
// Tests src/report/build-sheet/: build-sheet-text.ts, check-build-sheet.ts, coils.ts, dc-resistance.ts, driver-paths.ts, joints.ts
// Tests src/report/build-sheet/: readings.ts, steps.ts, tables.ts
// The build sheet against arithmetic by hand: meter readings of direct current, |Z|, joints, and the topology in words.
import { describe, expect, it } from "vitest";
import { assess, compare } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import { solve, type Entries } from "dividing-network/network";
import {
  capacitive,
  capacitor,
  coupling,
  driverImpedance,
  inductive,
  inductor,
  inSeries,
  lPad,
  part,
  resistive,
  resistor,
  transformer,
  type LawData,
} from "dividing-network/parts";
import { buildSheet, buildSheetText, comparisonPage, topologyText } from "dividing-network/report";
import { frequencyResponse, logGrid, magnitude } from "dividing-network";
import { flatDriver } from "../support/flat-driver";

const grid = logGrid(100, 20_000, 300);
const cone = flatDriver(grid);
const box = (network: Entries, names = Object.keys(network).filter((name) => name === "woofer" || name === "tweeter")) =>
  loudspeaker({ network, drivers: names.map((name) => ({ name, role: name as "woofer", pressures: [cone] })) });
/** Readings of direct current by what is connected. */
const ohms = (network: Entries) =>
  Object.fromEntries(
    buildSheet(box(network)).resistance.map(({ where, expected }) => [
      where,
      typeof expected === "number" ? Number(expected.toFixed(6)) : expected,
    ]),
  );

const woofer = driverImpedance({ re: 5.7, le: "0.5 mH" });
const tweeter = driverImpedance({ re: 5, le: "40 µH", fs: "900 Hz", qms: 2, qes: 1.5 });
const twoWay: Entries = {
  L1: [inductor("0.47 mH", { dcr: 0.3 }), "in", "w"],
  C1: [capacitor("15 µF"), "w", "gnd"],
  R1: [resistor(6.8), "w", "z"],
  C2: [capacitor("10 µF"), "z", "gnd"],
  woofer: [woofer, "w", "gnd"],
  C3: [capacitor("6.8 µF"), "in", "a"],
  L2: [inductor("0.33 mH", { dcr: 0.2 }), "a", "gnd"],
  R2: [resistor(2.2), "a", "t"],
  tweeter: [tweeter, "gnd", "t"],
};

describe("what an ohmmeter should read", () => {
  it("in branches side by side: a capacitor is open, a coil its wire", () => {
    expect(ohms(twoWay)).toEqual({
      "Input, no driver connected": "open",
      "Input, only the woofer connected": 6,
      "Input, only the tweeter connected": "open",
      "Input, all drivers connected": 6,
      "At the woofer, all connected": 5.7,
      // 5 Ω across 2.2 Ω + 0.2 Ω.
      "At the tweeter, all connected": Number(((5 * 2.4) / 7.4).toFixed(6)),
    });
  });

  it("in a series network, where a driver that is missing opens all of it unless a coil bridges it", () => {
    const series: Entries = {
      woofer: [woofer, "in", "x"],
      C1: [capacitor("20 µF"), "in", "x"],
      tweeter: [tweeter, "x", "gnd"],
      L1: [inductor("0.5 mH", { dcr: 0.25 }), "x", "gnd"],
    };
    const across = (5 * 0.25) / 5.25;
    expect(ohms(series)).toEqual({
      "Input, no driver connected": "open",
      "Input, only the woofer connected": 5.95,
      "Input, only the tweeter connected": "open",
      "Input, all drivers connected": Number((5.7 + across).toFixed(6)),
      "At the woofer, all connected": 5.7,
      "At the tweeter, all connected": Number(across.toFixed(6)),
    });
  });

  it("of a pad its load, where the driver is that load", () => {
    const readings = ohms({ P1: [lPad({ attenuationDb: 6, load: 5 }), "in", "t", "gnd"], tweeter: [tweeter, "t", "gnd"] });
    expect(readings["Input, the tweeter connected"]).toBe(5);
    const k = 10 ** (6 / 20);
    expect(readings["Input, no driver connected"]).toBeCloseTo((5 * (k - 1)) / k + 5 / (k - 1), 5);
  });

  it("through coupled coils as if they weren't coupled, and never through a transformer", () => {
    const coils: Entries = {
      L1: [inductor("1 mH", { dcr: 0.4 }), "in", "m"],
      L2: [inductor("1 mH", { dcr: 0.6 }), "m", "w"],
      K1: [coupling(0.9), "L1", "L2"],
      woofer: [woofer, "w", "gnd"],
    };
    expect(ohms(coils)["Input, the woofer connected"]).toBe(6.7);
    const wound: Entries = {
      T1: [
        transformer({
          primaryInductance: "50 mH",
          secondaryInductance: "12 mH",
          k: 0.999,
          primaryResistance: 0.5,
          secondaryResistance: 0.1,
        }),
        "in",
        "gnd",
        "t",
        "gnd",
      ],
      tweeter: [tweeter, "t", "gnd"],
    };
    expect(ohms(wound)).toMatchObject({
      "Input, no driver connected": 0.5,
      "Input, the tweeter connected": 0.5,
      "At the tweeter, all connected": Number((0.5 / 5.1).toFixed(6)),
    });
    const apart: Entries = {
      T1: [transformer({ ratio: 2 }), "in", "gnd", "t", "u"],
      R1: [resistor(3), "t", "v"],
      tweeter: [tweeter, "v", "u"],
      R9: [resistor(1000), "u", "gnd"],
    };
    const [none] = buildSheet(box(apart)).resistance;
    expect(none!.expected).toBe(0);
    expect(none!.note).toContain("T1 isn’t stated");
  });

  it("of a bridge what nodal equations by hand give", () => {
    const bridge: Entries = {
      R1: [resistor(1), "in", "a"],
      R2: [resistor(2), "in", "b"],
      R3: [resistor(3), "a", "gnd"],
      woofer: [driverImpedance({ re: 4 }), "b", "gnd"],
      R5: [resistor(5), "a", "b"],
      R0: [resistor(0), "in", "q"],
      R7: [resistor(9), "q", "dead"],
      C9: [capacitor("1 µF"), "dead", "gnd"],
    };
    // a = 63/85, b = 58/85 per volt: 22/85 + 27/170 A.
    expect(ohms(bridge)["Input, the woofer connected"]).toBeCloseTo(170 / 71, 6);
  });

  it("of a measured driver its least resistance, unless it is told another", () => {
    const measured = driverImpedance(frequencyResponse([20, 200, 2000, 20_000], [5.9, 6.1, 7, 12], [1, -1, 3, 9]));
    const network: Entries = { L1: [inductor("1 mH", { dcr: 0.5 }), "in", "w"], woofer: [measured, "w", "gnd"] };
    expect(ohms(network)["Input, the woofer connected"]).toBe(6.4);
    expect(buildSheet(box(network), { resistances: { woofer: "5.6 Ω" } }).resistance.at(-1)!.expected).toBeCloseTo(5.6, 12);
  });

  it("0 Ω where a wire lies across", () => {
    const readings = ohms({ R0: [resistor(1), "in", "w"], L1: [inductor("1 mH"), "w", "gnd"], woofer: [woofer, "w", "gnd"] });
    expect(readings["At the woofer, all connected"]).toBe(0);
    expect(readings["Input, all drivers connected"] ?? readings["Input, the woofer connected"]).toBe(1);
  });
});

describe("the three frequencies of |Z|", () => {
  it("are what a capacitor before 8 Ω gives by hand", () => {
    const { impedance } = buildSheet(box({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] }));
    expect(impedance).toHaveLength(3);
    for (const { frequency, expected } of impedance) expect(expected).toBeCloseTo(Math.hypot(8, 1 / (2 * Math.PI * frequency * 10e-6)), 9);
  });

  it("show each part missing or bridged that isn't named as unseen", () => {
    const { impedance, unseen } = buildSheet(box(twoWay));
    const at = impedance.map(({ frequency }) => frequency);
    const without = (name: string, by: number) =>
      magnitude(solve({ ...twoWay, [name]: [resistor(by), ...(twoWay[name]!.slice(1) as string[])] } as unknown as Entries, at).impedance);
    let told = 0;
    for (const name of ["L1", "C1", "R1", "C2", "C3", "L2", "R2"]) {
      for (const [fault, by] of [
        ["missing", 1e9],
        ["bridged", 1e-6],
      ] as const) {
        const changed = without(name, by).some((value, index) => Math.abs(Math.log(value / (impedance[index]!.expected as number))) >= 0.2);
        expect(changed, `${name} ${fault}`).toBe(!unseen.includes(`${name} ${fault}`));
        if (changed) told++;
      }
    }
    expect(told).toBeGreaterThan(8);
  });
});

describe("the topology in words", () => {
  it("says what feeds a driver, what stands where, and who is turned round", () => {
    expect(topologyText(twoWay)).toEqual([
      "L1 feeds the woofer; C1 stands across it, from w to gnd; R1 and C2 in series stand across it, from w to gnd.",
      "C3, then R2 feed the tweeter; L2 stands after C3, from a to gnd; its − looks towards in: it is connected the other way round.",
    ]);
  });

  it("knows traps, returns, drivers in series and parts across the input", () => {
    expect(
      topologyText({
        L1: [inductor(1e-3), "in", "a"],
        C1: [capacitor(1e-6), "a", "in"],
        woofer: [woofer, "a", "b"],
        R1: [resistor(1), "b", "gnd"],
        R9: [resistor(100), "gnd", "in"],
      }),
    ).toEqual([
      "L1 and C1 in parallel feed the woofer; R1 stands between it and the return.",
      "R9 stands across the input, from in to gnd.",
    ]);
    expect(topologyText({ woofer: [woofer, "in", "x"], tweeter: [tweeter, "x", "gnd"], L1: [inductor(1e-3), "x", "gnd"] })[1]).toBe(
      "The tweeter stands in series with the woofer; L1 stands across it, from x to gnd.",
    );
    expect(topologyText({ woofer: [woofer, "in", "gnd"] })).toEqual(["The woofer stands at the input, from in to gnd."]);
    expect(topologyText({ P1: [lPad({ attenuationDb: 3, load: 8 }), "in", "t", "gnd"], tweeter: [tweeter, "t", "gnd"] })).toEqual([
      "P1 series feeds the tweeter; P1 shunt stands across it, from t to gnd.",
    ]);
  });

  it("doesn't pretend to read a bridge", () => {
    expect(
      topologyText({
        R1: [resistor(1), "in", "a"],
        R2: [resistor(2), "in", "b"],
        R3: [resistor(3), "a", "gnd"],
        R4: [resistor(4), "b", "gnd"],
        R5: [resistor(5), "a", "b"],
      }),
    ).toEqual([expect.stringContaining("no ladder")]);
  });
});

describe("joints and coils", () => {
  it("hold each terminal once, in first and gnd last", () => {
    const { joints, parts } = buildSheet(box({ ...twoWay, K1: [coupling(0.2), "L1", "L2"] }));
    expect(joints.map(({ joint }) => joint)).toEqual(["in", "w", "a", "z", "t", "gnd"]);
    expect(joints.flatMap(({ terminals }) => terminals)).toHaveLength(2 + parts.flatMap(({ terminals }) => terminals).length);
    expect(joints.find(({ joint }) => joint === "w")!.terminals).toEqual(["L1 end", "C1", "R1", "woofer +"]);
    expect(joints[0]!.terminals).toEqual(["input +", "L1 start (dot)", "C3"]);
    expect(joints.at(-1)!.terminals).toContain("tweeter +");
  });

  it("say of each part the tolerance within which it is to be measured, and of a capacitor no loss that a meter at hand won't show", () => {
    const { parts } = buildSheet(
      box({ ...twoWay, C1: [capacitor("15 µF", { tolerance: "5 %", dissipationFactor: 0.002, voltage: "250 V" }), "w", "gnd"] }),
    );
    expect(parts.find(({ designator }) => designator === "C1")!.part).toBe("Capacitor 15 µF, ±5 %");
    expect(parts.find(({ designator }) => designator === "C2")!.part).toBe("Capacitor 10 µF");
  });

  it("say a distance for coils that must lie the same way, and how little it costs", () => {
    const { coils } = buildSheet(box(twoWay));
    expect(coils.coils).toEqual(["L1", "L2"]);
    expect(coils.sentences.join(" ")).toMatch(/at right angles.* keep \d+ cm between their middles.* by more than 0\.\d\d dB/);
  });

  it("place coils whose windings are known by computation", () => {
    const winding = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" } as const;
    const { coils } = buildSheet(box(twoWay), {
      coils: { windings: { L1: winding, L2: winding }, board: { width: "20 cm", depth: "12 cm" } },
    });
    expect(coils.places?.map(({ coil }) => coil)).toEqual(["L1", "L2"]);
    expect(coils.worst).toBeLessThan(1e-6);
    // Places on a board mean nothing without the board.
    expect(coils.sentences[0]).toBe("The board is 200 mm wide and 120 mm deep, seen from above, its front edge towards you.");
    // A ruler finds each place from two edges, and the distance between two places is that of the places as written.
    const written = coils.sentences.slice(1, 3).map((sentence) =>
      sentence
        .match(/(\d+) mm from the left edge and (\d+) mm from the front edge/)!
        .slice(1)
        .map(Number),
    );
    coils.places!.forEach(({ x, y }, index) => expect(written[index]).toEqual([Math.round(100 + 1000 * x), Math.round(60 + 1000 * y)]));
    const [[ax, ay], [bx, by]] = written as [[number, number], [number, number]];
    expect(coils.sentences[3]).toBe(`Between the middles of L1 and L2, seen from above: ${Math.round(Math.hypot(ax - bx, ay - by))} mm.`);
    expect(coils.standing).toContain("computed from the windings");
    expect(() => buildSheet(box(twoWay), { coils: { windings: { L7: winding }, board: { width: 1, depth: 1 } } })).toThrowError(
      expect.objectContaining({ code: "unknown-part" }),
    );
  });
});

describe("the sheet as it is read", () => {
  const pair = compare(
    assess(box(twoWay), { ratedImpedance: 4 }),
    assess(box({ ...twoWay, tweeter: [tweeter, "t", "gnd"] }), { ratedImpedance: 4 }),
  );

  it("has its cautions beside their steps, in the terminal and on the page", () => {
    const text = buildSheetText(buildSheet(pair), { width: 90 });
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(90);
    expect(text.indexOf("mains")).toBeLessThan(text.indexOf("2. Measure each part"));
    expect(text).toMatch(/3\. Lay the parts out\n {3}! R1 and R2 can get hot/);
    expect(text).toMatch(/7\. First sound\n {3}! By computation the load falls to/);
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
    const page = comparisonPage(pair, { title: "x" });
    expect(page).toContain("Joint gnd: ");
    expect(page).toContain("Build sheet");
  });

  it("says of a driver that it is turned round against the old network, and of no other", () => {
    const solder = (of: Parameters<typeof buildSheet>[0]) =>
      buildSheet(of).steps.find(({ title }) => title === "Solder joint by joint")!.boxes;
    expect(solder(pair).at(-1)).toBe("The tweeter’s wires are exchanged against the old network: its + goes to joint t.");
    expect(solder(compare(pair.before, pair.before)).join()).not.toContain("exchanged");
    expect(solder(box(twoWay)).join()).not.toContain("exchanged");
  });

  it("says what a resistor takes where the goal states a level: 8 V over 2 Ω and 6 Ω in series are 2 W in the first", () => {
    const judged = assess(box({ R1: [resistor(2), "in", "w"], woofer: [resistor(6), "w", "gnd"] }), {
      ratedImpedance: 8,
      goal: { amplifier: { voltage: 8, spectrum: "sine" } },
    });
    const { cautions } = buildSheet(compare(judged, judged)).steps.find(({ title }) => title === "Lay the parts out")!;
    expect(cautions[0]).toMatch(/ At the stated amplifier level R1 takes 2 W\.$/);
    expect(
      buildSheet(pair)
        .steps.flatMap((each) => each.cautions)
        .join(),
    ).not.toContain("amplifier level");
  });

  it("forbids to connect what is not fit to be connected, first and again before the first sound", () => {
    const short = compare(pair.before, assess(box({ ...twoWay, R3: [resistor(0.3), "in", "gnd"] }), { ratedImpedance: 4 }));
    const { steps } = buildSheet(short);
    expect(steps[0]!.cautions[0]).toMatch(/not fit to be connected.*Don’t connect it/);
    expect(steps.find(({ title }) => title === "First sound")!.cautions.join()).toMatch(/Don’t connect it/);
    expect(steps.flatMap(({ cautions }) => cautions).join()).not.toMatch(/connect it only when the readings/);
    expect(
      buildSheet(pair)
        .steps.flatMap(({ cautions }) => cautions)
        .join(),
    ).not.toMatch(/Don’t connect it/);
  });

  it("treats a part of one's own by what it does", () => {
    const own = (title: string, law: LawData) => part({ title, branches: [{ law }] });
    const trimmer = part({
      title: "Trimmer",
      terminals: 3,
      branches: [{ law: resistive(3, "upper") }, { from: 1, to: 2, law: resistive(20, "lower") }],
    });
    const sheet = buildSheet(
      box({
        L1: [own("Cored coil", inductive("0.47 mH")), "in", "w"],
        P1: [trimmer, "w", "p", "gnd"],
        C1: [own("Damped capacitor", inSeries(capacitive("4.7 µF"), resistive(1))), "p", "gnd"],
        woofer: [woofer, "p", "gnd"],
      }),
    );
    expect(sheet.parts.find(({ designator }) => designator === "P1")!.terminals).toEqual([
      { terminal: "terminal 1", joint: "w" },
      { terminal: "terminal 2", joint: "p" },
      { terminal: "terminal 3", joint: "gnd" },
    ]);
    expect(sheet.parts.filter(({ note }) => note === "either way round").map(({ designator }) => designator)).toEqual(["L1", "C1"]);
    // A coil without a resistance counts as 0 Ω; 3 Ω and 20 ∥ 5.7 Ω.
    const reading = sheet.resistance.find(({ where }) => where === "Input, the woofer connected")!;
    expect(reading.expected).toBeCloseTo(3 + (20 * 5.7) / 25.7, 9);
    expect(reading.note).toBe("the resistance of L1 isn’t stated and counts as 0 Ω");
    const cautions = sheet.steps.flatMap((step) => step.cautions).join(" ");
    expect(cautions).toMatch(/P1 can get hot/);
    expect(cautions).toMatch(/capacitor may hold a charge/);
  });

  it("refuses what it can't read", () => {
    expect(() => buildSheetText({} as never)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => buildSheet(pair, { resistances: { L1: 3 } })).toThrowError(expect.objectContaining({ code: "unknown-part" }));
    expect(() => buildSheet(42 as never)).toThrow();
  });
});
