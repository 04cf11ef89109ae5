// Values that are most likely in the wrong unit: warned of beyond the stated bounds, on neither side of them otherwise, and in no network that the project shows.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { capacitor, diagnose, inductor, lPad, resistor, solve, transformer, type Entries, type TwoTerminalPart } from "dividing-network";
import { describe, expect, it } from "vitest";
import { drawn } from "../support/two-way";

const warnings = (part: TwoTerminalPart) =>
  diagnose({ X1: [part, "in", "t"], load: [resistor(6), "t", "gnd"] }).map(
    ({ code, severity, parts }) => `${severity} ${code} ${parts?.join()}`,
  );

describe("a value that is most likely in the wrong unit", () => {
  it("is warned of from the bound on, and not short of it", () => {
    for (const [make, least, most] of [
      [resistor, 1e-3, 1e6],
      [inductor, 1e-8, 0.1],
      [capacitor, 1e-10, 0.05],
      [(dcr: number) => inductor(1e-3, { dcr }), 0, 100],
      [(esr: number) => capacitor(1e-6, { esr }), 0, 100],
    ] as const) {
      for (const value of [least, most * (1 - 1e-12)]) expect(warnings(make(value)), `${value}`).toEqual([]);
      for (const value of [...(least === 0 ? [] : [least * (1 - 1e-12)]), most])
        expect(warnings(make(value)), `${value}`).toEqual(["warning unlikely-value X1"]);
    }
    expect(warnings(resistor(0))).toEqual([]);
    expect(warnings(inductor(0))).toEqual([]);
  });

  it("is told with what was likely meant", () => {
    const [farads, henries, small, milli] = diagnose({
      C1: [capacitor(6.8), "in", "a"],
      L1: [inductor(0.33), "a", "gnd"],
      R1: [resistor(0.0001), "a", "b"],
      L2: [inductor("1 mH", { dcr: 240 }), "b", "gnd"],
    });
    expect(farads).toMatchObject({ message: 'the capacitance of "C1" is 6.8 F, far above what such a network is built of' });
    expect(farads!.hint).toBe('A plain number is in farads: if µF are meant, write "6.8 µF"');
    expect(henries!.hint).toContain('write "0.33 mH"');
    expect(small!.message).toContain("far below");
    expect(milli!.hint).toContain('write "240 mΩ"');
  });

  it("is no reason to refuse the network", () => {
    expect(solve({ C1: [capacitor(6.8), "in", "t"], load: [resistor(6), "t", "gnd"] }, [1000]).voltage("load").re[0]).toBeCloseTo(1, 6);
  });

  it("isn't looked for in parts that have other scales: transformers, pads", () => {
    expect(
      diagnose({
        T1: [transformer({ primaryInductance: 40, secondaryInductance: 0.4, k: 0.99 }), "in", "gnd", "s", "gnd"],
        P1: [lPad({ attenuationDb: 0.0001, load: 8 }), "s", "t", "gnd"],
        load: [resistor(8), "t", "gnd"],
      }),
    ).toEqual([]);
  });

  it("is in no network of the example, nor in the monitor of the tests", () => {
    const { networks } = JSON.parse(readFileSync(join(import.meta.dirname, "../../examples/desk-monitor/project.json"), "utf8")) as {
      readonly networks: Readonly<Record<string, { readonly parts: readonly Record<string, unknown>[] }>>;
    };
    const files = Object.values(networks);
    expect(files.length).toBeGreaterThan(1);
    for (const network of files) {
      const values = network.parts.filter(({ kind }) => ["resistor", "inductor", "capacitor"].includes(kind as string));
      expect(values.length).toBeGreaterThan(1);
      for (const part of values) {
        const { kind, resistance, inductance, capacitance, dcr, esr } = part as Record<string, string>;
        const made =
          kind === "resistor"
            ? resistor(resistance as never)
            : kind === "inductor"
              ? inductor(inductance as never, { dcr: dcr as never })
              : capacitor(capacitance as never, { esr: esr as never });
        expect(warnings(made), JSON.stringify(part)).toEqual([]);
      }
    }
    expect(diagnose(drawn as unknown as Entries)).toEqual([]);
  });
});
