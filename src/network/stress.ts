import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { logGrid } from "../numeric";
import { driverModel, isCoupling, measuredImpedance } from "../parts/internal";
import { inSi } from "../quantity/internal";
import { magnitude } from "../response";
import type { CheckedShape } from "./checked";
import { compile } from "./solve/compile";
import { dissipation } from "./solve/dissipation";
import type { Entries, UncheckedEntries } from "./entries";
import { peakOf } from "./peak-of";
import { laidSpectrum, spectrumShares } from "./signal-spectrum";
import type { AmplitudeStress, PowerStress, Stress, StressOptions } from "./stress-data";
import type { Sweep } from "./solve/sweep-data";

/** Points per octave. */
const PER_OCTAVE = 96;
/** Into how many pieces an interval is cut beside a worst frequency. */
const PIECES = 8;

/**
 * What every part has to stand at a stated amplifier level and spectrum: watts of heat, volts across it and amperes through it, as a mean under the
 * signal and at the worst frequency of a full sine; of drivers also the watts in the direct-current resistance. Heat follows the mean, breakdown
 * and saturation the peak.
 *
 * $$\overline{P} = V_s^2 \int \frac{P(f)}{|V|^2}\, S(f)\, \mathrm{d}\ln f, \qquad \int S\, \mathrm{d}\ln f = 1, \qquad V_s = \sqrt2\, V_\mathrm{sine} / \mathrm{crest}$$
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @param options `voltage` of the largest sine in V rms; `spectrum` (dB over Hz, or its name); `crestFactor`, dimensionless; `sourceImpedance` in Ω
 * @returns by part W, V and A, with the worst frequency in Hz; the source's own W
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`, `outside-band`, and what `solve` throws
 * Validity: linear parts; 96 points an octave, so that a mean over a resonance of Q 50 is right to 0.1 %. The levels of `"programme"` are from memory.
 * Source: simulated programme after IEC 60268-1, from memory, not verified.
 * @example
 * ```ts
 * import { capacitor, network, resistor } from "dividing-network";
 * import { stress } from "dividing-network/network";
 *
 * const firstOrder = network({ C1: [capacitor("10 µF"), "in", "t"], R1: [resistor("2 Ω"), "t", "d"], tweeter: [resistor("6 Ω"), "d", "gnd"] });
 * const { parts } = stress(firstOrder, { voltage: "20 V" });
 * parts.R1.power.mean; // 1.190
 * parts.R1.power.sine; // 12.38
 * parts.C1.voltage.sinePeak; // 28.3
 * ```
 */
export function stress<const T extends UncheckedEntries>(network: CheckedShape<T>, options: StressOptions): Stress<T> {
  const caller = "stress";
  const {
    voltage,
    spectrum = "programme",
    crestFactor = 2,
    sourceImpedance,
  } = checkOptions(caller, options, ["voltage", "spectrum", "crestFactor", "sourceImpedance"]);
  const volts = inSi(caller, "voltage", voltage, "V", { above: 0, max: 1e6 });
  const laid = laidSpectrum(caller, spectrum);
  const tone = spectrum === "sine";
  const crest = tone ? Math.SQRT2 : checkNumber(caller, "crestFactor", crestFactor, { min: 1, max: 1000 });
  const signalVoltage = (Math.SQRT2 * volts) / crest;
  const entries = network as unknown as Entries;
  const compiled = compile(entries);
  const band = knownPart(caller, laid, entries);
  const names = Object.keys(entries).filter((name) => !isCoupling(entries[name]![0]));
  const sweepAt = (grid: Float64Array) => measuresAt(compiled.sweep(grid, { sourceImpedance }), entries, names);

  const octaves = Math.log2(band.to / band.from);
  const grid = logGrid(band.from, band.to, Math.max(3, Math.ceil(PER_OCTAVE * octaves) + 1));
  const coarse = sweepAt(grid);
  const fineGrid = beside(
    grid,
    [...coarse.byPart.values()].flatMap(({ power, voltage, current }) => [power, voltage, current]),
  );
  const fine = sweepAt(fineGrid);
  const shares = spectrumShares(laid, grid);

  const meanOf = (values: Float64Array) => values.reduce((sum, value, i) => sum + value * shares[i]!, 0);
  const of = (name: string, measure: keyof Measures) => {
    const [a, b] = [coarse.byPart.get(name)![measure], fine.byPart.get(name)![measure]];
    if (a === undefined || b === undefined) return undefined;
    const worst = [peakOf(grid, a), peakOf(fineGrid, b)].reduce((most, peak) => (peak.value > most.value ? peak : most));
    return { worst, mean: tone ? worst.value : meanOf(a) };
  };
  const power = (name: string, measure: "power" | "voiceCoil"): PowerStress | undefined => {
    const found = of(name, measure);
    return found === undefined
      ? undefined
      : Object.freeze({ mean: found.mean * signalVoltage ** 2, sine: found.worst.value * volts ** 2, frequency: found.worst.frequency });
  };
  const amplitude = (name: string, measure: "voltage" | "current"): AmplitudeStress => {
    const { worst, mean } = of(name, measure)!;
    const rms = Math.sqrt(mean) * signalVoltage;
    return Object.freeze({ rms, peak: crest * rms, sinePeak: Math.SQRT2 * Math.sqrt(worst.value) * volts, frequency: worst.frequency });
  };
  const parts = names.map((name) => {
    const voiceCoil = power(name, "voiceCoil");
    return [
      name,
      Object.freeze({
        power: power(name, "power")!,
        voltage: amplitude(name, "voltage"),
        current: amplitude(name, "current"),
        ...(voiceCoil === undefined ? {} : { voiceCoil }),
      }),
    ] as const;
  });
  const whole = (measure: "source" | "sourceImpedance") =>
    signalVoltage ** 2
    * (tone ? [...coarse[measure], ...fine[measure]].reduce((most, value) => Math.max(most, value), 0) : meanOf(coarse[measure]));
  return Object.freeze({
    voltage: volts,
    signalVoltage,
    crestFactor: crest,
    band: Object.freeze(band),
    parts: Object.freeze(Object.fromEntries(parts)) as Stress<T>["parts"],
    source: whole("source"),
    sourceImpedance: whole("sourceImpedance"),
  });
}

/** Squares per squared volt of the source: W/V², (V/V)², (A/V)². */
interface Measures {
  readonly power: Float64Array;
  readonly voltage: Float64Array;
  readonly current: Float64Array;
  readonly voiceCoil?: Float64Array | undefined;
}

function measuresAt(sweep: Sweep, entries: Entries, names: readonly string[]) {
  const { power, source, sourceImpedance } = dissipation(sweep, { voltage: 1 });
  const byPart = new Map(
    names.map((name) => {
      const [part] = entries[name]!;
      const current = magnitude(sweep.current(name)).map((value) => value * value);
      const re = driverModel(part)?.re;
      const measures: Measures = {
        power: power[name]!,
        voltage: magnitude(sweep.voltage(name)).map((value) => value * value),
        current,
        ...(re === undefined ? {} : { voiceCoil: current.map((square) => square * re) }),
      };
      return [name, measures];
    }),
  );
  return { byPart, source, sourceImpedance };
}

/** The part of a spectrum's band in which every measured impedance is known, Hz. */
function knownPart(
  caller: string,
  { from, to }: { readonly from: number; readonly to: number },
  entries: Entries,
): { readonly from: number; readonly to: number } {
  const band = { from, to };
  for (const [part] of Object.values(entries)) {
    const measured = measuredImpedance(part);
    if (measured === undefined) continue;
    const { frequencies } = measured;
    band.from = Math.max(band.from, frequencies[0]!);
    band.to = Math.min(band.to, frequencies[frequencies.length - 1]!);
  }
  if (band.to > band.from) return band;
  throw new DividingNetworkError(
    "outside-band",
    `${caller}: the drivers' impedances must be known somewhere between ${from} Hz and ${to} Hz, and all over one band`,
    "Measure each driver's impedance from 20 Hz to 20 kHz",
  );
}

/** The places beside the largest value of each curve, finely. */
function beside(grid: Float64Array, curves: readonly Float64Array[]): Float64Array {
  const places = new Set(curves.map((curve) => curve.reduce((best, value, i) => (value > curve[best]! ? i : best), 0)));
  const fine = new Set<number>();
  for (const place of places) {
    for (let i = Math.max(0, place - 1); i < Math.min(grid.length - 1, place + 1); i++) {
      for (let k = 0; k <= PIECES; k++) fine.add(k === PIECES ? grid[i + 1]! : grid[i]! * (grid[i + 1]! / grid[i]!) ** (k / PIECES));
    }
  }
  return Float64Array.from(fine).sort();
}
