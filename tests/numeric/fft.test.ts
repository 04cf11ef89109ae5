// Tests src/numeric/: chirp-transform.ts, real-fft.ts, window.ts
import fc from "fast-check";
import { fft, inverseRealFft, realFft } from "dividing-network/numeric";
import { halfWindow } from "../../src/numeric/internal";
import { describe, expect, it } from "vitest";

/** The definition, term by term: the oracle. */
function definition(re: Float64Array, im: Float64Array): { re: Float64Array; im: Float64Array } {
  const n = re.length;
  const out = { re: new Float64Array(n), im: new Float64Array(n) };
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      const angle = (-2 * Math.PI * ((k * i) % n)) / n;
      out.re[k]! += re[i]! * Math.cos(angle) - im[i]! * Math.sin(angle);
      out.im[k]! += re[i]! * Math.sin(angle) + im[i]! * Math.cos(angle);
    }
  }
  return out;
}

const sequence = (n: number, seed: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => Math.sin(seed + i * i * 0.7) + 0.3 * Math.cos(3 * i + seed));
const worst = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Array.from(a).reduce((m, x, i) => Math.max(m, Math.abs(x - b[i]!)), 0);

describe("the Fourier transform", () => {
  it.each([1, 2, 3, 4, 5, 7, 8, 12, 16, 31, 32, 60, 64, 100, 128, 243, 255, 256, 512])("of %i points follows the definition", (n) => {
    const re = sequence(n, 1);
    const im = sequence(n, 2);
    const copies = [re.slice(), im.slice()];
    const got = fft(re, im);
    const expected = definition(re, im);
    expect(worst(got.re, expected.re)).toBeLessThan(1e-12 * n);
    expect(worst(got.im, expected.im)).toBeLessThan(1e-12 * n);
    expect([re, im]).toEqual(copies);
    const back = fft(got.re, got.im, { inverse: true });
    expect(worst(back.re, re)).toBeLessThan(1e-13 * Math.max(8, n));
    expect(worst(back.im, im)).toBeLessThan(1e-13 * Math.max(8, n));
  });

  it.each([1, 2, 3, 4, 6, 7, 8, 10, 16, 33, 64, 100, 1024])(
    "of %i real points is the first half of the complex one, and comes back",
    (n) => {
      const x = sequence(n, 3);
      const got = realFft(x);
      const full = definition(x, new Float64Array(n));
      expect(got.re).toHaveLength(Math.floor(n / 2) + 1);
      expect(worst(got.re, full.re)).toBeLessThan(1e-12 * n);
      expect(worst(got.im, full.im)).toBeLessThan(1e-12 * n);
      expect(worst(inverseRealFft(got.re, got.im, n), x)).toBeLessThan(1e-14 * Math.max(8, n));
    },
  );

  it("keeps the energy for any length (Parseval)", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 1, maxLength: 300 }), (values) => {
        const n = values.length;
        const { re, im } = fft(values, new Float64Array(n));
        const time = values.reduce((s, x) => s + x * x, 0);
        const band = re.reduce((s, x, i) => s + x * x + im[i]! * im[i]!, 0) / n;
        expect(Math.abs(time - band)).toBeLessThan(1e-11 * (1 + time));
      }),
    );
  });

  it("refuses arrays of different lengths, none at all, and unknown options", () => {
    expect(() => fft([1, 2], [0])).toThrow(/one length/);
    expect(() => fft([], [])).toThrow(/one length/);
    expect(() => realFft([])).toThrow(/at least 1 number/);
    expect(() => inverseRealFft([1, 2], [0, 0], 4)).toThrow(/3 values/);
    expect(() => fft([1], [0], { backward: true } as never)).toThrow(/unknown option/);
  });
});

describe("half windows", () => {
  it.each(["hann", "blackman", "blackman-harris"] as const)("%s falls steadily from 1 to about 0", (shape) => {
    expect(halfWindow(shape, 0)).toBe(1);
    expect(Math.abs(halfWindow(shape, 1))).toBeLessThan(1e-4);
    for (let i = 1; i <= 100; i++) expect(halfWindow(shape, i / 100)).toBeLessThan(halfWindow(shape, (i - 1) / 100));
    expect(halfWindow(shape, 1.01)).toBe(0);
    expect(halfWindow(shape, -1)).toBe(1);
  });

  it("the rectangular one is 1 until its end", () => {
    expect([halfWindow("rectangular", 0.99), halfWindow("rectangular", 1), halfWindow("rectangular", 1.001)]).toEqual([1, 1, 0]);
  });
});
