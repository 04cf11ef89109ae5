// Tests src/response/: gate-from-geometry.ts, gate-impulse.ts, gate-marks.ts, impulse-from-response.ts, impulse-response.ts
// Tests src/response/: response-from-impulse.ts
import { linearGrid, logGrid } from "dividing-network/numeric";
import {
  arrivalTime,
  delayResponse,
  frequencyResponse,
  gatedResponse,
  gateFromGeometry,
  gateImpulse,
  impulseFromResponse,
  impulseResponse,
  levelDb,
  minimumPhase,
  phaseDegrees,
  resample,
  responseFromImpulse,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const noise = (n: number, seed = 1): Float64Array => Float64Array.from({ length: n }, (_, i) => Math.sin(seed * 12.9898 + i * i * 78.233));

describe("impulse response and frequency response", () => {
  it.each([1, 2, 7, 64, 100, 513])("%i samples go there and back unchanged, also with a start time", (n) => {
    for (const startTime of [0, 0.0025, -0.001]) {
      const impulse = impulseResponse(noise(n), { sampleRate: 48000, startTime });
      const before = impulse.samples.slice();
      const back = impulseFromResponse(responseFromImpulse(impulse), { sampleRate: 48000, length: n, startTime });
      back.samples.forEach((value, i) => expect(value).toBeCloseTo(before[i]!, 12));
      expect(impulse.samples).toEqual(before);
      expect([back.sampleRate, back.startTime]).toEqual([48000, startTime]);
    }
  });

  it("at chosen frequencies is the same as by the fast transform", () => {
    const impulse = impulseResponse(noise(700, 3), { sampleRate: 44100, startTime: 0.003 });
    const fast = responseFromImpulse(impulse);
    const chosen = responseFromImpulse(impulse, { frequencies: fast.frequencies });
    fast.re.forEach((re, k) => {
      expect(chosen.re[k]).toBeCloseTo(re, 9);
      expect(chosen.im[k]).toBeCloseTo(fast.im[k]!, 9);
    });
  });

  it("a start time is a delay in the phase", () => {
    const late = responseFromImpulse(impulseResponse([1], { sampleRate: 48000, startTime: "2 ms" }), { frequencies: [125, 250] });
    expect(phaseDegrees(late)[0]).toBeCloseTo(-90, 9);
    expect(phaseDegrees(late)[1]).toBeCloseTo(180, 9);
  });

  it("a logarithmic grid is resampled: a low-pass's impulse has the area of its level at 0 Hz and starts at its delay", () => {
    const f = logGrid(1, 24000, 700);
    const x = f.map((hz) => hz / 1000);
    const lowPass = frequencyResponse(
      f,
      x.map((v) => 1 / (1 + v * v)),
      x.map((v) => -v / (1 + v * v)),
    );
    const impulse = impulseFromResponse(delayResponse(lowPass, 0.005), { sampleRate: 48000, length: 4800, taperOctaves: 0.5 });
    expect(impulse.samples.reduce((a, b) => a + b, 0)).toBeCloseTo(0, 6);
    expect(arrivalTime(impulse, { thresholdDb: -6 })).toBeGreaterThan(0.0049);
    expect(arrivalTime(impulse, { thresholdDb: -6 })).toBeLessThan(0.0051);
    const there = responseFromImpulse(impulse, { frequencies: [1000] });
    expect(levelDb(there)[0]).toBeCloseTo(-3.0103, 3);
  });

  it("the impulse of a minimum-phase response is causal: its energy before time zero is that of the band limit only", () => {
    const f = linearGrid(0, 24000, 2401);
    // Two octaves of transition below half the sampling rate, so that little is cut off.
    const target = f.map((hz) => 1 / (1 + (hz / 2000) ** 2) ** 3);
    const found = minimumPhase(frequencyResponse(f, target, new Float64Array(f.length)));
    const { samples } = impulseFromResponse(found, { sampleRate: 48000, length: 4800, startTime: -0.05 });
    const energy = (from: number, to: number): number => samples.subarray(from, to).reduce((sum, value) => sum + value * value, 0);
    const zero = 2400;
    expect(energy(0, zero - 2) / energy(0, 4800)).toBeLessThan(1e-7);
    // The same magnitude with phase zero is symmetrical: half its energy comes early.
    const even = impulseFromResponse(frequencyResponse(f, target, new Float64Array(f.length)), {
      sampleRate: 48000,
      length: 4800,
      startTime: -0.05,
    }).samples;
    expect(even.subarray(0, zero).reduce((sum, value) => sum + value * value, 0) / energy(0, 4800)).toBeGreaterThan(0.1);
  });

  it("refuses nonsense with the reason", () => {
    expect(() => impulseResponse([], { sampleRate: 48000 })).toThrow(/at least one number/);
    expect(() => impulseResponse([1, NaN], { sampleRate: 48000 })).toThrow(/index 1/);
    expect(() => impulseResponse([1], { sampleRate: 0 })).toThrow(/sampleRate/);
    expect(() => responseFromImpulse(impulseResponse([1, 2], { sampleRate: 100 }), { frequencies: [51] })).toThrow(/at most 50 Hz/);
    expect(() => responseFromImpulse(impulseResponse([1, 2], { sampleRate: 100 }), { length: 1 })).toThrow(/length/);
    expect(() => responseFromImpulse({ samples: [1] } as never)).toThrow(/ImpulseResponse/);
    expect(() => arrivalTime(impulseResponse([0, 0], { sampleRate: 100 }))).toThrow(/only zeros/);
    expect(() => impulseFromResponse(frequencyResponse([1, 2], [1, 1], [0, 0]), { sampleRate: 48000, length: 2 ** 25 })).toThrow(/length/);
  });
});

describe("gating", () => {
  // Direct sound of a two-pole driver, and its reflection 4 ms later at half the pressure.
  const rate = 48000;
  const f = logGrid(20, 24000, 600);
  const x = f.map((hz) => hz / 900);
  const driver = frequencyResponse(
    f,
    x.map((v) => (v * v * (v * v - 1)) / ((1 - v * v) ** 2 + 2 * v * v)),
    x.map((v) => (v * v * v * Math.SQRT2) / ((1 - v * v) ** 2 + 2 * v * v)),
  );
  const direct = impulseFromResponse(delayResponse(driver, 0.003), { sampleRate: rate, length: 9600 }).samples;
  const room = impulseResponse(
    direct.map((value, i) => value + 0.5 * (direct[i - 192] ?? 0)),
    { sampleRate: rate },
  );

  it("takes a reflection out: above 3/T the gated response is the direct sound's, the ungated one is not", () => {
    const gate = { duration: 0.0039, arrival: 0.003, frequencies: f.filter((hz) => hz > 800 && hz < 15000) };
    const gated = levelDb(gatedResponse(room, gate));
    const truth = levelDb(resample(driver, gate.frequencies));
    const raw = levelDb(responseFromImpulse(room, { frequencies: gate.frequencies }));
    const worst = (levels: Float64Array): number => levels.reduce((most, level, k) => Math.max(most, Math.abs(level - truth[k]!)), 0);
    expect(worst(gated)).toBeLessThan(0.3);
    expect(worst(raw)).toBeGreaterThan(3);
  });

  it("marks the result, and later arithmetic carries the marks", () => {
    const response = gatedResponse(room, { duration: "4 ms", arrival: "3 ms" });
    expect(response.marks!.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["no-data", undefined, 250],
      ["coarse", 250, 750],
    ]);
    expect(delayResponse(response, -0.003).marks).toEqual(response.marks);
    expect(response.frequencies[1]! - response.frequencies[0]!).toBeLessThanOrEqual(1 / (4 * 0.004));
  });

  it("opens before the arrival and closes by T: samples outside are gone, those in the flat part untouched", () => {
    const flat = impulseResponse(new Float64Array(1000).fill(1), { sampleRate: 1000 });
    const { samples, startTime } = gateImpulse(flat, { duration: 0.1, arrival: 0.2, lead: 0.01, fade: 0.5 });
    expect(startTime).toBeCloseTo(0.19, 12);
    expect(samples).toHaveLength(111);
    expect(samples[5]).toBeCloseTo(0.5, 12);
    expect([...samples.subarray(10, 61)].every((value) => value === 1)).toBe(true);
    expect(samples[85]).toBeCloseTo(0.5, 12);
    expect(samples[110]).toBeCloseTo(0, 12);
    expect(flat.samples[0]).toBe(1);
  });

  it("finds the first of several surfaces, and refuses a geometry that cannot be", () => {
    const gate = gateFromGeometry({
      distance: 1,
      sourceHeight: 1.2,
      microphoneHeight: 1.2,
      ceilingHeight: 2.5,
      walls: [{ name: "side wall", source: 0.8, microphone: 0.9 }],
    });
    expect(gate.surface).toBe("side wall");
    expect(gate.reflections.map(({ surface }) => surface)).toEqual(["side wall", "floor", "ceiling"]);
    expect(gate.duration * 343.2).toBeCloseTo(Math.sqrt(1 + 4 * 0.8 * 0.9) - 1, 12);
    expect(() => gateFromGeometry({ distance: 1, sourceHeight: 3, microphoneHeight: 1 })).toThrow(/at least the difference/);
    expect(() => gateFromGeometry({ distance: 1, sourceHeight: 3, microphoneHeight: 2.5, ceilingHeight: 2.9 })).toThrow(/above both/);
    expect(() => gateFromGeometry({ distance: 0, sourceHeight: 1, microphoneHeight: 1 })).toThrow(/distance/);
  });

  it("refuses a gate that lies outside the samples", () => {
    expect(() => gateImpulse(room, { duration: 0.01, arrival: 5 })).toThrow(/within the samples/);
    expect(() => gateImpulse(room, { duration: 0 })).toThrow(/duration/);
    expect(() => gatedResponse(room, { duration: 0.01, window: "hann" } as never)).toThrow(/unknown option/);
  });
});
