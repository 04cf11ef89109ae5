// Tests src/parts/: driver-law.ts, measured-law.ts
// A driver by its parameters against the circuit that it stands for: resistors, coils and capacitors put through the solver.
// Motional branch after Small (1972), lossy coil as a resistance across a second inductance or as K(jω)ⁿ after Leach (2002).
import { solve, type Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse, resample } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { uniform } from "../support/uniform";
import { cases } from "../support/cases";

const decade = (middle: number, spread: number) => uniform(-spread, spread).map((exponent) => middle * 10 ** exponent);
const q = uniform(0.1, 20);
const parameters = fc.record({
  re: decade(6, 0.7),
  le: decade(3e-4, 1),
  re2: decade(5, 1),
  le2: decade(5e-4, 1),
  fs: decade(200, 1.3),
  qms: q,
  qes: q,
});
const grid = Float64Array.from({ length: 41 }, (_, i) => 10 ** (i / 10 + 1));

/** The same driver drawn as parts between `in` and `gnd`. */
function drawn({
  re,
  le,
  re2,
  le2,
  fs,
  qms,
  qes,
}: {
  readonly re: number;
  readonly le: number;
  readonly re2: number;
  readonly le2: number;
  readonly fs: number;
  readonly qms: number;
  readonly qes: number;
}): Entries {
  const omega = 2 * Math.PI * fs;
  const res = (re * qms) / qes;
  return {
    L1: [inductor(le, { dcr: re }), "in", "a"],
    R2: [resistor(re2), "a", "b"],
    L2: [inductor(le2), "a", "b"],
    Res: [resistor(res), "b", "gnd"],
    Lces: [inductor(res / (qms * omega)), "b", "gnd"],
    Cmes: [capacitor(qms / (omega * res)), "b", "gnd"],
  };
}

describe("a driver's impedance by parameters", () => {
  it("is that of its equivalent circuit, to 1e-12", () => {
    fc.assert(
      fc.property(parameters, (options) => {
        const [part, circuit] = [solve({ driver: [driverImpedance(options), "in", "gnd"] }, grid), solve(drawn(options), grid)];
        grid.forEach((_, i) => {
          const miss = Math.hypot(part.impedance.re[i]! - circuit.impedance.re[i]!, part.impedance.im[i]! - circuit.impedance.im[i]!);
          expect(miss).toBeLessThan(1e-12 * Math.hypot(part.impedance.re[i]!, part.impedance.im[i]!));
        });
      }),
    );
  });

  it("drives a network as its equivalent circuit does", () => {
    fc.assert(
      fc.property(parameters, (options) => {
        const filter = { C1: [capacitor(1e-5), "amp", "in"], L3: [inductor(5e-4, { dcr: 0.3 }), "in", "gnd"] } as const;
        const behind = (entries: Entries): Entries =>
          Object.fromEntries(
            Object.entries({ ...filter, ...entries }).map(([name, [part, a, b]]) => [
              name,
              [part, a === "in" ? "t" : a === "amp" ? "in" : a, b === "in" ? "t" : b] as never,
            ]),
          );
        const [one, two] = [solve(behind({ driver: [driverImpedance(options), "in", "gnd"] }), grid), solve(behind(drawn(options)), grid)];
        grid.forEach((_, i) => {
          const [a, b] = [one.voltage("t"), two.voltage("t")];
          expect(Math.hypot(a.re[i]! - b.re[i]!, a.im[i]! - b.im[i]!)).toBeLessThan(1e-12 * Math.max(1, Math.hypot(a.re[i]!, a.im[i]!)));
        });
      }),
      { numRuns: cases(50) },
    );
  });

  it("at 0 Hz is its direct-current resistance", () => {
    const { impedance } = solve(
      { driver: [driverImpedance({ re: 5.5, le: 3e-4, k: 0.02, n: 0.6, fs: 40, qms: 3, qes: 0.4 }), "in", "gnd"] },
      [0, 1e-6],
    );
    expect([impedance.re[0], Math.abs(impedance.im[0]!)]).toEqual([5.5, 0]);
    expect(Math.hypot(impedance.re[1]! - 5.5, impedance.im[1]!)).toBeLessThan(1e-4);
  });

  it("with K(jω)ⁿ has a phase of n·90° and grows as ωⁿ; n = 1 is an inductance", () => {
    const z = (options: { readonly k: number; readonly n: number }) =>
      solve({ driver: [driverImpedance({ re: 1e-9, ...options }), "in", "gnd"] }, [100, 1000]).impedance;
    const half = z({ k: 0.05, n: 0.5 });
    expect(half.re[1]! / half.im[1]!).toBeCloseTo(1, 7);
    expect(Math.hypot(half.re[1]!, half.im[1]!)).toBeCloseTo(0.05 * Math.sqrt(2000 * Math.PI), 8);
    expect(Math.hypot(half.re[1]!, half.im[1]!) / Math.hypot(half.re[0]!, half.im[0]!)).toBeCloseTo(Math.sqrt(10), 8);
    const full = z({ k: 3e-4, n: 1 });
    expect(full.im[1]).toBeCloseTo(2000 * Math.PI * 3e-4, 12);
  });

  it("that says nothing of a term leaves it out", () => {
    const { impedance } = solve({ driver: [driverImpedance({ re: "5 Ω" }), "in", "gnd"] }, [1, 1e5]);
    expect([...impedance.re, ...impedance.im.map(Math.abs)]).toEqual([5, 5, 0, 0]);
  });
});

describe("a driver's impedance as measured", () => {
  const model = driverImpedance({ re: 5.5, le: "0.3 mH", re2: 3, le2: "0.5 mH", fs: 60, qms: 4, qes: 0.5 });
  const frequencies = Float64Array.from({ length: 481 }, (_, i) => 20 * 2 ** (i / 48));
  const truth = solve({ driver: [model, "in", "gnd"] }, frequencies).impedance;
  const measured = driverImpedance(frequencyResponse(frequencies, truth.re, truth.im));

  it("is exactly itself at the samples, all of them or a few", () => {
    const all = solve({ driver: [measured, "in", "gnd"] }, frequencies).impedance;
    const few = solve(
      { driver: [measured, "in", "gnd"] },
      frequencies.filter((_, i) => i % 7 === 3),
    ).impedance;
    frequencies.forEach((_, i) =>
      expect(Math.hypot(all.re[i]! - truth.re[i]!, all.im[i]! - truth.im[i]!)).toBeLessThan(
        1e-15 * Math.hypot(truth.re[i]!, truth.im[i]!) * 4,
      ),
    );
    few.re.forEach((re, i) => expect(Math.abs(re - truth.re[7 * i + 3]!)).toBeLessThan(4e-15 * re));
  });

  it("is what resampling makes of it between the samples, close to the driver that was measured", () => {
    const between = Float64Array.from({ length: 480 }, (_, i) => 20 * 2 ** ((i + 0.5) / 48));
    const { impedance } = solve({ driver: [measured, "in", "gnd"] }, between);
    const expected = resample(frequencyResponse(frequencies, truth.re, truth.im), between, { delay: 0 });
    const real = solve({ driver: [model, "in", "gnd"] }, between).impedance;
    between.forEach((_, i) => {
      const size = Math.hypot(real.re[i]!, real.im[i]!);
      expect(Math.hypot(impedance.re[i]! - expected.re[i]!, impedance.im[i]! - expected.im[i]!)).toBeLessThan(1e-14 * size);
      expect(Math.hypot(impedance.re[i]! - real.re[i]!, impedance.im[i]! - real.im[i]!)).toBeLessThan(1e-3 * size);
    });
  });

  it("stays passive between samples that are", () => {
    const sample = fc.tuple(uniform(0, 2), uniform(-89, 89));
    fc.assert(
      fc.property(fc.array(sample, { minLength: 2, maxLength: 12 }), (samples) => {
        const z = samples.map(
          ([exponent, degrees]) =>
            [10 ** exponent * Math.cos((degrees * Math.PI) / 180), 10 ** exponent * Math.sin((degrees * Math.PI) / 180)] as const,
        );
        const response = frequencyResponse(
          z.map((_, i) => 100 * 2 ** (i / 6)),
          z.map(([re]) => re),
          z.map(([, im]) => im),
        );
        const asked = Array.from({ length: 10 * (z.length - 1) }, (_, i) => 100 * 2 ** ((i + 0.5) / 60));
        try {
          const { admittance } = solve({ driver: [driverImpedance(response), "in", "gnd"] }, asked);
          expect(Math.min(...admittance.re)).toBeGreaterThan(0);
        } catch (error) {
          // A turn of more than 90° between two samples is refused, and so is a curve that swings beyond ±90° between them.
          expect(["phase-step", "invalid-response"]).toContain((error as { code?: string }).code);
          expect((error as { message: string }).message).toContain(" Hz");
        }
      }),
    );
  });

  it("is refused outside its band, at both ends, with the band", () => {
    for (const frequency of [19.99, 20_481])
      expect(() => solve({ driver: [measured, "in", "gnd"] }, [frequency])).toThrow(`from 20 Hz to 20480 Hz, asked for ${frequency} Hz`);
    expect(solve({ driver: [measured, "in", "gnd"] }, [frequencies[0]!, frequencies[480]!]).impedance.re[0]).toBeCloseTo(truth.re[0]!, 12);
  });

  it("has no values to vary, and carries its marks into the answers", () => {
    const marked = driverImpedance(
      frequencyResponse(frequencies, truth.re, truth.im, [{ kind: "no-data", to: 30, note: "The microphone's amplifier hums." }]),
    );
    const sweep = solve({ C1: [capacitor(1e-5), "in", "t"], driver: [marked, "t", "gnd"], second: [marked, "t", "gnd"] }, frequencies);
    expect(sweep.voltage("t").marks).toEqual([{ kind: "no-data", to: 30, note: "The microphone's amplifier hums." }]);
    expect(sweep.impedance.marks).toHaveLength(1);
  });

  it("is not changed by being solved", () => {
    const copies = [frequencies.slice(), truth.re.slice(), truth.im.slice()];
    solve({ driver: [measured, "in", "gnd"] }, frequencies).current("driver");
    expect([frequencies, truth.re, truth.im]).toEqual(copies);
  });
});
