// Against the closed forms of first-order and critically damped second-order low-passes, 1 − e^(−ωt) and 1 − (1 + ωt) e^(−ωt),
// whose impulse responses are sampled here. Trapezoids miss a smooth curve by a term of second order in ω/fs; a sum that is half a
// sample early or late misses it by one of first order, fifty times as much.
import { impulseResponse, stepResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const rate = 48_000;
const omega = 2 * Math.PI * 150;
const x = omega / rate;
const times = Array.from({ length: 2000 }, (_, n) => n / rate);

describe("the step response", () => {
  it("of a first-order low-pass is 1 − exp(−ωt), the jump of its impulse halved at time zero", () => {
    const { samples } = stepResponse(
      impulseResponse(
        times.map((t, n) => x * Math.exp(-omega * t) * (n === 0 ? 0.5 : 1)),
        { sampleRate: rate },
      ),
    );
    // Halved at zero as a band-limited jump is; the first trapezoid then lacks a quarter of the first sample.
    for (let n = 1; n < samples.length; n++) expect(Math.abs(samples[n]! - (1 - Math.exp(-omega * times[n]!)))).toBeLessThan(x ** 2 / 6);
  });

  it("of a critically damped second-order low-pass is 1 − (1 + ωt) exp(−ωt)", () => {
    const { samples } = stepResponse(
      impulseResponse(
        times.map((t) => x * omega * t * Math.exp(-omega * t)),
        { sampleRate: rate },
      ),
    );
    for (let n = 0; n < samples.length; n++)
      expect(Math.abs(samples[n]! - (1 - (1 + omega * times[n]!) * Math.exp(-omega * times[n]!)))).toBeLessThan(x ** 2 / 6);
  });

  it("of one sample passes through one half there", () => {
    expect([...stepResponse(impulseResponse([0, 0, 1, 0, 0], { sampleRate: rate })).samples]).toEqual([0, 0, 0.5, 1, 1]);
  });
});
