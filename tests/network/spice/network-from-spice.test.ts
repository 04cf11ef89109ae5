// Tests src/network/: network.ts
// Tests src/network/spice/: read-card.ts, spice-cards.ts, spice-value.ts
// Reading netlists. The rules of the dialect (title line, suffixes, continuation, comments) are recalled from its common use, and checked against an
// independent reader of it: the simulator of simulator.test.ts, which reads the same netlist here.
import fc from "fast-check";
import { Simulation } from "eecircuit-engine";
import { DividingNetworkError } from "dividing-network/errors";
import { networkFromSpice, networkToSpice, solve } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { arbitraryNetwork } from "../../support/arbitrary-network";

const failure = (text: unknown, options?: { file?: string }): string => {
  try {
    networkFromSpice(text as string, options);
  } catch (error) {
    if (error instanceof DividingNetworkError) return `${error.code}: ${error.message}`;
    throw error;
  }
  return "";
};
const values = (...lines: string[]): unknown[] =>
  Object.values(networkFromSpice(["t", "V1 in 0 AC 1", ...lines, "Rload in 0 1", ".end"].join("\n")).network).map(
    ([part]) => Object.values(part)[1],
  );

describe("networkFromSpice", () => {
  it("reads suffixes in either case, and letters after them as a unit", () => {
    expect(
      values(
        "R1 in 0 1MEG",
        "R2 in 0 1m",
        "R3 in 0 2Kohm",
        "R4 in 0 1e3",
        "C1 in 0 6.8uF",
        "C2 in 0 100N",
        "C3 in 0 3.3µ",
        "L1 in 0 0.47mH",
        "L2 in 0 1.5e-3",
        "R5 in 0 .5k",
        "R6 in 0 2ohm",
      ).slice(0, -1),
    ).toEqual([1e6, 1e-3, 2000, 1000, 6.8e-6, 1e-7, 3.3e-6, 0.47e-3, 1.5e-3, 500, 2]);
  });

  it("warns where a suffix may have been meant otherwise", () => {
    const { notes, network } = networkFromSpice("t\nV1 in 0 AC 1\nC1 in 0 1F\nR1 in 0 1M\nR2 in 0 1m\n.end");
    expect(network["C1"]![0]).toMatchObject({ capacitance: 1e-15 });
    expect(network["R1"]![0]).toMatchObject({ resistance: 1e-3 });
    expect(notes).toHaveLength(2);
    expect(notes[0]).toMatch(/line 3: 1F is read as 10⁻¹⁵/);
    expect(notes[1]).toMatch(/line 4: 1M is read as 10⁻³/);
  });

  it("takes the first line as the title, and says so where it looks like a part", () => {
    const { title, notes, network } = networkFromSpice("R1 in 0 5\nR2 in 0 6\n.end\n");
    expect([title, Object.keys(network)]).toEqual(["R1 in 0 5", ["R2"]]);
    expect(notes.join(" ")).toMatch(/first line is the title/);
  });

  it("reads continued lines, comments, commas and statements of analysis", () => {
    const text =
      "* two-way\r\nvAMP A 0\r\n+ dc 0\r\n* a remark between\r\n+ ac 1\r\nL1, A, w, 1mH ; woofer\r\nr1 w 0 4 $ load\r\nC1 A (T) 10u IC=0\r\nr2 t 0 8\r\n.ac dec 10 20 20k\r\n.control\r\nrun\r\nR9 is no part\r\n.endc\r\n.end\r\nR10 a 0 1\r\n";
    const { network, notes } = networkFromSpice(text);
    expect(Object.entries(network).map(([name, [, from, to]]) => `${name} ${from} ${to}`)).toEqual([
      "L1 in w",
      "r1 w gnd",
      "C1 in T",
      "r2 T gnd",
    ]);
    expect(notes.join("\n")).toMatch(
      /program in lines 11 to 14[\s\S]*follows \.end[\s\S]*initial condition of C1[\s\S]*node A, where the source is/,
    );
  });

  it("reads couplings, also before their coils and of three coils", () => {
    const { network } = networkFromSpice("t\nK1 l1 L2 L3 0.2\nV1 in 0 AC 1\nL1 in 0 1m\nL2 a 0 1m\nL3 b 0 2m\nR1 a 0 4\nR2 b 0 4\n.end");
    expect(
      Object.entries(network)
        .filter(([, [part]]) => part.kind === "coupling")
        .map(([name, [, ...coils]]) => [name, ...coils]),
    ).toEqual([
      ["K1_L1_L2", "L1", "L2"],
      ["K1_L1_L3", "L1", "L3"],
      ["K1_L2_L3", "L2", "L3"],
    ]);
  });

  it("reads a source of 0 V as a connection", () => {
    expect(networkFromSpice("t\nV1 in 0 AC 1\nVx in a 0\nVy a b DC 0\nVz b c DC 0 AC 0\nR1 c 0 4\n.end").network["Vz"]![0]).toEqual({
      kind: "resistor",
      resistance: 0,
    });
  });

  it("renames a node that the network can't have, and says so", () => {
    const { network, notes } = networkFromSpice("t\nV1 src 0 AC 1\nR1 src in 1\nR2 in R2 4\nR3 R2 0 4\n.end");
    expect(Object.values(network).map(([, ...nodes]) => nodes)).toEqual([
      ["in", "in_2"],
      ["in_2", "R2_2"],
      ["R2_2", "gnd"],
    ]);
    expect(notes).toHaveLength(3);
  });

  it("refuses what it doesn't read, with its line", () => {
    const at = (...lines: string[]): string => failure(["t", "V1 in 0 AC 1", "R1 in 0 8", ...lines, ".end"].join("\n"), { file: "a.cir" });
    expect(at("Q1 a b c model")).toMatch(/^unread-element: networkFromSpice: a\.cir:4: .*"Q1"/);
    expect(at(".model x d")).toMatch(/^unread-element: .*a\.cir:4/);
    expect(at(".include other")).toMatch(/^unread-element/);
    expect(at("X1 in 0 sub")).toMatch(/^unread-element/);
    expect(at("R2 in 0 {value}")).toMatch(/^invalid-card: .*Expressions/);
    expect(at("R2 in 0 4,7")).toMatch(/^invalid-card: .*after it/);
    expect(at("L2 in 0 1m Rser=0.1")).toMatch(/^invalid-card: .*losses/);
    expect(at("R2 in 0 2K2")).toMatch(/^invalid-card/);
    expect(at("R2 in 0")).toMatch(/^invalid-card: .*a\.cir:4/);
    expect(at("R2 in 0 -4")).toMatch(/^invalid-part: .*a\.cir:4: "R2"/);
    expect(at("R2 in 0 1e999")).toMatch(/^invalid-card/);
    expect(at("R2 in 0 5mil")).toMatch(/^invalid-card/);
    expect(at("", "r1 in 0 8")).toMatch(/^duplicate-designator: .*a\.cir:5: .*line 3/);
    expect(at("V2 in 0 AC 1")).toMatch(/^source-count: .*a\.cir:4: .*line 2/);
    expect(at("K1 R1 L9 0.5")).toMatch(/^coupling-to-no-coil: .*a\.cir:4/);
    expect(at("L1 in 0 1m", "L2 in 0 1m", "K1 L1 L2 1")).toMatch(/^invalid-part: .*a\.cir:6/);
    expect(at(`K1 ${Array.from({ length: 21 }, (_, i) => `L${i}`).join(" ")} 0.1`)).toMatch(/^invalid-card: .*at most 20 coils/);
    expect(at(".control")).toMatch(/^invalid-card: .*a\.cir:4/);
    expect(failure("t\n+ R1 in 0 8\n")).toMatch(/^invalid-card: .*line 2/);
    expect(failure("t\n,\n")).toMatch(/^invalid-card: .*line 2/);
    expect(failure("t\nV1 0 in AC 1\nR1 in 0 8\n")).toMatch(/^source-count: .*Turn it round/);
    expect(failure("t\nR1 a 0 8\n")).toMatch(/^source-count: .*got none/);
    expect(failure("t\n")).toMatch(/^empty-file/);
    expect(failure("")).toMatch(/^empty-file/);
    expect(failure("t\nV1 in 0 AC 1\nR1 in a 8\n")).toMatch(/^invalid-network/);
    expect(failure(3)).toMatch(/^invalid-argument/);
    expect(failure("t\n\0")).toMatch(/^wrong-encoding/);
  });

  it("never fails but with a typed error, whatever the text", () => {
    const word = fc.constantFrom(
      "R1",
      "r2",
      "L1",
      "C1",
      "K1",
      "V1",
      "in",
      "0",
      "gnd",
      "a",
      "1",
      "1meg",
      "-3",
      "1e400",
      "4k7",
      "AC",
      "DC",
      ".end",
      ".control",
      ".endc",
      ".ac",
      "+",
      "*",
      ";",
      "$",
      "{x}",
      "(",
      ",",
      "=",
      "__proto__",
      "IC",
      "\t",
      "é",
      "L1",
    );
    const line = fc.array(word, { maxLength: 7 }).map((words) => words.join(" "));
    let [read, refused] = [0, 0];
    fc.assert(
      fc.property(
        fc.oneof(
          fc.array(line, { maxLength: 12 }).map((lines) => ["t", "V1 in 0 AC 1", "R1 in 0 1", ...lines].join("\n")),
          fc.string({ maxLength: 200 }),
        ),
        (text) => {
          if (failure(text) === "") read++;
          else refused++;
        },
      ),
      { numRuns: cases(1500) },
    );
    expect(Math.min(read, refused)).toBeGreaterThan(20);
  });

  it("reads back what networkToSpice wrote: the same impedance, the same voltages", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 3, coupled: true, kinds: ["resistor", "coil", "lossy coil", "capacitor", "lossy capacitor", "link"] }),
        (entries) => {
          const text = networkToSpice(entries);
          // What is put in for the operating point is part of the netlist, and may be far from nothing at a resonance without loss.
          fc.pre(!text.includes("operating point"));
          const { network } = networkFromSpice(text);
          const grid = [31, 444, 9000];
          const [ours, theirs] = [solve(entries, grid), solve(network, grid)];
          for (const node of new Set(Object.values(entries).flatMap(([part, ...nodes]) => (part.kind === "coupling" ? [] : nodes)))) {
            const [a, b] = [ours.voltage(node), theirs.voltage(node)];
            grid.forEach((_, i) =>
              expect(Math.hypot(a.re[i]! - b.re[i]!, a.im[i]! - b.im[i]!)).toBeLessThanOrEqual(1e-7 * (1 + Math.hypot(a.re[i]!, a.im[i]!))),
            );
          }
        },
      ),
      { numRuns: cases(60) },
    );
  });

  it("reads as an independent reader of the dialect does", async () => {
    const text =
      "title\nVamp 1 0 DC 0\n+ AC 1\nR1 1 2 0.1K\nl1 2 3 1.5MH ; MH is milli\nC1 3 0 4.7UF $ a remark\n* nothing\nR2 3 0 .00001meg\nC2 2\n+ 0\n+ 100NF\nL2 4 0 2e-3\nK1 L1 L2 .5\nR3 4 0 33ohms\n.ac dec 5 20 20k\n.end\n";
    const simulation = new Simulation();
    await simulation.start();
    simulation.setNetList(text);
    const result = await simulation.runSim();
    if (result.dataType !== "complex") throw new Error(simulation.getError().join("\n"));
    const column = (name: string) =>
      result.data.find((each) => each.name.toLowerCase() === name)!.values as { real: number; img: number }[];
    const sweep = solve(
      networkFromSpice(text).network,
      column("frequency").map(({ real }) => real),
    );
    for (const node of ["2", "3", "4"]) {
      const ours = sweep.voltage(node);
      column(`v(${node})`).forEach(({ real, img }, i) => expect(Math.hypot(real - ours.re[i]!, img - ours.im[i]!)).toBeLessThan(1e-6));
    }
  }, 120_000);
});
