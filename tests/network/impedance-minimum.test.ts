import { impedanceMinimum, network, solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const [L, C] = [0.8e-3, 12e-6];
const trap = network({ R1: [resistor(3.3), "in", "a"], L1: [inductor(L), "a", "b"], C1: [capacitor(C), "b", "gnd"] });

describe("the least impedance of a network", () => {
  it("of a series circuit is its resistance at 1/(2π√LC), where the phase is 0°", () => {
    const { frequency, magnitude, phaseDegrees, atEdge } = impedanceMinimum(solve(trap, logGrid(20, 20000, 481)));
    expect(frequency * 2 * Math.PI * Math.sqrt(L * C)).toBeCloseTo(1, 4);
    expect(magnitude).toBeCloseTo(3.3, 5);
    expect(Math.abs(phaseDegrees)).toBeLessThan(0.1);
    expect(atEdge).toBe(false);
  });

  it("on the band's edge says so, with the phase there", () => {
    const x = 2 * Math.PI * 4000 * L - 1 / (2 * Math.PI * 4000 * C);
    const found = impedanceMinimum(solve(trap, logGrid(20, 20000, 481)), { from: "4 kHz" });
    expect(found.atEdge).toBe(true);
    expect(found.frequency).toBe(4000);
    expect(found.magnitude).toBeCloseTo(Math.hypot(3.3, x), 4);
    expect(found.phaseDegrees).toBeCloseTo((180 / Math.PI) * Math.atan2(x, 3.3), 3);
  });

  it("takes any impedance", () =>
    expect(impedanceMinimum(frequencyResponse([100, 200, 400], [8, 5, 7], [0, 0, 0])).magnitude).toBeLessThanOrEqual(5));
  it("refuses what is neither", () => expect(() => impedanceMinimum(5 as never)).toThrow(/must be a FrequencyResponse/));
});
