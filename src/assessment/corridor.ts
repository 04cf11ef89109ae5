/** A part of the band in which a response leaves its corridor. */
export interface OutsideStretch {
  /** Hz: where it begins. */
  readonly from: number;
  /** Hz: where it ends. */
  readonly to: number;
  /** dB: the largest deviation in it, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
}

/** How a deviation from a target stands to a corridor around it. */
export interface AgainstCorridor {
  /** dB: the largest deviation, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
  /** dB: the highest deviation, whatever its sign. */
  readonly highestDb: number;
  /** Octaves outside. */
  readonly octavesOutside: number;
  /** Where it is outside, low to high. */
  readonly outside: readonly OutsideStretch[];
}

/** Points an octave at which it is looked: far more than a third-octave level bends. */
const PER_OCTAVE = 96;

/** A deviation, dB over ln f, between two ends on ln f, against a corridor in dB to either side. */
export function againstCorridor(deviation: (lnf: number) => number, from: number, to: number, corridorDb: number): AgainstCorridor {
  const width = to - from;
  const steps = Math.max(2, Math.ceil((width / Math.LN2) * PER_OCTAVE));
  let [worstDb, worstFrequency, highestDb, share] = [0, Math.exp(from), -Infinity, 0];
  const outside: { from: number; to: number; worstDb: number; worstFrequency: number }[] = [];
  let open = false;
  for (let i = 0; i <= steps; i++) {
    const frequency = Math.exp(from + (width * i) / steps);
    const now = deviation(from + (width * i) / steps);
    if (Math.abs(now) > Math.abs(worstDb)) [worstDb, worstFrequency] = [now, frequency];
    highestDb = Math.max(highestDb, now);
    const beyond = Math.abs(now) > corridorDb;
    if (beyond) share += (i === 0 || i === steps ? 0.5 : 1) / steps;
    const last = outside[outside.length - 1];
    // What goes from too loud to too quiet between two points is two stretches.
    if (beyond && open && last !== undefined && last.worstDb > 0 === now > 0) {
      last.to = frequency;
      if (Math.abs(now) > Math.abs(last.worstDb)) [last.worstDb, last.worstFrequency] = [now, frequency];
    } else if (beyond) outside.push({ from: frequency, to: frequency, worstDb: now, worstFrequency: frequency });
    open = beyond;
  }
  return {
    worstDb,
    worstFrequency,
    highestDb,
    octavesOutside: (share * width) / Math.LN2,
    outside: Object.freeze(outside.map((stretch) => Object.freeze(stretch))),
  };
}
