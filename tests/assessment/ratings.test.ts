// Tests src/assessment/: intention.ts, stated-prototype.ts
// Ratings at the goal's amplifier level: a danger beyond them, a limit beyond the share to use, and "not checked" for what isn't known.
import { assess, compare, goal, type Ratings } from "dividing-network/assessment";
import { loudspeaker, type LoudspeakerOptions } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { comparisonPage, comparisonText, partsList } from "dividing-network/report";
import { describe, expect, it } from "vitest";
import { flatDriver } from "../support/flat-driver";

const grid = Float64Array.from({ length: 120 }, (_, i) => 100 * 1.045 ** i);
const flat = flatDriver(grid);
const dome = { re: 5.1, fs: 820, qms: 2.1, qes: 1.4 };
const known = { motion: { ...dome, mms: 0.3e-3 }, ratings: { power: 15, excursion: 1e-3 } };

/** A first-order two-way; `R1` stands before the tweeter. */
const boxOf = ({
  power,
  voltage,
  current,
  driver = known,
}: {
  power?: number;
  voltage?: number;
  current?: number;
  driver?: Pick<LoudspeakerOptions<Entries>["drivers"][number], "motion" | "ratings">;
} = {}) =>
  loudspeaker<Entries>({
    network: {
      L1: [inductor("0.4 mH", { current }), "in", "w"],
      woofer: [resistor(8), "w", "gnd"],
      C1: [capacitor("6.8 µF", { voltage }), "in", "a"],
      R1: [resistor(2, { power }), "a", "d"],
      tweeter: [driverImpedance(dome), "d", "gnd"],
    },
    drivers: [
      { name: "woofer", role: "woofer", pressures: [flat] },
      { name: "tweeter", role: "tweeter", pressures: [flat], ...driver },
    ],
  });
const level = { voltage: 20, spectrum: "pink" } as const;
const ratingsOf = (box = boxOf(), amplifier: object = level, more: object = {}): Ratings =>
  assess(box, { ratedImpedance: 8, goal: goal({ limits: "stated", amplifier, ...more }) }).ratings;
const check = ({ checks }: Ratings, name: string, quantity: string) =>
  checks.find((each) => each.name === name && each.quantity === quantity)!;

describe("ratings", () => {
  it("are not checked where the goal states no level, and that is said", () => {
    const { checks, drivers, notChecked, stress, level: said } = ratingsOf(boxOf({ power: 1e-3 }), {});
    expect([checks, drivers, stress, said]).toEqual([[], [], undefined, ""]);
    expect(notChecked).toEqual([
      "watts, volts and amperes in the parts, heat and excursion of the drivers (the goal states no level of the amplifier)",
    ]);
  });

  it("hold heat against the mean of the signal, volts and amperes against the peak of the worst full sine", () => {
    const found = ratingsOf(boxOf({ power: 10, voltage: 100, current: 10 }));
    const { parts } = found.stress!;
    expect(check(found, "R1", "power")).toMatchObject({
      value: parts["R1"]!.power.mean,
      required: 2 * parts["R1"]!.power.mean,
      rating: 10,
      unit: "W",
      state: "kept",
    });
    expect(check(found, "C1", "voltage")).toMatchObject({ value: parts["C1"]!.voltage.sinePeak, rating: 100, unit: "V", state: "kept" });
    expect(check(found, "L1", "current")).toMatchObject({ value: parts["L1"]!.current.sinePeak, unit: "A", state: "kept" });
    // At 20 Hz all of 20 V lies across the capacitor; at the dome's resonance, above which it is a capacitance too, a little more.
    expect(check(found, "C1", "voltage").value).toBeGreaterThan(20 * Math.SQRT2);
    expect(check(found, "C1", "voltage").value).toBeLessThan(1.1 * 20 * Math.SQRT2);
    expect(check(found, "C1", "voltage").frequency).toBeGreaterThan(600);
    expect(check(found, "C1", "voltage").required).toBeCloseTo(check(found, "C1", "voltage").value / 0.8, 9);
  });

  it("reckon a power of the amplifier into the rated impedance", () => {
    expect(ratingsOf(boxOf(), { power: 50, spectrum: "pink" })).toEqual(ratingsOf(boxOf(), { voltage: 20, spectrum: "pink" }));
  });

  it("become dangers beyond the whole rating and no earlier, and a limit beyond the share to use", () => {
    const { value } = check(ratingsOf(), "R1", "power");
    const states = [0.999, 1.001, 1.999, 2.001].map((factor) => {
      const made = assess(boxOf({ power: factor * value }), { ratedImpedance: 8, goal: goal({ limits: "stated", amplifier: level }) });
      return [check(made.ratings, "R1", "power").state, made.dangers.map(({ code }) => code)];
    });
    expect(states).toEqual([
      ["beyond its rating", ["part-rating"]],
      ["beyond the share to use", []],
      ["beyond the share to use", []],
      ["kept", []],
    ]);
    expect(check(ratingsOf(boxOf({ power: 1.001 * value }), level, { derating: { power: 1 } }), "R1", "power").state).toBe("kept");
  });

  it("of drivers are heat and excursion, with what relieves them", () => {
    const tight = boxOf({ driver: { ...known, ratings: { power: 0.2, excursion: 0.1e-3 } } });
    const { dangers, ratings } = assess(tight, { ratedImpedance: 8, goal: goal({ limits: "stated", amplifier: level }) });
    expect(dangers.map(({ code, unit }) => `${code} ${unit}`)).toEqual(["driver-rating W", "driver-rating m"]);
    const [first] = ratings.drivers.filter(({ driver }) => driver === "tweeter");
    const sentence = check(ratings, "tweeter", first!.first!.limit).sentence;
    expect(sentence).toContain("What relieves it:");
    expect(sentence).toContain(`${first!.relief!.attenuationDb.toFixed(1)} dB less level`);
  });

  it("name what isn't known, and pass none of it", () => {
    const { notChecked, checks } = ratingsOf(boxOf({ driver: {} }));
    expect(checks.map(({ state }) => state)).toEqual(["not checked", "not checked", "not checked", "not checked", "not checked"]);
    const text = notChecked.join("; ");
    for (const words of [
      "watts, no rating stated: R1 ",
      "volts, no rating stated: C1 30.1 V",
      "amperes, no rating stated: L1 ",
      "heat of coils: L1",
      "heat of drivers, no rating stated: woofer ",
      "excursion, since what moves the cone isn't stated: woofer, tweeter",
    ])
      expect(text).toContain(words);
    expect(ratingsOf(boxOf({ driver: { motion: known.motion } })).notChecked.join("; ")).toContain("excursion, no limit stated: tweeter ");
    const all = ratingsOf(boxOf({ power: 50, voltage: 100, current: 10 })).notChecked.join("; ");
    expect(all).toMatch(
      /^heat of coils: L1; heat of drivers, no rating stated: woofer \S+ W; excursion, since what moves the cone isn't stated: woofer$/,
    );
  });

  it("say why, where the network has no answer at all", () => {
    const box = boxOf();
    const looped = {
      ...box,
      network: {
        ...box.network,
        W1: [resistor(0), "d", "x"],
        W2: [resistor(0), "d", "x"],
        R9: [resistor(9), "x", "gnd"],
      } as unknown as Entries,
    };
    expect(ratingsOf(looped).notChecked[0]).toMatch(/^watts, volts .*\(solve: the current of "W\d" can't be told/);
  });

  it("make a verdict that the network isn't fit to be connected, on page and terminal, and a list to buy by", () => {
    const aim = { ratedImpedance: 8, goal: goal({ limits: "stated", amplifier: level }) };
    const made = compare(assess(boxOf({ power: 50 }), aim), assess(boxOf({ power: 0.5 }), aim));
    expect(made.verdict.overall).toBe("not fit to be connected");
    expect(made.verdict.sentence).toMatch(/^The new network is not fit to be connected\. R1 turns .* into heat .* and is rated for 500 mW/);
    const page = comparisonPage(made, { title: "Ratings" }).replaceAll("\u00a0", " ");
    for (const words of [
      "Rated for at least",
      "Full sines make more heat: R1 up to ",
      "Excursion of the tweeter",
      "38 V",
      "common practice, no source",
      "from memory",
    ])
      expect(words === "from memory" ? page.includes("pink noise") : page.includes(words), words).toBe(true);
    expect(comparisonText(made)).toContain("Not checked, so never passed:");
    const line = partsList(boxOf().network, { ratings: made.after.ratings }).find(({ designators }) => designators.includes("R1"))!;
    expect(line.required).toEqual({ watts: check(made.after.ratings, "R1", "power").required });
    expect(partsList(boxOf().network)[0]!.required).toBeUndefined();
    expect(() => partsList(boxOf().network, { ratings: 3 as never })).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });

  it("make rows of heat and excursion before and after, with the stated limits, and none without a level", () => {
    const steep = boxOf();
    const less = { ...steep, network: { ...steep.network, C1: [capacitor("2.2 µF"), "in", "a"] } as unknown as Entries };
    const rows = (aim: object) =>
      compare(
        ...([steep, less].map((box) => assess(box, { ratedImpedance: 8, goal: goal({ limits: "stated", ...aim }) })) as [
          ReturnType<typeof assess>,
          ReturnType<typeof assess>,
        ]),
      ).findings.filter(({ code }) => code.startsWith("driver-"));
    const made = rows({ amplifier: level });
    expect(made.map(({ code, subject, unit }) => `${code}: ${subject}, ${unit}`)).toEqual([
      "driver-heat: heat in the woofer, W",
      "driver-heat: heat in the tweeter, W",
      "driver-excursion: excursion of the tweeter, mm",
    ]);
    const [, heat, moved] = made;
    expect([heat!.verdict, heat!.threshold?.value, moved!.verdict, moved!.threshold?.value, moved!.kept]).toEqual([
      "better",
      15,
      "better",
      1,
      true,
    ]);
    expect(moved!.after).toBeCloseTo(1000 * ratingsOf(less).drivers[1]!.excursion!.peak, 12);
    expect(heat!.sentence).toContain("its first limit is ");
    expect(rows({})).toEqual([]);
  });

  it("say of the simulated programme that its levels are from memory", () => {
    expect(ratingsOf(boxOf(), { voltage: 20 }).level).toContain("levels from memory, not verified");
    expect(ratingsOf(boxOf(), { voltage: 20, spectrum: "sine" }).level).toBe(
      "20 V rms of the largest sine, at whatever frequency is worst",
    );
  });
});

describe("a goal's amplifier", () => {
  it("comes back from a copy of the goal, and refuses what can't be", () => {
    const aim = goal({
      amplifier: { power: "50 W", spectrum: { frequencies: [100, 1000], levelDb: [0, -3] }, crestFactor: 4 },
      derating: { power: 0.3 },
    });
    expect(aim.amplifier).toEqual({ power: 50, spectrum: { frequencies: [100, 1000], levelDb: [0, -3] }, crestFactor: 4 });
    expect(aim.derating).toEqual({ power: 0.3, voltage: 0.8, current: 0.8 });
    expect(assess(boxOf(), { ratedImpedance: 8, goal: { ...aim } }).goal.amplifier).toEqual(aim.amplifier);
    const refused = (options: object) =>
      expect(() => goal(options), JSON.stringify(options)).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
    for (const amplifier of [
      { voltage: 20, power: 50 },
      { spectrum: "pink" },
      { crestFactor: 2 },
      { voltage: 0 },
      { voltage: 20, spectrum: "loud" },
      { voltage: 20, crestFactor: 0.5 },
    ])
      refused({ amplifier });
    for (const derating of [{ power: 0 }, { power: 1.5 }, { heat: 1 }]) refused({ derating });
  });
});
