import { DividingNetworkError } from "../errors";
import type { Loudspeaker, PressureAtPlace } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { driverParameters, resistor } from "../parts";
import { isDriver, measuredImpedance } from "../parts/internal";
import { magnitude, type FrequencyResponse } from "../response";
import type { Branch } from "./branches";
import { resonanceOf } from "./spared";

/** How the network damps a woofer at its resonance, from the impedances: it needs no sound pressure there. */
export interface BassDamping {
  /** Part of the (first) driver. */
  readonly part: string;
  /** Hz: the peak of its impedance, in its enclosure as it was measured. */
  readonly resonance: number;
  /** Ω: real part of what one of the branch's drivers sees instead of an ideal source there: network, cable and amplifier. */
  readonly sourceResistance: number;
  /** Ω: the imaginary part. */
  readonly sourceReactance: number;
  /** Its Q on an ideal source, dimensionless; absent where the impedance doesn't tell it, or shows two peaks. */
  readonly qAlone?: number;
  /** Its Q behind the network, dimensionless. */
  readonly q?: number;
  /** dB: its voltage at the resonance against that where its impedance is least above: what the network adds to the balance. */
  readonly riseDb: number;
  /** Whether its sound pressure can be trusted down to the resonance. */
  readonly heard: boolean;
}

/** Each branch of a woofer or full-range driver whose impedance shows a resonance below 300 Hz. */
export function bassDamping(
  { network, drivers, sourceImpedance }: Loudspeaker,
  axis: PressureAtPlace,
  branches: readonly Branch[],
): readonly BassDamping[] {
  const source = sourceImpedance === undefined ? {} : { sourceImpedance };
  return Object.freeze(
    branches.flatMap(({ part, drivers: names }) => {
      const mine = drivers.filter(({ name }) => names.includes(name));
      const resonance = resonanceOf(network, part);
      if (resonance === undefined || resonance > HIGHEST || !mine.some(({ role }) => role === "woofer" || role === "full-range")) return [];
      // Equal drivers, in parallel or in series, each see the same: the network with a resistor for each of them, and the voltage that these get.
      const parts = [...new Set(mine.map((driver) => driver.part))];
      const voltageWith = (ohms: number) => {
        const replaced = Object.fromEntries(
          Object.entries(network).map(([name, entry]) => [name, parts.includes(name) ? [resistor(ohms), ...entry.slice(1)] : entry]),
        ) as unknown as Entries;
        const { re, im } = compile<Entries>(replaced).sweep([resonance], source).voltage(part);
        return { re: re[0]!, im: im[0]! };
      };
      const [sourceResistance, sourceReactance] = sourceSeen(voltageWith);
      if (!Number.isFinite(sourceResistance) || !Number.isFinite(sourceReactance)) return [];
      const riseDb = riseOf(network, part, resonance, source);
      if (riseDb === undefined) return [];
      const q = damped(network, part, resonance, sourceResistance, sourceReactance);
      const lowest = trustedFrom(axis.sum);
      return [Object.freeze({ part, resonance, sourceResistance, sourceReactance, ...q, riseDb, heard: lowest <= resonance })];
    }),
  );
}

/** Hz: what resonates above is no bass. */
export const HIGHEST = 300;

/** Ω, real and imaginary part, of what a driver sees instead of an ideal source, from the voltage (V/V) that a resistor of some Ω in its place gets: V = V₀·R/(R + Zs), from two resistors. */
export function sourceSeen(voltageWith: (ohms: number) => { readonly re: number; readonly im: number }): readonly [number, number] {
  const [low, high] = [1, 100];
  const [a, b] = [inverse(voltageWith(low)), inverse(voltageWith(high))];
  const perOhm = { re: (a.re - b.re) / (1 / low - 1 / high), im: (a.im - b.im) / (1 / low - 1 / high) };
  const open = inverse({ re: a.re - perOhm.re / low, im: a.im - perOhm.im / low });
  return [perOhm.re * open.re - perOhm.im * open.im, perOhm.re * open.im + perOhm.im * open.re];
}

function inverse({ re, im }: { readonly re: number; readonly im: number }): { readonly re: number; readonly im: number } {
  const square = re * re + im * im;
  return { re: re / square, im: -im / square };
}

/** Hz: what lies below a gate, or below the band that is trusted, isn't. */
function trustedFrom({ frequencies, marks = [] }: FrequencyResponse): number {
  return marks.reduce(
    (from, { kind, from: begin, to = 0 }) => (begin === undefined && (kind === "no-data" || kind === "coarse") ? Math.max(from, to) : from),
    frequencies[0]!,
  );
}

/** dB of the voltage at the resonance against that at the least impedance within three octaves above. */
function riseOf(network: Entries, part: string, resonance: number, source: object): number | undefined {
  const [device] = network[part]!;
  const top = measuredImpedance(device)?.frequencies.at(-1) ?? Infinity;
  const grid = Float64Array.from({ length: 73 }, (_, i) => resonance * 2 ** (i / 24)).filter((frequency) => frequency <= top);
  if (grid.length < 24) return undefined;
  const sweep = compile<Entries>(network).sweep(grid, source);
  const [volts, amps] = [magnitude(sweep.voltage(part)), magnitude(sweep.current(part))];
  let least = 0;
  for (let i = 1; i < grid.length; i++) if (volts[i]! * amps[least]! < volts[least]! * amps[i]!) least = i;
  const rise = 20 * Math.log10(volts[0]! / volts[least]!);
  return Number.isFinite(rise) ? rise : undefined;
}

const known = /* @__PURE__ */ new WeakMap<object, { readonly re: number; readonly qms: number; readonly qes: number } | "unknown">();

/** Qes grows by what the source leaves of the conductance that damps it, Re·ℜ{1/(Re + Zs)}. */
function damped(
  network: Entries,
  part: string,
  resonance: number,
  rs: number,
  xs: number,
): { readonly qAlone?: number; readonly q?: number } {
  const [device] = network[part]!;
  if (!isDriver(device)) return {};
  const model = "model" in device ? device.model : measuredQ(device.response, resonance);
  if (model === undefined) return {};
  const { re, qms, qes } = model;
  if (!(re > 0 && qms > 0 && qes > 0)) return {};
  const left = (re * (re + rs)) / ((re + rs) ** 2 + xs ** 2);
  const behind = qes / left;
  return { qAlone: (qms * qes) / (qms + qes), q: (qms * behind) / (qms + behind) };
}

function measuredQ(
  impedance: FrequencyResponse,
  resonance: number,
): { readonly re: number; readonly qms: number; readonly qes: number } | undefined {
  let found = known.get(impedance);
  if (found === undefined) {
    found = "unknown";
    if (!twoPeaks(impedance)) {
      try {
        // Around the resonance alone, where the coil's formula hardly matters.
        found = driverParameters(impedance, {
          from: Math.max(impedance.frequencies[0]!, resonance / 6),
          to: Math.min(impedance.frequencies[impedance.frequencies.length - 1]!, resonance * 6),
        }).fit.model;
      } catch (error) {
        // A curve that doesn't tell them: nothing is said of a Q.
        if (!(error instanceof DividingNetworkError)) throw error;
      }
    }
    known.set(impedance, found);
  }
  return found === "unknown" ? undefined : found;
}

/** Whether |Z| has two peaks below 300 Hz with a dip of a tenth between them: a vented box, of which no single Q can be told. */
function twoPeaks(impedance: FrequencyResponse): boolean {
  const size = magnitude(impedance);
  let [peaks, low, high, rising] = [0, size[0]!, size[0]!, true];
  for (let i = 0; i < size.length && impedance.frequencies[i]! <= HIGHEST; i++) {
    if (rising) {
      high = Math.max(high, size[i]!);
      if (size[i]! < high / 1.1) [peaks, rising, low] = [peaks + (high > 1.1 * low ? 1 : 0), false, size[i]!];
    } else {
      low = Math.min(low, size[i]!);
      if (size[i]! > 1.1 * low) [rising, high] = [true, size[i]!];
    }
  }
  return peaks > 1;
}
