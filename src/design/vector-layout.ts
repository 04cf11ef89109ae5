import { HEAD, constantVectors, nodeVectors, type BoundShape } from "./bound-kernels";
import type { BranchTable } from "./branch-table";
import type { Heard } from "./heard";
import { spreadOrder } from "./spread-order";

/** Where what stands in the memory of a bound by vectors; places and counts in numbers of 8 bytes. */
export interface Laid {
  readonly points: number;
  readonly places: number;
  readonly loads: number;
  readonly enclosedLoads: number;
  /** Whether all places have a stated level, and not none. */
  readonly stated: boolean;
  /** Pairs of frequencies, spread over all of them; an odd one out stands twice, and counts once. */
  readonly pairs: number;
  /** After how many of them it is looked whether they are enough, and once more after as many; 0: never. */
  readonly quarter: number;
  readonly frequencyAt: Int32Array;
  /** By branch: which of a pair's rows each of its channels has, and then its admittance behind a source. */
  readonly rows: readonly Int32Array[];
  readonly constants: Float64Array;
  readonly shares: Float64Array;
  readonly constantsAt: number;
  readonly constantNumbers: number;
  readonly nodesAt: number;
  readonly nodeNumbers: number;
  readonly intervalsAt: number;
  readonly logsAt: number;
  readonly sharesAt: number;
  readonly bytes: number;
}

export function vectorLayout(heard: Heard, tables: readonly BranchTable[], shape: BoundShape): Laid {
  const { points: n, weights, fixed, loads, enclosedLoads } = heard;
  const { channels: C, places: K, source } = shape;
  const pairs = (n + 1) >> 1;
  const [constantNumbers, nodeNumbers] = [2 * constantVectors(shape), 2 * nodeVectors(shape)];
  const constantsAt = HEAD.products / 8 + 2 * K;
  const nodesAt = constantsAt + pairs * constantNumbers;
  const intervalsAt = nodesAt + pairs * nodeNumbers;
  const logsAt = intervalsAt + pairs * 4 * K;
  const sharesAt = logsAt + pairs * 4 * K;
  const order = spreadOrder(n);
  const frequencyAt = Int32Array.from({ length: 2 * pairs }, (_, turn) => order[Math.min(turn, n - 1)]!);
  let next = 0;
  const rows = tables.map(({ channels }, g) => Int32Array.from([...channels.map(() => next++), ...(source ? [C + g] : [])]));
  const shares = new Float64Array(pairs * 2 * K);
  for (let turn = 0; turn < n; turn++) for (let k = 0; k < K; k++) shares[2 * ((turn >> 1) * K + k) + (turn & 1)] = weights[k]! / n;
  return {
    points: n,
    places: K,
    loads,
    enclosedLoads,
    stated: fixed.every((is) => is),
    pairs,
    quarter: n >= 12 ? (n + 3) >> 3 : 0,
    frequencyAt,
    rows,
    constants: constantsOf(heard, frequencyAt, C),
    shares,
    constantsAt,
    constantNumbers,
    nodesAt,
    nodeNumbers,
    intervalsAt,
    logsAt,
    sharesAt,
    bytes: 8 * (sharesAt + pairs * 2 * K),
  };
}

/** What is constant, as `constantVectors` says: of two frequencies each number in turn. */
function constantsOf(
  { weights, perVolt, constant, beside, source, constantAdmittance }: Heard,
  frequencyAt: Int32Array,
  channels: number,
): Float64Array {
  const K = weights.length;
  const size = (re: number, im: number) => Math.hypot(re, im) * (1 + 1e-15);
  const of = (f: number): readonly number[] => [
    ...(source === undefined
      ? []
      : [
          source.re[f]!,
          source.im[f]!,
          size(source.re[f]!, source.im[f]!) * (1 + 1e-12),
          constantAdmittance[2 * f]!,
          constantAdmittance[2 * f + 1]!,
        ]),
    ...Array.from({ length: K }, (_, k) => {
      const i = f * K + k;
      const pair = (numbers: Float64Array, at: number): readonly [number, number] => [numbers[2 * at]!, numbers[2 * at + 1]!];
      const withSize = (numbers: Float64Array, at: number) => [...pair(numbers, at), size(...pair(numbers, at))];
      return [
        ...pair(constant, i),
        ...(beside === undefined ? [] : withSize(beside, i)),
        ...Array.from({ length: channels }, (__, c) => withSize(perVolt, i * channels + c)).flat(),
      ];
    }).flat(),
  ];
  const all = Array.from(frequencyAt, of);
  return Float64Array.from(all.flatMap((own, turn) => (turn & 1 ? [] : own.flatMap((value, i) => [value, all[turn + 1]![i]!]))));
}
