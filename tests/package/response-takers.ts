// Every place where a response made by hand can enter the library: "function path", and a call that puts one there.
import * as alignments from "../../src/alignments";
import * as assessment from "../../src/assessment";
import * as cores from "../../src/cores";
import * as design from "../../src/design";
import * as loudspeaker from "../../src/loudspeaker";
import * as network from "../../src/network";
import * as parts from "../../src/parts";
import { expandPart } from "../../src/parts/internal";
import * as radiation from "../../src/radiation";
import * as report from "../../src/report";
import * as response from "../../src/response";
import type { FrequencyResponse } from "../../src/response";

const flat = (frequencies: readonly number[], value = 1): FrequencyResponse =>
  response.frequencyResponse(
    frequencies,
    frequencies.map(() => value),
    frequencies.map(() => 0),
  );

/** A grid from 0 Hz on, as impulses give it. */
export const GRID: readonly number[] = Array.from({ length: 513 }, (_, i) => i * 46.875);
const one = flat(GRID);
/** Falls through 1 near 1 kHz, so that it crosses a rising one. */
const falling = response.frequencyResponse(
  GRID,
  GRID.map((f) => 1000 / (1000 + f)),
  GRID.map(() => 0),
);

/** Two flat drivers, one of them 0.1 ms late. */
const together = response.addResponses(one, response.delayResponse(one, 1e-4));

const eight = response.scaleResponse(one, 8);
const pressure = (given: FrequencyResponse, azimuth = 0) => ({
  distance: 1,
  azimuth,
  elevation: 0,
  rotationCentre: [0, 0, 0] as const,
  response: given,
  timed: true,
  label: "cone",
});
const around = (given: FrequencyResponse) => [-20, 0, 20].map((azimuth) => pressure(given, azimuth));
const box = loudspeaker.loudspeaker({
  network: { cone: [parts.resistor(8), "in", "gnd"] },
  drivers: [{ name: "cone", pressures: around(one) }],
});
const boxWith = (given: FrequencyResponse) => ({ ...box, drivers: [{ ...box.drivers[0]!, pressures: around(given) }] });
const driver = (given: FrequencyResponse) => ({ cone: [{ kind: "driver" as const, response: given }, "in", "gnd"] as const });
const twice = (given: FrequencyResponse) => [-20, 0, 20].map((angle) => ({ angle, response: given }));
const map = (given: FrequencyResponse) => radiation.polarMapFromResponses(twice(given), { plane: "horizontal", distance: 1 });

export const TAKERS: Readonly<Record<string, (given: FrequencyResponse) => unknown>> = {
  "chooseValues loudspeaker": (r) =>
    design.chooseValues(
      { ...boxWith(r), network: { R1: [parts.resistor(1), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] } },
      { goal: { frequencies: [500, 1000] }, values: { R1: [1, 2] } },
    ),
  "fitValues loudspeaker": (r) =>
    design.fitValues(
      { ...boxWith(r), network: { R1: [parts.resistor(1), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] } },
      { goal: { frequencies: [500, 1000], levelDb: 80 }, starts: 1 },
    ),
  "redesign loudspeaker": (r) =>
    design.redesign(
      {
        ...boxWith(r),
        network: { cone: [parts.resistor(8), "in", "gnd"], dome: [parts.resistor(8), "in", "gnd"] },
        drivers: [
          { ...boxWith(r).drivers[0]!, role: "woofer" },
          { ...boxWith(r).drivers[0]!, name: "dome", part: "dome", role: "tweeter" },
        ],
      },
      { goal: { frequencies: [500, 1000], limits: "stated" }, series: "E3", maxParts: 2 },
    ),
  "chooseValuesOnAllCores loudspeaker": (r) =>
    cores.chooseValuesOnAllCores(
      { ...boxWith(r), network: { R1: [parts.resistor(1), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] } } as never,
      { goal: { frequencies: [500, 1000] }, values: { R1: [1, 2] }, workers: 1, workerScript: "nowhere.js" } as never,
    ),
  "redesignOnAllCores loudspeaker": (r) =>
    cores.redesignOnAllCores(
      {
        ...boxWith(r),
        network: { cone: [parts.resistor(8), "in", "gnd"], dome: [parts.resistor(8), "in", "gnd"] },
        drivers: [
          { ...boxWith(r).drivers[0]!, role: "woofer" },
          { ...boxWith(r).drivers[0]!, name: "dome", part: "dome", role: "tweeter" },
        ],
      },
      { goal: { frequencies: [500, 1000], limits: "stated" }, series: "E3", maxParts: 2, workers: 1, workerScript: "nowhere.js" },
    ),
  "driveLevelDb loudspeaker": (r) => assessment.driveLevelDb(boxWith(r), { part: "cone", band: { from: 500, to: 1000 } }),
  "assess loudspeaker": (r) => assessment.assess(boxWith(r), { ratedImpedance: 8 }),
  "loadOf loudspeaker": (r) => assessment.loadOf(boxWith(r), { ratedImpedance: 8 }),
  "checkModel loudspeaker": (r) => assessment.checkModel(boxWith(r), { pressures: [] }),
  "checkModel measured.pressures[].response": (r) =>
    assessment.checkModel(box, { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: r, voltage: 2 }] }),
  "checkModel measured.impedance": (r) => assessment.checkModel(box, { pressures: [], impedance: r }),
  "lossOf loudspeaker": (r) => assessment.lossOf(boxWith(r), { band: { from: 500, to: 2000 } }),
  "goal options.partner.pressures[].response": (r) =>
    assessment.goal({ partner: { pressures: [{ azimuth: 0, elevation: 0, response: r }] } }),
  "comparePair left.pressures[].response": (r) =>
    assessment.comparePair(
      { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: r, voltage: 2 }] },
      { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: eight, voltage: 2 }] },
    ),
  "comparePair right.pressures[].response": (r) =>
    assessment.comparePair(
      { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: eight, voltage: 2 }] },
      { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: r, voltage: 2 }] },
    ),
  "comparePair left.impedance": (r) => assessment.comparePair({ impedance: r }, { impedance: eight }),
  "comparePair right.impedance": (r) => assessment.comparePair({ impedance: eight }, { impedance: r }),
  "comparePair options.drawing": (r) => assessment.comparePair({ impedance: eight }, { impedance: eight }, { drawing: boxWith(r) }),
  "identify options.impedance": (r) =>
    design.identify({ R1: [parts.resistor(1), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] }, { impedance: r, vary: ["R1"] }),
  "layoutChange loudspeaker": (r) =>
    assessment.layoutChange(
      {
        ...boxWith(r),
        network: { L1: [parts.inductor(1e-3), "in", "a"], L2: [parts.inductor(1e-3), "a", "b"], cone: [parts.resistor(8), "b", "gnd"] },
      },
      {
        goal: { band: { from: 500, to: 2000 } },
        coils: Object.fromEntries(
          ["L1", "L2"].map((name, index) => [
            name,
            {
              winding: { turns: 150, meanRadius: 0.018, length: 0.018, depth: 0.012 },
              place: { x: 0.06 * index, y: 0, z: 0.02, axis: "z" as const },
            },
          ]),
        ),
      },
    ),
  "dataSensitivity found": (r) =>
    assessment.dataSensitivity(boxWith(r), box, { ratedImpedance: 8, goal: { band: { from: 500, to: 2000 } } }),
  "dataSensitivity proposed": (r) =>
    assessment.dataSensitivity(box, boxWith(r), { ratedImpedance: 8, goal: { band: { from: 500, to: 2000 } } }),
  "driverFloor loudspeaker": (r) => design.driverFloor(boxWith(r), { goal: { frequencies: [500, 1000, 2000] } }),
  "rankByYield loudspeaker": (r) =>
    design.rankByYield(boxWith(r), { networks: [{ network: box.network }], goal: { band: { from: 500, to: 2000 } }, samples: 2 }),
  "spread options.found": (r) => assessment.spread(box, { found: boxWith(r), goal: { band: { from: 500, to: 2000 } }, samples: 2 }),
  "spread loudspeaker": (r) => assessment.spread(boxWith(r), { goal: { band: { from: 500, to: 2000 } }, samples: 2 }),
  "suspects loudspeaker": (r) => assessment.suspects(boxWith(r), { impedance: eight }),
  "suspects measured.pressures[].response": (r) =>
    assessment.suspects(box, { pressures: [{ distance: 1, azimuth: 0, elevation: 0, response: r, voltage: 2 }] }),
  "suspects measured.impedance": (r) => assessment.suspects(box, { impedance: r }),
  "handover lower": (r) => assessment.handover(response.scaleResponse(r, 0.5), falling),
  "handover upper": (r) => assessment.handover(falling, response.scaleResponse(r, 0.5)),
  "offAxisChange prediction.places[].sum": (r) =>
    assessment.offAxisChange(
      { places: [-20, 0, 20].map((azimuth) => ({ distance: 1, azimuth, elevation: 0, sum: r })) },
      { distance: 1, centre: 1000 },
    ),
  "sideDifferences prediction.places[].sum": (r) =>
    assessment.sideDifferences(
      { places: [-20, 20].map((azimuth) => ({ distance: 1, azimuth, elevation: 0, sum: r })) },
      { distance: 1, centre: 1000 },
    ),
  "sensitivityLevels response": (r) => assessment.sensitivityLevels(r, { band: { from: 300, to: 3000 }, ratedImpedance: 8 }),
  "smoothness response": (r) => assessment.smoothness(r, { band: { from: 300, to: 3000 } }),
  "loudspeaker options.drivers[].pressures[].response": (r) =>
    loudspeaker.loudspeaker({ network: { cone: [parts.resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: around(r) }] }),
  "commonPlaces loudspeaker": (r) => loudspeaker.commonPlaces(boxWith(r)),
  "driverStress loudspeaker": (r) => loudspeaker.driverStress(boxWith(r), { voltage: 10 }),
  "predict loudspeaker": (r) => loudspeaker.predict(boxWith(r)),
  "sourcesOf loudspeaker": (r) => loudspeaker.sourcesOf(boxWith(r)),
  "polarMapOf prediction.places[].sum": (r) =>
    loudspeaker.polarMapOf({ places: [-20, 0, 20].map((azimuth) => ({ distance: 1, azimuth, elevation: 0, sum: r, branches: {} })) }),
  "polarMapOf prediction.places[].branches[*]": (r) =>
    loudspeaker.polarMapOf(
      { places: [-20, 0, 20].map((azimuth) => ({ distance: 1, azimuth, elevation: 0, sum: one, branches: { cone: r } })) },
      { driver: "cone" },
    ),
  "pressurePerVolt measured.response": (r) =>
    loudspeaker.pressurePerVolt({ response: r, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" }),
  "pressurePerVolt transfer": (r) =>
    loudspeaker.pressurePerVolt({ response: one, drive: { voltage: 1, at: "input" }, distance: 1, timeZero: "common" }, r),
  "compile network": (r) => network.compile(driver(r)),
  "diagnose network": (r) => firstIssueThrown(network.diagnose(driver(r))),
  "drivingPointImpedance network": (r) =>
    network.drivingPointImpedance({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) }, { from: "a" }, [500, 1000]),
  "sumObjective network": (r) =>
    network.sumObjective(
      { R1: [parts.resistor(2), "in", "a"], cone: [{ kind: "driver", response: r }, "a", "gnd"] },
      { frequencies: [500, 1000], contributions: { cone: one }, target: 1 },
    ),
  "sumObjective options.contributions[*]": (r) =>
    network.sumObjective(
      { R1: [parts.resistor(2), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] },
      { frequencies: [500, 1000], contributions: { cone: r }, target: 1 },
    ),
  "sumObjective options.target": (r) =>
    network.sumObjective(
      { R1: [parts.resistor(2), "in", "a"], cone: [parts.resistor(8), "a", "gnd"] },
      { frequencies: [500, 1000], contributions: { cone: one }, target: r },
    ),
  "sensitivities network": (r) =>
    network.sensitivities({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) }, [500, 1000], { outputs: ["a"] } as never),
  "solve network": (r) => network.solve(driver(r), [500, 1000]),
  "solve options.sourceImpedance": (r) => network.solve({ R1: [parts.resistor(8), "in", "gnd"] }, [500, 1000], { sourceImpedance: r }),
  "acousticTarget options.driver": (r) =>
    alignments.acousticTarget({ family: "butterworth", order: 3, pass: "high", frequency: 2000, load: 8, driver: r }),
  "zobel driver": (r) => alignments.zobel(r),
  "zobel driver.response": (r) => alignments.zobel({ kind: "driver", response: r }),
  "approximateConjugate driver": (r) => alignments.approximateConjugate(r),
  "approximateConjugate driver.response": (r) => alignments.approximateConjugate({ kind: "driver", response: r }),
  "conjugateNetwork driver": (r) => alignments.conjugateNetwork(r),
  "conjugateNetwork driver.response": (r) => alignments.conjugateNetwork({ kind: "driver", response: r }),
  "impedanceMinimum sweepOrImpedance": (r) => network.impedanceMinimum(r),
  "drivingPointImpedance options.sourceImpedance": (r) =>
    network.drivingPointImpedance({ R1: [parts.resistor(8), "in", "a"], R2: [parts.resistor(8), "a", "gnd"] }, { from: "a" }, [500, 1000], {
      sourceImpedance: r,
    }),
  "stress network": (r) => network.stress(driver(r), { voltage: 10 }),
  "stress options.sourceImpedance": (r) => network.stress({ R1: [parts.resistor(8), "in", "gnd"] }, { voltage: 10, sourceImpedance: r }),
  "tolerance network": (r) =>
    network.tolerance({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) }, [500, 1000], {
      outputs: ["a"],
      tolerances: { R1: 0.1 },
      samples: 10,
    }),
  "tolerance options.sourceImpedance": (r) =>
    network.tolerance({ R1: [parts.resistor(2), "in", "a"], R2: [parts.resistor(2), "a", "gnd"] }, [500, 1000], {
      outputs: ["a"],
      tolerances: { R1: 0.1 },
      samples: 10,
      sourceImpedance: r,
    }),
  "driverImpedance source": (r) => parts.driverImpedance(r),
  "driverParameters impedance": (r) => parts.driverParameters(r),
  "expandPart part.response": (r) => expandPart({ kind: "driver", response: r }),
  "equivalentPeakDissipationResistance impedance": (r) => parts.equivalentPeakDissipationResistance(r),
  "measuredSource options.horizontal[].response": (r) => radiation.measuredSource({ distance: 1, horizontal: twice(r) }),
  "measuredSource options.vertical[].response": (r) =>
    radiation.measuredSource({ distance: 1, horizontal: twice(one), vertical: twice(r) }),
  "pressureAt options.drives[]": (r) => radiation.pressureAt([radiation.pointSource()], [500, 1000], { points: [[1, 0, 0]], drives: [r] }),
  "polarMap options.drives[]": (r) =>
    radiation.polarMap([radiation.pointSource()], [500, 1000], { distance: 1, angles: [-20, 0, 20], drives: [r] } as never),
  "sphereMap options.drives[]": (r) => radiation.sphereMap([radiation.pointSource()], [500], { drives: [r] }),
  "listenerSensitivity options.drives[]": (r) =>
    radiation.listenerSensitivity([radiation.pointSource()], [500], { point: [1, 0, 0], drives: [r] }),
  "polarMapFromResponses entries[].response": (r) => map(r),
  "combineFields drives[]": (r) =>
    radiation.combineFields([radiation.pressureAt([radiation.pointSource()], [500, 1000], { points: [[1, 0, 0]] })], [r]),
  "impedancePlot options.series[].response": (r) =>
    report.impedancePlot({ title: "Impedance", series: [{ label: "one", response: r }] } as never),
  "responsePlot options.series[].response": (r) =>
    report.responsePlot({ title: "Level", yLabel: "dB", series: [{ label: "one", response: r }] } as never),
  "angleMapPlot options.series[].response": (r) => report.angleMapPlot({ title: "Map", plane: "horizontal", series: twice(r) } as never),
  "anglesPlot options.series[].response": (r) => report.anglesPlot({ title: "Family", yLabel: "dB", series: twice(r) } as never),
  "smoothResponse response": (r) => response.smoothResponse(r, { fraction: 3 }),
  "networkToJSON network": (r) => network.networkToJSON(network.network({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) })),
  "networkToSpice network": (r) =>
    network.networkToSpice(network.network({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) }), { largestError: 1 }),
  "networkFromJSON options.responses[*]": (r) =>
    network.networkFromJSON(
      { parts: [{ name: "D1", kind: "driver", nodes: ["in", "gnd"], response: "measured" }] },
      { responses: { measured: r } },
    ),
  "network entries": (r) => network.network({ R1: [parts.resistor(2), "in", "a"], ...driverAt(r) }),
  "minimumPhase response": (r) => response.minimumPhase(r),
  "minimumPhaseWithError response": (r) => response.minimumPhaseWithError(r),
  "addResponses responses[]": (r) => response.addResponses(r, r),
  "multiplyResponses responses[]": (r) => response.multiplyResponses(r, r),
  "subtractResponses a": (r) => response.subtractResponses(r, one),
  "subtractResponses b": (r) => response.subtractResponses(one, r),
  "divideResponses a": (r) => response.divideResponses(r, one),
  "divideResponses b": (r) => response.divideResponses(one, r),
  "estimateDelay response": (r) => response.estimateDelay(r),
  "groupDelay response": (r) => response.groupDelay(r),
  "levelDb response": (r) => response.levelDb(r),
  "magnitude response": (r) => response.magnitude(r),
  "phaseDegrees response": (r) => response.phaseDegrees(r),
  "unwrappedPhaseDegrees response": (r) => response.unwrappedPhaseDegrees(r),
  "resample response": (r) => response.resample(r, [500, 1000]),
  "delayResponse response": (r) => response.delayResponse(r, 0.001),
  "reciprocalResponse response": (r) => response.reciprocalResponse(r),
  "scaleResponse response": (r) => response.scaleResponse(r, 2),
  "valueAt responseOrFilter": (r) => response.valueAt(r, 1000),
  "bandMeanLevelDb response": (r) => response.bandMeanLevelDb(r, { from: 500, to: 1000 }),
  "crossings response": (r) => response.crossings(r, 0),
  "extremes response": (r) => response.extremes(r),
  "bandPowerAverage response": (r) => response.bandPowerAverage(r, { from: 500, to: 1000 }),
  "responseToJSON response": (r) => response.responseToJSON(r),
  "writeResponseText response": (r) => response.writeResponseText(r, { columns: "re-im" } as never),
  "writeTouchstone response": (r) => response.writeTouchstone(r, { parameter: "Z" } as never),
  "applyCalibration response": (r) => response.applyCalibration(r, one),
  "applyCalibration calibration": (r) => response.applyCalibration(one, r),
  "averageMeasurements responses[]": (r) => response.averageMeasurements([r, r] as never),
  "acousticDelay response": (r) => response.acousticDelay(r, { from: 500, to: 1000 } as never),
  "excessPhase response": (r) => response.excessPhase(r),
  "impedanceFromChannels options.source": (r) =>
    response.impedanceFromChannels({ source: r, load: response.scaleResponse(one, 0.5), reference: 8 } as never),
  "impedanceFromChannels options.load": (r) =>
    response.impedanceFromChannels({ source: response.scaleResponse(one, 2), load: r, reference: 8 } as never),
  "impedanceFromChannels options.balance": (r) =>
    response.impedanceFromChannels({ source: one, load: response.scaleResponse(one, 0.5), reference: 8, balance: r } as never),
  "impulseFromResponse response": (r) => response.impulseFromResponse(r, { sampleRate: 48_000, length: 1024 }),
  "mergeAt low": (r) => response.mergeAt(r, one, { frequency: 1000 }),
  "mergeAt high": (r) => response.mergeAt(one, r, { frequency: 1000 }),
  "combineNearFields sources[].response": (r) =>
    response.combineNearFields([
      { response: r, radius: 0.05 },
      { response: r, radius: 0.02 },
    ] as never),
  "farFieldFromNearField near": (r) => response.farFieldFromNearField(r, { radius: 0.05, distance: 1 } as never),
  "relativeAcousticOffset options.first": (r) =>
    response.relativeAcousticOffset({ first: r, second: one, both: together, from: 500, to: 5000 } as never),
  "relativeAcousticOffset options.second": (r) =>
    response.relativeAcousticOffset({ first: one, second: r, both: together, from: 500, to: 5000 } as never),
  "relativeAcousticOffset options.both": (r) =>
    response.relativeAcousticOffset({ first: one, second: one, both: r, from: 500, to: 5000 } as never),
};

function driverAt(given: FrequencyResponse) {
  return { cone: [{ kind: "driver" as const, response: given }, "a", "gnd"] as const };
}

/** `diagnose` answers with a list: its first issue, thrown as others throw it. */
function firstIssueThrown([issue]: readonly { readonly code: string; readonly message: string }[]): void {
  if (issue !== undefined) throw Object.assign(new Error(issue.message), { code: issue.code });
}
