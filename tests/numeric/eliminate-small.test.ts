// The solver of the innermost loops of searches: complex systems whose solutions are known because they were chosen, and systems without one. No source but algebra.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { eliminateSmall } from "../../src/numeric/internal";
import { cases } from "../support/cases";

/** A system of size m with right-hand sides that belong to the chosen solutions, interleaved, in rows of `width`. */
function systemOf(
  matrix: readonly (readonly [number, number])[],
  chosen: readonly (readonly (readonly [number, number])[])[],
  m: number,
  width: number,
): Float64Array {
  const a = new Float64Array(2 * m * width);
  for (let row = 0; row < m; row++) {
    for (let column = 0; column < m; column++) a.set(matrix[row * m + column]!, 2 * (row * width + column));
    chosen.forEach((x, side) => {
      let [re, im] = [0, 0];
      for (let column = 0; column < m; column++) {
        const [[mr, mi], [xr, xi]] = [matrix[row * m + column]!, x[column]!];
        [re, im] = [re + mr * xr - mi * xi, im + mr * xi + mi * xr];
      }
      a.set([re, im], 2 * (row * width + m + side));
    });
  }
  return a;
}

const number = fc.double({ min: -1, max: 1, noNaN: true });
const complex = fc.tuple(number, number);
const system = fc.integer({ min: 1, max: 6 }).chain((m) =>
  fc.record({
    m: fc.constant(m),
    matrix: fc.array(complex, { minLength: m * m, maxLength: m * m }),
    chosen: fc.array(fc.array(complex, { minLength: m, maxLength: m }), { minLength: 1, maxLength: 3 }),
    spare: fc.integer({ min: 0, max: 2 }),
  }),
);

describe("eliminateSmall", () => {
  it("finds what was put in, for each right-hand side, in a matrix that its diagonal rules", () => {
    fc.assert(
      fc.property(system, ({ m, matrix, chosen, spare }) => {
        // Rows in turn, so that pivots must be looked for: the large ones stand in the row before.
        const ruled = matrix.map(([re, im], at) => [re + (at % m === (Math.floor(at / m) + 1) % m ? 4 * m : 0), im] as const);
        const width = m + chosen.length + spare;
        const a = systemOf(ruled, chosen, m, width);
        expect(eliminateSmall(a, width, m, m + chosen.length, 1e-12)).toBe(true);
        chosen.forEach((x, side) =>
          x.forEach(([re, im], row) => {
            const at = 2 * (row * width + m + side);
            expect(Math.hypot(a[at]! - re, a[at + 1]! - im)).toBeLessThan(1e-13);
          }),
        );
      }),
      { numRuns: cases(200) },
    );
  });

  it("says where two rows are the same, or a pivot is below the share of its row that is asked for", () => {
    const same = [
      [1, 2],
      [3, -1],
      [1, 2],
      [3, -1],
    ] as const;
    expect(
      eliminateSmall(
        systemOf(
          same,
          [
            [
              [1, 0],
              [1, 0],
            ],
          ],
          2,
          3,
        ),
        3,
        2,
        3,
        1e-12,
      ),
    ).toBe(false);
    // A solution of 10⁶: the second row comes to 10⁻⁶ beside 1.
    const near = [
      [1, 0],
      [1, 0],
      [1, 0],
      [1 + 1e-6, 0],
    ] as const;
    const large = [
      [
        [-1e6, 0],
        [1e6, 0],
      ],
    ] as const;
    expect(eliminateSmall(systemOf(near, large, 2, 3), 3, 2, 3, 1e-5)).toBe(false);
    expect(eliminateSmall(systemOf(near, large, 2, 3), 3, 2, 3, 1e-7)).toBe(true);
  });
});
