// Tests src/loudspeaker/: plane-angle.ts
// Polar data of an actual network and drivers: synthetic monopoles against closed forms, and the invented example.
// Source: two point sources far away: |cos((kd sin θ + ψ)/2)|, after Linkwitz (1976). Provenance: recomputed.
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { loudspeaker, polarMapOf, predict, pressureAtPlace, pressurePerVolt, type PressurePerVolt } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { readProject } from "dividing-network/project";
import {
  angularWindow,
  beamwidth,
  coverage,
  directivityIndex,
  lobeTilt,
  offAxisStability,
  polarLevels,
  powerResponse,
  responseAtAngle,
  spatialAverages,
} from "dividing-network/radiation";
import { levelDb } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { flight, sampled, speed } from "./by-hand";

const c = speed(20);
const radians = (angle: number): number => (angle * Math.PI) / 180;
const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);
type XYZ = readonly [number, number, number];

const microphone = (azimuth: number, elevation: number, distance: number): XYZ => [
  distance * Math.cos(radians(elevation)) * Math.cos(radians(azimuth)),
  distance * Math.cos(radians(elevation)) * Math.sin(radians(azimuth)),
  distance * Math.sin(radians(elevation)),
];

/** What a microphone records of a monopole, 1 Pa at 1 m for a volt. */
function measured([x, y, z]: XYZ, azimuth: number, elevation: number, distance: number, frequencies?: ArrayLike<number>): PressurePerVolt {
  const [mx, my, mz] = microphone(azimuth, elevation, distance);
  const response = sampled(flight(Math.hypot(mx - x, my - y, mz - z), c), frequencies);
  return pressurePerVolt({ response, drive: { voltage: 1, at: "terminals" }, distance, azimuth, elevation, timeZero: "common" });
}

describe("two monopoles one above the other, 15 cm apart, measured from afar", () => {
  const spacing = 0.15;
  const far = 2000;
  const frequencies = [1500, 3000];
  const wave = c / 3000;
  const place = (z: number, elevations: readonly number[]) =>
    elevations.map((elevation) => measured([0, 0, z], 0, elevation, far, frequencies));
  const box = (elevations: readonly number[], network: Parameters<typeof loudspeaker>[0]["network"]) =>
    predict(
      loudspeaker({
        network,
        drivers: [
          { name: "upper", position: [0, 0, spacing / 2], pressures: place(spacing / 2, elevations) },
          { name: "lower", position: [0, 0, -spacing / 2], pressures: place(-spacing / 2, elevations) },
        ],
      }),
      { voltage: 1 },
    );
  const alike = { upper: [resistor(8), "in", "gnd"], lower: [resistor(8), "in", "gnd"] } as const;
  const half = Math.asin(wave / (2 * spacing)) * (180 / Math.PI);

  it("cancel where half a wavelength lies between them, on both sides, and add on the axis", () => {
    const map = polarMapOf(box([-half, 0, half], alike), { plane: "vertical" });
    const levels = polarLevels(map, { normalize: "axis" });
    expect(levels[1]).toBeLessThan(-70);
    expect(levels[5]).toBeLessThan(-70);
    expect(levelDb(responseAtAngle(map, 0))[1]).toBeCloseTo(20 * Math.log10(2 / Math.hypot(far, spacing / 2)), 9);
  });

  it("have the angular window of the closed form", () => {
    const map = polarMapOf(box(steps(-20, 20, 0.25), alike), { plane: "vertical" });
    const window = (Math.asin((wave / (Math.PI * spacing)) * Math.acos(10 ** (-3 / 20))) * 180) / Math.PI;
    const found = angularWindow(map, { withinDb: 3, from: 2000, to: 4000 });
    expect(found.positive).toBeCloseTo(window, 2);
    expect(found.negative).toBeCloseTo(window, 2);
    expect(found.positiveFrequency).toBe(3000);
  });

  it("behind a first-order network of 3 kHz tilt the lobe to the driver that lags", () => {
    const w = 2 * Math.PI * 3000;
    const tilt = (Math.asin(wave / (4 * spacing)) * 180) / Math.PI;
    expect(lobeTilt({ order: 1, spacing, frequency: 3000, air: { speedOfSound: c } }).tilt).toBeCloseTo(-tilt, 9);
    const firstOrder = {
      C1: [capacitor(1 / (w * 8)), "in", "a"],
      upper: [resistor(8), "a", "gnd"],
      L1: [inductor(8 / w), "in", "b"],
      lower: [resistor(8), "b", "gnd"],
    } as const;
    const map = polarMapOf(box([-tilt - 2, -tilt, -tilt + 2, 0, tilt], firstOrder), { plane: "vertical" });
    const levels = [0, 1, 2, 3, 4].map((i) => polarLevels(map, { normalize: "axis" })[2 * i + 1]!);
    expect(levels[1]).toBeCloseTo(10 * Math.log10(2), 3);
    expect(Math.max(...levels)).toBe(levels[1]);
    // On the other side they cancel: each is 45° from the axis, 90° off together with the path.
    expect(levels[4]).toBeLessThan(-60);
  });

  it("are maps of one driver when one is asked for, in the network's phase", () => {
    const prediction = box([-half, 0, half], alike);
    const map = polarMapOf(prediction, { plane: "vertical", driver: "upper" });
    expect(polarLevels(map, { normalize: "axis" }).every((level) => Math.abs(level) < 1e-3)).toBe(true);
    expect(responseAtAngle(map, 0).im).toEqual(pressureAtPlace(prediction, { distance: far, azimuth: 0, elevation: 0 }).branches.upper!.im);
    expect(() => polarMapOf(prediction, { plane: "vertical", driver: "middle" })).toThrow(
      /"driver" must be one of "upper", "lower", got "middle"/,
    );
    expect(() => polarMapOf(prediction, { plane: "vertical", driver: "toString" })).toThrow(/"driver" must be/);
  });
});

describe("the sides of a polar map", () => {
  // Half a metre to the loudspeaker's own left: nearer to a microphone at positive azimuth.
  const prediction = predict(
    loudspeaker({
      network: { a: [resistor(8), "in", "gnd"] },
      drivers: [
        {
          name: "a",
          pressures: [
            ...steps(-90, 90, 10).map((azimuth) => measured([0, 0.5, 0], azimuth, 0, 1)),
            ...[-30, 30].map((elevation) => measured([0, 0.5, 0], 0, elevation, 1)),
          ],
        },
      ],
    }),
    { voltage: 1 },
  );

  it("are azimuths in the horizontal plane, positive towards +y", () => {
    const levels = polarLevels(polarMapOf(prediction, { distance: "1 m" }));
    const n = prediction.frequencies.length;
    expect(levels[18 * n]).toBeCloseTo(20 * Math.log10(1 / 0.5), 9);
    expect(levels[0]).toBeCloseTo(20 * Math.log10(1 / 1.5), 9);
    const stability = offAxisStability(polarMapOf(prediction), { window: 90 });
    expect(stability.positive.worst).toMatchObject({ angle: 90 });
    expect(stability.positive.worst.deviationDb).toBeCloseTo(20 * Math.log10(Math.hypot(1, 0.5) / 0.5), 9);
    expect(stability.negative.worst.deviationDb).toBeCloseTo(20 * Math.log10(Math.hypot(1, 0.5) / 1.5), 9);
  });

  it("are elevations in the vertical plane, and take no place of the other", () => {
    expect(Array.from(polarMapOf(prediction, { plane: "vertical" }).angles)).toEqual([-30, 0, 30]);
    expect(polarMapOf(prediction, { plane: "vertical" }).plane).toBe("vertical");
  });
});

describe("a loudspeaker measured all around", () => {
  const around = steps(-170, 180, 10);
  const behind = steps(-80, 80, 10);
  const one = predict(
    loudspeaker({
      network: { a: [resistor(8), "in", "gnd"] },
      drivers: [
        {
          name: "a",
          pressures: [
            ...around.map((azimuth) => measured([0, 0, 0], azimuth, 0, 2)),
            ...steps(-90, 90, 10).map((elevation) => measured([0, 0, 0], 0, elevation, 2)),
            // The rear of the vertical circle, as a turntable's operator writes it: azimuth 180°.
            ...behind.map((elevation) => measured([0, 0, 0], 180, elevation, 2)),
          ],
        },
      ],
    }),
    { voltage: 1 },
  );
  const maps = { horizontal: polarMapOf(one), vertical: polarMapOf(one, { plane: "vertical" }) };

  it("has a vertical circle that goes on over the top to the back", () => {
    expect(Array.from(maps.vertical.angles)).toEqual([...steps(-170, 180, 10)]);
  });

  it("has the averages of a monopole: no directivity, and the same level in the room", () => {
    const level = 20 * Math.log10(0.5);
    directivityIndex(powerResponse(maps)).levelDb.forEach((value) => expect(value).toBeCloseTo(0, 9));
    const averages = spatialAverages(maps);
    averages.predictedInRoom.levelDb.forEach((value) => expect(value).toBeCloseTo(level, 9));
    averages.soundPowerDirectivityIndex.levelDb.forEach((value) => expect(value).toBeCloseTo(0, 9));
    expect(coverage(maps.horizontal).nominal).toBeCloseTo(350, 9);
    expect(powerResponse(maps).marks?.some(({ kind }) => kind === "model")).toBe(true);
  });
});

describe("polarMapOf refuses", () => {
  const prediction = predict(
    loudspeaker({
      network: { a: [resistor(8), "in", "gnd"] },
      drivers: [{ name: "a", pressures: [measured([0, 0, 0], 0, 0, 1), measured([0, 0, 0], 20, 0, 1), measured([0, 0, 0], 0, 0, 2)] }],
    }),
  );

  it("to choose a distance among several, one that was not measured, and a plane with the axis alone", () => {
    expect(() => polarMapOf(prediction)).toThrow(/which of 1 m, 2 m/);
    expect(() => polarMapOf(prediction, { distance: 3 })).toThrowError(expect.objectContaining({ code: "not-measured" }));
    expect(() => polarMapOf(prediction, { distance: 2 })).toThrowError(
      expect.objectContaining({ code: "not-measured", message: expect.stringMatching(/horizontal.*2 m.*got 1/) as unknown }),
    );
    expect(() => polarMapOf(prediction, { distance: 1, plane: "vertical" })).toThrowError(
      expect.objectContaining({ code: "not-measured" }),
    );
    expect(() => polarMapOf({ places: [] })).toThrowError(expect.objectContaining({ code: "not-measured" }));
  });

  it("options that it doesn't know and words for planes", () => {
    expect(() => polarMapOf(prediction, { distance: 1, plan: "vertical" } as never)).toThrowError(
      expect.objectContaining({ code: "unknown-option" }),
    );
    expect(() => polarMapOf(prediction, { distance: 1, plane: "lateral" as never })).toThrow(/"plane"/);
    expect(() => polarMapOf(prediction, { distance: "1 s" as never })).toThrowError(expect.objectContaining({ code: "invalid-quantity" }));
  });
});

describe("the invented desk monitor", () => {
  it("gives polar data of the sum at the measured angles alone, with its gate's marks", async () => {
    const folder = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
    const { found } = await readProject(await readFile(`${folder}project.json`, "utf8"), {
      file: "project.json",
      readFile: (path) => readFile(folder + path, "utf8"),
    });
    const prediction = predict(found);
    const horizontal = polarMapOf(prediction, { distance: 1 });
    const vertical = polarMapOf(prediction, { distance: 1, plane: "vertical" });
    expect(Array.from(horizontal.angles)).toEqual(steps(-60, 60, 10));
    expect(Array.from(vertical.angles)).toEqual(steps(-20, 20, 10));
    for (const angle of [-40, 0, 60]) {
      const { sum } = pressureAtPlace(prediction, { distance: 1, azimuth: angle, elevation: 0 });
      expect(responseAtAngle(horizontal, angle)).toMatchObject({ re: sum.re, im: sum.im });
    }
    expect(horizontal.marks?.map(({ kind }) => kind)).toContain("no-data");
    // The drivers stand side by side: the window is narrower across than upright.
    const band = { from: 2000, to: 5000 };
    const across = angularWindow(horizontal, { withinDb: 3, ...band });
    const upright = angularWindow(vertical, { withinDb: 3, ...band });
    expect(Math.min(across.positive, across.negative)).toBeLessThan(Math.min(upright.positive, upright.negative));
    expect(beamwidth(horizontal).positive.every((angle) => angle > 0 && angle <= 60)).toBe(true);
    expect(() => powerResponse({ horizontal, vertical })).toThrowError(expect.objectContaining({ code: "outside-measured-range" }));
    expect(() => spatialAverages({ horizontal, vertical })).toThrowError(expect.objectContaining({ code: "missing-angle" }));
  });
});
