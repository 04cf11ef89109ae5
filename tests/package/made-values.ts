// One good value of every kind that functions of the library hand to each other.
import { butterworth, crossover, ladder, lowPass } from "../../src/alignments";
import { assess, compare, goal } from "../../src/assessment";
import { loudspeaker, predict, pressurePerVolt } from "../../src/loudspeaker";
import { network, solve } from "../../src/network";
import { capacitor, driverImpedance, inductor, resistor, stock } from "../../src/parts";
import { projectFromJSON } from "../../src/project";
import { polarMap, powerResponse, pistonSource, pressureAt, sphereMap } from "../../src/radiation";
import { frequencyResponse, impulseResponse } from "../../src/response";
import { VALID } from "./valid-calls";

const grid = [250, 500, 1000, 2000, 4000];
const response = frequencyResponse(grid, [1, 1, 1, 1, 1], [0, 0, 0, 0, 0]);
const pressure = pressurePerVolt({ response, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
const entries = network({
  L1: [inductor("0.5 mH"), "in", "w"],
  cone: [driverImpedance({ re: 6, le: 0.0003, fs: 50, qms: 3, qes: 0.5 }), "w", "gnd"],
});
const box = loudspeaker({ network: entries, drivers: [{ name: "cone", pressures: [pressure] }] });
const drawer = stock([capacitor("6.8 µF"), inductor("0.5 mH")]);
const sources = [pistonSource({ radius: 0.05 })];
const sphere = sphereMap(sources, grid, { stepDegrees: 90 });
const judged = assess(box, { ratedImpedance: 8 });

export const MADE: Readonly<Record<string, unknown>> = {
  "a response": response,
  "a measured pressure": pressure,
  "a network": entries,
  "a part": resistor(8),
  "a loudspeaker": box,
  "a loudspeaker's drivers": box.drivers,
  "a stock": drawer,
  "a line of a stock": drawer.parts[0],
  "a sweep": solve(entries, grid),
  "a prediction": predict(box),
  "a goal": goal({ band: { from: 500, to: 2000 } }),
  "an assessment": judged,
  "a comparison": compare(judged, judged),
  "a polar map": polarMap(sources, grid, { angles: [-90, 0, 90] }),
  "a field": pressureAt(sources, grid, { points: [[2, 0, 0]] }),
  "a sphere map": sphere,
  "a power response": powerResponse(sphere),
  "a source": sources[0],
  "an impulse": impulseResponse([0, 1, 0.5, 0.2], { sampleRate: 48_000 }),
  "a prototype": butterworth(2),
  "a filter": lowPass(butterworth(2), 1000),
  "a ladder": ladder(butterworth(2), { pass: "low", frequency: 1000, load: 8 }),
  "a crossover": crossover({ family: "linkwitz-riley", order: 2, frequency: 2000, load: 8 }),
  "a project file": projectFromJSON(...(VALID["project"]!["projectFromJSON"]!() as [unknown])),
};
