// Tests src/design/: constrained-fit.ts, fit-constraints.ts, fit-problem.ts, fit-sweeps.ts, fit-variables.ts, heard-levels.ts, limits.ts
// Tests src/design/: many-starts.ts, moving-branch.ts, moving-value.ts, stamp.ts
// The fit's own solver against the general one, and its slopes against differences of values; the search of a box on functions whose minima are known.
// Functions: Moré, Garbow and Hillstrom (1981), from memory; their minima are checked here by inserting them.
import { capacitor, logGrid, resistor, type Entries } from "dividing-network";
import { compile } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { sourceResponse } from "../../src/network/internal";
import { constrainedFit, type ConstrainedProblem } from "../../src/design/constrained-fit";
import { fitProblem } from "../../src/design/fit-problem";
import { fitSolver, type FitSolver } from "../../src/design/fit-solver";
import { fitSweeps } from "../../src/design/fit-sweeps";
import { fitVariables } from "../../src/design/fit-variables";
import { withValues, type MovingValue } from "../../src/design/moving-value";
import { heardLevels } from "../../src/design/heard-levels";
import { limitsOf } from "../../src/design/limits";
import { bestOfStarts } from "../../src/design/many-starts";
import { goal, lossOf } from "dividing-network/assessment";
import { drawn, monitor, numbers } from "../support/two-way";

const frequencies = logGrid(60, 15_000, 40);
const inParallel = { ...drawn, C9: [capacitor(20e-6, { esr: 0.1 }), "in", "q"], R9: [resistor(3), "q", "gnd"] } as unknown as Entries;
/** Both drivers one after the other, each with parts across. */
const inSeries = {
  C1: [capacitor(20e-6), "in", "m"],
  R1: [resistor(8), "in", "m"],
  L1: drawn.L1.slice(0, 1).concat(["in", "m"] as never[]),
  woofer: [drawn.woofer[0], "in", "m"],
  C2: [capacitor(5e-6), "m", "t"],
  L2: [drawn.L2[0], "t", "gnd"],
  tweeter: [drawn.tweeter[0], "gnd", "t"],
  R2: [resistor(50), "m", "gnd"],
} as unknown as Entries;

describe("the solver of a fit", () => {
  it("gives what the general solver gives, and slopes that are its differences, behind a source as well", () => {
    for (const [network, source] of [
      [inParallel, undefined],
      [inParallel, { resistance: 0.7, inductance: 20e-6 }],
      [inSeries, 0.3],
    ] as const) {
      const box = monitor(network, source);
      const variables = fitVariables("test", box, undefined, (l) => 350 * l ** 0.9);
      // Parts, and a node against gnd.
      const watched = ["woofer", "tweeter", network === inSeries ? "m" : "q"];
      const [own, general] = [
        fitSolver(network, variables, watched, frequencies, sourceResponse("test", source, frequencies))!,
        fitSweeps("test", network, variables, watched, frequencies, source),
      ];
      const next = numbers(3);
      for (let round = 0; round < 3; round++) {
        const x = Float64Array.from(variables, ({ drawn: value }) => Math.log(value) + next() - 0.5);
        expect(own.differentiate(x) && general.differentiate(x)).toBe(true);
        const sweep = compile<Entries>(withValues(network, variables, x)).sweep(
          frequencies,
          source === undefined ? {} : { sourceImpedance: source },
        );
        const close = (a: ArrayLike<number>, b: ArrayLike<number>, scale: number) =>
          Array.from(a).forEach((value, i) => expect(Math.abs(value - b[i]!)).toBeLessThan(scale));
        watched.forEach((part, w) => {
          close(own.solved.voltages[w]!.re, sweep.voltage(part).re, 1e-11);
          close(own.solved.voltages[w]!.im, sweep.voltage(part).im, 1e-11);
        });
        close(own.solved.impedance.im, sweep.impedance.im, 1e-8);
        const take = (solver: FitSolver, v: number) =>
          [...solver.moved[v]!.voltages, solver.moved[v]!.impedance].map(({ re, im }) => [re.slice(), im.slice()]);
        variables.forEach((_, v) => {
          const [a, b] = [take(own, v), take(general, v)];
          a.forEach((pair, i) => pair.forEach((values, j) => close(values, b[i]![j]!, 1e-7 * (1 + Math.max(...values.map(Math.abs))))));
          const at = (by: number) => {
            own.solve(x.map((value, i) => (i === v ? value + by : value)));
            return own.solved.voltages.map(({ re }) => re.slice());
          };
          const [ahead, behind] = [at(1e-5), at(-1e-5)];
          ahead.forEach((values, w) =>
            close(
              values.map((value, f) => (value - behind[w]![f]!) / 2e-5),
              a[w]![0]!,
              1e-7,
            ),
          );
          own.differentiate(x);
        });
      }
    }
  });

  it("knows one value of a part, and names of the network alone: the rest is the general solver's", () => {
    const [one] = fitVariables("test", monitor(inParallel), ["L1"], undefined);
    const dcr = { ...one!, parameter: "dcr", drawn: 0.25 };
    const made = (values: readonly MovingValue[], watched: string) => fitSolver(inParallel, values, [watched], frequencies, undefined);
    expect(made([one!], "in")!.solve(Float64Array.of(-7))).toBe(true);
    expect([made([one!, dcr], "w"), made([one!], "tweetr"), made([{ ...one!, parameter: "k" }], "w")]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });

  it("has slopes of all residuals and limits that are differences of them", () => {
    const box = monitor(inParallel, 0.2);
    const aim = goal({
      places: [{ weight: 2 }, { azimuth: 20, levelDb: 80 }, { azimuth: -20 }],
      amplifier: { smallestImpedance: 5, smallestPeakDissipationResistance: 3 },
      leastLevelDb: 84,
      damping: { largestSourceResistance: 0.4 },
    });
    const variables = fitVariables("test", box, undefined, (l) => 350 * l);
    const problem = fitProblem(
      "test",
      box,
      aim,
      variables,
      limitsOf("test", box, aim, undefined),
      heardLevels(box, aim, lossOf(box, aim), 60),
      1,
      true,
    );
    expect(problem.constraints).toBeGreaterThan(100);
    const x = Float64Array.from(variables, ({ drawn: value }, v) => Math.log(value) + 0.1 * Math.sin(v));
    const made = (size: number) => variables.map(() => new Float64Array(size));
    const [slopes, constraintSlopes] = [made(problem.residuals), made(problem.constraints)];
    problem.slopes(x, slopes, constraintSlopes);
    const at = (v: number, by: number) => {
      const [r, c] = [new Float64Array(problem.residuals), new Float64Array(problem.constraints)];
      problem.values(
        x.map((value, i) => (i === v ? value + by : value)),
        r,
        c,
      );
      return [...r, ...c];
    };
    variables.forEach((_, v) => {
      const [ahead, behind] = [at(v, 1e-5), at(v, -1e-5)];
      [...slopes[v]!, ...constraintSlopes[v]!].forEach((value, i) =>
        expect(Math.abs(value - (ahead[i]! - behind[i]!) / 2e-5)).toBeLessThan(1e-5),
      );
    });
  });
});

/** A problem of residuals alone, slopes by differences. */
function box(
  residuals: (x: ArrayLike<number>) => number[],
  lower: number[],
  upper: number[],
  constraints: (x: ArrayLike<number>) => number[] = () => [],
): ConstrainedProblem {
  const both = (x: ArrayLike<number>) => [residuals(x), constraints(x)] as const;
  const [m, k] = both(lower).map(({ length }) => length) as [number, number];
  return {
    residuals: m,
    constraints: k,
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    values(x, out, kept) {
      out.set(residuals(x));
      kept.set(constraints(x));
    },
    slopes(x, out, kept) {
      x.forEach((value, j) => {
        const h = 1e-6 * (1 + Math.abs(value));
        const [a, b] = [both(x.map((each, i) => (i === j ? each + h : each))), both(x.map((each, i) => (i === j ? each - h : each)))];
        out[j]!.set(a[0].map((each, i) => (each - b[0][i]!) / (2 * h)));
        kept[j]!.set(a[1].map((each, i) => (each - b[1][i]!) / (2 * h)));
      });
    },
  };
}

const of = (f: (a: number, b: number, c: number, d: number) => number[]) => (x: ArrayLike<number>) => f(x[0]!, x[1]!, x[2]!, x[3]!);

describe("the search of a box", () => {
  const functions: readonly {
    readonly name: string;
    readonly residuals: (x: ArrayLike<number>) => number[];
    readonly box: readonly [number, number];
    readonly start: readonly number[];
    readonly minimum: readonly number[] | undefined;
    readonly starts?: number;
  }[] = [
    { name: "Rosenbrock", residuals: of((a, b) => [10 * (b - a ** 2), 1 - a]), box: [-5, 5], start: [-1.2, 1], minimum: [1, 1] },
    {
      name: "Freudenstein and Roth, whose other valley ends at 48.98",
      residuals: of((a, b) => [-13 + a + ((5 - b) * b - 2) * b, -29 + a + ((b + 1) * b - 14) * b]),
      box: [-20, 20],
      start: [0.5, -2],
      minimum: [5, 4],
    },
    {
      name: "Powell's singular function",
      residuals: of((a, b, c, d) => [a + 10 * b, Math.sqrt(5) * (c - d), (b - 2 * c) ** 2, Math.sqrt(10) * (a - d) ** 2]),
      box: [-5, 5],
      start: [3, -1, 0, 1],
      minimum: [0, 0, 0, 0],
    },
    {
      name: "Beale",
      residuals: of((a, b) => [1.5, 2.25, 2.625].map((y, i) => y - a * (1 - b ** (i + 1)))),
      box: [-4.5, 4.5],
      start: [1, 1],
      minimum: [3, 0.5],
    },
    {
      name: "helical valley",
      residuals: of((a, b, c) => [10 * (c - (10 * Math.atan2(b, a)) / (2 * Math.PI)), 10 * (Math.hypot(a, b) - 1), c]),
      box: [-4, 4],
      start: [-1, 0.1, 0],
      minimum: [1, 0, 0],
    },
    {
      name: "Wood",
      residuals: of((a, b, c, d) => [
        10 * (b - a ** 2),
        1 - a,
        Math.sqrt(90) * (d - c ** 2),
        1 - c,
        Math.sqrt(10) * (b + d - 2),
        (b - d) / Math.sqrt(10),
      ]),
      box: [-5, 5],
      start: [-3, -1, -3, -1],
      minimum: [1, 1, 1, 1],
    },
    {
      name: "Rastrigin in two dimensions, with a valley at every whole number",
      residuals: (x) => Array.from(x).flatMap((value) => [value, Math.sqrt(20) * Math.sin(Math.PI * value)]),
      box: [-4.3, 5.12],
      start: [3, -2],
      minimum: [0, 0],
      starts: 600,
    },
  ];
  for (const {
    name,
    residuals,
    box: [from, to],
    start,
    minimum,
    starts = 24,
  } of functions) {
    it(`finds the least of ${name}`, async () => {
      const problem = box(
        residuals,
        start.map(() => from),
        start.map(() => to),
      );
      expect(residuals(minimum!).reduce((sum, value) => sum + value * value, 0)).toBeLessThan(1e-25);
      for (const seed of [1, 2, 3]) {
        const found = await bestOfStarts(problem, problem, Float64Array.from(start), starts, seed, () => undefined);
        expect(found!.best.squares, `seed ${seed}`).toBeLessThan(1e-10);
        // Powell's function is flat of fourth order.
        minimum!.forEach((value, i) =>
          expect(Math.abs(found!.best.parameters[i]! - value)).toBeLessThan(name.startsWith("Powell") ? 0.01 : 1e-5),
        );
      }
    });
  }

  it("keeps constraints as their conditions of optimality say", () => {
    // The nearest point of a disc, and of a corner, to a point outside, in closed form.
    const disc = constrainedFit(
      box(
        of((a, b) => [a - 3, b - 4]),
        [-9, -9],
        [9, 9],
        of((a, b) => [Math.log(Math.hypot(a, b) / 2)]),
      ),
      [0.1, 0.1],
      100,
    )!;
    expect([...disc.parameters]).toEqual([expect.closeTo(1.2, 6), expect.closeTo(1.6, 6)]);
    expect(disc.worst).toBeLessThanOrEqual(0);
    const corner = constrainedFit(
      box(
        of((a, b) => [a - 3, 2 * (b - 4)]),
        [-9, -9],
        [9, 9],
        of((a, b) => [a - 1, b - 1, -a - b]),
      ),
      [-1, 5],
      100,
    )!;
    expect([...corner.parameters]).toEqual([expect.closeTo(1, 6), expect.closeTo(1, 6)]);
    const idle = constrainedFit(
      box(
        of((a) => [a - 3]),
        [-9],
        [9],
        of((a) => [a - 5]),
      ),
      [0],
      100,
    )!;
    expect(idle.parameters[0]).toBeCloseTo(3, 9);
    const none = constrainedFit(
      box(
        of((a) => [a - 3]),
        [-9],
        [9],
        of((a) => [a - 1, 2 - a]),
      ),
      [0],
      100,
    )!;
    expect(none.worst).toBeGreaterThan(0.4);
  });
});
