// Rows of docs/accuracy.md: quantities, air and copper, numeric tools, networks.
import { dissipation, drivingPointImpedance, impedanceMinimum, sensitivities, solve } from "dividing-network/network";
import {
  fft,
  interpolateLog,
  inverseRealFft,
  invertComplex,
  linearGrid,
  logGrid,
  polynomialRoots,
  realFft,
} from "dividing-network/numeric";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { airDensity, copperResistivity, pointInDirection } from "dividing-network/physics";
import { amplitudeRatio, decibels, degrees, parseQuantity, radians } from "dividing-network/quantity";
import { seeded } from "../../support/random-network";
import {
  absolute,
  D,
  largest,
  off,
  omega,
  over,
  pair,
  PI,
  plus,
  relative,
  sizeExact,
  spread,
  times,
  turned,
  type AccuracyRow,
  type Pair,
} from "./exact";

const random = (seed: number, count: number): number[] => {
  const draw = seeded(seed);
  return Array.from({ length: count }, () => 2 * draw() - 1);
};

/** The transform by its definition. */
function transformed(re: readonly number[], im: readonly number[]): readonly Pair[] {
  const n = re.length;
  const roots = Array.from({ length: n }, (_, k) => turned(PI.times(-2 * k).div(n)));
  return Array.from({ length: n }, (_, k) =>
    re.reduce<Pair>((sum, value, i) => plus(sum, times(pair(value, im[i]!), roots[(k * i) % n]!)), pair(0)),
  );
}
const largestOf = (all: readonly Pair[]) => all.reduce((most, one) => D.max(most, sizeExact(one)), new D(0));

/** 0.3 Ω and 1 mH, then 10 µF with 6 Ω across it. */
const low = { L1: [inductor(1e-3, { dcr: 0.3 }), "in", "w"], C1: [capacitor(1e-5), "w", "gnd"], R1: [resistor(6), "w", "gnd"] } as const;
const lowExact = (f: number) => {
  const coil = pair(new D(0.3), omega(f).times(1e-3));
  const shunt = over(pair(6), plus(pair(1), pair(0, omega(f).times(1e-5).times(6))));
  return { coil, shunt, input: plus(coil, shunt) };
};
const audible = spread(60, 60, 10, 40_000).sort((a, b) => a - b);

/** Rows of the floors below the response, and of the network. */
export const lowerRows: readonly AccuracyRow[] = [
  {
    name: "amplitudeRatio(db)",
    domain: "−200 to 200 dB",
    route: "10^(dB/20) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 161 }, (_, i) => 2.5 * i - 200).map((db) => relative(amplitudeRatio(db), new D(10).pow(new D(db).div(20)))),
      ),
  },
  {
    name: "decibels(ratio)",
    domain: "ratios of 1e-9 to 1e9",
    route: "20 lg in 60 digits",
    kind: "dB",
    worst: () => largest(spread(61, 200, 1e-9, 1e9).map((ratio) => absolute(decibels(ratio), D.log10(new D(ratio)).times(20)))),
  },
  {
    name: "degrees(x), radians(x)",
    domain: "1e-6 to 1e6",
    route: "180/π in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(62, 200, 1e-6, 1e6).flatMap((x) => [
          relative(degrees(x), new D(x).times(180).div(PI)),
          relative(radians(x), new D(x).times(PI).div(180)),
        ]),
      ),
  },
  {
    name: "parseQuantity(text, unit)",
    domain: "1 pF to 1 F, written with each prefix in 12 digits",
    route: "the digits and the power of ten in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(63, 60, 1, 999).flatMap((x) =>
          (
            [
              ["p", -12],
              ["n", -9],
              ["µ", -6],
              ["m", -3],
              ["", 0],
            ] as const
          ).map(([prefix, power]) => {
            const digits = x.toPrecision(12);
            return relative(parseQuantity(`${digits} ${prefix}F`, "F"), new D(digits).times(new D(10).pow(power)));
          }),
        ),
      ),
  },
  {
    name: "airDensity({ temperature, pressure })",
    domain: "−50 to 70 °C, 50 to 110 kPa, dry",
    route: "p/(R T) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 25 }, (_, i) => 5 * i - 50).flatMap((t) =>
          [5e4, 101_325, 1.1e5].map((p) =>
            relative(airDensity({ temperature: t, pressure: p }), new D(p).div(new D("287.058").times(new D(t).plus("273.15")))),
          ),
        ),
      ),
  },
  {
    name: "copperResistivity({ temperature })",
    domain: "−50 to 200 °C",
    route: "its straight line in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 51 }, (_, i) => 5 * i - 50).map((t) =>
          relative(copperResistivity({ temperature: t }), new D(t).minus(20).times("0.00393").plus(1).div(58).times("1e-6")),
        ),
      ),
  },
  {
    name: "pointInDirection({ azimuth, elevation }, distance)",
    domain: "all directions in steps of 15°",
    route: "sines and cosines in 60 digits",
    kind: "of the distance",
    worst: () =>
      largest(
        Array.from({ length: 24 }, (_, i) => 15 * i - 180).flatMap((azimuth) =>
          Array.from({ length: 13 }, (_, i) => 15 * i - 90).flatMap((elevation) => {
            const [[ca, sa], [ce, se]] = [azimuth, elevation].map((angle) => turned(PI.times(angle).div(180))) as [Pair, Pair];
            const exact = [ca.times(ce), sa.times(ce), se];
            return pointInDirection({ azimuth, elevation }, 2).map((value, k) => absolute(value / 2, exact[k]!));
          }),
        ),
      ),
  },
  {
    name: "fft(re, im)",
    domain: "random numbers, lengths 16, 30 and 37",
    route: "the sum that defines it, 60 digits",
    kind: "of the largest value",
    worst: () =>
      largest(
        [16, 30, 37].flatMap((n) => {
          const [re, im] = [random(n, n), random(n + 1, n)];
          const [ours, exact] = [fft(re, im), transformed(re, im)];
          const size = largestOf(exact);
          return exact.map((value, k) => off(ours.re[k]!, ours.im[k]!, value, size));
        }),
      ),
  },
  {
    name: "realFft(samples), inverseRealFft(…)",
    domain: "random numbers, lengths 16, 30 and 37, and back again",
    route: "the sum that defines it, 60 digits; the samples",
    kind: "of the largest value",
    worst: () =>
      largest(
        [16, 30, 37].flatMap((n) => {
          const samples = random(n, n);
          const ours = realFft(samples);
          const exact = transformed(
            samples,
            samples.map(() => 0),
          );
          const size = largestOf(exact);
          const back = inverseRealFft(ours.re, ours.im, n);
          return [
            ...Array.from(ours.re, (value, k) => off(value, ours.im[k]!, exact[k]!, size)),
            ...samples.map((value, i) => Math.abs(back[i]! - value)),
          ];
        }),
      ),
  },
  {
    name: "interpolateLog(frequencies, values, targets)",
    domain: "a wave of one decade's length, 24 points to the octave",
    route: "the wave itself",
    kind: "of its height",
    worst: () => {
      const wave = (f: number) => Math.sin(2 * Math.PI * Math.log10(f));
      const grid = Array.from({ length: 241 }, (_, i) => 20 * 2 ** (i / 24));
      const targets = grid.slice(0, -1).map((f, i) => Math.sqrt(f * grid[i + 1]!));
      const ours = interpolateLog(grid, grid.map(wave), targets);
      return largest(targets.map((f, i) => Math.abs(ours[i]! - wave(f))));
    },
  },
  {
    name: "invertComplex(re, im, n)",
    domain: "random matrices of 2, 5 and 9 rows",
    route: "the product with the matrix, 60 digits",
    kind: "off the unit matrix",
    worst: () =>
      largest(
        [2, 5, 9].flatMap((n) => {
          const [a, b] = [random(70 + n, n * n), random(80 + n, n * n)];
          const [re, im] = [Float64Array.from(a), Float64Array.from(b)];
          invertComplex(re, im, n);
          return Array.from({ length: n * n }, (_, index) => {
            const [row, column] = [Math.floor(index / n), index % n];
            let sum = pair(row === column ? -1 : 0);
            for (let k = 0; k < n; k++)
              sum = plus(sum, times(pair(a[row * n + k]!, b[row * n + k]!), pair(re[k * n + column]!, im[k * n + column]!)));
            return sizeExact(sum).toNumber();
          });
        }),
      ),
  },
  {
    name: "logGrid(from, to, points), linearGrid(…)",
    domain: "20 Hz to 20 kHz, 481 points",
    route: "powers and sums in 60 digits",
    kind: "relative",
    worst: () =>
      largest([
        ...Array.from(logGrid(20, 20_000, 481), (f, i) => relative(f, new D(1000).pow(new D(i).div(480)).times(20))),
        ...Array.from(linearGrid(20, 20_000, 481), (f, i) => relative(f, new D(19_980).times(i).div(480).plus(20))),
      ]),
  },
  {
    name: "polynomialRoots(coefficients)",
    domain: "Chebyshev polynomials of degree 2 to 10",
    route: "cos((2k − 1)π/2n) in 60 digits",
    kind: "absolute",
    worst: () =>
      largest(
        Array.from({ length: 9 }, (_, i) => i + 2).flatMap((n) => {
          let [before, now] = [[1], [1, 0]];
          for (let k = 1; k < n; k++) {
            const next = [...now.map((value) => 2 * value), 0];
            before.forEach((value, i) => (next[i + 2] = next[i + 2]! - value));
            [before, now] = [now, next];
          }
          const exact = Array.from({ length: n }, (_, k) => D.cos(PI.times(2 * k + 1).div(2 * n)));
          return polynomialRoots(now).map(({ re, im }) => Math.min(...exact.map((root) => D.hypot(new D(re).minus(root), im).toNumber())));
        }),
      ),
  },
  {
    name: "drivingPointImpedance(network, nodes, f)",
    domain: "a coil, a capacitor and a resistor, 10 Hz to 40 kHz, at the input and at the load",
    route: "the closed form in 60 digits",
    kind: "relative",
    worst: () => {
      const input = drivingPointImpedance(low, { from: "in" }, audible, { sourceImpedance: 1e9 });
      const load = drivingPointImpedance(low, { from: "w" }, audible);
      return largest(
        audible.flatMap((f, i) => {
          const { coil, shunt, input: exact } = lowExact(f);
          const seen = over(times(coil, shunt), plus(coil, shunt));
          return [
            Math.hypot(load.re[i]!, load.im[i]!) === 0 ? 1 : off(load.re[i]!, load.im[i]!, seen),
            off(input.re[i]!, input.im[i]!, over(times(exact, pair(1e9)), plus(exact, pair(1e9)))),
          ];
        }),
      );
    },
  },
  {
    name: "dissipation(sweep, { voltage })",
    domain: "the same three parts at 2.83 V",
    route: "|I|²R and |V|²/R in 60 digits",
    kind: "relative",
    worst: () => {
      const { power } = dissipation(solve(low, audible), { voltage: 2.83 });
      return largest(
        audible.flatMap((f, i) => {
          const { shunt, input } = lowExact(f);
          const square = new D(2.83).pow(2).div(sizeExact(input).pow(2));
          return [relative(power.L1[i]!, square.times(0.3)), relative(power.R1[i]!, square.times(sizeExact(shunt).pow(2)).div(6))];
        }),
      );
    },
  },
  {
    name: "sensitivities(network, f, { outputs })",
    domain: "the same three parts: the load's voltage by resistor and capacitor",
    route: "the derivative in closed form, 60 digits",
    kind: "of V over the value",
    worst: () => {
      const slopes = sensitivities(low, audible, { outputs: ["w"] });
      return largest(
        audible.flatMap((f, i) => {
          const { coil, shunt, input } = lowExact(f);
          const v = over(shunt, input);
          // With y the admittance of the shunt, V = 1/(1 + Z y), so that dV = −Z V² dy.
          const by = (dy: Pair, value: number, name: "R1" | "C1"): number => {
            const exact = times(times(coil, times(v, v)), times(dy, pair(-1)));
            const got = slopes.voltage("w", name);
            return off(got.re[i]!, got.im[i]!, exact, sizeExact(v).div(value));
          };
          return [by(pair(new D(-1).div(36)), 6, "R1"), by(pair(0, omega(f)), 1e-5, "C1")];
        }),
      );
    },
  },
  {
    name: "impedanceMinimum(impedance)",
    domain: "4 Ω, 1 mH and 10 µF in series, 48 points to the octave",
    route: "the resistance at the resonance",
    kind: "relative",
    worst: () => {
      const trap = { L1: [inductor(1e-3, { dcr: 4 }), "in", "a"], C1: [capacitor(1e-5), "a", "gnd"] } as const;
      const found = impedanceMinimum(solve(trap, logGrid(20, 20_000, 480)));
      return Math.abs(found.magnitude / 4 - 1);
    },
  },
];
