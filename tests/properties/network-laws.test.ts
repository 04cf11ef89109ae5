// The laws that every solution of a linear passive network obeys, on random networks (ladders, bridges, series connections,
// dead ends, 0 Ω links; with and without coupled coils) whose values span 12 decades, at frequencies over 12 decades.
import { uniform } from "../support/uniform";
import { compile, network, solve, type Entries, type Entry, type Sweep } from "dividing-network/network";
import { coupling, inductor, resistor, transformer } from "dividing-network/parts";
import fc from "fast-check";
import { Matrix, solve as solveMatrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { arbitraryFrequency, arbitraryNetwork } from "../support/arbitrary-network";
import { nodesOf } from "../support/random-network";
import { cases } from "../support/cases";

type C = readonly [re: number, im: number];

const plain = arbitraryNetwork();
const coupled = arbitraryNetwork({ coupled: true });
const both = fc.oneof(plain, coupled);
const runs = { numRuns: cases(150) };

const value = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }, at = 0): C => [re[at]!, im[at]!];
const size = ([re, im]: C): number => Math.hypot(re, im);
const distance = (a: C, b: C): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const partsOf = (entries: Entries): string[] => Object.keys(entries).filter((name) => entries[name]![0].kind !== "coupling");
const largest = (values: readonly C[]): number => Math.max(...values.map(size));
const renamed = (entries: Entries, names: Readonly<Record<string, string>>): Entries =>
  Object.fromEntries(
    Object.entries(entries).map(([name, [part, ...nodes]]) => [
      name,
      (part.kind === "coupling" ? [part, ...nodes] : [part, ...nodes.map((node) => names[node] ?? node)]) as unknown as Entry,
    ]),
  );
const voltages = (sweep: Sweep, names: readonly string[], at = 0): C[] => names.map((name) => value(sweep.voltage(name), at));

describe("every solved network", () => {
  it("obeys Kirchhoff's current law at every node, to 1e-12 of the largest current", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, (entries, frequency) => {
        const sweep = solve(entries, [frequency]);
        const into = new Map<string, [number, number]>();
        const flow = (node: string, [re, im]: C, sign: number) => {
          const sum = into.get(node) ?? [0, 0];
          into.set(node, [sum[0] + sign * re, sum[1] + sign * im]);
        };
        const currents = partsOf(entries).map((name) => {
          const current = value(sweep.current(name));
          flow(entries[name]![1], current, -1);
          flow(entries[name]![2], current, 1);
          return current;
        });
        const source = value(sweep.sourceCurrent);
        flow("in", source, 1);
        flow("gnd", source, -1);
        const scale = largest([...currents, source]);
        // The current of a coupled coil is what its own voltage drives less what its neighbours' do: at a loose end nothing is left but the rounding of these.
        const wound = Object.values(entries).flatMap(([part, ...names]) => (part.kind === "coupling" ? names : []));
        const driven = wound.map((name) => {
          const { inductance, dcr } = entries[name]![0] as unknown as { inductance: number; dcr: number };
          return size(value(sweep.voltage(name))) / Math.hypot(dcr, 2 * Math.PI * frequency * inductance);
        });
        const rounding = 2 ** -52 * Math.max(0, ...driven);
        for (const [node, sum] of into) expect(size(sum), node).toBeLessThanOrEqual(1e-12 * scale + 4 * rounding);
      }),
      {
        numRuns: cases(400),
        // Found by search: a winding of 1.5 nH with a loose end, in which 2 A and 2 A leave 4·10⁻¹⁶ A.
        examples: [
          [
            {
              L1: [inductor(1.3609415023454257, { dcr: 3e-7 }), "in", "gnd"],
              L2: [inductor(1.503060703336659e-9), "a", "gnd"],
              R1: [resistor(9.999999999999999e-6), "b", "gnd"],
              K1: [coupling(-0.16439105214577518), "L1", "L2"],
            } as Entries,
            283.7539555465516,
          ],
        ],
      },
    );
  });

  it("obeys Kirchhoff's voltage law: a part has the difference of its nodes' voltages", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, (entries, frequency) => {
        const sweep = solve(entries, [frequency]);
        const scale = largest(voltages(sweep, nodesOf(entries)));
        for (const name of partsOf(entries)) {
          const [, a, b] = entries[name]!;
          const [from, to] = [value(sweep.voltage(a)), value(sweep.voltage(b))];
          expect(distance(value(sweep.voltage(name)), [from[0] - to[0], from[1] - to[1]])).toBeLessThanOrEqual(1e-12 * scale);
          expect(distance(value(sweep.voltageBetween(a, b)), value(sweep.voltage(name)))).toBeLessThanOrEqual(1e-12 * scale);
        }
        expect(value(sweep.voltage("in"))).toEqual([1, 0]);
        expect(value(sweep.voltage("gnd"))).toEqual([0, 0]);
      }),
      runs,
    );
  });

  it("is passive: the impedance has no negative real part beyond 1e-12 of its magnitude", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, (entries, frequency) => {
        const { admittance } = solve(entries, [frequency]);
        const y = value(admittance);
        // Re Z/|Z| = Re Y/|Y|; Y is also there where no current flows.
        expect(y[0]).toBeGreaterThanOrEqual(-1e-12 * size(y));
      }),
      { numRuns: cases(400) },
    );
  });

  it("balances: complex power from the source is that of all parts, after Tellegen, to 1e-12 of the sum of magnitudes", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, (entries, frequency) => {
        const sweep = solve(entries, [frequency]);
        const source = value(sweep.sourceCurrent);
        let [re, im] = [-source[0], source[1]];
        let scale = size(source);
        for (const name of partsOf(entries)) {
          const [v, i] = [value(sweep.voltage(name)), value(sweep.current(name))];
          re += v[0] * i[0] + v[1] * i[1];
          im += v[1] * i[0] - v[0] * i[1];
          scale += size(v) * size(i);
        }
        expect(Math.hypot(re, im)).toBeLessThanOrEqual(1e-12 * scale);
      }),
      { numRuns: cases(400) },
    );
  });

  it("balances: the source's power is what the resistances turn into heat, and its reactive power what coils and capacitors hold", () => {
    fc.assert(
      fc.property(plain, arbitraryFrequency, (entries, frequency) => {
        const sweep = solve(entries, [frequency]);
        const source = value(sweep.sourceCurrent);
        const omega = 2 * Math.PI * frequency;
        let [heat, held, scale] = [0, 0, 0];
        for (const name of partsOf(entries)) {
          const [part] = entries[name]!;
          const square = size(value(sweep.current(name))) ** 2;
          const [r, x] =
            part.kind === "inductor"
              ? [part.dcr, omega * part.inductance]
              : part.kind === "capacitor"
                ? [part.esr + part.dissipationFactor / (omega * part.capacitance), -1 / (omega * part.capacitance)]
                : part.kind === "resistor"
                  ? [part.resistance, 0]
                  : [NaN, NaN];
          heat += square * r;
          held += square * x;
          scale += square * Math.hypot(r, x);
        }
        expect(Math.abs(source[0] - heat)).toBeLessThanOrEqual(1e-12 * (scale + size(source)));
        expect(Math.abs(-source[1] - held)).toBeLessThanOrEqual(1e-12 * (scale + size(source)));
      }),
      { numRuns: cases(400) },
    );
  });

  it("is reciprocal: a volt at one port drives through a short at another what it drives the other way round", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, fc.nat(), (entries, frequency, choice) => {
        const others = nodesOf(entries).filter((node) => node !== "in");
        fc.pre(others.length > 0);
        const port = others[choice % others.length]!;
        const forth: Entries = { ...entries, meter: [resistor(0), port, "gnd"] };
        const back: Entries = { ...renamed(entries, { in: port, [port]: "in" }), meter: [resistor(0), port, "gnd"] };
        fc.pre(!bridged(forth) && !bridged(back));
        const [a, b] = [solve(forth, [frequency]), solve(back, [frequency])];
        const [first, second] = [value(a.current("meter")), value(b.current("meter"))];
        // What the short carries is a sum of currents that may cancel.
        const flows = (sweep: Sweep, all: Entries) => Math.max(...partsOf(all).map((name) => size(value(sweep.current(name)))));
        expect(distance(first, second)).toBeLessThanOrEqual(1e-12 * Math.max(flows(a, forth), flows(b, back)));
      }),
      runs,
    );
  });

  it("superposes: two sources together give the sum of what each gives while the other is shorted", () => {
    const lossy = arbitraryNetwork({ decades: 4, kinds: ["resistor", "lossy coil", "lossy capacitor"] });
    fc.assert(
      fc.property(lossy, uniform(0.1, 5), fc.boolean(), fc.nat(), arbitraryFrequency, (entries, amount, negative, choice, frequency) => {
        const others = nodesOf(entries).filter((node) => node !== "in");
        fc.pre(others.length > 1);
        const port = others[choice % others.length]!;
        const second = negative ? -amount : amount;
        // An ideal transformer makes the second source of the first.
        const together = solve<Entries>({ ...entries, T1: [transformer({ ratio: 1 / second }), "in", "gnd", port, "gnd"] }, [frequency]);
        const short: Entry = [resistor(0), port, "gnd"];
        const first: Sweep = solve<Entries>({ ...entries, short }, [frequency]);
        const other: Sweep = solve<Entries>({ ...renamed(entries, { in: port, [port]: "in" }), short }, [frequency]);
        const inner = others.filter((node) => node !== port);
        const scale = largest([...voltages(first, inner), ...voltages(other, inner), [second, 0], [1, 0]]);
        for (const node of inner) {
          const [x, y] = [value(first.voltage(node)), value(other.voltage(node))];
          expect(distance(value(together.voltage(node)), [x[0] + second * y[0], x[1] + second * y[1]])).toBeLessThanOrEqual(1e-12 * scale);
        }
      }),
      runs,
    );
  });

  it("scales: all impedances times a gives the same voltages and a times the impedance", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, fc.integer({ min: -10, max: 10 }), (entries, frequency, power) => {
        // Powers of two scale the numbers without rounding, so that no resonance can magnify a difference.
        const a = 2 ** power;
        const scaled = mapParts(entries, { r: a, l: a, c: 1 / a });
        const [one, other] = [solve(entries, [frequency]), solve(scaled, [frequency])];
        const names = nodesOf(entries);
        const scale = largest(voltages(one, names));
        names.forEach((name) => expect(distance(value(one.voltage(name)), value(other.voltage(name)))).toBeLessThanOrEqual(1e-12 * scale));
        const [y, z] = [value(one.admittance), value(other.admittance)];
        expect(distance(y, [z[0] * a, z[1] * a])).toBeLessThanOrEqual(1e-12 * size(y));
      }),
      runs,
    );
  });

  it("scales: a times the frequency with coils and capacitors divided by a changes nothing", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, fc.integer({ min: -10, max: 10 }), (entries, frequency, power) => {
        const a = 2 ** power;
        const [one, other] = [solve(entries, [frequency]), solve(mapParts(entries, { r: 1, l: 1 / a, c: 1 / a }), [frequency * a])];
        const names = nodesOf(entries);
        const scale = largest(voltages(one, names));
        names.forEach((name) => expect(distance(value(one.voltage(name)), value(other.voltage(name)))).toBeLessThanOrEqual(1e-12 * scale));
        expect(distance(value(one.admittance), value(other.admittance))).toBeLessThanOrEqual(1e-12 * size(value(one.admittance)));
      }),
      runs,
    );
  });

  it("keeps its voltages when a part is made of two halves in series or two doubles in parallel", () => {
    fc.assert(
      fc.property(plain, arbitraryFrequency, fc.nat(), fc.boolean(), (entries, frequency, choice, series) => {
        const names = partsOf(entries);
        const name = names[choice % names.length]!;
        const [part, a, b] = entries[name]!;
        // Half or double the impedance, exactly.
        const a2 = series ? 0.5 : 2;
        const piece = mapParts({ [name]: entries[name]! }, { r: a2, l: a2, c: 1 / a2 })[name]![0] as typeof part;
        fc.pre(series || !(part.kind === "resistor" && part.resistance === 0));
        const split: Entries = series
          ? { ...entries, [name]: [piece, a, "half"] as Entry, other: [piece, "half", b] as Entry }
          : { ...entries, [name]: [piece, a, b] as Entry, other: [piece, a, b] as Entry };
        const [one, two] = [solve(entries, [frequency]), solve(split, [frequency])];
        const nodes = nodesOf(entries);
        const scale = largest(voltages(one, nodes));
        nodes.forEach((node) => expect(distance(value(one.voltage(node)), value(two.voltage(node)))).toBeLessThanOrEqual(1e-12 * scale));
        if (series)
          expect(distance(value(one.current(name)), value(two.current("other")))).toBeLessThanOrEqual(1e-12 * flowsOf(one, entries));
      }),
      runs,
    );
  });

  it("doesn't depend on the names of nodes, the order of parts, or which way round a part stands", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, fc.infiniteStream(uniform(0, 1)), (entries, frequency, stream) => {
        const nodes = nodesOf(entries);
        const draw = () => stream.next().value as number;
        const shuffled = <T>(list: readonly T[]): T[] =>
          list
            .map((item) => [draw(), item] as const)
            .sort((x, y) => x[0] - y[0])
            .map(([, item]) => item);
        const names = Object.fromEntries(shuffled(nodes.filter((node) => node !== "in")).map((node, i) => [node, `m${i}`]));
        const turned = new Set(
          Object.keys(entries).filter((name) => draw() < 0.5 && !["inductor", "coupling"].includes(entries[name]![0].kind)),
        );
        const other: Entries = Object.fromEntries(
          shuffled(Object.entries(renamed(entries, names))).map(([name, [part, a, b]]) => [
            name,
            (turned.has(name) ? [part, b, a] : [part, a, b]) as Entry,
          ]),
        );
        const [one, two] = [solve(entries, [frequency]), solve(other, [frequency])];
        const scale = largest(voltages(one, nodes));
        for (const node of nodes)
          expect(distance(value(one.voltage(node)), value(two.voltage(names[node] ?? node)))).toBeLessThanOrEqual(1e-12 * scale);
        const flow = flowsOf(one, entries);
        for (const name of partsOf(entries)) {
          const [x, y] = [value(one.current(name)), value(two.current(name))];
          const sign = turned.has(name) ? -1 : 1;
          expect(distance(x, [sign * y[0], sign * y[1]])).toBeLessThanOrEqual(1e-12 * flow);
        }
      }),
      runs,
    );
  });

  it("agrees with a dense nodal solution by ml-matrix on the real system of twice the size", () => {
    // The dense solution sums its diagonal, which loses the digits that the library keeps: three decades of values, and 1e-9.
    const moderate = arbitraryNetwork({ decades: 3, kinds: ["resistor", "lossy coil", "lossy capacitor", "leaky capacitor"] });
    fc.assert(
      fc.property(moderate, uniform(1, 5), (entries, exponent) => {
        const frequency = 10 ** exponent;
        const nodes = nodesOf(entries).filter((node) => node !== "in");
        fc.pre(nodes.length > 0);
        const n = nodes.length;
        const matrix = Matrix.zeros(2 * n, 2 * n);
        const right = Matrix.zeros(2 * n, 1);
        const add = (row: number, column: number, [g, b]: C, sign: number) => {
          for (const [i, j, x] of [
            [0, 0, g],
            [0, n, -b],
            [n, 0, b],
            [n, n, g],
          ] as const)
            matrix.set(row + i, column + j, matrix.get(row + i, column + j) + sign * x);
        };
        for (const [part, ...ends] of Object.values(entries)) {
          const y = admittanceOf(part, 2 * Math.PI * frequency);
          ends.forEach((end, side) => {
            const row = nodes.indexOf(end);
            if (row < 0) return;
            add(row, row, y, 1);
            const other = ends[1 - side]!;
            const column = nodes.indexOf(other);
            if (column >= 0) add(row, column, y, -1);
            else if (other === "in") [0, n].forEach((offset, part2) => right.set(row + offset, 0, right.get(row + offset, 0) + y[part2]!));
          });
        }
        const x = solveMatrix(matrix, right);
        const sweep = solve(entries, [frequency]);
        const scale = largest(voltages(sweep, nodes)) || 1;
        nodes.forEach((node, i) =>
          expect(distance(value(sweep.voltage(node)), [x.get(i, 0), x.get(n + i, 0)])).toBeLessThanOrEqual(1e-9 * scale),
        );
      }),
      runs,
    );
  });

  it("has at each frequency of a grid what it has there alone", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ coupled: true, kinds: ["resistor", "lossy coil", "lossy capacitor", "link"] }),
        fc.nat({ max: 299 }),
        fc.integer({ min: 1, max: 300 }),
        (entries, choice, count) => {
          const grid = Float64Array.from({ length: count }, (_, i) => 10 * 1.03 ** i);
          const at = choice % count;
          const [whole, alone] = [compile(entries).sweep(grid), compile(entries).sweep([grid[at]!])];
          for (const node of nodesOf(entries)) expect(value(whole.voltage(node), at)).toEqual(value(alone.voltage(node)));
          for (const name of partsOf(entries)) expect(value(whole.current(name), at)).toEqual(value(alone.current(name)));
          expect(value(whole.admittance, at)).toEqual(value(alone.admittance));
        },
      ),
      { numRuns: cases(60) },
    );
  });

  it("with a source impedance is the network behind that impedance as a part", () => {
    const lossy = arbitraryNetwork({ kinds: ["resistor", "lossy coil", "lossy capacitor", "link"] });
    fc.assert(
      fc.property(lossy, arbitraryFrequency, uniform(-3, 3), uniform(-9, -2), (entries, frequency, r, l) => {
        const [resistance, inductance] = [10 ** r, 10 ** l];
        const given = solve(entries, [frequency], { sourceImpedance: { resistance, inductance } });
        const drawn = solve<Entries>(
          { ...renamed(entries, { in: "terminal" }), source: [inductor(inductance, { dcr: resistance }), "in", "terminal"] },
          [frequency],
        );
        const nodes = nodesOf(entries);
        const scale = Math.max(1e-3, largest(voltages(given, nodes)));
        for (const node of nodes)
          expect(distance(value(given.voltage(node)), value(drawn.voltage(node === "in" ? "terminal" : node)))).toBeLessThanOrEqual(
            1e-12 * scale,
          );
        expect(distance(value(given.sourceCurrent), value(drawn.sourceCurrent))).toBeLessThanOrEqual(
          1e-12 * size(value(drawn.sourceCurrent)),
        );
        expect(value(given.admittance)).toEqual(value(solve(entries, [frequency]).admittance));
      }),
      runs,
    );
  });

  it("leaves the network, its parts and the frequencies as they were", () => {
    fc.assert(
      fc.property(both, arbitraryFrequency, (entries, frequency) => {
        const grid = Float64Array.of(frequency, frequency * 2, frequency * 3);
        const before = [JSON.stringify(entries), grid.slice()] as const;
        const made = network(entries);
        const sweep = solve(made, grid, { sourceImpedance: Object.freeze({ resistance: 0.1 }) });
        nodesOf(entries).forEach((node) => sweep.voltage(node));
        partsOf(entries).forEach((name) => sweep.current(name));
        void sweep.sourceCurrent;
        expect([JSON.stringify(entries), grid]).toEqual(before);
        expect(JSON.stringify(made)).toBe(before[0]);
        expect(Object.isFrozen(made) && Object.values(made).every((entry) => Object.isFrozen(entry))).toBe(true);
      }),
      { numRuns: cases(50) },
    );
  });
});

/** Whether 0 Ω links join `in` to `gnd`, or close a loop in which no current can be told. */
function bridged(entries: Entries): boolean {
  const group = new Map<string, string>();
  const root = (node: string): string => (group.has(node) ? root(group.get(node)!) : node);
  for (const [part, a, b] of Object.values(entries)) {
    if (part.kind !== "resistor" || part.resistance !== 0) continue;
    if (root(a) === root(b)) return true;
    group.set(root(a), root(b));
  }
  return root("in") === root("gnd");
}

function flowsOf(sweep: Sweep, entries: Entries): number {
  return Math.max(...partsOf(entries).map((name) => size(value(sweep.current(name)))));
}

function mapParts(entries: Entries, { r, l, c }: { readonly r: number; readonly l: number; readonly c: number }): Entries {
  return Object.fromEntries(
    Object.entries(entries).map(([name, [part, ...nodes]]) => {
      const scaled =
        part.kind === "resistor"
          ? resistor(part.resistance * r)
          : part.kind === "inductor"
            ? inductor(part.inductance * l, { dcr: part.dcr * r })
            : part.kind === "capacitor"
              ? { ...part, capacitance: part.capacitance * c, esr: part.esr * r }
              : part;
      return [name, [scaled, ...nodes] as unknown as Entry];
    }),
  );
}

function admittanceOf(part: Entry[0], omega: number): C {
  const inverse = ([re, im]: C): C => [re / (re * re + im * im), -im / (re * re + im * im)];
  if (part.kind === "resistor") return [1 / part.resistance, 0];
  if (part.kind === "inductor") return inverse([part.dcr, omega * part.inductance]);
  if (part.kind === "capacitor")
    return inverse([part.esr + part.dissipationFactor / (omega * part.capacitance), -1 / (omega * part.capacitance)]);
  throw new Error(`no admittance for ${part.kind}`);
}
