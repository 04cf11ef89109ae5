// Rows of docs/accuracy.md: filters, crossovers, attenuators, and what is judged of them.
import { handover, sensitivityLevels, smoothness } from "dividing-network/assessment";
import {
  allPassFilter,
  allPole,
  attenuator,
  baffleStep,
  bandPass,
  bessel,
  breakupTrap,
  butterworth,
  cascade,
  conjugateNetwork,
  criticallyDamped,
  crossover,
  crossoverSum,
  delayDerived,
  groupDelayOf,
  highPass,
  ladder,
  ladderImpedance,
  legendrePapoulis,
  linkwitzRiley,
  lowPass,
  parallelTrap,
  polynomialsOf,
  seriesAttenuator,
  shuntAttenuator,
  shuntNotch,
  stepResponseOf,
  subtractive,
  sumOf,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { frequencyResponse, responseOf } from "dividing-network/response";
import {
  absolute,
  butterworthSize,
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
  type Exact,
  type Pair,
} from "./exact";

const grid = logGrid(100, 10_000, 41);
const sizeAt = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }, i: number) => Math.hypot(re[i]!, im[i]!);
/** A polynomial, highest power first, at a point. */
const at = (coefficients: readonly (Exact | number)[], s: Pair): Pair =>
  coefficients.reduce<Pair>((sum, value) => plus(times(sum, s), pair(value)), pair(0));
/** Bessel's reverse polynomial, highest power first. */
const besselPolynomial = (n: number): Exact[] => {
  const factorial = (k: number): Exact => Array.from({ length: k }, (_, i) => i + 1).reduce((all, i) => all.times(i), new D(1));
  return Array.from({ length: n + 1 }, (_, i) => {
    const k = n - i;
    return factorial(2 * n - k).div(
      new D(2)
        .pow(n - k)
        .times(factorial(k))
        .times(factorial(n - k)),
    );
  });
};
/** L_n(ω²) of Legendre and Papoulis, lowest power of ω² first. */
const PAPOULIS: Readonly<Record<number, readonly number[]>> = { 2: [0, 0, 1], 3: [0, 1, -3, 3], 4: [0, 0, 3, -8, 6] };
const factor = (db: number): Exact => new D(10).pow(new D(db).div(20));
const parallel = (a: Exact, b: Exact): Exact => a.times(b).div(a.plus(b));

/** Rows of the alignments' floor, and of the numbers that the assessment takes from responses. */
export const alignmentRows: readonly AccuracyRow[] = [
  {
    name: 'responseOf(lowPass(bessel(n, { normalization: "delay" }), f), …)',
    domain: "orders 1 to 8, two decades about the corner",
    route: "Bessel's reverse polynomials in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [1, 2, 3, 4, 6, 8].flatMap((n) => {
          const response = responseOf(lowPass(bessel(n, { normalization: "delay" }), 1000), grid);
          const polynomial = besselPolynomial(n);
          return Array.from(grid, (f, i) =>
            off(response.re[i]!, response.im[i]!, over(pair(polynomial.at(-1)!), at(polynomial, pair(0, new D(f).div(1000))))),
          );
        }),
      ),
  },
  {
    name: "responseOf(lowPass(legendrePapoulis(n), f), …)",
    domain: "orders 2, 3 and 4, two decades about the corner",
    route: "|H| from the published polynomials, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [2, 3, 4].flatMap((n) => {
          const response = responseOf(lowPass(legendrePapoulis(n), 1000), grid);
          return Array.from(grid, (f, i) => {
            const square = new D(f).div(1000).pow(2);
            const sum = PAPOULIS[n]!.reduce((all, value, k) => all.plus(square.pow(k).times(value)), new D(1));
            return relative(sizeAt(response, i), new D(1).div(D.sqrt(sum)));
          });
        }),
      ),
  },
  {
    name: "responseOf(lowPass(criticallyDamped(n), f), …)",
    domain: "orders 1 to 6, two decades about the corner",
    route: "(1 + a²ω²)^(−n/2) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [1, 2, 3, 4, 6].flatMap((n) => {
          const response = responseOf(lowPass(criticallyDamped(n, { normalization: "half-power" }), 1000), grid);
          const square = new D(2).pow(new D(1).div(n)).minus(1);
          return Array.from(grid, (f, i) =>
            relative(sizeAt(response, i), square.times(new D(f).div(1000).pow(2)).plus(1).pow(new D(-n).div(2))),
          );
        }),
      ),
  },
  {
    name: "responseOf(lowPass(allPole({ denominator }), f), …)",
    domain: "denominators 1 + 1.3s + 0.7s² + 0.2s³ and three more",
    route: "the polynomial in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [
          [0.2, 0.7, 1.3, 1],
          [1, 1.2, 1],
          [0.5, 1],
          [1, 2, 4, 3, 1],
        ].flatMap((denominator) => {
          const response = responseOf(lowPass(allPole({ denominator }), 1000), grid);
          return Array.from(grid, (f, i) =>
            off(response.re[i]!, response.im[i]!, over(pair(denominator.at(-1)!), at(denominator, pair(0, new D(f).div(1000))))),
          );
        }),
      ),
  },
  {
    name: "responseOf(highPass(butterworth(n), f), …), cascade(…)",
    domain: "orders 1 to 8, two decades about the corner, and two of them in a row",
    route: "|H| in closed form, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [1, 2, 3, 4, 6, 8].flatMap((n) => {
          const high = highPass(butterworth(n), 1000);
          const [once, twice] = [responseOf(high, grid), responseOf(cascade(high, high), grid)];
          return Array.from(grid, (f, i) => {
            const exact = butterworthSize(n, new D(1000).div(f));
            return Math.max(relative(sizeAt(once, i), exact), relative(sizeAt(twice, i), exact.pow(2)));
          });
        }),
      ),
  },
  {
    name: "responseOf(bandPass(butterworth(n), { from, to }), …)",
    domain: "orders 1 to 3, 500 Hz to 2 kHz",
    route: "|H| of the low-pass at (f² − f₁f₂)/f(f₂ − f₁), 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [1, 2, 3].flatMap((n) => {
          const response = responseOf(bandPass(butterworth(n), { from: 500, to: 2000 }), grid);
          return Array.from(grid, (f, i) =>
            relative(sizeAt(response, i), butterworthSize(n, new D(f).pow(2).minus(1e6).div(new D(f).times(1500)))),
          );
        }),
      ),
  },
  {
    name: "responseOf(allPassFilter({ frequency, q }), …)",
    domain: "Q of 0.5 to 5, two decades about the frequency",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [0.5, 0.71, 2, 5].flatMap((q) => {
          const response = responseOf(allPassFilter({ frequency: 1000, q }), grid);
          return Array.from(grid, (f, i) => {
            const x = new D(f).div(1000);
            const real = new D(1).minus(x.pow(2));
            return off(response.re[i]!, response.im[i]!, over(pair(real, x.div(q).neg()), pair(real, x.div(q))));
          });
        }),
      ),
  },
  {
    name: "responseOf(subtractive(filter), …)",
    domain: "1 − a high-pass of second order",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () => {
      const response = responseOf(subtractive(highPass(butterworth(2), 1000)), grid);
      return largest(
        Array.from(grid, (f, i) => {
          const x = new D(f).div(1000);
          return off(
            response.re[i]!,
            response.im[i]!,
            over(pair(1, x.times(D.sqrt(2))), pair(new D(1).minus(x.pow(2)), x.times(D.sqrt(2)))),
          );
        }),
      );
    },
  },
  {
    name: "delayDerived(prototype, { frequency })",
    domain: "Bessel of order 4: both ways together",
    route: "e^(−jωT) in 60 digits",
    kind: "absolute",
    worst: () => {
      const made = delayDerived(bessel(4), { frequency: 1000 });
      const [low, high] = [responseOf(made.lowPass, grid), made.highPass(grid)];
      return largest(
        Array.from(grid, (f, i) => off(low.re[i]! + high.re[i]!, low.im[i]! + high.im[i]!, turned(omega(f).times(made.delay).neg()))),
      );
    },
  },
  {
    name: "groupDelayOf(filter, f)",
    domain: "a low-pass of second order, two decades about the corner",
    route: "−dφ/dω in closed form, 60 digits",
    kind: "relative",
    worst: () => {
      const delay = groupDelayOf(lowPass(butterworth(2), 1000), grid);
      return largest(
        Array.from(grid, (f, i) => {
          const square = new D(f).div(1000).pow(2);
          return relative(delay[i]!, D.sqrt(2).times(square.plus(1)).div(square.pow(2).plus(1)).div(omega(1000)));
        }),
      );
    },
  },
  {
    name: "stepResponseOf(filter, times)",
    domain: "a low-pass of second order, 0 to 5 ms",
    route: "1 − e^(−x)(cos x + sin x) in 60 digits",
    kind: "absolute",
    worst: () => {
      const instants = Array.from({ length: 51 }, (_, i) => 1e-4 * i);
      const ours = stepResponseOf(lowPass(butterworth(2), 1000), instants);
      return largest(
        instants.map((time, i) => {
          const x = omega(1000).times(time).div(D.sqrt(2));
          return absolute(ours[i]!, new D(1).minus(D.exp(x.neg()).times(D.cos(x).plus(D.sin(x)))));
        }),
      );
    },
  },
  {
    name: "polynomialsOf(butterworth(n)).denominator",
    domain: "orders 1 to 10",
    route: "products of cos/sin in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 10 }, (_, i) => i + 1).flatMap((n) => {
          const gamma = PI.div(2 * n);
          let value = new D(1);
          return polynomialsOf(butterworth(n)).denominator.map((coefficient, k) => {
            if (k > 0) value = value.times(D.cos(gamma.times(k - 1)).div(D.sin(gamma.times(k))));
            return relative(coefficient, value);
          });
        }),
      ),
  },
  {
    name: "crossoverSum(crossover({ … }), f), sumOf(ways, f)",
    domain: "fourth order of Linkwitz and Riley: the sum of both ways",
    route: "0 dB at all frequencies",
    kind: "dB",
    worst: () => {
      const pairOf = crossover({ family: "linkwitz-riley", order: 4, frequency: 1000, load: 8 });
      const ways = [{ transfer: lowPass(linkwitzRiley(4), 1000) }, { transfer: highPass(linkwitzRiley(4), 1000) }];
      return Math.max(
        largest(Array.from(crossoverSum(pairOf, grid).levelDb, Math.abs)),
        largest(Array.from(sumOf(ways, grid).levelDb, Math.abs)),
      );
    },
  },
  {
    name: "ladder(prototype, { … }), ladderImpedance(ladder, f)",
    domain: "a low-pass of first and third order at 8 Ω, two decades about the corner",
    route: "the continued fraction of its published values, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        ([[1], [1.5, 4 / 3, 0.5]] as const).flatMap((values) => {
          const made = ladderImpedance(ladder(butterworth(values.length), { pass: "low", frequency: 1000, load: 8 }), grid);
          return Array.from(grid, (f, i) => {
            const x = new D(f).div(1000);
            let z: Pair = pair(1);
            for (let k = values.length - 1; k >= 0; k--) {
              const g = k === 1 ? new D(4).div(3) : new D(values[k]!);
              z = k % 2 === 0 ? plus(z, pair(0, x.times(g))) : over(pair(1), plus(over(pair(1), z), pair(0, x.times(g))));
            }
            return off(made.re[i]!, made.im[i]!, times(pair(8), z));
          });
        }),
      ),
  },
  {
    name: "attenuator({ … }), seriesAttenuator({ … }), shuntAttenuator({ … })",
    domain: "0.1 to 40 dB at 8 Ω",
    route: "their formulas in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(100, 60, 0.1, 40).flatMap((db) => {
          const k = factor(db);
          const { rs, rp } = attenuator({ attenuationDb: db, load: 8 });
          return [
            relative(rs, k.minus(1).div(k).times(8)),
            relative(rp!, new D(8).div(k.minus(1))),
            relative(seriesAttenuator({ attenuationDb: db, load: 8 }).rs, k.minus(1).times(8)),
            relative(shuntAttenuator({ attenuationDb: db, load: 8, sourceResistance: 2 }).rp, new D(16).div(k.minus(1).times(10))),
          ];
        }),
      ),
  },
  {
    name: "parallelTrap({ … }), breakupTrap({ … }), shuntNotch({ … }), baffleStep({ … })",
    domain: "1 to 20 dB at 8 Ω: what is left at the middle of trap and notch, and far from the step",
    route: "the divider in 60 digits",
    kind: "relative, of the voltage",
    worst: () =>
      largest(
        spread(101, 40, 1, 20).flatMap((db) => {
          const k = factor(db);
          const wanted = new D(1).div(k);
          const trap = parallelTrap({ depthDb: db, frequency: 1000, bandwidth: 500, load: 8 });
          const notch = shuntNotch({ depthDb: db, frequency: 1000, bandwidth: 500, load: 8, sourceResistance: 2 });
          const step = baffleStep({ stepDb: db, frequency: 500, load: 8 });
          const peak = breakupTrap({ peakDb: db, frequency: 5000, q: 5, load: 8 });
          const left = (r: number) => new D(8).div(new D(8).plus(r));
          const shunted = parallel(new D(8), new D(notch.r));
          return [
            relative(1, left(trap.r).div(wanted)),
            relative(1, left(step.r).div(wanted)),
            relative(1, left(peak.r).div(wanted)),
            relative(1, shunted.div(shunted.plus(2)).div(new D(8).div(10)).div(wanted)),
            relative(trap.l * trap.c, new D(1).div(omega(1000).pow(2))),
            relative(notch.l * notch.c, new D(1).div(omega(1000).pow(2))),
          ];
        }),
      ),
  },
  {
    name: "conjugateNetwork({ re, le, fs, qms, qes })",
    domain: "beside its driver, 5 Hz to 20 kHz",
    route: "the resistance that both must make, 60 digits",
    kind: "relative",
    worst: () => {
      const driver = { re: 5.6, le: 4e-4, fs: 47, qms: 3.3, qes: 0.45 };
      const { r, c, rm, lc, cc } = conjugateNetwork(driver);
      return largest(
        Array.from(logGrid(5, 20_000, 60), (f) => {
          const [w, x] = [omega(f), new D(f).div(47)];
          const motion = over(pair(new D(5.6).times(3.3).div(0.45)), pair(1, x.minus(new D(1).div(x)).times(3.3)));
          const cone = plus(pair(5.6, w.times(4e-4)), motion);
          const series = pair(rm, w.times(lc).minus(new D(1).div(w.times(cc))));
          const dual = over(pair(1), plus(pair(0, w.times(c!)), over(pair(1), series)));
          const y = plus(over(pair(1), cone), over(pair(1), plus(pair(r), dual)));
          return relative(5.6, sizeExact(over(pair(1), y)));
        }),
      );
    },
  },
  {
    name: "handover(lower, upper).frequency",
    domain: "pairs of Linkwitz and Riley at 500 Hz to 3 kHz, 400 points over two decades",
    route: "their corner",
    kind: "relative",
    worst: () =>
      largest(
        spread(102, 20, 500, 3000).map((corner) => {
          const fine = logGrid(100, 10_000, 400);
          const found = handover(responseOf(lowPass(linkwitzRiley(4), corner), fine), responseOf(highPass(linkwitzRiley(4), corner), fine));
          return Math.abs(found.frequency / corner - 1);
        }),
      ),
  },
  {
    name: "smoothness(response, { band }).slopeDbPerOctave, sensitivityLevels(response, { … })",
    domain: "levels that fall by 6 dB per octave, and flat ones",
    route: "20 lg 2; 20 lg p/20 µPa in 60 digits",
    kind: "dB",
    worst: () => {
      const fine = logGrid(100, 10_000, 200);
      const response = (value: (f: number) => number) => frequencyResponse(fine, fine.map(value), new Float64Array(fine.length));
      const band = { from: 300, to: 3000 };
      const flat = sensitivityLevels(
        response(() => 0.2),
        { band, ratedImpedance: 4 },
      );
      return largest([
        absolute(
          smoothness(
            response((f) => 100 / f),
            { band },
          ).slopeDbPerOctave,
          D.log10(2).times(-20),
        ),
        absolute(flat.for2V83Db, D.log10(new D("0.2").div("2e-5")).times(20)),
      ]);
    },
  },
];
