import type { Operand } from "./operand";
import { recipe, type Law, type Maker, type Recipe } from "./recipe";
import { c, difference, negative, one, product, quotient, squared, sum, twice, zero, type Complex, type Real } from "./symbols";

/**
 * The operations of an elimination program, each written once. An operation has up to three operands, d, a and b, and says what
 * they are: a slot of the block at hand, the values of a branch, a table or an output over the whole grid, a sum over the grid.
 * `npm run kernels` makes of this table what runs: WebAssembly, plain loops, and the list of operands.
 */
const TABLE: Readonly<Record<string, readonly [operands: readonly Operand[], law: Law]>> = {
  /** The admittances of what has a kernel, and what lies in a table; each also added to what is there. */
  resistance: [["slot", "values"], (k) => k.put("d", { re: conductance(k.value(0)), im: zero })],
  addResistance: [["slot", "values"], (k) => k.addReal("d", conductance(k.value(0)))],
  coil: [["slot", "values"], (k) => k.put("d", coil(k))],
  addCoil: [["slot", "values"], (k) => k.add("d", coil(k))],
  capacitor: [["slot", "values"], (k) => k.put("d", capacitor(k))],
  addCapacitor: [["slot", "values"], (k) => k.add("d", capacitor(k))],
  table: [["slot", "table"], (k) => k.put("d", k.get("a"))],
  addTable: [["slot", "table"], (k) => k.add("d", k.get("a"))],

  move: [["slot", "slot"], (k) => k.put("d", k.get("a"))],
  negate: [["slot", "slot"], (k) => k.put("d", c.negative(k.get("a")))],
  add: [["slot", "slot"], (k) => k.add("d", k.get("a"))],
  subtract: [["slot", "slot"], (k) => k.put("d", c.difference(k.get("d"), k.get("a")))],
  sum: [["slot", "slot", "slot"], (k) => k.put("d", c.sum(k.get("a"), k.get("b")))],
  reciprocal: [["slot", "slot"], (k) => k.put("d", c.reciprocal(k.get("a")))],
  multiply: [["slot", "slot", "slot"], (k) => k.put("d", c.product(k.get("a"), k.get("b")))],
  multiplyNegate: [["slot", "slot", "slot"], (k) => k.put("d", c.negative(c.product(k.get("a"), k.get("b"))))],
  multiplyAdd: [["slot", "slot", "slot"], (k) => k.add("d", c.product(k.get("a"), k.get("b")))],
  multiplySubtract: [["slot", "slot", "slot"], (k) => k.put("d", c.difference(k.get("d"), c.product(k.get("a"), k.get("b"))))],
  /** d ← a², times b */
  squareTimes: [["slot", "slot", "slot"], (k) => k.put("d", c.product(c.squared(k.get("a")), k.get("b")))],

  /** A product that is one of the ratios by which growth is judged. */
  ratio: [
    ["slot", "slot", "slot"],
    (k) => {
      const m = c.product(k.get("a"), k.get("b"));
      k.put("d", m);
      k.grow(c.size(m));
    },
  ],
  /** A node with two neighbours at once: s = a + b; d ← (a/s)·b; kept: a ← a/s, b ← b/s. */
  star: [["slot", "slot", "slot"], (k) => k.put("d", star(k, false))],
  starAdd: [["slot", "slot", "slot"], (k) => k.add("d", star(k, false))],
  starKeep: [["slot", "slot", "slot"], (k) => k.put("d", star(k, true))],
  starAddKeep: [["slot", "slot", "slot"], (k) => k.add("d", star(k, true))],

  /** A zero is added, so that no zero of an answer has a sign. */
  out: [["output", "slot"], (k) => k.put("d", c.sum(k.get("a"), { re: zero, im: zero }))],
  outNegated: [["output", "slot"], (k) => k.put("d", c.sum(c.negative(k.get("a")), { re: zero, im: zero }))],
  outProduct: [["output", "slot", "slot"], (k) => k.put("d", c.product(k.get("a"), k.get("b")))],
  outProductNegated: [["output", "slot", "slot"], (k) => k.put("d", c.negative(c.product(k.get("a"), k.get("b"))))],
  timesTable: [["slot", "slot", "table"], (k) => k.put("d", c.product(k.get("a"), k.get("b")))],
  timesTableAdd: [["slot", "slot", "table"], (k) => k.add("d", c.product(k.get("a"), k.get("b")))],

  /** With table a holding 1/T as its real and a weight w as its imaginary part and e = |d|²/T − 1: sum b += w·e², d ← ∂(w·e²)/∂d = 4·w·e·conj(d)/T */
  powerError: [
    ["slot", "table", "sum"],
    (k) => {
      const d = k.get("d");
      const { re: t, im: weight } = k.get("a");
      const e = difference(product(c.size(d), t), one);
      const we = product(weight, e);
      k.gather("b", 0, product(we, e));
      k.put("d", c.conjugate(c.scaled(twice(twice(product(we, t))), d)));
    },
  ],
  sumReal: [["sum", "slot"], (k) => k.gather("d", 0, k.get("a").re)],
  /** With Y of the coil and h = Y²·b: sum d += ω·Im h, d + 1 += Re h */
  slopeCoil: [
    ["sum", "values", "slot"],
    (k) => {
      const h = c.product(c.squared(coil(k)), k.get("b"));
      k.gather("d", 0, product(k.omega(), h.im));
      k.gather("d", 1, h.re);
    },
  ],
  /** With h = b/(1 + jx)² of the capacitor: sum d += ω·(Im h + t·Re h), d + 1 += (ωC)²·Re h, d + 2 += ωC·Re h */
  slopeCapacitor: [
    ["sum", "values", "slot"],
    (k) => {
      const { susceptance, square } = capacitorSquare(k);
      const h = c.product(square, k.get("b"));
      k.gather("d", 0, product(k.omega(), sum(h.im, product(k.value(2), h.re))));
      k.gather("d", 1, product(squared(susceptance), h.re));
      k.gather("d", 2, product(susceptance, h.re));
    },
  ],

  /** ∂Y/∂R = −1/R² of a resistance; ∂Y/∂L = −jωY² and ∂Y/∂R = −Y² of a coil */
  resistanceSlope: [["slot", "values"], (k) => k.put("d", { re: negative(squared(conductance(k.value(0)))), im: zero })],
  inductanceSlope: [
    ["slot", "values"],
    (k) => {
      const h = c.scaled(k.omega(), c.squared(coil(k)));
      k.put("d", { re: h.im, im: negative(h.re) });
    },
  ],
  dcrSlope: [["slot", "values"], (k) => k.put("d", c.negative(c.squared(coil(k))))],
  /** With h = 1/(1 + jx)² of a capacitor: ∂Y/∂C = jω(1 + jt)·h, ∂Y/∂R = (ωC)²·h, ∂Y/∂t = ωC·h */
  capacitanceSlope: [
    ["slot", "values"],
    (k) => {
      const { square: h } = capacitorSquare(k);
      const t = k.value(2);
      k.put("d", {
        re: negative(product(k.omega(), sum(h.im, product(t, h.re)))),
        im: product(k.omega(), difference(h.re, product(t, h.im))),
      });
    },
  ],
  esrSlope: [
    ["slot", "values"],
    (k) => {
      const { susceptance, square } = capacitorSquare(k);
      k.put("d", c.scaled(squared(susceptance), square));
    },
  ],
  lossSlope: [
    ["slot", "values"],
    (k) => {
      const { susceptance, square } = capacitorSquare(k);
      k.put("d", c.scaled(susceptance, square));
    },
  ],

  /** With tables a, a + 1, a + 2 holding A, Z and P: d ← P − d·A/(1 + d·Z) */
  rankOne: [
    ["slot", "table"],
    (k) => {
      const d = k.get("d");
      const [a, z, p] = [k.get("a"), k.get("a", 1), k.get("a", 2)];
      const changed = c.product(d, z);
      k.put("d", c.difference(p, c.product(c.product(d, a), c.reciprocal({ re: sum(one, changed.re), im: changed.im }))));
    },
  ],
};

const conductance = (resistance: Real): Real => quotient(one, resistance);

/** 1/(R + jωL); values L, R. */
const coil = (k: Maker): Complex => c.reciprocal({ re: k.value(1), im: product(k.omega(), k.value(0)) });

/** ωC and x = ωCR + t; values C, R, t. */
function lossy(k: Maker): { readonly susceptance: Real; readonly x: Real } {
  const susceptance = product(k.omega(), k.value(0));
  return { susceptance, x: sum(product(susceptance, k.value(1)), k.value(2)) };
}

/** jωC/(1 + jx) */
function capacitor(k: Maker): Complex {
  const { susceptance, x } = lossy(k);
  const u = quotient(susceptance, sum(one, squared(x)));
  return { re: product(u, x), im: u };
}

/** ωC and 1/(1 + jx)² */
function capacitorSquare(k: Maker): { readonly susceptance: Real; readonly square: Complex } {
  const { susceptance, x } = lossy(k);
  const xx = squared(x);
  const u = quotient(one, squared(sum(one, xx)));
  return { susceptance, square: { re: product(difference(one, xx), u), im: negative(twice(product(x, u))) } };
}

function star(k: Maker, keep: boolean): Complex {
  const [a, b] = [k.get("a"), k.get("b")];
  const s = c.reciprocal(c.sum(a, b));
  const m = c.product(a, s);
  k.grow(c.size(m));
  if (keep) {
    k.put("a", m);
    k.put("b", c.product(b, s));
  }
  return c.product(m, b);
}

/** The operations in the order of their numbers. */
export const operations = (): readonly Recipe[] => Object.entries(TABLE).map(([name, [operands, law]]) => recipe(name, operands, law));
