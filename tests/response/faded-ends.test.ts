// Tests src/response/: impulse-from-response.ts
// The ends of a response that becomes an impulse are faded out by half a Hann over so many octaves: 0 at the end, a half at half of them, (1 − cos πx)/2 in between. The bins come back from the samples.
import { describe, expect, it } from "vitest";
import { frequencyResponse, impulseFromResponse, responseFromImpulse } from "dividing-network/response";

const flat = (frequencies: readonly number[]) =>
  frequencyResponse(
    frequencies,
    frequencies.map(() => 1),
    frequencies.map(() => 0),
  );
/** What is left of 1 at bins of 100 Hz, up to 4 kHz. */
function left(frequencies: readonly number[], taperOctaves: number): (f: number) => number {
  const bins = responseFromImpulse(impulseFromResponse(flat(frequencies), { sampleRate: 8000, length: 80, taperOctaves }));
  return (f) => bins.re[f / 100]!;
}
const hann = (x: number) => (1 - Math.cos(Math.PI * Math.min(1, x))) / 2;
const octaves = [100, 200, 400, 800, 1600, 3200];

describe("the ends of a response that becomes an impulse", () => {
  it("are faded over the stated octaves from where the data end, each by itself", () => {
    const at = left(octaves, 2);
    for (const f of [100, 200, 300, 400, 700, 800, 1000, 1600, 2500, 3200])
      expect(at(f), `${f} Hz`).toBeCloseTo(hann(Math.log2(f / 100) / 2) * hann(Math.log2(3200 / f) / 2), 9);
    expect(at(200)).toBeCloseTo(0.5, 9);
    expect(at(1600)).toBeCloseTo(0.5, 9);
    // Nothing beyond, and in the middle of five octaves both fades of four overlap.
    expect(at(3300)).toBeCloseTo(0, 9);
    expect(left(octaves, 4)(600)).toBeCloseTo(hann(Math.log2(6) / 4) * hann(Math.log2(32 / 6) / 4), 9);
  });

  it("aren't faded where nothing is asked for, nor where the data reach 0 Hz or half the sampling rate", () => {
    for (const f of [100, 200, 1600, 3200]) expect(left(octaves, 0)(f)).toBeCloseTo(1, 9);
    const whole = left([100, 200, 400, 800, 1600, 4000], 2);
    expect(whole(4000)).toBeCloseTo(1, 9);
    expect(whole(100)).toBeCloseTo(0, 9);
    const low = left([0, 200, 400, 800, 1600, 3200], 2);
    expect(low(0)).toBeCloseTo(1, 9);
    expect(low(200)).toBeCloseTo(1, 9);
    expect(low(3200)).toBeCloseTo(0, 9);
  });
});
