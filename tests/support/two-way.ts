// An invented two-way studio monitor, by formulas: a 17 cm cone and a dome whose pressures have slopes, delays and off-axis losses of their own.
import { capacitor, driverImpedance, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
import type { Entries, Loudspeaker, PressurePerVolt, SourceImpedance } from "dividing-network";

export const grid = logGrid(200, 16_000, 160);

/** Pa per volt: a first-order rise at `from`, a second-order fall at `to`, a delay in s. */
export function measured(azimuth: number, from: number, to: number, delay: number, size: number): PressurePerVolt {
  const at = [...grid].map((f) => {
    const rise = { re: (f / from) ** 2 / (1 + (f / from) ** 2), im: f / from / (1 + (f / from) ** 2) };
    const x = f / to;
    const [a, b] = [1 - x * x, 1.3 * x];
    const fall = { re: a / (a * a + b * b), im: -b / (a * a + b * b) };
    const [re, im] = [rise.re * fall.re - rise.im * fall.im, rise.re * fall.im + rise.im * fall.re];
    const turn = -2 * Math.PI * f * delay;
    return { re: size * (re * Math.cos(turn) - im * Math.sin(turn)), im: size * (re * Math.sin(turn) + im * Math.cos(turn)) };
  });
  return pressurePerVolt({
    response: frequencyResponse(
      grid,
      at.map(({ re }) => re),
      at.map(({ im }) => im),
    ),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    azimuth,
    timeZero: "common",
  });
}

export const cone = [0, 20, -20].map((azimuth) =>
  measured(azimuth, 60, azimuth === 0 ? 4500 : 3600 - azimuth, 2.95e-3 + 0.4e-6 * Math.abs(azimuth), 0.19),
);
export const dome = [0, 20, -20].map((azimuth) => measured(azimuth, 900, azimuth === 0 ? 19_000 : 14_000 + 40 * azimuth, 2.9e-3, 0.24));

export const woofer = driverImpedance({ re: 5.6, le: 0.55e-3, fs: 45, qms: 3, qes: 0.45 });
export const tweeter = driverImpedance({ re: 5.1, le: 0.04e-3, fs: 850, qms: 2.2, qes: 1.3 });

/** The seven parts of a network with a low-pass of three and a high-pass of four. */
export const drawn = {
  L1: [inductor(0.68e-3, { dcr: 0.25 }), "in", "w"],
  R1: [resistor(5.6), "w", "z"],
  C1: [capacitor(10e-6, { esr: 0.02 }), "z", "gnd"],
  woofer: [woofer, "w", "gnd"],
  R2: [resistor(2.2), "in", "a"],
  C2: [capacitor(5.6e-6), "a", "t"],
  L2: [inductor(0.33e-3, { dcr: 0.2 }), "t", "gnd"],
  R3: [resistor(22), "t", "gnd"],
  tweeter: [tweeter, "t", "gnd"],
} as const;

/** A loudspeaker of the two drivers and any network that names them `woofer` and `tweeter`. */
export function monitor(network: Entries = drawn, sourceImpedance?: SourceImpedance): Loudspeaker {
  return loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures: cone },
      { name: "tweeter", role: "tweeter", pressures: dome },
    ],
    ...(sourceImpedance === undefined ? {} : { sourceImpedance }),
  }) as unknown as Loudspeaker;
}

/** Numbers below 1 from a fixed seed. */
export function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}
