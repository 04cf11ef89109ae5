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
  /** 1/(a + b) */
  reciprocalSum: [["slot", "slot", "slot"], (k) => k.put("d", c.reciprocal(c.sum(k.get("a"), k.get("b"))))],
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
  sumProduct: [["sum", "slot", "slot"], (k) => k.gather("d", 0, c.product(k.get("a"), k.get("b")).re)],
  /** With h = ω·b/(1 + jx)² of the capacitor: sum d += Im h, d + 1 += ω·Re h, d + 2 += Re h */
  slopeCapacitor: [
    ["sum", "values", "slot"],
    (k) => {
      const h = c.product(capacitorSquare(k, k.omega()), k.get("b"));
      k.gather("d", 0, h.im);
      k.gather("d", 1, product(k.omega(), h.re));
      k.gather("d", 2, h.re);
    },
  ],

  /** Of parts in series, with q = Y²·V·λ, the square of their current: a coil's sum d += ω·Im q, d + 1 += Re q; a capacitor's d += Im q/ω, d + 1 += Re q, d + 2 += Re q/ω */
  seriesCoil: [
    ["sum", "slot"],
    (k) => {
      const q = k.get("a");
      k.gather("d", 0, product(k.omega(), q.im));
      k.gather("d", 1, q.re);
    },
  ],
  seriesCapacitor: [
    ["sum", "slot"],
    (k) => {
      const q = k.get("a");
      const period = quotient(one, k.omega());
      k.gather("d", 0, product(period, q.im));
      k.gather("d", 1, q.re);
      k.gather("d", 2, product(period, q.re));
    },
  ],

  /** Times b: ∂Y/∂R = −1/R² of a resistance; ∂Y/∂L = −jωY² and ∂Y/∂R = −Y² of a coil */
  resistanceSlope: [["slot", "values", "slot"], (k) => k.put("d", c.scaled(negative(squared(conductance(k.value(0)))), k.get("b")))],
  inductanceSlope: [
    ["slot", "values", "slot"],
    (k) => {
      const h = c.scaled(k.omega(), c.product(c.squared(coil(k)), k.get("b")));
      k.put("d", { re: h.im, im: negative(h.re) });
    },
  ],
  dcrSlope: [["slot", "values", "slot"], (k) => k.put("d", c.negative(c.product(c.squared(coil(k)), k.get("b"))))],
  /** Times b, with h = ω/(1 + jx)² of a capacitor: ∂Y/∂C = j(1 + jt)·h, ∂Y/∂R = ωC²·h, ∂Y/∂t = C·h */
  capacitanceSlope: [
    ["slot", "values", "slot"],
    (k) => {
      const h = c.product(capacitorSquare(k, k.omega()), k.get("b"));
      const t = k.value(2);
      k.put("d", { re: negative(sum(h.im, product(t, h.re))), im: difference(h.re, product(t, h.im)) });
    },
  ],
  esrSlope: [
    ["slot", "values", "slot"],
    (k) => k.put("d", c.product(capacitorSquare(k, squared(product(k.omega(), k.value(0)))), k.get("b"))),
  ],
  lossSlope: [["slot", "values", "slot"], (k) => k.put("d", c.product(capacitorSquare(k, product(k.omega(), k.value(0))), k.get("b")))],

  /** Of parts in series, times b, the current times Y of them all: −∂Z/∂L = −jω of a coil; −∂Z/∂C = (t − j)/(ωC²) and −∂Z/∂t = −1/(ωC) of a capacitor. By a resistance it is −b itself. */
  seriesInductanceSlope: [
    ["slot", "slot"],
    (k) => {
      const { re, im } = c.scaled(k.omega(), k.get("a"));
      k.put("d", { re: im, im: negative(re) });
    },
  ],
  seriesCapacitanceSlope: [
    ["slot", "values", "slot"],
    (k) => {
      const { re, im } = c.scaled(quotient(quotient(one, squared(k.value(0))), k.omega()), k.get("b"));
      const t = k.value(2);
      k.put("d", { re: sum(im, product(t, re)), im: difference(product(t, im), re) });
    },
  ],
  seriesLossSlope: [
    ["slot", "values", "slot"],
    (k) => k.put("d", c.scaled(quotient(negative(quotient(one, k.value(0))), k.omega()), k.get("b"))),
  ],

  /** With tables a … a + 3 holding N, Z, P, −Y₀, a + 4 a weight w as its imaginary part, and y = d − Y₀: sum b += w·(|P + y·N|²/|1 + y·Z|² − 1)² */
  rankOneError: [
    ["slot", "table", "sum"],
    (k) => {
      const [n, z, p, before, { im: weight }] = [k.get("a"), k.get("a", 1), k.get("a", 2), k.get("a", 3), k.get("a", 4)];
      const y = c.sum(k.get("d"), before);
      const changed = c.product(y, z);
      const over = quotient(c.size(c.sum(p, c.product(y, n))), c.size({ re: sum(one, changed.re), im: changed.im }));
      const e = difference(over, one);
      k.gather("b", 0, product(product(weight, e), e));
    },
  ],
};

const conductance = (resistance: Real): Real => quotient(one, resistance);

/** 1/(R + jωL); values L, R. */
const coil = (k: Maker): Complex => c.reciprocal({ re: k.value(1), im: product(k.omega(), k.value(0)) });

/** jωC/(1 + jx) with x = ωCR + t; values C, R, t. */
function capacitor(k: Maker): Complex {
  const susceptance = product(k.omega(), k.value(0));
  const x = sum(product(susceptance, k.value(1)), k.value(2));
  const u = quotient(susceptance, sum(one, squared(x)));
  return { re: product(u, x), im: u };
}

/** height/(1 + jx)² */
function capacitorSquare(k: Maker, height: Real): Complex {
  const x = sum(product(k.omega(), product(k.value(0), k.value(1))), k.value(2));
  const xx = squared(x);
  const u = quotient(height, squared(sum(one, xx)));
  return { re: product(difference(one, xx), u), im: negative(twice(product(x, u))) };
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
