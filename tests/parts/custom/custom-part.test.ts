// Tests src/parts/custom/: compound-law.ts
// Parts of one's own against the same network drawn out of resistors, coils and capacitors, which shares no law with them, and against a general circuit simulator.
import { Simulation } from "eecircuit-engine";
import {
  capacitor,
  DividingNetworkError,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  network,
  networkFromJSON,
  networkToJSON,
  resistor,
  solve,
  type Entries,
} from "dividing-network";
import { compile, diagnose, drivingPointImpedance, sensitivities, sumObjective, tolerance } from "dividing-network/network";
import { capacitive, fractional, inductive, inParallel, inSeries, part, resistive, type LawData } from "dividing-network/parts";
import { connections, partsList, schematic } from "dividing-network/report";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases, searchFactor } from "../../support/cases";
import { uniform } from "../../support/uniform";

const grid = logGrid(20, 20_000, 25);
const coredCoil = (l = 1e-3, core = 300, dcr = 0.2) =>
  part({
    title: "Cored coil",
    branches: [{ law: inSeries(inParallel(inductive(l), resistive(core, "coreLoss")), resistive(dcr, "dcr")) }],
  });
const around = (coil: Entries): Entries => ({
  ...coil,
  C1: [capacitor("22 µF", { esr: 0.05 }), "w", "gnd"],
  woofer: [driverImpedance({ re: 6, le: "0.4 mH", fs: 60, qms: 3, qes: 0.5 }), "w", "gnd"],
});
const own = network(around({ L1: [coredCoil(), "in", "w"] }));
const drawn = network(around({ L1: [inductor(1e-3), "in", "x"], Rc: [resistor(300), "in", "x"], Rd: [resistor(0.2), "x", "w"] }));

/** The greatest distance of two curves, as a share of the greatest size. */
function apart(
  a: { readonly re: Float64Array; readonly im: Float64Array },
  b: { readonly re: Float64Array; readonly im: Float64Array },
): number {
  const size = Math.max(...b.re.map((re, i) => Math.hypot(re, b.im[i]!)));
  return Math.max(...a.re.map((re, i) => Math.hypot(re - b.re[i]!, a.im[i]! - b.im[i]!))) / size;
}

describe("a coil with core loss as a part of one's own", () => {
  it("is solved as the same network drawn out, at 0 Hz too", () => {
    const both = [own, drawn].map((entries) => solve(entries as Entries, [0, ...grid]));
    expect(apart(both[0]!.impedance, both[1]!.impedance)).toBeLessThan(1e-13);
    expect(apart(both[0]!.voltage("woofer"), both[1]!.voltage("woofer"))).toBeLessThan(1e-13);
    expect(apart(both[0]!.current("L1"), both[1]!.current("Rd"))).toBeLessThan(1e-13);
    const [seen, from] = [own, drawn].map((entries) =>
      drivingPointImpedance(entries as Entries, { from: "w" }, grid, { without: "woofer" }),
    );
    expect(apart(seen!, from!)).toBeLessThan(1e-12);
  });

  it("is what a circuit simulator finds, to 1e-6", async () => {
    const simulation = new Simulation();
    await simulation.start();
    simulation.setNetList(
      [
        "cored",
        "V1 in 0 DC 0 AC 1",
        "L1 in x 1m",
        "R1 in x 300",
        "R2 x w 0.2",
        "C1 w y 22u",
        "R3 y 0 0.05",
        "R4 w 0 6",
        ".options noopac",
        ".ac dec 5 20 20k",
        ".end",
        "",
      ].join("\n"),
    );
    const result = await simulation.runSim();
    if (result.dataType !== "complex") throw new Error("no answer");
    const column = (name: string) => result.data.find((each) => each.name.toLowerCase() === name)!.values;
    const frequencies = Float64Array.from(column("frequency"), ({ real }) => real);
    const ours = solve(
      { L1: [coredCoil(), "in", "w"], C1: [capacitor("22 µF", { esr: 0.05 }), "w", "gnd"], R4: [resistor(6), "w", "gnd"] },
      frequencies,
    ).voltage("w");
    expect(
      apart(ours, { re: Float64Array.from(column("v(w)"), ({ real }) => real), im: Float64Array.from(column("v(w)"), ({ img }) => img) }),
    ).toBeLessThan(1e-6);
  });

  it("has the slopes of the same network drawn out, by each of its values", () => {
    const slopes = sensitivities(own, grid, { outputs: ["w"] });
    const others = sensitivities(drawn, grid, { outputs: ["w"] });
    for (const [parameter, name] of [
      ["inductance", "L1"],
      ["coreLoss", "Rc"],
      ["dcr", "Rd"],
    ] as const) {
      expect(apart(slopes.voltage("w", "L1", parameter), others.voltage("w", name))).toBeLessThan(1e-11);
      expect(apart(slopes.impedance("L1", parameter), others.impedance(name))).toBeLessThan(1e-11);
    }
    const flat = frequencyResponse([10, 30_000], [1, 1], [0, 0]);
    const options = { frequencies: grid, contributions: { woofer: flat }, target: 0.8 };
    const [first, second] = [
      sumObjective(own, { ...options, vary: ["L1"], parasitics: true }),
      sumObjective(drawn, { ...options, vary: ["L1", "Rc", "Rd"] }),
    ];
    const [a, b] = [new Float64Array(3), new Float64Array(3)];
    const [lossA, lossB] = [
      first.lossAndSlopes(
        first.variables.map(({ value }) => value),
        a,
      ),
      second.lossAndSlopes(
        second.variables.map(({ value }) => value),
        b,
      ),
    ];
    expect(lossA / lossB).toBeCloseTo(1, 12);
    a.forEach((slope, k) => expect(slope / b[k]!).toBeCloseTo(1, 9));
    expect(first.along([1e-3, 300, 0.2], 1)(100)).toBeCloseTo(second.loss([1e-3, 100, 0.2]), 12);
  });

  it("scatters as the same network drawn out, and takes other values in a sweep", () => {
    const limits = { samples: 50, corners: true } as const;
    const [a, b] = [
      tolerance(own, [100, 1000], { outputs: ["w"], tolerances: { L1: { inductance: 0.1, dcr: 0.2 } }, ...limits }),
      tolerance(drawn as Entries, [100, 1000], { outputs: ["w"], tolerances: { L1: 0.1, Rd: 0.2 }, ...limits }),
    ];
    expect(a.bands.w.corners!.lowest[1]).toBeCloseTo(b.bands["w"]!.corners!.lowest[1]!, 9);
    expect(tolerance(own, [1000], { outputs: ["w"], tolerances: { L1: 0.1 }, samples: 10 }).bands.w.nominal[0]).toBe(a.bands.w.nominal[1]);
    const swept = compile(own).sweep(grid, { values: { "L1.coreLoss": "100 Ω", "L1.inductance": 2e-3 } });
    expect(apart(swept.impedance, solve(around({ L1: [coredCoil(2e-3, 100), "in", "w"] }), grid).impedance)).toBeLessThan(1e-14);
    expect(() => compile(own).sweep(grid, { values: { "L1.coreless": 3 } })).toThrow(/L1.inductance, L1.coreLoss, L1.dcr/);
  });

  it("goes through JSON by the data of its laws", () => {
    const json = JSON.parse(JSON.stringify(networkToJSON(own))) as unknown;
    const back = networkFromJSON(json);
    expect(back["L1"]).toEqual(own.L1);
    expect(() =>
      networkFromJSON({
        parts: [
          {
            name: "X1",
            kind: "custom",
            title: "x",
            terminals: 2,
            branches: [{ from: 0, to: 1, law: { law: "magic" } }],
            nodes: ["in", "gnd"],
          },
        ],
      }),
    ).toThrow(/must be a law/);
    expect(() => networkFromJSON({ parts: [{ name: "X1", kind: "custom", nodes: ["in", "gnd"] }] })).toThrow(/title/);
  });

  it("is bought, connected and drawn in words and symbols", () => {
    expect(partsList(own)[0]).toMatchObject({ part: "Cored coil 1 mH", detail: "coreLoss 300 Ω, dcr 0.2 Ω" });
    expect(connections(own)[0]).toEqual(["L1", "Cored coil 1 mH, coreLoss 300 Ω, dcr 0.2 Ω", "in – w"]);
    expect(String(schematic(own))).toContain("1 mH");
    expect(diagnose({ ...own, L1: [coredCoil(), "w", "w"], R1: [resistor(1), "in", "w"] }).map(({ code }) => code)).toContain(
      "part-across-one-node",
    );
  });
});

describe("parts of three and four terminals", () => {
  it("are solved as drawn out", () => {
    const pad = part({
      title: "Pad with compensation",
      terminals: 3,
      branches: [
        { from: 0, to: 1, law: inParallel(resistive(2, "series"), capacitive("4.7 µF", "bypass")) },
        { from: 1, to: 2, law: resistive(6, "shunt") },
      ],
    });
    const one = network({ P1: [pad, "in", "t", "gnd"], tweeter: [resistor(6), "t", "gnd"] });
    const two = network({
      R1: [resistor(2), "in", "t"],
      C1: [capacitor("4.7 µF"), "in", "t"],
      R2: [resistor(6), "t", "gnd"],
      tweeter: [resistor(6), "t", "gnd"],
    });
    expect(apart(solve(one, grid).voltage("t"), solve(two, grid).voltage("t"))).toBeLessThan(1e-13);
    expect(apart(solve(one, grid).impedance, solve(two, grid).impedance)).toBeLessThan(1e-13);
    const twin = part({
      title: "Two resistors",
      terminals: 4,
      branches: [
        { from: 0, to: 1, law: resistive(3, "a") },
        { from: 2, to: 3, law: resistive(5, "b") },
      ],
    });
    expect(solve(network({ X1: [twin, "in", "m", "m", "gnd"] }), [1000]).impedance.re[0]).toBeCloseTo(8, 12);
  });
});

describe("laws within laws", () => {
  const leaf = fc.tuple(fc.integer({ min: 0, max: 2 }), uniform(-1, 1));
  const tree = fc.array(fc.tuple(fc.boolean(), leaf), { minLength: 1, maxLength: 5 });

  it("are what the same elements between nodes are, with their slopes", () => {
    fc.assert(
      fc.property(leaf, tree, (start, steps) => {
        const element = ([kind, size]: readonly [number, number], index: number): readonly [LawData, Entries[string][0]] => {
          const values = [10 * 10 ** size, 1e-3 * 10 ** size, 1e-5 * 10 ** size] as const;
          return kind === 0
            ? [resistive(values[0], `v${index}`), resistor(values[0])]
            : kind === 1
              ? [inductive(values[1], `v${index}`), inductor(values[1])]
              : [capacitive(values[2], `v${index}`), capacitor(values[2])];
        };
        // A ladder from one end: in series a node more, in parallel across all that is there.
        const [least, first] = element(start, 0);
        let law = least;
        const entries: Record<string, unknown> = { E0: [first, "n0", "gnd"] };
        let top = 0;
        steps.forEach(([series, drawnLeaf], k) => {
          const [more, second] = element(drawnLeaf, k + 1);
          law = series ? inSeries(law, more) : inParallel(law, more);
          if (series) entries[`E${k + 1}`] = [second, `n${++top}`, `n${top - 1}`];
          else entries[`E${k + 1}`] = [second, `n${top}`, "gnd"];
        });
        const feed = { Rin: [resistor(7), "in", `n${top}`] };
        const [a, b] = [
          { ...feed, X1: [part({ title: "Tree", branches: [{ law }] }), `n${top}`, "gnd"] },
          { ...feed, ...entries },
        ] as unknown as [Entries, Entries];
        const frequencies = [90, 1_300, 8_000];
        expect(apart(solve(a, frequencies).impedance, solve(b, frequencies).impedance)).toBeLessThan(1e-9);
        const [p, q] = [
          sensitivities<Entries>(a, frequencies, { outputs: [`n${top}`], vary: ["X1"] }),
          sensitivities<Entries>(b, frequencies, { outputs: [`n${top}`], vary: Object.keys(entries) }),
        ];
        for (let k = 0; k <= steps.length; k++) {
          const value = p.variables[k]!.value;
          const [x, y] = [p.voltage(`n${top}`, "X1", `v${k}`), q.voltage(`n${top}`, `E${k}`)];
          x.re.forEach((re, i) => expect(Math.hypot(re - y.re[i]!, x.im[i]! - y.im[i]!) * value).toBeLessThan(1e-8));
        }
      }),
      { numRuns: cases(60), ...(searchFactor > 0 ? {} : { seed: 3 }) },
    );
  });

  it("hold a power of frequency, as a driver's coil K(jω)ⁿ has", () => {
    const coil = part({ title: "Eddy coil", branches: [{ law: inSeries(resistive(5, "re"), fractional({ k: 0.02, n: 0.7 })) }] });
    const [a, b] = [coil, driverImpedance({ re: 5, k: 0.02, n: 0.7 })].map((each) =>
      network({ R1: [resistor(2), "in", "d"], X1: [each, "d", "gnd"] }),
    );
    expect(apart(solve(a!, grid).impedance, solve(b!, grid).impedance)).toBeLessThan(1e-14);
    const [p, q] = [a!, b!].map((entries) => sensitivities<Entries>(entries, grid, { outputs: ["d"] }));
    for (const parameter of ["re", "k", "n"])
      expect(apart(p!.voltage("d", "X1", parameter), q!.voltage("d", "X1", parameter))).toBeLessThan(1e-12);
  });

  it("refuse what is no part", () => {
    const refused = (work: () => unknown): string => {
      try {
        work();
      } catch (error) {
        if (error instanceof DividingNetworkError) return error.message;
        throw error;
      }
      throw new Error("not refused");
    };
    const untyped = part as (options: unknown) => unknown;
    expect(refused(() => part({ title: "x", branches: [] }))).toMatch(/1 to 12 branches/);
    expect(refused(() => part({ title: "x", branches: [{ law: inSeries(resistive(1), resistive(2)) }] }))).toMatch(/name of its own/);
    expect(refused(() => part({ title: "x", terminals: 3, branches: [{ law: resistive(1) }] }))).toMatch(/terminal 2/);
    expect(refused(() => part({ title: "x", branches: [{ from: 1, to: 0, law: resistive(1) }] }))).toMatch(/begin at terminal 0/);
    for (const law of [
      undefined,
      null,
      3,
      {},
      { law: "series", of: [] },
      { law: "resistance", name: "r", value: NaN },
      { law: "resistance", name: "a b", value: 1 },
    ])
      expect(refused(() => untyped({ title: "x", branches: [{ law }] }))).toMatch(/must be|"name"/);
    let deep: unknown = resistive(1);
    for (let k = 0; k < 30; k++) deep = { law: "series", of: [deep] };
    expect(refused(() => untyped({ title: "x", branches: [{ law: deep }] }))).toMatch(/10 deep/);
    const ring: { law: string; of: unknown[] } = { law: "series", of: [] };
    ring.of.push(ring);
    expect(refused(() => untyped({ title: "x", branches: [{ law: ring }] }))).toMatch(/10 deep/);
  });
});
