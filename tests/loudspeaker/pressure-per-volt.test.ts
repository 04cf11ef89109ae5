import { describe, expect, it } from "vitest";
import { pressurePerVolt } from "dividing-network/loudspeaker";
import { grid, over, sampled, times, turned } from "./by-hand";

const response = sampled((f) => turned(1 + f / 1000, -f / 50));
const measured = { response, drive: { voltage: 2, at: "terminals" }, distance: 1, timeZero: "common" } as const;

describe("a pressure per volt", () => {
  it("is the measured pressure divided by the voltage at the terminals", () => {
    const perVolt = pressurePerVolt(measured);
    expect(perVolt.response.re).toEqual(response.re.map((value) => value / 2));
    expect(perVolt.response.im).toEqual(response.im.map((value) => value / 2));
    expect(perVolt).toMatchObject({ distance: 1, azimuth: 0, elevation: 0, rotationCentre: [0, 0, 0], timed: true });
  });

  it("is divided by the network's V(driver)/V(source) as well, complex, when the drive was at the input", () => {
    const transfer = sampled((f) => turned(0.5 + f / 40_000, 30 - f / 400));
    const { response: perVolt } = pressurePerVolt({ ...measured, drive: { voltage: "2 V", at: "input" } }, transfer);
    grid.forEach((f, index) => {
      const [re, im] = over(over(turned(1 + f / 1000, -f / 50), [2, 0]), turned(0.5 + f / 40_000, 30 - f / 400));
      expect(perVolt.re[index]).toBeCloseTo(re, 12);
      expect(perVolt.im[index]).toBeCloseTo(im, 12);
    });
  });

  it("takes a transfer on another grid, as long as it covers the pressure's", () => {
    const wider = Float64Array.from({ length: 97 }, (_, index) => 100 * 2 ** (index / 12));
    const transfer = sampled((f) => over([1, 0], [1, f / 3000]), wider);
    const { response: perVolt } = pressurePerVolt({ ...measured, drive: { voltage: 2, at: "input" } }, transfer);
    grid.forEach((f, index) => {
      const [re, im] = times(times(turned(1 + f / 1000, -f / 50), [0.5, 0]), [1, f / 3000]);
      // Interpolated at 12 points an octave.
      expect(Math.hypot(perVolt.re[index]! - re, perVolt.im[index]! - im) / Math.hypot(re, im)).toBeLessThan(1e-3);
    });
    expect(() =>
      pressurePerVolt(
        { ...measured, drive: { voltage: 2, at: "input" } },
        sampled(() => [1, 0], [500, 1000]),
      ),
    ).toThrowError(expect.objectContaining({ code: "outside-band" }));
  });

  it("holds the flight from the common time zero: a stated delay is added to the phase", () => {
    const delayed = pressurePerVolt({ ...measured, timeZero: { delay: "0.1 ms" } });
    grid.forEach((f, index) => {
      const [re, im] = times(turned((1 + f / 1000) / 2, -f / 50), turned(1, -360 * f * 1e-4));
      expect(delayed.response.re[index]).toBeCloseTo(re, 10);
      expect(delayed.response.im[index]).toBeCloseTo(im, 10);
    });
    expect(delayed.timed).toBe(true);
    expect(pressurePerVolt({ ...measured, timeZero: "unknown" }).timed).toBe(false);
  });

  it("keeps the marks of what was measured", () => {
    const marks = [{ kind: "coarse", to: 300, note: "gated" }] as const;
    expect(pressurePerVolt({ ...measured, response: { ...response, marks } }).response.marks).toEqual(marks);
  });

  it("asks for the transfer when the drive was at the input, and names the measurement", () => {
    expect(() => pressurePerVolt({ ...measured, drive: { voltage: 2, at: "input" }, label: "cone-20.txt" })).toThrowError(
      expect.objectContaining({ code: "missing-transfer", message: expect.stringContaining("cone-20.txt") as unknown }),
    );
  });

  it("assumes nothing that isn't stated", () => {
    const wrong = (change: object, code: string) =>
      expect(() => pressurePerVolt({ ...measured, ...change }), JSON.stringify(change)).toThrowError(expect.objectContaining({ code }));
    wrong({ timeZero: undefined }, "invalid-argument");
    wrong({ timeZero: "shared" }, "invalid-argument");
    wrong({ drive: undefined }, "invalid-argument");
    wrong({ drive: { voltage: 0, at: "terminals" } }, "invalid-argument");
    wrong({ drive: { voltage: "2 mA", at: "terminals" } }, "invalid-quantity");
    wrong({ drive: { voltage: 2 } }, "invalid-argument");
    wrong({ distance: 0 }, "invalid-argument");
    wrong({ distance: undefined }, "invalid-argument");
    wrong({ azimuth: 200 }, "invalid-argument");
    wrong({ elevation: NaN }, "invalid-argument");
    wrong({ rotationCentre: [0, 0] }, "invalid-argument");
    wrong({ angle: 20 }, "unknown-option");
    wrong({ response: undefined }, "invalid-response");
    expect(() => pressurePerVolt(undefined as never)).toThrowError(expect.objectContaining({ name: "DividingNetworkError" }));
  });

  it("changes neither the measurement nor the transfer", () => {
    const transfer = sampled((f) => turned(0.5, f / 400));
    const copies = [response.re, response.im, transfer.re, transfer.im].map((values) => Float64Array.from(values));
    const perVolt = pressurePerVolt({ ...measured, drive: { voltage: 2, at: "input" }, timeZero: { delay: 1e-3 } }, transfer);
    expect([response.re, response.im, transfer.re, transfer.im]).toEqual(copies);
    expect(Object.isFrozen(perVolt)).toBe(true);
  });
});
