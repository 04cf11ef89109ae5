// Tests src/assessment/: model-check.ts, trust.ts
// Measurements that can't have been measured: each is refused by name, and none of them explains a drawing.
import { assess, checkModel, compare, comparePair, suspects } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { driverImpedance, resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { finite } from "../support/finite";
import { grid, measure, sampled } from "../support/synthetic";

const box = loudspeaker({
  network: { cone: [resistor(8), "in", "gnd"] },
  drivers: [{ name: "cone", role: "woofer", pressures: [measure(() => [0.1, 0])] }],
}) as unknown as Loudspeaker;
const found = assess(box, { ratedImpedance: 8 });
const ohms = (at: (i: number) => number) => frequencyResponse(grid, grid.map((_, i) => at(i)), new Float64Array(grid.length)); // prettier-ignore
const whole = (pascal: (f: number) => number) => ({
  distance: 1,
  azimuth: 0,
  elevation: 0,
  voltage: 1,
  response: sampled((f) => [pascal(f), 0]),
});

describe("an impedance of the whole that is no impedance", () => {
  const wrong: readonly (readonly [string, (i: number) => number, RegExp])[] = [
    ["0 Ω everywhere", () => 0, /"measured\.impedance" must not be 0, got 0 Ω at 62\.5 Hz/],
    ["0 Ω at one frequency", (i) => (i === 50 ? 0 : 8), /must not be 0, got 0 Ω at/],
    ["0 Ω in the upper half", (i) => (i > 192 ? 0 : 8), /must not be 0/],
    ["what a square makes 0", () => 1e-200, /must lie between 1 µΩ and 1 TΩ, got 1e-200 Ω/],
    ["what a square makes infinite", () => 1e200, /must lie between 1 µΩ and 1 TΩ, got 1e\+200 Ω/],
  ];
  it.each(wrong)("is refused with the frequency: %s", (_, at, message) => {
    const impedance = ohms(at);
    for (const take of [
      () => compare(found, found, { measured: { impedance } }),
      () => checkModel(box, { pressures: [], impedance }),
      () => suspects(box, { impedance }),
    ]) {
      expect(take).toThrow(message);
      expect(take).toThrow(expect.objectContaining({ code: "not-measured", hint: expect.stringMatching(/^Leave out/) }));
    }
    expect(() => comparePair({ impedance }, { impedance: ohms(() => 8) })).toThrow(/"left\.impedance" must/);
  });

  it("may hold a point of 0 Ω at 0 Hz, which impulses bring along and nothing looks at", () => {
    const impedance = frequencyResponse([0, ...grid], [0, ...grid.map(() => 8)], [0, ...grid.map(() => 0)]);
    expect(compare(found, found, { measured: { impedance } }).verdict.trust.state).toBe("explained");
  });

  it("refutes a drawing where it is the negative of what is drawn", () => {
    const { verdict } = compare(found, found, { measured: { impedance: ohms(() => -8) } });
    expect(verdict.trust.state).toBe("refuted");
    expect(verdict.trust.impedance).toBeCloseTo(2, 6);
  });
});

describe("a pressure of the whole that holds nothing", () => {
  it("is refused by name, where all of it is 0", () => {
    const pressures = [whole(() => 0.1), whole(() => 0)];
    for (const take of [
      () => compare(found, found, { measured: { pressures } }),
      () => checkModel(box, { pressures }),
      () => suspects(box, { pressures }),
    ])
      expect(take).toThrow(/"measured\.pressures\[1\]\.response" must not be 0 everywhere: nothing was heard/);
  });

  it("refutes the drawing, in numbers, where half of it is 0", () => {
    const { verdict, model } = compare(found, found, { measured: { pressures: [whole((f) => (f > 1000 ? 0 : 0.1))] } });
    expect(verdict.trust.state).toBe("refuted");
    expect(finite(model)).toEqual([]);
    expect(finite(verdict)).toEqual([]);
  });
});

describe("a measurement that lies where nothing else is known", () => {
  const narrow = loudspeaker({
    network: { cone: [driverImpedance(sampled(() => [8, 0], [500, 1000, 2000, 4000, 8000])), "in", "gnd"] },
    drivers: [{ name: "cone", role: "woofer", pressures: [measure(() => [0.1, 0])] }],
  }) as unknown as Loudspeaker;
  it("is refused rather than explained by anything", () => {
    const impedance = sampled(() => [4, 0], [70, 100, 200]);
    const pressures = [whole(() => 0.1)];
    expect(() => suspects(narrow, { pressures, impedance })).toThrow(
      /"measured\.impedance" must share a third of an octave with what is known of the drivers, got 70\.00 Hz to 200\.0 Hz against impedances from 500\.0 Hz/,
    );
    expect(() => suspects(narrow, { pressures, impedance })).toThrow(expect.objectContaining({ code: "band-too-narrow" }));
  });
});
