// Tests src/physics/: air.ts
// One option for the air in the whole library: every function that needs it takes `air`, and `air` alone, in the same two forms.
import { DividingNetworkError } from "dividing-network/errors";
import {
  thieleSmall,
  displacementLevelDb,
  parametersFromAddedMass,
  parametersFromKnownVolume,
  volumeDisplacementFromLevel,
} from "dividing-network/parts";
import { airDensity, speedOfSound, type Air } from "dividing-network/physics";
import { checkAir } from "../../src/physics/internal";
import {
  arrayLobes,
  displacementPressure,
  listenerSensitivity,
  lobeTilt,
  pointSource,
  polarMap,
  powerResponse,
  pressureAt,
  radiatedPower,
  sphereMap,
  twoSourceLobes,
  twoSourceWindow,
} from "dividing-network/radiation";
import {
  baffleStepResponse,
  farFieldFromNearField,
  frequencyResponse,
  gateFromGeometry,
  relativeAcousticOffset,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const grid = [500, 1000, 2000, 4000, 8000];
const low = frequencyResponse(grid, [1, 0.8, 0.5, 0.2, 0.06], [-0.1, -0.4, -0.5, -0.4, -0.2]);
const high = frequencyResponse(grid, [0.06, 0.2, 0.5, 0.8, 1], [0.2, 0.4, 0.5, 0.4, 0.1]);
const both = frequencyResponse(grid, [1.06, 1, 1, 1, 1.06], [0.1, 0, 0.2, 0, -0.1]);
const driver = { re: 6, fs: 50, qms: 4, qes: 0.5, sd: 0.0135 };
const pair = { spacing: 0.15, frequency: 3000 };
const source = [pointSource()];
const power = powerResponse(sphereMap(source, [1000], { stepDegrees: 45 }));

/** Every function with the option, and a number that depends on the air. */
const takers: readonly (readonly [name: string, of: (air?: Air, more?: object) => number])[] = [
  [
    "thieleSmall",
    (air, more) => thieleSmall({ re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2, sd: 0.0135, ...(air && { air }), ...more }).vas,
  ],
  [
    "parametersFromAddedMass",
    (air, more) => parametersFromAddedMass({ ...driver, addedMass: 0.01, fsWithMass: 40, ...(air && { air }), ...more }).vas,
  ],
  [
    "parametersFromKnownVolume",
    (air, more) => parametersFromKnownVolume({ ...driver, volume: 0.01, fc: 100, ...(air && { air }), ...more }).cms,
  ],
  [
    "displacementLevelDb",
    (air, more) => displacementLevelDb({ displacement: 1e-3, sd: 0.0135, frequency: 50, ...(air && { air }), ...more }),
  ],
  ["volumeDisplacementFromLevel", (air, more) => volumeDisplacementFromLevel({ levelDb: 90, frequency: 50, ...(air && { air }), ...more })],
  ["baffleStepResponse", (air, more) => baffleStepResponse([1000], { width: 0.2, ...(air && { air }), ...more }).re[0]!],
  ["farFieldFromNearField", (air, more) => farFieldFromNearField(low, { radius: 0.08, distance: 1, ...(air && { air }), ...more }).re[1]!],
  [
    "gateFromGeometry",
    (air, more) => gateFromGeometry({ distance: 1, sourceHeight: 1, microphoneHeight: 1, ...(air && { air }), ...more }).duration,
  ],
  [
    "relativeAcousticOffset",
    (air, more) =>
      relativeAcousticOffset({ first: low, second: high, both, polarity: "same", ...(air && { air }), ...more }).offsetUncertainty,
  ],
  [
    "displacementPressure",
    (air, more) => displacementPressure({ area: 0.0132, displacement: 1e-3, frequency: 50, ...(air && { air }), ...more }).pressure,
  ],
  ["twoSourceLobes", (air, more) => twoSourceLobes({ ...pair, ...(air && { air }), ...more }).nulls[0]!],
  ["twoSourceWindow", (air, more) => twoSourceWindow({ ...pair, withinDb: 3, ...(air && { air }), ...more }).up],
  ["lobeTilt", (air, more) => lobeTilt({ order: 3, ...pair, ...(air && { air }), ...more }).tilt!],
  ["arrayLobes", (air, more) => arrayLobes({ count: 3, ...pair, ...(air && { air }), ...more }).nulls[0]!],
  ["pressureAt", (air, more) => pressureAt(source, [1000], { points: [[2, 0, 0]], ...(air && { air }), ...more }).re[0]!],
  ["polarMap", (air, more) => polarMap(source, [1000], { angles: [0], ...(air && { air }), ...more }).re[0]!],
  ["sphereMap", (air, more) => sphereMap(source, [1000], { stepDegrees: 45, ...(air && { air }), ...more }).re[0]!],
  [
    "listenerSensitivity",
    (air, more) =>
      listenerSensitivity([source[0]!, pointSource({ position: [0, 0, 0.3] })], [1000], {
        point: [2, 0, 0.5],
        ...(air && { air }),
        ...more,
      }).heightDbPerMetre[0]!,
  ],
  ["radiatedPower", (air, more) => radiatedPower(power, { ...(air && { air }), ...more })[0]!],
];

describe.each(takers)("%s", (name, of) => {
  it("takes the air's state, and what follows from it stated directly, for the same", () => {
    const state = { temperature: 30, humidity: 60, pressure: 95_000 };
    const stated = { speedOfSound: speedOfSound(state), density: airDensity(state) };
    expect(of(state)).toBe(of(stated));
    expect(of()).toBe(of({ temperature: "20 °C", humidity: 0, pressure: "101.325 kPa" }));
    expect(of()).toBe(of({ speedOfSound: speedOfSound(), density: airDensity() }));
    expect(of(state)).not.toBe(of());
  });

  it("takes it as `air` alone, and refuses what is unknown, out of range or said twice, by its own name", () => {
    for (const key of ["speedOfSound", "airDensity", "density", "temperature", "humidity", "pressure"]) {
      expect(() => of(undefined, { [key]: 20 }), key).toThrow(expect.objectContaining({ code: "unknown-option" }));
    }
    for (const [air, code, message] of [
      [{ altitude: 300 }, "unknown-option", /"air": unknown option "altitude"/],
      [{ temperature: 120 }, "invalid-argument", /"air\.temperature" must be/],
      [{ humidity: 101 }, "invalid-argument", /"air\.humidity" must be/],
      [{ pressure: 101 }, "invalid-argument", /"air\.pressure" must be/],
      [{ temperature: 90, humidity: 100, pressure: 50_000 }, "invalid-argument", /"humidity" must be at most/],
      [{ speedOfSound: 0 }, "invalid-argument", /"air\.speedOfSound" must be/],
      [{ density: Number.NaN }, "invalid-argument", /"air\.density" must be/],
      [{ temperature: 20, density: 1.2 }, "invalid-argument", /got both/],
      [20, "invalid-argument", /must be an object/],
    ] as const) {
      try {
        of(air as Air);
        throw new Error(`${JSON.stringify(air)} was not refused`);
      } catch (error) {
        expect(error).toBeInstanceOf(DividingNetworkError);
        expect((error as DividingNetworkError).code).toBe(code);
        expect((error as Error).message).toMatch(message);
        expect((error as Error).message.startsWith(`${name}:`)).toBe(true);
      }
    }
  });
});

describe("checkAir", () => {
  it("completes what is stated in part by dry air at 20 °C, and keeps no object of its caller's", () => {
    expect(checkAir("f", { speedOfSound: 343 })).toEqual({ speedOfSound: 343, density: airDensity(), conditions: undefined });
    expect(checkAir("f", { density: 1.2 }).speedOfSound).toBe(speedOfSound());
    expect(checkAir("f", undefined)).toEqual({ speedOfSound: speedOfSound(), density: airDensity(), conditions: {} });
    const given = { temperature: 10 };
    const { conditions } = checkAir("f", given);
    given.temperature = 50;
    expect(conditions).toEqual({ temperature: 10 });
    expect(Object.isFrozen(conditions)).toBe(true);
  });

  it("leaves absorption to the state: from speed and density it doesn't follow", () => {
    expect(() => pressureAt(source, [1000], { points: [[2, 0, 0]], absorption: true, air: { speedOfSound: 343 } })).toThrow(
      /"air" must be \{ temperature, humidity, pressure \} when the air absorbs/,
    );
  });
});
