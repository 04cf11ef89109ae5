import { DividingNetworkError } from "../errors";
import { checkNumbers, checkOptions, show } from "../errors/internal";
import { checkedGrid } from "../response/internal";

/** Levels of a signal by frequency: of equal parts of an octave, straight in dB over log frequency between the points, and nothing beyond them. */
export interface SpectrumLevels {
  /** Hz, strictly ascending, above 0, at least two. */
  readonly frequencies: ArrayLike<number>;
  /** dB, as many: only their differences count. */
  readonly levelDb: ArrayLike<number>;
}

/**
 * What is played: `"sine"`, a tone at whatever frequency is worst for each part; `"pink"`, as much in every octave; `"programme"`, the simulated programme
 * signal of IEC 60268-1, whose levels here are from memory, not verified; or levels of one's own.
 */
export type SignalSpectrum = "sine" | "pink" | "programme" | SpectrumLevels;

/** Third octaves from 20 Hz to 20 kHz against pink noise, dB: the simulated programme signal of IEC 60268-1, from memory, not verified. */
const PROGRAMME_DB = /* @__PURE__ */ Object.freeze([
  -13.5, -10.2, -7.4, -5.2, -3.5, -2.3, -1.4, -0.9, -0.5, -0.2, -0.1, 0, 0, 0, 0, 0, 0, -0.1, -0.3, -0.6, -1.0, -1.6, -2.5, -3.7, -5.1,
  -7.0, -9.4, -11.9, -14.8, -18.2, -21.6,
]);

/** A spectrum laid out: where it begins and ends (Hz), and its level (dB) at the logarithm of a frequency. */
export interface LaidSpectrum {
  readonly from: number;
  readonly to: number;
  readonly levelAt: (logFrequency: number) => number;
}

/** Lays out what was asked for; a sine has the band of the others and no levels. */
export function laidSpectrum(caller: string, spectrum: SignalSpectrum): LaidSpectrum {
  const audible = { from: 20, to: 20_000 };
  if (spectrum === "sine" || spectrum === "pink") return { ...audible, levelAt: () => 0 };
  if (spectrum === "programme")
    return {
      ...audible,
      levelAt: between(
        Array.from(PROGRAMME_DB, (_, k) => Math.log(1000) + ((k - 17) / 10) * Math.LN10),
        PROGRAMME_DB,
      ),
    };
  if (typeof spectrum !== "object" || spectrum === null) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "spectrum" must be "sine", "pink", "programme" or { frequencies, levelDb }, got ${show(spectrum)}`,
    );
  }
  const { frequencies, levelDb } = checkOptions(caller, spectrum, ["frequencies", "levelDb"]);
  const grid = checkedGrid(`${caller}: spectrum`, frequencies);
  const levels = Array.from(checkNumbers(caller, "spectrum.levelDb", levelDb));
  if (!(grid[0]! > 0) || grid.length < 2 || grid.length !== levels.length || !levels.every((level) => Math.abs(level) <= 1000)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "spectrum" must be { frequencies, levelDb } of one length of at least two, above 0 Hz and within ±1000 dB, got ${show(spectrum)}`,
    );
  }
  return { from: grid[0]!, to: grid[grid.length - 1]!, levelAt: between(Array.from(grid, Math.log), levels) };
}

/** The share of the signal's power that each point of a grid stands for: the trapezoids of the spectrum over log frequency; together 1. */
export function spectrumShares({ levelAt }: LaidSpectrum, frequencies: Float64Array): Float64Array {
  const n = frequencies.length;
  const at = frequencies.map(Math.log);
  const levels = at.map(levelAt);
  const highest = levels.reduce((most, level) => Math.max(most, level), -Infinity);
  const shares = levels.map((level, i) => (10 ** ((level - highest) / 10) * (at[Math.min(i + 1, n - 1)]! - at[Math.max(i - 1, 0)]!)) / 2);
  const sum = shares.reduce((total, share) => total + share, 0);
  return shares.map((share) => share / sum);
}

/** Straight between points in ascending order, level beyond them. */
function between(x: readonly number[], y: readonly number[]): (at: number) => number {
  return (at) => {
    let [low, high] = [0, x.length - 1];
    if (at <= x[low]!) return y[low]!;
    if (at >= x[high]!) return y[high]!;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (x[middle]! <= at) low = middle;
      else high = middle;
    }
    return y[low]! + ((at - x[low]!) / (x[high]! - x[low]!)) * (y[high]! - y[low]!);
  };
}
