import type { Entries } from "../../network";
import { compile } from "../../network";
import { resistor } from "../../parts";
import { expandPart, isCoupling, isDriver, leavesResistanceOut, measuredImpedance } from "../../parts/internal";
import { magnitude } from "../../response";
import { isWire } from "../wire";
import { dcResistance } from "./dc-resistance";

/** What a meter should show. */
export interface MeterReading {
  /** What is connected, and where the meter's leads go. */
  readonly where: string;
  /** Hz; 0 for direct current. */
  readonly frequency: number;
  /** Ω, the meter's leads not counted; `"open"`: no reading, or one that climbs while capacitors charge. */
  readonly expected: number | "open";
  /** What else must be known, or empty. */
  readonly note: string;
}

/** Readings of direct current: at the input with all drivers, with one alone, with none, and at each driver's terminals. */
export function resistanceReadings(
  network: Entries,
  drivers: readonly string[],
  driverOhms: (part: string) => number,
): readonly MeterReading[] {
  const notes = noteOf(network);
  const reading = (where: string, from: string, to: string, without: readonly string[]): MeterReading => {
    const expected = dcResistance(network, from, to, driverOhms, without);
    return Object.freeze({ where, frequency: 0, expected, note: expected === "open" ? "" : notes });
  };
  const others = (name: string) => drivers.filter((driver) => driver !== name);
  return [
    reading("Input, no driver connected", "in", "gnd", drivers),
    ...(drivers.length < 2 ? [] : drivers.map((name) => reading(`Input, only the ${name} connected`, "in", "gnd", others(name)))),
    reading(drivers.length < 2 ? `Input, the ${drivers[0]!} connected` : "Input, all drivers connected", "in", "gnd", []),
    ...drivers.map((name) => {
      const [, plus, minus] = network[name]! as unknown as readonly [unknown, string, string];
      return reading(`At the ${name}, all connected`, plus, minus, []);
    }),
  ];
}

/** What the drawing leaves out of such a reading. */
function noteOf(network: Entries): string {
  const silent = Object.entries(network).flatMap(([name, [part]]) =>
    !isCoupling(part) && leavesResistanceOut(part) && !isWire(part) ? [name] : [],
  );
  return silent.length === 0 ? "" : `the resistance of ${silent.join(", ")} isn’t stated and counts as 0 Ω`;
}

/** Part of |Z| by which a reading must change to be seen on a meter: twice what parts and meter leave open (common practice, no source). */
const SEEN = 0.2;

/** Three frequencies at which as many faults as can be (a part missing, a part bridged) change |Z| enough to be seen, and what none of them shows. */
export function impedanceReadings(
  network: Entries,
  drivers: readonly string[],
): { readonly readings: readonly MeterReading[]; readonly unseen: readonly string[] } {
  const candidates = meterFrequencies(network);
  if (candidates.length === 0) return { readings: [], unseen: [] };
  const size = (entries: Entries) => magnitude(compile<Entries>(entries).sweep(candidates).impedance);
  const right = size(network);
  const faults = Object.entries(network).flatMap(([name, [part, ...nodes]]) =>
    !isCoupling(part) && !isDriver(part) && !isWire(part) && expandPart(part).terminals === 2 && !drivers.includes(name)
      ? (
          [
            ["missing", 1e9],
            ["bridged", 1e-6],
          ] as const
        ).flatMap(([kind, ohms]) => {
          try {
            const changed = Object.fromEntries(
              Object.entries(network).filter(([, [other, ...ends]]) => !isCoupling(other) || !ends.includes(name)),
            );
            const wrong = size({ ...changed, [name]: [resistor(ohms), ...nodes] } as unknown as Entries);
            return [{ name: `${name} ${kind}`, change: wrong.map((value, index) => Math.abs(Math.log(value / right[index]!))) }];
          } catch {
            return [];
          }
        })
      : [],
  );
  const chosen: number[] = [];
  const seen = (indices: readonly number[], change: Float64Array) =>
    Math.min(1, Math.max(0, ...indices.map((index) => change[index]!)) / SEEN);
  const worth = (indices: readonly number[]) =>
    faults.reduce(
      (total, { change }) => total + seen(indices, change) + 1e-3 * Math.max(0, ...indices.map((index) => Math.min(1, change[index]!))),
      0,
    );
  while (chosen.length < Math.min(3, candidates.length)) {
    const left = Array.from(candidates.keys()).filter((index) => !chosen.includes(index));
    chosen.push(left.reduce((best, index) => (worth([...chosen, index]) > worth([...chosen, best]) + 1e-12 ? index : best)));
  }
  chosen.sort((a, b) => a - b);
  return {
    readings: chosen.map((index) =>
      Object.freeze({ where: "Input, all drivers connected", frequency: candidates[index]!, expected: right[index]!, note: "" }),
    ),
    unseen: faults.filter(({ change }) => seen(chosen, change) < 1).map(({ name }) => name),
  };
}

/** Numbers of a decade's third octaves. */
const ROUND = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const;

/** Nominal third-octave frequencies from 40 Hz to 16 kHz that every measured impedance covers, Hz. */
export function meterFrequencies(network: Entries): Float64Array {
  let [low, high] = [40, 16_000];
  for (const [part] of Object.values(network)) {
    const measured = measuredImpedance(part);
    if (measured === undefined) continue;
    const { frequencies } = measured;
    [low, high] = [Math.max(low, frequencies[0]!), Math.min(high, frequencies[frequencies.length - 1]!)];
  }
  return Float64Array.from(
    [10, 100, 1000, 10_000]
      .flatMap((decade) => ROUND.map((value) => Math.round(value * decade * 100) / 100))
      .filter((frequency) => frequency >= low && frequency <= high),
  );
}
