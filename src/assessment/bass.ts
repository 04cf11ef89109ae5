import { DividingNetworkError } from "../errors";
import type { Loudspeaker, PressureAtPlace } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { driverParameters } from "../parts";
import { isDriver } from "../parts/internal";
import { magnitude, type FrequencyResponse } from "../response";
import { bandWithout } from "../response/internal";
import type { Goal } from "./goal-types";
import { knownBand } from "./load";
import { dampedAt, HIGHEST, noWoofer, sourceOf, woofersOf } from "./source-seen";

/** How the network damps a woofer at its resonance, from the impedances: it needs no sound pressure there. */
export interface BassDamping {
  /** Part of the (first) driver. */
  readonly part: string;
  /** Hz: where the source is looked at. Its resonance; or, where the goal states a limit and that isn't known, the lowest frequency at which all impedances are. */
  readonly frequency: number;
  /** Hz: the peak of its impedance, in its enclosure as it was measured; absent where the source is looked at elsewhere. */
  readonly resonance?: number;
  /** Ω: real part of what one of the branch's drivers sees instead of an ideal source there: network, cable and amplifier. */
  readonly sourceResistance: number;
  /** Ω: the imaginary part. */
  readonly sourceReactance: number;
  /** Its Q on an ideal source, dimensionless; absent where the impedance doesn't tell it, or shows two peaks. */
  readonly qAlone?: number;
  /** Its Q behind the network, dimensionless. */
  readonly q?: number;
  /** dB: its voltage at the resonance against that where its impedance is least above: what the network adds to the balance; absent where too little is known of it. */
  readonly riseDb?: number;
  /** Whether its sound pressure can be trusted down to there. */
  readonly heard: boolean;
}

/** Each branch of a woofer or full-range driver that resonates below 300 Hz; where the goal states what it may see, also where its resonance isn't known. */
export function bassDamping(box: Loudspeaker, goal: Goal, axis: PressureAtPlace): readonly BassDamping[] {
  const { network, sourceImpedance } = box;
  const source = sourceImpedance === undefined ? {} : { sourceImpedance };
  const { largestSourceResistance, largestQ } = goal.damping;
  const found = woofersOf(box).flatMap((branch): BassDamping[] => {
    const { part } = branch;
    const at = dampedAt(network, part, largestSourceResistance !== undefined);
    if (at === undefined) return [];
    const { frequency, resonance } = at;
    const [sourceResistance, sourceReactance] = sourceOf(box, branch, frequency);
    if (!Number.isFinite(sourceResistance) || !Number.isFinite(sourceReactance)) return [];
    const seen = { part, frequency, sourceResistance, sourceReactance };
    const heard = trustedFrom(axis.sum) <= frequency;
    if (frequency !== resonance) return [Object.freeze({ ...seen, heard })];
    const riseDb = riseOf(network, part, resonance, source);
    if (riseDb === undefined && largestSourceResistance === undefined && largestQ === undefined) return [];
    const q = damped(network, part, resonance, sourceResistance, sourceReactance);
    return [Object.freeze({ ...seen, resonance, ...q, ...(riseDb === undefined ? {} : { riseDb }), heard })];
  });
  if (largestSourceResistance !== undefined && found.length === 0) throw noWoofer("assess", network, "largestSourceResistance");
  return Object.freeze(found);
}

/** Hz: what lies below a gate, or below the band that is trusted, isn't. */
function trustedFrom(response: FrequencyResponse): number {
  return bandWithout(response, ["no-data", "coarse"]).from;
}

/** dB of the voltage at the resonance against that at the least impedance within three octaves above. */
function riseOf(network: Entries, part: string, resonance: number, source: object): number | undefined {
  const top = knownBand(network).to;
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

/** A driver's Q behind a network. */
function damped(
  network: Entries,
  part: string,
  resonance: number,
  rs: number,
  xs: number,
): { readonly qAlone?: number; readonly q?: number } {
  const q = qBehind(network, part, resonance);
  return q === undefined ? {} : { qAlone: q(0, 0), q: q(rs, xs) };
}

/** A driver's Q behind a source of some Ω, real and imaginary part; undefined where its impedance tells no single one. Qes grows by what the source leaves of the conductance that damps it, Re·ℜ{1/(Re + Zs)}. */
export function qBehind(network: Entries, part: string, resonance: number): ((rs: number, xs: number) => number) | undefined {
  const [device] = network[part]!;
  if (!isDriver(device)) return undefined;
  const model = "model" in device ? device.model : measuredQ(device.response, resonance);
  if (model === undefined) return undefined;
  const { re, qms, qes } = model;
  if (!(re > 0 && qms > 0 && qes > 0)) return undefined;
  return (rs, xs) => {
    const left = (re * (re + rs)) / ((re + rs) ** 2 + xs ** 2);
    const behind = qes / left;
    return (qms * behind) / (qms + behind);
  };
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
