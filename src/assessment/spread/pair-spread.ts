import { percentile } from "../../numeric/internal";

/** How two loudspeakers of one pair differ. */
export interface PairSpread {
  /** How many pairs were drawn. */
  readonly pairs: number;
  /** dB: root mean square over the band of the difference between their levels; half of all pairs differ by less, 95 % by less. */
  readonly rmsDb: PairPercentiles;
  /** dB: the difference between their mean levels, without its sign. */
  readonly balanceDb: PairPercentiles;
  /** dB: the largest difference in the band. */
  readonly largestDb: PairPercentiles;
  /** dB at each frequency of the bands: root mean square of the difference over all pairs. */
  readonly curveDb: Float64Array;
}

/** What half and what 95 % of all pairs keep. */
export interface PairPercentiles {
  /** dB. */
  readonly median: number;
  /** dB. */
  readonly most: number;
}

/** Collects differences of levels (dB by point of the grid) between left and right. */
export function pairCounter(
  weights: Float64Array,
  pairs: number,
): { add(left: Float64Array, right: Float64Array): void; result(): PairSpread } {
  const n = weights.length;
  const [rms, balance, largest] = [new Float64Array(pairs), new Float64Array(pairs), new Float64Array(pairs)];
  const squares = new Float64Array(n);
  let count = 0;
  return {
    add(left, right) {
      let square = 0;
      let mean = 0;
      let most = 0;
      for (let j = 0; j < n; j++) {
        const difference = left[j]! - right[j]!;
        squares[j]! += difference * difference;
        const weight = weights[j]!;
        if (weight === 0) continue;
        square += weight * difference * difference;
        mean += weight * difference;
        most = Math.max(most, Math.abs(difference));
      }
      [rms[count], balance[count], largest[count]] = [Math.sqrt(square), Math.abs(mean), most];
      count++;
    },
    result() {
      const ends = (list: Float64Array): PairPercentiles => {
        const sorted = list.slice(0, count).sort();
        return Object.freeze({ median: percentile(sorted, 50, (value) => value), most: percentile(sorted, 95, (value) => value) });
      };
      return Object.freeze({
        pairs: count,
        rmsDb: ends(rms),
        balanceDb: ends(balance),
        largestDb: ends(largest),
        curveDb: squares.map((square) => Math.sqrt(square / count)),
      });
    },
  };
}
