// One valid call of every function that a subpath exports, with arguments as a user writes them: hostile.test.ts spoils one place of
// one of them at a time. What is frozen came out of the library and is spoiled as a whole; the rest at every property.
import * as alignments from "../../src/alignments";
import * as assessment from "../../src/assessment";
import * as loudspeakers from "../../src/loudspeaker";
import * as networks from "../../src/network";
import * as numeric from "../../src/numeric";
import * as parts from "../../src/parts";
import * as project from "../../src/project";
import * as quantity from "../../src/quantity";
import * as radiation from "../../src/radiation";
import * as report from "../../src/report";
import * as responses from "../../src/response";

const grid = [50, 100, 200, 400, 800, 1600, 3200, 6400, 12_800];
const made = (at: (f: number) => readonly [number, number]) =>
  responses.frequencyResponse(
    grid,
    grid.map((f) => at(f)[0]),
    grid.map((f) => at(f)[1]),
  );
const low = made((f) => [1 / (1 + (f / 2000) ** 2), -f / 2000 / (1 + (f / 2000) ** 2)]);
const high = made((f) => [(f / 2000) ** 2 / (1 + (f / 2000) ** 2), f / 2000 / (1 + (f / 2000) ** 2)]);
const flat = made(() => [1, 0]);
/** A response as somebody puts one together by hand. */
const byHand = () => ({
  frequencies: Float64Array.from(grid),
  re: low.re.slice(),
  im: low.im.slice(),
  marks: [{ kind: "model", from: 100, note: "made up" }],
});
const fine = numeric.logGrid(20, 20_000, 60);
const dome = parts.driverImpedance({ re: 5.6, le: "0.3 mH", fs: 80, qms: 3, qes: 0.6 });
const impedance = networks.solve({ woofer: [dome, "in", "gnd"] }, fine).impedance;
const measuredDriver = parts.driverImpedance(impedance);
const impulse = responses.impulseResponse(
  Array.from({ length: 64 }, (_, i) => (i < 10 ? 0 : Math.exp((10 - i) / 8) * Math.cos((i - 10) / 3))),
  { sampleRate: 48_000 },
);
const filter = () => ({
  zeros: [],
  poles: [
    { re: -1, im: 1 },
    { re: -1, im: -1 },
  ],
  gain: 2,
});
const coil = () => ({ turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" });
const solenoid = () => ({ turns: 100, radius: "25 mm", length: "50 mm" });
const wound = parts.windCoil({ inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
const air = () => ({ temperature: 20, humidity: 50, pressure: 101_325 });
const entries = () => ({
  C1: [parts.capacitor("10 µF"), "in", "a"],
  L1: [parts.inductor("1 mH", { dcr: 0.2 }), "a", "gnd"],
  R1: [{ kind: "resistor", resistance: 2 }, "a", "t"],
  tweeter: [measuredDriver, "t", "gnd"],
});
const asked = () => [100, 1000, 5000];
const sweep = networks.solve({ C1: [parts.capacitor("10 µF"), "in", "t"], tweeter: [parts.resistor(8), "t", "gnd"] }, asked());
const sources = () => [radiation.pistonSource({ radius: 0.05 }), radiation.pointSource({ position: [0, 0, 0.2] })];
const angles = [-90, -60, -30, 0, 30, 60, 90];
const around = Array.from({ length: 12 }, (_, i) => -150 + 30 * i);
const horizontal = radiation.polarMap(sources(), asked(), { angles: around });
const vertical = radiation.polarMap(sources(), asked(), { angles: around, plane: "vertical" });
const field = radiation.pressureAt(sources(), asked(), {
  points: [
    [2, 0, 0],
    [2, 0.5, 0],
  ],
});
const sphere = radiation.sphereMap(sources(), asked(), { stepDegrees: 45 });
const power = radiation.powerResponse(sphere);
const cuts = () => angles.map((angle) => ({ angle, response: angle === -90 ? byHand() : low }));
const ladder = alignments.ladder(alignments.butterworth(2), { pass: "low", frequency: 1000, load: 8 });
const textbook = alignments.crossover({ family: "linkwitz-riley", order: 4, frequency: 2000, load: 8 });
const pressure = (response: responses.FrequencyResponse, azimuth = 0) =>
  loudspeakers.pressurePerVolt({ response, drive: { voltage: 2, at: "terminals" }, distance: 1, azimuth, timeZero: "common" });
const twoWay = {
  L1: [parts.inductor("0.6 mH"), "in", "w"],
  woofer: [parts.resistor(8), "w", "gnd"],
  C1: [parts.capacitor("10 µF"), "in", "t"],
  tweeter: [parts.resistor(8), "t", "gnd"],
} as const;
const sides = [-30, 0, 30];
const drivers = () =>
  [
    { name: "woofer", role: "woofer", part: "woofer", position: [0, 0, 0], pressures: sides.map((side) => pressure(low, side)) },
    { name: "tweeter", pressures: sides.map((side) => pressure(high, side)) },
  ] as const;
const box = loudspeakers.loudspeaker({ network: twoWay, drivers: drivers() });
const boxByHand = () => ({
  ...box,
  network: { ...twoWay },
  drivers: box.drivers.map((driver) => ({ ...driver, pressures: driver.pressures.map((each) => ({ ...each })) })),
});
/** One driver measured at few frequencies: what judges it often is quick. */
const small = () =>
  loudspeakers.loudspeaker({
    network: { cone: [parts.resistor(8), "in", "gnd"] },
    drivers: [
      {
        name: "cone",
        pressures: [
          loudspeakers.pressurePerVolt({
            response: responses.frequencyResponse([250, 500, 1000, 2000, 4000], [1, 1, 1, 1, 1], [0, 0, 0, 0, 0]),
            drive: { voltage: 1, at: "terminals" },
            distance: 1,
            timeZero: "common",
          }),
        ],
      },
    ],
  });
const prediction = loudspeakers.predict(box);
const judged = assessment.assess(box, { ratedImpedance: 8 });
const place = () => ({ distance: 1, azimuth: 0, elevation: 0 });
const notch = () => ({ depthDb: 6, frequency: 1000, bandwidth: 500, load: 8 });
const conjugate = () => ({ re: 6, le: "0.5 mH", fs: 50, qms: 4, qes: 0.5 });
const twoSources = () => ({ spacing: "0.15 m", frequency: "3 kHz", levelDifferenceDb: 1, phaseDegrees: 10, air: air() });
const curve = () => ({ frequencies: [20, 2000, 20_000], levelDb: [80, 86, 85] });
const plot = () => ({ title: "Made up", yLabel: "Level, dB", series: [{ label: "Sum", response: curve() }] });
const working = quantity.startWorking();
working.step(
  "C",
  "F",
  { formula: "Le / Re²", tex: "C = L_e / R_e^2", source: "algebra" },
  { Le: [0.0005, "H"], Re: [6, "Ω"] },
  ({ Le, Re }) => Le / Re ** 2,
);
const mean = numeric.fitLeastSquares(([a], out) => [1, 2, 3].forEach((y, i) => (out[i] = a! - y)), [0], { count: 3 });
const projectJson = () => ({
  version: 1,
  name: "One driver",
  ratedImpedance: "8 Ω",
  amplifier: { outputResistance: 0, cableResistance: "0.1 Ω", cableInductance: "2 µH" },
  drivers: [{ name: "cone", position: { x: 0, y: 0, z: 0 }, impedance: { file: "z.txt", columns: "ohm-degrees" }, role: "full-range" }],
  measurements: [
    {
      of: "cone",
      quantity: "pressure",
      columns: "re-im",
      drive: { voltage: 1, at: "terminals" },
      distance: 1,
      rotationCentre: { x: 0, y: 0, z: 0 },
      timeZero: { common: true },
      trusted: { from: 500, to: 1000 },
      smoothing: "none",
      files: [{ azimuth: 0, elevation: 0, file: "p.txt" }],
    },
  ],
  networks: {
    found: { parts: [{ name: "cone", kind: "driver", nodes: ["in", "gnd"] }] },
    proposed: { parts: [{ name: "cone", kind: "driver", nodes: ["in", "gnd"] }] },
  },
});
const readFile = (path: string) => Promise.resolve(path === "z.txt" ? "500 8 0\n1000 8 0\n" : "500 1 0\n1000 1 0\n");

/** By floor and name: the arguments of a valid call, made anew at each asking. */
export const VALID: Readonly<Record<string, Readonly<Record<string, () => readonly unknown[]>>>> = {
  errors: {
    DividingNetworkError: () => ["code", "message", "hint", [{ code: "x", message: "R1 is shorted", hint: "Remove it" }]],
  },
  quantity: {
    amplitudeRatio: () => [-6],
    decibels: () => [2],
    degrees: () => [1],
    formatQuantity: () => [0.00047, "H", { digits: 4 }],
    nearestPreferred: () => [0.00043, "E12"],
    parseQuantity: () => ["0.47 mH", "H"],
    preferredAbove: () => [5, "E12"],
    preferredBelow: () => [5, "E12"],
    preferredValues: () => ["E6"],
    radians: () => [180],
    startWorking: () => [],
    workingMarkdown: () => [working.done().map((step) => ({ ...step }))],
    workingText: () => [working.done().map((step) => ({ ...step }))],
  },
  physics: {
    airAbsorption: () => [{ ...air(), frequency: 1000 }],
    airDensity: () => [air()],
    copperResistivity: () => [{ temperature: 75 }],
    pointInDirection: () => [{ azimuth: 30, elevation: 10 }, 2, [0, 0, 0]],
    speedOfSound: () => [air()],
  },
  numeric: {
    invertComplex: () => [new Float64Array([1, 0, 0, 2]), new Float64Array(4), 2],
    besselJ0: () => [1],
    besselJ1: () => [1],
    ellipticE: () => [0.5],
    ellipticK: () => [0.5],
    fft: () => [[1, 2, 3, 4], [0, 0, 0, 0], { inverse: false }],
    fitLeastSquares: () => [
      (p: Float64Array, out: Float64Array) => out.set([p[0]! - 2, p[1]! - 3, p[0]! + p[1]! - 5]),
      [1, 1],
      { count: 3, maxIterations: 20, maxStep: 10 },
    ],
    gaussLegendre: () => [4],
    interpolateLog: () => [
      [10, 100, 1000],
      [1, 2, 3],
      [20, 200],
    ],
    inverseRealFft: () => [[1, 2, 3], [0, 1, 0], 4],
    linearGrid: () => [0, "1 kHz", 5],
    logGrid: () => ["20 Hz", "20 kHz", 4],
    polynomialRoots: () => [[1, 2, 5]],
    propagatedError: () => [{ ...mean }, ([a]: Float64Array) => 2 * a!],
    realFft: () => [[1, 2, 3, 4]],
    struveH1: () => [1],
  },
  response: {
    crossings: () => [byHand(), -3, { from: 200, to: 5000 }],
    extremes: () => [byHand(), { from: 200, to: 5000 }],
    acousticDelay: () => [low, { lowSlope: 0, highSlope: -6, from: 100, to: 5000, longest: "1 ms" }],
    addResponses: () => [low, byHand()],
    applyCalibration: () => [low, byHand(), { outside: "hold" }],
    arrivalTime: () => [{ ...impulse }, { thresholdDb: -20 }],
    averageMeasurements: () => [[byHand(), low, low], { thresholdDb: 3 }],
    baffleStepResponse: () => [asked(), { width: 0.2, air: air() }],
    bandMeanLevelDb: () => [low, 100, 10_000, { reference: 1 }],
    bandPowerAverage: () => [byHand(), "200 Hz", "5 kHz"],
    combineNearFields: () => [
      [
        { response: byHand(), radius: 0.08 },
        { response: low, radius: 0.03 },
      ],
      { spacing: 0.2 },
    ],
    cumulativeSpectralDecay: () => [impulse, { frequencies: [1000, 2000, 4000], duration: "0.5 ms", slices: 3 }],
    decayTimes: () => [impulse, { frequencies: [4000, 8000], fallDb: 10 }],
    delayResponse: () => [low, "1 ms"],
    divideResponses: () => [low, high],
    estimateDelay: () => [low],
    excessPhase: () => [low, { lowSlope: 0, highSlope: -6 }],
    farFieldFromNearField: () => [low, { radius: 0.08, distance: 1, air: air() }],
    fractionalOctaveBands: () => [{ fraction: 3, from: 100, to: 1000 }],
    frequencyResponse: () => [[50, 60], [1, 2], [0, 0], [{ kind: "model", from: 50, to: 60, note: "a note" }]],
    fromLevelAndPhase: () => [[50, 60], [0, 1], [10, 20], { reference: 1, marks: [{ kind: "model", note: "a note" }] }],
    gateFromGeometry: () => [{ distance: "1 m", sourceHeight: "1 m", microphoneHeight: "1 m", air: { speedOfSound: 343 } }],
    gateImpulse: () => [impulse, { duration: "0.8 ms", arrival: 10 / 48_000 }],
    gateMarks: () => ["4 ms"],
    gatedResponse: () => [impulse, { duration: "0.8 ms", arrival: 10 / 48_000, frequencies: [2000, 4000] }],
    groupDelay: () => [low, { delay: "1 ms" }],
    impedanceFromChannels: () => [{ source: flat, load: low, reference: 10, balance: flat }],
    impulseFromResponse: () => [low, { sampleRate: 48_000, length: 64 }],
    impulseResponse: () => [[0, 1, 0.5], { sampleRate: 48_000, startTime: 0 }],
    levelDb: () => [byHand(), { reference: 1 }],
    magnitude: () => [byHand()],
    mergeAt: () => [low, low, { frequency: 1000 }],
    minimumPhase: () => [low, { lowSlope: 0, highSlope: -6 }],
    minimumPhaseWithError: () => [low, { lowSlope: 0, highSlope: -6 }],
    multiplyResponses: () => [low, byHand()],
    nearFieldErrorDb: () => [1],
    phaseDegrees: () => [byHand()],
    readImpulseText: () => ["time value\n0 0\n0.001 1\n0.002 0.5", { name: "a.txt" }],
    readResponseText: () => ["1000;85,2;-30,5\n2000;86,1;-61\n", { columns: "db-degrees", file: "a.txt", reference: 1 }],
    readTouchstone: () => ["# kHz S RI R 50\n1 -0.6 0\n2 -0.5 0\n", { file: "a.s1p" }],
    readWav: () => [responses.writeWav(impulse), { channel: 0, startTime: 0 }],
    reciprocalResponse: () => [low],
    relativeAcousticOffset: () => [{ first: low, second: high, both: responses.addResponses(low, high), from: 100, to: 8000 }],
    resample: () => [low, [100, 1000], { delay: 0.001 }],
    responseFromImpulse: () => [impulse, { frequencies: [1000, 2000] }],
    responseFromJSON: () => [JSON.parse(JSON.stringify(responses.responseToJSON(low)))],
    responseOf: () => [filter(), [0.5, 1]],
    responseToJSON: () => [byHand()],
    scaleResponse: () => [low, { re: 1, im: 1 }],
    smoothResponse: () => [low, { fraction: 6, kind: "complex" }],
    smoothingBiasDb: () => [{ fraction: 3, slope: 24 }],
    stepResponse: () => [{ ...impulse }],
    subtractResponses: () => [low, high],
    toneBurstDecay: () => [impulse, { frequencies: [4000, 8000] }],
    unwrappedPhaseDegrees: () => [low, { delay: 0.001 }],
    valueAt: () => [filter(), 1000],
    weightingDb: () => ["A", 100],
    writeImpulseText: () => [impulse, { separator: ";" }],
    writeResponseText: () => [low, { columns: "re-im", separator: ";", decimal: "," }],
    writeTouchstone: () => [low, { unit: "kHz" }],
    writeWav: () => [{ ...impulse }, {}],
  },
  parts: {
    bestCombination: () => [
      [{ kind: "resistor", value: 4.7, power: 5, count: 2, price: 1 }, parts.resistor(10)],
      "resistor",
      { value: "9 Ω", mostParts: 2, frequency: "1 kHz", power: 1 },
    ],
    bipolarElectrolytic: () => [{ capacitance: "47 µF", tolerance: 0.1, aged: true }],
    brooksCoilInductance: () => [{ turns: 100, meanRadius: 0.03 }],
    bypassedCapacitor: () => [{ ...parts.capacitor("47 µF", { dissipationFactor: 0.05 }) }, parts.capacitor("1 µF"), "1 kHz"],
    capacitor: () => ["6.8 µF", { esr: "15 mΩ" }],
    displacementPerVolt: () => [[20, 200], { re: "6 Ω", le: "0.3 mH", fs: 50, qms: 3, qes: 0.5, mms: "15 g" }],
    capacitorEsr: () => [{ capacitance: "10 µF", dissipationFactor: 0.001, frequency: "1 kHz" }],
    closedBox: () => [{ fs: 45, qes: 0.5, qms: 3.6, vas: "20 L", volume: "10 L" }],
    closedBoxResponse: () => [asked(), { fc: 60, qtc: 0.7 }],
    coaxialMutualInductance: () => [{ radiusA: "25 cm", radiusB: "25 cm", distance: "10 cm" }],
    combination: () => [
      {
        series: [
          { name: "a", part: { kind: "inductor", inductance: 1e-3, dcr: 0.3 }, lossKnown: true, tolerance: 0.05, current: 3, price: 2 },
        ],
      },
      { frequency: 500 },
    ],
    contactResistance: () => ["spade"],
    coupling: () => [-0.02],
    couplingFromPlacement: () => [coil(), coil(), { x: "80 mm", y: 0, z: 0, axis: { x: 1, y: 0, z: 1 } }],
    displacementLevelDb: () => [{ displacement: "1 mm", sd: "132 cm²", frequency: 50, distance: 1, air: { density: 1.2 } }],
    driverImpedance: () => [{ re: 5.6, le: "0.3 mH", fs: 80, qms: 3, qes: 0.6 }],
    driverParameters: () => [impedance, { coil: "inductance" }],
    equivalentPeakDissipationResistance: () => [{ re: 4, im: 3 }],
    fuseResistance: () => [{ rating: "2 A", current: "1 A" }],
    inductor: () => ["0.33 mH", { dcr: "0.24 Ω" }],
    leastCoupling: () => [{ coils: [coil(), coil()], board: { width: "20 cm", depth: "12 cm" }, gap: "5 mm", axes: ["z"] }],
    lPad: () => [{ attenuationDb: 6, load: "8 Ω" }],
    lundinInductance: () => [solenoid()],
    nagaokaCoefficient: () => [1],
    parametersFromAddedMass: () => [{ re: 6, fs: 50, qms: 4, qes: 0.5, sd: "135 cm²", addedMass: "15 g", fsWithMass: 35 }],
    parametersFromKnownVolume: () => [{ re: 6, fs: 50, qms: 4, qes: 0.5, sd: "135 cm²", volume: "10 L", fc: 100, qec: 1 }],
    readStockCsv: () => ["kind,value\nresistor,4.7 Ω\n", { file: "drawer.csv" }],
    part: () => [
      {
        title: "Cored coil",
        terminals: 2,
        branches: [
          {
            from: 0,
            to: 1,
            law: {
              law: "series",
              of: [
                { law: "inductance", name: "inductance", value: 1e-3 },
                { law: "fractional", name: "", k: 0.02, n: 0.7 },
              ],
            },
          },
        ],
      },
    ],
    capacitive: () => ["4.7 µF", "bypass"],
    fractional: () => [{ k: 0.02, n: 0.7, name: "core" }],
    inductive: () => ["1 mH", "inductance"],
    inParallel: () => [
      { law: "inductance", name: "inductance", value: 1e-3 },
      { law: "resistance", name: "coreLoss", value: 300 },
    ],
    inSeries: () => [
      { law: "inductance", name: "inductance", value: 1e-3 },
      { law: "resistance", name: "dcr", value: 0.3 },
    ],
    resistive: () => ["0.3 Ω", "dcr"],
    resistor: () => ["4.7 Ω"],
    selfResonance: () => [wound],
    skinEffect: () => [{ diameter: "1 mm", frequency: "20 kHz" }],
    smallestCoil: () => [{ inductance: "1 mH", dcr: "0.3 Ω" }],
    solenoidInductance: () => [solenoid()],
    stock: () => [
      [
        { kind: "capacitor", value: "6.8 µF", esr: 0.1, tolerance: "5 %", voltage: 250, price: 3.2, count: 4, name: "box 2" },
        parts.resistor(4.7),
      ],
    ],
    stockToJSON: () => [{ parts: [{ name: "a", part: { kind: "resistor", resistance: 4.7 }, lossKnown: true, count: 2 }] }],
    thieleSmall: () => [{ re: "5.8 Ω", bl: 7, mms: "15 g", cms: 0.8e-3, rms: 1.2, sd: "135 cm²", air: air() }],
    transformer: () => [{ ratio: 2 }],
    turnsToTakeOff: () => [wound, "0.68 mH"],
    volumeDisplacementFromLevel: () => [{ levelDb: 90, frequency: 40, distance: 1, air: { density: 1.2 } }],
    wheelerSolenoidInductance: () => [solenoid()],
    wheelerWindingInductance: () => [coil()],
    windCoil: () => [
      { inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" }, temperature: 20 },
    ],
    windingInductance: () => [coil()],
    windingResistance: () => [wound, "1 kHz"],
    wireDiameter: () => [{ awg: 18 }],
    wireGauge: () => [{ diameter: "1 mm" }],
    wireResistance: () => [{ diameter: "1 mm", length: "10 m", temperature: "75 °C" }],
    wireRun: () => [{ length: "5 m", diameter: "1.8 mm", spacing: "3 mm", frequency: 1000, temperature: 20 }],
    woundCoilLaw: () => [{ wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" }, temperature: 20 }],
    writeStockCsv: () => [
      { parts: [{ name: "a", part: { kind: "inductor", inductance: 1e-3, dcr: 0.3 }, lossKnown: true, price: 2 }] },
      { separator: ";", decimal: "," },
    ],
  },
  network: {
    impedanceMinimum: () => [networks.solve(twoWay, grid).impedance, { from: 200, to: 5000 }],
    compile: () => [entries()],
    diagnose: () => [entries(), { zeroFrequency: true }],
    dissipation: () => [sweep, { voltage: 2.83 }],
    drivingPointImpedance: () => [entries(), { from: "t", to: "gnd" }, asked(), { sourceImpedance: 1, without: ["tweeter"] }],
    stress: () => [
      entries(),
      { voltage: "20 V", spectrum: { frequencies: [100, 1000, 10_000], levelDb: [0, -3, -12] }, crestFactor: 3, sourceImpedance: 0.1 },
    ],
    fragment: () => [entries()],
    join: () => [entries(), { R2: [parts.resistor(5), "t", "gnd"] }],
    network: () => [entries()],
    networkFromJSON: () => [
      {
        parts: [
          { name: "R1", kind: "resistor", resistance: "4R7", nodes: ["in", "a"] },
          { name: "tweeter", kind: "driver", nodes: ["a", "gnd"], response: "tweeter" },
        ],
      },
      { responses: { tweeter: impedance } },
    ],
    networkToJSON: () => [entries(), { responses: { tweeter: impedance } }],
    networkToSpice: () => [
      entries(),
      { title: "one", band: { from: 100, to: 5000 }, largestError: 0.1, sourceImpedance: { resistance: 0.1, inductance: "1 µH" } },
    ],
    networkFromSpice: () => ["t\nV1 in 0 AC 1\nR1 in 0 4\n.end\n", { file: "a.cir" }],
    sensitivities: () => [
      entries(),
      asked(),
      { outputs: ["t"], vary: ["R1", "C1"], parasitics: true, sourceImpedance: { resistance: 0.1, inductance: "1 µH" } },
    ],
    solve: () => [entries(), asked(), { sourceImpedance: 0.1 }],
    sumObjective: () => [
      entries(),
      {
        frequencies: asked(),
        contributions: { tweeter: flat },
        target: [1, 1, 1],
        weights: [1, 2, 3],
        vary: ["C1", "R1"],
        parasitics: true,
        sourceImpedance: { resistance: 0.1, inductance: "1 µH" },
      },
    ],
    tolerance: () => [
      entries(),
      asked(),
      {
        outputs: ["t"],
        tolerances: { C1: 0.1 },
        samples: 10,
        percentiles: [10, 90],
        limits: [{ output: "t", lowerDb: [-60, -30, -20] }],
        corners: true,
        sourceImpedance: 0.1,
      },
    ],
  },
  radiation: {
    angularWindow: () => [horizontal, { withinDb: 3, from: 100, to: 5000 }],
    arrayDirectivity: () => [{ count: 2, kd: Math.PI, angle: 30, phaseDegrees: 10 }],
    arrayLobes: () => [{ count: 4, spacing: 0.1, frequency: 1715, air: { speedOfSound: 343 } }],
    beamwidth: () => [horizontal, { dropDb: 6 }],
    combineFields: () => [
      [field, field],
      [1, radiation.responseAtPoint(field)],
    ],
    coverage: () => [horizontal, { dropDb: 6, from: 100, to: 5000 }],
    dipoleSource: () => [radiation.pistonSource({ radius: 0.05, mounting: "simple" }), { path: 0.1 }],
    directivityIndex: () => [power],
    displacementPressure: () => [{ area: "132 cm²", displacement: "1 mm", frequency: 50, distance: 1, air: { density: 1.2 } }],
    lineDirectivity: () => [{ kl: 6, angle: 30 }],
    lineSource: () => [{ length: 2, position: [0, 0, 0] }],
    listenerSensitivity: () => [sources(), asked(), { point: [2, 0, 0] }],
    lobeTilt: () => [{ order: 3, spacing: "0.15 m", frequency: "3 kHz", air: { speedOfSound: 343 } }],
    measuredSource: () => [{ distance: 1, horizontal: cuts(), symmetry: "axial", extrapolate: true }],
    offAxisStability: () => [horizontal, { window: 60, from: 100, to: 5000 }],
    panelSource: () => [{ width: "0.3 m", height: "1.5 m" }],
    pistonDirectivity: () => [{ ka: 3, angle: 45 }],
    pistonDirectivityIndex: () => [{ ka: 2 }],
    pistonHalfAngle: () => [{ ka: 5, ratio: 0.5 }],
    pistonRadiationImpedance: () => [{ ka: 1 }],
    pistonSource: () => [{ radius: "75 mm", position: [0, 0, 0] }],
    pointSource: () => [{ position: [0, 0, 0] }],
    polarLevels: () => [horizontal, { normalize: "axis" }],
    polarMap: () => [
      sources(),
      asked(),
      { angles: [...angles], drives: [flat, 2], centre: [0, 0, 0], plane: "vertical", distance: 2, air: air() },
    ],
    polarMapFromResponses: () => [cuts(), { frequencies: asked(), plane: "vertical", distance: 1 }],
    powerResponse: () => [{ horizontal, vertical }, {}],
    pressureAt: () => [
      sources(),
      asked(),
      {
        points: [
          [2, 0, 0],
          [1, 1, 0],
        ],
        drives: [byHand(), 1],
        air: air(),
      },
    ],
    radiatedPower: () => [power, { air: air() }],
    responseAtAngle: () => [horizontal, 0],
    responseAtPoint: () => [field, 1],
    ringDirectivity: () => [{ ka: 2, angle: 30 }],
    ringSource: () => [{ radius: 0.3 }],
    spatialAverages: () => [{ horizontal, vertical }, {}],
    sphereMap: () => [sources(), asked(), { stepDegrees: 45, centre: [0, 0, 0], drives: [1, 1] }],
    twoSourceLobes: () => [twoSources()],
    twoSourceWindow: () => [{ spacing: "0.15 m", frequency: "3 kHz", withinDb: 3, air: { speedOfSound: 343 } }],
  },
  alignments: {
    acousticTarget: () => [
      {
        family: "linkwitz-riley",
        order: 4,
        pass: "high",
        frequency: 2000,
        driver: { order: 2, frequency: 2000, q: Math.SQRT1_2 },
        load: 6,
      },
    ],
    allPassFilter: () => [{ frequency: 1000, q: 0.7 }],
    allPassLattice: () => [{ frequency: 1000, load: 8 }],
    allPole: () => [{ denominator: [1, 2, 2, 1] }],
    approximateConjugate: () => [conjugate(), { from: 20, to: 20_000 }],
    attenuator: () => [{ attenuationDb: 6, load: "8 Ω" }],
    baffleStep: () => [{ stepDb: 6, width: "230 mm", load: "8 Ω" }],
    bandPass: () => [filter(), 500, 2000],
    bessel: () => [2, { normalization: "delay" }],
    breakupTrap: () => [{ peakDb: 6, frequency: 5000, q: 5, load: 8 }],
    bridgedTee: () => [{ frequency: 1000, q: 0.5, load: 8 }],
    butterworth: () => [3],
    cascade: () => [filter(), filter()],
    chebyshev: () => [3, { rippleDb: 1, level: "peak" }],
    conjugateNetwork: () => [conjugate()],
    criticallyDamped: () => [2, { normalization: "half-power" }],
    crossover: () => [{ family: "linkwitz-riley", order: 2, frequency: "3 kHz", load: "8 Ω" }],
    crossoverSum: () => [textbook, asked(), "same"],
    delayDerived: () => [alignments.bessel(4), { frequency: 1000, delay: "1 ms" }],
    derivedThreeWay: () => [{ target: "all-pass", order: 1, frequencies: [400, 3200], load: 8 }],
    groupDelayOf: () => [filter(), asked()],
    highPass: () => [filter(), 1000],
    ladder: () => [alignments.butterworth(2), { pass: "low", frequency: "3 kHz", load: "8 Ω" }],
    ladderImpedance: () => [ladder, asked()],
    ladderValues: () => [alignments.butterworth(3), { sourceResistance: 1, first: "shunt" }],
    legendrePapoulis: () => [3],
    linkwitzRiley: () => [4],
    lossyZobel: () => [measuredDriver, { from: 500, to: 8000, resistance: 6 }],
    lowPass: () => [filter(), 1000],
    multiWay: () => [{ family: "butterworth", order: 2, frequencies: [500, 5000], load: [8, 8, 4] }],
    parallelTrap: () => [notch()],
    polynomialsOf: () => [filter()],
    refitLadder: () => [ladder, { dcr: 0.2 }],
    seriesAttenuator: () => [{ attenuationDb: 6, load: 8 }],
    seriesCrossover: () => [{ order: 1, frequency: "3 kHz", load: "8 Ω" }],
    shuntAttenuator: () => [{ attenuationDb: 6, load: 8, sourceResistance: 8 }],
    shuntNotch: () => [{ ...notch(), sourceResistance: 8 }],
    stepResponseOf: () => [filter(), [0, 1e-4, 1e-3]],
    subtractive: () => [filter()],
    sumOf: () => [
      [
        { transfer: filter(), polarity: "same" },
        { transfer: filter(), polarity: "reversed" },
      ],
      asked(),
    ],
    zobel: () => [{ re: "6 Ω", le: "0.5 mH" }],
  },
  loudspeaker: {
    commonPlaces: () => [boxByHand()],
    drivenBy: () => [prediction],
    loudspeaker: () => [{ network: { ...twoWay }, drivers: drivers(), sourceImpedance: 0.1 }],
    polarMapOf: () => [{ places: prediction.places.map((each) => ({ ...each })) }, { driver: "woofer", plane: "horizontal" }],
    driverStress: () => [boxByHand(), { voltage: "20 V", spectrum: "pink", crestFactor: 4 }],
    predict: () => [boxByHand(), { frequencies: [200, 1000, 5000], places: [place()], voltage: 2.83 }],
    pressureAtPlace: () => [{ places: [place()] }, place()],
    pressurePerVolt: () => [
      {
        response: byHand(),
        drive: { voltage: 1, at: "input" },
        distance: 1,
        azimuth: 0,
        elevation: 0,
        rotationCentre: [0, 0, 0],
        timeZero: "unknown",
      },
      flat,
    ],
    sourcesOf: () => [boxByHand(), {}],
  },
  assessment: {
    goal: () => [
      {
        band: { from: 300, to: 1000 },
        frequencies: [300, 500, 1000],
        distance: 1,
        levelDb: 85,
        slopeDbPerOctave: -0.5,
        curve: { frequencies: [300, 1000], levelDb: [0, 1] },
        corridorDb: 2,
        places: [{ azimuth: 0, elevation: 0, weight: 1, levelDb: 85, slopeDbPerOctave: 0 }],
        largestLevelLossDb: 2,
        leastLevelDb: 80,
        amplifier: { smallestImpedance: 3, smallestPeakDissipationResistance: 1 },
        drivers: { tweeter: 12 },
        damping: { largestQ: 0.8, largestSourceResistance: 0.6 },
        partner: { pressures: [{ azimuth: 0, elevation: 0, response: byHand() }] },
        intentions: [{ lower: "woofer", upper: "tweeter", order: 4, frequency: 1000 }],
        limits: "stated",
      },
    ],
    lossOf: () => [
      boxByHand(),
      {
        band: { from: 300, to: 1000 },
        places: [{ azimuth: 0, weight: 1 }],
        partner: { highPass: { zeros: [], poles: [{ re: -1, im: 0 }], gain: 1 } },
      },
    ],
    layoutChange: () => [
      {
        ...small(),
        network: { L1: [parts.inductor(1e-3), "in", "a"], L2: [parts.inductor(1e-3), "a", "b"], cone: [parts.resistor(8), "b", "gnd"] },
      },
      {
        goal: { band: { from: 500, to: 2000 } },
        coils: {
          L1: { winding: { turns: 150, meanRadius: 0.018, length: 0.018, depth: 0.012 }, place: { x: 0, y: 0, z: 0.02, axis: "z" } },
          L2: { winding: { turns: 150, meanRadius: 0.018, length: 0.018, depth: 0.012 }, place: { x: 0.06, y: 0, z: 0.02, axis: "x" } },
        },
      },
    ],
    dataSensitivity: () => [small(), small(), { ratedImpedance: 8, goal: { band: { from: 500, to: 2000 } }, levelDb: 1, phaseDegrees: 5 }],
    spread: () => [
      boxByHand(),
      {
        goal: { band: { from: 300, to: 1000 } },
        tolerances: { cone: 0.05 },
        byKind: { resistor: 0.05 },
        drivers: { cone: { levelDb: 1, resonance: 0.1, q: 0.1, delay: 1e-6 } },
        lots: [["cone"]],
        matched: ["cone"],
        samples: 4,
        percentiles: [5, 95],
        largestLossDb: 3,
        ratedImpedance: 8,
      },
    ],
    suspects: () => [
      boxByHand(),
      { pressures: [{ ...place(), response: byHand(), voltage: 2.83 }], impedance: networks.solve(twoWay, grid).impedance },
      { repeatability: { levelDb: 1, impedance: 0.03 } },
    ],
    suspectText: () => [{ parts: ["C1"], fault: "open", misfit: 1 }],
    assess: () => [boxByHand(), { ratedImpedance: 8 }],
    checkModel: () => [
      boxByHand(),
      { pressures: [{ ...place(), response: byHand(), voltage: 2.83 }], impedance: networks.solve(twoWay, grid).impedance },
    ],
    compare: () => [
      judged,
      judged,
      {
        measured: { pressures: [{ ...place(), response: byHand(), voltage: 2.83 }] },
        repeatability: { levelDb: 1, impedance: 0.03 },
        listenerAngle: 30,
      },
    ],
    comparePair: () => [
      { pressures: [{ ...place(), response: byHand(), voltage: 2.83 }], impedance: networks.solve(twoWay, grid).impedance },
      { pressures: [{ ...place(), response: byHand(), voltage: 2.83 }], impedance: networks.solve(twoWay, grid).impedance },
      { band: { from: 300, to: 1000 }, mirrored: false, repeatability: { levelDb: 1, impedance: 0.03 } },
    ],
    driveLevelDb: () => [boxByHand(), { part: "woofer", band: { from: 300, to: 1000 } }],
    handover: () => [low, high],
    loadOf: () => [boxByHand(), { ratedImpedance: 8, frequencies: [...grid] }],
    offAxisChange: () => [{ places: prediction.places.map((each) => ({ ...each })) }, { distance: 1, centre: 1000 }],
    sensitivityLevels: () => [low, { band: { from: 300, to: 1000 }, ratedImpedance: 8, voltage: 2 }],
    sideDifferences: () => [{ places: prediction.places.map((each) => ({ ...each })) }, { distance: 1, centre: 1000 }],
    smoothness: () => [low, { band: { from: 300, to: 1000 } }],
  },
  design: {
    chooseValues: () => [boxByHand(), { goal: { frequencies: [500, 1000] }, values: {} }],
    fitValues: () => [
      boxByHand(),
      { goal: { frequencies: [500, 1000] }, vary: {}, starts: 1, seed: 1, coilResistance: (l: number) => 350 * l, ratedImpedance: 4 },
    ],
    mergeShards: () => [[undefined]],
    // One role alone is refused before the search, which would take minutes for what it takes here.
    redesign: () => [
      { ...boxByHand(), drivers: boxByHand().drivers.slice(0, 1) },
      { goal: { frequencies: [500, 1000] }, series: "E3", maxParts: 2, coilResistance: (l: number) => 350 * l, ratedImpedance: 4 },
    ],
    driverFloor: () => [boxByHand(), { goal: { frequencies: [300, 500, 1000] } }],
    rankByYield: () => [
      boxByHand(),
      { networks: [{ network: { ...twoWay } }], heldBack: [{ azimuth: 0 }], goal: { band: { from: 300, to: 1000 } }, samples: 4 },
    ],
    identify: () => [
      entries(),
      {
        impedance: networks.solve(entries() as never, grid).impedance,
        transfers: {},
        parasitics: false,
        repeatability: { impedance: 0.01, transfer: 0.01 },
      },
    ],
  },
  cores: {
    chooseValuesOnAllCores: () => [boxByHand(), { goal: { frequencies: [500, 1000] }, values: {}, workers: 1, workerScript: "nowhere.js" }],
    redesignOnAllCores: () => [
      { ...boxByHand(), drivers: boxByHand().drivers.slice(0, 1) },
      { goal: { frequencies: [500, 1000] }, series: "E3", maxParts: 2, workers: 1, workerScript: "nowhere.js" },
    ],
  },
  report: {
    cautions: () => [],
    buildSheet: () => [assessment.compare(judged, judged), { resistances: {}, stock: [{ kind: "resistor", value: 4.7 }] }],
    buildSheetText: () => [report.buildSheet(assessment.compare(judged, judged)), { width: 80 }],
    topologyText: () => [entries()],
    comparisonPage: () => [
      assessment.compare(judged, judged),
      {
        title: "Made up",
        description: "Invented",
        generatedFrom: "nothing",
        proof: "none",
        build: { resistances: { woofer: 6 } },
        stock: [{ kind: "resistor", value: 4.7 }],
        alternative: { name: "by hand", comparison: assessment.compare(judged, judged) },
      },
    ],
    comparisonText: () => [assessment.compare(judged, judged), { width: 80, stock: [{ kind: "resistor", value: 4.7 }] }],
    connections: () => [entries()],
    anglesPlot: () => [
      { title: "Family", yLabel: "Level, dB", plane: "horizontal", series: [-30, 0, 30].map((angle) => ({ angle, response: curve() })) },
    ],
    angleMapPlot: () => [
      {
        title: "Map",
        plane: "horizontal",
        series: [-30, 0, 30].map((angle) => ({ angle, response: curve() })),
        markers: [{ frequency: 1000, label: "1 kHz" }],
      },
    ],
    frequencyPlot: () => [
      {
        title: "Delay",
        panels: [{ label: "ms", series: [{ label: "Low-pass", frequencies: [20, 1000, 20_000], values: [0.3, 0.2, 0] }] }],
      },
    ],
    spreadPlot: () => [
      assessment.spread(box, { goal: { band: { from: 300, to: 1000 } }, samples: 4 }),
      { title: "Made up", azimuth: 0, elevation: 0, width: 600 },
    ],
    impedancePlot: () => [{ title: "Impedance", series: [{ label: "Built", response: byHand() }], limit: 3.2 }],
    schematic: () => [entries(), { title: "As built" }],
    partsList: () => [entries()],
    redesignText: () => [
      {
        front: [
          {
            network: entries(),
            lossDb: 0.5,
            parts: 2,
            levelDb: 87,
            price: 3,
            taken: {},
            topology: "second order",
            polarity: {},
            lossWithoutDb: {},
            proof: "none of 40 networks of up to 2 parts (2 topologies) is better",
          },
        ],
        topologies: 1,
        unfinished: 0,
        complete: true,
      },
      { width: 80 },
    ],
    responsePlot: () => [plot()],
  },
  project: {
    parseProject: () => [JSON.stringify(projectJson()), { file: "project.json" }],
    projectFromJSON: () => [projectJson()],
    projectSchema: () => [],
    projectToJSON: () => [project.projectFromJSON(projectJson())],
    readProject: () => [JSON.stringify(projectJson()), { file: "project.json", readFile }],
    writeProject: () => [project.projectFromJSON(projectJson())],
  },
};
