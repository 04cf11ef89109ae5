// What a project file says of drivers beside their measurements: what moves the cone, what they may stand; and the amplifier's level in its goal.
import { parseProject, projectFromJSON, projectToJSON } from "dividing-network/project";
import { describe, expect, it } from "vitest";

const place = { x: 0, y: 0, z: 0 };
const impedance = { file: "woofer.txt", columns: "ohm-degrees" };
const withDriver = (more: object, goal: object = {}): unknown => {
  const parts = [
    { name: "R1", kind: "resistor", resistance: "2.2 Ω", power: "10 W", nodes: ["in", "a"] },
    { name: "woofer", kind: "driver", nodes: ["a", "gnd"] },
  ];
  return {
    version: 1,
    name: "One driver",
    ratedImpedance: 8,
    amplifier: { outputResistance: 0, cableResistance: 0, cableInductance: 0 },
    drivers: [{ name: "woofer", position: place, impedance, role: "woofer", ...more }],
    measurements: [],
    networks: { found: { parts }, proposed: { parts } },
    goal,
  };
};
const motion = { re: "5.6 Ω", fs: "60 Hz", qms: 3, qes: 0.5, mms: "15 g" };

describe("a driver in a project file", () => {
  it("states what moves its cone and what it may stand, in SI after reading, and comes back from JSON", () => {
    const project = parseProject(JSON.stringify(withDriver({ motion, ratings: { power: "40 W", excursion: "4 mm" } })));
    expect(project.drivers[0]).toMatchObject({ motion: { re: 5.6, fs: 60, mms: 0.015 }, ratings: { power: 40, excursion: 0.004 } });
    expect(project.networks.found.parts[0]).toMatchObject({ power: 10 });
    expect(projectFromJSON(JSON.parse(JSON.stringify(projectToJSON(project))))).toEqual(project);
    const mechanics = { re: 5.6, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2 };
    expect(projectFromJSON(withDriver({ motion: mechanics })).drivers[0]?.motion).toEqual(mechanics);
  });

  it.each([
    ["constants that say too little", { motion: { ...motion, mms: undefined } }, /motion.*one of bl and mms/],
    ["constants that say too much", { motion: { ...motion, bl: 7 } }, /motion.*one of bl and mms/],
    ["a mass in another unit", { motion: { ...motion, mms: "15 mm" } }, /mms/],
    ["an excursion of nothing", { ratings: { excursion: 0 } }, /excursion/],
    ["a rating that isn't known", { ratings: { force: 3 } }, /force/],
  ])("is refused with %s", (_what, more, message) => {
    expect(() => projectFromJSON(JSON.parse(JSON.stringify(withDriver(more))))).toThrow(message);
  });
});

describe("the amplifier's level in a project's goal", () => {
  it("is read with what is played", () => {
    const amplifier = { power: "50 W", spectrum: { frequencies: [100, 1000], levelDb: [0, -3] }, crestFactor: 3 };
    const { goal } = projectFromJSON(withDriver({}, { amplifier, derating: { power: 0.4 } }));
    expect(goal).toMatchObject({ amplifier: { ...amplifier, power: 50 }, derating: { power: 0.4 } });
  });

  it("is refused where it can't be", () => {
    for (const amplifier of [{ power: "50 V" }, { voltage: 0 }, { voltage: 20, spectrum: "loud" }, { voltage: 20, crestFactor: 0.5 }]) {
      expect(() => projectFromJSON(withDriver({}, { amplifier })), JSON.stringify(amplifier)).toThrow(/amplifier/);
    }
  });
});
