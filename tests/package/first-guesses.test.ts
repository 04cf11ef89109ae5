// What somebody tries first who hasn't read the page: each wrong guess is told the way out.
import { describe, expect, it } from "vitest";
import {
  attenuator,
  capacitor,
  frequencyResponse,
  goal,
  impedanceMinimum,
  inductor,
  join,
  loudspeaker,
  network,
  partsList,
  predict,
  pressurePerVolt,
  resistor,
  sensitivities,
  solve,
  sumObjective,
  tolerance,
  zobel,
} from "dividing-network";
import { loadOf, sensitivityLevels } from "dividing-network/assessment";
import { readProject } from "dividing-network/project";
import { schematic } from "dividing-network/report";

const low = network({ L1: [inductor("0.5 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"] });
const flat = (from: number, to: number) =>
  pressurePerVolt({
    response: frequencyResponse([from, 1000, to], [1, 1, 1], [0, 0, 0]),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    timeZero: "common",
    label: `${from}.txt`,
  });
const box = loudspeaker({
  network: { ...low, C1: [capacitor("5 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
  drivers: [
    { name: "woofer", pressures: [flat(100, 10_000)] },
    { name: "tweeter", pressures: [flat(300, 20_000)] },
  ],
});

describe("a wrong first guess is told the way out", () => {
  it.each<[guess: string, call: () => unknown, says: RegExp]>([
    ["one frequency for a grid", () => solve(low, 1000 as never), /got 1000\. Write \[1000\]$/],
    ["no grid", () => solve(low, "1 kHz" as never), /logGrid and linearGrid make such arrays$/],
    ["an array where options are", () => attenuator([6, 8] as never), /options must be an object, got an array of length 2/],
    [
      "a typed array where options are",
      () => impedanceMinimum(solve(low, [100]), new Float64Array(3) as never),
      /got an array of length 3/,
    ],
    ["a pair for a band", () => goal({ band: [300, 3000] as never }), /"band" must be a band \{ from, to \} in Hz, got an array\. Write/],
    ["a network for its impedance", () => impedanceMinimum(low as never), /^impedanceMinimum: .*got a network\. Solve it first/],
    ["anything else for an impedance", () => impedanceMinimum({} as never), /^impedanceMinimum: "sweepOrImpedance" must be/],
    ["a piece without its branch", () => join(low, zobel({ re: 6, le: 1e-3 }) as never), /^join: .*Take their branch: \.branch\(/],
    ["a loudspeaker for its network", () => partsList(box as never), /got a loudspeaker\. Give its network: loudspeaker\.network$/],
    ["a loudspeaker for its drawing", () => schematic(box as never), /Give its network/],
    ["one tolerance for all", () => tolerance(low, [100], { outputs: ["w"], tolerances: 0.05 as never }), /Write \{ C1: 0\.05 \}/],
    [
      "a place without distance",
      () => predict(box, { places: [{ azimuth: 30 } as never] }),
      /"places\[0\]\.distance" must be a number in m/,
    ],
    [
      "more than was measured",
      () => predict(box, { frequencies: [200, 1000] }),
      /must lie within what 300\.txt holds, 300 Hz to 20 kHz, got 200 Hz to 1 kHz\. All that was measured holds 300 Hz to 10 kHz; without/,
    ],
  ])("%s", (_guess, call, says) => {
    expect(call).toThrow(says);
  });

  it("a project without a way to read its files", async () => {
    await expect(readProject("folder/project.json", {} as never)).rejects.toThrow(/project's text, not its path/);
  });
});

describe("a right first guess works", () => {
  it("a place in front needs its distance alone", () => {
    expect(predict(box, { places: [{ distance: "1 m" }] }).places[0]).toMatchObject({ distance: 1, azimuth: 0, elevation: 0 });
  });

  it("a source's impedance is written in the same way everywhere", () => {
    const at = [100, 1000];
    const plain = sensitivities(low, at, { outputs: ["w"], sourceImpedance: "0.5 Ω" });
    const named = sensitivities(low, at, { outputs: ["w"], sourceImpedance: { resistance: 0.5 } });
    expect(plain.levelDb("w", "L1", "inductance")).toEqual(named.levelDb("w", "L1", "inductance"));
    const contributions = { woofer: frequencyResponse(at, [1, 1], [0, 0]) };
    const losses = ["0.5 Ω", { resistance: 0.5 }].map((sourceImpedance) => {
      const made = sumObjective(low, { frequencies: at, contributions, target: 1, sourceImpedance: sourceImpedance as "0.5 Ω" });
      return made.loss(made.variables.map(({ value }) => value));
    });
    expect(losses[0]).toBe(losses[1]);
    expect(losses[0]).toBeGreaterThan(0);
  });

  it("a rated impedance and a voltage may be text", () => {
    const sound = frequencyResponse([100, 1000], [0.2, 0.2], [0, 0]);
    const band = { from: 200, to: 800 };
    expect(sensitivityLevels(sound, { band, ratedImpedance: "4 Ω", voltage: "2.83 V" })).toEqual(
      sensitivityLevels(sound, { band, ratedImpedance: 4 }),
    );
    expect(loadOf(box, { ratedImpedance: "8 Ω", frequencies: [1000] })).toEqual(loadOf(box, { ratedImpedance: 8, frequencies: [1000] }));
  });
});
