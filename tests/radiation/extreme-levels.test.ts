// Levels of maps and fields of any size: a factor is an addition of dB; no finite map gives NaN or +Infinity.
import {
  beamwidth,
  directivityIndex,
  displacementPressure,
  offAxisStability,
  polarLevels,
  polarMapFromResponses,
  powerResponse,
  radiatedPower,
  spatialAverages,
  type PolarMap,
} from "dividing-network/radiation";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const angles = Array.from({ length: 37 }, (_, i) => 10 * i - 180);
const mapOf = (scale: number, plane: "horizontal" | "vertical" = "horizontal"): PolarMap =>
  polarMapFromResponses(
    angles.map((angle) => ({
      angle,
      response: frequencyResponse([100, 1000], [scale, scale * Math.cos(angle / 150)], [-scale, scale * 0.3 * Math.sin(angle / 80)]),
    })),
    { plane },
  );

describe("polarLevels", () => {
  it.each([1e200, 1e-200, 1.7e308, 1e-305])("of a map times %d are those of the map, and the factor in dB", (scale) => {
    const [one, other] = [mapOf(1), mapOf(scale)];
    const shift = 20 * Math.log10(scale);
    polarLevels(one).forEach((level, i) => expect(polarLevels(other)[i]).toBeCloseTo(level + shift, 9));
    for (const normalize of ["axis", "maximum"] as const)
      polarLevels(one, { normalize }).forEach((level, i) => expect(polarLevels(other, { normalize })[i]).toBeCloseTo(level, 9));
    beamwidth(one).positive.forEach((angle, i) => expect(beamwidth(other).positive[i]).toBeCloseTo(angle, 8));
    expect(offAxisStability(other, { window: 60 }).figureDb).toBeCloseTo(offAxisStability(one, { window: 60 }).figureDb, 8);
  });

  it("normalised by an axis without sound are refused where there is sound beside it, with the frequency", () => {
    const map = polarMapFromResponses(
      [
        [0, 0],
        [30, 1],
        [60, 0],
      ].map(([angle, value]) => ({ angle: angle!, response: frequencyResponse([0, 500], [0, value!], [0, 0]) })),
    );
    const silent = expect.objectContaining({ code: "silent-axis", message: expect.stringContaining("got none at 500 Hz") });
    expect(() => polarLevels(map, { normalize: "axis" })).toThrow(silent);
    expect(() => beamwidth(map)).toThrow(silent);
    expect(() => offAxisStability(map, { window: 60 })).toThrow();
    expect(Array.from(polarLevels(map, { normalize: "maximum" }))).toEqual([0, -Infinity, 0, 0, 0, -Infinity]);
    expect(Array.from(polarLevels(map))).toEqual([-Infinity, -Infinity, -Infinity, 0, -Infinity, -Infinity]);
  });
});

describe("what is made of squares", () => {
  const both = (scale: number) => ({ horizontal: mapOf(scale), vertical: mapOf(scale, "vertical") });

  it("is refused when no number can hold them, and shifts by the factor otherwise", () => {
    const overflow = expect.objectContaining({ code: "overflow" });
    expect(() => powerResponse(both(1e160))).toThrow(overflow);
    expect(() => spatialAverages(both(1e160))).toThrow(overflow);
    for (const scale of [1e150, 1e-140]) {
      const shift = 20 * Math.log10(scale);
      expect(powerResponse(both(scale)).levelDb[1]! - powerResponse(both(1)).levelDb[1]!).toBeCloseTo(shift, 8);
      expect(directivityIndex(powerResponse(both(scale))).levelDb[1]).toBeCloseTo(directivityIndex(powerResponse(both(1))).levelDb[1]!, 8);
      expect(spatialAverages(both(scale)).predictedInRoom.levelDb[1]! - spatialAverages(both(1)).predictedInRoom.levelDb[1]!).toBeCloseTo(
        shift,
        8,
      );
    }
    expect(() => radiatedPower({ ...powerResponse(both(1e150)), distance: 1e100 })).toThrow(overflow);
    const power = powerResponse(both(1));
    expect(() => directivityIndex({ ...power, levelDb: power.levelDb.map(() => -Infinity) })).toThrow(
      expect.objectContaining({ code: "silent-average" }),
    );
  });
});

describe("displacementPressure", () => {
  it("refuses a pressure that no number can hold", () => {
    for (const change of [{ frequency: 1e200 }, { area: 1e300, displacement: 1e10 }, { distance: 1e-320 }]) {
      expect(() => displacementPressure({ area: 0.01, displacement: 1e-3, frequency: 100, ...change }), JSON.stringify(change)).toThrow(
        expect.objectContaining({ code: "overflow" }),
      );
    }
  });
});
