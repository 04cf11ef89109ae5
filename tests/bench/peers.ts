// Other ways to solve the same network: each builds the nodal admittance matrix of the unknown nodes at every frequency from
// the same admittances (computed beforehand, which favours the peers) and solves it.
import { Complex } from "complex.js";
import { all, create } from "mathjs";
import { Matrix, solve as solveMatrix } from "ml-matrix";
import type { Entries } from "dividing-network";
import { circuitOf } from "../../src/network/circuit";
import { grid, OUTPUTS, POINTS } from "./three-way";

/** The nodal equations of a network: admittances of its branches on the grid, and where they go. */
export function equationsOf(entries: Entries) {
  const circuit = circuitOf(entries);
  const n = circuit.nodes.length - 2;
  const branches = circuit.branches.map(({ from, to, law, values }) => {
    const re = new Float64Array(POINTS);
    const im = new Float64Array(POINTS);
    law.bind(grid).admittance(values, 0, 0, POINTS, re, im, 0);
    return { from, to, re, im };
  });
  return { n, branches, outputs: OUTPUTS.map((name) => circuit.nodeNumber.get(name)! - 2) };
}

type Equations = ReturnType<typeof equationsOf>;

/** Fills an n×n complex matrix (interleaved) and the right side of one frequency, in for 1 V. */
function assemble({ n, branches }: Equations, point: number, matrix: Float64Array, right: Float64Array): void {
  matrix.fill(0);
  right.fill(0);
  for (const { from, to, re, im } of branches) {
    const [a, b] = [from - 2, to - 2];
    const [yr, yi] = [re[point]!, im[point]!];
    for (const [node, other] of [
      [a, b],
      [b, a],
    ] as const) {
      if (node < 0) continue;
      matrix[2 * (node * n + node)]! += yr;
      matrix[2 * (node * n + node) + 1]! += yi;
      if (other >= 0) {
        matrix[2 * (node * n + other)]! -= yr;
        matrix[2 * (node * n + other) + 1]! -= yi;
      } else if (other === -1) {
        right[2 * node]! += yr;
        right[2 * node + 1]! += yi;
      }
    }
  }
}

export type Sweeper = () => Float64Array;

/** Flat dense LU without pivoting on Float64Array. */
export function denseFlat(equations: Equations): Sweeper {
  const { n, outputs } = equations;
  const m = new Float64Array(2 * n * n);
  const x = new Float64Array(2 * n);
  const result = new Float64Array(2 * outputs.length * POINTS);
  return () => {
    for (let point = 0; point < POINTS; point++) {
      assemble(equations, point, m, x);
      for (let k = 0; k < n; k++) {
        const pr = m[2 * (k * n + k)]!;
        const pi = m[2 * (k * n + k) + 1]!;
        const d = pr * pr + pi * pi;
        for (let i = k + 1; i < n; i++) {
          const ar = m[2 * (i * n + k)]!;
          const ai = m[2 * (i * n + k) + 1]!;
          if (ar === 0 && ai === 0) continue;
          const fr = (ar * pr + ai * pi) / d;
          const fi = (ai * pr - ar * pi) / d;
          for (let j = k + 1; j < n; j++) {
            const br = m[2 * (k * n + j)]!;
            const bi = m[2 * (k * n + j) + 1]!;
            m[2 * (i * n + j)]! -= fr * br - fi * bi;
            m[2 * (i * n + j) + 1]! -= fr * bi + fi * br;
          }
          x[2 * i]! -= fr * x[2 * k]! - fi * x[2 * k + 1]!;
          x[2 * i + 1]! -= fr * x[2 * k + 1]! + fi * x[2 * k]!;
        }
      }
      for (let k = n - 1; k >= 0; k--) {
        let [sr, si] = [x[2 * k]!, x[2 * k + 1]!];
        for (let j = k + 1; j < n; j++) {
          const [br, bi] = [m[2 * (k * n + j)]!, m[2 * (k * n + j) + 1]!];
          sr -= br * x[2 * j]! - bi * x[2 * j + 1]!;
          si -= br * x[2 * j + 1]! + bi * x[2 * j]!;
        }
        const [pr, pi] = [m[2 * (k * n + k)]!, m[2 * (k * n + k) + 1]!];
        const d = pr * pr + pi * pi;
        x[2 * k] = (sr * pr + si * pi) / d;
        x[2 * k + 1] = (si * pr - sr * pi) / d;
      }
      outputs.forEach((node, k) => {
        result[2 * (k * POINTS + point)] = x[2 * node]!;
        result[2 * (k * POINTS + point) + 1] = x[2 * node + 1]!;
      });
    }
    return result;
  };
}

/** ml-matrix on the real 2n×2n system. */
export function mlMatrix(equations: Equations): Sweeper {
  const { n, outputs } = equations;
  const m = new Float64Array(2 * n * n);
  const right = new Float64Array(2 * n);
  const result = new Float64Array(2 * outputs.length * POINTS);
  return () => {
    for (let point = 0; point < POINTS; point++) {
      assemble(equations, point, m, right);
      const real = new Matrix(2 * n, 2 * n);
      const b = new Matrix(2 * n, 1);
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          const [re, im] = [m[2 * (i * n + j)]!, m[2 * (i * n + j) + 1]!];
          real.set(i, j, re);
          real.set(n + i, n + j, re);
          real.set(i, n + j, -im);
          real.set(n + i, j, im);
        }
        b.set(i, 0, right[2 * i]!);
        b.set(n + i, 0, right[2 * i + 1]!);
      }
      const x = solveMatrix(real, b);
      outputs.forEach((node, k) => {
        result[2 * (k * POINTS + point)] = x.get(node, 0);
        result[2 * (k * POINTS + point) + 1] = x.get(n + node, 0);
      });
    }
    return result;
  };
}

/** Gaussian elimination on arrays of complex.js objects. */
export function complexObjects(equations: Equations): Sweeper {
  const { n, outputs } = equations;
  const m = new Float64Array(2 * n * n);
  const right = new Float64Array(2 * n);
  const result = new Float64Array(2 * outputs.length * POINTS);
  return () => {
    for (let point = 0; point < POINTS; point++) {
      assemble(equations, point, m, right);
      const rows = Array.from({ length: n }, (_, i) =>
        Array.from({ length: n }, (__, j) => new Complex(m[2 * (i * n + j)]!, m[2 * (i * n + j) + 1]!)),
      );
      const x = Array.from({ length: n }, (_, i) => new Complex(right[2 * i]!, right[2 * i + 1]!));
      for (let k = 0; k < n; k++) {
        for (let i = k + 1; i < n; i++) {
          if (rows[i]![k]!.re === 0 && rows[i]![k]!.im === 0) continue;
          const factor = rows[i]![k]!.div(rows[k]![k]!);
          for (let j = k + 1; j < n; j++) rows[i]![j] = rows[i]![j]!.sub(factor.mul(rows[k]![j]!));
          x[i] = x[i]!.sub(factor.mul(x[k]!));
        }
      }
      for (let k = n - 1; k >= 0; k--) {
        for (let j = k + 1; j < n; j++) x[k] = x[k]!.sub(rows[k]![j]!.mul(x[j]!));
        x[k] = x[k]!.div(rows[k]![k]!);
      }
      outputs.forEach((node, k) => {
        result[2 * (k * POINTS + point)] = x[node]!.re;
        result[2 * (k * POINTS + point) + 1] = x[node]!.im;
      });
    }
    return result;
  };
}

/** mathjs' complex solve. */
export function mathJs(equations: Equations): Sweeper {
  const math = create(all!);
  const { n, outputs } = equations;
  const m = new Float64Array(2 * n * n);
  const right = new Float64Array(2 * n);
  const result = new Float64Array(2 * outputs.length * POINTS);
  return () => {
    for (let point = 0; point < POINTS; point++) {
      assemble(equations, point, m, right);
      const rows = Array.from({ length: n }, (_, i) =>
        Array.from({ length: n }, (__, j) => math.complex(m[2 * (i * n + j)]!, m[2 * (i * n + j) + 1]!)),
      );
      const b = Array.from({ length: n }, (_, i) => math.complex(right[2 * i]!, right[2 * i + 1]!));
      const x = math.lusolve(rows, b) as unknown as { re: number; im: number }[][];
      outputs.forEach((node, k) => {
        result[2 * (k * POINTS + point)] = x[node]![0]!.re;
        result[2 * (k * POINTS + point) + 1] = x[node]![0]!.im;
      });
    }
    return result;
  };
}
