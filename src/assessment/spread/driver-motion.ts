import { DividingNetworkError } from "../../errors";
import type { Entries } from "../../network";
import { driverParameters, type DriverImpedance } from "../../parts";
import { expandPart, isDriver, type Law, type Motional, movingDriverLaw } from "../../parts/internal";
import { resonanceOf } from "../spared";

/** How a driver's impedance follows its resonance and Q. */
export interface DriverMotion {
  readonly law: Law;
  /** Factors of resonance and Q: 1 and 1 for the driver as it is. */
  readonly values: readonly number[];
  /** Hz. */
  readonly fs: number;
  /** Total Q on an ideal source. */
  readonly qts: number;
}

/** The motion of a driver whose impedance tells its resonance and Q, by its model or by a fit around the peak; in words why not where it doesn't. */
export function driverMotion(
  network: Entries,
  part: string,
  frequencies: Float64Array,
  largest: { readonly resonance: number; readonly q: number },
): DriverMotion | string {
  const [device] = network[part]!;
  if (!isDriver(device)) return "its impedance shows no resonance";
  const motional = motionalOf(network, part, device);
  if (typeof motional === "string") return motional;
  const base = expandPart(device).branches[0]!;
  const law = movingDriverLaw(base.law, base.values, motional);
  const evaluator = law.bind(frequencies);
  const [re, im] = [new Float64Array(frequencies.length), new Float64Array(frequencies.length)];
  for (const a of [1 - largest.resonance, 1, 1 + largest.resonance]) {
    for (const b of [1 - largest.q, 1, 1 + largest.q]) {
      evaluator.admittance([a, b], 0, 0, frequencies.length, re, im, 0);
      if (!re.every((value) => value > 0))
        return "its measured impedance around the resonance isn't that of a single resonance, which can't be moved";
    }
  }
  const { fs, qms, qes } = motional;
  return { law, values: [1, 1], fs, qts: (qms * qes) / (qms + qes) };
}

function motionalOf(network: Entries, part: string, device: DriverImpedance): Motional | string {
  if ("model" in device) {
    const { re, fs, qms, qes } = device.model;
    return fs > 0 ? { re, fs, qms, qes } : "its impedance shows no resonance";
  }
  const resonance = resonanceOf(network, part);
  if (resonance === undefined) return "its impedance shows no resonance";
  const { frequencies } = device.response;
  try {
    // Around the resonance alone, where the coil's formula hardly matters.
    const { model } = driverParameters(device.response, {
      from: Math.max(frequencies[0]!, resonance / 6),
      to: Math.min(frequencies[frequencies.length - 1]!, resonance * 6),
    }).fit;
    return { re: model.re, fs: model.fs, qms: model.qms, qes: model.qes };
  } catch (error) {
    if (error instanceof DividingNetworkError) return "its impedance doesn't tell its Q";
    throw error;
  }
}
