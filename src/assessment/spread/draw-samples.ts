import type { Criterion } from "./criteria";
import { levelBands, type LevelBands } from "./level-bands";
import { pairCounter, type PairSpread } from "./pair-spread";
import type { SpreadModel } from "./spread-model";

/** With so many samples it is looked at what the yield becomes when a group is exact. */
const EXACT_SAMPLES = 1000;

/** How samples are drawn, and what is counted of them. */
interface Sampling {
  readonly samples: number;
  /** The next deviation of a group, as a part of its tolerance, dimensionless. */
  readonly draw: () => number;
  /** By criterion: whether a good loudspeaker has to keep it. */
  readonly counted: readonly boolean[];
  /** Groups of which the yield without their deviation is wanted. */
  readonly looked: readonly number[];
  /** Names of parts and drivers that are alike in both loudspeakers of a pair. */
  readonly matched: ReadonlySet<string>;
  /** The place at which the two of a pair are compared. */
  readonly axis: number;
}

/** What came of the samples. */
export interface Sampled {
  /** How many keep all that counts. */
  readonly passed: number;
  /** How many keep each criterion. */
  readonly passes: readonly number[];
  /** Of the first `exactSamples`, how many keep all that counts, and how many would with each of the groups looked at exact. */
  readonly passedOfExact: number;
  readonly exactPasses: readonly number[];
  readonly exactSamples: number;
  /** dB, of each sample. */
  readonly losses: Float64Array;
  /** The worst value of each criterion, and the deviations that made it. */
  readonly worst: readonly { readonly value: number; readonly at: Float64Array }[];
  readonly bands: LevelBands;
  readonly pair: PairSpread;
  readonly matchedPair?: PairSpread;
}

/** Draws loudspeakers, two after the other a pair, and counts. The last evaluation of the model that comes in is the one as drawn. */
export function drawSamples(
  model: SpreadModel,
  criteria: readonly Criterion[],
  { samples, draw, counted, looked, matched, axis }: Sampling,
  onSample: (sample: number) => void,
): Sampled {
  const { groups, levels, powers, weights, grid } = model;
  const [n, G] = [grid.heard.length, groups.length];
  const bands = levelBands(powers.slice());
  const [x, before] = [new Float64Array(G), new Float64Array(G)];
  const losses = new Float64Array(samples);
  const passes = criteria.map(() => 0);
  const worst = criteria.map(() => ({ value: NaN, at: new Float64Array(G) }));
  const exactPasses = looked.map(() => 0);
  const exactSamples = Math.min(samples, EXACT_SAMPLES);
  let [passed, passedOfExact] = [0, 0];
  const here = levels.subarray(axis * n, (axis + 1) * n);
  const left = new Float64Array(n);
  const pairs = () => pairCounter(weights.subarray(axis * n, (axis + 1) * n), samples >> 1);
  const [plain, alike] = [pairs(), matched.size === 0 ? undefined : pairs()];
  const isMatched = groups.map(({ of }) => of.some((name) => matched.has(name)));
  const good = () => criteria.every(({ limit, side, value }, c) => !counted[c]! || side * value() <= side * limit);
  for (let sample = 0; sample < samples; sample++) {
    if (sample % 64 === 0) onSample(sample);
    for (let g = 0; g < G; g++) x[g] = draw();
    model.evaluate(x);
    bands.add(powers);
    let all = true;
    for (let c = 0; c < criteria.length; c++) {
      const { limit, side, value } = criteria[c]!;
      const now = value();
      if (c === 0) losses[sample] = now;
      if (side * now <= side * limit) passes[c]!++;
      else if (counted[c]!) all = false;
      if (!(side * now <= side * worst[c]!.value)) {
        worst[c]!.value = now;
        worst[c]!.at.set(x);
      }
    }
    if (all) passed++;
    if (sample % 2 === 0) {
      left.set(here);
      before.set(x);
    } else plain.add(left, here);
    if (sample < exactSamples) {
      if (all) passedOfExact++;
      for (let k = 0; k < looked.length; k++) {
        const g = looked[k]!;
        const own = x[g]!;
        x[g] = 0;
        model.evaluate(x);
        if (good()) exactPasses[k]!++;
        x[g] = own;
      }
    }
    if (alike !== undefined && sample % 2 === 1) {
      for (let g = 0; g < G; g++) if (isMatched[g]!) x[g] = before[g]!;
      model.evaluate(x);
      alike.add(left, here);
    }
  }
  return {
    passed,
    passes,
    passedOfExact,
    exactPasses,
    exactSamples,
    losses,
    worst,
    bands,
    pair: plain.result(),
    ...(alike === undefined ? {} : { matchedPair: alike.result() }),
  };
}
