import { SLACK, type Heard } from "./heard";

/** Beyond this, or below one over it, a product is taken to its logarithm. */
const LARGE = 1e150;

/** Whether what is heard is as loud as it must be, over all places and on the axis: means of ln, from products, since logarithms take long. */
export class LevelFloor {
  /** Whether anything is asked for. */
  readonly held: boolean;
  private readonly heard: Heard;
  private readonly levelled: boolean;
  private readonly axial: boolean;
  private readonly offset: number;
  private readonly products: Float64Array;
  private readonly logs: Float64Array;

  constructor(heard: Heard) {
    const { weights, offsets, leastLevel, axis, leastAxis } = heard;
    this.heard = heard;
    this.levelled = leastLevel > -Infinity;
    this.axial = axis >= 0 && leastAxis > -Infinity;
    this.held = this.levelled || this.axial;
    this.offset = weights.reduce((sum, weight, k) => sum + weight * offsets[k]!, 0);
    this.products = new Float64Array(weights.length);
    this.logs = new Float64Array(weights.length);
  }

  begin(): void {
    this.products.fill(1);
    this.logs.fill(0);
  }

  /** An amplitude at a place, once for each frequency. */
  hear(place: number, amplitude: number): void {
    const { products, logs } = this;
    const product = products[place]! * amplitude;
    if (product < LARGE && product > 1 / LARGE) products[place] = product;
    else {
      logs[place]! += Math.log(product);
      products[place] = 1;
    }
  }

  /** ln: how much is missing at most; 0 where nothing is. */
  missing(): number {
    const { weights, offsets, leastLevel, axis, leastAxis } = this.heard;
    let most = 0;
    if (this.levelled) {
      let level = this.offset;
      for (let k = 0; k < weights.length; k++) level += weights[k]! * this.meanAt(k);
      most = Math.max(most, leastLevel - level);
    }
    return this.axial ? Math.max(most, leastAxis - this.meanAt(axis) - offsets[axis]!) : most;
  }

  broken(): boolean {
    return this.held && this.missing() > SLACK;
  }

  private meanAt(place: number): number {
    return (this.logs[place]! + Math.log(this.products[place]!)) / this.heard.points;
  }
}
