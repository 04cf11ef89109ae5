// Tests src/numeric/: cholesky.ts, known-directions.ts, propagated-error.ts, symmetric-eigen.ts
// Least squares against the textbook's closed forms for straight lines, and against normal equations inverted here by elimination.
import { fitLeastSquares, propagatedError } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";

const x = [0, 1, 2, 3, 4];
const y = [1.1, 2.9, 5.2, 7.1, 8.7];
const line = () => fitLeastSquares(([a, b], out) => x.forEach((v, i) => (out[i] = a! + b! * v - y[i]!)), [0, 0], { count: 5 });
const slope = x.reduce((sum, v, i) => sum + (v - 2) * y[i]!, 0) / 10;
const offset = 5 - 2 * slope;
const variance = x.reduce((sum, v, i) => sum + (offset + slope * v - y[i]!) ** 2, 0) / 3;

/** Inverse by elimination with pivots. */
function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_value, j) => (i === j ? 1 : 0))]);
  for (let k = 0; k < n; k++) {
    const best = rows.slice(k).reduce((most, row, i) => (Math.abs(row[k]!) > Math.abs(rows[most]![k]!) ? k + i : most), k);
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    const pivot = rows[k]!.map((value) => value / rows[k]![k]!);
    rows[k] = pivot;
    rows.forEach((row, i) => {
      if (i !== k) rows[i] = row.map((value, j) => value - row[k]! * pivot[j]!);
    });
  }
  return rows.map((row) => row.slice(n));
}

describe("fitting by least squares", () => {
  it("solves a linear problem exactly, with the textbook's standard errors and covariance", () => {
    const fit = line();
    expect([...fit.parameters]).toEqual([expect.closeTo(offset, 8), expect.closeTo(slope, 8)]);
    expect(fit.squares).toBeCloseTo(3 * variance, 10);
    expect(fit.converged).toBe(true);
    expect(fit.standardErrors[1]).toBeCloseTo(Math.sqrt(variance / 10), 8);
    expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(variance * (1 / 5 + 4 / 10)), 8);
    expect(fit.covariance[0]![1]).toBeCloseTo((-2 * variance) / 10, 8);
    expect(fit.covariance[1]![0]).toBe(fit.covariance[0]![1]);
    expect(fit.covariance.map((row, i) => row[i])).toEqual(fit.standardErrors.map((error) => expect.closeTo(error! ** 2, 12)));
  });

  it("gives a number computed from the parameters the textbook's error, with their covariance", () => {
    const fit = line();
    for (const at of [-3, 0, 2, 7]) {
      expect(propagatedError(fit, ([a, b]) => a! + b! * at)).toBeCloseTo(Math.sqrt(variance * (1 / 5 + (at - 2) ** 2 / 10)), 8);
    }
    // Where the line crosses 0 depends on both, and not linearly: slopes −1/b and a/b².
    const [g, h] = [-1 / slope, offset / slope ** 2];
    const expected = variance * (g * g * (1 / 5 + 4 / 10) - (2 * g * h * 2) / 10 + (h * h) / 10);
    expect(propagatedError(fit, ([a, b]) => -a! / b!)! ** 2).toBeCloseTo(expected, 9);
    expect(propagatedError(fit, () => 7)).toBe(0);
  });

  it("gives the covariance of seven parameters that lean on one another, in units that differ by decades", () => {
    const [p, m] = [7, 40];
    const rows = Array.from({ length: m }, (_, i) =>
      Array.from({ length: p }, (_unused, j) => 10 ** (j - 3) * Math.cos(0.11 * i * (j + 1) + j)),
    );
    const noise = Array.from({ length: m }, (_, i) => 0.1 * Math.sin(i * i));
    const fit = fitLeastSquares(
      (values, out) => rows.forEach((row, i) => (out[i] = row.reduce((sum, value, j) => sum + value * values[j]!, 0) - noise[i]!)),
      new Float64Array(p),
      { count: m },
    );
    const normal = rows[0]!.map((_, j) => rows[0]!.map((_unused, k) => rows.reduce((sum, row) => sum + row[j]! * row[k]!, 0)));
    const exact = inverse(normal);
    const right = rows[0]!.map((_, j) => rows.reduce((sum, row, i) => sum + row[j]! * noise[i]!, 0));
    const unit = fit.squares / (m - p);
    exact.forEach((row, j) => {
      const value = row.reduce((sum, each, k) => sum + each * right[k]!, 0);
      expect(Math.abs(fit.parameters[j]! - value)).toBeLessThan(1e-7 * Math.sqrt(unit * row[j]!));
      row.forEach((each, k) =>
        expect(Math.abs(fit.covariance[j]![k]! - unit * each)).toBeLessThan(1e-8 * unit * Math.sqrt(row[j]! * exact[k]![k]!)),
      );
    });
  });

  it("walks down a curved valley, and says whether it arrived", () => {
    const valley = (maxIterations: number) =>
      fitLeastSquares(
        ([a, b], out) => {
          out[0] = 10 * (b! - a! * a!);
          out[1] = 1 - a!;
          out[2] = 0;
        },
        [-1.2, 1],
        { count: 3, maxIterations },
      );
    const arrived = valley(500);
    expect([...arrived.parameters]).toEqual([expect.closeTo(1, 6), expect.closeTo(1, 6)]);
    expect(arrived.converged).toBe(true);
    const underway = valley(3);
    expect([underway.iterations, underway.converged]).toEqual([3, false]);
    expect(underway.squares).toBeGreaterThan(1e-3);
  });

  it("counts a thousandth of a standard error as arrived, and a hundredth as not", () => {
    // Twelve residuals around p, of which the first bends: the first step from `start` is exact to second order, and is the only one.
    const fit = (start: number) =>
      fitLeastSquares(
        ([p], out) => out.forEach((_, i) => (out[i] = (i === 0 ? Math.sinh(p!) : p!) + (i % 2 === 0 ? 0.5 : -0.5))),
        [start],
        { count: 12, maxIterations: 1 },
      );
    const sigma = fit(0).standardErrors[0]!;
    const miss = (start: number): number => Math.abs(fit(start).parameters[0]! - fit(0).parameters[0]!) / sigma;
    const starts = Array.from({ length: 60 }, (_, i) => 10 ** (i / 20 - 2.5));
    const arrived = starts.filter((start) => fit(start).converged);
    const underway = starts.filter((start) => !fit(start).converged);
    expect(Math.max(...arrived.map(miss))).toBeLessThan(2e-3);
    expect(Math.min(...underway.map(miss))).toBeGreaterThan(5e-4);
    expect(Math.min(arrived.length, underway.length)).toBeGreaterThan(5);
  });

  it("does not know a parameter that changes nothing, nor two of which only the sum matters; knows the others", () => {
    const idle = fitLeastSquares(
      ([a], out) => {
        out[0] = a! - 3;
        out[1] = a! - 5;
        out[2] = 0;
      },
      [0, 5],
      { count: 3 },
    );
    expect(idle.parameters[0]).toBeCloseTo(4, 9);
    expect(idle.standardErrors).toEqual([expect.closeTo(Math.sqrt(1 / 2), 9), undefined]);
    expect([...idle.covariance[1]!]).toEqual([0, 0]);
    const sum = fitLeastSquares(([a, b, c], out) => x.forEach((v, i) => (out[i] = a! + c! + b! * v - y[i]!)), [0, 0, 1], { count: 5 });
    expect(sum.standardErrors).toEqual([undefined, expect.closeTo(Math.sqrt(variance / 10), 7), undefined]);
    expect(sum.parameters[0]! + sum.parameters[2]!).toBeCloseTo(offset, 8);
    expect(sum.converged).toBe(true);
    expect(propagatedError(sum, ([, b]) => 3 * b!)).toBeCloseTo(3 * Math.sqrt(variance / 10), 7);
    expect(propagatedError(sum, ([a, b]) => a! + b!)).toBeUndefined();
    // With a hundred thousandth of a difference between the two they are known again, badly.
    const nearly = fitLeastSquares(
      ([a, b, c], out) => x.forEach((v, i) => (out[i] = a! + c! * (1 + 1e-5 * v * v) + b! * v - y[i]!)),
      [0, 0, 1],
      { count: 5 },
    );
    expect(nearly.standardErrors[2]).toBeGreaterThan(1e4 * Math.sqrt(variance / 10));
  });

  it("knows no error without more residuals than parameters, nor where the curve is flat or steep beyond numbers", () => {
    const exact = fitLeastSquares(
      ([a, b], out) => {
        out[0] = a! - 3;
        out[1] = b! + a! - 1;
      },
      [0, 5],
      { count: 2 },
    );
    expect([...exact.parameters]).toEqual([expect.closeTo(3, 9), expect.closeTo(-2, 9)]);
    expect([exact.standardErrors, exact.converged]).toEqual([[undefined, undefined], true]);
    expect(propagatedError(exact, ([a]) => a!)).toBeUndefined();
    const steep = fitLeastSquares(
      ([a], out) => {
        out[0] = a === 0 ? 0 : Infinity;
        out[1] = 1;
      },
      [0],
      { count: 2 },
    );
    expect([steep.standardErrors, steep.converged, steep.parameters[0]]).toEqual([[undefined], false, 0]);
    for (const value of [...steep.covariance[0]!, steep.squares]) expect(Number.isFinite(value)).toBe(true);
  });

  it("takes no step longer than it may", () => {
    const visited: number[] = [];
    const fit = fitLeastSquares(
      ([a], out) => {
        visited.push(a!);
        out[0] = a! - 5;
        out[1] = 0;
      },
      [0],
      { count: 2, maxStep: 0.5 },
    );
    expect(fit.parameters[0]).toBeCloseTo(5, 9);
    expect(fit.iterations).toBeGreaterThanOrEqual(10);
    visited.sort((one, other) => one - other);
    for (let i = 1; i < visited.length; i++) expect(visited[i]! - visited[i - 1]!).toBeLessThan(0.5001);
    const free = fitLeastSquares(
      ([a], out) => {
        out[0] = a! - 5;
        out[1] = 0;
      },
      [0],
      { count: 2 },
    );
    expect(free.iterations).toBeLessThan(8);
  });

  it("refuses what it cannot begin with", () => {
    const nothing = (): void => undefined;
    expect(() =>
      fitLeastSquares(
        (_, out) => {
          out[0] = NaN;
        },
        [1],
        { count: 1 },
      ),
    ).toThrow(/finite numbers at the start/);
    for (const options of [
      { count: 1 },
      { count: 2.5 },
      { count: 3, maxIterations: 0 },
      { count: 3, maxIterations: 10001 },
      { count: 3, maxStep: 0 },
      { count: 3, tries: 4 },
    ]) {
      expect(() => fitLeastSquares(nothing, [1, 2], options as never), JSON.stringify(options)).toThrow(
        /"count"|"maxIterations"|"maxStep"|unknown option/,
      );
    }
    for (const slope of [NaN, Infinity]) {
      expect(() =>
        fitLeastSquares(
          ([a], out) => {
            out[0] = a! - 2;
            out[1] = 1;
          },
          [1],
          {
            count: 2,
            slopes: (_, out) => {
              out[0]!.fill(slope);
            },
          },
        ),
      ).toThrowError(expect.objectContaining({ code: "undetermined" }));
    }
    expect(
      fitLeastSquares(
        (_, out) => {
          out[0] = 2;
        },
        [],
        { count: 1 },
      ).squares,
    ).toBe(4);
  });
});
