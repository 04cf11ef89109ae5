// Tests src/errors/: proven.ts
// Tests src/loudspeaker/: check-pressure.ts, driver-facts.ts
import { describe, expect, it } from "vitest";
import { loudspeaker, predict, pressurePerVolt } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { sampled } from "./by-hand";

const pressures = [
  pressurePerVolt({ response: sampled(() => [0.5, 0.25]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" }),
];
const network = { R1: [resistor(4), "in", "a"], pair: [resistor(4), "a", "gnd"] } as const;

describe("a loudspeaker", () => {
  it("fills in what isn't stated: part, role, places and air", () => {
    const { drivers, air } = loudspeaker({ network, drivers: [{ name: "pair", pressures }] });
    expect(air).toEqual({ temperature: 20 });
    expect(drivers).toEqual([{ name: "pair", part: "pair", role: "full-range", position: [0, 0, 0], measuredAt: [0, 0, 0], pressures }]);
  });

  it("lets several drivers hang on one part", () => {
    const two = loudspeaker({
      network,
      drivers: [
        { name: "left", part: "pair", pressures },
        { name: "right", part: "pair", pressures },
      ],
    });
    const { sum, branches } = predict(two, { voltage: 1 }).places[0]!;
    expect(branches.left!.re[0]).toBeCloseTo(0.25, 12);
    expect(sum.re[0]).toBeCloseTo(0.5, 12);
    expect(sum.im[0]).toBeCloseTo(0.25, 12);
  });

  it("is frozen and shares no array that could be changed from outside", () => {
    const drivers = [{ name: "pair", pressures: [...pressures] }];
    const box = loudspeaker({ network, drivers });
    drivers.push({ name: "other", pressures });
    expect(box.drivers).toHaveLength(1);
    expect([box, box.drivers, box.drivers[0], box.drivers[0]!.pressures].every((value) => Object.isFrozen(value))).toBe(true);
  });

  it("is refused in words that name the driver", () => {
    const wrong = (options: object, code: string, words: RegExp) =>
      expect(() => loudspeaker({ network, drivers: [{ name: "pair", pressures }], ...options } as never), String(words)).toThrowError(
        expect.objectContaining({ code, message: expect.stringMatching(words) as unknown }),
      );
    wrong({ drivers: [] }, "invalid-argument", /"drivers"/);
    wrong({ drivers: [{ name: "cone", pressures }] }, "unknown-part", /"cone".*R1, pair/);
    wrong(
      {
        drivers: [
          { name: "pair", pressures },
          { name: "pair", pressures },
        ],
      },
      "invalid-argument",
      /"pair"/,
    );
    wrong({ drivers: [{ name: "pair", pressures: [] }] }, "invalid-argument", /"pair".*at least one/);
    wrong({ drivers: [{ name: "pair", pressures, role: "squawker" }] }, "invalid-argument", /role of pair/);
    wrong({ drivers: [{ name: "pair", pressures, position: [0, NaN, 0] }] }, "invalid-argument", /position of pair/);
    wrong({ drivers: [{ name: "pair", pressures, colour: "red" }] }, "unknown-option", /colour/);
    wrong({ air: { temperature: 200 } }, "invalid-argument", /"air.temperature" must be/);
    wrong({ air: { temperature: 20, speedOfSound: 343 } }, "invalid-argument", /got both/);
    wrong({ temperature: 20 }, "unknown-option", /temperature/);
    wrong({ network: { pair: [resistor(4), "x", "y"], R1: [resistor(4), "in", "gnd"] } }, "invalid-network", /pair/);
  });
});
