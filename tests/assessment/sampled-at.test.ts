// A notch of the network that is narrower than the measured points: everything is judged all the same. Values between samples by hand.
import { assess, compare } from "dividing-network/assessment";
import { logGrid } from "dividing-network/numeric";
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

  it("keeps the size of sound that flew for 3 ms, all around a notch between two samples", () => {
    // 48 points an octave: at 10 kHz the flight turns the phase by more than 150° from one to the next. A flip of sign at 1 kHz is all that isn't flight.
    const grid = logGrid(200, 16_000, 304);
    const late = (f: number) => -2 * Math.PI * f * 3e-3;
    const sign = (f: number) => (f < 1000 ? 1 : -1);
    const flown = frequencyResponse(grid, grid.map((f) => sign(f) * Math.cos(late(f))), grid.map((f) => sign(f) * Math.sin(late(f)))); // prettier-ignore
    expect(() => resample(flown, [1000])).toThrow(expect.objectContaining({ code: "phase-step" }));
    const between = grid.slice(1).map((f, i) => Math.sqrt(f * grid[i]!));
    const { re, im } = sampledAt(flown, between);
    between.forEach((f, i) => {
      if (Math.abs(f / 1000 - 1) > 0.02) expect([re[i], im[i]]).toEqual([sign(f) * Math.cos(late(f)), sign(f) * Math.sin(late(f))].map((x) => expect.closeTo(x, 2)));
    }); // prettier-ignore
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
