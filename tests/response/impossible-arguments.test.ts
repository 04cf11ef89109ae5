// What no measurement can have is refused by the argument's name: a band or a length of 0 or less, a reference of nothing, a window beyond all time. Each function is asked once with
// everything possible, and then with one thing impossible at a time.
import { describe, expect, it } from "vitest";
import * as response from "dividing-network/response";
import { refusalText } from "../support/refusal-text";

const none = [0, -1, NaN, Infinity];
const beyond = [-1.1e6, 1.1e6, NaN];
type Options = Readonly<Record<string, unknown>>;
type Row = readonly [name: string, work: (options: never) => unknown, good: Options, refused: Readonly<Record<string, readonly unknown[]>>];

const grid = Array.from({ length: 61 }, (_, i) => 100 * 2 ** (i / 12));
const flat = response.frequencyResponse(
  grid,
  grid.map(() => 1),
  grid.map(() => 0),
);
const impulse = response.impulseResponse([0, 0, 1, 0.5, 0.25, 0.1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0], { sampleRate: 1000 });
const long = response.impulseResponse(
  Array.from({ length: 4096 }, (_, i) => (i < 10 ? 0 : Math.exp(-(i - 10) / 40) * Math.cos(i))),
  { sampleRate: 10_000 },
);

const rows: readonly Row[] = [
  [
    "smoothResponse",
    (given) => response.smoothResponse(flat, given),
    { fraction: 3, kind: "complex", delay: 0 },
    { fraction: [...none, 97], delay: [-11, 11], kind: ["mean"] },
  ],
  ["smoothingBiasDb", response.smoothingBiasDb, { fraction: 3, slope: 12 }, { fraction: [...none, 97], slope: [-1001, 1001, NaN] }],
  [
    "farFieldFromNearField",
    (given) => response.farFieldFromNearField(flat, given),
    { radius: 0.05, distance: 1 },
    { radius: [...none, 11], distance: [0.05, 0.01, NaN, 2e4] },
  ],
  [
    "gateImpulse",
    (given) => response.gateImpulse(impulse, given),
    { duration: 0.005, arrival: 0.002, lead: 0.001, fade: 0.5, shape: "hann" },
    { duration: [...none, 2e4], arrival: beyond, lead: [-1, 2e4], fade: [-0.1, 1.1], shape: ["round"] },
  ],
  [
    "gateFromGeometry",
    response.gateFromGeometry,
    { distance: 1, sourceHeight: 1, microphoneHeight: 1, ceilingHeight: 2.5 },
    { distance: [...none, 1001], sourceHeight: [...none, 1001], microphoneHeight: [...none, 1001], ceilingHeight: [...none, 1001, 0.5] },
  ],
  [
    "cumulativeSpectralDecay",
    (given) => response.cumulativeSpectralDecay(long, given),
    { frequencies: [500, 1000], duration: 0.05, slices: 4, arrival: 0.001, rise: 0.001 },
    { duration: none, slices: [0, 1, 2.5, 1001], arrival: beyond, rise: [-1, 0.06] },
  ],
  [
    "toneBurstDecay",
    (given) => response.toneBurstDecay(long, given),
    { frequencies: [500, 1000], periods: 10, stepsPerPeriod: 2, cycles: 4, arrival: 0.001 },
    {
      frequencies: [
        [0, 1000],
        [500, 5001],
      ],
      periods: [0.5, 201],
      stepsPerPeriod: [0, 1.5, 17],
      cycles: [0.5, 65],
      arrival: beyond,
    },
  ],
  [
    "impulseResponse",
    (given) => response.impulseResponse([1, 0], given),
    { sampleRate: 48_000, startTime: 0 },
    { sampleRate: [...none, 2e9], startTime: beyond },
  ],
  [
    "impulseFromResponse",
    (given) => response.impulseFromResponse(flat, given),
    { sampleRate: 8000, length: 64, startTime: 0, taperOctaves: 1 },
    { sampleRate: [...none, 2e9], length: [0, 1.5, 2 ** 24 + 1], startTime: beyond, taperOctaves: [-1, 21] },
  ],
  [
    "fractionalOctaveBands",
    response.fractionalOctaveBands,
    { fraction: 3, from: 100, to: 1000 },
    { fraction: [0, 2.5, 49], from: [0, -1, NaN], to: [99, 2e9, NaN] },
  ],
  [
    "mergeAt",
    (given) => response.mergeAt(flat, flat, given),
    { frequency: 500, overlapOctaves: 1 },
    { frequency: none, overlapOctaves: [0.01, 7, NaN] },
  ],
  [
    "baffleStepResponse",
    (given: { f: number[]; width: number }) => response.baffleStepResponse(given.f, { width: given.width } as never),
    { f: [100, 1000], width: 0.2 },
    { width: [...none, 101] },
  ],
  ["averageMeasurements", (given) => response.averageMeasurements([flat, flat], given), { thresholdDb: 3 }, { thresholdDb: none }],
  ["extremes", (given) => response.extremes(flat, given), { prominenceDb: 1 }, { prominenceDb: [0, 1001, NaN] }],
  [
    "minimumPhase",
    (given) => response.minimumPhase(flat, given),
    { lowSlope: 12, lowCorner: 80, lowQ: 0.7, highSlope: 0 },
    { lowSlope: [-97, 97, NaN], lowCorner: none, lowQ: [0.05, 101], highSlope: [-97, 97] },
  ],
];

describe("what can't be", () => {
  it.each(rows)("is refused by its name: %s", (_, work, good, refused) => {
    const run = work as (options: Options) => unknown;
    expect(() => run(good)).not.toThrow();
    for (const [key, values] of Object.entries(refused))
      for (const value of values)
        expect(
          refusalText(() => run({ ...good, [key]: value })),
          `${key}: ${String(value)}`,
        ).toContain(`"${key}`);
  });

  it.each<[string, (value: never) => unknown, readonly unknown[]]>([
    ["reference", (reference: number) => response.levelDb(flat, { reference }), none],
    ["reference", (reference: number) => response.bandMeanLevelDb(flat, { from: 200, to: 400 }, { reference }), none],
    ["ka", response.nearFieldErrorDb, [-1, 3.1, NaN]],
    ["frequency", (frequency: number) => response.weightingDb("A", frequency), [-1, 2e9, NaN]],
    ["thresholdDb", (thresholdDb: number) => response.arrivalTime(impulse, { thresholdDb }), [-121, 1, NaN]],
    ["length", (length: number) => response.responseFromImpulse(impulse, { length }), [15, 16.5, 2 ** 27]],
    ["frequencies", (highest: number) => response.responseFromImpulse(impulse, { frequencies: [100, highest] }), [501]],
    ["duration", (duration: number) => response.gateMarks(duration), [...none, 2e6]],
    ["delay", (delay: number) => response.resample(flat, [200, 300], { delay }), beyond],
    ["delay", (delay: number) => response.groupDelay(flat, { delay }), beyond],
    ["fallDb", (fallDb: number) => response.decayTimes(long, { frequencies: [500], fallDb }), [...none, 201]],
  ])("is refused by its name: %s alone", (name, work, values) => {
    for (const value of values)
      expect(
        refusalText(() => (work as (value: unknown) => unknown)(value)),
        String(value),
      ).toContain(`"${name}"`);
  });
});

describe("the halves of a gate", () => {
  // Of the textbook windows, at the middle of the fade: (1 + cos 90°)/2; 0.42 − 0.08; 0.35875 − 0.14128.
  it.each([
    ["rectangular", 1],
    ["hann", 0.5],
    ["blackman", 0.34],
    ["blackman-harris", 0.21747],
  ] as const)("%s are half way down by their own formula, before and after", (shape, middle) => {
    const ones = response.impulseResponse(new Array(21).fill(1), { sampleRate: 1000 });
    const { samples, startTime } = response.gateImpulse(ones, { duration: 0.008, arrival: 0.01, lead: 0.004, fade: 0.5, shape });
    expect(startTime).toBeCloseTo(0.006, 12);
    const at = (time: number) => samples[Math.round((time - 0.006) * 1000)]!;
    expect(at(0.008)).toBeCloseTo(middle, 9);
    expect(at(0.016)).toBeCloseTo(middle, 9);
    for (const time of [0.01, 0.012, 0.014]) expect(at(time)).toBeCloseTo(1, 12);
    if (shape !== "rectangular") for (const time of [0.006, 0.018]) expect(Math.abs(at(time))).toBeLessThan(1e-4);
  });
});
