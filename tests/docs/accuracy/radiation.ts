// Rows of docs/accuracy.md: sources and their sum.
import {
  arrayDirectivity,
  arrayLobes,
  dipoleSource,
  directivityIndex,
  displacementPressure,
  lobeTilt,
  pistonDirectivityIndex,
  pistonHalfAngle,
  pointSource,
  powerResponse,
  pressureAt,
  radiatedPower,
  ringDirectivity,
  sphereMap,
  twoSourceLobes,
} from "dividing-network/radiation";
import {
  absolute,
  D,
  largest,
  off,
  omega,
  pair,
  PI,
  plus,
  relative,
  seriesJ,
  spread,
  times,
  turned,
  type AccuracyRow,
  type Pair,
} from "./exact";

const sine = (angle: number) => D.sin(PI.times(angle).div(180));
const arcSine = (x: InstanceType<typeof D>) => D.asin(x).times(180).div(PI);
const air = { speedOfSound: 343 };

/** Rows of the radiation's floor. */
export const radiationRows: readonly AccuracyRow[] = [
  {
    name: "arrayDirectivity({ count, kd, angle })",
    domain: "2 to 9 sources, kd of 0.1 to 20, 37°",
    route: "the sum of phasors in 60 digits",
    kind: "absolute",
    worst: () =>
      largest(
        [2, 3, 5, 9].flatMap((count) =>
          spread(90, 30, 0.1, 20).map((kd) => {
            const u = sine(37).times(kd);
            const sum = Array.from({ length: count }, (_, n) => D.cos(u.times(2 * n - count + 1).div(2))).reduce((s, x) => s.plus(x));
            return absolute(arrayDirectivity({ count, kd, angle: 37 }), sum.div(count));
          }),
        ),
      ),
  },
  {
    name: "ringDirectivity({ ka, angle })",
    domain: "ka of 0.1 to 100, 37°",
    route: "J₀ by power series",
    kind: "absolute",
    worst: () =>
      largest(spread(91, 60, 0.1, 100).map((ka) => absolute(ringDirectivity({ ka, angle: 37 }), seriesJ(0, sine(37).times(ka))))),
  },
  {
    name: "pistonDirectivityIndex({ ka })",
    domain: "ka of 0.01 to 100",
    route: "10 lg((ka)²/(1 − J₁(2ka)/ka)) by power series",
    kind: "dB",
    worst: () =>
      largest(
        spread(92, 60, 0.01, 100).map((ka) =>
          absolute(
            pistonDirectivityIndex({ ka }),
            D.log10(new D(ka).pow(2).div(new D(1).minus(seriesJ(1, new D(ka).times(2)).div(ka)))).times(10),
          ),
        ),
      ),
  },
  {
    name: "pistonHalfAngle({ ka })",
    domain: "ka of 2.5 to 100, to half the pressure",
    route: "2J₁(x)/x by power series at the angle given",
    kind: "of the pressure on the axis",
    worst: () =>
      largest(
        spread(93, 40, 2.5, 100).map((ka) => {
          const x = sine(pistonHalfAngle({ ka, ratio: 0.5 })!).times(ka);
          return absolute(0.5, seriesJ(1, x).times(2).div(x));
        }),
      ),
  },
  {
    name: "pressureAt(sources, frequencies, { points })",
    domain: "three point sources, 100 Hz to 20 kHz, 0.5 to 4 m",
    route: "the sum of e^(−jkr)/r in 60 digits",
    kind: "of the sum of sizes",
    worst: () => {
      const places = [
        [0, 0, 0],
        [0.02, 0.1, 0.15],
        [-0.05, -0.2, 0.3],
      ] as const;
      const points = [
        [0.5, 0, 0],
        [2, 1, 0.5],
        [3, -2, 1.5],
      ] as const;
      const frequencies = spread(94, 20, 100, 20_000).sort((a, b) => a - b);
      const field = pressureAt(
        places.map((position) => pointSource({ position })),
        frequencies,
        { points, air },
      );
      return largest(
        points.flatMap((point, p) =>
          frequencies.map((f, i) => {
            let [sum, sizes]: [Pair, InstanceType<typeof D>] = [pair(0), new D(0)];
            for (const place of places) {
              const r = D.sqrt(place.reduce((all, x, k) => all.plus(new D(point[k]!).minus(x).pow(2)), new D(0)));
              sum = plus(sum, times(pair(new D(1).div(r)), turned(omega(f).times(r).div(-343))));
              sizes = sizes.plus(new D(1).div(r));
            }
            const at = p * frequencies.length + i;
            return off(field.re[at]!, field.im[at]!, sum, sizes);
          }),
        ),
      );
    },
  },
  {
    name: "displacementPressure({ … }).pressure",
    domain: "10 Hz to 1 kHz, 1 mm, 100 cm²",
    route: "ρ S ω² x/2πr√2 in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(95, 60, 10, 1000).map((frequency) =>
          relative(
            displacementPressure({ area: 0.01, displacement: 1e-3, frequency, air: { density: 1.2 } }).pressure,
            omega(frequency)
              .pow(2)
              .times("1.2e-5")
              .div(PI.times(2).times(D.sqrt(2))),
          ),
        ),
      ),
  },
  {
    name: "lobeTilt({ order: 3, spacing, frequency }).tilt",
    domain: "1 to 10 kHz, 15 cm apart",
    route: "arcsin(λ/4d) in 60 digits",
    kind: "degrees",
    worst: () =>
      largest(
        spread(96, 60, 1000, 10_000).map((frequency) =>
          absolute(
            Math.abs(lobeTilt({ order: 3, spacing: 0.15, frequency, air }).tilt!),
            arcSine(new D(343).div(frequency).div(new D("0.15").times(4))),
          ),
        ),
      ),
  },
  {
    name: "twoSourceLobes({ spacing, frequency }).nulls, arrayLobes({ count, … }).nulls",
    domain: "1.2 to 20 kHz, 15 cm apart, two and four sources",
    route: "arc sines of (n + ½)λ/d and of mλ/4d in 60 digits",
    kind: "degrees",
    worst: () =>
      largest(
        spread(97, 40, 1200, 20_000).flatMap((frequency) => {
          const wave = new D(343).div(frequency).div("0.15");
          const near = (angle: number, exact: readonly InstanceType<typeof D>[]) => Math.min(...exact.map((one) => absolute(angle, one)));
          const below = (x: InstanceType<typeof D>) => (x.abs().lte(1) ? [arcSine(x)] : []);
          const counts = Array.from({ length: 81 }, (_, i) => i - 40);
          const pairs = counts.flatMap((n) => below(wave.times(n + 0.5)));
          const fours = counts.filter((m) => m % 4 !== 0).flatMap((m) => below(wave.times(m).div(4)));
          return [
            ...twoSourceLobes({ spacing: 0.15, frequency, air }).nulls.map((angle) => near(angle, pairs)),
            ...arrayLobes({ count: 4, spacing: 0.15, frequency, air }).nulls.map((angle) => near(angle, fours)),
          ];
        }),
      ),
  },
  {
    name: "directivityIndex(powerResponse(sphereMap([dipoleSource(pointSource(), { path })], f)))",
    domain: "a small dipole, 20 Hz to 200 Hz, the map's default directions",
    route: "10 lg 3 in the limit of small paths",
    kind: "dB",
    worst: () => {
      const map = sphereMap([dipoleSource(pointSource(), { path: 0.002 })], [20, 63, 200]);
      return largest(Array.from(directivityIndex(powerResponse(map)).levelDb, (db) => absolute(db, D.log10(3).times(10))));
    },
  },
  {
    name: "radiatedPower(powerResponse(map))",
    domain: "1 Pa at 1 m all around, four kinds of air",
    route: "4π/ρc in 60 digits",
    kind: "relative",
    worst: () => {
      const power = powerResponse(sphereMap([pointSource()], [1000]));
      return largest(
        [
          [343, 1.2],
          [331, 1.29],
          [350, 1.1],
          [345, 1.18],
        ].map(([c, rho]) =>
          relative(radiatedPower(power, { air: { speedOfSound: c!, density: rho! } })[0]!, PI.times(4).div(new D(c!).times(rho!))),
        ),
      );
    },
  },
];
