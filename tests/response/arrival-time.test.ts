// The arrival of pulses whose rise is known in closed form, at places between the samples. What may differ, in units of the sampling interval
// h: the straight line between two samples leaves a curve by at most h² f″/8, and the largest sample lies below the peak by at most h² f″/8;
// each divided by the slope where the threshold is crossed. All three pulses hold next to nothing above half the sampling rate.
import { arrivalTime, delayResponse, frequencyResponse, impulseFromResponse, impulseResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const rate = 48_000;
const h = 1 / rate;
const sampled = (pulse: (t: number) => number, startTime = 0, n = 960) =>
  impulseResponse(
    Float64Array.from({ length: n }, (_, i) => pulse(startTime + i * h)),
    { sampleRate: rate, startTime },
  );
const share = (db: number): number => 10 ** (db / 20);
const centres = [5e-3, 5.003e-3, 5.0101e-3, 5.0173e-3, 7.7777e-3];
const thresholds = [-6, -10, -20, -40];

/** h² f″/8 over the slope, for the curve at the crossing and for the peak, whose loss lowers the threshold by its share. */
const bound = (slope: number, bend: number, peakBend: number, q: number): number => (1.05 * h * h * (bend + q * peakBend)) / (8 * slope);

describe("the arrival of a Gaussian pulse, exp(−(t − t₀)²/s²)", () => {
  const s = 20 * h;
  it.each(thresholds)("at %d dB is s √ln(1/q) before its middle", (thresholdDb) => {
    const q = share(thresholdDb);
    const u = Math.sqrt(-Math.log(q));
    for (const centre of centres) {
      const found = arrivalTime(
        sampled((t) => Math.exp(-(((t - centre) / s) ** 2))),
        { thresholdDb },
      );
      // f′ = 2uq/s, f″ = (4u² − 2) q/s², and 2/s² at the peak; within half a sample f″ changes by an eighth.
      expect(Math.abs(found - (centre - s * u))).toBeLessThan(
        bound((2 * u * q) / s, (1.2 * Math.abs(4 * u * u - 2) * q + 0.1 * q) / s ** 2, 2 / s ** 2, q),
      );
    }
  });

  it("is −20 dB where nothing is said, does not change with polarity, size or noise 40 dB below it, and stays on the time axis of the samples", () => {
    const pulse = (t: number): number => Math.exp(-(((t - 5.0101e-3) / s) ** 2));
    const plain = arrivalTime(sampled(pulse));
    expect(plain).toBe(arrivalTime(sampled(pulse), { thresholdDb: -20 }));
    for (const factor of [-1, -3e-200, 1e200]) expect(arrivalTime(sampled((t) => factor * pulse(t)))).toBeCloseTo(plain, 15);
    expect(arrivalTime(sampled((t) => pulse(t) + 0.01 * Math.sin(t * 1e5)))).toBeCloseTo(plain, 4);
    // 3 ms later on an axis that begins 1 ms before zero.
    expect(arrivalTime(sampled((t) => pulse(t - 3e-3), -1e-3))).toBeCloseTo(plain + 3e-3, 6);
  });
});

describe("the arrival of a raised cosine, ½(1 − cos 2π(t − t₁)/T)", () => {
  const length = 64 * h;
  it.each(thresholds)("at %d dB is T/π asin √q after its beginning", (thresholdDb) => {
    const q = share(thresholdDb);
    const phase = 2 * Math.asin(Math.sqrt(q));
    for (const start of centres) {
      const found = arrivalTime(
        sampled((t) => (t > start && t < start + length ? 0.5 * (1 - Math.cos((2 * Math.PI * (t - start)) / length)) : 0)),
        { thresholdDb },
      );
      const turn = (2 * Math.PI) / length;
      expect(Math.abs(found - (start + phase / turn))).toBeLessThan(bound((turn * Math.sin(phase)) / 2, turn ** 2 / 2, turn ** 2 / 2, q));
    }
  });
});

describe("the arrival of a band-limited pulse, (sin x / x)², whose spectrum is a triangle up to B", () => {
  const band = 2000;
  /** Where sinc² falls to q, by bisection on its main lobe; its side lobes stay 26.5 dB below the peak. */
  const place = (q: number): number => {
    let [low, high] = [1e-9, Math.PI];
    for (let i = 0; i < 60; i++) {
      const x = (low + high) / 2;
      if ((Math.sin(x) / x) ** 2 > q) low = x;
      else high = x;
    }
    return low;
  };
  /** The spectrum as a response, delayed: the pulse is made by the inverse transform, by no formula in time. */
  const frequencies = Float64Array.from({ length: 481 }, (_, k) => k * 50);
  const triangle = frequencyResponse(
    frequencies,
    frequencies.map((f) => Math.max(0, 1 - f / band)),
    frequencies.map(() => 0),
  );

  it.each([-6, -10, -20])("at %d dB is x_q/πB before its middle, from the pulse and from its spectrum", (thresholdDb) => {
    const q = share(thresholdDb);
    const x = place(q);
    for (const centre of centres) {
      const wanted = centre - x / (Math.PI * band);
      const pulse = sampled((t) => {
        const y = Math.PI * band * (t - centre);
        return y === 0 ? 1 : (Math.sin(y) / y) ** 2;
      });
      const slope = 2 * Math.PI * band * Math.sqrt(q) * Math.abs(Math.cos(x) / x - Math.sin(x) / x ** 2);
      // sinc² bends by at most 2/3 per x², which is at its peak.
      const limit = bound(slope, ((Math.PI * band) ** 2 * 2) / 3, ((Math.PI * band) ** 2 * 2) / 3, q);
      expect(Math.abs(arrivalTime(pulse, { thresholdDb }) - wanted)).toBeLessThan(limit);
      const transformed = impulseFromResponse(delayResponse(triangle, centre), { sampleRate: rate, length: 960 });
      expect(Math.abs(arrivalTime(transformed, { thresholdDb }) - wanted)).toBeLessThan(1.2 * limit);
    }
  });
});

describe("the edges", () => {
  it("a sound that is there from the first sample on arrives with it, and one sample of sound arrives as a straight rise to it", () => {
    expect(arrivalTime(impulseResponse([1, 0.5, 0], { sampleRate: 1000, startTime: 0.5 }))).toBe(0.5);
    expect(arrivalTime(impulseResponse([0, 0, 0, -2, 0], { sampleRate: 1000 }), { thresholdDb: 0 })).toBeCloseTo(0.003, 12);
    expect(arrivalTime(impulseResponse([0, 0, 0, -2, 0], { sampleRate: 1000 }), { thresholdDb: -20 })).toBeCloseTo(0.0021, 12);
  });
});
