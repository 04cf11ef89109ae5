// What is searched: an invented two-way of a community radio station's studio monitor, by formulas. Every process makes it anew: only a shard's index travels.
import {
  capacitor,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  networkFromJSON,
  networkToJSON,
  preferredValues,
  pressurePerVolt,
  resistor,
} from "dividing-network";
import { chooseValues } from "dividing-network/design";

export const OF = 8;
const grid = logGrid(200, 16_000, 120);

/** Pa per volt: a first-order rise at `from`, a second-order fall at `to`, a delay in s. */
function measured(azimuth, from, to, delay, size) {
  const at = [...grid].map((f) => {
    const [rise, x] = [f / from, f / to];
    const [a, b, c] = [rise / (1 + rise * rise), 1 - x * x, 1.3 * x];
    const [re, im] = [(a * (rise * b + c)) / (b * b + c * c), (a * (b - rise * c)) / (b * b + c * c)];
    const turn = -2 * Math.PI * f * delay;
    return [size * (re * Math.cos(turn) - im * Math.sin(turn)), size * (re * Math.sin(turn) + im * Math.cos(turn))];
  });
  return pressurePerVolt({
    response: frequencyResponse(
      grid,
      at.map(([re]) => re),
      at.map(([, im]) => im),
    ),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    azimuth,
    timeZero: "common",
  });
}

const box = loudspeaker({
  network: {
    L1: [inductor("0.68 mH", { dcr: "0.25 Ω" }), "in", "w"],
    C1: [capacitor("10 µF"), "w", "gnd"],
    woofer: [driverImpedance({ re: "5.6 Ω", le: "0.55 mH", fs: "45 Hz", qms: 3, qes: 0.45 }), "w", "gnd"],
    R1: [resistor("2.2 Ω"), "in", "a"],
    C2: [capacitor("5.6 µF"), "a", "t"],
    L2: [inductor("0.33 mH", { dcr: "0.2 Ω" }), "t", "gnd"],
    tweeter: [driverImpedance({ re: "5.1 Ω", le: "0.04 mH", fs: "850 Hz", qms: 2.2, qes: 1.3 }), "t", "gnd"],
  },
  drivers: [
    {
      name: "woofer",
      role: "woofer",
      pressures: [0, 20, -20].map((azimuth) => measured(azimuth, 60, 4500 - 30 * Math.abs(azimuth), 2.95e-3, 0.19)),
    },
    {
      name: "tweeter",
      role: "tweeter",
      pressures: [0, 20, -20].map((azimuth) => measured(azimuth, 900, 19_000 - 200 * Math.abs(azimuth), 2.9e-3, 0.24)),
    },
  ],
});

/** E12 from one value to another. */
const between = (from, to) =>
  [-7, -6, -5, -4, -3, -2, -1, 0, 1]
    .flatMap((decade) => preferredValues("E12").map((step) => Number(`${step}e${decade}`)))
    .filter((value) => value >= from && value <= to);

/** The whole search, or one shard of it. */
export function search(shard) {
  return chooseValues(box, {
    goal: {
      frequencies: logGrid(400, 12_000, 24),
      places: [{}, { azimuth: 20 }, { azimuth: -20 }],
      amplifier: { smallestImpedance: "4 Ω" },
    },
    values: {
      L1: between(0.2e-3, 2.2e-3),
      C1: [...between(2.2e-6, 47e-6), "open"],
      R1: [...between(1, 10), "short"],
      C2: between(2.2e-6, 22e-6),
      L2: between(0.1e-3, 1e-3),
    },
    polarity: { tweeter: "either" },
    ...(shard === undefined ? {} : { shard }),
  });
}

/** An answer as JSON, and back: a driver that is a measured curve would not survive plain JSON. */
export const toJSON = (answer) => ({ ...answer, network: networkToJSON(answer.network) });
export const fromJSON = (answer) => ({ ...answer, network: networkFromJSON(answer.network) });
