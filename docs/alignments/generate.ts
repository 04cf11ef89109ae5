// The plots and tables of these pages, made by the library itself: `npx tsx docs/alignments/make.ts` writes them.
import {
  acousticTarget,
  approximateConjugate,
  bessel,
  butterworth,
  chebyshev,
  conjugateNetwork,
  criticallyDamped,
  crossover,
  crossoverSum,
  derivedThreeWay,
  groupDelayOf,
  highPass,
  ladder,
  ladderValues,
  legendrePapoulis,
  linkwitzRiley,
  lossyZobel,
  lowPass,
  multiWay,
  refitLadder,
  type CrossoverOptions,
  type Prototype,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { driverImpedance } from "dividing-network/parts";
import { formatQuantity } from "dividing-network/quantity";
import { frequencyPlot } from "dividing-network/report";
import { levelDb, responseOf } from "dividing-network/response";

const grid = logGrid(100, 10e3, 241);
const members: Readonly<Record<string, readonly (readonly [label: string, prototype: Prototype])[]>> = {
  butterworth: [1, 2, 3, 4].map((n) => [`order ${n}`, butterworth(n)] as const),
  "linkwitz-riley": [2, 4, 6, 8].map((n) => [`order ${n}`, linkwitzRiley(n)] as const),
  bessel: (["half-power", "asymptote"] as const).flatMap((normalization) =>
    [2, 4].map((n) => [`order ${n}, ${normalization}`, bessel(n, { normalization })] as const),
  ),
  chebyshev: [
    [2, 0.5],
    [3, 0.5],
    [4, 0.5],
    [3, 1],
  ].map(([n, rippleDb]) => [`order ${n}, ${rippleDb} dB`, chebyshev(n!, { rippleDb: rippleDb! })] as const),
  "legendre-papoulis": [3, 4, 5, 6].map((n) => [`order ${n}`, legendrePapoulis(n)] as const),
  "critically-damped": [2, 3, 4].map((n) => [`order ${n}`, criticallyDamped(n)] as const),
};

const names: Readonly<Record<string, string>> = {
  butterworth: "Butterworth",
  "linkwitz-riley": "Linkwitz–Riley",
  bessel: "Bessel",
  chebyshev: "Chebyshev",
  "legendre-papoulis": "Legendre–Papoulis",
  "critically-damped": "Critically damped",
};

/** One SVG for each family: level of the low-pass ways at 1 kHz, and their group delay. */
export function plots(): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(members).map(([family, list]) => {
      const filters = list.map(([label, prototype]) => ({ label, filter: lowPass(prototype, 1000) }));
      const name = names[family]!;
      const { svg } = frequencyPlot({
        title: `${name} low-pass, corner 1 kHz`,
        description: `Level and group delay of ${name} low-pass functions with a corner of 1 kHz.`,
        from: 100,
        to: 10e3,
        panels: [
          {
            label: "Level, dB",
            series: filters.map(({ label, filter }) => ({ label, frequencies: grid, values: levelDb(responseOf(filter, grid)) })),
            range: [-50, 5],
          },
          {
            label: "Group delay, ms",
            series: filters.map(({ label, filter }) => ({
              label,
              frequencies: grid,
              values: groupDelayOf(filter, grid).map((value) => value * 1000),
            })),
          },
        ],
      });
      return [family, svg];
    }),
  );
}

const cell = ({ kind, value }: { readonly kind: "inductor" | "capacitor"; readonly value: number }): string =>
  formatQuantity(value, kind === "inductor" ? "H" : "F", { digits: 4 });
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => "---"), ...rows].map((row) => `| ${row.join(" | ")} |`).join("\n");
const fixed = (value: number, digits: number): string =>
  (Math.abs(value) < 0.5 * 10 ** -digits ? (0).toFixed(digits) : value.toFixed(digits)).replace("-", "−");

/** Parts of two-way crossovers for 8 Ω at 1 kHz, from source to driver, and what they sum to. */
function twoWays(list: readonly (readonly [string, Omit<CrossoverOptions, "frequency" | "load">])[]): string {
  return table(
    ["order", "low-pass", "high-pass", "reverse", "sum, dB", "power, dB"],
    list.map(([label, options]) => {
      const made = crossover({ ...options, frequency: 1000, load: 8 });
      const sum = crossoverSum(made, logGrid(50, 20e3, 801));
      const span = (values: Float64Array): string => {
        const [low, high] = [Math.min(...values), Math.max(...values)].map((value) => fixed(value, 2));
        return low === high ? low! : `${low} to ${high}`;
      };
      const parts = (elements: typeof made.lowPass.elements): string =>
        elements.map((element) => `${element.designator} ${cell(element)}`).join(", ");
      return [
        label,
        parts(made.lowPass.elements),
        parts(made.highPass.elements),
        made.polarity === "reversed" ? "yes" : "no",
        span(sum.levelDb),
        span(sum.powerDb),
      ];
    }),
  );
}

const orders = (family: CrossoverOptions["family"], list: readonly number[], more: Partial<CrossoverOptions> = {}) =>
  list.map((order) => [String(order), { family, order, ...more }] as const);

/** The tables, by the name that stands in the pages' markers. */
export function tables(): Readonly<Record<string, string>> {
  const g = (prototype: Prototype, options = {}): string =>
    ladderValues(prototype, options)
      .map((value) => value.toFixed(4))
      .join(", ");
  const besselG = ladderValues(bessel(4, { normalization: "asymptote" }));
  const [low, high] = [besselG.map((value) => value / (2 * Math.PI)), besselG.map((value) => 1 / (2 * Math.PI * value))];
  const recalled = { high: [".0702", ".0862", ".0719", ".4983"], low: [".3583", ".2336", ".1463", ".0504"] };
  const ratio = (text: string, value: number): string => (Number(text) / value).toFixed(3);
  const driver = { re: 5.6, le: 0.6e-3, fs: 40, qms: 3.5, qes: 0.45 };
  const exact = conjugateNetwork(driver);
  const coil = driverImpedance({ re: 6, k: 0.03, n: 0.65 });
  const best = lossyZobel(coil, { from: 200, to: 20e3 });
  return {
    butterworth: twoWays(orders("butterworth", [1, 2, 3, 4])),
    "linkwitz-riley": twoWays(orders("linkwitz-riley", [2, 4, 6, 8])),
    bessel: twoWays(
      (["half-power", "asymptote"] as const).flatMap((normalization) =>
        [2, 3, 4].map((order) => [`${order}, ${normalization}`, { family: "bessel", order, normalization }] as const),
      ),
    ),
    chebyshev: twoWays(
      [
        [2, 0.5],
        [3, 0.5],
        [4, 0.5],
        [3, 1],
      ].map(([order, rippleDb]) => [`${order}, ${rippleDb} dB`, { family: "chebyshev", order: order!, rippleDb: rippleDb! }] as const),
    ),
    "legendre-papoulis": twoWays(orders("legendre-papoulis", [3, 4, 5, 6])),
    "critically-damped": twoWays(orders("critically-damped", [2, 3, 4])),
    "bessel-conflict": table(
      ["side", "element", "derived", "recalled", "recalled / derived"],
      [
        ...low.map((value, k) => [
          "low-pass",
          k % 2 === 0 ? `L${k + 1}, R/f` : `C${k + 1}, 1/(Rf)`,
          value.toFixed(4),
          recalled.low[k]!,
          ratio(recalled.low[k]!, value),
        ]),
        ...high.map((value, k) => [
          "high-pass",
          k % 2 === 0 ? `C${k + 1}, 1/(Rf)` : `L${k + 1}, R/f`,
          value.toFixed(4),
          recalled.high[k]!,
          ratio(recalled.high[k]!, value),
        ]),
      ],
    ),
    "bessel-scalings": table(
      ["order", "delay", "half-power", "asymptote"],
      [1, 2, 3, 4, 6, 8].map((n) => [
        String(n),
        ...(["delay", "half-power", "asymptote"] as const).map(
          (normalization) => `${fixed(levelDb(responseOf(bessel(n, { normalization }), [1 / (2 * Math.PI)]))[0]!, 2)} dB`,
        ),
      ]),
    ),
    "ladder-values": table(
      ["function", "ideal source", "source 1 Ω"],
      [
        ...[2, 3, 4].map((n) => [`Butterworth ${n}`, butterworth(n)] as const),
        ...[2, 3, 4].map((n) => [`Bessel ${n}`, bessel(n)] as const),
        ["Linkwitz–Riley 4", linkwitzRiley(4)] as const,
        ["Chebyshev 3, 0.5 dB", chebyshev(3, { rippleDb: 0.5 })] as const,
        ["Legendre–Papoulis 3", legendrePapoulis(3)] as const,
      ].map(([label, prototype]) => [label, g(prototype), g(prototype, { sourceResistance: 1 })]),
    ),
    "three-way": table(
      ["family and order", "sum, ratio 8", "sum, ratio 20", "corrected"],
      (
        [
          ["butterworth", 1],
          ["butterworth", 3],
          ["linkwitz-riley", 2],
          ["linkwitz-riley", 4],
          ["linkwitz-riley", 8],
        ] as const
      ).map(([family, order]) => {
        const made = [8, 20].map((spacing) => multiWay({ family, order, frequencies: [300, 300 * spacing], load: 8 }));
        return [
          `${family} ${order}`,
          ...made.map(({ sum }) => `${fixed(sum.lowestDb, 2)} to ${fixed(sum.highestDb, 2)} dB`),
          `${fixed(made[0]!.correctedSum!.lowestDb, 2)} dB`,
        ];
      }),
    ),
    derived: table(
      ["target, order", "lowest way's denominator, highest power first", "middle driver", "reverse middle"],
      (["all-pass", "constant-power"] as const).flatMap((target) =>
        [1, 2, 3, 4].map((order) => {
          const made = derivedThreeWay({ target, order, frequencies: [300, 2400], load: 8 });
          return [
            `${target}, ${order}`,
            made.denominator.map((value) => value.toFixed(4)).join(", "),
            `${fixed(made.ways[1].gainDb, 2)} dB`,
            made.ways[1].polarity === "reversed" ? "yes" : "no",
          ];
        }),
      ),
    ),
    conjugate: table(
      ["network", "parts", "largest deviation of Z/Re from 1, 10 Hz to 20 kHz"],
      [
        [
          "exact",
          `${formatQuantity(exact.r, "Ω")} + [${formatQuantity(exact.c!, "F")} ∥ (${formatQuantity(exact.rm, "Ω")} + ${formatQuantity(exact.lc, "H")} + ${formatQuantity(exact.cc, "F")})]`,
          "0",
        ],
        [
          "two branches",
          `${formatQuantity(exact.r, "Ω")} + ${formatQuantity(exact.c!, "F")}, and ${formatQuantity(exact.rc, "Ω")} + ${formatQuantity(exact.lc, "H")} + ${formatQuantity(exact.cc, "F")}`,
          fixed(approximateConjugate(driver).error.worst, 3),
        ],
      ],
    ),
    "lossy-zobel": table(
      ["network", "R", "C", "largest deviation of Z/Re from 1, 200 Hz to 20 kHz"],
      [
        ["without", "", "", fixed(best.before.worst, 2)],
        ["best RC", formatQuantity(best.r, "Ω"), formatQuantity(best.c, "F"), fixed(best.error.worst, 2)],
      ],
    ),
    refit: table(
      ["coil Q at the corner", "L1", "C2", "L3", "C4", "level lost", "error", "error without refit"],
      [100, 50, 25, 15].map((coilQ) => {
        const lossy = refitLadder(ladder(linkwitzRiley(4), { pass: "low", frequency: 1000, load: 8 }), { coilQ, at: 1000 });
        return [
          String(coilQ),
          ...lossy.elements.map(cell),
          `${fixed(lossy.levelLossDb, 2)} dB`,
          `${fixed(lossy.error.worstDb, 2)} dB`,
          `${fixed(lossy.errorBefore.worstDb, 2)} dB`,
        ];
      }),
    ),
    acoustic: table(
      ["driver", "electrical order", "−3 dB at", "parts", "error"],
      (
        [
          [850, 1.3],
          [850, 0.7],
          [1400, 0.7],
          [2000, Math.SQRT1_2],
        ] as const
      ).flatMap(([frequency, q]) => {
        const made = acousticTarget({
          family: "linkwitz-riley",
          order: 4,
          pass: "high",
          frequency: 2000,
          load: 6,
          driver: { order: 2, frequency, q },
        });
        return made.candidates
          .slice(0, 2)
          .map((each, k) => [
            k === 0 ? `${frequency} Hz, Q ${Number(q.toFixed(2))}` : "",
            String(each.order),
            formatQuantity(each.cornerFrequency, "Hz"),
            each.elements
              .map((element) => `${element.designator} ${formatQuantity(element.value, element.kind === "inductor" ? "H" : "F")}`)
              .join(", "),
            `${fixed(each.error.worstDb, 2)} dB`,
          ]);
      }),
    ),
    duality: table(
      ["way", "values"],
      (["low", "high"] as const).map((pass) => [
        pass,
        ladder(butterworth(3), { pass, frequency: 1000, load: 8 })
          .elements.map((element) => `${element.designator} ${cell(element)}`)
          .join(", "),
      ]),
    ),
    tilt: table(
      ["order", "polarity", "phase of low less high, with polarity", "lobe tilts"],
      [1, 3, 5].flatMap((order) => {
        const made = crossover({ family: "butterworth", order, frequency: 1000, load: 8 });
        return (["same", "reversed"] as const).map((polarity) => {
          const raw = crossoverSum(made, [1000]).phaseDifferenceDegrees[0]! + (polarity === "reversed" ? 180 : 0);
          const turned = Math.round(raw - 360 * Math.round(raw / 360));
          return [
            String(order),
            polarity + (polarity === made.polarity ? " (less delay)" : ""),
            `${fixed(turned, 0)}°`,
            turned < 0 ? "towards the low-pass driver" : "towards the high-pass driver",
          ];
        });
      }),
    ),
    "high-levels": table(
      ["family", "order", "an octave into the stopband"],
      (
        [
          ["Butterworth", butterworth],
          ["Legendre–Papoulis", legendrePapoulis],
          ["Bessel (half-power)", (n: number) => bessel(n)],
          ["Chebyshev 0.5 dB", (n: number) => chebyshev(n, { rippleDb: 0.5 })],
          ["critically damped", (n: number) => criticallyDamped(n)],
        ] as const
      ).flatMap(([name, make]) =>
        [3, 4].map((n) => [name, String(n), `${fixed(levelDb(responseOf(highPass(make(n), 1000), [500]))[0]!, 1)} dB`]),
      ),
    ),
  };
}
