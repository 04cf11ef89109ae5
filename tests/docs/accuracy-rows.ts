// The rows of docs/accuracy.md: each a public function, the domain over which it is tried, and another way to the same number: 50 and more digits, or a route that
// shares nothing with it. `npm run accuracy` writes the page's table from them; accuracy.test.ts holds the page to them.
import { butterworth, chebyshev, ladderValues, linkwitzRiley, lowPass, zobel } from "dividing-network/alignments";
import { solve } from "dividing-network/network";
import { besselJ0, besselJ1, ellipticE, ellipticK, gaussLegendre, logGrid, struveH1 } from "dividing-network/numeric";
import {
  coaxialMutualInductance,
  lPad,
  nagaokaCoefficient,
  skinEffect,
  solenoidInductance,
  thieleSmall,
  wireResistance,
} from "dividing-network/parts";
import { airAbsorption, copperResistivity, speedOfSound } from "dividing-network/physics";
import { lineDirectivity, pistonDirectivity, pistonRadiationImpedance } from "dividing-network/radiation";
import { frequencyResponse, groupDelay, levelDb, minimumPhase, phaseDegrees, responseOf, valueAt } from "dividing-network/response";
import { errorOf, solvePrecisely } from "../support/precise";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";
import { alignmentRows } from "./accuracy/alignments";
import {
  absolute,
  absorption,
  butterworthSize,
  chebyshevSize,
  D,
  largest,
  maxwell,
  nagaoka,
  PI,
  relative,
  seriesH1,
  seriesJ,
  skinResistance,
  spread,
  ellipticOf,
  type AccuracyRow,
} from "./accuracy/exact";
import { lowerRows } from "./accuracy/lower-floors";
import { partRows } from "./accuracy/parts";
import { radiationRows } from "./accuracy/radiation";
import { responseRows } from "./accuracy/response";

export type { AccuracyRow } from "./accuracy/exact";

const sizeOf = (response: { readonly re: Float64Array; readonly im: Float64Array }, i: number): number =>
  Math.hypot(response.re[i]!, response.im[i]!);
const secondOrder = responseOf(lowPass(butterworth(2), 1000), logGrid(5, 80_000, 673));
const within = [...secondOrder.frequencies.keys()].filter(
  (i) => secondOrder.frequencies[i]! >= 20 && secondOrder.frequencies[i]! <= 20_000,
);

/** All rows, in the order of the page. */
export const accuracyRows: readonly AccuracyRow[] = [
  {
    name: "besselJ0(x)",
    domain: "x from 1e-8 to 400",
    route: "power series, up to 234 digits",
    kind: "absolute",
    worst: () => largest(spread(1, 120, 1e-8, 400).map((x) => absolute(besselJ0(x), seriesJ(0, x)))),
  },
  {
    name: "besselJ1(x)",
    domain: "x from 1e-8 to 400",
    route: "power series, up to 234 digits",
    kind: "absolute",
    worst: () => largest(spread(2, 120, 1e-8, 400).map((x) => absolute(besselJ1(x), seriesJ(1, x)))),
  },
  {
    name: "struveH1(x)",
    domain: "x from 1e-4 to 400",
    route: "power series, up to 234 digits",
    kind: "relative",
    worst: () => largest(spread(3, 80, 1e-4, 400).map((x) => relative(struveH1(x), seriesH1(x)))),
  },
  {
    name: "ellipticK(m)",
    domain: "m from 1e-9 to 0.999",
    route: "arithmetic-geometric mean in 60 digits",
    kind: "relative",
    worst: () => largest(spread(4, 120, 1e-9, 0.999).map((m) => relative(ellipticK(m), ellipticOf(new D(1).minus(m)).k))),
  },
  {
    name: "ellipticE(m)",
    domain: "m from 1e-9 to 0.999",
    route: "arithmetic-geometric mean in 60 digits",
    kind: "relative",
    worst: () => largest(spread(5, 120, 1e-9, 0.999).map((m) => relative(ellipticE(m), ellipticOf(new D(1).minus(m)).e))),
  },
  {
    name: "gaussLegendre(n).nodes",
    domain: "n of 2 to 64",
    route: "Newton's step from each node, 60 digits",
    kind: "absolute",
    worst: () =>
      largest(
        [2, 3, 5, 8, 16, 33, 64].flatMap((n) =>
          Array.from(gaussLegendre(n).nodes, (node) => {
            const x = new D(node);
            let [before, now] = [new D(1), x];
            for (let k = 2; k <= n; k++)
              [before, now] = [
                now,
                x
                  .times(now)
                  .times(2 * k - 1)
                  .minus(before.times(k - 1))
                  .div(k),
              ];
            const slope = x.times(now).minus(before).times(n).div(x.pow(2).minus(1));
            return Math.abs(now.div(slope).toNumber());
          }),
        ),
      ),
  },
  {
    name: "speedOfSound({ temperature })",
    domain: "−20 to 50 °C, dry",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 71 }, (_, i) => i - 20).map((t) =>
          relative(speedOfSound({ temperature: t }), new D("343.2").times(new D(t).plus("273.15").div("293.15").sqrt())),
        ),
      ),
  },
  {
    name: "airAbsorption({ frequency, temperature, humidity })",
    domain: "20 Hz to 20 kHz, 0 to 40 °C, 10 to 90 %",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(6, 18, 20, 20_000).flatMap((f) =>
          [0, 20, 40].flatMap((t) =>
            [10, 50, 90].map((h) => relative(airAbsorption({ frequency: f, temperature: t, humidity: h }), absorption(f, t, h))),
          ),
        ),
      ),
  },
  {
    name: "wireResistance({ diameter, length })",
    domain: "0.1 to 5 mm, 20 °C",
    route: "ρl/A in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(7, 100, 1e-4, 5e-3).map((d) =>
          relative(wireResistance({ diameter: d, length: 7 }), new D(copperResistivity()).times(28).div(PI.times(new D(d).pow(2)))),
        ),
      ),
  },
  {
    name: "skinEffect({ diameter, frequency }).resistanceRatio",
    domain: "0.1 to 5 mm at 20 kHz",
    route: "power series of both Bessel functions, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(8, 100, 1e-4, 5e-3).map((d) =>
          relative(
            skinEffect({ diameter: d, frequency: 20_000 }).resistanceRatio,
            skinResistance(new D(d).div(2).times(PI.times(40_000).times("1.2566370614359173e-6").div(copperResistivity()).sqrt())),
          ),
        ),
      ),
  },
  {
    name: "coaxialMutualInductance({ radiusA, radiusB, distance })",
    domain: "radii 1 to 100 cm, 1 mm to 10 m apart",
    route: "Maxwell's formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(9, 14, 0.01, 1).flatMap((a) =>
          spread(10, 6, 0.01, 1).flatMap((b) =>
            spread(11, 5, 1e-3, 10).map((d) =>
              relative(coaxialMutualInductance({ radiusA: a, radiusB: b, distance: d }), maxwell(a, b, d)),
            ),
          ),
        ),
      ),
  },
  {
    name: "nagaokaCoefficient(r)",
    domain: "diameter over length, 0.01 to 100",
    route: "Lorenz's formula in 60 digits",
    kind: "relative",
    worst: () => largest(spread(12, 120, 0.01, 100).map((r) => relative(nagaokaCoefficient(r), nagaoka(new D(r))))),
  },
  {
    name: "solenoidInductance({ turns, radius, length })",
    domain: "a layer of 100 turns, 2 cm wide, 1 mm to 1 m long",
    route: "Lorenz's formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(13, 80, 1e-3, 1).map((l) =>
          relative(
            solenoidInductance({ turns: 100, radius: 0.01, length: l }),
            nagaoka(new D("0.01").times(2).div(l)).times(PI).times("1e-4").times(1e4).times("1.2566370614359173e-6").div(l),
          ),
        ),
      ),
  },
  {
    name: "lPad({ attenuationDb, load })",
    domain: "0.01 to 60 dB",
    route: "its formula in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(14, 80, 0.01, 60).flatMap((db) => {
          const k = new D(10).pow(new D(db).div(20));
          const { series, shunt } = lPad({ attenuationDb: db, load: 8 });
          return [relative(series, new D(1).minus(new D(1).div(k)).times(8)), relative(shunt!, new D(8).div(k.minus(1)))];
        }),
      ),
  },
  {
    name: "zobel({ re, le }).c",
    domain: "0.01 to 10 mH at 5.6 Ω",
    route: "L/R² in 60 digits",
    kind: "relative",
    worst: () => largest(spread(15, 100, 1e-5, 1e-2).map((le) => relative(zobel({ re: 5.6, le }).c, new D(le).div(new D("5.6").pow(2))))),
  },
  {
    name: "thieleSmall({ … }).fs",
    domain: "moving masses of 0.2 to 200 g",
    route: "1/(2π√(MC)) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        spread(16, 100, 2e-4, 0.2).map((mms) =>
          relative(
            thieleSmall({ re: 6, bl: 7, mms, cms: 1e-3, rms: 1, sd: 0.02 }).fs,
            new D(1).div(PI.times(2).times(new D(mms).times("0.001").sqrt())),
          ),
        ),
      ),
  },
  {
    name: "ladderValues(butterworth(n), { sourceResistance: 1 })",
    domain: "orders 1 to 10",
    route: "2 sin((2k − 1)π/2n) in 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        Array.from({ length: 10 }, (_, i) => i + 1).flatMap((n) =>
          ladderValues(butterworth(n), { sourceResistance: 1 }).map((g, k) => relative(g, D.sin(PI.times(2 * k + 1).div(2 * n)).times(2))),
        ),
      ),
  },
  {
    name: "responseOf(lowPass(butterworth(n), f), …)",
    domain: "orders 1 to 8, two decades about the corner",
    route: "|H| in closed form, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [1, 2, 3, 4, 6, 8].flatMap((n) => {
          const grid = logGrid(100, 10_000, 41);
          const response = responseOf(lowPass(butterworth(n), 1000), grid);
          return Array.from(grid, (f, i) => relative(sizeOf(response, i), butterworthSize(n, new D(f).div(1000))));
        }),
      ),
  },
  {
    name: "responseOf(lowPass(linkwitzRiley(n), f), …)",
    domain: "orders 2, 4, 8",
    route: "|H| in closed form, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [2, 4, 8].flatMap((n) => {
          const grid = logGrid(100, 10_000, 41);
          const response = responseOf(lowPass(linkwitzRiley(n), 1000), grid);
          return Array.from(grid, (f, i) => relative(sizeOf(response, i), butterworthSize(n / 2, new D(f).div(1000)).pow(2)));
        }),
      ),
  },
  {
    name: "responseOf(lowPass(chebyshev(n, { rippleDb: 0.5 }), f), …)",
    domain: "orders 3, 5, 7, up to ten times the edge",
    route: "Chebyshev polynomials, 60 digits",
    kind: "relative",
    worst: () =>
      largest(
        [3, 5, 7].flatMap((n) => {
          const grid = logGrid(100, 10_000, 41);
          const response = responseOf(lowPass(chebyshev(n, { rippleDb: 0.5 }), 1000), grid);
          return Array.from(grid, (f, i) => relative(sizeOf(response, i), chebyshevSize(n, 0.5, new D(f).div(1000))));
        }),
      ),
  },
  {
    name: "solve(network, f).voltage(node)",
    domain: "40 random networks of up to 12 nodes, coupled coils among them",
    route: "another solver, 60 digits",
    kind: "of the largest voltage",
    worst: () =>
      largest(
        Array.from({ length: 40 }, (_, seed) => {
          const random = seeded(500 + seed);
          const entries = randomNetwork(random, { nodes: 1 + Math.floor(random() * 11), couplings: seed % 3 });
          const frequency = 10 * 1000 ** random();
          const [sweep, exact] = [solve(entries, [frequency]), solvePrecisely(entries, frequency)];
          const size = Math.max(
            ...nodesOf(entries).map((node) => Math.hypot(exact.voltage(node)[0].toNumber(), exact.voltage(node)[1].toNumber())),
          );
          return largest(
            nodesOf(entries).map((node) => errorOf(sweep.voltage(node).re[0]!, sweep.voltage(node).im[0]!, exact.voltage(node), size)),
          );
        }),
      ),
  },
  {
    name: "pistonDirectivity({ ka, angle })",
    domain: "ka of 0.1 to 100, 37°",
    route: "2J₁(x)/x by power series",
    kind: "absolute",
    worst: () =>
      largest(
        spread(17, 100, 0.1, 100).map((ka) => {
          const x = D.sin(PI.times(37).div(180)).times(ka);
          return absolute(pistonDirectivity({ ka, angle: 37 }), seriesJ(1, x).times(2).div(x));
        }),
      ),
  },
  {
    name: "lineDirectivity({ kl, angle })",
    domain: "kl of 0.1 to 200, 37°",
    route: "sin x/x in 60 digits",
    kind: "absolute",
    worst: () =>
      largest(
        spread(18, 100, 0.1, 200).map((kl) => {
          const x = D.sin(PI.times(37).div(180)).times(kl).div(2);
          return absolute(lineDirectivity({ kl, angle: 37 }), D.sin(x).div(x));
        }),
      ),
  },
  {
    name: "pistonRadiationImpedance({ ka })",
    domain: "ka of 1e-3 to 100",
    route: "1 − J₁(2ka)/ka and H₁(2ka)/ka by power series",
    kind: "relative, each part",
    worst: () =>
      largest(
        spread(19, 80, 1e-3, 100).flatMap((ka) => {
          const z = pistonRadiationImpedance({ ka });
          return [relative(z.re, new D(1).minus(seriesJ(1, new D(ka).times(2)).div(ka))), relative(z.im, seriesH1(2 * ka).div(ka))];
        }),
      ),
  },
  {
    name: "levelDb(response)",
    domain: "magnitudes of 1e-9 to 1e9",
    route: "20 lg in 60 digits",
    kind: "dB",
    worst: () =>
      largest(
        spread(20, 200, 1e-9, 1e9).map((size) => {
          const response = frequencyResponse([100], [0.6 * size], [0.8 * size]);
          return absolute(
            levelDb(response)[0]!,
            D.log10(new D(response.re[0]!).pow(2).plus(new D(response.im[0]!).pow(2)).sqrt()).times(20),
          );
        }),
      ),
  },
  {
    name: "valueAt(response, f)",
    domain: "between 48 points per octave of a second-order low-pass",
    route: "the filter's own formula",
    kind: "of the passband",
    worst: () =>
      largest(
        within.slice(0, -1).map((i) => {
          const f = Math.sqrt(secondOrder.frequencies[i]! * secondOrder.frequencies[i + 1]!);
          const [value, exact] = [valueAt(secondOrder, f), valueAt(responseOf(lowPass(butterworth(2), 1000), [f]), f)];
          return Math.hypot(value.re - exact.re, value.im - exact.im);
        }),
      ),
  },
  {
    name: "groupDelay(response)",
    domain: "20 Hz to 20 kHz, 48 points per octave, second-order low-pass",
    route: "−dφ/dω in closed form",
    kind: "of the delay at 0 Hz",
    worst: () => {
      const delay = groupDelay(secondOrder);
      const at = (f: number): number => {
        const u = f / 1000;
        return (Math.SQRT2 * (1 + u * u)) / (1 + u ** 4) / (2 * Math.PI * 1000);
      };
      return largest(within.map((i) => Math.abs(delay[i]! - at(secondOrder.frequencies[i]!)) / at(0)));
    },
  },
  {
    name: "minimumPhase(response)",
    domain: "20 Hz to 20 kHz of data from 5 Hz to 80 kHz, second-order low-pass",
    route: "the filter's own phase",
    kind: "degrees",
    worst: () => {
      const [ours, exact] = [phaseDegrees(minimumPhase(secondOrder)), phaseDegrees(secondOrder)];
      return largest(within.map((i) => Math.abs(((ours[i]! - exact[i]! + 540) % 360) - 180)));
    },
  },
  ...lowerRows,
  ...responseRows,
  ...partRows,
  ...radiationRows,
  ...alignmentRows,
];

/** A bound of one digit, 1, 2 or 5 times a power of ten, at least a third above what was found: another machine rounds otherwise. */
export function bound(error: number): number {
  if (error === 0) return 0;
  const power = 10 ** Math.floor(Math.log10(error * 1.33));
  const digit = [1, 2, 5, 10].find((each) => each * power >= error * 1.33)!;
  return Number((digit * power).toPrecision(1));
}

/** The rows as a table in Markdown. */
export function accuracyTable(bounds: readonly number[]): string {
  const cell = (text: string): string => text.replaceAll("|", "\\|");
  return [
    "| call | over | against | largest error | |",
    "|---|---|---|---|---|",
    ...accuracyRows.map(
      ({ name, domain, route, kind }, i) =>
        `| \`${name}\` | ${cell(domain)} | ${cell(route)} | ${bounds[i] === 0 ? "0" : bounds[i]!.toExponential(0)} | ${cell(kind)} |`,
    ),
  ].join("\n");
}
