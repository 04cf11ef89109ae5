/** Width of a bin in dB, how far they begin below the nominal level, and how many there are: they end 12 dB above it. */
const BIN_DB = 0.02;
const BELOW_DB = 30;
const BINS = 2100;

/** Counts levels around nominal ones, so that percentiles of any number of samples take little memory. */
export interface LevelBands {
  /** Counts one sample: powers by place and point. */
  add(powers: Float64Array): void;
  /** dB around the nominal level, by place and point: below it lie so many percent of the samples. */
  percentile(percent: number): Float64Array;
}

/** Bands of `nominal` powers; percentiles are good to 0.01 dB between 30 dB below and 12 dB above the nominal level, and end there. */
export function levelBands(nominal: Float64Array): LevelBands {
  const count = nominal.length;
  const counts = new Uint32Array(count * BINS);
  const inverse = nominal.map((power) => 1 / Math.max(power, 1e-300));
  const scale = 10 / Math.LN10 / BIN_DB;
  let samples = 0;
  return {
    add(powers) {
      samples++;
      for (let i = 0; i < count; i++) {
        const bin = Math.floor(scale * Math.log(powers[i]! * inverse[i]!) + BELOW_DB / BIN_DB);
        counts[i * BINS + (bin >= 0 ? (bin < BINS ? bin : BINS - 1) : 0)]!++;
      }
    },
    percentile(percent) {
      const wanted = (percent / 100) * samples;
      return Float64Array.from({ length: count }, (_, i) => {
        let [bin, sum] = [0, 0];
        const at = i * BINS;
        while (bin < BINS - 1 && sum + counts[at + bin]! < wanted) sum += counts[at + bin++]!;
        const own = counts[at + bin]!;
        // The least sample lies in the first bin that holds any.
        if (own === 0) while (bin < BINS - 1 && counts[at + bin] === 0) bin++;
        const share = own > 0 ? (wanted - sum) / own : 0;
        return (bin + share) * BIN_DB - BELOW_DB;
      });
    },
  };
}
