// One value of each kind that shows itself, for the tests of the terminal and of notebooks. All data are invented.
import {
  attenuator,
  butterworth,
  compare,
  compile,
  crossover,
  crossoverSum,
  driverImpedance,
  frequencyResponse,
  highPass,
  inductor,
  join,
  capacitor,
  ladder,
  logGrid,
  loudspeaker,
  lowPass,
  minimumPhaseWithError,
  network,
  predict,
  pressurePerVolt,
  resistor,
  responseOf,
  responsePlot,
  solve,
  spread,
  assess,
  type Comparison,
} from "dividing-network";
import { impulseResponse } from "dividing-network/response";
import { projectFromJSON, readProject, type LoadedProject } from "dividing-network/project";
import { projectData, projectFiles } from "./fixture";

const grid = logGrid(100, 20_000, 400);
const response = frequencyResponse(
  grid,
  grid.map(() => 0.1),
  grid.map(() => 0),
  [{ kind: "no-data", to: 250, note: "gate of 4 ms" }],
);
const ideal = pressurePerVolt({
  response: frequencyResponse(
    grid,
    grid.map(() => 0.1),
    grid.map(() => 0),
  ),
  drive: { voltage: 1, at: "terminals" },
  distance: 1,
  timeZero: "common",
});
const made = (farads: number) =>
  loudspeaker({
    network: network({
      L1: [inductor("0.4244 mH", { dcr: "0.2 Ω" }), "in", "w"],
      woofer: [resistor(8), "w", "gnd"],
      C1: [capacitor(farads), "in", "t"],
      tweeter: [driverImpedance({ re: 8 }), "gnd", "t"],
    }),
    drivers: [
      { name: "woofer", role: "woofer", pressures: [ideal] },
      { name: "tweeter", role: "tweeter", pressures: [ideal] },
    ],
  });
const box = made(6.631e-6);
export const comparison: Comparison = compare(assess(made(22e-6), { ratedImpedance: 8 }), assess(box, { ratedImpedance: 8 }));
export const loaded: Promise<LoadedProject> = readProject(JSON.stringify(projectData()), {
  readFile: async (path) => projectFiles()[path]!,
});
const long = Object.fromEntries(
  Array.from({ length: 200 }, (_, n) => [`R${n}`, [resistor(1), n === 0 ? "in" : `n${n}`, n === 199 ? "gnd" : `n${n + 1}`]] as const),
);

/** Each kind by its name. */
export const values = {
  response,
  impulse: impulseResponse([0, 1, -0.5], { sampleRate: "48 kHz", startTime: "-1 ms" }),
  network: box.network,
  long: network(long as never),
  joined: join({ L1: [inductor(1e-3), "in", "a"] }, { R1: [resistor(8), "a", "gnd"] }),
  compiled: compile(box.network),
  sweep: solve(box.network, grid),
  loudspeaker: box,
  prediction: predict(box),
  place: predict(box).places[0]!,
  comparison,
  assessment: assess(made(22e-6), { ratedImpedance: 8 }),
  spread: spread(box, { samples: 100 }),
  crossoverSum: crossoverSum(crossover({ family: "linkwitz-riley", order: 4, frequency: "2.5 kHz", load: "8 Ω" }), grid),
  minimumPhase: minimumPhaseWithError(responseOf(lowPass(butterworth(2), "2 kHz"), grid)),
  picture: responsePlot({ title: "On <axis>", yLabel: "Level, dB", series: [{ label: "sum", response }] }),
  single: frequencyResponse([1000], [0.5], [0]),
  finding: comparison.findings[0]!,
  findings: comparison.findings,
  project: projectFromJSON(projectData()),
  filter: highPass(butterworth(3), "2.5 kHz"),
  prototype: butterworth(4),
  ladder: ladder(butterworth(3), { pass: "high", frequency: "2.5 kHz", load: "6 Ω" }),
  crossover: crossover({ family: "linkwitz-riley", order: 4, frequency: "2.5 kHz", load: "8 Ω" }),
  working: attenuator({ attenuationDb: 6, load: 8 }).working,
} as const;
