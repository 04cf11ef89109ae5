import { cumulativeSpectralDecay, decayTimes, impulseResponse, toneBurstDecay } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const rate = 48000;
/** A damped oscillation: its level falls by 27.3/Q dB per period. */
const ring = (f: number, q: number, n = 9600) =>
  impulseResponse(Float64Array.from({ length: n }, (_, i) => Math.exp((-Math.PI * f * i) / (rate * q)) * Math.sin((2 * Math.PI * f * i) / rate)), { sampleRate: rate });
const perPeriod = (q: number): number => (20 * Math.PI) / Math.LN10 / q;

describe("tone-burst decay", () => {
  it.each([[1000, 10], [4000, 10], [1000, 30]])("of a resonance at %d Hz with Q = %d falls by 27.3/Q dB per period, whatever the frequency", (f, q) => {
    const { levelsDb, times } = toneBurstDecay(ring(f, q), { frequencies: [f], periods: 20, arrival: 0 });
    const at = (periods: number): number => levelsDb[times.indexOf(periods)]![0]!;
    for (const p of [4, 8, 12]) expect((at(p) - at(p + 4)) / 4).toBeCloseTo(perPeriod(q), 1);
  });

  it("reads 0 dB for a click at its own time, and nothing after half the burst", () => {
    const { levelsDb, times } = toneBurstDecay(impulseResponse([0, 0, 1, 0, 0], { sampleRate: rate }), { frequencies: [500, 5000], periods: 6, arrival: 2 / rate, cycles: 4 });
    expect(levelsDb[0]![0]).toBeCloseTo(0, 9);
    expect(levelsDb[0]![1]).toBeCloseTo(0, 9);
    times.forEach((t, i) => {
      if (t > 2) expect(levelsDb[i]![0]).toBe(-Infinity);
    });
  });

  it("gives the time to −x dB: in periods by Q, in seconds by frequency", () => {
    const [slow] = decayTimes(ring(1000, 30), { frequencies: [1000], fallDb: 20, periods: 60, stepsPerPeriod: 8, arrival: 0 });
    const [same] = decayTimes(ring(2000, 30), { frequencies: [2000], fallDb: 20, periods: 60, stepsPerPeriod: 8, arrival: 0 });
    // From the maximum of the burst's response, a little after its middle, another 20 dB at 27.3/Q per period.
    expect(slow!.periods!).toBeGreaterThan(20 / perPeriod(30));
    expect(slow!.periods!).toBeLessThan(20 / perPeriod(30) + 4);
    expect(same!.periods!).toBeCloseTo(slow!.periods!, 0);
    expect(same!.seconds!).toBeCloseTo(same!.periods! / 2000, 12);
    const [never] = decayTimes(ring(1000, 300), { frequencies: [1000], fallDb: 40, periods: 10, arrival: 0 });
    expect(never).toEqual({ frequency: 1000, periods: undefined, seconds: undefined });
  });

  it("reports progress and can be stopped", () => {
    const seen: number[] = [];
    toneBurstDecay(ring(1000, 10), { frequencies: [500, 1000, 2000], onProgress: (done) => seen.push(done), arrival: 0 });
    expect(seen).toEqual([0, 1, 2]);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [1000], signal: { aborted: true } })).toThrow(/stopped/);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [0, 1000] })).toThrow(/above 0/);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [30000] })).toThrow(/at most 24000/);
    expect(() => toneBurstDecay(ring(1000, 10, 400000), { frequencies: Array.from({ length: 5000 }, (_, k) => 1 + k * 0.01), periods: 200 })).toThrow(/1e9/);
  });
});

describe("cumulative spectral decay", () => {
  it("of a resonance falls by its own rate from slice to slice, and starts with the frequency response", () => {
    const { levelsDb, times } = cumulativeSpectralDecay(ring(2000, 20), { frequencies: [1500, 2000], duration: 0.08, slices: 40, arrival: 0, rise: 0.001 });
    const rateDb = (20 / Math.LN10) * Math.PI * (2000 / 20);
    expect((levelsDb[2]![1]! - levelsDb[6]![1]!) / (times[6]! - times[2]!)).toBeCloseTo(rateDb, -1);
    // At resonance the response of e^(−at) sin ωt sampled at 48 kHz: 48000 / 2a.
    expect(levelsDb[0]![1]).toBeCloseTo(20 * Math.log10(rate / (2 * Math.PI * (2000 / 20))), 1);
    expect(levelsDb[0]![1]! - levelsDb[0]![0]!).toBeGreaterThan(15);
  });

  it("says nothing where a slice is too short for the frequency", () => {
    const { levelsDb } = cumulativeSpectralDecay(ring(2000, 20), { frequencies: [150, 2000], duration: 0.01, slices: 10, arrival: 0 });
    expect(levelsDb[0]![0]).toBeGreaterThan(-100);
    expect(levelsDb[5]![0]).toBe(-Infinity);
  });

  it("refuses a duration beyond the samples, and work without bound", () => {
    expect(() => cumulativeSpectralDecay(ring(2000, 20, 480), { frequencies: [1000], duration: 0.02, arrival: 0 })).toThrow(/within the samples/);
    expect(() => cumulativeSpectralDecay(ring(2000, 20), { frequencies: Float64Array.from({ length: 20000 }, (_, k) => k + 1), duration: 0.1, arrival: 0 })).toThrow(/1e9/);
  });
});
