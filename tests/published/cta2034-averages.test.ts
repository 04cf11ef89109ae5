// Source: after ANSI/CTA-2034-A (angle sets, weights, predicted in-room response) and Devantier (2002).
// Provenance: from memory, except the early reflections' sets, seen quoted in a secondary text that calls the rear wall's set ambiguous. Nothing here is the
// standard's own figure: the test holds what was recalled, so that a change of it is noticed.
// Zonal weights: exact geometry, recomputed; after Tylka & Choueiri (2014) for their use.
import { polarMapFromResponses, spatialAverages, type PolarMap } from "dividing-network/radiation";
import { zonalWeights } from "../../src/radiation/internal";
import { frequencyResponse } from "dividing-network/response";
import { expect, it } from "vitest";
import { published } from "./standing";

const angles = Array.from({ length: 36 }, (_, i) => 10 * i - 170);
/** A map with one value per angle. */
const mapOf = (plane: "horizontal" | "vertical", pressure: (angle: number) => number): PolarMap =>
  polarMapFromResponses(
    angles.map((angle) => ({ angle, response: frequencyResponse([1000], [pressure(angle)], [0]) })),
    { plane },
  );
const energy = (db: Float64Array): number => 10 ** (db[0]! / 10);
const horizontal = (angle: number): number => 1 + 0.3 * Math.cos((angle * Math.PI) / 180) + 0.001 * angle;
const vertical = (angle: number): number =>
  1 + 0.3 * Math.cos((angle * Math.PI) / 180) + (angle === 0 || angle === 180 ? 0.001 * angle : 0.002 * angle);
const maps = { horizontal: mapOf("horizontal", horizontal), vertical: mapOf("vertical", vertical) };
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b * b, 0) / values.length;
const both = (list: readonly number[]): number[] => list.flatMap((angle) => [horizontal(angle), horizontal(-angle)]);

published("from-memory", "spatial averages", () => {
  const averages = spatialAverages(maps);

  it("take nine curves for the listening window", () => {
    const set = [horizontal(0), ...both([10, 20, 30]), vertical(10), vertical(-10)];
    expect(set).toHaveLength(9);
    expect(energy(averages.listeningWindow.levelDb)).toBeCloseTo(mean(set), 12);
  });

  it("take five bounces for the early reflections, in either reading of the rear wall", () => {
    const sets = [
      [-20, -30, -40].map(vertical),
      [40, 50, 60].map(vertical),
      [horizontal(0), ...both([10, 20, 30])],
      both([40, 50, 60, 70, 80]),
      [...both([90, 100, 110, 120, 130, 140, 150, 160, 170]), horizontal(180)],
    ];
    expect(
      [averages.floorBounce, averages.ceilingBounce, averages.frontWallBounce, averages.sideWallBounce, averages.rearWallBounce].map(
        ({ levelDb }) => energy(levelDb),
      ),
    ).toEqual(sets.map((set) => expect.closeTo(mean(set), 12) as number));
    expect(energy(averages.earlyReflections.levelDb)).toBeCloseTo(
      sets.reduce((sum, set) => sum + mean(set) / 5, 0),
      12,
    );
    const other = spatialAverages(maps, { rearWall: "three-angles", earlyReflections: "mean-of-angles" });
    sets[4] = [horizontal(90), horizontal(-90), horizontal(180)];
    expect(energy(other.rearWallBounce.levelDb)).toBeCloseTo(mean(sets[4]), 12);
    expect(energy(other.earlyReflections.levelDb)).toBeCloseTo(mean(sets.flat()), 12);
    expect(averages.readings.join()).not.toBe(other.readings.join());
  });

  it("weigh 70 points for the sound power, and divide by the sum of the weights", () => {
    const w = [
      0.000604486, 0.004730189, 0.008955027, 0.012387354, 0.014989611, 0.016868154, 0.018165962, 0.019006744, 0.019477787, 0.019629373,
    ];
    const weight = (angle: number): number => w[Math.abs(angle) <= 90 ? Math.abs(angle) / 10 : 18 - Math.abs(angle) / 10]!;
    let [sum, total, points] = [0, 0, 0];
    for (const angle of angles) {
      for (const value of angle === 0 || angle === 180 ? [horizontal(angle)] : [horizontal(angle), vertical(angle)]) {
        sum += weight(angle) * value ** 2;
        total += weight(angle);
        points++;
      }
    }
    expect(points).toBe(70);
    expect(total).toBeGreaterThan(0.996);
    expect(total).toBeLessThan(0.998);
    expect(energy(averages.soundPower.levelDb)).toBeCloseTo(sum / total, 12);
  });

  it("add 12 %, 44 % and 44 % for the predicted in-room response, and subtract levels for the indices", () => {
    const [window, early, power] = [averages.listeningWindow, averages.earlyReflections, averages.soundPower].map(({ levelDb }) =>
      energy(levelDb),
    ) as [number, number, number];
    expect(energy(averages.predictedInRoom.levelDb)).toBeCloseTo(0.12 * window + 0.44 * early + 0.44 * power, 12);
    expect(averages.soundPowerDirectivityIndex.levelDb[0]).toBeCloseTo(10 * Math.log10(window / power), 12);
    expect(averages.earlyReflectionsDirectivityIndex.levelDb[0]).toBeCloseTo(10 * Math.log10(window / early), 12);
  });

  it("say that they stand on memory", () => {
    expect(averages.predictedInRoom.marks?.at(-1)?.note).toMatch(/recalled from memory/);
  });

  it("interpolate other steps in level, and refuse maps that do not go around", () => {
    const coarse = (pressure: (angle: number) => number, plane: "horizontal" | "vertical"): PolarMap =>
      polarMapFromResponses(
        Array.from({ length: 25 }, (_, i) => 15 * i - 180).map((angle) => ({
          angle,
          response: frequencyResponse([1000], [pressure(angle)], [0]),
        })),
        { plane },
      );
    const steady = spatialAverages({
      horizontal: coarse((angle) => 10 ** (-Math.abs(angle) / 200), "horizontal"),
      vertical: coarse(() => 1, "vertical"),
    });
    expect(steady.sideWallBounce.levelDb[0]).toBeCloseTo(
      10 * Math.log10([40, 50, 60, 70, 80].reduce((sum, angle) => sum + 10 ** (-angle / 100) / 5, 0)),
      10,
    );
    const half = polarMapFromResponses([-90, 0, 90].map((angle) => ({ angle, response: frequencyResponse([1000], [1], [0]) })));
    expect(() => spatialAverages({ horizontal: half, vertical: maps.vertical })).toThrow(/must reach/);
    expect(() => spatialAverages({ horizontal: maps.horizontal } as never)).toThrow(/horizontal and a vertical/);
  });
});

published("recomputed", "exact zonal weights", () => {
  it("are (cos lo − cos hi)/2 at steps of 10°", () => {
    const digits = "0.001903 0.015134 0.029809 0.043578 0.056023 0.066765 0.075479 0.081900 0.085832 0.087156".split(" ");
    const weights = zonalWeights(Array.from({ length: 19 }, (_, i) => 10 * i));
    digits.forEach((value, i) => {
      expect(Math.abs(weights[i]! - Number(value))).toBeLessThanOrEqual(5e-7);
      expect(weights[18 - i]).toBeCloseTo(weights[i]!, 15);
    });
  });
});
