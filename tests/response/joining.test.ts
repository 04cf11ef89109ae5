// Tests src/response/: merge-at.ts, near-field.ts, smooth.ts, unit-scale.ts
import { logGrid } from "dividing-network/numeric";
import {
  baffleStepResponse,
  combineNearFields,
  delayResponse,
  farFieldFromNearField,
  frequencyResponse,
  levelDb,
  magnitude,
  mergeAt,
  multiplyResponses,
  phaseDegrees,
  responseOf,
  scaleResponse,
  smoothingBiasDb,
  smoothResponse,
  type Mark,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const w = (f: number): number => 2 * Math.PI * f;
const grid = logGrid(20, 20000, 600);
const woofer = responseOf(
  {
    zeros: [
      { re: 0, im: 0 },
      { re: 0, im: 0 },
    ],
    poles: [
      { re: -w(50) / 2, im: w(50) * 0.866 },
      { re: -w(50) / 2, im: -w(50) * 0.866 },
    ],
    gain: 1,
  },
  grid,
);
const flat = frequencyResponse(
  grid,
  grid.map(() => 1),
  grid.map(() => 0),
);

describe("merging two responses", () => {
  it("of the same thing gives that thing, with a match of 0 dB and 0°", () => {
    const merged = mergeAt(woofer, woofer, { frequency: "300 Hz" });
    expect(merged.response.re.map((re, k) => re - woofer.re[k]!).every((d) => Math.abs(d) < 1e-12)).toBe(true);
    expect([merged.levelDifferenceDb, merged.phaseDifferenceDegrees, merged.delayDifference, merged.levelSpreadDb]).toEqual(
      [0, 0, 0, 0].map((v) => expect.closeTo(v, 9)),
    );
  });

  it("reports level, phase and delay before matching, and takes them out when asked", () => {
    const off = delayResponse(scaleResponse(woofer, 1.5), 0.0004);
    const merged = mergeAt(off, woofer, { frequency: 300, overlapOctaves: 1, matchLevel: true, matchPhase: true });
    expect(merged.levelDifferenceDb).toBeCloseTo(20 * Math.log10(1.5), 3);
    expect(merged.delayDifference).toBeCloseTo(0.0004, 6);
    expect(merged.phaseDifferenceDegrees).toBeCloseTo(-360 * 300 * 0.0004, 1);
    merged.response.re.forEach((re, k) =>
      expect(Math.hypot(re - woofer.re[k]!, merged.response.im[k]! - woofer.im[k]!)).toBeLessThan(1e-3 * (1 + Math.abs(re))),
    );
  });

  it("without matching a phase difference of 90° costs 3 dB in the middle", () => {
    const turned = scaleResponse(flat, { re: 0, im: 1 });
    const { response } = mergeAt(turned, flat, { frequency: grid[300]!, overlapOctaves: 1 });
    expect(Math.min(...levelDb(response))).toBeCloseTo(-3.0103, 2);
    expect(levelDb(response)[0]).toBeCloseTo(0, 9);
  });

  it("keeps each part's marks where the part is used, and marks the splice", () => {
    const gated: Mark[] = [
      { kind: "no-data", to: 250, note: "gate" },
      { kind: "coarse", from: 250, to: 750, note: "gate" },
    ];
    const near: Mark[] = [{ kind: "coarse", from: 660, note: "ka" }];
    const merged = mergeAt(frequencyResponse(grid, woofer.re, woofer.im, near), frequencyResponse(grid, woofer.re, woofer.im, gated), {
      frequency: 400,
      overlapOctaves: 1,
    });
    const marks = merged.response.marks!;
    expect(marks.map(({ kind }) => kind)).toEqual(["coarse", "splice"]);
    expect(marks[0]!.from).toBeCloseTo(400 / Math.SQRT2, 9);
    expect(marks[0]!.to).toBe(750);
    expect(marks[1]!.note).toContain("400 Hz");
  });

  it("joins responses of different bands and densities", () => {
    const low = responseOf({ zeros: [], poles: [], gain: 2 }, logGrid(5, 900, 150));
    const high = responseOf({ zeros: [], poles: [], gain: 2 }, logGrid(150, 20000, 1500));
    const { response } = mergeAt(low, high, { frequency: 350 });
    expect(response.frequencies[0]).toBe(5);
    expect(response.frequencies.at(-1)).toBe(20000);
    expect(response.frequencies.every((f, k) => k === 0 || f > response.frequencies[k - 1]!)).toBe(true);
    magnitude(response).forEach((size) => expect(size).toBeCloseTo(2, 9));
    expect(() => mergeAt(low, high, { frequency: 160 })).toThrow(/"high" must cover the overlap/);
    expect(() => mergeAt(low, high, { frequency: 880 })).toThrow(/"low" must cover/);
    expect(() => mergeAt(low, high, { frequency: 350, crossfade: 1 } as never)).toThrow(/unknown option/);
  });
});

describe("near and far field", () => {
  it("carries the path in the phase, and 6 dB less into full space", () => {
    const far = farFieldFromNearField(flat, { radius: 0.1, distance: 1 });
    expect(phaseDegrees(far)[100]).toBeCloseTo(phaseDegrees(delayResponse(flat, 0.95 / 343.2))[100]!, 6);
    const full = farFieldFromNearField(flat, { radius: 0.1, distance: 1, space: "full" });
    expect(levelDb(far)[0]! - levelDb(full)[0]!).toBeCloseTo(6.0206, 4);
    expect(() => farFieldFromNearField(flat, { radius: 0.1, distance: 0.05 })).toThrow(/distance/);
  });

  it("the far field of a sum by radius is the sum of the far fields", () => {
    const cone = { response: woofer, radius: 0.08 };
    const port = { response: scaleResponse(woofer, { re: 0.3, im: -2 }), radius: 0.03 };
    const sum = farFieldFromNearField(combineNearFields([cone, port]), { radius: 0.08, distance: 2 });
    const one = farFieldFromNearField(cone.response, { radius: 0.08, distance: 2 });
    // The two radiators' own half radii differ in the path; take them out.
    const other = delayResponse(farFieldFromNearField(port.response, { radius: 0.03, distance: 2 }), -(0.08 - 0.03) / 2 / 343.2);
    sum.re.forEach((re, k) => expect(re).toBeCloseTo(one.re[k]! + other.re[k]!, 9));
  });

  it("marks where the cone drowns the port at the port's microphone", () => {
    const cone = { response: flat, radius: 0.1 };
    const port = {
      response: frequencyResponse(
        grid,
        grid.map((f) => (40 / f) ** 2),
        grid.map(() => 0),
      ),
      radius: 0.03,
    };
    const marks = combineNearFields([cone, port], { spacing: 0.2 }).marks!;
    expect(marks.map(({ kind }) => kind)).toEqual(["uncertain"]);
    // The cone's share at the port is 0.1/(2·0.2) = 1/4: uncertain where the port is below 1.
    expect(marks[0]!.from).toBeGreaterThan(40);
    expect(marks[0]!.from).toBeLessThan(41);
    expect(() => combineNearFields([])).toThrow(/at least one/);
  });

  it("the baffle step rises 6 dB, half of it (in dB) at 0.335 c/width, with its own phase", () => {
    const step = baffleStepResponse([0, (0.335 * 343.2) / 0.21, 1e6], { width: 0.21 });
    const levels = levelDb(step);
    expect(levels[0]).toBeCloseTo(-6.0206, 4);
    expect(levels[1]).toBeCloseTo(-3.0103, 3);
    expect(levels[2]).toBeCloseTo(0, 4);
    expect(phaseDegrees(step)[1]).toBeCloseTo(19.47, 2);
    expect(step.marks![0]!.kind).toBe("model");
  });
});

describe("smoothing", () => {
  it("changes nothing that is constant, and half an octave away from a feature nothing at all", () => {
    for (const kind of ["power", "complex"] as const) {
      smoothResponse(flat, { fraction: 3, kind }).re.forEach((re) => expect(re).toBeCloseTo(1, 12));
      const bump = frequencyResponse(
        grid,
        grid.map((_, k) => (k === 300 ? 2 : 1)),
        grid.map(() => 0),
      );
      const smooth = smoothResponse(bump, { fraction: 3, kind, delay: 0 });
      expect(smooth.re[300]).toBeLessThan(1.2);
      grid.forEach((f, k) => {
        if (Math.abs(Math.log2(f / grid[300]!)) > 0.2) expect(smooth.re[k]).toBeCloseTo(1, 12);
      });
    }
  });

  it.each([
    [3, 24],
    [6, 12],
    [1, 12],
    [12, -18],
  ])("reads high by the stated bias: 1/%d octave on %d dB per octave", (fraction, slope) => {
    const dense = logGrid(20, 20000, 6000);
    const tilted = frequencyResponse(
      dense,
      dense.map((f) => 10 ** ((slope * Math.log2(f / 1000)) / 20)),
      dense.map(() => 0),
    );
    const change = levelDb(smoothResponse(tilted, { fraction }))[3000]! - levelDb(tilted)[3000]!;
    expect(change).toBeCloseTo(smoothingBiasDb({ fraction, slope }), 4);
  });

  it("keeps the phase in power, and reads sin(x)/x low in complex where the phase turns", () => {
    const turning = delayResponse(flat, 0.0005);
    const power = smoothResponse(turning, { fraction: 3 });
    expect(phaseDegrees(power)[500]).toBeCloseTo(phaseDegrees(turning)[500]!, 6);
    // With the delay taken out, nothing turns; with a wrong delay, the mean shrinks.
    magnitude(smoothResponse(turning, { fraction: 3, kind: "complex" })).forEach((size) => expect(size).toBeCloseTo(1, 6));
    const dense = logGrid(500, 2000, 4000);
    const late = frequencyResponse(
      dense,
      dense.map((f) => Math.cos(w(f) * 0.001)),
      dense.map((f) => -Math.sin(w(f) * 0.001)),
    );
    const k = dense.findIndex((f) => f >= 1000);
    const x = Math.PI * 0.001 * 1000 * 2 * Math.sinh(Math.LN2 / 12);
    expect(magnitude(smoothResponse(late, { fraction: 6, kind: "complex", delay: 0 }))[k]).toBeCloseTo(Math.sin(x) / x, 2);
  });

  it("holds 200 dB below the loudest part of the band, where a plain running sum would be rounding", () => {
    const dense = logGrid(20, 20000, 2000);
    const steep = frequencyResponse(
      dense,
      dense.map((f) => (f < 200 ? 1 : 1e-10)),
      dense.map(() => 0),
    );
    expect(levelDb(smoothResponse(steep, { fraction: 6 }))[1900]).toBeCloseTo(-200, 9);
  });

  it("marks its result, leaves its input alone and takes 0 Hz along", () => {
    const linear = frequencyResponse([0, 100, 200, 300], [3, 1, 1, 1], [0, 0, 0, 0]);
    const smooth = smoothResponse(linear, { fraction: 1 });
    expect(smooth.re[0]).toBe(3);
    expect(smooth.marks).toEqual([{ kind: "smoothed", note: "power-smoothed over 1/1 octave" }]);
    expect([...linear.re]).toEqual([3, 1, 1, 1]);
    expect(() => smoothResponse(linear, { fraction: 0 })).toThrow(/fraction/);
    expect(() => smoothResponse(linear, { fraction: 3, kind: "level" } as never)).toThrow(/one of/);
    expect(multiplyResponses(smooth, smooth).marks).toHaveLength(1);
  });
});
