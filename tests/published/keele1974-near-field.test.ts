// Source: after Keele (1974): a piston's far pressure at r against its near pressure at the centre is a/(2r) in half space, up to ka ≤ 1.
// Provenance: recalled-then-recomputed. Speed of sound 343 m/s. Here the ratio comes out of the sum over the piston, at low frequency.
import { pistonSource, pressureAt } from "dividing-network/radiation";
import { expect, it } from "vitest";
import { published } from "./standing";

const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;

function ratioDb(radius: number, frequency: number): number {
  const { re, im } = pressureAt([pistonSource({ radius })], [frequency], {
    points: [
      [1e4, 0, 0],
      [0, 0, 0],
    ],
    air: { speedOfSound: 343 },
    tolerance: 1e-9,
  });
  // Far pressure brought to 1 m.
  return 20 * Math.log10((1e4 * Math.hypot(re[0]!, im[0]!)) / Math.hypot(re[1]!, im[1]!));
}

published("recalled-then-recomputed", "near and far field of a piston", () => {
  it.each([
    ["0.05", "-32.0412"],
    ["0.0825", "-27.691521"],
    ["0.1", "-26.0206"],
  ])("of radius %s m differ by %s dB at low frequency", (radius, value) => {
    expect(Math.abs(ratioDb(Number(radius), 0.1) - Number(value))).toBeLessThanOrEqual(half(value));
  });

  it.each([
    [1, "-0.364977"],
    [1.6, "-0.947104"],
  ])("depart from that at ka = %d by %s dB of the near field", (ka, value) => {
    const frequency = (ka * 343) / (2 * Math.PI * 0.1);
    expect(Math.abs(ratioDb(0.1, 0.1) - ratioDb(0.1, frequency) - Number(value))).toBeLessThanOrEqual(half(value));
  });
});
