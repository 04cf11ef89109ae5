// Tests src/assessment/: silence.ts
// Silence is flat: whatever makes none must be refused by name, or judged as worse; never as perfect.
import { assess, compare, dataSensitivity, lossOf, spread } from "dividing-network/assessment";
import { driverFloor } from "dividing-network/design";
import { loudspeaker, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import { inductor, resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { finite } from "../support/finite";
import { grid, measure } from "../support/synthetic";

const sound = (gain: number, azimuth = 0): PressurePerVolt => measure(() => [gain, 0], { azimuth });
const plain = { L1: [inductor("0.5 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [resistor(4), "in", "t"], tweeter: [resistor(8), "t", "gnd"] }; // prettier-ignore
const box = (network: object, woofer: readonly PressurePerVolt[] = [sound(0.1)], tweeter = woofer): Loudspeaker =>
  loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures: woofer },
      { name: "tweeter", role: "midrange", pressures: tweeter },
    ],
  } as never) as unknown as Loudspeaker;
const judge = (of: Loudspeaker, goal: object = {}) => assess(of, { ratedImpedance: 8, goal: { limits: "stated", ...goal } });
const good = box(plain);

const silent: readonly (readonly [string, Loudspeaker])[] = [
  ["pressures of 0 Pa", box(plain, [sound(0)])],
  ["drivers that hang on nothing", box({ R1: [resistor(8), "in", "gnd"], woofer: [resistor(8), "w", "gnd"], tweeter: [resistor(8), "t", "gnd"] })],
  ["a piece of wire across all drivers", box({ R1: [resistor(8), "in", "w"], R2: [resistor(0), "w", "gnd"], woofer: [resistor(8), "w", "gnd"], tweeter: [resistor(8), "w", "gnd"] })],
  ["10⁻³⁰ Ω across all drivers", box({ R1: [resistor(8), "in", "w"], R2: [resistor(1e-30), "w", "gnd"], woofer: [resistor(8), "w", "gnd"], tweeter: [resistor(8), "w", "gnd"] })],
  ["two drivers that cancel to the last bit", box({ ...plain, L1: [resistor(4), "in", "w"] }, [sound(0.1)], [sound(-0.1)])],
]; // prettier-ignore

describe("a silent loudspeaker", () => {
  it.each(silent)("is refused by every judgement: %s", (_, of) => {
    for (const take of [
      () => judge(of),
      () => judge(of, { levelDb: 85 }),
      () => lossOf(of, {}),
      () => lossOf(of, { frequencies: [500, 1000, 2000] }),
      () => spread(of, { samples: 20 }),
      () => dataSensitivity(of, good, { ratedImpedance: 8 }),
    ]) {
      expect(take).toThrow(/: nothing is heard at 1 m, azimuth 0°, elevation 0°, from \S+ (k?Hz) to \S+ kHz: there is nothing to judge/);
      expect(take).toThrow(expect.objectContaining({ code: "nothing-heard", hint: expect.stringMatching(/^Look whether a part shorts/) }));
    }
  });

  it("is told so by the drivers' floor, where no network could help", () => {
    const goal = { frequencies: [500, 1000, 2000] };
    expect(() => driverFloor(silent[0]![1], { goal })).toThrow(expect.objectContaining({ code: "nothing-heard" }));
    expect(driverFloor(silent[1]![1], { goal }).lossDb).toBe(0);
  });

  it("isn't one that is only very quiet, which is worse", () => {
    const quiet = judge(box({ ...plain, L1: [inductor(500), "in", "w"], C1: [resistor(1e5), "in", "t"] }));
    expect(compare(judge(good), quiet).verdict.topics.find(({ topic }) => topic === "loudness")).toMatchObject({ change: "worse", kept: false }); // prettier-ignore
  });

  it("isn't one measured at few frequencies, with none of them in the band", () => {
    const few = measure(() => [0.1, 0], {}, [100, 20_000]);
    expect(lossOf(box(plain, [few]), { band: { from: 400, to: 1000 } }).lossDb).toBeLessThan(3);
  });
});

describe("a loudspeaker silent in part", () => {
  it.each<[string, Loudspeaker]>([
    ["one driver of 0 Pa", box(plain, [sound(0.1)], [sound(0)])],
    ["one driver that hangs on nothing", box({ ...plain, C1: [resistor(4), "in", "gnd"] })],
    ["nothing above 2 kHz", box(plain, [measure((f) => [f > 2000 ? 0 : 0.1, 0])])],
    ["nothing below 4 kHz, nor any sensitivity", box(plain, [measure((f) => [f < 4000 ? 0 : 0.1, 0])])],
    ["nothing below 2 kHz", box(plain, [measure((f) => [f < 2000 ? 0 : 0.1, 0])])],
    ["sound at two frequencies alone", box(plain, [measure((f) => [f === grid[200] || f === grid[300] ? 0.1 : 0, 0])])],
  ])("is worse than one that isn't, in finite numbers: %s", (_, of) => {
    const [a, b] = [judge(good), judge(of)];
    expect(finite(b)).toEqual([]);
    const { verdict } = compare(a, b);
    expect(finite(compare(a, b))).toEqual([]);
    expect(verdict.overall).toBe("worse");
    expect(compare(b, a).verdict.overall).toBe("better");
    expect(compare(b, b).verdict.overall).toBe("unchanged");
  });

  it("is worse off the axis where nothing is heard there any more, though silence is as straight as a line", () => {
    const before = judge(box(plain, [sound(0.1), sound(0.08, 30)]));
    const after = judge(box(plain, [sound(0.1), sound(0, 30)]));
    const topic = (x: typeof before, y: typeof after) =>
      compare(x, y).verdict.topics.find(({ topic: name }) => name === "off the axis, to the sides")!;
    expect(topic(before, after)).toMatchObject({ change: "worse", kept: false });
    expect(topic(after, before)).toMatchObject({ change: "better", kept: true });
    expect(topic(after, after).change).toBe("unchanged");
    expect(finite(after)).toEqual([]);
  });
});
