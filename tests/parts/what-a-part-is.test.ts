// Tests src/parts/: coupling.ts, describe.ts, kind.ts, words.ts
// What everybody outside asks of a part without knowing its kind: its words as the trade writes them, its terminals and symbols, its rating, whether it holds a charge, and what isn't a part.
import { DividingNetworkError } from "dividing-network/errors";
import {
  capacitive,
  capacitor,
  coupling,
  driverImpedance,
  inductive,
  inductor,
  lPad,
  part,
  resistive,
  resistor,
  transformer,
} from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import {
  apartOf,
  blocksDirectCurrent,
  checkPart,
  describe as kindOf,
  describePart,
  driverModel,
  expandPart,
  isCoil,
  isCoupling,
  isDriver,
  leavesResistanceOut,
  mainOf,
  measuredImpedance,
  ratingOf,
  sameKind,
} from "../../src/parts/describe";

const measured = driverImpedance(frequencyResponse([20, 200, 20_000], [6, 7, 9], [0, 1, 4]));
const ideal = transformer({ ratio: 2 });
const windings = transformer({ primaryInductance: "10 mH", secondaryInductance: "5 mH", k: 0.98, primaryResistance: 0.5 });
const own = part({ title: "Cored coil", branches: [{ law: inductive(1e-3) }] });
const all = {
  resistor: resistor(8),
  inductor: inductor(1e-3),
  capacitor: capacitor(1e-6),
  lPad: lPad({ attenuationDb: 6, load: 8 }),
  driver: driverImpedance({ re: 6, fs: 50, qms: 3, qes: 0.5 }),
  measured,
  ideal,
  windings,
  coupling: coupling(0.1),
  own,
};
type Name = keyof typeof all;
/** The names of those of which something holds. */
const those = (holds: (part: never) => boolean) => (Object.keys(all) as Name[]).filter((name) => holds(all[name] as never));
const refusal = (work: () => unknown): DividingNetworkError => {
  try {
    work();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
};

describe("a part in words", () => {
  it.each([
    [resistor(4.7), "Resistor 4.7 Ω", ""],
    [resistor(4.7, { power: 10, tolerance: 0.05 }), "Resistor 4.7 Ω", "±5 %, rated 10 W"],
    [inductor(0.33e-3), "Coil 0.33 mH", ""],
    [inductor(0.33e-3, { dcr: 0.24, current: 8, tolerance: "3 %" }), "Coil 0.33 mH", "DCR 0.24 Ω, ±3 %, rated 8 A"],
    [capacitor(6.8e-6), "Capacitor 6.8 µF", ""],
    [capacitor(6.8e-6, { esr: 0.015, voltage: 250 }), "Capacitor 6.8 µF", "ESR 15 mΩ, rated 250 V"],
    [capacitor(6.8e-6, { dissipationFactor: 0.002, tolerance: 0.1 }), "Capacitor 6.8 µF", "tan δ 0.002, ±10 %"],
    [lPad({ attenuationDb: 6.0206, load: 8, power: 20 }), "L-pad 6.02 dB for 8 Ω", "4 Ω in series, 8 Ω across the load, rated 20 W"],
    [lPad({ attenuationDb: 0, load: 8 }), "L-pad 0 dB for 8 Ω", "0 Ω in series"],
    [all.driver, "Driver Re 6 Ω", "fs 50 Hz"],
    [driverImpedance({ re: 6 }), "Driver Re 6 Ω", ""],
    [measured, "Driver, measured", "20 Hz to 20 kHz"],
    [ideal, "Transformer 2 : 1", ""],
    [windings, "Transformer 10 mH / 5 mH", "k 0.98"],
    [coupling(-0.02), "Coupling k -0.02", ""],
  ])("is what it is with its value, and what else it must keep: %#", (given, what, detail) => {
    expect(describePart(given).map((text) => text.replace("−", "-"))).toEqual([what, detail]);
  });

  it("has terminals with names where it matters which is which, and a remark for whoever reads a list of elements", () => {
    const terminals = Object.fromEntries((Object.keys(all) as Name[]).map((name) => [name, kindOf(all[name]).terminals?.(all[name])]));
    expect(terminals).toEqual({
      resistor: undefined,
      inductor: undefined,
      capacitor: undefined,
      lPad: ["input", "output", "common"],
      driver: ["+", "−"],
      measured: ["+", "−"],
      ideal: ["primary, dot", "primary, end", "secondary, dot", "secondary, end"],
      windings: ["primary, dot", "primary, end", "secondary, dot", "secondary, end"],
      coupling: undefined,
      own: undefined,
    });
    expect(kindOf(all.lPad).remark!(all.lPad)).toBe("pad of 6 dB for 8 ohm");
    expect(kindOf(all.driver).remark!(all.driver)).toContain("+ is the first node");
    expect(kindOf(all.coupling).note!(all.coupling, ["L1", "L2"])).toBe("L1 and L2 are coupled, k = 0.1. The dots mark their first ends.");
    expect(kindOf(ideal).note!(ideal, [])).toContain("one transformer, 2 : 1.");
    expect(kindOf(windings).note!(windings, [])).toContain("one transformer, k = 0.98.");
  });

  it("is drawn by symbols between its terminals, dots where the sense of a winding counts", () => {
    const drawn = (name: Name) =>
      kindOf(all[name])
        .symbols(all[name])
        .map(({ suffix, symbol, value, from, to, dot }) => [suffix, symbol, value, from, to, dot]);
    expect(drawn("resistor")).toEqual([["", "resistor", "8 Ω", 0, 1, undefined]]);
    expect(drawn("inductor")).toEqual([["", "inductor", "1 mH", 0, 1, "coupled"]]);
    expect(drawn("capacitor")).toEqual([["", "capacitor", "1 µF", 0, 1, undefined]]);
    expect(drawn("driver")).toEqual([["", "driver", "Re 6 Ω", 0, 1, undefined]]);
    expect(drawn("measured")).toEqual([["", "driver", "as measured", 0, 1, undefined]]);
    expect(drawn("coupling")).toEqual([]);
    expect(drawn("ideal").map((each) => each.slice(2))).toEqual([
      ["", 0, 1, "always"],
      ["", 2, 3, "always"],
    ]);
    expect(drawn("windings")).toEqual([
      ["primary", "inductor", "10 mH", 0, 1, "always"],
      ["secondary", "inductor", "5 mH", 2, 3, "always"],
    ]);
    expect(drawn("lPad").map(([suffix, symbol, , from, to]) => [suffix, symbol, from, to])).toEqual([
      ["series", "resistor", 0, 1],
      ["shunt", "resistor", 1, 2],
    ]);
    const none = lPad({ attenuationDb: 0, load: 8 });
    expect(kindOf(none).symbols(none)).toHaveLength(1);
    expect(expandPart(none).branches).toHaveLength(1);
  });
});

describe("what is asked of any part", () => {
  it("whether it couples, may be coupled, sounds, turns power into heat", () => {
    expect(those(isCoupling)).toEqual(["coupling"]);
    expect(those(isCoil)).toEqual(["inductor"]);
    expect(those(isDriver)).toEqual(["driver", "measured"]);
    expect(those((each) => kindOf(each).heats?.(each) === true)).toEqual(["resistor", "lPad"]);
    expect(those((each) => measuredImpedance(each) !== undefined)).toEqual(["measured"]);
    expect(those((each) => driverModel(each) !== undefined)).toEqual(["driver"]);
    expect(driverModel(all.driver)).toMatchObject({ re: 6, fs: 50 });
    for (const nothing of [undefined, null, 3, "resistor", {}, { kind: "toString" }, { kind: 3 }])
      expect([isCoupling(nothing), isCoil(nothing), isDriver(nothing)]).toEqual([false, false, false]);
    expect(sameKind(all.driver, measured)).toBe(true);
    expect(sameKind(all.resistor, all.lPad)).toBe(false);
  });

  it("what it is rated for, and the value that may be chosen", () => {
    expect(ratingOf(resistor(8, { power: 5 }))).toEqual({ quantity: "power", value: 5 });
    expect(ratingOf(capacitor(1e-6, { voltage: 63 }))).toEqual({ quantity: "voltage", value: 63 });
    expect(ratingOf(inductor(1e-3, { current: 3 }))).toEqual({ quantity: "current", value: 3 });
    expect(ratingOf(lPad({ attenuationDb: 1, load: 8, power: 7 }))).toEqual({ quantity: "power", value: 7 });
    expect(ratingOf(resistor(8))).toEqual({ quantity: "power", value: undefined });
    expect(those((each) => ratingOf(each) === undefined)).toEqual(["driver", "measured", "ideal", "windings", "coupling", "own"]);
    expect(mainOf(resistor(8))).toEqual({ parameter: "resistance", value: 8 });
    expect(mainOf(inductor(1e-3))).toEqual({ parameter: "inductance", value: 1e-3 });
    expect(mainOf(capacitor(1e-6))).toEqual({ parameter: "capacitance", value: 1e-6 });
    expect(those((each) => mainOf(each) === undefined)).toEqual(["lPad", "driver", "measured", "ideal", "windings", "coupling", "own"]);
  });

  it("with another main value keeps the loss of its own", () => {
    const with2 = (each: never, value: number) => kindOf(each).withMain!(each, value);
    expect(with2(resistor(8) as never, 4)).toEqual(resistor(4));
    expect(with2(inductor(1e-3, { dcr: 0.3 }) as never, 2e-3)).toEqual(inductor(2e-3, { dcr: 0.3 }));
    expect(with2(capacitor(1e-6, { esr: 0.1 }) as never, 2e-6)).toEqual(capacitor(2e-6, { esr: 0.1 }));
    expect(with2(capacitor(1e-6, { dissipationFactor: 0.02 }) as never, 2e-6)).toEqual(capacitor(2e-6, { dissipationFactor: 0.02 }));
    expect(with2(capacitor(1e-6) as never, 2e-6)).toEqual(capacitor(2e-6));
    expect(() => with2(capacitor(1e-6) as never, 0)).toThrow(/"capacitance"/);
  });

  it("whether it holds a charge, and whether an ohmmeter shows what isn't stated", () => {
    const holds = (each: Exclude<(typeof all)[Name], { kind: "coupling" }>) => blocksDirectCurrent(each);
    expect(holds(capacitor(1e-6, { esr: 0.1 }))).toBe(true);
    expect(holds(capacitor(1e-6, { dissipationFactor: 0.1 }))).toBe(true);
    for (const each of [
      resistor(8),
      resistor(0),
      inductor(1e-3),
      inductor(0),
      lPad({ attenuationDb: 3, load: 8 }),
      all.driver,
      ideal,
      windings,
      measured,
    ])
      expect(holds(each)).toBe(false);
    expect(holds(part({ title: "x", branches: [{ law: capacitive(1e-6) }] }))).toBe(true);
    // A coil without a stated resistance reads 0 Ω in the sum of what is stated; a resistor of 0 Ω is a wire.
    expect(leavesResistanceOut(inductor(1e-3))).toBe(true);
    expect(leavesResistanceOut(inductor(1e-3, { dcr: 0.2 }))).toBe(false);
    expect(leavesResistanceOut(ideal)).toBe(true);
    expect(leavesResistanceOut(windings)).toBe(true);
    expect(
      leavesResistanceOut(
        transformer({ primaryInductance: 1, secondaryInductance: 1, k: 0.5, primaryResistance: 1, secondaryResistance: 1 }),
      ),
    ).toBe(false);
    for (const each of [resistor(8), resistor(0), capacitor(1e-6), lPad({ attenuationDb: 3, load: 8 }), all.driver, measured])
      expect(leavesResistanceOut(each)).toBe(false);
    expect(leavesResistanceOut(own)).toBe(true);
    expect(leavesResistanceOut(part({ title: "x", branches: [{ law: resistive(1) }] }))).toBe(false);
  });

  it("which of its ends must not lie at one node", () => {
    expect(apartOf(resistor(8))).toEqual([[0, 1]]);
    expect(apartOf(lPad({ attenuationDb: 0, load: 8 }))).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(apartOf(ideal)).toEqual([
      [0, 1],
      [2, 3],
    ]);
    expect(
      apartOf(part({ title: "x", terminals: 3, branches: [{ law: resistive(1, "a") }, { from: 2, to: 1, law: resistive(1, "b") }] })),
    ).toEqual([
      [0, 1],
      [2, 1],
    ]);
  });
});

describe("what is no part", () => {
  it("is refused with what it is", () => {
    for (const [nothing, shown] of [
      [undefined, "undefined"],
      [null, "null"],
      [3, "3"],
      ["R1", '"R1"'],
      [{ kind: "wire" }, '"wire"'],
      [{ kind: "hasOwnProperty" }, '"hasOwnProperty"'],
    ] as const) {
      const { code, message } = refusal(() => expandPart(nothing as never));
      expect([code, message.includes(`got ${shown}`)]).toEqual(["unknown-part", true]);
    }
    expect(refusal(() => expandPart(coupling(0.1) as never)).message).toContain("a coupling has no branches");
  });

  it("made by hand with what is no number is refused by the name of the value", () => {
    const wrong = (given: object) => refusal(() => checkPart(given as never));
    expect(wrong({ kind: "resistor", resistance: NaN })).toMatchObject({ code: "invalid-part" });
    expect(wrong({ kind: "resistor", resistance: NaN }).message).toContain("a resistor must have a finite resistance, got NaN");
    expect(wrong({ kind: "inductor", inductance: 1e-3 }).message).toContain("a coil must have a finite dcr, got undefined");
    expect(wrong({ kind: "capacitor", capacitance: 1e-6, esr: Infinity, dissipationFactor: 0 }).message).toContain("finite esr");
    expect(wrong({ kind: "coupling", k: "0.1" }).message).toContain('"k"');
    for (const model of [
      undefined,
      {},
      { re: 0 },
      { re: 6, fs: 50, qms: 0, qes: 1 },
      { re: 6, fs: 50, qms: 1, qes: 0 },
      { re: 6, fs: 0, qms: "1", qes: 0 },
    ])
      expect(wrong({ kind: "driver", model }).message).toContain("a driver's model must have a resistance above 0 Ω");
    expect(() => checkPart({ kind: "driver", model: { re: 6, le: 0, re2: 0, le2: 0, k: 0, n: 0, fs: 0, qms: 0, qes: 0 } })).not.toThrow();
    expect(() => checkPart(coupling(0.1))).not.toThrow();
  });
});
