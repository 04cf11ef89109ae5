import { wasm, type Code, type WasmFunction } from "../numeric/internal";

const {
  added,
  both,
  branchIf,
  constant,
  differ,
  divided,
  get,
  larger,
  lessUnsigned,
  loadSplat,
  loadVector,
  loop,
  moduleOf,
  multiplied,
  plus,
  root,
  set,
  smaller,
  splat,
  storeVector,
  subtracted,
} = wasm;

/** What the kernels of a bound are made for. */
export interface BoundShape {
  readonly channels: number;
  readonly branches: number;
  readonly places: number;
  /** Whether a source's impedance lies before the network. */
  readonly source: boolean;
  /** Whether something is heard beside it. */
  readonly beside: boolean;
}

/** Bytes of two numbers, which every operation works on at once: two frequencies. */
export const VECTOR = 16;
/** Where single numbers and sums stand, in bytes. */
export const HEAD = { reference: 0, level: 8, value: 16, slope: 32, curvature: 48, tallest: 64, lowest: 80, products: 96 } as const;

/** Vectors of what is constant, for two frequencies: Z as re, im, |Z|, Y of branches without choices as re, im; of each place the constant sum, what is heard beside as re, im, |p|, and each channel's pressure per volt as re, im, |p|. */
export const constantVectors = ({ channels, places, source, beside }: BoundShape): number =>
  (source ? 5 : 0) + places * (2 + (beside ? 3 : 0) + 3 * channels);
/** Vectors of what nodes have, for two frequencies: of each channel the voltage as re, im, radius; behind a source of each branch Y as re, im, radius. */
export const nodeVectors = ({ channels, branches, source }: BoundShape): number => 3 * (channels + (source ? branches : 0));

/** How far from its argument of 1 a logarithm is taken from its series, by (x − 1)/(x + 1); what is farther counts as lying there. */
const NEAR = 1 / 3;
/** How far the series is off there at most, and a little more: $2 \sum_{k \ge 6} z^{2k+1}/(2k+1)$. */
const OFF = 1.1e-7;
/** So near to nothing that its reciprocal is more than any amplitude. */
const NOTHING = 1e-300;

const times = (first: Code, second: Code): Code => [...first, ...second, ...multiplied];
const sum = (first: Code, second: Code): Code => [...first, ...second, ...added];
const difference = (first: Code, second: Code): Code => [...first, ...second, ...subtracted];
const quotient = (first: Code, second: Code): Code => [...first, ...second, ...divided];
const move = (local: number, bytes: number): Code => [...get(local), ...constant(bytes), ...plus, ...set(local)];

/**
 * The module's bytes. `hear(constants, nodes, intervals, end)` writes between which amplitudes each frequency and place lies, and carries on the tallest low end, the lowest high end, and the product of the high ends of each place;
 * `logarithms(intervals, logarithms, end)` writes them as ln against `reference`, low ends from below and high ends from above; `pull(logarithms, shares, end)` sums what a `level` misses of them.
 */
export function boundModule(shape: BoundShape): Uint8Array<ArrayBuffer> {
  return moduleOf([hear(shape), logarithms(), pull()], { hear: 0, logarithms: 1, pull: 2 }, 0);
}

function hear(shape: BoundShape): WasmFunction {
  const { channels: C, branches: G, places: K, source, beside } = shape;
  const [constants, nodes, intervals, end] = [0, 1, 2, 3];
  let next = 4;
  const own = () => next++;
  const [tallest, lowest, re, im, r, low, high] = [own(), own(), own(), own(), own(), own(), own()];
  const [behindRe, behindIm, behindR, least, largest] = [own(), own(), own(), own(), own()];
  const products = Array.from({ length: K }, own);
  const volts = Array.from({ length: C }, () => ({ re: own(), im: own(), r: own() }));
  const fixed = (index: number): Code => [...get(constants), ...loadVector(VECTOR * index)];
  const node = (index: number): Code => [...get(nodes), ...loadVector(VECTOR * index)];
  const modulus = (a: number, b: number): Code => [...sum(times(get(a), get(a)), times(get(b), get(b))), ...root];
  const branches = (part: number): Code =>
    Array.from({ length: G }, (_, g) => node(3 * (C + g) + part)).reduce((all, one) => sum(all, one));
  /** 1 + Z·Y, and between which magnitudes it lies, as reciprocals. */
  const through: Code = source
    ? [
        ...[...sum(fixed(3), branches(0)), ...set(re), ...sum(fixed(4), branches(1)), ...set(im)],
        ...[...sum(splat(1), difference(times(fixed(0), get(re)), times(fixed(1), get(im)))), ...set(behindRe)],
        ...[...sum(times(fixed(0), get(im)), times(fixed(1), get(re))), ...set(behindIm)],
        ...[...times(branches(2), fixed(2)), ...set(behindR), ...modulus(behindRe, behindIm), ...set(r)],
        ...[...quotient(splat(1), [...splat(NOTHING), ...difference(get(r), get(behindR)), ...larger]), ...set(least)],
        ...[...quotient(splat(1), sum(get(r), get(behindR))), ...set(largest)],
      ]
    : [];
  const placed = (k: number): Code => {
    const first = (source ? 5 : 0) + k * (2 + (beside ? 3 : 0) + 3 * C);
    const [b, p] = [first + 2, first + 2 + (beside ? 3 : 0)];
    const addedBeside: Code = !beside
      ? [...splat(0), ...set(r)]
      : !source
        ? [...sum(get(re), fixed(b)), ...set(re), ...sum(get(im), fixed(b + 1)), ...set(im), ...splat(0), ...set(r)]
        : [
            ...[...sum(get(re), difference(times(fixed(b), get(behindRe)), times(fixed(b + 1), get(behindIm)))), ...set(re)],
            ...[...sum(get(im), sum(times(fixed(b + 1), get(behindRe)), times(fixed(b), get(behindIm)))), ...set(im)],
            ...[...times(fixed(b + 2), get(behindR)), ...set(r)],
          ];
    return [
      ...[...fixed(first), ...set(re), ...fixed(first + 1), ...set(im)],
      ...addedBeside,
      ...volts.flatMap((v, c) => [
        ...[...sum(get(re), difference(times(fixed(p + 3 * c), get(v.re)), times(fixed(p + 3 * c + 1), get(v.im)))), ...set(re)],
        ...[...sum(get(im), sum(times(fixed(p + 3 * c), get(v.im)), times(fixed(p + 3 * c + 1), get(v.re)))), ...set(im)],
        ...[...sum(get(r), times(fixed(p + 3 * c + 2), get(v.r))), ...set(r)],
      ]),
      ...[...modulus(re, im), ...set(high)],
      ...[...splat(0), ...difference(get(high), get(r)), ...larger, ...(source ? [...get(largest), ...multiplied] : []), ...set(low)],
      ...[...sum(get(high), get(r)), ...(source ? [...get(least), ...multiplied] : []), ...set(high)],
      ...[...get(intervals), ...get(low), ...storeVector(2 * VECTOR * k)],
      ...[...get(intervals), ...get(high), ...storeVector(2 * VECTOR * k + VECTOR)],
      ...[...get(tallest), ...get(low), ...larger, ...set(tallest)],
      ...[...get(lowest), ...get(high), ...smaller, ...set(lowest)],
      ...[...times(get(products[k]!), get(high)), ...set(products[k]!)],
    ];
  };
  const carried = [
    [tallest, HEAD.tallest] as const,
    [lowest, HEAD.lowest] as const,
    ...products.map((local, k) => [local, HEAD.products + VECTOR * k] as const),
  ];
  return {
    parameters: 4,
    integers: 0,
    vectors: next - 4,
    body: [
      ...carried.flatMap(([local, at]) => [...constant(0), ...loadVector(at), ...set(local)]),
      ...loop(
        volts.flatMap((v, c) => [...node(3 * c), ...set(v.re), ...node(3 * c + 1), ...set(v.im), ...node(3 * c + 2), ...set(v.r)]),
        through,
        ...Array.from({ length: K }, (_, k) => placed(k)),
        move(constants, VECTOR * constantVectors(shape)),
        move(nodes, VECTOR * nodeVectors(shape)),
        move(intervals, 2 * VECTOR * K),
        [...get(intervals), ...get(end), ...lessUnsigned, ...branchIf(0)],
      ),
      ...carried.flatMap(([local, at]) => [...constant(0), ...get(local), ...storeVector(at)]),
    ],
  };
}

/** Two numbers in turn: low ends, then high ends, of two frequencies each. */
function logarithms(): WasmFunction {
  const [from, to, end, reference, z, w] = [0, 1, 2, 3, 4, 5];
  const series = [9, 7, 5, 3].reduce<Code>((inner, k) => sum(splat(1 / k), times(get(w), inner)), splat(1 / 11));
  const one = (offset: number, off: number): Code => [
    ...[...get(from), ...loadVector(offset), ...set(z)],
    ...[...quotient(difference(get(z), get(reference)), sum(get(z), get(reference))), ...set(z)],
    // What is no number counts as far above.
    ...[...splat(-NEAR), ...splat(NEAR), ...get(z), ...smaller, ...larger, ...set(z)],
    ...[...times(get(z), get(z)), ...set(w)],
    ...[...get(to), ...sum(times(sum(get(z), get(z)), sum(splat(1), times(get(w), series))), splat(off)), ...storeVector(offset)],
  ];
  return {
    parameters: 3,
    integers: 0,
    vectors: 3,
    body: [
      ...[...constant(0), ...loadSplat(HEAD.reference), ...set(reference)],
      ...loop(
        [...one(0, -OFF), ...one(VECTOR, OFF)],
        [...move(from, 2 * VECTOR), ...move(to, 2 * VECTOR)],
        [...get(from), ...get(end), ...lessUnsigned, ...branchIf(0)],
      ),
    ],
  };
}

function pull(): WasmFunction {
  const [intervals, shares, end, level, value, slope, curvature, d, share, own] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
  return {
    parameters: 3,
    integers: 0,
    vectors: 7,
    body: [
      ...[...constant(0), ...loadSplat(HEAD.level), ...set(level)],
      ...loop(
        // How far it lies below the low end, or above the high end.
        [...splat(0), ...difference([...get(intervals), ...loadVector(0)], get(level)), ...larger],
        [...splat(0), ...difference([...get(intervals), ...loadVector(VECTOR)], get(level)), ...smaller, ...added, ...set(d)],
        [...get(shares), ...loadVector(0), ...set(share), ...times(get(share), get(d)), ...set(own)],
        [...sum(get(slope), get(own)), ...set(slope), ...sum(get(value), times(get(own), get(d))), ...set(value)],
        [...sum(get(curvature), [...get(share), ...get(d), ...splat(0), ...differ, ...both]), ...set(curvature)],
        [...move(intervals, 2 * VECTOR), ...move(shares, VECTOR)],
        [...get(intervals), ...get(end), ...lessUnsigned, ...branchIf(0)],
      ),
      ...[
        [value, HEAD.value],
        [slope, HEAD.slope],
        [curvature, HEAD.curvature],
      ].flatMap(([local, at]) => [...constant(0), ...get(local!), ...storeVector(at!)]),
    ],
  };
}
