// The parts of the bench's network: a three-way with 13 unknown nodes and 22 two-terminal branches beside its drivers. Nothing is solved here.
import { capacitor, driverImpedance, fragment, inductor, join, logGrid, network, resistor, type Entries } from "dividing-network";

export const POINTS = 1000;
export const grid = logGrid(20, 20_000, POINTS);
export const OUTPUTS = ["w", "m", "t", "e"] as const;

/** A driver as R, L, C parts: Re, Le and the motional resonance. */
export function expanded(
  name: string,
  node: string,
  { re, le, fs, qms, qes }: { re: number; le: number; fs: number; qms: number; qes: number },
): Entries {
  const w = 2 * Math.PI * fs;
  const res = (re * qms) / qes;
  return fragment({
    [`${name}Le`]: [inductor(le, { dcr: re }), node, `${name}1`],
    [`${name}Rm`]: [resistor(res), `${name}1`, "gnd"],
    [`${name}Lm`]: [inductor(res / (w * qms)), `${name}1`, "gnd"],
    [`${name}Cm`]: [capacitor(qms / (w * res)), `${name}1`, "gnd"],
  } as Entries);
}

export const drivers = {
  woofer: { node: "w", re: 5.6, le: 0.8e-3, fs: 42, qms: 3, qes: 0.5 },
  mid: { node: "m", re: 5.2, le: 0.3e-3, fs: 180, qms: 2.5, qes: 0.7 },
  tweeter: { node: "t", re: 4.6, le: 0.05e-3, fs: 700, qms: 2, qes: 1.2 },
} as const;

export const passive: Entries = fragment({
  Lw1: [inductor(2e-3, { dcr: 0.2 }), "in", "a"],
  Cw1: [capacitor(60e-6, { esr: 0.05 }), "a", "b"],
  Rw1: [resistor(0.5), "b", "gnd"],
  Lw2: [inductor(1e-3, { dcr: 0.15 }), "a", "w"],
  Cw2: [capacitor(30e-6, { esr: 0.05 }), "w", "gnd"],
  Rz: [resistor(6.8), "w", "z"],
  Cz: [capacitor(22e-6, { esr: 0.05 }), "z", "gnd"],
  Cm1: [capacitor(47e-6, { esr: 0.05 }), "in", "c"],
  Lm1: [inductor(3e-3, { dcr: 0.4 }), "c", "gnd"],
  Lm2: [inductor(0.4e-3, { dcr: 0.1 }), "c", "d"],
  Cm2: [capacitor(6.8e-6, { esr: 0.03 }), "d", "gnd"],
  Rm1: [resistor(1.5), "d", "e"],
  Rm2: [resistor(15), "e", "gnd"],
  Cm3: [capacitor(10e-6), "e", "m"],
  Rm3: [resistor(33), "e", "m"],
  Ct1: [capacitor(5.6e-6, { esr: 0.02 }), "in", "f"],
  Lt1: [inductor(0.25e-3, { dcr: 0.12 }), "f", "g"],
  Rt0: [resistor(0.3), "g", "gnd"],
  Ct2: [capacitor(12e-6, { esr: 0.02 }), "f", "h"],
  Rt1: [resistor(2.2), "h", "k"],
  Rt2: [resistor(10), "t", "gnd"],
  Ct3: [capacitor(1e-6), "k", "t"],
});

/** Drivers by their parameters. */
export const withParameters: Entries = network(
  join(
    passive,
    Object.fromEntries(
      Object.entries(drivers).map(([name, { node, ...values }]) => [name, [driverImpedance(values), node, "gnd"]]),
    ) as Entries,
  ),
);

/** Drivers as parts: what a simulator without tables solves. */
export const asParts: Entries = network(
  Object.entries(drivers).reduce<Entries>((all, [name, { node, ...values }]) => join(all, expanded(name, node, values)), passive),
);
