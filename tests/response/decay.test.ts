// Tests src/numeric/: long-work.ts
// Tests src/response/: checked-grid.ts, spectral-decay.ts, tone-burst-decay.ts
import { cumulativeSpectralDecay, decayTimes, impulseResponse, toneBurstDecay, type DecayMap } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const rate = 48000;
/** A damped oscillation: its level falls by 27.3/Q dB per period. */
const ring = (f: number, q: number, n = 9600) =>
  impulseResponse(
    Float64Array.from({ length: n }, (_, i) => Math.exp((-Math.PI * f * i) / (rate * q)) * Math.sin((2 * Math.PI * f * i) / rate)),
    { sampleRate: rate },
  );
const perPeriod = (q: number): number => (20 * Math.PI) / Math.LN10 / q;

describe("tone-burst decay", () => {
  it.each([
    [1000, 10],
    [4000, 10],
    [1000, 30],
  ])("of a resonance at %d Hz with Q = %d falls by 27.3/Q dB per period, whatever the frequency", (f, q) => {
    const { levelsDb, times } = toneBurstDecay(ring(f, q), { frequencies: [f], periods: 20, arrival: 0 });
    const at = (periods: number): number => levelsDb[times.indexOf(periods)]![0]!;
    for (const p of [4, 8, 12]) expect((at(p) - at(p + 4)) / 4).toBeCloseTo(perPeriod(q), 1);
  });

  it("reads 0 dB for a click at its own time, and nothing after half the burst", () => {
    const { levelsDb, times } = toneBurstDecay(impulseResponse([0, 0, 1, 0, 0], { sampleRate: rate }), {
      frequencies: [500, 5000],
      periods: 6,
      arrival: 2 / rate,
      cycles: 4,
    });
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

  it("falls along a straight line, so that another 20 dB take 20 dB of it whatever the step, and is over where silence begins", () => {
    const after = (fallDb: number, stepsPerPeriod: number) =>
      decayTimes(ring(1000, 30), { frequencies: [1000], fallDb, periods: 80, stepsPerPeriod, arrival: 0 })[0]!.periods!;
    for (const steps of [1, 2, 5]) expect(after(40, steps) - after(20, steps)).toBeCloseTo(20 / perPeriod(30), 2);
    // A click under a window of four cycles: 0 dB, −6 dB a period later, nothing from the second on. By tenths, (1 + cos(πt/2))/2 = 1/10 at 1.590.
    const click = impulseResponse([0, 0, 1, 0, 0], { sampleRate: rate });
    const fallen = (stepsPerPeriod: number) =>
      decayTimes(click, { frequencies: [1000], periods: 4, cycles: 4, stepsPerPeriod, arrival: 2 / rate })[0]!.periods!;
    expect(fallen(1)).toBe(1);
    expect(fallen(10)).toBeCloseTo((2 / Math.PI) * Math.acos(-0.8), 1);
  });

  it("reports progress and can be stopped", () => {
    const seen: number[] = [];
    toneBurstDecay(ring(1000, 10), { frequencies: [500, 1000, 2000], onProgress: (done) => seen.push(done), arrival: 0 });
    expect(seen).toEqual([0, 1, 2]);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [1000], signal: { aborted: true } })).toThrow(/stopped/);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [0, 1000] })).toThrow(/above 0/);
    expect(() => toneBurstDecay(ring(1000, 10), { frequencies: [30000] })).toThrow(/at most 24000/);
    expect(() =>
      toneBurstDecay(ring(1000, 10, 400000), { frequencies: Array.from({ length: 5000 }, (_, k) => 1 + k * 0.01), periods: 200 }),
    ).toThrow(/1e9/);
  });
});

describe("cumulative spectral decay", () => {
  it("of a resonance falls by its own rate from slice to slice, and starts with the frequency response", () => {
    const { levelsDb, times } = cumulativeSpectralDecay(ring(2000, 20), {
      frequencies: [1500, 2000],
      duration: 0.08,
      slices: 40,
      arrival: 0,
      rise: 0.001,
    });
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
    expect(() => cumulativeSpectralDecay(ring(2000, 20, 480), { frequencies: [1000], duration: 0.02, arrival: 0 })).toThrow(
      /within the samples/,
    );
    expect(() =>
      cumulativeSpectralDecay(ring(2000, 20), {
        frequencies: Float64Array.from({ length: 20000 }, (_, k) => k + 1),
        duration: 0.1,
        arrival: 0,
      }),
    ).toThrow(/1e9/);
  });
});

// Exponentials in closed form: e^(−t/τ) sin 2πft falls by 20/(τ ln 10) dB per second at every frequency, and so does what is left of it.
describe("the fall of decaying exponentials, τ and Q known", () => {
  const damped = (f: number, tau: number, n = 9600) =>
    impulseResponse(
      Float64Array.from({ length: n }, (_, i) => Math.exp(-i / rate / tau) * Math.sin((2 * Math.PI * f * i) / rate)),
      { sampleRate: rate },
    );
  const fall = (tau: number): number => 20 / Math.LN10 / tau;
  /** Largest departure in dB of any two trusted levels from the true fall, and the error of the rate over all of them, relative. */
  const errors = (
    { levelsDb, trusted }: DecayMap,
    k: number,
    seconds: ArrayLike<number>,
    tau: number,
  ): { count: number; level: number; rate: number } => {
    const straight = levelsDb.flatMap((row, i) => (trusted[i]![k] === 1 ? [row[k]! + fall(tau) * seconds[i]!] : []));
    const first = trusted.findIndex((row) => row[k] === 1);
    const last = trusted.map((row) => row[k]).lastIndexOf(1);
    const rateDb = first < 0 ? 0 : (levelsDb[first]![k]! - levelsDb[last]![k]!) / (seconds[last]! - seconds[first]!);
    return { count: straight.length, level: Math.max(...straight) - Math.min(...straight), rate: Math.abs(rateDb / fall(tau) - 1) };
  };
  const resonances = [
    [500, 4e-3],
    [2000, 4e-3],
    [2000, 1e-3],
    [5000, 2e-3],
    [300, 10e-3],
  ] as const;
  const shapes = ["hann", "blackman", "blackman-harris"] as const;

  it.each(resonances)(
    "of %d Hz with τ = %d s is shown by the trusted slices to 0.4 dB and a rate within 3/100, on and beside the resonance",
    (f, tau) => {
      let seen = 0;
      for (const shape of shapes) {
        for (const duration of [2, 6, 8, 12, 18].map((times) => times * tau)) {
          const map = cumulativeSpectralDecay(damped(f, tau), {
            frequencies: [0.8 * f, f, 1.3 * f],
            duration,
            arrival: 0,
            shape,
            rise: Math.max(duration / 20, 1 / f),
          });
          for (const k of [0, 1, 2]) {
            const { count, level, rate: rateError } = errors(map, k, map.times, tau);
            if (duration === 2 * tau) expect(count).toBe(0);
            if (duration >= 8 * tau) expect(count).toBeGreaterThan(0);
            if (duration >= 18 * tau) expect(count).toBeGreaterThan(6);
            if (count < 3) continue;
            seen++;
            expect(level).toBeLessThan(0.4);
            expect(rateError).toBeLessThan(0.03);
          }
        }
      }
      expect(seen).toBeGreaterThan(25);
    },
  );

  it("of 4 ms is nowhere called the driver's in 10 ms, where every slice falls faster", () => {
    const { levelsDb, trusted, times } = cumulativeSpectralDecay(damped(2000, 4e-3), { frequencies: [2000], duration: 0.01, arrival: 0 });
    expect(trusted.every((row) => row[0] === 0)).toBe(true);
    for (let i = 2; i < times.length - 1; i++)
      expect((levelsDb[i]![0]! - levelsDb[i + 1]![0]!) / times[1]!).toBeGreaterThan(1.05 * fall(4e-3));
  });

  it("is not called the driver's while the slice opens into silence, nor where the end of the duration cuts it off", () => {
    const { levelsDb, trusted, times } = cumulativeSpectralDecay(damped(2000, 1e-3), {
      frequencies: [100, 2000],
      duration: 0.01,
      slices: 100,
      arrival: 0,
      rise: 1e-3,
    });
    const marks = trusted.map((row) => row[1]!);
    expect(marks.slice(0, 10)).toEqual(new Array(10).fill(0));
    expect(marks[10]).toBe(1);
    // One row of ones, then none: and at the end of it the level is still 34 dB above the slice that begins with the closing.
    const end = marks.lastIndexOf(1);
    expect(marks.slice(10, end + 1).every((mark) => mark === 1)).toBe(true);
    const closing = times.findIndex((t) => t >= 0.02 / 3 - 1e-9);
    expect(levelsDb[end]![1]! - levelsDb[closing]![1]!).toBeGreaterThan(33);
    expect(levelsDb[end + 1]![1]! - levelsDb[closing]![1]!).toBeLessThan(35.1);
    // What has no level has no fall.
    levelsDb.forEach((row, i) => row[0] === -Infinity && expect(trusted[i]![0]).toBe(0));
    expect(trusted.at(-1)![0]).toBe(0);
  });

  it("never counts for two resonances where the longer is cut off: a tail of 40 ms beside one of 1 ms", () => {
    const slow = damped(2000, 40e-3).samples;
    const two = damped(2000, 1e-3).samples.map((x, i) => x + 0.02 * slow[i]!);
    const { trusted } = cumulativeSpectralDecay(impulseResponse(two, { sampleRate: rate }), {
      frequencies: [2000],
      duration: 0.02,
      arrival: 0,
    });
    expect(trusted.every((row) => row[0] === 0)).toBe(true);
  });

  it("is shown by a tone burst's trusted times to 0.1 dB: after the burst, before the data end", () => {
    const map = toneBurstDecay(damped(2000, 4e-3, 960), { frequencies: [2000, 4000], periods: 60, arrival: 0, cycles: 4 });
    const marks = map.trusted.map((row) => row[0]!);
    expect(marks.indexOf(1)).toBe(map.times.indexOf(2));
    // 960 samples are 40 periods; the burst reaches 2 further than its middle.
    expect(marks.lastIndexOf(1)).toBe(map.times.indexOf(38));
    expect(
      errors(
        map,
        0,
        map.times.map((periods) => periods / 2000),
        4e-3,
      ).level,
    ).toBeLessThan(0.1);
    expect(map.levelsDb[map.times.indexOf(39)]![0]! - map.levelsDb[map.times.indexOf(40)]![0]!).toBeGreaterThan((2 * fall(4e-3)) / 2000);
  });

  it("is given for samples of any size: 10^200 times the samples is 4000 dB more", () => {
    const [one, large] = [damped(2000, 1e-3, 480), damped(2000, 1e-3, 480).samples.map((x) => x * 1e200)];
    const options = { frequencies: [2000], duration: 0.008, arrival: 0 };
    const [plain, scaled] = [
      cumulativeSpectralDecay(one, options),
      cumulativeSpectralDecay(impulseResponse(large, { sampleRate: rate }), options),
    ];
    expect(scaled.levelsDb[3]![0]! - plain.levelsDb[3]![0]!).toBeCloseTo(4000, 8);
    expect(scaled.trusted).toEqual(plain.trusted);
    expect(
      toneBurstDecay(impulseResponse(large, { sampleRate: rate }), { frequencies: [2000], arrival: 0 }).levelsDb[8]![0],
    ).toBeGreaterThan(3900);
  });
});
