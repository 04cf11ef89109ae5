import { GROUP, HALF_BYTES, OP, SUM_BYTES } from "./operations";
import {
  added, block, branch, branchIf, branchTable, constant, divided, get, lessUnsigned, loadI32, loadSplat, loadVector, loop, moduleOf, multiplied, negated, plus, set, splatOne,
  splatZero, storeVector, subtracted, type Code,
} from "./wasm-module";

// Parameters of `run`: code and its end, bytes of one half-block in use, byte offset of the block in the grid, bytes from
// a table's real parts to its imaginary parts, address of the growth, address of ω.
const CODE = 0;
const END = 1;
const SIZE = 2;
const AT = 3;
const STRIDE = 4;
const GROWTH = 5;
const OMEGA = 6;
// Integer locals: the pointers of the operation, the pointer into growth or ω, and where to stop.
const D = 7;
const A = 8;
const B = 9;
const G = 10;
const STOP = 11;
// Vector locals.
/** Three more pointers. */
const P = 12;
const Q = 13;
const R = 14;
const AR = 15;
const AI = 16;
const BR = 17;
const BI = 18;
const SR = 19;
const SI = 20;
const T = 21;
const U = 22;
const V = 23;

const load = (pointer: number, imaginary: boolean, step: number): Code => [...get(pointer), ...loadVector((imaginary ? HALF_BYTES : 0) + 16 * step)];
const store = (pointer: number, imaginary: boolean, step: number, value: Code): Code => [...get(pointer), ...value, ...storeVector((imaginary ? HALF_BYTES : 0) + 16 * step)];
const binary = (operation: Code) => (a: Code, b: Code): Code => [...a, ...b, ...operation];
const sum = /* @__PURE__ */ binary(added);
const difference = /* @__PURE__ */ binary(subtracted);
const product = /* @__PURE__ */ binary(multiplied);
const quotient = /* @__PURE__ */ binary(divided);
const let_ = (local: number, value: Code): Code => [...value, ...set(local)];
const real = (a: readonly [number, number], b: readonly [number, number]): Code => difference(product(get(a[0]), get(b[0])), product(get(a[1]), get(b[1])));
const imaginary = (a: readonly [number, number], b: readonly [number, number]): Code => sum(product(get(a[0]), get(b[1])), product(get(a[1]), get(b[0])));
const square = (re: number, im: number): Code => sum(product(get(re), get(re)), product(get(im), get(im)));
const a = [AR, AI] as const;
const b = [BR, BI] as const;
const s = [SR, SI] as const;

/** A loop over the half-block: `body(step)` works on the two points at 16·step bytes; pointers move on by themselves. */
function sweep(pointers: readonly number[], body: (step: number) => Code): Code {
  const steps = GROUP / 2;
  return [
    ...let_(STOP, [...get(pointers[0]!), ...get(SIZE), ...plus]),
    ...loop(
      ...Array.from({ length: steps }, (_, step) => body(step)),
      ...pointers.map((pointer) => let_(pointer, [...get(pointer), ...constant(16 * steps), ...plus])),
      [...get(pointers[0]!), ...get(STOP), ...lessUnsigned, ...branchIf(0)],
    ),
  ];
}

const loadA = (step: number): Code => [...let_(AR, load(A, false, step)), ...let_(AI, load(A, true, step))];
const loadB = (step: number): Code => [...let_(BR, load(B, false, step)), ...let_(BI, load(B, true, step))];
const put = (step: number, re: Code, im: Code, add: boolean): Code => [
  ...store(D, false, step, add ? sum(load(D, false, step), re) : re),
  ...store(D, true, step, add ? sum(load(D, true, step), im) : im),
];
/** U ← 1/(SR² + SI²) */
const invertSize: Code = /* @__PURE__ */ let_(U, /* @__PURE__ */ quotient(splatOne, /* @__PURE__ */ square(SR, SI)));
const grow = (step: number, value: Code): Code => store(G, false, step, sum(load(G, false, step), value));

/** The kernel of each operation, by its number. */
function kernelList(): readonly Code[] {
  const list: Code[] = [];
  for (const add of [false, true]) {
    list[add ? OP.addResistance : OP.resistance] = [
      ...let_(T, quotient(splatOne, [...get(A), ...loadSplat(0)])),
      ...sweep([D], (step) => (add ? store(D, false, step, sum(load(D, false, step), get(T))) : [...store(D, false, step, get(T)), ...store(D, true, step, splatZero)])),
    ];
    const atOmega = let_(G, [...get(OMEGA), ...get(AT), ...plus]);
    // AR ← L, AI ← R; x = ωL; 1/(R² + x²)
    list[add ? OP.addCoil : OP.coil] = [
      ...let_(AR, [...get(A), ...loadSplat(0)]),
      ...let_(SR, [...get(A), ...loadSplat(8)]),
      ...atOmega,
      ...sweep([D, G], (step) => [...let_(SI, product(load(G, false, step), get(AR))), ...invertSize, ...put(step, product(get(SR), get(U)), [...product(get(SI), get(U)), ...negated], add)]),
    ];
    // b = ωC, d = bR + t, y = b/(1 + d²): Y = y·d + jy
    list[add ? OP.addCapacitor : OP.capacitor] = [
      ...let_(AR, [...get(A), ...loadSplat(0)]),
      ...let_(AI, [...get(A), ...loadSplat(8)]),
      ...let_(BR, [...get(A), ...loadSplat(16)]),
      ...atOmega,
      ...sweep([D, G], (step) => [
        ...let_(T, product(load(G, false, step), get(AR))),
        ...let_(BI, sum(product(get(T), get(AI)), get(BR))),
        ...let_(U, quotient(get(T), sum(splatOne, product(get(BI), get(BI))))),
        ...put(step, product(get(U), get(BI)), get(U), add),
      ]),
    ];
    list[add ? OP.addTable : OP.table] = [
      ...let_(A, [...get(A), ...get(AT), ...plus]),
      ...let_(B, [...get(A), ...get(STRIDE), ...plus]),
      ...sweep([D, A, B], (step) => put(step, load(A, false, step), load(B, false, step), add)),
    ];
  }
  list[OP.move] = sweep([D, A], (step) => put(step, load(A, false, step), load(A, true, step), false));
  list[OP.negate] = sweep([D, A], (step) => put(step, [...load(A, false, step), ...negated], [...load(A, true, step), ...negated], false));
  list[OP.add] = sweep([D, A], (step) => put(step, load(A, false, step), load(A, true, step), true));
  list[OP.subtract] = sweep([D, A], (step) => put(step, difference(load(D, false, step), load(A, false, step)), difference(load(D, true, step), load(A, true, step)), false));
  list[OP.sum] = sweep([D, A, B], (step) => put(step, sum(load(A, false, step), load(B, false, step)), sum(load(A, true, step), load(B, true, step)), false));
  list[OP.reciprocal] = sweep([D, A], (step) => [...let_(SR, load(A, false, step)), ...let_(SI, load(A, true, step)), ...invertSize, ...put(step, product(get(SR), get(U)), [...product(get(SI), get(U)), ...negated], false)]);
  list[OP.multiply] = sweep([D, A, B], (step) => [...loadA(step), ...loadB(step), ...put(step, real(a, b), imaginary(a, b), false)]);
  list[OP.multiplyNegate] = sweep([D, A, B], (step) => [...loadA(step), ...loadB(step), ...put(step, [...real(a, b), ...negated], [...imaginary(a, b), ...negated], false)]);
  list[OP.multiplyAdd] = sweep([D, A, B], (step) => [...loadA(step), ...loadB(step), ...put(step, real(a, b), imaginary(a, b), true)]);
  list[OP.multiplySubtract] = sweep([D, A, B], (step) => [
    ...loadA(step),
    ...loadB(step),
    ...put(step, difference(load(D, false, step), real(a, b)), difference(load(D, true, step), imaginary(a, b)), false),
  ]);
  list[OP.ratio] = [
    ...let_(G, get(GROWTH)),
    ...sweep([D, A, B, G], (step) => [
      ...loadA(step),
      ...loadB(step),
      ...let_(T, real(a, b)),
      ...let_(U, imaginary(a, b)),
      ...put(step, get(T), get(U), false),
      ...grow(step, square(T, U)),
    ]),
  ];
  const star = (add: boolean, keep: boolean): Code => [
    ...let_(G, get(GROWTH)),
    ...sweep([D, A, B, G], (step) => [
      ...loadA(step),
      ...loadB(step),
      ...let_(SR, sum(get(AR), get(BR))),
      ...let_(SI, sum(get(AI), get(BI))),
      ...invertSize,
      // S ← conj(s)/|s|² = 1/s;  T + jV ← a/s
      ...let_(SR, product(get(SR), get(U))),
      ...let_(SI, [...product(get(SI), get(U)), ...negated]),
      ...let_(T, real(a, s)),
      ...let_(V, imaginary(a, s)),
      ...put(step, real([T, V], b), imaginary([T, V], b), add),
      ...(keep
        ? [
            ...store(A, false, step, get(T)),
            ...store(A, true, step, get(V)),
            ...let_(AR, real(b, s)),
            ...let_(AI, imaginary(b, s)),
            ...store(B, false, step, get(AR)),
            ...store(B, true, step, get(AI)),
          ]
        : []),
      ...grow(step, square(T, V)),
    ]),
  ];
  list[OP.star] = star(false, false);
  list[OP.starAdd] = star(true, false);
  list[OP.starKeep] = star(false, true);
  list[OP.starAddKeep] = star(true, true);
  for (const negative of [false, true]) {
    // A zero added takes the sign off a zero.
    const value = (im: boolean, step: number): Code => sum(negative ? [...load(A, im, step), ...negated] : load(A, im, step), splatZero);
    list[negative ? OP.outNegated : OP.out] = [
      ...let_(D, [...get(D), ...get(AT), ...plus]),
      ...let_(B, [...get(D), ...get(STRIDE), ...plus]),
      ...sweep([D, A, B], (step) => [...store(D, false, step, value(false, step)), ...store(B, false, step, value(true, step))]),
    ];
  }
  for (const add of [false, true]) {
    list[add ? OP.timesTableAdd : OP.timesTable] = [
      ...let_(B, [...get(B), ...get(AT), ...plus]),
      ...let_(G, [...get(B), ...get(STRIDE), ...plus]),
      ...sweep([D, A, B, G], (step) => [...loadA(step), ...let_(BR, load(B, false, step)), ...let_(BI, load(G, false, step)), ...put(step, real(a, b), imaginary(a, b), add)]),
    ];
  }
  const gather = (pointer: number, index: number, value: Code): Code => [...get(pointer), ...sum([...get(pointer), ...loadVector(SUM_BYTES * index)], value), ...storeVector(SUM_BYTES * index)];
  list[OP.powerError] = [
    ...let_(A, [...get(A), ...get(AT), ...plus]),
    ...let_(G, [...get(A), ...get(STRIDE), ...plus]),
    ...sweep([D, A, G], (step) => [
      ...let_(AR, load(D, false, step)),
      ...let_(AI, load(D, true, step)),
      ...let_(T, load(A, false, step)),
      // U ← e;  V ← w·e
      ...let_(U, difference(product(square(AR, AI), get(T)), splatOne)),
      ...let_(V, product(load(G, false, step), get(U))),
      ...gather(B, 0, product(get(V), get(U))),
      ...let_(V, product(get(V), get(T))),
      ...let_(V, sum(get(V), get(V))),
      ...let_(V, sum(get(V), get(V))),
      ...put(step, product(get(V), get(AR)), [...product(get(V), get(AI)), ...negated], false),
    ]),
  ];
  list[OP.sumReal] = sweep([A], (step) => gather(D, 0, load(A, false, step)));
  const atOmega = let_(G, [...get(OMEGA), ...get(AT), ...plus]);
  list[OP.slopeCoil] = [
    ...let_(AR, [...get(A), ...loadSplat(0)]),
    ...let_(SR, [...get(A), ...loadSplat(8)]),
    ...atOmega,
    ...sweep([B, G], (step) => [
      ...let_(T, load(G, false, step)),
      ...let_(SI, product(get(T), get(AR))),
      ...invertSize,
      // S' = Y: (BR, BI);  Y² : (V, AI)
      ...let_(BR, product(get(SR), get(U))),
      ...let_(BI, [...product(get(SI), get(U)), ...negated]),
      ...let_(V, difference(product(get(BR), get(BR)), product(get(BI), get(BI)))),
      ...let_(AI, product(get(BR), get(BI))),
      ...let_(AI, sum(get(AI), get(AI))),
      ...let_(BR, load(B, false, step)),
      ...let_(BI, load(B, true, step)),
      ...gather(D, 0, product(get(T), imaginary([V, AI], b))),
      ...gather(D, 1, real([V, AI], b)),
    ]),
  ];
  list[OP.slopeCapacitor] = [
    ...let_(AR, [...get(A), ...loadSplat(0)]),
    ...let_(AI, [...get(A), ...loadSplat(8)]),
    ...let_(SR, [...get(A), ...loadSplat(16)]),
    ...atOmega,
    ...sweep([B, G], (step) => [
      // T ← ωC, SI ← x, U ← 1/(1 + x²)², V + jSI ← (1 − x² − 2jx)·U
      ...let_(T, product(load(G, false, step), get(AR))),
      ...let_(SI, sum(product(get(T), get(AI)), get(SR))),
      ...let_(V, product(get(SI), get(SI))),
      ...let_(U, sum(splatOne, get(V))),
      ...let_(U, quotient(splatOne, product(get(U), get(U)))),
      ...let_(V, product(difference(splatOne, get(V)), get(U))),
      ...let_(SI, product(get(SI), get(U))),
      ...let_(SI, [...sum(get(SI), get(SI)), ...negated]),
      ...let_(BR, load(B, false, step)),
      ...let_(BI, load(B, true, step)),
      ...let_(U, imaginary([V, SI], b)),
      ...let_(V, real([V, SI], b)),
      ...gather(D, 0, product(load(G, false, step), sum(get(U), product(get(SR), get(V))))),
      ...gather(D, 1, product(product(get(T), get(T)), get(V))),
      ...gather(D, 2, product(get(T), get(V))),
    ]),
  ];
  list[OP.squareTimes] = sweep([D, A, B], (step) => [
    ...loadA(step),
    ...loadB(step),
    ...let_(T, difference(product(get(AR), get(AR)), product(get(AI), get(AI)))),
    ...let_(U, product(get(AR), get(AI))),
    ...let_(U, sum(get(U), get(U))),
    ...put(step, real([T, U], b), imaginary([T, U], b), false),
  ]);
  list[OP.outProduct] = [
    ...let_(D, [...get(D), ...get(AT), ...plus]),
    ...let_(G, [...get(D), ...get(STRIDE), ...plus]),
    ...sweep([D, A, B, G], (step) => [...loadA(step), ...loadB(step), ...store(D, false, step, real(a, b)), ...store(G, false, step, imaginary(a, b))]),
  ];
  list[OP.resistanceSlope] = [
    ...let_(T, quotient(splatOne, [...get(A), ...loadSplat(0)])),
    ...let_(T, [...product(get(T), get(T)), ...negated]),
    ...sweep([D], (step) => [...store(D, false, step, get(T)), ...store(D, true, step, splatZero)]),
  ];
  // V + jAI ← Y² of the coil; T is ω
  const coilSquare = (step: number): Code => [
    ...let_(T, load(G, false, step)),
    ...let_(SI, product(get(T), get(AR))),
    ...invertSize,
    ...let_(BR, product(get(SR), get(U))),
    ...let_(BI, [...product(get(SI), get(U)), ...negated]),
    ...let_(V, difference(product(get(BR), get(BR)), product(get(BI), get(BI)))),
    ...let_(AI, product(get(BR), get(BI))),
    ...let_(AI, sum(get(AI), get(AI))),
  ];
  const coilValues: Code = [...let_(AR, [...get(A), ...loadSplat(0)]), ...let_(SR, [...get(A), ...loadSplat(8)]), ...atOmega];
  list[OP.inductanceSlope] = [...coilValues, ...sweep([D, G], (step) => [...coilSquare(step), ...put(step, product(get(T), get(AI)), [...product(get(T), get(V)), ...negated], false)])];
  list[OP.dcrSlope] = [...coilValues, ...sweep([D, G], (step) => [...coilSquare(step), ...put(step, [...get(V), ...negated], [...get(AI), ...negated], false)])];
  // T ← ωC, V + jSI ← 1/(1 + jx)²
  const capacitorSquare = (step: number): Code => [
    ...let_(T, product(load(G, false, step), get(AR))),
    ...let_(SI, sum(product(get(T), get(AI)), get(SR))),
    ...let_(V, product(get(SI), get(SI))),
    ...let_(U, sum(splatOne, get(V))),
    ...let_(U, quotient(splatOne, product(get(U), get(U)))),
    ...let_(V, product(difference(splatOne, get(V)), get(U))),
    ...let_(SI, product(get(SI), get(U))),
    ...let_(SI, [...sum(get(SI), get(SI)), ...negated]),
  ];
  const capacitorValues: Code = [...let_(AR, [...get(A), ...loadSplat(0)]), ...let_(AI, [...get(A), ...loadSplat(8)]), ...let_(SR, [...get(A), ...loadSplat(16)]), ...atOmega];
  list[OP.capacitanceSlope] = [
    ...capacitorValues,
    ...sweep([D, G], (step) => [
      ...capacitorSquare(step),
      ...let_(T, load(G, false, step)),
      ...put(step, [...product(get(T), sum(get(SI), product(get(SR), get(V)))), ...negated], product(get(T), difference(get(V), product(get(SR), get(SI)))), false),
    ]),
  ];
  list[OP.esrSlope] = [...capacitorValues, ...sweep([D, G], (step) => [...capacitorSquare(step), ...let_(T, product(get(T), get(T))), ...put(step, product(get(T), get(V)), product(get(T), get(SI)), false)])];
  list[OP.lossSlope] = [...capacitorValues, ...sweep([D, G], (step) => [...capacitorSquare(step), ...put(step, product(get(T), get(V)), product(get(T), get(SI)), false)])];
  const next = (from: number): Code => [...get(from), ...get(STRIDE), ...plus];
  list[OP.rankOne] = [
    ...let_(A, [...get(A), ...get(AT), ...plus]),
    ...let_(B, next(A)),
    ...let_(G, next(B)),
    ...let_(P, next(G)),
    ...let_(Q, next(P)),
    ...let_(R, next(Q)),
    ...sweep([D, A, B, G, P, Q, R], (step) => [
      ...let_(AR, load(D, false, step)),
      ...let_(AI, load(D, true, step)),
      // S ← 1/(1 + d·Z)
      ...let_(BR, load(G, false, step)),
      ...let_(BI, load(P, false, step)),
      ...let_(SR, sum(splatOne, real(a, b))),
      ...let_(SI, imaginary(a, b)),
      ...invertSize,
      ...let_(SR, product(get(SR), get(U))),
      ...let_(SI, [...product(get(SI), get(U)), ...negated]),
      // T + jV ← d·A
      ...let_(BR, load(A, false, step)),
      ...let_(BI, load(B, false, step)),
      ...let_(T, real(a, b)),
      ...let_(V, imaginary(a, b)),
      ...put(step, difference(load(Q, false, step), real([T, V], s)), difference(load(R, false, step), imaginary([T, V], s)), false),
    ]),
  ];
  return list;
}

/** The module's bytes: an interpreter of operations whose inner loops work on two points at a time. */
export function kernelModule(): Uint8Array<ArrayBuffer> {
  // The operations are nested blocks: the innermost is left for operation 0, whose kernel follows it, and so on outwards.
  const kernels = kernelList();
  let body: Code = block(get(CODE), loadI32(0), branchTable(kernels.map((_, index) => index), kernels.length - 1));
  kernels.forEach((kernel, index) => {
    const last = index === kernels.length - 1;
    body = last ? [...body, ...kernel] : block(body, kernel, branch(kernels.length - 1 - index));
  });
  const step: Code = [
    ...let_(D, [...get(CODE), ...loadI32(4)]),
    ...let_(A, [...get(CODE), ...loadI32(8)]),
    ...let_(B, [...get(CODE), ...loadI32(12)]),
    ...block(body),
    ...let_(CODE, [...get(CODE), ...constant(16), ...plus]),
    ...get(CODE),
    ...get(END),
    ...lessUnsigned,
    ...branchIf(0),
  ];
  return moduleOf(7, 8, 9, loop(step));
}

