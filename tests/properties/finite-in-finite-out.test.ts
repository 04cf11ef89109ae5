// Finite input gives finite numbers or the library's error, however large or small it is: every function of /response, /radiation and
// /physics, with each number of its arguments in turn at the ends of what a number can hold, and with whole arrays scaled there.
// −∞ dB is the level of silence; it is the only infinity, and allowed in levels alone.
import { DividingNetworkError } from "dividing-network/errors";
import * as physics from "dividing-network/physics";
import * as radiation from "dividing-network/radiation";
import * as responses from "dividing-network/response";
import { describe, expect, it } from "vitest";
import * as physicsInside from "../../src/physics/internal";
import * as radiationInside from "../../src/radiation/internal";
import * as responsesInside from "../../src/response/internal";

const { frequencyResponse, impulseResponse } = responses;
const grid = [100, 200, 400, 800, 1600, 3200];
const low = frequencyResponse(
  grid,
  grid.map((f) => 1 / (1 + (f / 900) ** 2)),
  grid.map((f) => -f / 900 / (1 + (f / 900) ** 2)),
);
const high = frequencyResponse(
  grid,
  grid.map((f) => (f / 900) ** 2 / (1 + (f / 900) ** 2)),
  grid.map((f) => f / 900 / (1 + (f / 900) ** 2)),
);
const flat = frequencyResponse(
  grid,
  grid.map(() => 1),
  grid.map(() => 0),
);
const impulse = impulseResponse(
  Array.from({ length: 400 }, (_, i) => (i < 20 ? 0 : Math.exp((20 - i) / 30) * Math.cos((i - 20) / 3))),
  { sampleRate: 48_000 },
);
const filter = {
  zeros: [{ re: 0, im: 10 }],
  poles: [
    { re: -300, im: 400 },
    { re: -300, im: -400 },
  ],
  gain: 1e5,
};
const around = Array.from({ length: 12 }, (_, i) => -150 + 30 * i);
const sources = [
  radiation.pointSource({ position: [0, 0, 0.1] }),
  radiation.pistonSource({ radius: 0.05, position: [0, 0, -0.1], mounting: "simple" }),
];
const horizontal = radiation.polarMap(sources, [200, 2000], { angles: around });
const vertical = radiation.polarMap(sources, [200, 2000], { angles: around, plane: "vertical" });
const field = radiation.pressureAt(sources, [200, 2000], {
  points: [
    [2, 0, 0],
    [2, 0.5, 0],
  ],
});
const sphere = radiation.sphereMap(sources, [200, 2000], { stepDegrees: 45 });
const power = radiation.powerResponse(sphere);
const halves = [0, 45, 90, 135, 180].map((angle) => ({ angle, response: low }));
const gate = { duration: 6e-3, arrival: 4e-4 };
const place = {
  points: [
    [2, 0.1, 0.3],
    [3, 0, 0],
  ],
} as const;
const pair = { spacing: 0.15, frequency: 3000 };
const air = { temperature: 20, humidity: 40, pressure: 101_325 };

/** A call that is right, by the name of its function. */
const calls: readonly (readonly [name: string, ...args: unknown[]])[] = [
  ["airAbsorption", { frequency: 1000, ...air }],
  ["airDensity", air],
  ["speedOfSound", air],
  ["copperResistivity", { temperature: 20 }],
  ["pointInDirection", { azimuth: 30, elevation: 10 }, 2, [0, 1, 2]],
  ["cosDegrees", 60],
  ["sinDegrees", 30],
  ["checkPoint", "caller", "point", [1, 2, 3]],
  ["checkPoints", "caller", "points", [[1, 2, 3]]],
  ["pointInSi", "caller", "point", ["1 cm", 2, 3]],

  ["checkedGrid", "caller", grid],
  ["freezeResponse", ...[Float64Array.from(grid), low.re, low.im]],
  ["frequencyResponse", grid, [...low.re], [...low.im]],
  ["checkResponse", "caller", "response", low],
  ["bandWithout", { ...low, marks: [{ kind: "no-data", to: 150 }] }, ["no-data"]],
  ["minimumPhase", low, { lowSlope: 0, highSlope: -6 }],
  ["minimumPhaseWithError", low, { lowSlope: 0, highSlope: -6 }],
  ["addResponses", low, high],
  ["divideResponses", low, high],
  ["multiplyResponses", low, high],
  ["subtractResponses", low, high],
  ["estimateDelay", low],
  ["groupDelay", low],
  ["levelDb", low, { reference: 1 }],
  ["magnitude", low],
  ["phaseDegrees", low],
  ["unwrappedPhaseDegrees", low],
  ["unwrappedPhaseDegrees", low, { delay: 1e-3 }],
  ["groupDelay", low, { delay: 1e-3 }],
  ["valueAt", low, 150, { delay: 1e-3 }],
  ["resample", low, [150, 300], { delay: 1e-3 }],
  ["resample", low, [150, 1000]],
  ["delayResponse", low, 1e-4],
  ["reciprocalResponse", low],
  ["scaleResponse", low, 2],
  ["scaleResponse", low, { re: 2, im: 1 }],
  ["responseOf", filter, grid],
  ["valueAt", low, 1000],
  ["valueAt", filter, 1000],
  ["extremes", low, { from: 150, to: 2000 }],
  ["crossings", low, -3, { from: 150, to: 2000 }],
  ["bandMeanLevelDb", low, { from: 150, to: 2000 }],
  ["bandPowerAverage", low, { from: 150, to: 2000 }],
  ["fromLevelAndPhase", grid, grid.map(() => -3), grid.map((_, i) => 10 * i)],
  ["readResponseText", "100 1 2\n200 2 3\n", { columns: "re-im" }],
  ["readTouchstone", "# Hz Z RI R 1\n100 1 2\n200 2 3\n"],
  ["responseFromJSON", responses.responseToJSON(low)],
  ["responseToJSON", low],
  ["writeResponseText", low, { columns: "re-im" }],
  ["writeResponseText", low, { columns: "db-degrees" }],
  ["writeTouchstone", low],
  ["applyCalibration", low, high],
  ["arrivalTime", impulse, { thresholdDb: -20 }],
  ["averageMeasurements", [low, low, high]],
  ["baffleStepResponse", grid, { width: 0.2, air: { speedOfSound: 343 } }],
  ["acousticDelay", low, { lowSlope: 0, highSlope: -6 }],
  ["excessPhase", low, { lowSlope: 0, highSlope: -6 }],
  ["fractionalOctaveBands", { fraction: 3, from: 100, to: 10_000 }],
  ["gateFromGeometry", { distance: 1, sourceHeight: 1, microphoneHeight: 1.2, ceilingHeight: 2.5 }],
  ["gatedResponse", impulse, { ...gate, frequencies: [1000, 2000] }],
  ["gatedResponse", impulse, gate],
  ["gateImpulse", impulse, gate],
  ["gateMarks", 6e-3],
  ["impedanceFromChannels", { source: responses.scaleResponse(flat, 2), load: low, reference: 10 }],
  ["impulseFromResponse", low, { sampleRate: 8000, length: 64, startTime: -1e-3, taperOctaves: 1 }],
  ["impulseResponse", [...impulse.samples], { sampleRate: 48_000, startTime: 0.1 }],
  ["mergeAt", low, high, { frequency: 800 }],
  [
    "combineNearFields",
    [
      { response: low, radius: 0.08 },
      { response: high, radius: 0.03 },
    ],
    { spacing: 0.2 },
  ],
  ["farFieldFromNearField", low, { radius: 0.08, distance: 1, air: { speedOfSound: 343 } }],
  ["nearFieldErrorDb", 0.5],
  ["readImpulseText", "0 1\n1e-3 0.5\n2e-3 0.1\n"],
  ["relativeAcousticOffset", { first: low, second: high, both: responses.addResponses(low, high), from: 100, to: 3200 }],
  ["responseFromImpulse", impulse, { frequencies: [1000, 2000] }],
  ["responseFromImpulse", impulse],
  ["smoothingBiasDb", { fraction: 3, slope: 12 }],
  ["smoothResponse", low, { fraction: 6 }],
  ["smoothResponse", low, { fraction: 3, kind: "complex" }],
  ["cumulativeSpectralDecay", impulse, { frequencies: [1000, 4000], duration: 5e-3, slices: 4 }],
  ["stepResponse", impulse],
  ["toneBurstDecay", impulse, { frequencies: [1000, 4000], periods: 4, cycles: 3, arrival: 1e-3 }],
  ["decayTimes", impulse, { frequencies: [1000, 4000], periods: 8, fallDb: 10 }],
  ["weightingDb", "A", 1000],
  ["writeWav", impulse, { format: "float-32" }],
  ["writeImpulseText", impulse, { columns: "value" }],

  ["angularWindow", horizontal, { withinDb: 3 }],
  ["arrayDirectivity", { count: 3, kd: 1, angle: 30, phaseDegrees: 20 }],
  ["arrayLobes", { count: 3, ...pair, phaseDegrees: 10 }],
  ["beamwidth", horizontal, { dropDb: 6 }],
  ["coverage", horizontal],
  ["dipoleSource", sources[0], { path: 0.1 }],
  ["displacementPressure", { area: 0.0132, displacement: 1e-3, frequency: 50, distance: 1 }],
  ["lineDirectivity", { kl: 5, angle: 30 }],
  ["ringDirectivity", { ka: 5, angle: 30 }],
  ["listenerSensitivity", sources, [200, 2000], { point: [2, 0.1, 0.3] }],
  ["lobeTilt", { order: 3, ...pair }],
  ["measuredSource", { distance: 1, horizontal: halves, symmetry: "axial" }],
  ["offAxisStability", horizontal, { window: 60 }],
  ["lineSource", { length: 0.5 }],
  ["panelSource", { width: 0.3, height: 0.5 }],
  ["pistonDirectivity", { ka: 3, angle: 30 }],
  ["pistonDirectivityIndex", { ka: 3 }],
  ["pistonHalfAngle", { ka: 5 }],
  ["pistonRadiationImpedance", { ka: 2 }],
  ["pistonSource", { radius: 0.1 }],
  ["pointSource", { position: [0, 0, 1], gainDb: 3, delay: 1e-3 }],
  ["polarLevels", horizontal, { normalize: "axis" }],
  ["polarLevels", horizontal, { reference: 20e-6 }],
  ["polarMap", sources, [200, 2000], { angles: [-30, 0, 30], distance: 2 }],
  ["polarMapFromResponses", halves],
  ["responseAtAngle", horizontal, 0],
  ["directivityIndex", power],
  ["powerResponse", sphere],
  ["powerResponse", { horizontal, vertical }],
  ["radiatedPower", power],
  ["pressureAt", sources, [200, 2000], place],
  ["pressureAt", sources, [200, 2000], { ...place, absorption: true, floor: -1, tolerance: 1e-6, air, drives: [2, { re: 0, im: 1 }] }],
  ["radiatedPower", power, { air }],
  ["checkAir", "caller", air],
  ["checkAir", "caller", { speedOfSound: 343, density: 1.2 }],
  ["pressureAt", [radiation.measuredSource({ distance: 1, horizontal: halves, symmetry: "axial" })], [200, 2000], place],
  [
    "pressureAt",
    [radiation.lineSource({ length: 0.5 }), radiation.ringSource({ radius: 0.1 })],
    [200, 2000],
    { points: [[2, 0.1, 0.3]], drives: [low, 2] },
  ],
  ["combineFields", [field, field], [1, { re: 0, im: 1 }]],
  ["responseAtPoint", field],
  ["ringSource", { radius: 0.1 }],
  ["spatialAverages", { horizontal, vertical }],
  ["sphereMap", sources, [200, 2000], { stepDegrees: 45, distance: 2 }],
  ["twoSourceLobes", { ...pair, phaseDegrees: 20, levelDifferenceDb: 3 }],
  ["twoSourceWindow", { ...pair, phaseDegrees: 20, withinDb: 3 }],
  ["zonalWeights", [0, 30, 60, 90, 180]],
  ["writeImpulseText", impulse],
];
const pressureOf =
  (maker: (options: never) => radiation.Source) =>
  (options: never): unknown =>
    radiation.pressureAt([maker(options)], [200, 2000], place);
/** Sources by what they were made from. */
const wrapped: readonly (readonly [name: string, run: (...args: never[]) => unknown, ...args: unknown[]])[] = [
  ["pressureAt of a point source", pressureOf(radiation.pointSource), { position: [0, 0, 1], gainDb: 3, delay: 1e-3 }],
  [
    "pressureAt of a piston",
    pressureOf(radiation.pistonSource),
    { radius: 0.1, position: [0, 0, 1], gainDb: 3, delay: 1e-3, rotation: { azimuth: 10, elevation: 5 } },
  ],
  ["pressureAt of a free piston", pressureOf(radiation.pistonSource), { radius: 0.1, mounting: "simple" }],
  ["pressureAt of a line", pressureOf(radiation.lineSource), { length: 0.5, gainDb: 3 }],
  ["pressureAt of a panel", pressureOf(radiation.panelSource), { width: 0.3, height: 0.5 }],
  ["pressureAt of a ring", pressureOf(radiation.ringSource), { radius: 0.1 }],
  [
    "pressureAt of measurements",
    pressureOf(radiation.measuredSource),
    { distance: 1, horizontal: halves, symmetry: "axial", acousticCentre: [0.01, 0, 0] },
  ],
  [
    "listenerSensitivity at a point",
    (options: never) => radiation.listenerSensitivity(sources, [200, 2000], options),
    { point: [2, 0.1, 0.3] },
  ],
];
/** What takes bytes or gives none. */
const apart = ["readWav"];
/** What puts a checked value into words, or cuts a text into lines. */
const texts = ["gridText", "marksText", "fileError", "textFile", "textLines"];
/** Bare formulas inside, whose callers look at what goes in and what comes out: displacementPressure and displacementLevelDb are called here and in the walk of hostile arguments. */
const formulas = ["simpleSourcePressure", "volumeAcceleration"];
const functions: Readonly<Record<string, unknown>> = {
  ...physics,
  ...responses,
  ...radiation,
  ...physicsInside,
  ...radiationInside,
  ...responsesInside,
};

const extremes = [0, 1e300, -1e300, 1.7e308, 1e-300, -1e-300, 5e-324, 1e155, 1e-160];
const factors = [0, 1e300, 1e-300, 5e-324, 1e155, 1e-160, -1e306];

const clamp = (value: number): number => Math.max(-1.7e308, Math.min(1.7e308, value));
const scaled = (numbers: Float64Array, factor: number): Float64Array => numbers.map((each) => clamp(each * factor));
const oneAt = (numbers: Float64Array, at: number, value: number): Float64Array => numbers.map((each, i) => (i === at ? value : each));

/** Data as their makers give them: what a maker refuses isn't data. */
function* extremesOfData(value: object): Generator<readonly [what: string, value: unknown]> {
  const made = (what: string, make: () => unknown): (readonly [string, unknown])[] => {
    try {
      return [[what, make()]];
    } catch {
      return [];
    }
  };
  const numbers = (from: Float64Array): (readonly [string, Float64Array])[] => [
    ...factors.map((factor) => [` × ${factor}`, scaled(from, factor)] as const),
    ...extremes.flatMap((extreme) =>
      [0, from.length >> 1, from.length - 1].map((at) => [`[${at}] = ${extreme}`, oneAt(from, at, extreme)] as const),
    ),
  ];
  if ("samples" in value) {
    const { samples, sampleRate } = value as responses.ImpulseResponse;
    for (const [what, changed] of numbers(samples)) yield* made(`.samples${what}`, () => impulseResponse(changed, { sampleRate }));
    for (const rate of extremes) yield* made(`.sampleRate = ${rate}`, () => impulseResponse(samples, { sampleRate: rate }));
    for (const startTime of [-1e6, 1e6, 5e-324])
      yield* made(`.startTime = ${startTime}`, () => impulseResponse(samples, { sampleRate, startTime }));
    return;
  }
  const { frequencies, re, im } = value as responses.FrequencyResponse;
  const plain = !["angles", "weights", "points", "meanSquare"].some((key) => key in value);
  if (plain)
    for (const [what, changed] of numbers(frequencies)) yield* made(`.frequencies${what}`, () => frequencyResponse(changed, re, im));
  if (!ArrayBuffer.isView(re)) return;
  const rebuilt = (parts: { re: Float64Array; im: Float64Array }): unknown =>
    plain ? frequencyResponse(frequencies, parts.re, parts.im) : Object.freeze({ ...value, ...parts });
  for (const factor of factors) yield [` × ${factor}`, rebuilt({ re: scaled(re, factor), im: scaled(im, factor) })];
  for (const [what, changed] of numbers(re)) yield [`.re${what}`, rebuilt({ re: changed, im })];
  for (const [what, changed] of numbers(im)) yield [`.im${what}`, rebuilt({ re, im: changed })];
}

/** The value with each of its numbers in turn at an extreme, and with each of its arrays scaled. */
function* extremesOf(value: unknown): Generator<readonly [what: string, value: unknown]> {
  if (typeof value === "number") for (const extreme of extremes) yield [` = ${extreme}`, extreme];
  else if (ArrayBuffer.isView(value) || (Array.isArray(value) && value.length > 3 && typeof value[0] === "number")) {
    const numbers = Float64Array.from(value as Float64Array);
    for (const factor of factors) yield [` × ${factor}`, scaled(numbers, factor)];
    for (const extreme of extremes)
      for (const at of [0, numbers.length >> 1, numbers.length - 1]) yield [`[${at}] = ${extreme}`, oneAt(numbers, at, extreme)];
  } else if (Array.isArray(value)) {
    for (const i of [...value.keys()].slice(0, 3))
      for (const [what, changed] of extremesOf(value[i]))
        yield [`[${i}]${what}`, value.map((each: unknown, at) => (at === i ? changed : each))];
  } else if (typeof value === "object" && value !== null && !("shape" in value)) {
    if (("frequencies" in value && "re" in value && !Array.isArray(value.re)) || "samples" in value) yield* extremesOfData(value);
    else
      for (const key of Object.keys(value))
        for (const [what, changed] of extremesOf((value as Record<string, unknown>)[key]))
          yield [`.${key}${what}`, { ...value, [key]: changed }];
  }
}

/** Where in an answer a number is none, or infinite without being the level of silence; undefined when nowhere. */
function broken(value: unknown, path = ""): string | undefined {
  if (typeof value === "number") {
    return Number.isFinite(value) || (value === -Infinity && /db|level|polarlevels|decay/i.test(path)) ? undefined : `${path}: ${value}`;
  }
  if (typeof value === "string") return /NaN|Infinity/.test(value) ? `${path}: ${value}` : undefined;
  // A step of a working that comes out in dB.
  if (
    typeof value !== "object"
    || value === null
    || ("unit" in value && value.unit === "dB" && "value" in value && value.value === -Infinity)
  )
    return undefined;
  for (const [key, each] of ArrayBuffer.isView(value) ? (value as unknown as Float64Array).entries() : Object.entries(value)) {
    const found = broken(each, `${path}.${key}`);
    if (found !== undefined) return found;
  }
  return undefined;
}

type Run = (...given: unknown[]) => unknown;

function outcome(name: string, run: Run, args: readonly unknown[]): string | undefined {
  try {
    return broken(run(...args), name);
  } catch (error) {
    if (error instanceof DividingNetworkError)
      return error.message.includes("NaN") && !error.message.includes("finite") ? `says ${error.message}` : undefined;
    return `throws ${String(error)}`;
  }
}

describe("finite input gives finite numbers, or the library's error", () => {
  it("in every function of these floors", () => {
    const listed = new Set([...apart, ...texts, ...formulas, ...calls.map(([name]) => name)]);
    expect(Object.keys(functions).filter((name) => typeof functions[name] === "function" && !listed.has(name))).toEqual([]);
  });

  const all = [
    ...calls.map(([name, ...args]) => [name, functions[name] as Run, args] as const),
    ...wrapped.map(([name, run, ...args]) => [name, run as Run, args] as const),
  ];

  it.each(all.map(([name, run, args], i) => [name, i, run, args] as const))("%s (call %d)", (name, _i, run, args) => {
    expect(broken(run(...args), name)).toBeUndefined();
    const found: string[] = [];
    args.forEach((arg, at) => {
      for (const [what, changed] of extremesOf(arg)) {
        const problem = outcome(
          name,
          run,
          args.map((each, i) => (i === at ? changed : each)),
        );
        if (problem !== undefined) found.push(`(${at})${what} → ${problem}`);
      }
    });
    expect(found).toEqual([]);
  });
});
