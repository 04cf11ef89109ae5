// A notch of the network that is narrower than the measured points: everything is judged all the same. Values between samples by hand.
import { assess, compare } from "dividing-network/assessment";
import { capacitor, inductor } from "dividing-network/parts";
import { frequencyResponse, resample } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { sampledAt } from "../../src/assessment/sampled-at";
import { finite } from "../support/finite";
import { monitor, tweeter, woofer } from "../support/two-way";

describe("a response between its samples", () => {
  it("is what resample gives where the phase allows it", () => {
    const slow = frequencyResponse([100, 200, 400], [1, 0.9, 0.5], [0, 0.2, 0.4]);
    expect(sampledAt(slow, [150, 300])).toEqual(resample(slow, [150, 300]));
    expect(() => sampledAt(slow, [50])).toThrow(expect.objectContaining({ code: "outside-band" }));
  });

  it("is straight over ln f across a turn that the samples don't tell, whole at the samples", () => {
    const flip = frequencyResponse([0, 100, 400, 1600, 3000], [1, 1, -1, 1, -1], [0, 0, 1, 0, 0]);
    expect(() => resample(flip, [200], { delay: 0 })).toThrow(expect.objectContaining({ code: "phase-step" }));
    const { re, im } = sampledAt(flip, [50, 100, 200, 400, 800, 3000], { delay: 0 });
    expect([...re]).toEqual([1, 1, 0, -1, 0, -1].map((x) => expect.closeTo(x, 12)));
    expect([...im]).toEqual([0, 0, 0.5, 1, 0.5, 0].map((x) => expect.closeTo(x, 12)));
  });
});

describe("a loudspeaker behind a notch narrower than its measurements", () => {
  it.each([
    [80, 800, "w"],
    [80, 2000, "t"],
    [150, 1100, "t"],
    [150, 3300, "w"],
    [250, 850, "t"],
  ])("is assessed and compared: a trap of √(L/C) = %d Ω at %d Hz, across %s", (X, f, node) => {
    const plain = {
      L1: [inductor(0.5e-3, { dcr: 0.2 }), "in", "w"],
      woofer: [woofer, "w", "gnd"],
      C1: [capacitor(20e-6), "in", "t"],
      L2: [inductor(1e-3, { dcr: 0.2 }), "t", "gnd"],
      tweeter: [tweeter, "t", "gnd"],
    };
    const trap = {
      L9: [inductor(X / (2 * Math.PI * f), { dcr: 0.1 }), node, "x"],
      C9: [capacitor(1 / (2 * Math.PI * f * X)), "x", "gnd"],
    };
    const [before, after] = [plain, { ...plain, ...trap }].map((entries) => assess(monitor(entries as never), { ratedImpedance: 2 }));
    expect(finite(after)).toEqual([]);
    expect(compare(before!, after!).verdict.sentence).not.toMatch(/NaN|Infinity/);
  });
});
