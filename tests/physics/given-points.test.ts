// Tests src/physics/: point.ts
// Places and the air as people write them: coordinates as text with their unit, humidity with its sign. No source: the unit's own meaning.
import { loudspeaker, pressurePerVolt } from "dividing-network/loudspeaker";
import { driverImpedance } from "dividing-network/parts";
import { airAbsorption, pointInDirection, speedOfSound } from "dividing-network/physics";
import { pistonSource, polarMap, pressureAt } from "dividing-network/radiation";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const code = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    return (error as { code: string }).code;
  }
  return "none";
};

describe("a place", () => {
  it("may have its coordinates as text, wherever one is given", () => {
    expect(pointInDirection({ azimuth: 0 }, 1, ["10 cm", 0, "-20 mm"])).toEqual([1.1, 0, -0.02]);
    const source = pistonSource({ radius: "50 mm", position: [0, "49 mm", "-3 cm"] });
    expect(source.position).toEqual([0, 0.049, -0.03]);
    const frequencies = [1000];
    expect(pressureAt([source], frequencies, { points: [["2 m", 0, "1 cm"]] }).points).toEqual([[2, 0, 0.01]]);
    const given = { angles: [0, 30], distance: 2 } as const;
    expect(polarMap([source], frequencies, { ...given, centre: ["1 cm", 0, 0] })).toEqual(
      polarMap([source], frequencies, { ...given, centre: [0.01, 0, 0] }),
    );
    const flat = frequencyResponse([100, 1000], [1, 1], [0, 0]);
    const pressures = [
      pressurePerVolt({
        response: flat,
        drive: { voltage: 1, at: "terminals" },
        distance: 2,
        timeZero: "common",
        rotationCentre: ["1 cm", 0, 0],
      }),
    ];
    expect(pressures[0]!.rotationCentre).toEqual([0.01, 0, 0]);
    const network = { woofer: [driverImpedance({ re: 6 }), "in", "gnd"] } as const;
    const { drivers } = loudspeaker({ network, drivers: [{ name: "woofer", position: [0, "49 mm", 0], pressures }] });
    expect(drivers[0]!.position).toEqual([0, 0.049, 0]);
  });

  it("is refused where a text is no length, and where it is no place", () => {
    for (const position of [
      ["1 kg", 0, 0],
      ["x", 0, 0],
    ])
      expect(code(() => pistonSource({ radius: 0.05, position: position as never }))).toBe("invalid-quantity");
    for (const position of [[0, 0], "0 0 0", [0, 0, NaN], [0, 0, null], ["1 m", 0, {}]])
      expect(code(() => pistonSource({ radius: 0.05, position: position as never }))).toBe("invalid-argument");
  });
});

describe("humidity", () => {
  it("may be text with its sign", () => {
    expect(speedOfSound({ temperature: "25 °C", humidity: "55 %" })).toBe(speedOfSound({ temperature: 25, humidity: 55 }));
    const given = { frequency: "4 kHz", temperature: 20 } as const;
    expect(airAbsorption({ ...given, humidity: "50%" })).toBe(airAbsorption({ ...given, humidity: 50 }));
  });

  it("is refused above 100 %, and without its sign", () => {
    for (const humidity of ["101 %", "50", "half", "50 % 3", "-1 %"])
      expect(code(() => speedOfSound({ humidity: humidity as never }))).toBe("invalid-argument");
  });
});
