// Which networks must be solved before it is known whether they can be: against the natural frequencies of the network with its
// source shorted, as eigenvalues of the equations of its nodes and coils.
import { EigenvalueDecomposition, Matrix, solve as solveMatrix } from "ml-matrix";
import fc from "fast-check";
import { capacitor, coupling, driverImpedance, frequencyResponse, inductor, resistor, type Entries, type Entry } from "dividing-network";
import { describe, expect, it } from "vitest";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/solve/elimination";
import { mayResonateWithoutLoss } from "../../src/network/solve/lossless-resonance";
import { cases } from "../support/cases";
import { seeded } from "../support/random-network";

const judged = (entries: Entries) => mayResonateWithoutLoss(eliminationOf(circuitOf(entries), false));
const [l, c, r] = [inductor(1e-3), capacitor(1e-5), resistor(8)];

describe("coils and capacitors without loss", () => {
  it.each<[string, boolean, Entries]>([
    ["in series across the source", true, { L1: [l, "in", "a"], C1: [c, "a", "gnd"] }],
    ["in series behind a resistor", false, { R1: [r, "in", "a"], L1: [l, "a", "b"], C1: [c, "b", "gnd"] }],
    ["side by side in the signal's way", false, { L1: [l, "in", "a"], C1: [c, "in", "a"], R1: [r, "a", "gnd"] }],
    [
      "side by side twice, one pair after the other",
      true,
      { L1: [l, "in", "a"], C1: [c, "in", "a"], L2: [l, "a", "gnd"], C2: [c, "a", "gnd"] },
    ],
    ["side by side across a resistor", false, { R1: [r, "in", "a"], L1: [l, "a", "gnd"], C1: [c, "a", "gnd"], R2: [r, "a", "gnd"] }],
    ["side by side behind a resistor", false, { R1: [r, "in", "a"], L1: [l, "a", "gnd"], C1: [c, "a", "gnd"] }],
    [
      "in a ring that nothing else touches but one node",
      true,
      { R1: [r, "in", "a"], L1: [l, "a", "b"], C1: [c, "b", "a"], R2: [r, "a", "gnd"] },
    ],
    [
      "in a filter of the third order with its load",
      false,
      { C1: [c, "in", "a"], L1: [l, "a", "gnd"], C2: [c, "a", "t"], R1: [r, "t", "gnd"] },
    ],
    ["in one of the third order without its load", true, { C1: [c, "in", "a"], L1: [l, "a", "gnd"], C2: [c, "a", "t"] }],
    [
      "in one of the fifth order with its load",
      false,
      { L1: [l, "in", "a"], C1: [c, "a", "gnd"], L2: [l, "a", "b"], C2: [c, "b", "gnd"], L3: [l, "b", "t"], R1: [r, "t", "gnd"] },
    ],
    ["with a loss in the coil", false, { L1: [inductor(1e-3, { dcr: 0.1 }), "in", "a"], C1: [c, "a", "gnd"] }],
    ["with a loss in the capacitor", false, { L1: [l, "in", "a"], C1: [capacitor(1e-5, { dissipationFactor: 0.001 }), "a", "gnd"] }],
    ["coils alone", false, { L1: [l, "in", "a"], L2: [l, "a", "gnd"] }],
    [
      "across a measured driver",
      false,
      { L1: [l, "in", "a"], C1: [c, "a", "gnd"], woofer: [driverImpedance(frequencyResponse([20, 200], [6, 7], [0, 1])), "a", "gnd"] },
    ],
    [
      "coupled, the second coil closed by a capacitor",
      true,
      { R1: [r, "in", "a"], L1: [l, "a", "gnd"], L2: [l, "b", "gnd"], K1: [coupling(0.5), "L1", "L2"], C1: [c, "b", "gnd"] },
    ],
  ])("%s: %s", (_, expected, entries) => {
    expect(judged(entries)).toBe(expected);
  });

  it("are never called safe where a natural frequency without damping is", () => {
    const seen = { safe: 0, ringing: 0 };
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e9 }),
        fc.integer({ min: 2, max: 5 }),
        fc.integer({ min: 1, max: 5 }),
        (seed, nodes, chords) => {
          const entries = ringing(seeded(seed), nodes, chords);
          const undamped = naturalFrequencies(entries).some(
            ({ re, im }) => Math.abs(re) < 1e-8 * Math.abs(im) && Math.abs(im) > 1e-3 && Math.abs(im) < 1e3,
          );
          seen[undamped ? "ringing" : "safe"]++;
          if (undamped) expect(judged(entries)).toBe(true);
        },
      ),
      { numRuns: cases(400) },
    );
    expect(seen.ringing).toBeGreaterThan(cases(400) / 40);
    expect(seen.safe).toBeGreaterThan(cases(400) / 40);
  });
});

/** A connected network of resistors, coils and capacitors of about 1 Ω, 1 H and 1 F, half of them without loss. */
function ringing(random: () => number, nodes: number, chords: number): Entries {
  const names = ["gnd", "in", ...Array.from({ length: nodes - 1 }, (_, i) => `n${i}`)];
  const pick = (count: number) => Math.floor(random() * count);
  const value = () => 1 + random();
  const part = () =>
    [
      () => resistor(value()),
      () => inductor(value(), random() < 0.3 ? { dcr: value() } : {}),
      () => capacitor(value(), random() < 0.3 ? { esr: value() } : {}),
    ][pick(3)]!();
  const ends = [
    ...names.slice(1).map((name, i) => [name, names[i === 0 ? 0 : pick(i + 1)]!]),
    ...Array.from({ length: chords }, () => [names[pick(nodes + 1)]!, names[pick(nodes + 1)]!]),
  ];
  return Object.fromEntries(ends.filter(([a, b]) => a !== b).map(([a, b], k): [string, Entry] => [`P${k}`, [part(), a!, b!]]));
}

/** The s at which (G + sC)x = 0 with `in` at ground: x the voltages of the nodes, of inner nodes, and the currents of the coils. */
function naturalFrequencies(entries: Entries): { readonly re: number; readonly im: number }[] {
  const { branches, nodes } = circuitOf(entries);
  const unknowns = nodes.length - 2;
  const coils = branches.filter(({ law }) => law.kernel === "coil").length;
  const inner = branches.filter(({ law, values }) => law.kernel === "capacitor" && values[1]! > 0).length;
  const size = unknowns + coils + inner;
  const [g, s] = [Matrix.zeros(size, size), Matrix.zeros(size, size)];
  const row = (node: number) => (node < 2 ? -1 : node - 2);
  const put = (matrix: Matrix, i: number, j: number, value: number) => {
    if (i >= 0 && j >= 0) matrix.set(i, j, matrix.get(i, j) + value);
  };
  const across = (matrix: Matrix, a: number, b: number, value: number) => {
    for (const [i, j, sign] of [
      [a, a, 1],
      [b, b, 1],
      [a, b, -1],
      [b, a, -1],
    ] as const)
      put(matrix, i, j, sign * value);
  };
  let next = unknowns;
  for (const { from, to, law, values } of branches) {
    const [a, b] = [row(from), row(to)];
    if (law.kernel === "resistance") across(g, a, b, 1 / values[0]!);
    else if (law.kernel === "coil") {
      const i = next++;
      for (const [node, sign] of [
        [a, 1],
        [b, -1],
      ] as const) {
        put(g, node, i, sign);
        put(g, i, node, sign);
      }
      put(g, i, i, -values[1]!);
      put(s, i, i, -values[0]!);
    } else if (values[1]! > 0) {
      const x = next++;
      across(s, a, x, values[0]!);
      across(g, x, b, 1 / values[1]!);
    } else across(s, a, b, values[0]!);
  }
  if (size === 0) return [];
  // With A = G + s₀C: A⁻¹C x = μx, s = s₀ − 1/μ.
  const start = 0.6180339;
  const matrix = solveMatrix(Matrix.add(g, Matrix.mul(s, start)), s);
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(matrix);
  return realEigenvalues.flatMap((re, k) => {
    const im = imaginaryEigenvalues[k]!;
    const norm = re * re + im * im;
    return norm < 1e-12 ? [] : [{ re: start - re / norm, im: im / norm }];
  });
}
