const MOST_REFINEMENTS = 20;
/** A last correction so small, as a share of the largest unknown of its kind, needs no second attempt. */
const SETTLED = 1e-13;
/** Above this the matrix is as good as singular. */
const UNSETTLED = 1e-9;

/**
 * A complex square system in interleaved storage: elimination with row equilibration and partial pivoting, then refinement
 * by residuals of twice the precision, which makes the small unknowns as exact as the large ones (after Wilkinson 1963, cited
 * from memory).
 */
export class LinearSystem {
  readonly right: Float64Array;
  private readonly matrix: Float64Array;

  constructor(private readonly size: number) {
    this.matrix = new Float64Array(2 * size * size);
    this.right = new Float64Array(2 * size);
  }

  add(row: number, column: number, re: number, im: number): void {
    const at = 2 * (row * this.size + column);
    this.matrix[at] = this.matrix[at]! + re;
    this.matrix[at + 1] = this.matrix[at + 1]! + im;
  }

  /**
   * The solution, interleaved; undefined when the matrix is singular to working precision. Unknown k is counted in
   * multiples of units[k] (powers of two) while it is solved for, and in its own unit should that fail; the unknowns before
   * `kinds` are of one kind, and those from there on of another.
   */
  solve(units: Float64Array, kinds: number): Float64Array | undefined {
    const first = this.scaled(units, kinds);
    const best =
      first !== undefined && first.change < SETTLED
        ? first
        : better(
            first,
            this.scaled(
              units.map(() => 1),
              kinds,
            ),
          );
    return best !== undefined && best.change < UNSETTLED && best.solution.every((value) => Number.isFinite(value))
      ? best.solution
      : undefined;
  }

  private scaled(units: Float64Array, kinds: number): Attempt | undefined {
    const { size } = this;
    const width = 2 * size;
    const matrix = this.matrix.map((value, at) => value * units[(at % width) >> 1]!);
    const right = this.right.slice();
    for (let row = 0; row < size; row++) {
      let largest = 0;
      for (let c = 0; c < width; c++) largest = Math.max(largest, Math.abs(matrix[row * width + c]!));
      if (!(largest > 0 && Number.isFinite(largest))) return undefined;
      // A power of two: scaling loses nothing.
      const scale = 2 ** -Math.round(Math.log2(largest));
      for (let c = 0; c < width; c++) matrix[row * width + c] = matrix[row * width + c]! * scale;
      right[2 * row] = right[2 * row]! * scale;
      right[2 * row + 1] = right[2 * row + 1]! * scale;
    }
    const factors = matrix.slice();
    const order = factorise(factors, size);
    if (order === undefined) return undefined;
    const solution = substitute(factors, order, right, size);
    // What a sum of solution and corrections has beyond a number's digits: without it the rounding of large unknowns hides the small ones.
    const rest = new Float64Array(width);
    let [last, lastOwn] = [Infinity, Infinity];
    for (let round = 0; round < MOST_REFINEMENTS; round++) {
      const correction = substitute(factors, order, residual(matrix, solution, rest, right, size), size);
      const change = Math.max(share(correction, solution, 0, kinds), share(correction, solution, kinds, size));
      // What the largest unknowns still gain is their rounding; small ones may have digits to win for some rounds more.
      const own = change < last || change < SETTLED ? ownShare(correction, solution, size) : Infinity;
      if (!(change < last || own < lastOwn)) break;
      for (let at = 0; at < width; at++) {
        const [before, added] = [solution[at]!, correction[at]! + rest[at]!];
        const sum = before + added;
        const back = sum - before;
        solution[at] = sum;
        rest[at] = before - (sum - back) + (added - back);
      }
      [last, lastOwn] = [Math.min(change, last), own];
      if (change === 0 || (change < SETTLED && own < SETTLED)) break;
    }
    for (let at = 0; at < width; at++) solution[at] = solution[at]! * units[at >> 1]!;
    return { solution, change: last };
  }
}

/** A solution, and the last correction that it received, as a share. */
interface Attempt {
  readonly solution: Float64Array;
  readonly change: number;
}

function better(a: Attempt | undefined, b: Attempt | undefined): Attempt | undefined {
  return a === undefined || (b !== undefined && b.change < a.change) ? b : a;
}

/** The largest of some corrections as a share of the largest of their unknowns. */
function share(correction: Float64Array, solution: Float64Array, from: number, to: number): number {
  let [most, largest] = [0, 0];
  for (let at = 2 * from; at < 2 * to; at++) {
    most = Math.max(most, Math.abs(correction[at]!));
    largest = Math.max(largest, Math.abs(solution[at]!));
  }
  return most === 0 ? 0 : most / largest;
}

/** The largest correction as a share of its own unknown, where that is none of nothing. */
function ownShare(correction: Float64Array, solution: Float64Array, size: number): number {
  let most = 0;
  for (let at = 0; at < 2 * size; at += 2) {
    const unknown = Math.abs(solution[at]!) + Math.abs(solution[at + 1]!);
    if (unknown > 0) most = Math.max(most, (Math.abs(correction[at]!) + Math.abs(correction[at + 1]!)) / unknown);
  }
  return most;
}

/** Factors a matrix in place into L (below the diagonal, its own 1 left out) and U; returns the order of its rows. */
function factorise(m: Float64Array, size: number): Int32Array | undefined {
  const width = 2 * size;
  const order = Int32Array.from({ length: size }, (_, row) => row);
  for (let k = 0; k < size; k++) {
    let pivot = k;
    let best = -1;
    for (let row = k; row < size; row++) {
      const at = row * width + 2 * k;
      const value = Math.abs(m[at]!) + Math.abs(m[at + 1]!);
      if (value > best) [pivot, best] = [row, value];
    }
    if (!(best > 1e-300)) return undefined;
    if (pivot !== k) {
      for (let c = 0; c < width; c++) [m[k * width + c], m[pivot * width + c]] = [m[pivot * width + c]!, m[k * width + c]!];
      [order[k], order[pivot]] = [order[pivot]!, order[k]!];
    }
    const pr = m[k * width + 2 * k]!;
    const pi = m[k * width + 2 * k + 1]!;
    const norm = pr * pr + pi * pi;
    for (let row = k + 1; row < size; row++) {
      const at = row * width + 2 * k;
      const [ar, ai] = [m[at]!, m[at + 1]!];
      if (ar === 0 && ai === 0) continue;
      const fr = (ar * pr + ai * pi) / norm;
      const fi = (ai * pr - ar * pi) / norm;
      m[at] = fr;
      m[at + 1] = fi;
      for (let c = 2 * k + 2; c < width; c += 2) {
        const br = m[k * width + c]!;
        const bi = m[k * width + c + 1]!;
        m[row * width + c] = m[row * width + c]! - (fr * br - fi * bi);
        m[row * width + c + 1] = m[row * width + c + 1]! - (fr * bi + fi * br);
      }
    }
  }
  return order;
}

/** Solves L·U·x = the right side, whose rows are taken in `order`. */
function substitute(m: Float64Array, order: Int32Array, right: Float64Array, size: number): Float64Array {
  const width = 2 * size;
  const x = new Float64Array(width);
  for (let k = 0; k < size; k++) {
    let [sr, si] = [right[2 * order[k]!]!, right[2 * order[k]! + 1]!];
    for (let c = 0; c < 2 * k; c += 2) {
      const [mr, mi] = [m[k * width + c]!, m[k * width + c + 1]!];
      sr -= mr * x[c]! - mi * x[c + 1]!;
      si -= mr * x[c + 1]! + mi * x[c]!;
    }
    x[2 * k] = sr;
    x[2 * k + 1] = si;
  }
  for (let k = size - 1; k >= 0; k--) {
    let [sr, si] = [x[2 * k]!, x[2 * k + 1]!];
    for (let c = 2 * k + 2; c < width; c += 2) {
      const [mr, mi] = [m[k * width + c]!, m[k * width + c + 1]!];
      sr -= mr * x[c]! - mi * x[c + 1]!;
      si -= mr * x[c + 1]! + mi * x[c]!;
    }
    const pr = m[k * width + 2 * k]!;
    const pi = m[k * width + 2 * k + 1]!;
    const norm = pr * pr + pi * pi;
    x[2 * k] = (sr * pr + si * pi) / norm;
    x[2 * k + 1] = (si * pr - sr * pi) / norm;
  }
  return x;
}

/** b − A·(x + rest) with each sum carried in two numbers, so that it is exact to the last digits of what remains. */
function residual(m: Float64Array, x: Float64Array, rest: Float64Array, right: Float64Array, size: number): Float64Array {
  const width = 2 * size;
  const out = new Float64Array(width);
  for (let row = 0; row < size; row++) {
    for (let part = 0; part < 2; part++) {
      let [high, low] = [right[2 * row + part]!, 0];
      const subtract = (a: number, b: number) => {
        if (a === 0 || b === 0) return;
        const product = a * b;
        const lost = productError(a, b, product);
        const sum = high - product;
        const back = sum - high;
        low += high - (sum - back) + (-product - back) - lost;
        high = sum;
      };
      for (let c = 0; c < width; c += 2) {
        const [mr, mi] = [m[row * width + c]!, m[row * width + c + 1]!];
        if (part === 0) {
          subtract(mr, x[c]!);
          subtract(-mi, x[c + 1]!);
          subtract(mr, rest[c]!);
          subtract(-mi, rest[c + 1]!);
        } else {
          subtract(mr, x[c + 1]!);
          subtract(mi, x[c]!);
          subtract(mr, rest[c + 1]!);
          subtract(mi, rest[c]!);
        }
      }
      out[2 * row + part] = high + low;
    }
  }
  return out;
}

/** What rounding took from the product of two numbers, exactly (after Dekker 1971, cited from memory). */
function productError(a: number, b: number, product: number): number {
  const [ca, cb] = [134_217_729 * a, 134_217_729 * b];
  const [ah, bh] = [ca - (ca - a), cb - (cb - b)];
  const [al, bl] = [a - ah, b - bh];
  return al * bl - (product - ah * bh - al * bh - ah * bl);
}
