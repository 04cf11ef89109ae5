// Tests src/radiation/: array-lobes.ts, lobe-tilt.ts, two-source-window.ts
// Lobes of two sources and of rows, far away: angles whose sines are known fractions, a plain complex sum, and the filters themselves.
import { butterworth, highPass, linkwitzRiley, lowPass } from "dividing-network/alignments";
import { speedOfSound } from "dividing-network/physics";
import { arrayDirectivity, arrayLobes, lobeTilt, twoSourceLobes, twoSourceWindow } from "dividing-network/radiation";
import type { Working } from "dividing-network/quantity";
import { valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { nearest } from "../../src/radiation/two-source-lobes";

// Metres, hertz and metres per second that make the wavelength 1 m.
const place = { frequency: 340, air: { speedOfSound: 340 } };
const degrees = (sine: number): number => (Math.asin(sine) * 180) / Math.PI;
const nearTo = (angles: readonly number[]): unknown[] => angles.map((angle) => expect.closeTo(angle, 9) as unknown);
/** Straight up or down: an arcsine of 1 loses half of the digits. */
const steepest = (angle: number): unknown => expect.closeTo(angle, 5);

/** Re and im of a row of sources of amplitudes g, each leading the one below by a phase, seen under an angle; phases counted from the lowest. */
function plainSum(amplitudes: readonly number[], spacing: number, angle: number, lead: number): [number, number] {
  let [re, im] = [0, 0];
  amplitudes.forEach((g, i) => {
    const phase = i * (2 * Math.PI * spacing * Math.sin((angle * Math.PI) / 180) + (lead * Math.PI) / 180);
    re += g * Math.cos(phase);
    im += g * Math.sin(phase);
  });
  return [re, im];
}
const size = (amplitudes: readonly number[], spacing: number, angle: number, lead: number): number =>
  Math.hypot(...plainSum(amplitudes, spacing, angle, lead));

describe("the lobes of two sources", () => {
  it.each([
    [0.5, 0, [0], [-90, 90]],
    [1, 0, [-90, 0, 90], [-30, 30]],
    [2, 0, [-90, -30, 0, 30, 90], [degrees(-0.75), degrees(-0.25), degrees(0.25), degrees(0.75)]],
    [1, 180, [-30, 30], [-90, 0, 90]],
    [1, 90, [degrees(-0.25), degrees(0.75)], [degrees(-0.75), degrees(0.25)]],
    [1, -90, [degrees(-0.75), degrees(0.25)], [degrees(-0.25), degrees(0.75)]],
    [0.25, 90, [-90], [90]],
    [0.2, 90, [], []],
  ])("%d wavelengths apart, the upper leading by %d°, lie where the path makes up for the lead", (spacing, phaseDegrees, peaks, nulls) => {
    const lobes = twoSourceLobes({ spacing, phaseDegrees, ...place });
    expect(lobes.peaks).toEqual(nearTo(peaks));
    expect(lobes.nulls).toEqual(nearTo(nulls));
  });

  it("are all that there are, and every one is", () => {
    for (const spacing of [0.3, 1.7, 10.2, 2000]) {
      for (const phaseDegrees of [0, 37, -120, 180]) {
        const { peaks, nulls } = twoSourceLobes({ spacing: spacing / 10, phaseDegrees, frequency: 3400, air: { speedOfSound: 340 } });
        // As many as there are whole numbers n with |n + offset − ψ/360°| up to d/λ.
        const number = (offset: number): number =>
          Math.floor(spacing - offset + phaseDegrees / 360) - Math.ceil(-spacing - offset + phaseDegrees / 360) + 1;
        expect([peaks.length, nulls.length]).toEqual([number(0), number(0.5)]);
        if (spacing > 100) continue;
        for (const angle of peaks) expect(size([1, 1], spacing, angle, phaseDegrees)).toBeCloseTo(2, 9);
        for (const angle of nulls) expect(size([1, 1], spacing, angle, phaseDegrees)).toBeCloseTo(0, 9);
      }
    }
  });

  it("do not care for whole turns of the lead, however many", () => {
    for (const lead of [0, 60, 180, -100]) {
      const { peaks, nulls, mainLobe, axisDb, peakDb, nullDb } = twoSourceLobes({ spacing: 1.3, phaseDegrees: lead, ...place });
      expect(peaks.length + nulls.length).toBeGreaterThanOrEqual(5);
      for (const turns of [1, -1, 5, -5, 99, -99]) {
        const turned = twoSourceLobes({ spacing: 1.3, phaseDegrees: lead + 360 * turns, ...place });
        expect(turned.peaks).toEqual(nearTo(peaks));
        expect(turned.nulls).toEqual(nearTo(nulls));
        const [got, wanted] = [
          [turned.mainLobe, turned.axisDb, turned.peakDb, turned.nullDb],
          [mainLobe, axisDb, peakDb, nullDb],
        ];
        got.forEach((value, i) =>
          expect(value === wanted[i] || Math.abs(value! - wanted[i]!) < 1e-9, `${value} for ${wanted[i]}`).toBe(true),
        );
        expect(arrayLobes({ count: 3, spacing: 1.3, phaseDegrees: lead + 360 * turns, ...place }).peaks).toEqual(nearTo(peaks));
        if (lead !== 180) {
          const window = { spacing: 1.3, withinDb: 3, ...place };
          expect(twoSourceWindow({ ...window, phaseDegrees: lead + 360 * turns }).up).toBeCloseTo(
            twoSourceWindow({ ...window, phaseDegrees: lead }).up,
            9,
          );
        }
      }
    }
  });

  it("have the peak nearest to the axis as the main lobe, the upper of two that are as near", () => {
    const main = (spacing: number, phaseDegrees: number): number | undefined =>
      twoSourceLobes({ spacing, phaseDegrees, ...place }).mainLobe;
    expect(main(3, 0)).toBe(0);
    expect(main(1, 170)).toBeCloseTo(degrees(-170 / 360), 9);
    expect(main(1, -170)).toBeCloseTo(degrees(170 / 360), 9);
    expect(main(1, 180)).toBeCloseTo(30, 9);
    expect(main(1, -180)).toBeCloseTo(30, 9);
    expect(arrayLobes({ count: 4, spacing: 1, phaseDegrees: 180, ...place }).mainLobe).toBeCloseTo(30, 9);
    expect(lobeTilt({ order: 2, spacing: 1, ...place }).tilt).toBeCloseTo(30, 9);
    expect(main(100, 72)).toBeCloseTo(degrees(-0.002), 9);
    expect(main(100, -72)).toBeCloseTo(degrees(0.002), 9);
    expect(main(0.2, 90)).toBeUndefined();
  });

  it("stand to each other as sum, difference and vector sum of the amplitudes", () => {
    for (const levelDifferenceDb of [6, -6, 0, -20, 40]) {
      for (const phaseDegrees of [0, 60, -60, 90, 150, -179]) {
        const g = 10 ** (levelDifferenceDb / 20);
        const axis = Math.sqrt(1 + g * g + 2 * g * Math.cos((phaseDegrees * Math.PI) / 180));
        const { peakDb, nullDb, axisDb } = twoSourceLobes({ spacing: 1, levelDifferenceDb, phaseDegrees, ...place });
        expect(peakDb).toBeCloseTo(20 * Math.log10((1 + g) / axis), 9);
        expect(axisDb).toBeCloseTo(20 * Math.log10(axis / (1 + g)), 9);
        if (g === 1) expect(nullDb).toBe(-Infinity);
        else expect(nullDb).toBeCloseTo(20 * Math.log10(Math.abs(1 - g) / axis), 9);
      }
    }
    expect(twoSourceLobes({ spacing: 1, ...place })).toMatchObject({ peakDb: 0, axisDb: 0, nullDb: -Infinity });
  });

  it("have an axis that is the null itself in opposite phase", () => {
    for (const phaseDegrees of [180, -180, 540]) {
      expect(twoSourceLobes({ spacing: 1, phaseDegrees, ...place })).toMatchObject({ peakDb: Infinity, axisDb: -Infinity, nullDb: 0 });
      const unequal = twoSourceLobes({ spacing: 1, phaseDegrees, levelDifferenceDb: 20 * Math.log10(3), ...place });
      expect(unequal.axisDb).toBeCloseTo(20 * Math.log10(0.5), 12);
      expect(unequal.nullDb).toBeCloseTo(0, 12);
    }
  });

  it("keep their digits next to the null: |cos ψ/2| for ψ = 180° − 1e-9°", () => {
    const { axisDb, peakDb } = twoSourceLobes({ spacing: 1, phaseDegrees: 180 - 1e-9, ...place });
    // The lead that a number can hold there: 180° less this much.
    const half = ((180 - (180 - 1e-9)) / 2) * (Math.PI / 180);
    expect(axisDb).toBeCloseTo(20 * Math.log10(half), 9);
    expect(peakDb).toBeCloseTo(-20 * Math.log10(half), 9);
  });

  it("take the speed of sound from the air, or as it is stated there", () => {
    const first = (options: object): number =>
      twoSourceLobes({ spacing: "1 m", frequency: "1 kHz", ...options }).nulls.find((angle) => angle > 0)!;
    expect(first({})).toBeCloseTo(degrees(speedOfSound() / 2000), 12);
    expect(first({ air: { temperature: 0 } })).toBeCloseTo(degrees(speedOfSound({ temperature: 0 }) / 2000), 12);
    expect(first({ air: { speedOfSound: 1000 } })).toBeCloseTo(30, 12);
    const cold = { spacing: "1 m", frequency: "1 kHz", air: { temperature: 0 } } as const;
    const [c, withinDb] = [speedOfSound({ temperature: 0 }), 3];
    expect(lobeTilt({ order: 3, ...cold }).tilt).toBeCloseTo(degrees(c / 4000), 12);
    expect(twoSourceWindow({ ...cold, withinDb }).up).toBeCloseTo(degrees((c / 1000 / Math.PI) * Math.acos(10 ** -0.15)), 12);
    expect(arrayLobes({ count: 2, ...cold }).nulls.find((angle) => angle > 0)).toBeCloseTo(degrees(c / 2000), 12);
  });

  it("name their source and the unit of each number in every working", () => {
    const units = (working: Working): string[] => working.map(({ unit, inputs }) => [unit, ...inputs.map((input) => input.unit)].join(" "));
    const sources = (working: Working): string => [...new Set(working.map((step) => step.source))].join("; ");
    const pair = twoSourceLobes({ spacing: 1, ...place }).working;
    expect(units(pair)).toEqual(["m m/s Hz", "°  ° m m", "°  ° m m"]);
    expect(sources(pair)).toBe("definition of the wavelength; two point sources, far field; after Linkwitz (1976)");
    const tilt = lobeTilt({ order: 3, spacing: 1, ...place }).working;
    expect(units(tilt)).toEqual(["°  °  ", " ° m/s Hz m", "° "]);
    expect(sources(tilt)).toMatch(/\(s\/ω₀\)ⁿ; two point sources, far field; after Linkwitz \(1976\)/);
    const window = twoSourceWindow({ spacing: 1, withinDb: 3, ...place }).working;
    expect(units(window)).toEqual([" dB rad m/s Hz m ", "° ", " dB rad m/s Hz m ", "° "]);
    expect(sources(window)).toBe("derived here: two equal point sources, far field");
    const row = arrayLobes({ count: 3, spacing: 1, ...place }).working;
    expect(units(row)).toEqual(["°   ° m/s Hz m", "°   ° m/s Hz m"]);
    expect(sources(row)).toBe("derived here: uniform row of point sources, far field");
    for (const { formula, tex } of [...pair, ...tilt, ...window, ...row])
      expect([formula.length > 4, tex.length > 4]).toEqual([true, true]);
  });

  it("show their working: wavelength, nearest null, main lobe, with the whole numbers put in", () => {
    const { working } = twoSourceLobes({ spacing: 2, phaseDegrees: 90, ...place });
    expect(working.map(({ symbol, unit }) => [symbol, unit])).toEqual([
      ["λ", "m"],
      ["θ null", "°"],
      ["θ lobe", "°"],
    ]);
    const [length, dip, lobe] = working as unknown as [(typeof working)[0], (typeof working)[0], (typeof working)[0]];
    expect(length.value).toBe(1);
    expect(length.inputs.map(({ value }) => value)).toEqual([340, 340]);
    // sin θ = (n + 0.5 − 0.25)/2: n = 0 is the nearest null. sin θ = (n − 0.25)/2: n = 0 is the main lobe.
    expect(dip.value).toBeCloseTo(degrees(0.125), 9);
    expect(lobe.value).toBeCloseTo(degrees(-0.125), 9);
    expect(dip.inputs.map(({ value, unit }) => [value, unit])).toEqual([
      [0, ""],
      [90, "°"],
      [1, "m"],
      [2, "m"],
    ]);
    expect(lobe.inputs.map(({ value }) => value)).toEqual([0, 90, 1, 2]);
    expect(dip.formula).toContain("n + 0.5");
    expect(lobe.formula).toContain("n + 0 ");
    // ψ = −170° at a fifth of a wavelength: no lobe, and the null of n = −1.
    const low = twoSourceLobes({ spacing: 0.2, phaseDegrees: -170, ...place }).working;
    expect(low.map(({ symbol }) => symbol)).toEqual(["λ", "θ null"]);
    expect(low[1]!.inputs[0]!.value).toBe(-1);
    expect(low[1]!.value).toBeCloseTo(degrees((-1 + 0.5 + 170 / 360) / 0.2), 9);
    expect(twoSourceLobes({ spacing: 0.2, phaseDegrees: 90, ...place }).working.map(({ symbol }) => symbol)).toEqual(["λ"]);
    // The whole numbers at another wavelength, 0.1 m: sin θ = (n + 0.5 − 0.5)/20 and (n − 0.5)/20.
    const short = twoSourceLobes({ spacing: 2, phaseDegrees: 180, frequency: 3400, air: { speedOfSound: 340 } });
    expect(short.working.map(({ value }) => value)).toEqual([0.1, 0, degrees(0.025)].map((value) => expect.closeTo(value, 9) as number));
    expect(short.working.slice(1).map(({ inputs }) => inputs[0]!.value)).toEqual([0, 1]);
  });

  it("may be straight up or down, where rounding may put a sine a hair beyond 1", () => {
    for (let frequency = 100; frequency < 2000; frequency += 17) {
      // At an n-th of a wavelength, and a lead of an n-th of a turn.
      for (const n of [3, 4, 5, 7]) {
        const steep = { spacing: 343 / (n * frequency), frequency, air: { speedOfSound: 343 } };
        const down = twoSourceLobes({ ...steep, phaseDegrees: 360 / n });
        expect([...down.peaks, down.mainLobe, down.working.at(-1)!.value]).toEqual([-90, -90, -90].map(steepest));
        const up = twoSourceLobes({ ...steep, phaseDegrees: -360 / n });
        expect([...up.peaks, up.mainLobe, up.working.at(-1)!.value]).toEqual([90, 90, 90].map(steepest));
        // A null is straight down when the lead exceeds opposite phase by as much.
        const dark = twoSourceLobes({ ...steep, phaseDegrees: 180 + 360 / n });
        expect(dark.nulls[0]).toEqual(steepest(-90));
        expect(arrayLobes({ count: 2, ...steep, phaseDegrees: 360 / n }).peaks).toEqual([steepest(-90)]);
        expect(arrayLobes({ count: 2, ...steep, phaseDegrees: -360 / n }).peaks).toEqual([steepest(90)]);
      }
    }
  });

  it("are refused beyond 2000 wavelengths, 100 turns and 200 dB, and not on these limits", () => {
    expect(twoSourceLobes({ spacing: 2000, ...place }).peaks).toHaveLength(4001);
    expect(() => twoSourceLobes({ spacing: 2000.1, ...place })).toThrow(
      expect.objectContaining({ code: "too-many-lobes", message: expect.stringMatching(/^twoSourceLobes: "spacing"/) as string }) as Error,
    );
    for (const edge of [{ phaseDegrees: 36000 }, { phaseDegrees: -36000 }, { levelDifferenceDb: 200 }, { levelDifferenceDb: -200 }]) {
      expect(twoSourceLobes({ spacing: 1, ...place, ...edge }).peaks).toHaveLength(3);
      const beyond = Object.fromEntries(Object.entries(edge).map(([key, value]) => [key, value * (1 + 1e-6)]));
      expect(() => twoSourceLobes({ spacing: 1, ...place, ...beyond })).toThrow(new RegExp(`"${Object.keys(edge)[0]!}" must be`));
    }
    for (const wrong of [{ spacing: 0 }, { frequency: 0 }, { air: { speedOfSound: 0 } }, { air: { temperature: -100 } }, { spacing: -1 }]) {
      const names = (caller: string): RegExp =>
        new RegExp(`^${caller}: "${wrong.air === undefined ? Object.keys(wrong)[0]! : `air.${Object.keys(wrong.air)[0]!}`}" must be`);
      expect(() => twoSourceLobes({ spacing: 1, ...place, ...wrong })).toThrow(names("twoSourceLobes"));
      expect(() => lobeTilt({ order: 2, spacing: 1, ...place, ...wrong })).toThrow(names("lobeTilt"));
      expect(() => arrayLobes({ count: 2, spacing: 1, ...place, ...wrong })).toThrow(names("arrayLobes"));
      expect(() => twoSourceWindow({ withinDb: 3, spacing: 1, ...place, ...wrong })).toThrow(names("twoSourceWindow"));
    }
    expect(twoSourceLobes({ spacing: 1, frequency: 0.5, air: { speedOfSound: 0.5 } }).nulls).toEqual(nearTo([-30, 30]));
    expect(() => twoSourceLobes({ spacing: 1, ...place, lead: 3 } as never)).toThrow(/lead/);
  });
});

describe("two sources at a wavelength other than a metre", () => {
  // A wavelength of 0.1 m, and one of 10 m.
  const short = { frequency: 3400, air: { speedOfSound: 340 } };
  const long = { frequency: 34, air: { speedOfSound: 340 } };

  it("are refused beyond 2000 wavelengths, not metres", () => {
    expect(twoSourceLobes({ spacing: 199.9, ...short }).peaks).toHaveLength(2 * 1999 + 1);
    expect(() => twoSourceLobes({ spacing: 201, ...short })).toThrow(
      expect.objectContaining({ code: "too-many-lobes", message: expect.stringMatching(/got 20(10|09\.99)/) as string }) as Error,
    );
    expect(twoSourceLobes({ spacing: 300, ...long }).peaks).toHaveLength(61);
  });

  it("show the number of their lobe and null in the working", () => {
    // ψ = −90°: sin θ = (n + ¼)·λ/d and (n + ½ + ¼)·λ/d, nearest to the axis for n = 0 and n = −1.
    const { working, mainLobe } = twoSourceLobes({ spacing: 0.25, phaseDegrees: -90, ...short });
    expect(mainLobe).toBeCloseTo(degrees(0.25 * 0.4), 9);
    const [, atNull, atLobe] = working;
    expect([atNull!.value, atLobe!.value]).toEqual(nearTo([degrees(-0.25 * 0.4), degrees(0.25 * 0.4)]));
    expect([atNull!, atLobe!].map(({ inputs }) => inputs[0]!.value)).toEqual([-1, 0]);
    // A spacing of 6.2 wavelengths and a lead of 170°: the null at n = 0, sin θ = (½ − 170/360)/6.2.
    const wide = twoSourceLobes({ spacing: 62, phaseDegrees: 170, ...long }).working;
    expect(wide[1]!.value).toBeCloseTo(degrees((0.5 - 170 / 360) / 6.2), 9);
    expect(wide[1]!.inputs[0]!.value).toBe(0);
  });
});

describe("the nearest of ascending angles", () => {
  it("is counted from the angle asked for, on either side of the axis", () => {
    expect(nearest([-50, 10, 60], 45)).toBe(60);
    expect(nearest([-60, -10, 50], -45)).toBe(-60);
    expect(nearest([-50, 10, 60])).toBe(10);
    expect(nearest([], 3)).toBeUndefined();
  });
});

describe("the tilt of the main lobe", () => {
  const speed = 343;

  it("points where filters of every order add up, which their plain sum confirms", () => {
    const [frequency, spacing] = [2000, 0.25];
    const prototypes = [1, 2, 3, 4, 5, 6, 7]
      .map((order) => [order, butterworth(order)] as const)
      .concat([2, 4, 6, 8].map((order) => [order, linkwitzRiley(order)] as const));
    for (const [order, prototype] of prototypes) {
      const [low, high] = [valueAt(lowPass(prototype, frequency), frequency), valueAt(highPass(prototype, frequency), frequency)];
      for (const polarity of ["same", "reversed"] as const) {
        for (const above of ["high-pass", "low-pass"] as const) {
          const { tilt } = lobeTilt({ order, polarity, above, spacing, frequency, air: { speedOfSound: speed } });
          const [top, bottom] = above === "high-pass" ? [high, low] : [low, high];
          const sign = polarity === "reversed" ? -1 : 1;
          const level = (angle: number): number => {
            const path = (2 * Math.PI * frequency * spacing * Math.sin((angle * Math.PI) / 180)) / speed;
            return Math.hypot(
              bottom.re + sign * (top.re * Math.cos(path) - top.im * Math.sin(path)),
              bottom.im + sign * (top.re * Math.sin(path) + top.im * Math.cos(path)),
            );
          };
          const inPhase = Math.hypot(top.re, top.im) + Math.hypot(bottom.re, bottom.im);
          expect(level(tilt!), `${order}, ${polarity}, ${above}`).toBeCloseTo(inPhase, 9);
          // No other direction as near to the axis does.
          for (let angle = -Math.abs(tilt!) + 0.5; angle < Math.abs(tilt!) - 0.4; angle += 0.1)
            expect(level(angle)).toBeLessThan(inPhase - 1e-6);
        }
      }
    }
  });

  it.each([
    [1, "same", "high-pass", 90],
    [2, "same", "high-pass", 180],
    [3, "same", "high-pass", -90],
    [4, "same", "high-pass", 0],
    [5, "same", "high-pass", 90],
    [12, "same", "high-pass", 0],
    [1, "reversed", "high-pass", -90],
    [2, "reversed", "high-pass", 0],
    [3, "reversed", "high-pass", 90],
    [4, "reversed", "high-pass", 180],
    [1, "same", "low-pass", -90],
    [2, "same", "low-pass", 180],
    [3, "same", "low-pass", 90],
    [3, "reversed", "low-pass", -90],
    [4, "reversed", "low-pass", 180],
  ] as const)("of order %d, polarity %s, %s above leaves the upper source %d° ahead", (order, polarity, above, lead) => {
    const found = lobeTilt({ order, polarity, above, spacing: 1, ...place });
    expect(found.phaseDegrees).toBe(lead);
    // To the side that lags, and up when it may be either.
    expect(found.tilt).toBeCloseTo(lead === 180 ? 30 : degrees(-lead / 360), 9);
    expect(found.working.map(({ symbol, value }) => [symbol, value])).toEqual([
      ["ψ", lead],
      ["sin θ", expect.closeTo(lead === 180 ? 0.5 : -lead / 360, 12)],
      ["θ", found.tilt],
    ]);
    expect(found.working[0]!.inputs.slice(0, 3).map(({ value }) => value)).toEqual([
      order,
      polarity === "same" ? 0 : 180,
      above === "high-pass" ? 1 : -1,
    ]);
  });

  it("is that of the high-pass above and equal polarity unless said otherwise", () => {
    expect(lobeTilt({ order: 1, spacing: 1, ...place })).toMatchObject({
      phaseDegrees: 90,
      tilt: expect.closeTo(degrees(-0.25), 9) as number,
    });
    expect(() => lobeTilt({ order: 1, spacing: 1, ...place, polarity: "no" as never })).toThrow(/polarity/);
    expect(() => lobeTilt({ order: 1, spacing: 1, ...place, above: "no" as never })).toThrow(/above/);
    for (const order of [0, 13, 2.5]) expect(() => lobeTilt({ order, spacing: 1, ...place })).toThrow(/"order" must be/);
  });

  it("may be straight up or down, at a quarter of a wavelength, and is nothing below that", () => {
    for (const frequency of [107, 114, 117, 225, 500, 1063, 3000]) {
      const spacing = speed / (4 * frequency);
      expect(lobeTilt({ order: 1, spacing, frequency, air: { speedOfSound: speed } }).tilt).toEqual(steepest(-90));
      expect(lobeTilt({ order: 3, spacing, frequency, air: { speedOfSound: speed } }).tilt).toEqual(steepest(90));
      const below = lobeTilt({ order: 3, spacing: spacing * (1 - 1e-9), frequency, air: { speedOfSound: speed } });
      expect(below.tilt).toBeUndefined();
      expect(below.working.map(({ symbol }) => symbol)).toEqual(["ψ", "sin θ"]);
      expect(lobeTilt({ order: 2, spacing: spacing * 2, frequency, air: { speedOfSound: speed } }).tilt).toEqual(steepest(90));
    }
  });
});

describe("the window of two sources", () => {
  it("ends where the level leaves the band, and nowhere before", () => {
    for (const spacing of [0.4, 1, 3]) {
      for (const lead of [0, 0.9, 30, -30, 60, 90, -90, 150, -150, 179, -179.9]) {
        // 1.249 dB is what 60° leave to the peak.
        for (const withinDb of [1e-4, 0.1, 1, 1.22, 1.27, 3, 6, 20]) {
          const { up, down } = twoSourceWindow({ spacing, phaseDegrees: lead, withinDb, ...place });
          const level = (angle: number): number => 20 * Math.log10(size([1, 1], spacing, angle, lead) / size([1, 1], spacing, 0, lead));
          for (const [sign, end] of [
            [1, up],
            [-1, down],
          ] as const) {
            let most = 0;
            for (let i = 1; i < 400; i++) most = Math.max(most, Math.abs(level((sign * end * i) / 400)));
            expect(most, `${spacing}, ${lead}°, ${withinDb} dB`).toBeLessThan(withinDb * (1 + 1e-9));
            if (end === 90) continue;
            expect(Math.abs(level(sign * end)) / withinDb).toBeCloseTo(1, 6);
            expect(Math.abs(level(sign * (end + 1e-4 * end)))).toBeGreaterThan(withinDb);
          }
        }
      }
    }
  });

  it("is the same up and down in phase, and turned over for a lag", () => {
    const within = { spacing: 1, withinDb: 3, ...place };
    const level = twoSourceWindow(within);
    expect(level.up).toBe(level.down);
    expect(level.up).toBeCloseTo(degrees(Math.acos(10 ** -0.15) / Math.PI), 12);
    const [lead, lag] = [50, -50].map((phaseDegrees) => twoSourceWindow({ ...within, phaseDegrees })) as [typeof level, typeof level];
    expect([lead.up, lead.down]).toEqual([lag.down, lag.up]);
    expect(lead.up).toBeLessThan(lead.down);
  });

  it("shows the band's edge that it meets in its working", () => {
    const rising = twoSourceWindow({ spacing: 1, phaseDegrees: -150, withinDb: 3, ...place });
    expect(rising.working.map(({ symbol }) => symbol)).toEqual(["sin θ up", "θ up", "sin θ down", "θ down"]);
    expect(rising.working[0]!.formula).toContain("10^(+x/20)");
    expect(rising.working[2]!.formula).toContain("10^(−x/20)");
    expect(rising.working[0]!.tex).toContain("10^{x/20}");
    expect(rising.working[2]!.tex).toContain("10^{-x/20}");
    expect(rising.working[1]!.value).toBe(rising.up);
    expect(rising.working[3]!.value).toBe(rising.down);
    expect(rising.working[0]!.inputs.map(({ value }) => value)).toEqual([3, expect.closeTo((-150 * Math.PI) / 180, 12), 340, 340, 1, -1]);
    expect(rising.working[2]!.inputs.at(-1)!.value).toBe(-1);
    expect(
      twoSourceWindow({ spacing: 1, phaseDegrees: 10, withinDb: 3, ...place })
        .working.map(({ inputs }) => inputs.at(-1)!.value)
        .filter((value) => Math.abs(value) === 1),
    ).toEqual([1, -1]);
    const wide = twoSourceWindow({ spacing: 0.1, withinDb: 3, ...place });
    expect([wide.up, wide.down]).toEqual([90, 90]);
    expect(wide.working.map(({ symbol }) => symbol)).toEqual(["sin θ up", "sin θ down"]);
  });

  it("needs sound on the axis and a band of at most 100 dB", () => {
    const within = { spacing: 1, withinDb: 3, ...place };
    for (const phaseDegrees of [180, -180, 540]) {
      expect(() => twoSourceWindow({ ...within, phaseDegrees })).toThrow(
        expect.objectContaining({ code: "axis-is-null", message: expect.stringContaining(`got ${phaseDegrees}`) as string }) as Error,
      );
    }
    expect(twoSourceWindow({ ...within, phaseDegrees: 179.99999 }).up).toBeGreaterThan(0);
    expect(twoSourceWindow({ ...within, withinDb: 100 }).up).toBeCloseTo(degrees(Math.acos(1e-5) / Math.PI), 9);
    for (const withinDb of [0, 100.1, -3]) expect(() => twoSourceWindow({ ...within, withinDb })).toThrow(/"withinDb" must be/);
    expect(() => twoSourceWindow({ ...within, levelDifferenceDb: 3 } as never)).toThrow(/levelDifferenceDb/);
  });
});

describe("a row of sources", () => {
  it.each([
    [2, 0.5, 0, [0], [-90, 90]],
    [3, 1, 0, [-90, 0, 90], [degrees(-2 / 3), degrees(-1 / 3), degrees(1 / 3), degrees(2 / 3)]],
    [4, 0.5, 0, [0], [-90, -30, 30, 90]],
    [4, 0.5, 90, [-30], [-90, 0, 30, 90]],
    [4, 0.5, -90, [30], [-90, -30, 0, 90]],
    [3, 0.1, 180, [], []],
  ])("of %d at %d wavelengths, each leading by %d°, has its lobes at known sines", (count, spacing, phaseDegrees, peaks, nulls) => {
    const lobes = arrayLobes({ count, spacing, phaseDegrees, ...place });
    expect(lobes.peaks).toEqual(nearTo(peaks));
    expect(lobes.nulls).toEqual(nearTo(nulls));
  });

  it("has as many lobes as there are whole numbers for them, each of them one", () => {
    for (const [count, spacing, lead] of [
      [3, 2.2, 0],
      [5, 0.7, 100],
      [8, 1.9, -170],
      [2, 6.3, 180],
    ] as const) {
      const { peaks, nulls } = arrayLobes({ count, spacing, phaseDegrees: lead, ...place });
      const number = (n: number): number => Math.floor(n * (spacing + lead / 360)) - Math.ceil(n * (-spacing + lead / 360)) + 1;
      expect(peaks).toHaveLength(number(1));
      expect(nulls).toHaveLength(number(count) - number(1));
      const ones = Array.from({ length: count }, () => 1);
      for (const angle of peaks) expect(size(ones, spacing, angle, lead)).toBeCloseTo(count, 9);
      for (const angle of nulls) expect(size(ones, spacing, angle, lead)).toBeCloseTo(0, 9);
      for (const list of [peaks, nulls]) expect(list).toEqual([...list].sort((a, b) => a - b));
    }
  });

  it("shows the main lobe and the null beside it in its working", () => {
    const { mainLobe, working } = arrayLobes({ count: 4, spacing: 1.5, phaseDegrees: 60, ...place });
    // sin θ = (m/4 − 1/6)/1.5: m = 0 is the peak; m = 1 and −1 are as far from it in sine, m = 1 nearer in angle.
    expect(mainLobe).toBeCloseTo(degrees(-1 / 9), 9);
    expect(working.map(({ symbol, value }) => [symbol, value])).toEqual([
      ["θ null", expect.closeTo(degrees((1 / 4 - 1 / 6) / 1.5), 9)],
      ["θ lobe", expect.closeTo(mainLobe!, 9)],
    ]);
    expect(working.map(({ inputs }) => inputs.map(({ value }) => value))).toEqual([
      [1, 4, 60, 340, 340, 1.5],
      [0, 4, 60, 340, 340, 1.5],
    ]);
    expect(arrayLobes({ count: 3, spacing: 0.1, phaseDegrees: 180, ...place }).working).toHaveLength(0);
    expect(arrayLobes({ count: 3, spacing: 0.1, ...place }).working.map(({ symbol }) => symbol)).toEqual(["θ lobe"]);
    for (const frequency of [107, 114, 117, 3000]) {
      const steep = arrayLobes({ count: 2, spacing: 343 / (4 * frequency), frequency, phaseDegrees: 90, air: { speedOfSound: 343 } });
      expect([...steep.peaks, ...steep.nulls, ...steep.working.map(({ value }) => value)]).toEqual([-90, 90, 90, -90].map(steepest));
    }
  });

  it("takes 2 to 1000 sources, and up to 10 000 lobes", () => {
    expect(arrayLobes({ count: 1000, spacing: 5, ...place }).nulls).toHaveLength(10001 - 11);
    expect(() => arrayLobes({ count: 1000, spacing: 5.001, ...place })).toThrow(
      expect.objectContaining({ code: "too-many-lobes" }) as Error,
    );
    for (const count of [1, 1001, 2.5]) expect(() => arrayLobes({ count, spacing: 1, ...place })).toThrow(/"count" must be/);
  });

  it("has the directivity of the plain sum counted from its middle, with its sign", () => {
    for (const count of [1, 2, 3, 4, 7, 50]) {
      for (const spacing of [0, 0.3, 1, 4.4]) {
        for (const phaseDegrees of [0, 60, -110, 180]) {
          for (const angle of [-90, -41, -1e-9, 0, 1e-7, 3, 30, 90]) {
            const [re, im] = plainSum(
              Array.from({ length: count }, () => 1),
              spacing,
              angle,
              phaseDegrees,
            );
            const middle = ((count - 1) / 2) * (2 * Math.PI * spacing * Math.sin((angle * Math.PI) / 180) + (phaseDegrees * Math.PI) / 180);
            const exact = (re * Math.cos(middle) + im * Math.sin(middle)) / count;
            expect(arrayDirectivity({ count, kd: 2 * Math.PI * spacing, angle, phaseDegrees })).toBeCloseTo(exact, 10);
          }
        }
      }
    }
    // On a grating lobe the sign is that of (−1)^(n−1), also where the quotient is 0/0.
    expect(arrayDirectivity({ count: 4, kd: 2 * Math.PI, angle: 90 })).toBe(-1);
    expect(arrayDirectivity({ count: 5, kd: 2 * Math.PI, angle: 90 })).toBe(1);
    expect(arrayDirectivity({ count: 4, kd: 4 * Math.PI, angle: 90 })).toBe(1);
    for (const wrong of [
      { count: 0 },
      { count: 2.5 },
      { count: 1e6 + 1 },
      { kd: -1 },
      { kd: 1e6 + 1 },
      { phaseDegrees: 36001 },
      { phaseDegrees: -36001 },
      { angle: NaN },
    ]) {
      expect(() => arrayDirectivity({ count: 2, kd: 1, angle: 3, ...wrong })).toThrow(
        new RegExp(`^arrayDirectivity: "${Object.keys(wrong)[0]!}" must be`),
      );
    }
    expect(() => arrayDirectivity({ count: 2, kd: 1, angle: 3, lead: 1 } as never)).toThrow(/^arrayDirectivity: .*lead/);
    for (const limit of [{ count: 1e6 }, { kd: 1e6 }, { kd: 0 }, { phaseDegrees: 36000 }, { phaseDegrees: -36000 }]) {
      expect(Math.abs(arrayDirectivity({ count: 2, kd: 1, angle: 3, ...limit }))).toBeLessThanOrEqual(1);
    }
  });
});
