import { SLACK, type Heard } from "./heard";

/** Beyond this, or below one over it, a product is taken to its logarithm. */
const LARGE = 1e150;

/** Whether what is heard is as loud as it must be, over all places and on the axis: means of ln, from products, since logarithms take long. */
export interface LevelFloor {
  /** Whether anything is asked for. */
  readonly held: boolean;
  readonly begin: () => void;
  /** An amplitude at a place, once for each frequency. */
  readonly hear: (place: number, amplitude: number) => void;
  readonly broken: () => boolean;
  /** ln: how much is missing at most; 0 where nothing is. */
  readonly missing: () => number;
}

export function levelFloor({ points: n, weights, offsets, leastLevel, axis, leastAxis }: Heard): LevelFloor {
  const K = weights.length;
  const [products, logs] = [new Float64Array(K), new Float64Array(K)];
  const levelled = leastLevel > -Infinity;
  const axial = axis >= 0 && leastAxis > -Infinity;
  const offset = weights.reduce((sum, weight, k) => sum + weight * offsets[k]!, 0);
  const meanAt = (k: number) => (logs[k]! + Math.log(products[k]!)) / n;
  const missing = () => {
    let most = 0;
    if (levelled) {
      let level = offset;
      for (let k = 0; k < K; k++) level += weights[k]! * meanAt(k);
      most = Math.max(most, leastLevel - level);
    }
    return axial ? Math.max(most, leastAxis - meanAt(axis) - offsets[axis]!) : most;
  };
  const held = levelled || axial;
  return {
    held,
    begin() {
      products.fill(1);
      logs.fill(0);
    },
    hear(k, amplitude) {
      const product = products[k]! * amplitude;
      if (product < LARGE && product > 1 / LARGE) products[k] = product;
      else {
        logs[k]! += Math.log(product);
        products[k] = 1;
      }
    },
    missing,
    broken: () => held && missing() > SLACK,
  };
}
