// Tests src/parts/: bipolar-electrolytic.ts, bypassed-capacitor.ts, capacitor.ts
// Loss of capacitors: definition, two side by side against the network, ranges.
import { bipolarElectrolytic, bypassedCapacitor, capacitor, capacitorEsr } from "dividing-network/parts";
import { solve } from "dividing-network/network";
import { valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";

describe("a capacitor's loss", () => {
  it("by dissipation factor is the series resistance that the part has in a network", () => {
    for (const frequency of [50, 1000, 20000]) {
      const part = capacitor("4.7 µF", { dissipationFactor: 0.02 });
      expect(valueAt(solve({ C1: [part, "in", "gnd"] }, [frequency]).impedance, frequency).re).toBeCloseTo(
        capacitorEsr({ capacitance: 4.7e-6, dissipationFactor: 0.02, frequency }),
        10,
      );
    }
  });

  it("with a bypass is that of both side by side in a network, and of the part that stands for them", () => {
    const main = capacitor("47 µF", { dissipationFactor: 0.06 });
    const bypass = capacitor("1 µF", { esr: 0.02 });
    for (const frequency of [30, 1000, 20000]) {
      const both = valueAt(solve({ C1: [main, "in", "gnd"], C2: [bypass, "in", "gnd"] }, [frequency]).impedance, frequency);
      const { impedance, part, esr, capacitance } = bypassedCapacitor(main, bypass, frequency);
      expect(impedance.re / both.re).toBeCloseTo(1, 10);
      expect(impedance.im / both.im).toBeCloseTo(1, 10);
      const one = valueAt(solve({ C1: [part, "in", "gnd"] }, [frequency]).impedance, frequency);
      expect([one.re / both.re, one.im / both.im, esr / both.re, capacitance * -both.im * 2 * Math.PI * frequency]).toEqual(
        [1, 1, 1, 1].map((each) => expect.closeTo(each, 10)),
      );
    }
    expect(() => bypassedCapacitor(main, {} as never, 1000)).toThrow(/"bypass" must be a capacitor/);
  });

  it("of a bipolar electrolytic lies in a range, which is wider when it is old", () => {
    const [fresh, old] = [false, true].map((aged) => bipolarElectrolytic({ capacitance: 47e-6, aged }));
    expect(fresh!.capacitance.lowest).toBeCloseTo(42.3e-6, 12);
    expect(old!.capacitance.lowest).toBeLessThan(fresh!.capacitance.lowest);
    expect(old!.capacitance.highest).toBeGreaterThan(fresh!.capacitance.highest);
    expect(old!.dissipationFactor.highest).toBeGreaterThan(fresh!.dissipationFactor.highest);
    expect(() => bipolarElectrolytic({ capacitance: 47e-6, aged: 20 as never })).toThrow(/"aged"/);
  });
});
