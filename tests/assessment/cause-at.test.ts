// Tests src/assessment/: cause-at.ts
// Why a level strays at one frequency, by branches whose levels, angles and slopes are known there: two drivers on the source itself, each as it was made.
import { describe, expect, it } from "vitest";
import { loudspeaker, predict, type Loudspeaker } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { branchesAt } from "../../src/assessment/branches";
import { causeAt } from "../../src/assessment/cause-at";
import { dB, grid, measure, turned, type C } from "../support/synthetic";

type Of = (f: number) => C;
const r = resistor(8);
const direct = { low: [r, "in", "gnd"], high: [r, "in", "gnd"] };
const level =
  (db: (f: number) => number, degrees = 0): Of =>
  (f) =>
    turned(0.1 * 10 ** (db(f) / 20), degrees);
const flat = (db: number, degrees = 0) => level(() => db, degrees);
const octaves = (f: number) => Math.log2(f / 1000);

function cause(
  low: Of,
  high: Of,
  worstDb: number,
  { at = 1000, network = direct as object, direction = undefined as { azimuth: number; elevation: number } | undefined } = {},
) {
  const box = loudspeaker({
    network: network as never,
    drivers: [
      { name: "low", role: "woofer", pressures: [measure(low)] },
      { name: "high", role: "tweeter", pressures: [measure(high)] },
    ] as never,
  }) as unknown as Loudspeaker;
  const prediction = predict(box, { frequencies: grid });
  const place = prediction.places[0]!;
  const where = {
    topic: "on the axis" as const,
    target: "its target",
    worstDb,
    worstFrequency: at,
    ...(direction === undefined ? {} : { direction }),
  };
  return causeAt(box, where, branchesAt(prediction, place), place.sum, prediction);
}

describe("two branches", () => {
  it("stand against each other in a hole, and with each other in a hill", () => {
    // 1 and 1 at 120°: their sum is 1, 0 dB against either; at 60° √3, 4.8 dB.
    const hole = cause(
      level((f) => -3 * octaves(f)),
      flat(0, 120),
      -6,
    )!;
    expect(hole).toMatchObject({ kind: "two branches", frequency: 1000, deviationDb: -6, topic: "on the axis" });
    expect([...hole.parts].sort()).toEqual(["high", "low"]);
    expect(hole.sentence).toMatch(
      /^At 1 kHz the response is −6\.0 dB from its target: .* are 0\.0 dB and 120° apart there, .*, and together \+?0\.0 dB against the louder$/,
    );
    expect(hole.sentence).toContain("low falling by 3.0 dB per octave");
    const hill = cause(flat(0), flat(0, 60), 4)!;
    expect(hill.kind).toBe("two branches");
    expect(hill.sentence).toContain("60° apart there");
    expect(hill.sentence).toContain("and together +4.8 dB against the louder");
  });

  it("aren't to blame for a hill that they make although they stand against each other, nor for a hole with each other", () => {
    expect(cause(flat(0), flat(0, 120), 4)!.kind).not.toBe("two branches");
    expect(cause(flat(0), flat(0, 60), -6)!.kind).not.toBe("two branches");
  });

  it.each([
    [0, 100, 100],
    [170, -170, 20],
    [-170, 170, 20],
    [-100, 100, 160],
    [10, -170, 180],
    [-30, 60, 90],
  ])("at %d° and %d° are %d° apart, the short way round", (a, b, apart) => {
    for (const [one, other] of [
      [a, b],
      [b, a],
    ] as const) {
      const found = cause(flat(0, one), flat(0, other), apart > 90 ? -6 : 4)!;
      expect(found.kind).toBe("two branches");
      expect(found.sentence).toContain(` ${apart}° apart there`);
    }
  });

  it("are one, where the other is more than 10 dB below", () => {
    expect(cause(flat(0), flat(-9.9, 180), -6)!.kind).toBe("two branches");
    const alone = cause(flat(0), flat(-10.1, 180), -6)!;
    expect(alone.kind).not.toBe("two branches");
    expect(alone.parts).toEqual(["low"]);
    expect(alone.sentence).toContain("low is the loudest there, by 10.1 dB, ");
    expect(cause(flat(-20), flat(0), -6)!.parts).toEqual(["high"]);
  });

  it("are looked at where the level strays, and at the data's end where that lies beyond them", () => {
    const steep = level((f) => -12 * octaves(f));
    expect(cause(steep, flat(0, 180), -6, { at: 1500 })!.sentence).toContain(
      `are ${(12 * octaves(1500)).toFixed(1)} dB and 180° apart there`,
    );
    expect(cause(steep, flat(0), -6, { at: 40_000 })!.frequency).toBe(grid[grid.length - 1]);
    expect(cause(steep, flat(0), -6, { at: 10 })!.frequency).toBe(grid[0]);
  });
});

describe("one branch that rules", () => {
  const quiet = flat(-40);
  /** dB: a dip of a third of an octave, and its mean over two octaves around: its area −8·0.2·√π over them. */
  const dip = (f: number) => -8 * Math.exp(-((octaves(f) / 0.2) ** 2));
  const off = -8 + (8 * 0.2 * Math.sqrt(Math.PI)) / 2;

  it("does so by its driver, where the driver strays from itself an octave to either side", () => {
    const found = cause(level(dip), quiet, -8)!;
    expect(found).toMatchObject({ kind: "one driver", parts: ["low"] });
    const [, own, network] = /the driver by itself is (\S+) dB off, and its voltage (\S+) dB$/.exec(found.sentence)!;
    expect(Number(own!.replace("−", "-"))).toBeCloseTo(off, 1);
    expect(Number(network!.replace("−", "-"))).toBeCloseTo(0, 6);
  });

  it("does so by its voltage, where the network makes what the driver doesn't", () => {
    // A trap across the driver behind 8 Ω: at its resonance 1 Ω ∥ 8 Ω against 8 Ω.
    const w = 2 * Math.PI * 1000;
    const trap = {
      R0: [r, "in", "w"],
      low: [r, "w", "gnd"],
      L: [inductor(40 / w), "w", "a"],
      C: [capacitor(1 / (40 * w)), "a", "b"],
      R: [resistor(1), "b", "gnd"],
      high: [r, "in", "gnd"],
    };
    const depth = dB(8 / 9 / (8 + 8 / 9) / 0.5);
    const found = cause(flat(0), quiet, depth, { network: trap })!;
    expect(found).toMatchObject({ kind: "voltage", parts: ["low"] });
    const [, own, network] = /the driver by itself is (\S+) dB off, and its voltage (\S+) dB$/.exec(found.sentence)!;
    expect(Number(own!.replace("−", "-"))).toBeCloseTo(0, 1);
    const stray = Number(network!.replace("−", "-"));
    expect(stray).toBeLessThan(depth / 2);
    expect(stray).toBeGreaterThan(depth);
    // A driver that makes up for it strays the other way; what is wrong then is neither, but the level as a whole.
    const filled = cause((f) => level((g) => -dip(g))(f), quiet, -8, { network: trap })!;
    expect(filled.kind).toBe("voltage");
  });

  it("does so as a whole, where neither strays by a third of what is wrong, too quiet or too loud", () => {
    const quietLow = cause(flat(0), quiet, -5)!;
    expect(quietLow).toMatchObject({ kind: "level", parts: ["low"] });
    expect(quietLow.sentence).toMatch(
      /, by 40\.0 dB, low (falling|rising) by 0\.0 dB per octave; .*: the whole branch is too quiet against the rest$/,
    );
    expect(cause(flat(0), quiet, 5)!.sentence).toMatch(/: the whole branch is too loud against the rest$/);
    // The dip strays by |off|: less than a third of 3·|off| + 1, more than a third of 3·|off| − 1.
    expect(cause(level(dip), quiet, 3 * off - 1)!.kind).toBe("level");
    expect(cause(level(dip), quiet, 3 * off + 1)!.kind).toBe("one driver");
    // And a dip is no reason for a hill.
    expect(cause(level(dip), quiet, 5)!.kind).toBe("level");
  });

  it("is named with its slope and its direction", () => {
    const found = cause(
      level((f) => 6 * octaves(f)),
      quiet,
      5,
      { direction: { azimuth: -30, elevation: 15 } },
    )!;
    expect(found).toMatchObject({ azimuth: -30, elevation: 15 });
    expect(found.sentence).toMatch(
      /^At azimuth −30°, elevation \+15°, 1 kHz the response is \+5\.0 dB from its target: low is the loudest there/,
    );
    expect(found.sentence).toContain("low rising by 6.0 dB per octave");
    expect(cause(flat(0), quiet, 5)).not.toHaveProperty("azimuth");
  });

  it("is none where nothing is heard, and alone where the other is silent", () => {
    const silent: Of = () => [0, 0];
    expect(cause(silent, silent, -5)).toBeUndefined();
    expect(cause(flat(0), silent, -5)!.sentence).toMatch(/low is the loudest there, low (falling|rising)/);
  });
});
