// Problems of the "Statistical Reference Datasets" (NIST, nonlinear regression), data and certified values from memory. Data and certified values agree with one another to
// nine digits and more, which a slip of memory wouldn't leave.
import { fitLeastSquares } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";

type Model = (b: ArrayLike<number>, x: number) => number;
interface Problem {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly model: Model;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly string[];
  readonly squares: string;
}

const monomolecular = {
  x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
  y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
};
const problems: readonly Problem[] = [
  {
    name: "Misra1a",
    ...monomolecular,
    model: (b, x) => b[0]! * (1 - Math.exp(-b[1]! * x)),
    starts: [
      [500, 1e-4],
      [250, 5e-4],
    ],
    certified: ["2.3894212918E+02", "5.5015643181E-04"],
    squares: "1.2455138894E-01",
  },
  {
    name: "Misra1b",
    ...monomolecular,
    model: (b, x) => b[0]! * (1 - (1 + (b[1]! * x) / 2) ** -2),
    starts: [
      [500, 1e-4],
      [300, 2e-4],
    ],
    certified: ["3.3799746163E+02", "3.9039091287E-04"],
    squares: "7.5464681533E-02",
  },
  {
    name: "Misra1c",
    ...monomolecular,
    model: (b, x) => b[0]! * (1 - (1 + 2 * b[1]! * x) ** -0.5),
    starts: [
      [500, 1e-4],
      [600, 2e-4],
    ],
    certified: ["6.3642725809E+02", "2.0813627256E-04"],
    squares: "4.0966836971E-02",
  },
  {
    name: "Misra1d",
    ...monomolecular,
    model: (b, x) => (b[0]! * b[1]! * x) / (1 + b[1]! * x),
    starts: [
      [500, 1e-4],
      [450, 3e-4],
    ],
    certified: ["4.3736970754E+02", "3.0227324449E-04"],
    squares: "5.6419295283E-02",
  },
  {
    name: "DanWood",
    x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
    y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
    model: (b, x) => b[0]! * x ** b[1]!,
    starts: [
      [1, 5],
      [0.7, 4],
    ],
    certified: ["7.6886226176E-01", "3.8604055871E+00"],
    squares: "4.3173084083E-03",
  },
  {
    name: "BoxBOD",
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    model: (b, x) => b[0]! * (1 - Math.exp(-b[1]! * x)),
    starts: [[100, 0.75]],
    certified: ["2.1380940889E+02", "5.4723748542E-01"],
    squares: "1.1680088766E+03",
  },
  {
    name: "MGH09",
    x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
    y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
    model: (b, x) => (b[0]! * (x * x + x * b[1]!)) / (x * x + x * b[2]! + b[3]!),
    starts: [[0.25, 0.39, 0.415, 0.39]],
    certified: ["1.9280693458E-01", "1.9128232873E-01", "1.2305650693E-01", "1.3606233068E-01"],
    squares: "3.0750560385E-04",
  },
  {
    name: "MGH10",
    x: Array.from({ length: 16 }, (_, i) => 50 + 5 * i),
    y: [34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307, 2872],
    model: (b, x) => b[0]! * Math.exp(b[1]! / (x + b[2]!)),
    starts: [[0.02, 4000, 250]],
    certified: ["5.6096364710E-03", "6.1813463463E+03", "3.4522363462E+02"],
    squares: "8.7945855171E+01",
  },
  {
    name: "Rat42",
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    model: (b, x) => b[0]! / (1 + Math.exp(b[1]! - b[2]! * x)),
    starts: [
      [100, 1, 0.1],
      [75, 2.5, 0.07],
    ],
    certified: ["7.2462237576E+01", "2.6180768402E+00", "6.7359200066E-02"],
    squares: "8.0565229338E+00",
  },
  {
    name: "Rat43",
    x: Array.from({ length: 15 }, (_, i) => i + 1),
    y: [16.08, 33.83, 65.8, 97.2, 191.55, 326.2, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56, 689.96, 637.56, 717.41],
    model: (b, x) => b[0]! / (1 + Math.exp(b[1]! - b[2]! * x)) ** (1 / b[3]!),
    starts: [[700, 5, 0.75, 1.3]],
    certified: ["6.9964151270E+02", "5.2771253025E+00", "7.5962938329E-01", "1.2792483859E+00"],
    squares: "8.7864049080E+03",
  },
];

/** Parameters as parts of the start, so that all are of order 1. */
function fit(
  { x, y, model }: Problem,
  start: readonly number[],
  bounds: { readonly lower?: readonly number[]; readonly upper?: readonly number[] } = {},
) {
  const { parameters, squares } = fitLeastSquares(
    (p, out) =>
      x.forEach(
        (at, i) =>
          (out[i] =
            model(
              p.map((value, j) => value * start[j]!),
              at,
            ) - y[i]!),
      ),
    start.map(() => 1),
    { count: x.length, maxIterations: 5000, ...bounds },
  );
  return { values: parameters.map((value, j) => value * start[j]!), squares };
}

describe("least squares on published problems", () => {
  for (const problem of problems) {
    it(`gives ${problem.name} its certified values to six digits`, () => {
      for (const start of problem.starts) {
        const { values, squares } = fit(problem, start);
        problem.certified.forEach((value, j) =>
          expect(Math.abs(values[j]! / Number(value) - 1), `${problem.name} b${j + 1} from ${start.join(", ")}`).toBeLessThan(1e-6),
        );
        expect(Math.abs(squares / Number(problem.squares) - 1)).toBeLessThan(1e-8);
      }
    });
  }

  it("gives the same within bounds that hold nothing, and ends on one that does", () => {
    for (const problem of problems) {
      const start = problem.starts[problem.starts.length - 1]!;
      const certified = problem.certified.map(Number);
      const wide = fit(problem, start, { lower: start.map(() => 0.01), upper: start.map(() => 100) });
      certified.forEach((value, j) => expect(Math.abs(wide.values[j]! / value - 1)).toBeLessThan(1e-6));
      // A first parameter that may not come nearer than half way ends there; the others are then those of the model with it held.
      const half = (start[0]! + certified[0]!) / 2;
      const kept =
        start[0]! > certified[0]!
          ? { lower: start.map((_, j) => (j === 0 ? half / start[0]! : -Infinity)) }
          : { upper: start.map((_, j) => (j === 0 ? half / start[0]! : Infinity)) };
      const bound = fit(problem, start, kept);
      expect(bound.values[0]! / half).toBeCloseTo(1, 12);
      const rest = fit({ ...problem, model: (b, x) => problem.model([half, ...Array.from(b)], x) }, start.slice(1));
      rest.values.forEach((value, j) => expect(Math.abs(bound.values[j + 1]! / value - 1), problem.name).toBeLessThan(1e-5));
    }
  });

  it("solves a linear problem in a box as its conditions of optimality say", () => {
    // Residuals A·x − b with x in 0 … 1: at a bound the slope points outwards, inside it vanishes.
    const A = Array.from({ length: 12 }, (_, i) => Array.from({ length: 5 }, (_unused, j) => Math.cos(0.7 * i * (j + 1) + j * j)));
    const b = A.map((row) => row.reduce((sum, value, j) => sum + value * [1.8, -0.6, 0.4, 0.2, 1.3][j]!, 0));
    const { parameters: x, standardErrors } = fitLeastSquares(
      (p, out) => A.forEach((row, i) => (out[i] = row.reduce((sum, value, j) => sum + value * p[j]!, 0) - b[i]!)),
      [0.5, 0.5, 0.5, 0.5, 0.5],
      { count: 12, lower: [0, 0, 0, 0, 0], upper: [1, 1, 1, 1, 1] },
    );
    const slope = x.map((_, j) =>
      A.reduce((sum, row, i) => sum + row[j]! * (row.reduce((total, value, k) => total + value * x[k]!, 0) - b[i]!), 0),
    );
    expect(x.filter((value) => value === 0 || value === 1).length).toBeGreaterThanOrEqual(2);
    x.forEach((value, j) => {
      if (value === 0) expect(slope[j]!).toBeGreaterThan(0);
      else if (value === 1) expect(slope[j]!).toBeLessThan(0);
      else expect(Math.abs(slope[j]!)).toBeLessThan(1e-7);
      expect(standardErrors[j] === undefined).toBe(value === 0 || value === 1);
    });
  });

  it("moves a start between its bounds, holds what has no room, and refuses bounds that cross or are no numbers", () => {
    const line = (options: object) =>
      fitLeastSquares(([a, b], out) => [0, 1, 2].forEach((x, i) => (out[i] = a! + b! * x - 2 * x)), [9, 9], { count: 3, ...options });
    expect([...line({ lower: [0.5, -Infinity], upper: [0.5, 7] }).parameters]).toEqual([0.5, expect.closeTo(1.7, 9)]);
    for (const options of [
      { lower: [0] },
      { upper: [NaN, 1] },
      { lower: [2, 0], upper: [1, 1] },
      { lower: "none" },
      { lower: [Infinity, 0] },
    ])
      expect(() => line(options), JSON.stringify(options)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });
});
