// Tests src/numeric/: wasm-instance.ts, wasm-module.ts
// Tests src/network/slopes/: fast-derivatives.ts, row-derivatives.ts, sensitivities.ts
// Tests src/network/solve/: dense.ts
// Derivatives by the adjoint method against differences of solutions of 50 digits, extrapolated to zero step (Richardson):
// their own error is below 1e-15 relative. The precise solver shares nothing with the library.
import { Decimal } from "decimal.js";
import {
  capacitor,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  network,
  resistor,
  solve,
  valueAt,
  type Entries,
} from "dividing-network";
import { sensitivities, sumObjective } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { solvePrecisely } from "../support/precise";

const twoWay = network({
  L1: [inductor(0.68e-3, { dcr: 0.3 }), "in", "w"],
  C1: [capacitor(18e-6, { esr: 0.05 }), "w", "z"],
  Rz: [resistor(0.7), "z", "gnd"],
  woofer: [resistor(5.6), "w", "gnd"],
  C2: [capacitor(8.2e-6, { dissipationFactor: 0.004 }), "in", "a"],
  L2: [inductor(0.27e-3, { dcr: 0.2 }), "a", "gnd"],
  C3: [capacitor(27e-6, { esr: 0.03 }), "a", "b"],
  R1: [resistor(1.5), "b", "t"],
  R2: [resistor(12), "b", "t"],
  R3: [resistor(22), "t", "gnd"],
  tweeter: [inductor(45e-6, { dcr: 4.8 }), "t", "gnd"],
  Rb: [resistor(150), "w", "t"],
});
const frequencies = [31, 440, 1_700, 2_300, 9_100];

type Change = (value: number) => Entries;

/** The network as a function of one value. */
function changing(part: keyof typeof twoWay, parameter: string): { readonly at: number; readonly with: Change } {
  const [kind, ...nodes] = twoWay[part] as unknown as readonly [{ kind: string } & Record<string, number>, string, string];
  return {
    at: kind[parameter]!,
    with: (value) => ({ ...twoWay, [part]: [{ ...kind, [parameter]: value }, ...nodes] }) as unknown as Entries,
  };
}

/** d/dvalue of numbers of 50 digits at zero step: central differences at three steps, extrapolated. */
function slope(at: number, f: (value: number) => readonly Decimal[]): Decimal[] {
  const size = at === 0 ? 1e-3 : at;
  const central = (step: number) => {
    const [up, down] = [at + size * step, at === 0 ? 0 : at - size * step];
    if (at === 0) throw new Error("a value of 0 has no room for a central difference");
    const [a, b] = [f(up), f(down)];
    return a.map((value, k) => value.minus(b[k]!).div(new Decimal(up).minus(down)));
  };
  let rows = [2 ** -9, 2 ** -10, 2 ** -11].map(central);
  for (let level = 1; rows.length > 1; level++)
    rows = rows.slice(1).map((row, i) => row.map((value, k) => value.plus(value.minus(rows[i]![k]!).div(4 ** level - 1))));
  return rows[0]!;
}

const VALUES = Object.entries(twoWay).flatMap(([name, [part]]) =>
  (part.kind === "resistor"
    ? ["resistance"]
    : part.kind === "inductor"
      ? ["inductance", "dcr"]
      : ["capacitance", "esr", "dissipationFactor"]
  )
    .filter((parameter) => (part as unknown as Record<string, number>)[parameter]! > 0)
    .map((parameter) => [name as keyof typeof twoWay, parameter] as const),
);

describe("derivatives", () => {
  it("of complex voltages agree with 50 digits to 1e-12 of their own size, for every value and every parasitic", () => {
    const library = sensitivities(twoWay, frequencies, { outputs: ["woofer", "t"] });
    let worst = 0;
    for (const [part, parameter] of VALUES) {
      const { at, with: change } = changing(part, parameter);
      frequencies.forEach((frequency, i) => {
        const [wr, wi, tr, ti] = slope(at, (value) => {
          const point = solvePrecisely(change(value), frequency);
          return [...point.voltage("w"), ...point.voltage("t")];
        }).map(Number) as [number, number, number, number];
        for (const [output, re, im] of [
          ["woofer", wr, wi],
          ["t", tr, ti],
        ] as const) {
          const found = library.voltage(output, part, parameter);
          worst = Math.max(worst, Math.hypot(found.re[i]! - re, found.im[i]! - im) / Math.hypot(re, im));
        }
      });
    }
    expect(worst).toBeLessThan(1e-12);
  });

  it("of the input impedance agree with 50 digits to 1e-12, and the source's own impedance has no part in them", () => {
    const library = sensitivities(twoWay, frequencies, { outputs: [], sourceImpedance: { resistance: "0.4 Ω" } });
    for (const [part, parameter] of VALUES) {
      const { at, with: change } = changing(part, parameter);
      const found = library.impedance(part, parameter);
      frequencies.forEach((frequency, i) => {
        const [re, im] = slope(at, (value) => {
          const [yr, yi] = solvePrecisely(change(value), frequency).source;
          const size = yr.times(yr).plus(yi.times(yi));
          return [yr.div(size), yi.div(size).negated()];
        }).map(Number) as [number, number];
        expect(Math.hypot(found.re[i]! - re, found.im[i]! - im) / Math.hypot(re, im)).toBeLessThan(1e-12);
      });
    }
  });

  it("of level, phase and |Z| are those of the complex ones", () => {
    const library = sensitivities(twoWay, frequencies, { outputs: ["t"] });
    const sweep = solve(twoWay, frequencies);
    frequencies.forEach((frequency, i) => {
      const [v, dv] = [valueAt(sweep.voltage("t"), frequency), valueAt(library.voltage("t", "C2"), frequency)];
      const relative = dv.div(v);
      expect(library.levelDb("t", "C2")[i]).toBeCloseTo((20 / Math.LN10) * relative.re, 6);
      expect(library.phaseDegrees("t", "C2")[i]).toBeCloseTo((180 / Math.PI) * relative.im, 5);
      const [z, dz] = [valueAt(sweep.impedance, frequency), valueAt(library.impedance("C2"), frequency)];
      expect(library.impedanceMagnitude("C2")[i]! / dz.mul(z.conjugate()).re).toBeCloseTo(1 / z.abs(), 9);
    });
  });

  it("include the source's impedance in the voltages", () => {
    const source = { resistance: 0.3, inductance: 5e-6 } as const;
    const exact = sensitivities(twoWay, frequencies, { outputs: ["t"], sourceImpedance: source });
    const joined = sensitivities(
      {
        ...Object.fromEntries(
          Object.entries(twoWay).map(([name, [part, ...nodes]]) => [
            name,
            [part, ...nodes.map((node) => (node === "in" ? "terminal" : node))],
          ]),
        ),
        Zs: [inductor(5e-6, { dcr: 0.3 }), "in", "terminal"],
      } as unknown as Entries,
      frequencies,
      { outputs: ["t"] },
    );
    for (const part of ["L1", "C3", "R3"] as const) {
      const [a, b] = [exact.voltage("t", part), joined.voltage("t", part)];
      a.re.forEach((re, i) => expect(Math.hypot(re - b.re[i]!, a.im[i]! - b.im[i]!)).toBeLessThan(1e-12 * Math.hypot(re, a.im[i]!)));
    }
  });

  it("by a driver's own values agree with differences of the closed form", () => {
    const made = (re: number): Entries => ({
      R1: [resistor(3), "in", "d"],
      d1: [driverImpedance({ re, le: "0.3 mH", fs: 70, qms: 3, qes: 0.6 }), "d", "gnd"],
    });
    const found = sensitivities(made(6), frequencies, { outputs: ["d"], vary: ["d1"] }).voltage("d", "d1", "re");
    const [up, down] = [solve(made(6 * 1.0001), frequencies).voltage("d"), solve(made(6 * 0.9999), frequencies).voltage("d")];
    frequencies.forEach((_, i) => expect((up.re[i]! - down.re[i]!) / (12 * 1e-4)).toBeCloseTo(found.re[i]!, 7));
  });

  it("are refused where they don't exist, in words", () => {
    expect(() => sensitivities(twoWay, [1000], { outputs: ["nowhere" as never] })).toThrow(/nowhere/);
    expect(() => sensitivities(twoWay, [0, 1000], { outputs: ["t"] })).toThrow(/above 0 Hz/);
    expect(() => sensitivities(twoWay, [1000], { outputs: ["t"] }).voltage("t", "L9")).toThrow(/L9/);
  });
});

describe("the objective of a weighted sum", () => {
  const grid = logGrid(200, 12_000, 60);
  const pressure = (delay: number, size: number) =>
    frequencyResponse(
      grid,
      grid.map((f) => size * Math.cos(2 * Math.PI * f * delay)),
      grid.map((f) => -size * Math.sin(2 * Math.PI * f * delay)),
    );
  const contributions = { woofer: pressure(60e-6, 0.4), tweeter: pressure(20e-6, 0.6) };
  const objective = sumObjective(twoWay, {
    frequencies: grid,
    contributions,
    target: 0.35,
    sourceImpedance: { resistance: 0.2 },
    parasitics: true,
  });
  const values = Float64Array.from(objective.variables, ({ value }) => value);

  it("is the sum over frequencies of the squared relative error of the power, solved anew by another route", () => {
    const sweep = solve(twoWay, grid, { sourceImpedance: 0.2 });
    let loss = 0;
    grid.forEach((frequency, i) => {
      const sum = ["woofer", "tweeter"].map((name) =>
        valueAt(sweep.voltage(name as "woofer"), frequency).mul(valueAt(contributions[name as "woofer"], frequency)),
      );
      loss += ((sum[0]!.add(sum[1]!).abs() / 0.35) ** 2 - 1) ** 2 / grid.length;
      void i;
    });
    expect(objective.loss(values) / loss).toBeCloseTo(1, 11);
  });

  it("has the slopes that extrapolated differences of 50 digits find, to 1e-11 of the largest relative slope", () => {
    const points = [350, 1_500, 2_600];
    const short = sumObjective(twoWay, { frequencies: points, contributions, target: 0.35, parasitics: true });
    const slopes = new Float64Array(short.variables.length);
    short.lossAndSlopes(
      short.variables.map(({ value }) => value),
      slopes,
    );
    const exact = short.variables.map(({ part, parameter, value }) =>
      value === 0
        ? undefined
        : Number(
            slope(value, (changed) => {
              const { with: change } = changing(part as keyof typeof twoWay, parameter);
              let loss = new Decimal(0);
              for (const frequency of points) {
                const point = solvePrecisely(change(changed), frequency);
                let [re, im] = [new Decimal(0), new Decimal(0)];
                for (const [name, node] of [
                  ["woofer", "w"],
                  ["tweeter", "t"],
                ] as const) {
                  const [h, [vr, vi]] = [valueAt(contributions[name], frequency), point.voltage(node)];
                  re = re.plus(vr.times(h.re)).minus(vi.times(h.im));
                  im = im.plus(vr.times(h.im)).plus(vi.times(h.re));
                }
                const error = re.times(re).plus(im.times(im)).div(new Decimal(0.35).pow(2)).minus(1);
                loss = loss.plus(error.times(error).div(points.length));
              }
              return [loss];
            })[0]!,
          ),
    );
    const largest = Math.max(...exact.map((value, k) => Math.abs((value ?? 0) * short.variables[k]!.value)));
    exact.forEach((value, k) => {
      if (value !== undefined) expect(Math.abs(slopes[k]! - value) * short.variables[k]!.value).toBeLessThan(1e-11 * largest);
    });
  });

  it("along one variable is the same loss, without a new elimination", () => {
    objective.variables.forEach(({ value }, index) => {
      const along = objective.along(values, index);
      for (const factor of [0.2, 0.9, 1, 1.3, 6]) {
        const changed = values.slice();
        changed[index] = value === 0 ? 0.01 * factor : value * factor;
        expect(along(changed[index]!) / objective.loss(changed)).toBeCloseTo(1, 9);
      }
    });
  });

  it("refuses what it can't weigh", () => {
    expect(() => sumObjective(twoWay, { frequencies: grid, contributions: { nothing: contributions.woofer }, target: 1 })).toThrow(
      /nothing/,
    );
    expect(() => sumObjective(twoWay, { frequencies: grid, contributions, target: 0 })).toThrow(/above 0/);
    expect(() => objective.loss([1, 2])).toThrow(/values/);
    expect(() => objective.loss(values.map(() => Number.NaN))).toThrow(/above 0/);
  });
});
