// Tests src/loudspeaker/: place.ts, prediction-grid.ts, same-place.ts
import { describe, expect, it } from "vitest";
import { commonPlaces, loudspeaker, predict, pressureAtPlace, pressurePerVolt, type MeasuredPressure } from "dividing-network/loudspeaker";
import { network } from "dividing-network/network";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { flight, grid, over, plus, sampled, speed, times, turned, type C } from "./by-hand";

const C20 = speed(20);
const axis = { distance: 1, azimuth: 0, elevation: 0 };
const measure = (at: (f: number) => C, more: Partial<MeasuredPressure> = {}, frequencies?: ArrayLike<number>) =>
  pressurePerVolt({ response: sampled(at, frequencies), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common", ...more });

const woofer = (f: number): C => times(flight(1.02, C20, 0.4)(f), over([1, 0], [1, f / 6000]));
const tweeter = (f: number): C => times(flight(1, C20, 0.3)(f), over([0, f / 800], [1, f / 800]));

/** First-order pair, the tweeter reversed, behind 0.2 Ω and 5 µH of amplifier and cable. */
const pair = loudspeaker({
  network: network({
    L1: [inductor("0.5 mH", { dcr: "0.3 Ω" }), "in", "w"],
    woofer: [resistor("6 Ω"), "w", "gnd"],
    C1: [capacitor("8 µF"), "in", "t"],
    tweeter: [resistor("5 Ω"), "gnd", "t"],
  }),
  drivers: [
    { name: "woofer", role: "woofer", pressures: [measure(woofer), measure(woofer, { azimuth: 30 })] },
    {
      name: "tweeter",
      role: "tweeter",
      pressures: [measure(tweeter), measure(tweeter, { azimuth: 30 }), measure(tweeter, { azimuth: 60 })],
    },
  ],
  sourceImpedance: { resistance: 0.2, inductance: 5e-6 },
});

/** The same by hand: each branch in Pa for a volt of the source. */
function byHand(f: number): { readonly woofer: C; readonly tweeter: C } {
  const w = 2 * Math.PI * f;
  const low: C = [6.3, w * 0.5e-3];
  const high: C = [5, -1 / (w * 8e-6)];
  const input = over(times(low, high), plus(low, high));
  const terminals = over(input, plus(input, [0.2, w * 5e-6]));
  return {
    woofer: times(times(terminals, over([6, 0], low)), woofer(f)),
    tweeter: times(times(terminals, over([-5, 0], high)), tweeter(f)),
  };
}

describe("a prediction", () => {
  it("is the complex sum of each driver's pressure per volt times the voltage that the network gives it", () => {
    const prediction = predict(pair, { voltage: "2.83 V" });
    const { sum, branches } = pressureAtPlace(prediction, axis);
    expect(prediction.frequencies).toEqual(grid);
    grid.forEach((f, index) => {
      const hand = byHand(f);
      const total = plus(hand.woofer, hand.tweeter);
      for (const [found, [re, im]] of [
        [branches.woofer!, hand.woofer],
        [branches.tweeter!, hand.tweeter],
        [sum, total],
      ] as const) {
        expect(found.re[index]).toBeCloseTo(2.83 * re, 12);
        expect(found.im[index]).toBeCloseTo(2.83 * im, 12);
      }
    });
  });

  it("answers at every place that all drivers were measured at, and at those alone", () => {
    expect(commonPlaces(pair)).toEqual([axis, { ...axis, azimuth: 30 }]);
    expect(predict(pair).places.map(({ azimuth }) => azimuth)).toEqual([0, 30]);
  });

  it("keeps the band of each place where another was measured over less: on the measurements' own grid, and on grids that differ", () => {
    const from = (low: number) => grid.filter((f) => f >= low);
    const box = (narrow: ArrayLike<number>) =>
      loudspeaker({
        network: { cone: [resistor(8), "in", "gnd"] },
        drivers: [
          { name: "cone", pressures: [measure(woofer), measure(woofer, { azimuth: 30 }, narrow), measure(woofer, { azimuth: 60 })] },
        ],
      });
    const own = predict(box(from(2000)));
    expect(own.frequencies).toEqual(grid);
    expect(own.places.map(({ sum }) => sum.frequencies[0])).toEqual([grid[0], from(2000)[0], grid[0]]);
    own.places.forEach(({ sum, branches }) => {
      expect(branches["cone"]!.frequencies).toBe(sum.frequencies);
      sum.frequencies.forEach((f, i) => expect(sum.re[i]).toBeCloseTo(2.83 * woofer(f)[0], 12));
    });
    const other = predict(box(Float64Array.from({ length: 298 }, (_, index) => 2000 * 1.007 ** index)));
    expect(other.frequencies[0]).toBe(grid[0]);
    const [axisThere, narrow] = other.places;
    expect(axisThere!.sum.frequencies).toEqual(other.frequencies);
    expect(narrow!.sum.frequencies[0]).toBeGreaterThanOrEqual(2000);
    narrow!.sum.frequencies.forEach((f, i) =>
      expect(Math.hypot(narrow!.sum.re[i]! - 2.83 * woofer(f)[0], narrow!.sum.im[i]! - 2.83 * woofer(f)[1])).toBeLessThan(2e-3),
    );
  });

  it("says where drivers share no band at one place, and where they share a single frequency", () => {
    const at = (frequencies: number[]) =>
      loudspeaker({
        network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"] },
        drivers: [
          { name: "a", pressures: [measure(woofer), measure(woofer, { azimuth: 30 }, [100, 200, 400])] },
          { name: "b", pressures: [measure(woofer), measure(woofer, { azimuth: 30 }, frequencies)] },
        ],
      });
    expect(() => predict(at([500, 1000]))).toThrow(/share no band: one begins at 500 Hz, another ends at 400 Hz/);
    expect(() => predict(at([399.9, 1000]))).toThrow(/share .* between 399.9 Hz and 400 Hz/);
  });

  it("interpolates on a grid that was asked for, and keeps the flight", () => {
    const between = [333, 1234, 5678];
    const { sum } = pressureAtPlace(predict(pair, { frequencies: between, voltage: 1 }), axis);
    between.forEach((f, index) => {
      const [re, im] = plus(byHand(f).woofer, byHand(f).tweeter);
      // 24 points an octave.
      expect(Math.hypot(sum.re[index]! - re, sum.im[index]! - im) / Math.hypot(re, im)).toBeLessThan(2e-4);
    });
  });

  it("takes the band that all drivers cover, 48 points an octave, where their grids differ", () => {
    const other = Float64Array.from({ length: 200 }, (_, index) => 200 * 2 ** (index / 40));
    const mixed = loudspeaker({
      network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"] },
      drivers: [
        { name: "a", pressures: [measure(woofer)] },
        { name: "b", pressures: [measure(tweeter, {}, other)] },
      ],
    });
    const { frequencies, places } = predict(mixed, { voltage: 1 });
    expect(frequencies[0]).toBeCloseTo(200, 9);
    expect(frequencies.at(-1)).toBeCloseTo(other.at(-1)!, 6);
    expect(frequencies.length).toBe(Math.ceil(48 * Math.log2(other.at(-1)! / 200)) + 1);
    frequencies.forEach((f, index) => {
      const [re, im] = plus(woofer(f), tweeter(f));
      expect(Math.hypot(places[0]!.sum.re[index]! - re, places[0]!.sum.im[index]! - im)).toBeLessThan(
        2e-3 * (Math.hypot(...woofer(f)) + Math.hypot(...tweeter(f))),
      );
    });
  });

  it("carries the marks of each driver's data into branch and sum", () => {
    const note = "smoothed to 1/24 octave";
    const response = { ...sampled(woofer), marks: [{ kind: "smoothed", note }] as const };
    const box = loudspeaker({
      network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"] },
      drivers: [
        { name: "a", pressures: [measure(woofer, { response })] },
        { name: "b", pressures: [measure(tweeter)] },
      ],
    });
    const { sum, branches } = predict(box).places[0]!;
    expect(branches.a!.marks?.map((mark) => mark.note)).toEqual([note]);
    expect(branches.b!.marks).toBeUndefined();
    expect(sum.marks?.map((mark) => mark.note)).toEqual([note]);
  });

  it("changes nothing that it was given", () => {
    const arrays = pair.drivers.flatMap(({ pressures }) =>
      pressures.flatMap(({ response }) => [response.frequencies, response.re, response.im]),
    );
    const copies = arrays.map((values) => Float64Array.from(values));
    const asked = Float64Array.of(500, 1000);
    const prediction = predict(pair, { frequencies: asked });
    predict(pair);
    expect(arrays).toEqual(copies);
    expect(asked).toEqual(Float64Array.of(500, 1000));
    expect(
      [prediction, prediction.places, prediction.places[0], prediction.places[0]!.branches].every((value) => Object.isFrozen(value)),
    ).toBe(true);
  });
});

describe("a prediction is refused", () => {
  const refusal = (run: () => unknown) => {
    try {
      run();
    } catch (error) {
      return error as { readonly code: string; readonly message: string };
    }
    return expect.unreachable("must be refused");
  };

  it("at a place that wasn't measured, naming the nearest that were", () => {
    const { code, message } = refusal(() => predict(pair, { places: [{ ...axis, azimuth: 45 }] }));
    expect(code).toBe("not-measured");
    expect(message).toMatch(/woofer has nothing at 1 m, azimuth 45°.*azimuth 30°/);
    expect(refusal(() => pressureAtPlace(predict(pair), { ...axis, azimuth: 60 }))).toMatchObject({ code: "not-measured" });
    expect(refusal(() => predict(pair, { places: [{ ...axis, distance: 2 }] })).message).toContain("2 m");
  });

  it("when the drivers share no place at all", () => {
    const apart = loudspeaker({
      network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"] },
      drivers: [
        { name: "a", pressures: [measure(woofer)] },
        { name: "b", pressures: [measure(tweeter, { azimuth: 10 })] },
      ],
    });
    expect(refusal(() => predict(apart))).toMatchObject({ code: "not-measured" });
  });

  it("when pressures without a common time zero would have to be added, naming the measurement; a driver alone is not", () => {
    const alone = { name: "a", pressures: [measure(woofer, { timeZero: "unknown", label: "cone.txt" })] };
    expect(
      predict(loudspeaker({ network: { a: [resistor(8), "in", "gnd"] }, drivers: [alone] }), { voltage: 1 }).places[0]!.sum.re[0],
    ).toBeCloseTo(woofer(125)[0], 12);
    const two = loudspeaker({
      network: { a: [resistor(8), "in", "gnd"], b: [resistor(8), "in", "gnd"] },
      drivers: [alone, { name: "b", pressures: [measure(tweeter)] }],
    });
    const { code, message } = refusal(() => predict(two));
    expect(code).toBe("no-common-time-zero");
    expect(message).toContain("cone.txt");
  });

  it("outside the band that was measured, naming the measurement", () => {
    const narrow = loudspeaker({
      network: { a: [resistor(8), "in", "gnd"] },
      drivers: [{ name: "a", pressures: [measure(woofer, { label: "cone.txt" })] }],
    });
    const { code, message } = refusal(() => predict(narrow, { frequencies: [100, 1000] }));
    expect(code).toBe("outside-band");
    expect(message).toMatch(/cone\.txt.*100 Hz/);
  });

  it("with an option that it doesn't know, and a voltage of the wrong unit", () => {
    expect(refusal(() => predict(pair, { volts: 2 } as never))).toMatchObject({ code: "unknown-option" });
    expect(refusal(() => predict(pair, { voltage: "2 A" as never }))).toMatchObject({ code: "invalid-quantity" });
  });
});

describe("a driver that shares another's measurement", () => {
  const shared = (position: readonly [number, number, number], microphone: Partial<MeasuredPressure>, temperature = 20) =>
    loudspeaker({
      network: { one: [resistor(8), "in", "gnd"], two: [resistor(8), "in", "gnd"] },
      drivers: [
        { name: "one", position: [0, 0, 0], pressures: [measure(flight(2, speed(temperature)), { distance: 2, ...microphone })] },
        {
          name: "two",
          position,
          measuredAt: [0, 0, 0],
          pressures: [measure(flight(2, speed(temperature)), { distance: 2, ...microphone })],
        },
      ],
      air: { temperature },
    });

  it("gets the difference of the two paths, in level and in delay, at the temperature stated", () => {
    for (const [position, azimuth, elevation, temperature] of [
      [[0, 0, 0.2], 0, 0, 20],
      [[0, 0.15, 0], 40, 0, 35],
      [[0.05, -0.1, 0.1], -30, 10, 0],
    ] as const) {
      const prediction = predict(shared(position, { azimuth, elevation }, temperature), { voltage: 1 });
      const { two } = prediction.places[0]!.branches;
      const [a, e] = [(azimuth * Math.PI) / 180, (elevation * Math.PI) / 180];
      const microphone = [2 * Math.cos(e) * Math.cos(a), 2 * Math.cos(e) * Math.sin(a), 2 * Math.sin(e)];
      const path = Math.hypot(microphone[0]! - position[0], microphone[1]! - position[1], microphone[2]! - position[2]);
      grid.forEach((f, index) => {
        const [re, im] = flight(path, speed(temperature))(f);
        expect(two!.re[index]).toBeCloseTo(re, 4);
        expect(two!.im[index]).toBeCloseTo(im, 4);
      });
    }
  });

  it("counts from the point about which the loudspeaker was turned", () => {
    const prediction = predict(shared([0, 0.1, 0], { azimuth: 20, rotationCentre: [-0.2, 0, 0] }), { voltage: 1 });
    const a = (20 * Math.PI) / 180;
    const microphone = [-0.2 + 2 * Math.cos(a), 2 * Math.sin(a)];
    const [was, is] = [Math.hypot(microphone[0]!, microphone[1]!), Math.hypot(microphone[0]!, microphone[1]! - 0.1)];
    const { two } = prediction.places[0]!.branches;
    grid.forEach((f, index) => {
      const [re, im] = times(flight(2, C20)(f), turned(was / is, (-360 * f * (is - was)) / C20));
      expect(two!.re[index]).toBeCloseTo(re, 4);
      expect(two!.im[index]).toBeCloseTo(im, 4);
    });
  });

  it("is marked as a model, in its branch and in the sum", () => {
    const { sum, branches } = predict(shared([0, 0, 0.2], {})).places[0]!;
    expect(branches.one!.marks).toBeUndefined();
    expect(branches.two!.marks).toMatchObject([{ kind: "model", note: expect.stringContaining("0.200 m") as unknown }]);
    expect(sum.marks).toMatchObject([{ kind: "model" }]);
  });

  it("begins where a gate ends, whether the mark states its own beginning or not", () => {
    const gated = (mark: object) => {
      const { frequencies, re, im } = sampled(woofer);
      const response = frequencyResponse(frequencies, re, im, [{ kind: "no-data", note: "gate", ...mark }]);
      const pressures = [pressurePerVolt({ response, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" })];
      const box = loudspeaker({ network: { one: [resistor(8), "in", "gnd"] }, drivers: [{ name: "one", pressures }] });
      return predict(box).places[0]!.sum.frequencies[0];
    };
    expect([{ to: 500 }, { from: 125, to: 500 }, { from: 20, to: 500 }].map(gated)).toEqual([500, 500, 500]);
    expect(gated({ from: 250, to: 500 })).toBe(125);
    expect(() => gated({})).toThrowError(expect.objectContaining({ code: "not-measured" }));
  });

  it("is refused where it would be seen from a direction that wasn't measured", () => {
    expect(() => predict(shared([0, 0, 0.6], {}))).toThrowError(
      expect.objectContaining({ code: "not-measured", message: expect.stringMatching(/two shares.*16\.7°/) as unknown }),
    );
  });
});
