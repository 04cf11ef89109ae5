// Tests src/parts/: words.ts
// What a part is rated for is data that goes with it: written, read, listed, and of no influence on what the network does.
import { network, networkFromJSON, networkToJSON, solve, type Entries } from "dividing-network/network";
import { capacitor, inductor, lPad, resistor } from "dividing-network/parts";
import { partsList } from "dividing-network/report";
import { describe, expect, it } from "vitest";

const rated = () =>
  network({
    C1: [capacitor("6.8 µF", { voltage: "250 V", dissipationFactor: 0.002 }), "in", "a"],
    L1: [inductor("0.33 mH", { dcr: 0.24, current: "8 A" }), "a", "gnd"],
    P1: [lPad({ attenuationDb: 3, load: 6, power: 20 }), "a", "d", "gnd"],
    R1: [resistor("2R2", { power: "10 W" }), "d", "t"],
    tweeter: [resistor(6), "t", "gnd"],
  });

describe("ratings of parts", () => {
  it("are kept in SI, and absent where nothing was said", () => {
    const { C1, L1, P1, R1, tweeter } = rated();
    expect([C1[0].voltage, L1[0].current, P1[0].power, R1[0].power]).toEqual([250, 8, 20, 10]);
    expect(Object.keys(tweeter[0])).toEqual(["kind", "resistance"]);
    expect(resistor(6, { power: undefined })).toEqual(resistor(6));
  });

  it("come back from JSON, as numbers and as text", () => {
    const json = networkToJSON(rated());
    expect(
      json.parts.map((part) => [
        part.name,
        "power" in part ? part.power : "voltage" in part ? part.voltage : "current" in part ? part.current : "",
      ]),
    ).toEqual([
      ["C1", "250 V"],
      ["L1", "8 A"],
      ["P1", "20 W"],
      ["R1", "10 W"],
      ["tweeter", ""],
    ]);
    expect(networkFromJSON(JSON.parse(JSON.stringify(json)))).toEqual(rated());
    const bad = (part: object) => () =>
      networkFromJSON({ parts: [{ name: "R1", kind: "resistor", resistance: 4, nodes: ["in", "gnd"], ...part }] });
    expect(bad({ power: "10 V" })).toThrow(/power/);
    expect(bad({ power: 0 })).toThrow(/power/);
    expect(bad({ voltage: 10 })).toThrow(/voltage/);
  });

  it("change nothing of what the network does", () => {
    const bare = Object.fromEntries(
      Object.entries(rated()).map(([name, [part, ...nodes]]) => [
        name,
        [Object.fromEntries(Object.entries(part).filter(([key]) => !["power", "voltage", "current"].includes(key))), ...nodes],
      ]),
    ) as unknown as Entries;
    const [a, b] = [solve(rated() as unknown as Entries, [100, 1000, 9000]), solve(bare, [100, 1000, 9000])];
    expect(a.voltage("t")).toEqual(b.voltage("t"));
    expect(a.impedance).toEqual(b.impedance);
  });

  it("stand in the parts list: equal parts of unequal rating are two lines", () => {
    const two = partsList({ R1: [resistor(4, { power: 5 }), "in", "a"], R2: [resistor(4, { power: 10 }), "a", "gnd"] });
    expect(two.map(({ part, detail }) => `${part}, ${detail}`)).toEqual(["Resistor 4 Ω, rated 5 W", "Resistor 4 Ω, rated 10 W"]);
    expect(partsList(rated()).map(({ detail }) => detail)).toEqual([
      "tan δ 0.002, rated 250 V",
      "DCR 0.24 Ω, rated 8 A",
      "1.75 Ω in series, 14.5 Ω across the load, rated 20 W",
      "rated 10 W",
      "",
    ]);
  });

  it("are refused where they aren't above 0, or of another part", () => {
    for (const wrong of [
      () => resistor(4, { power: 0 }),
      () => resistor(4, { power: "10 V" } as never),
      () => capacitor(1e-6, { voltage: -1 }),
      () => inductor(1e-3, { current: NaN }),
      () => resistor(4, { voltage: 3 } as never),
      () => resistor(4, 0 as never),
    ])
      expect(wrong).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
  });
});

describe("a part's tolerance", () => {
  it("is a relative number or text in percent, kept as a number, written as text, and of no influence on the network", () => {
    expect([
      resistor(4, { tolerance: "5 %" }).tolerance,
      inductor(1e-3, { tolerance: "2.5%" }).tolerance,
      capacitor(1e-6, { tolerance: 0.1 }).tolerance,
    ]).toEqual([0.05, 0.025, 0.1]);
    const entries = network({ C1: [capacitor("6.8 µF", { tolerance: "2.5 %" }), "in", "t"], tweeter: [resistor(6), "t", "gnd"] });
    const json = networkToJSON(entries);
    expect(json.parts[0]).toMatchObject({ tolerance: "2.5 %" });
    expect(networkFromJSON(JSON.parse(JSON.stringify(json)))).toEqual(entries);
    expect(partsList(entries)[0]!.detail).toBe("±2.5 %");
    for (const wrong of [
      () => resistor(4, { tolerance: 1 }),
      () => resistor(4, { tolerance: -0.1 }),
      () => resistor(4, { tolerance: "5" as never }),
      () => capacitor(1e-6, { tolerance: "100 %" }),
      () => inductor(1e-3, { tolerance: NaN }),
    ])
      expect(wrong).toThrow(/tolerance/);
  });
});
