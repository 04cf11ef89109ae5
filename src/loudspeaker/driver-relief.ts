/** What would bring a driver back within its limit: each alone would do, as far as it says. */
export interface DriverRelief {
  /** dB less: a pad, or less level. */
  readonly attenuationDb: number;
  /** Octaves by which the voltage's curve would have to lie higher: the same high-pass with a higher corner. Absent where heat is the limit, or four octaves don't do. */
  readonly cornerOctaves?: number;
  /** dB by which one more order with the same corner lowers the excursion; absent where heat is the limit, or nothing ahead of the driver is a high-pass. */
  readonly steeperDb?: number;
}

/** Points per octave of the grid of all this. */
export const PER_OCTAVE = 96;
/** Octaves beyond which a corner isn't moved. */
const FARTHEST = 4;
/** Slope below which nothing is a high-pass, dB per octave. */
const RISES = 3;

/** A cone's movement per volt and the voltage at its terminals, as magnitudes over a grid even in log frequency; and the mean square under the signal. */
interface Moved {
  readonly moved: Float64Array;
  readonly volts: Float64Array;
  readonly meanSquare: (size: Float64Array) => number;
}

/** What would lower a driver's stress by a factor (of amplitude); `excursion` where that is its excursion. */
export function reliefOf(factor: number, excursion: Moved | undefined): DriverRelief {
  const attenuationDb = 20 * Math.log10(factor);
  if (excursion === undefined) return Object.freeze({ attenuationDb });
  const { moved, volts, meanSquare } = excursion;
  const size = (at: (i: number) => number) => Math.sqrt(meanSquare(moved.map((value, i) => value * at(i))));
  const now = size((i) => volts[i]!);
  // Below the band the curve goes on as it begins.
  const begin = Math.max(1, volts[1]! / volts[0]!);
  const shifted = (steps: number) => size((i) => (i >= steps ? volts[i - steps]! : volts[0]! * begin ** (i - steps)));
  let steps = 0;
  while (steps <= FARTHEST * PER_OCTAVE && shifted(steps) > now / factor) steps++;
  const highest = volts.reduce((most, value) => Math.max(most, value), 0);
  const corner = volts.findIndex((value) => value >= highest / Math.SQRT2);
  // One more order, Butterworth's way: f/√(f² + fc²).
  const steeper = size((i) => volts[i]! / Math.hypot(1, 2 ** ((corner - i) / PER_OCTAVE)));
  const rises = corner >= PER_OCTAVE && 20 * Math.log10(volts[corner]! / volts[corner - PER_OCTAVE]!) >= RISES;
  return Object.freeze({
    attenuationDb,
    ...(steps <= FARTHEST * PER_OCTAVE ? { cornerOctaves: steps / PER_OCTAVE } : {}),
    ...(rises ? { steeperDb: 20 * Math.log10(now / steeper) } : {}),
  });
}
