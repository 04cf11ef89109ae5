// Calls of every public function that arrays reach, with arguments that hold arrays, and of some that only other floors use.
// `own-arrays.test.ts` runs them.
import * as alignments from "dividing-network/alignments";
import * as assessment from "dividing-network/assessment";
import * as cores from "dividing-network/cores";
import * as design from "dividing-network/design";
import * as loudspeakers from "dividing-network/loudspeaker";
import * as networks from "dividing-network/network";
import * as numeric from "dividing-network/numeric";
import * as parts from "dividing-network/parts";
import * as physics from "dividing-network/physics";
import * as radiation from "dividing-network/radiation";
import * as report from "dividing-network/report";
import * as responses from "dividing-network/response";
import * as numericInside from "../../src/numeric/internal";
import * as partsInside from "../../src/parts/internal";
import * as radiationInside from "../../src/radiation/internal";
import * as responsesInside from "../../src/response/internal";

/** One call: its arguments, what is called with them when it isn't the function itself, and how the answer is read out. */
export interface ArrayCall {
  readonly floor: string;
  readonly name: string;
  readonly args: readonly unknown[];
  /** Arguments that hold functions, or only what the library makes, are passed as they are. */
  readonly kept: boolean;
  readonly run: (...args: never[]) => unknown;
  readonly read: (answer: never) => unknown;
}

const { frequencyResponse, impulseResponse } = responses;
const grid = numeric.logGrid(50, 16_000, 200);
const plain = (at: (f: number) => readonly [number, number]) =>
  frequencyResponse(
    grid,
    [...grid].map((f) => at(f)[0]),
    [...grid].map((f) => at(f)[1]),
    [{ kind: "uncertain", note: "made up" }],
  );
/** A response with a low-pass's slope, another with a high-pass's. */
const low = plain((f) => [1 / (1 + (f / 2000) ** 2), -f / 2000 / (1 + (f / 2000) ** 2)]);
const high = plain((f) => [(f / 2000) ** 2 / (1 + (f / 2000) ** 2), f / 2000 / (1 + (f / 2000) ** 2)]);
const flat = plain(() => [1, 0]);
const impedance = parts.driverImpedance({ re: 5.6, le: "0.3 mH", fs: 80, qms: 3, qes: 0.6 });
const alone = networks.solve({ woofer: [impedance, "in", "gnd"] }, grid).impedance;
const impulse = impulseResponse(
  Array.from({ length: 512 }, (_, i) => (i < 20 ? 0 : Math.exp((20 - i) / 30) * Math.cos((i - 20) / 3))),
  { sampleRate: 48_000 },
);
const filter = alignments.lowPass(alignments.butterworth(2), 1000);
const measuredDriver = parts.driverImpedance(alone);
const entries = {
  C1: [parts.capacitor("10 µF"), "in", "a"],
  L1: [parts.inductor("1 mH", { dcr: 0.2 }), "a", "gnd"],
  R1: [parts.resistor(2), "a", "t"],
  tweeter: [measuredDriver, "t", "gnd"],
} as const;
const asked = [100, 1000, 5000];
const sources = [radiation.pistonSource({ radius: 0.05 }), radiation.pointSource({ position: [0, 0, 0.2] })];
const angles = [-90, -60, -30, 0, 30, 60, 90];
const around = Array.from({ length: 36 }, (_, i) => -170 + 10 * i);
const horizontal = radiation.polarMap(sources, asked, { angles: around });
const vertical = radiation.polarMap(sources, asked, { angles: around, plane: "vertical" });
const field = radiation.pressureAt(sources, asked, {
  points: [
    [2, 0, 0],
    [2, 0.5, 0],
  ],
});
const sphere = radiation.sphereMap(sources, asked, { stepDegrees: 30 });
const power = radiation.powerResponse(sphere);
const cuts = angles.map((angle) => ({
  angle,
  response: radiation.responseAtPoint(
    radiation.pressureAt([sources[0]!], grid, { points: [physics.pointInDirection({ azimuth: angle }, 1)] }),
  ),
}));
const ladder = alignments.ladder(alignments.butterworth(2), { pass: "low", frequency: 1000, load: 8 });
const crossover = alignments.crossover({ family: "linkwitz-riley", order: 4, frequency: 2000, load: 8 });
const pressures = (response: responses.FrequencyResponse, of = angles) =>
  of.map((azimuth) =>
    loudspeakers.pressurePerVolt({ response, drive: { voltage: 2, at: "terminals" }, distance: 1, azimuth, timeZero: "common" }),
  );
const twoWay = {
  L1: [parts.inductor("0.6 mH"), "in", "w"],
  woofer: [parts.resistor(8), "w", "gnd"],
  C1: [parts.capacitor("10 µF"), "in", "t"],
  tweeter: [parts.resistor(8), "t", "gnd"],
} as const;
const drivers = () =>
  [
    { name: "woofer", role: "woofer", pressures: pressures(low) },
    { name: "tweeter", role: "tweeter", pressures: pressures(high) },
  ] as const;
const box = loudspeakers.loudspeaker({ network: twoWay, drivers: drivers() });
const prediction = loudspeakers.predict(box);
const wholes = prediction.places.map(({ distance, azimuth, elevation, sum }) => ({
  distance,
  azimuth,
  elevation,
  response: sum,
  voltage: 2.83,
}));
const judged = assessment.assess(box, { ratedImpedance: 8 });

const same = (answer: unknown) => answer;
type Floor = Readonly<Record<string, unknown>>;
interface Extra {
  readonly run?: (...args: never[]) => unknown;
  readonly read?: (answer: never) => unknown;
  readonly kept?: boolean;
}

const calls: ArrayCall[] = [];
/** Adds the calls of one floor. */
function on(floor: string, functions: Floor): (name: string, args: readonly unknown[], extra?: Extra) => void {
  return (name, args, { run = functions[name] as ArrayCall["run"], read = same, kept = false } = {}) =>
    void calls.push({ floor, name, args, run, read, kept });
}

{
  const call = on("numeric", { ...numeric, ...numericInside });
  call("fft", [
    [1, 2, 3, 4],
    [0, 0, 0, 0],
  ]);
  call("fitLeastSquares", [[1, 1]], {
    run: (start: number[]) =>
      numeric.fitLeastSquares(
        (p, out) => {
          out.set([p[0]! - 2, p[1]! - 3, p[0]! + p[1]! - 5]);
        },
        start,
        { count: 3 },
      ),
  });
  call("interpolateLog", [
    [10, 100, 1000],
    [1, 2, 3],
    [20, 200],
  ]);
  call("inverseRealFft", [[1, 2, 3], [0, 1, 0], 4]);
  call("localSlopes", [
    [1, 2, 3],
    [1, 4, 9],
  ]);
  call("monotoneCubic", [
    [1, 2, 3],
    [1, 4, 9],
  ]);
  call("monotoneCubic", [Float64Array.of(1, 2, 3), Float64Array.of(1, 4, 9)]);
  call("monotoneSlopes", [
    [1, 2, 3],
    [1, 4, 9],
  ]);
  call("polynomialRoots", [[1, 2, 5]]);
  call("realFft", [[1, 2, 3, 4]]);
}
{
  const call = on("response", { ...responses, ...responsesInside });
  const gate = { duration: "6 ms", arrival: 20 / 48_000 };
  for (const args of [
    [grid, low.re, low.im],
    [[...grid], [...low.re], [...low.im], [{ kind: "model", note: "a note" }]],
  ])
    call("frequencyResponse", args);
  call("crossings", [low, -3, { from: 200, to: 8000 }]);
  call("extremes", [low, { from: 200, to: 8000 }]);
  call("acousticDelay", [low, { lowSlope: 0, highSlope: -6 }]);
  for (const name of ["addResponses", "multiplyResponses", "subtractResponses", "divideResponses"]) call(name, [low, high]);
  call("addResponses", [low]);
  call("multiplyResponses", [low]);
  call("applyCalibration", [low, high]);
  call("averageMeasurements", [[low, low, low]]);
  call("baffleStepResponse", [grid, { width: 0.2 }]);
  call("checkedGrid", ["caller", grid]);
  call("checkedGrid", ["caller", [...grid]]);
  call("combineNearFields", [
    [
      { response: low, radius: 0.08 },
      { response: low, radius: 0.03 },
    ],
  ]);
  call("combineNearFields", [[{ response: low, radius: 0.08 }]]);
  call("cumulativeSpectralDecay", [impulse, { frequencies: Float64Array.of(1000, 2000, 4000), duration: "4 ms", slices: 5 }]);
  call("decayTimes", [impulse, { frequencies: Float64Array.of(2000, 4000) }]);
  call("toneBurstDecay", [impulse, { frequencies: Float64Array.of(2000, 4000) }]);
  call("delayResponse", [low, "1 ms"]);
  call("delayResponse", [low, 0]);
  call("excessPhase", [low, { lowSlope: 0, highSlope: -6 }]);
  call("farFieldFromNearField", [low, { radius: 0.08, distance: 1 }]);
  call("fromLevelAndPhase", [grid, responses.levelDb(low), responses.phaseDegrees(low), { marks: [{ kind: "model", note: "a note" }] }]);
  call("gateImpulse", [impulse, gate]);
  call("gatedResponse", [impulse, { ...gate, frequencies: Float64Array.of(1000, 2000, 4000) }]);
  call("gatedResponse", [impulse, gate]);
  for (const name of [
    "groupDelay",
    "levelDb",
    "magnitude",
    "phaseDegrees",
    "unwrappedPhaseDegrees",
    "reciprocalResponse",
    "responseToJSON",
  ])
    call(name, [low]);
  call("impedanceFromChannels", [{ source: flat, load: low, reference: 10, balance: flat }]);
  call("impulseFromResponse", [low, { sampleRate: 48_000, length: 256 }]);
  call("writeWav", [impulse]);
  call("impulseResponse", [impulse.samples, { sampleRate: 48_000 }]);
  call("mergeAt", [low, low, { frequency: 1000 }]);
  call("minimumPhase", [low, { lowSlope: 0, highSlope: -6 }]);
  call("minimumPhaseWithError", [low, { lowSlope: 0, highSlope: -6 }]);
  call("relativeAcousticOffset", [{ first: low, second: high, both: responses.addResponses(low, high), from: 500, to: 8000 }]);
  call("resample", [low, Float64Array.of(100, 1000)]);
  call("resample", [low, grid]);
  call("responseFromImpulse", [impulse, { frequencies: Float64Array.of(1000, 2000) }]);
  call("responseFromImpulse", [impulse]);
  call("responseFromJSON", [responses.responseToJSON(low)]);
  call("responseOf", [filter, grid]);
  call("scaleResponse", [low, 2]);
  call("scaleResponse", [low, 1]);
  call("smoothResponse", [low, { fraction: 6 }]);
  call("smoothResponse", [low, { fraction: 6, kind: "complex" }]);
  call("stepResponse", [impulse]);
  call("valueAt", [low, 1000]);
}
{
  const call = on("parts", { ...parts, ...partsInside });
  call("closedBoxResponse", [grid, { fc: 60, qtc: 0.7 }]);
  call("driverImpedance", [alone]);
  call("driverParameters", [alone, { coil: "inductance" }]);
  call("equivalentPeakDissipationResistance", [alone]);
  call("displacementPerVolt", [Float64Array.of(20, 200), { re: 6, fs: 50, qms: 3, qes: 0.5, mms: 0.015 }]);
  call("expandPart", [measuredDriver], {
    read: ({ branches }: partsInside.Expansion) => {
      const [re, im] = [new Float64Array(2), new Float64Array(2)];
      branches[0]!.law.bind(Float64Array.of(100, 1000)).admittance([], 0, 0, 2, re, im, 0);
      return [re, im];
    },
  });
}
{
  const call = on("network", networks);
  const readSweep = (sweep: networks.Sweep) => [
    sweep.frequencies,
    sweep.voltage("t" as never),
    sweep.impedance,
    sweep.current("tweeter" as never),
    sweep.voltage("tweeter" as never),
  ];
  const sourceImpedance = flat;
  for (const frequencies of [asked, Float64Array.from(asked)]) {
    call("solve", [entries, frequencies, { sourceImpedance }], { read: readSweep });
    call("compile", [entries, frequencies], {
      run: (given: typeof entries, points: number[]) => networks.compile(given).sweep(points),
      read: readSweep,
    });
    call("drivingPointImpedance", [entries, { from: "t" }, frequencies, { sourceImpedance, without: ["tweeter"] }]);
    call("sensitivities", [entries, frequencies, { outputs: ["t"], vary: ["R1", "C1"] }], {
      read: (slopes: networks.Sensitivities) => [
        slopes.frequencies,
        slopes.voltage("t", "R1"),
        slopes.levelDb("t", "R1"),
        slopes.phaseDegrees("t", "C1"),
        slopes.impedance("C1"),
        slopes.impedanceMagnitude("R1"),
      ],
    });
    call(
      "sumObjective",
      [
        entries,
        { frequencies, contributions: { tweeter: flat }, target: Float64Array.of(1, 1, 1), weights: [1, 2, 3], vary: ["C1", "R1"] },
      ],
      {
        read: (objective: networks.SumObjective) => [
          objective.variables,
          objective.loss([9e-6, 3]),
          objective.lossAndSlopes([9e-6, 3], new Float64Array(2)),
          objective.along([9e-6, 3], 1)(2),
        ],
      },
    );
    call("tolerance", [
      entries,
      frequencies,
      {
        outputs: ["t", "impedance"],
        tolerances: { C1: 0.1 },
        samples: 50,
        percentiles: [10, 90],
        limits: [{ output: "t", lowerDb: [-60, -30, -20] }],
        corners: true,
      },
    ]);
  }
  call("compile", [entries], { read: (compiled: networks.CompiledNetwork) => readSweep(compiled.sweep(asked)) });
  call("dissipation", [networks.solve(entries, asked), { voltage: 2.83 }], { kept: true });
  call("stress", [entries, { voltage: 20, spectrum: { frequencies: [100, 1000, 10_000], levelDb: [0, -3, -12] } }]);
  call("diagnose", [entries]);
  for (const name of ["network", "fragment"])
    call(name, [entries], { read: (made: networks.Entries) => [made, readSweep(networks.solve(made, asked))] });
  call("impedanceMinimum", [alone, { from: 200, to: 8000 }]);
  call("networkToJSON", [{ C1: entries.C1, L1: entries.L1, tweeter: [measuredDriver, "a", "gnd"] }]);
  call("networkToSpice", [
    { C1: entries.C1, L1: entries.L1, tweeter: [measuredDriver, "a", "gnd"] },
    { band: { from: 100, to: 5000 }, largestError: 1 },
  ]);
  call("networkFromJSON", [
    {
      parts: [
        { name: "R1", kind: "resistor", resistance: "4R7", nodes: ["in", "a"] },
        { name: "tweeter", kind: "driver", nodes: ["a", "gnd"], response: "tweeter" },
      ],
    },
    { responses: { tweeter: alone } },
  ]);
  call("join", [entries, { R2: [parts.resistor(5), "t", "gnd"] }], {
    read: (made: networks.Entries) => [made, readSweep(networks.solve(made, asked))],
  });
}
{
  const call = on("radiation", { ...radiation, ...radiationInside });
  call("angularWindow", [horizontal, { withinDb: 3 }]);
  call("beamwidth", [horizontal]);
  call("coverage", [horizontal]);
  call("combineFields", [
    [field, field],
    [1, radiation.responseAtPoint(field)],
  ]);
  call("dipoleSource", [radiation.pistonSource({ radius: 0.05, mounting: "simple" }), { path: 0.1 }], { kept: true });
  call("directivityIndex", [power]);
  call("listenerSensitivity", [sources, Float64Array.from(asked), { point: [2, 0, 0] }]);
  call("measuredSource", [{ distance: 1, horizontal: cuts, symmetry: "axial", extrapolate: true }], {
    read: (source: radiation.Source) => [source, radiation.pressureAt([source], asked, { points: [[2, 0.3, 0]] })],
  });
  call("offAxisStability", [horizontal, { window: 20 }]);
  call("polarLevels", [horizontal, { normalize: "axis" }]);
  call("polarMap", [sources, Float64Array.from(asked), { angles: Float64Array.from(angles), drives: [flat, 2], centre: [0, 0, 0] }]);
  call("polarMapFromResponses", [cuts]);
  call("polarMapFromResponses", [cuts, { frequencies: Float64Array.from(asked) }]);
  call("powerResponse", [sphere]);
  call("powerResponse", [{ horizontal, vertical }]);
  call("pressureAt", [
    sources,
    Float64Array.from(asked),
    {
      points: [
        [2, 0, 0],
        [1, 1, 0],
      ],
      drives: [flat, 1],
    },
  ]);
  call("radiatedPower", [power]);
  call("responseAtAngle", [horizontal, 0]);
  call("responseAtPoint", [field]);
  call("spatialAverages", [{ horizontal, vertical }]);
  call("sphereMap", [sources, Float64Array.from(asked), { stepDegrees: 30, centre: [0, 0, 0] }]);
  call("zonalWeights", [Float64Array.of(0, 30, 60, 90)]);
}
{
  const call = on("alignments", alignments);
  call("crossoverSum", [grid], { run: (points: Float64Array) => alignments.crossoverSum(crossover, points) });
  call("groupDelayOf", [filter, grid]);
  call("ladderImpedance", [grid], { run: (points: Float64Array) => alignments.ladderImpedance(ladder, points) });
  call("acousticTarget", [{ family: "linkwitz-riley", order: 4, pass: "low", frequency: 2000, driver: low, load: 8 }], {
    read: (made: object) => JSON.stringify(made, (_, each: unknown) => (ArrayBuffer.isView(each) ? [...(each as Float64Array)] : each)),
  });
  for (const name of ["zobel", "conjugateNetwork"]) call(name, [alone], { read: ({ r, c }: { r: number; c: number }) => [r, c] });
  call("lossyZobel", [measuredDriver, { from: 500, to: 8000, resistance: 6 }], {
    read: ({ r, c, resistance }: alignments.LossyZobel) => [r, c, resistance],
  });
  call("approximateConjugate", [alone], { read: ({ r, c }: alignments.ApproximateConjugate) => [r, c] });
  call("refitLadder", [ladder, { dcr: 0.2 }], { kept: true, read: ({ elements }: alignments.LossyLadder) => elements });
  call("stepResponseOf", [filter, Float64Array.of(0, 1e-4, 1e-3)]);
  call("sumOf", [[{ transfer: filter }, { transfer: alignments.highPass(alignments.butterworth(2), 1000), polarity: "reversed" }], grid]);
  call("delayDerived", [grid], {
    run: (points: Float64Array) => alignments.delayDerived(alignments.bessel(4), { frequency: 1000 }).highPass(points),
  });
  call("allPole", [{ denominator: [1, 2, 2, 1] }]);
  call("cascade", [filter, filter], { read: (made: alignments.Prototype) => responses.responseOf(made, asked) });
  for (const name of ["lowPass", "highPass"])
    call(name, [alignments.butterworth(3), 1000], { read: (made: alignments.Prototype) => responses.responseOf(made, asked) });
  call("multiWay", [{ family: "butterworth", order: 2, frequencies: [500, 5000], load: [8, 8, 4] }], {
    read: ({ ways, sum }: alignments.MultiWay) => [sum, ways.map(({ transfer }) => transfer)],
  });
}
{
  const call = on("loudspeaker", loudspeakers);
  const readBox = (made: loudspeakers.Loudspeaker) => loudspeakers.predict(made).places;
  call("commonPlaces", [box], { kept: true });
  call("drivenBy", [prediction], { kept: true });
  call("loudspeaker", [{ network: twoWay, drivers: drivers(), sourceImpedance: 0.1 }], { read: readBox });
  call("polarMapOf", [prediction], { kept: true });
  call("driverStress", [{ voltage: 20, spectrum: { frequencies: [100, 10_000], levelDb: [0, -12] } }], {
    run: (options: loudspeakers.DriveLevel) => loudspeakers.driverStress(box, options),
  });
  call("predict", [{ frequencies: Float64Array.of(200, 1000, 5000), places: loudspeakers.commonPlaces(box) }], {
    run: (options: loudspeakers.PredictOptions) => loudspeakers.predict(box, options),
    read: ({ frequencies, places, sweep }: loudspeakers.Prediction) => [frequencies, places, sweep.impedance],
  });
  call("pressureAtPlace", [prediction, { distance: 1, azimuth: 0, elevation: 0 }], { kept: true });
  call("pressurePerVolt", [
    { response: low, drive: { voltage: 1, at: "terminals" }, distance: 1, rotationCentre: [0, 0, 0], timeZero: "unknown" },
  ]);
  call("pressurePerVolt", [{ response: low, drive: { voltage: 1, at: "input" }, distance: 1, timeZero: "unknown" }, flat]);
  call("sourcesOf", [box], { kept: true });
}
{
  const call = on("assessment", assessment);
  call("goal", [{ frequencies: [500, 1000], curve: { frequencies: [100, 1000], levelDb: [0, 1] } }]);
  call("lossOf", [box, { band: { from: 300, to: 1000 } }], { kept: true });
  call(
    "layoutChange",
    [
      loudspeakers.loudspeaker({ network: { ...twoWay, L2: [parts.inductor("0.4 mH"), "t", "gnd"] }, drivers: drivers() }),
      {
        goal: { band: { from: 300, to: 1000 } },
        coils: Object.fromEntries(
          ["L1", "L2"].map((name, index) => [
            name,
            {
              winding: { turns: 150, meanRadius: 0.018, length: 0.018, depth: 0.012 },
              place: { x: 0.06 * index, y: 0, z: 0.02, axis: "z" },
            },
          ]),
        ),
      },
    ],
    { kept: true },
  );
  call("dataSensitivity", [box, box, { ratedImpedance: 8, goal: { band: { from: 300, to: 1000 } } }], { kept: true });
  call("spread", [box, { goal: { band: { from: 300, to: 1000 } }, lots: [["C1"]], percentiles: [5, 95], samples: 4 }], { kept: true });
  call("suspects", [{ impedance: networks.solve(twoWay, grid).impedance }], {
    run: (measured: { impedance: responses.FrequencyResponse }) => assessment.suspects(box, measured),
  });
  call("assess", [box, { ratedImpedance: 8 }], { kept: true, read: ({ smoothness }: assessment.Assessment) => smoothness });
  call("checkModel", [{ pressures: wholes, impedance: networks.solve(twoWay, grid).impedance }], {
    run: (measured: assessment.ModelCheck["measured"]) => assessment.checkModel(box, measured),
  });
  call("compare", [judged, judged], { kept: true, read: ({ findings }: assessment.Comparison) => findings });
  call("comparePair", [
    { impedance: networks.solve(twoWay, grid).impedance },
    { pressures: wholes, impedance: networks.solve(twoWay, grid).impedance },
  ]);
  call("handover", [low, high]);
  call("loadOf", [{ ratedImpedance: 8, frequencies: Float64Array.from(grid) }], {
    run: (options: Parameters<typeof assessment.loadOf>[1]) => assessment.loadOf(box, options),
  });
  call("offAxisChange", [prediction, { distance: 1, centre: 1000 }], { kept: true });
  call("sideDifferences", [prediction, { distance: 1, centre: 1000 }], { kept: true });
  call("sensitivityLevels", [low, { band: { from: 300, to: 1000 }, ratedImpedance: 8 }]);
  call("smoothness", [low, { band: { from: 300, to: 1000 } }]);
}
{
  // A promise shows nothing: tests/design/choose-values-contract.test.ts writes while the search runs, and awaits the answer.
  const call = on("design", design);
  call("chooseValues", [box, { goal: {}, values: { R1: [1] } }], { run: () => "a promise" });
  call("fitValues", [box, { goal: {} }], { run: () => "a promise" });
  call("redesign", [box, { goal: {} }], { run: () => "a promise" });
  on("cores", cores)("chooseValuesOnAllCores", [box, { goal: {}, values: { R1: [1] } }], { run: () => "a promise" });
  on("cores", cores)("redesignOnAllCores", [box, { goal: {} }], { run: () => "a promise" });
  call("mergeShards", [
    [
      {
        network: { R1: [parts.resistor(1), "in", "gnd"] },
        lossDb: 1,
        lowerBoundDb: 1,
        proven: true,
        networks: 2,
        evaluated: 1,
        polarity: {},
        shard: { index: 0, of: 1 },
      },
    ],
  ]);
  call("driverFloor", [box, { goal: { frequencies: [300, 500, 1000] } }]);
  call("rankByYield", [box, { networks: [{ network: twoWay }], goal: { band: { from: 300, to: 1000 } }, samples: 4 }], { kept: true });
  call("identify", [{ impedance: networks.solve(twoWay, grid).impedance, vary: ["C1"] }], {
    run: (options: design.IdentifyOptions) => design.identify(twoWay, options),
  });
}
{
  const call = on("report", report);
  call("connections", [entries]);
  call("partsList", [entries]);
  call("topologyText", [entries]);
  call("redesignText", [
    {
      front: [
        {
          network: entries,
          lossDb: 0.5,
          parts: 2,
          levelDb: 87,
          taken: {},
          topology: "second order",
          polarity: {},
          lossWithoutDb: {},
          proof: "none",
        },
      ],
    },
  ]);
  call("buildSheet", [assessment.compare(judged, judged)], { kept: true });
}

export const arrayCalls: readonly ArrayCall[] = calls;
