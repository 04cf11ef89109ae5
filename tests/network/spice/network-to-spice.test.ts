// Tests src/network/spice/: fit-sections.ts, law-sections.ts, operating-point.ts, simplify-sections.ts, spice-elements.ts, spice-names.ts
// How a netlist is written: names, numbers, what is refused. That a simulator agrees with it: simulator.test.ts beside this.
import { DividingNetworkError } from "dividing-network/errors";
import { networkToSpice, solve, type Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const code = (step: () => unknown): string => {
  try {
    step();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.code;
    throw error;
  }
  return "";
};
const elements = (text: string): string[] =>
  text
    .split("\n")
    .slice(1)
    .filter((line) => /^[RLCVK]/.test(line));
const parts = (entries: Entries): string[] => elements(networkToSpice(entries)).slice(1);

describe("networkToSpice", () => {
  it("writes title, source, parts, analysis and end", () => {
    expect(networkToSpice({ R1: [resistor(4.7), "in", "gnd"] }, { title: "pad", band: { from: "50 Hz", to: "5 kHz" } })).toBe(
      "pad\nVin in 0 DC 0 AC 1\nR1 in 0 4.7\n.ac dec 48 50 5000\n.end\n",
    );
  });

  it("writes losses as resistors of their own", () => {
    expect(
      parts({
        L1: [inductor(0.001, { dcr: 0.3 }), "in", "a"],
        C1: [capacitor(1e-7, { esr: 0.02 }), "a", "gnd"],
        R1: [resistor(8), "a", "gnd"],
      }),
    ).toEqual(["L1 in L1_1 0.001", "RL1 L1_1 a 0.3", "C1 a C1_1 1e-7", "RC1 C1_1 0 0.02", "R1 a 0 8"]);
  });

  it("gives every element and node a name of its own, upper and lower case alike", () => {
    const lines = parts({
      tweeter: [resistor(1), "in", "A"],
      TWEETER: [resistor(2), "A", "a"],
      Rtweeter: [resistor(3), "a", "0"],
      "ω +": [resistor(4), "0", "GND"],
      "": [resistor(5), "GND", "ü"],
      X: [resistor(6), "ü", "ö"],
      Y: [resistor(7), "ö", "gnd"],
    });
    const names = lines.map((line) => line.split(" ")[0]!.toLowerCase());
    expect(new Set(names).size).toBe(7);
    expect(names.every((name) => /^r[a-z0-9_]*$/.test(name))).toBe(true);
    const nodes = lines.map((line) =>
      line
        .split(" ")
        .slice(1, 3)
        .map((node) => node.toLowerCase()),
    );
    expect(new Set(nodes.flat()).size).toBe(8);
    // A chain: each begins where the one before ends, and only the last ends at 0.
    nodes.slice(1).forEach(([from], i) => expect(from).toBe(nodes[i]![1]));
    expect(nodes.flat().filter((node) => node === "0" || node === "gnd")).toEqual(["0"]);
  });

  it("says in comments which nodes are called otherwise, in ASCII and on one line", () => {
    const text = networkToSpice({ R1: [resistor(4), "in", "ω\n.end"], R2: [resistor(4), "ω\n.end", "gnd"] }, { title: "évil\n.include x" });
    expect(text).toMatch(/^[\n -~]*$/);
    expect(text.split("\n")[0]).toBe("{e9}vil{a}.include x");
    expect(text.match(/^\.end$/gm)).toHaveLength(1);
    expect(text).not.toMatch(/^\.include/m);
    expect(text).toMatch(/^\* node ".*" is /m);
  });

  it("refuses what no circuit comes near enough to, and takes it where more is allowed", () => {
    const entries: Entries = { C1: [capacitor("47 µF", { dissipationFactor: 0.1 }), "in", "gnd"] };
    expect(code(() => networkToSpice(entries))).toBe("inexact-netlist");
    expect(() => networkToSpice(entries)).toThrow(/can't have one capacitance and one dissipation factor over a wide band.*"esr"/);
    expect(networkToSpice(entries, { largestError: 0.2 })).toContain("dissipation factor of 0.1 is approximated within");
    expect(networkToSpice(entries, { band: { from: 900, to: 1100 } })).toContain("approximated within");
  });

  it("takes the loss of a usual electrolytic capacitor over the whole band, and says how near it comes", () => {
    const text = networkToSpice({ C1: [capacitor("68 µF", { dissipationFactor: 0.04 }), "in", "gnd"] });
    const [, reached] = /dissipation factor of 0.04 is approximated within ([\d.]+) %/.exec(text)!;
    expect(Number(reached)).toBeGreaterThan(1);
    expect(Number(reached)).toBeLessThan(4);
  });

  it("refuses a driver that wasn't measured in the band", () => {
    const entries: Entries = { D: [driverImpedance(frequencyResponse([100, 200, 400], [4, 5, 6], [0, 1, 0])), "in", "gnd"] };
    expect(code(() => networkToSpice(entries, { band: { from: 500, to: 1000 } }))).toBe("outside-measured-band");
    expect(networkToSpice(entries, { largestError: 0.5 })).toContain("from 100 Hz to 400 Hz");
  });

  it("makes few sections of a smooth impedance", () => {
    const grid = Array.from({ length: 200 }, (_, i) => 20 * 1000 ** (i / 199));
    const exact = solve({ D: [driverImpedance({ re: 6, le: "0.5 mH", fs: 40, qms: 5, qes: 0.4 }), "in", "gnd"] }, grid).impedance;
    const text = networkToSpice({ D: [driverImpedance(exact), "in", "gnd"] });
    expect(elements(text).length).toBeLessThan(10);
    expect(Number(/within ([\d.]+) %/.exec(text)![1])).toBeLessThan(0.2);
  });

  it("refuses nonsense with a typed error", () => {
    const one: Entries = { R1: [resistor(4.7), "in", "gnd"] };
    expect(code(() => networkToSpice({}))).toBe("invalid-network");
    expect(code(() => networkToSpice(null as never))).toBe("malformed-network");
    expect(code(() => networkToSpice(one, { title: 3 as never }))).toBe("invalid-argument");
    expect(code(() => networkToSpice(one, { titel: "x" } as never))).toBe("unknown-option");
    expect(code(() => networkToSpice(one, { band: { from: 100, to: 10 } }))).toBe("invalid-argument");
    expect(code(() => networkToSpice(one, { largestError: -1 }))).toBe("invalid-argument");
    expect(code(() => networkToSpice(one, { sourceImpedance: frequencyResponse([1, 2], [1, 1], [0, 0]) as never }))).toBe(
      "invalid-argument",
    );
  });
});
