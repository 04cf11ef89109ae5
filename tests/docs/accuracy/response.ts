// Rows of docs/accuracy.md: tools for responses and impulses.
import { butterworth, highPass, lowPass } from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import {
  acousticDelay,
  addResponses,
  applyCalibration,
  averageMeasurements,
  baffleStepResponse,
  bandMeanLevelDb,
  bandPowerAverage,
  crossings,
  delayResponse,
  divideResponses,
  estimateDelay,
  excessPhase,
  extremes,
  farFieldFromNearField,
  fractionalOctaveBands,
  frequencyResponse,
  fromLevelAndPhase,
  gateFromGeometry,
  impedanceFromChannels,
  impulseFromResponse,
  impulseResponse,
  magnitude,
  multiplyResponses,
  nearFieldErrorDb,
  phaseDegrees,
  reciprocalResponse,
  resample,
  responseFromImpulse,
  responseOf,
  scaleResponse,
  smoothingBiasDb,
  smoothResponse,
  stepResponse,
  subtractResponses,
  unwrappedPhaseDegrees,
  weightingDb,
  type FrequencyResponse,
} from "dividing-network/response";
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

const grid = Float64Array.from(spread(30, 80, 10, 40_000).sort((a, b) => a - b));
const drawn = (seed: number): FrequencyResponse => {
  const random = seeded(seed);
  const value = () => (random() < 0.5 ? -1 : 1) * 10 ** (4 * random() - 2);
  return frequencyResponse(
    grid,
    grid.map(() => value()),
    grid.map(() => value()),
  );
};
const [a, b] = [drawn(31), drawn(32)];
const at = ({ re, im }: FrequencyResponse, i: number): Pair => pair(re[i]!, im[i]!);
/** The largest error of a response against what belongs at each of its points. */
const worstOf = (response: FrequencyResponse, exact: (i: number, f: number) => Pair, of?: (i: number) => InstanceType<typeof D>): number =>
  largest(Array.from(response.frequencies, (f, i) => off(response.re[i]!, response.im[i]!, exact(i, f), of?.(i))));
const level = (size: InstanceType<typeof D>) => D.log10(size).times(20);
const noise = (seed: number, count: number): number[] => {
  const random = seeded(seed);
  return Array.from({ length: count }, () => 2 * random() - 1);
};
const dense = logGrid(5, 80_000, 673);
/** A low-pass of second order with Q = 2 at 1 kHz. */
const resonant = frequencyResponse(
  dense,
  dense.map((f) => (1 - (f / 1000) ** 2) / ((1 - (f / 1000) ** 2) ** 2 + (f / 2000) ** 2)),
  dense.map((f) => -(f / 2000) / ((1 - (f / 1000) ** 2) ** 2 + (f / 2000) ** 2)),
);

/** Rows of the response's floor. */
export const responseRows: readonly AccuracyRow[] = [
  {
    name: "addResponses(a, b), subtractResponses(a, b)",
    domain: "random values of 0.01 to 100",
    route: "sums in 60 digits",
    kind: "of |a| + |b|",
    worst: () => {
      const size = (i: number) => sizeExact(at(a, i)).plus(sizeExact(at(b, i)));
      return Math.max(
        worstOf(addResponses(a, b), (i) => plus(at(a, i), at(b, i)), size),
        worstOf(subtractResponses(a, b), (i) => plus(at(a, i), times(pair(-1), at(b, i))), size),
      );
    },
  },
  {
    name: "multiplyResponses(a, b), divideResponses(a, b), reciprocalResponse(a), scaleResponse(a, factor), applyCalibration(a, b)",
    domain: "random values of 0.01 to 100",
    route: "products and quotients in 60 digits",
    kind: "relative",
    worst: () =>
      Math.max(
        worstOf(multiplyResponses(a, b), (i) => times(at(a, i), at(b, i))),
        worstOf(divideResponses(a, b), (i) => over(at(a, i), at(b, i))),
        worstOf(applyCalibration(a, b), (i) => over(at(a, i), at(b, i))),
        worstOf(reciprocalResponse(a), (i) => over(pair(1), at(a, i))),
        worstOf(scaleResponse(a, { re: 0.3, im: -0.7 }), (i) => times(at(a, i), pair(0.3, -0.7))),
      ),
  },
  {
    name: "delayResponse(a, delay)",
    domain: "3 ms, 10 Hz to 40 kHz",
    route: "e^(−jωτ) in 60 digits",
    kind: "relative",
    worst: () => worstOf(delayResponse(a, 0.003), (i, f) => times(at(a, i), turned(omega(f).times(0.003).neg()))),
  },
  {
    name: "magnitude(a)",
    domain: "random values of 0.01 to 100",
    route: "root of the squares in 60 digits",
    kind: "relative",
    worst: () => largest(Array.from(magnitude(a), (value, i) => relative(value, sizeExact(at(a, i))))),
  },
  {
    name: "phaseDegrees(a)",
    domain: "random values of 0.01 to 100",
    route: "arc tangent in 60 digits",
    kind: "degrees",
    worst: () => largest(Array.from(phaseDegrees(a), (value, i) => absolute(value, D.atan2(at(a, i)[1], at(a, i)[0]).times(180).div(PI)))),
  },
  {
    name: "unwrappedPhaseDegrees(response)",
    domain: "a delay of 1 ms to 20 kHz, 48 points to the octave",
    route: "−360 f τ",
    kind: "degrees",
    worst: () => {
      const late = delayResponse(frequencyResponse(dense.subarray(97, 576), new Float64Array(479).fill(1), new Float64Array(479)), 0.001);
      const turns = unwrappedPhaseDegrees(late, { delay: 0.001 });
      return largest(Array.from(turns, (value, i) => Math.abs(value + 0.36 * late.frequencies[i]!)));
    },
  },
  {
    name: "fromLevelAndPhase(frequencies, levelDb, phaseDegrees)",
    domain: "−120 to 120 dB, any phase",
    route: "10^(dB/20) e^(jφ) in 60 digits",
    kind: "relative",
    worst: () => {
      const [levels, phases] = [noise(33, grid.length).map((x) => 120 * x), noise(34, grid.length).map((x) => 180 * x)];
      return worstOf(fromLevelAndPhase(grid, levels, phases), (i) => {
        const size = new D(10).pow(new D(levels[i]!).div(20));
        const [cos, sin] = turned(PI.times(phases[i]!).div(180));
        return [cos.times(size), sin.times(size)];
      });
    },
  },
  {
    name: "averageMeasurements(responses)",
    domain: "five random responses",
    route: "their mean in 60 digits",
    kind: "of the mean size",
    worst: () => {
      const all = [35, 36, 37, 38, 39].map(drawn);
      const { response } = averageMeasurements(all);
      const fifth = pair(new D(1).div(5));
      return worstOf(
        response,
        (i) =>
          times(
            fifth,
            all.reduce<Pair>((sum, one) => plus(sum, at(one, i)), pair(0)),
          ),
        (i) => all.reduce((sum, one) => sum.plus(sizeExact(at(one, i))), new D(0)).div(5),
      );
    },
  },
  {
    name: "bandMeanLevelDb(response, band)",
    domain: "a level that falls by 6 dB per octave",
    route: "the level at the band's geometric middle",
    kind: "dB",
    worst: () => {
      const falling = frequencyResponse(
        grid,
        grid.map((f) => 100 / f),
        new Float64Array(grid.length),
      );
      return largest(
        [
          [100, 1000],
          [37, 8000],
          [20, 20_000],
        ].map(([from, to]) =>
          absolute(bandMeanLevelDb(falling, { from: from!, to: to! }), level(new D(100).div(D.sqrt(new D(from!).times(to!))))),
        ),
      );
    },
  },
  {
    name: "bandPowerAverage(response, band)",
    domain: "amplitude proportional to frequency, 48 points to the octave",
    route: "(f₂² − f₁²)/(2 ln f₂/f₁)",
    kind: "relative",
    worst: () => {
      const rising = frequencyResponse(
        dense,
        dense.map((f) => f / 1000),
        new Float64Array(dense.length),
      );
      return largest(
        [
          [100, 1000],
          [37, 8000],
        ].map(([from, to]) =>
          relative(
            bandPowerAverage(rising, { from: from!, to: to! }),
            new D(to!).pow(2).minus(new D(from!).pow(2)).div(new D(to!).div(from!).ln().times(2e6)),
          ),
        ),
      );
    },
  },
  {
    name: "baffleStepResponse(frequencies, { width })",
    domain: "10 Hz to 40 kHz, 10 to 60 cm, 20 °C",
    route: "the shelf in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [0.1, 0.21, 0.6].map((width) =>
          worstOf(baffleStepResponse(grid, { width }), (_, f) => {
            const x = new D(f).times(width).times(D.sqrt(2)).div(new D("0.335").times("343.2"));
            return over(pair(0.5, x.div(2)), pair(1, x.div(2)));
          }),
        ),
      ),
  },
  {
    name: "crossings(response, levelDb)",
    domain: "a high-pass of first order at 20 levels, 48 points to the octave",
    route: "f = f₀/√(10^(−L/10) − 1)",
    kind: "relative",
    worst: () => {
      const high = responseOf(highPass(butterworth(1), 1000), dense);
      return largest(
        Array.from({ length: 20 }, (_, i) => -0.5 - i).map((db) => {
          const exact = new D(1000).div(D.sqrt(new D(10).pow(new D(-db).div(10)).minus(1)));
          return relative(crossings(high, db)[0]!.frequency, exact);
        }),
      );
    },
  },
  {
    name: "extremes(response).maxima",
    domain: "the peak of a low-pass of Q = 2, 48 points to the octave",
    route: "f₀√(1 − 1/2Q²) and Q/√(1 − 1/4Q²)",
    kind: "relative, frequency",
    worst: () => Math.abs(extremes(resonant).maxima[0]!.frequency / (1000 * Math.sqrt(1 - 1 / 8)) - 1),
  },
  {
    name: "estimateDelay(response), acousticDelay(response).delay",
    domain: "delays of 0.1 to 10 ms, 48 points to the octave",
    route: "the delay",
    kind: "relative",
    worst: () => {
      const flat = frequencyResponse(dense.subarray(97, 576), new Float64Array(479).fill(1), new Float64Array(479));
      return largest(
        [1e-4, 7e-4, 3e-3, 1e-2].flatMap((delay) => {
          const late = delayResponse(flat, delay);
          return [Math.abs(estimateDelay(late) / delay - 1), Math.abs(acousticDelay(late).delay / delay - 1)];
        }),
      );
    },
  },
  {
    name: "excessPhase(response)",
    domain: "a low-pass of second order, 0.1 ms late, 20 Hz to 20 kHz of data from 5 Hz to 80 kHz",
    route: "−360 f τ",
    kind: "degrees",
    worst: () => {
      const late = phaseDegrees(excessPhase(delayResponse(responseOf(lowPass(butterworth(2), 1000), dense), 1e-4)));
      return largest(
        Array.from(dense, (f, i) => (f < 20 || f > 20_000 ? 0 : Math.abs(((((late[i]! + 0.036 * f) % 360) + 540) % 360) - 180))),
      );
    },
  },
  {
    name: "resample(response, frequencies)",
    domain: "between 48 points per octave of a low-pass of Q = 2",
    route: "the filter's own formula",
    kind: "of the passband",
    worst: () => {
      const targets = Array.from({ length: 479 }, (_, i) => Math.sqrt(dense[i + 97]! * dense[i + 98]!));
      const ours = resample(resonant, targets);
      return largest(
        targets.map((f, i) => {
          const x = new D(f).div(1000);
          return off(ours.re[i]!, ours.im[i]!, over(pair(1), pair(new D(1).minus(x.pow(2)), x.div(2))), new D(1));
        }),
      );
    },
  },
  {
    name: "smoothingBiasDb({ fraction, slope })",
    domain: "thirds to twelfths, slopes of 1 to 48 dB per octave",
    route: "10 lg(sinh a/a) in 60 digits",
    kind: "dB",
    worst: () =>
      largest(
        [3, 6, 12].flatMap((fraction) =>
          spread(43, 30, 1, 48).map((slope) => {
            const x = new D(slope).times(D.ln(10)).div(20 * fraction);
            return absolute(smoothingBiasDb({ fraction, slope }), D.log10(D.sinh(x).div(x)).times(10));
          }),
        ),
      ),
  },
  {
    name: "smoothResponse(response, { fraction })",
    domain: "a level that falls by 12 dB per octave over 14 octaves, thirds, 48 points to the octave",
    route: "10 lg(sinh a/a) in 60 digits",
    kind: "dB",
    worst: () => {
      const a3 = new D(12).times(D.ln(10)).div(60);
      const bias = D.log10(D.sinh(a3).div(a3)).times(10);
      const steep = frequencyResponse(
        dense,
        dense.map((f) => (100 / f) ** (12 / (20 * Math.log10(2)))),
        new Float64Array(dense.length),
      );
      const smooth = magnitude(smoothResponse(steep, { fraction: 3 }));
      const inner = Array.from(dense.keys()).filter((i) => dense[i]! > 20 && dense[i]! < 20_000);
      return largest(inner.map((i) => Math.abs(20 * Math.log10(smooth[i]! / steep.re[i]!) - bias.toNumber())));
    },
  },
  {
    name: "farFieldFromNearField(near, { radius, distance })",
    domain: "a cone of 8 cm at 1 m, 10 Hz to 40 kHz",
    route: "a/2r and the path's delay in 60 digits",
    kind: "relative",
    worst: () =>
      worstOf(farFieldFromNearField(a, { radius: 0.08, distance: 1 }), (i, f) => {
        const [cos, sin] = turned(omega(f).times(new D(1).minus(0.04)).div("-343.2"));
        return times(at(a, i), [cos.times(0.08).div(2), sin.times(0.08).div(2)]);
      }),
  },
  {
    name: "nearFieldErrorDb(ka)",
    domain: "ka of 1e-3 to 3",
    route: "sine in 60 digits",
    kind: "dB",
    worst: () =>
      largest(spread(40, 100, 1e-3, 3).map((ka) => absolute(nearFieldErrorDb(ka), level(D.sin(new D(ka).div(2)).div(new D(ka).div(2)))))),
  },
  {
    name: 'weightingDb("A" and "C", f)',
    domain: "10 Hz to 40 kHz",
    route: "its formula in 60 digits",
    kind: "dB",
    worst: () => {
      const curve = (kind: "A" | "C", f: number) => {
        const s = new D(f).pow(2);
        const ends = s.plus(new D("20.6").pow(2)).times(s.plus(new D(12_194).pow(2)));
        return kind === "C"
          ? s.div(ends)
          : s.pow(2).div(ends.times(D.sqrt(s.plus(new D("107.7").pow(2)).times(s.plus(new D("737.9").pow(2))))));
      };
      return largest(
        (["A", "C"] as const).flatMap((kind) =>
          Array.from(grid, (f) => absolute(weightingDb(kind, f), level(curve(kind, f).div(curve(kind, 1000))))),
        ),
      );
    },
  },
  {
    name: "fractionalOctaveBands({ fraction })",
    domain: "thirds and twelfths, 20 Hz to 20 kHz",
    route: "powers of 10^(3/10) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [3, 12].flatMap((fraction) =>
          fractionalOctaveBands({ fraction, from: 20, to: 20_000 }).flatMap(({ centre, lower: from, upper: to }) => {
            const half = fraction % 2 === 0 ? 0.5 : 0;
            const x = Math.round((fraction * Math.log10(centre / 1000)) / 0.3 - half) + half;
            const exact = (shift: number) => new D(10).pow(new D(x + shift).times("0.3").div(fraction)).times(1000);
            return [relative(centre, exact(0)), relative(from, exact(-0.5)), relative(to, exact(0.5))];
          }),
        ),
      ),
  },
  {
    name: "gateFromGeometry({ distance, sourceHeight, microphoneHeight }).duration",
    domain: "heights of 0.5 to 3 m, 0.5 to 4 m apart, 20 °C",
    route: "the mirror image in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [0.5, 1, 2, 4].flatMap((distance) =>
          [0.5, 1.2, 3].map((height) =>
            relative(
              gateFromGeometry({ distance, sourceHeight: height, microphoneHeight: height }).duration,
              D.hypot(distance, 2 * height)
                .minus(distance)
                .div("343.2"),
            ),
          ),
        ),
      ),
  },
  {
    name: "impedanceFromChannels({ source, load, reference })",
    domain: "random voltages, 10 Ω",
    route: "R V₂/(V₁ − V₂) in 60 digits",
    kind: "relative",
    worst: () => {
      const load = scaleResponse(b, 1);
      const source = addResponses(a, b);
      return worstOf(impedanceFromChannels({ source, load, reference: 10 }), (i) =>
        times(pair(10), over(at(load, i), plus(at(source, i), times(pair(-1), at(load, i))))),
      );
    },
  },
  {
    name: "responseFromImpulse(impulse), impulseFromResponse(response)",
    domain: "64 random samples, and back again",
    route: "the sum that defines it, 60 digits; the samples",
    kind: "of the largest value",
    worst: () => {
      const samples = noise(41, 64);
      const response = responseFromImpulse(impulseResponse(samples, { sampleRate: 48_000 }));
      const exact = Array.from(response.frequencies, (f) =>
        samples.reduce<Pair>((sum, value, n) => plus(sum, times(pair(value), turned(omega(f).times(-n).div(48_000)))), pair(0)),
      );
      const size = exact.reduce((most, one) => D.max(most, sizeExact(one)), new D(0));
      const back = impulseFromResponse(response, { sampleRate: 48_000, length: 64 }).samples;
      return Math.max(
        worstOf(
          response,
          (i) => exact[i]!,
          () => size,
        ),
        largest(samples.map((value, i) => Math.abs(value - back[i]!))),
      );
    },
  },
  {
    name: "stepResponse(impulse)",
    domain: "1000 random samples",
    route: "running sums and half of the sample, 60 digits",
    kind: "of the largest value",
    worst: () => {
      const samples = noise(42, 1000);
      const ours = stepResponse(impulseResponse(samples, { sampleRate: 48_000 })).samples;
      let sum = new D(0);
      const sums = samples.map((value) => {
        sum = sum.plus(value);
        return sum.minus(new D(value).div(2));
      });
      const size = sums.reduce((most, one) => D.max(most, one.abs()), new D(0)).toNumber();
      return largest(sums.map((value, i) => absolute(ours[i]!, value) / size));
    },
  },
];
