// Source: after Abramowitz & Stegun (1964), tables 9.5 (zeros of J1) and 12.1 (Struve's H1).
// Provenance: recomputed (SciPy and mpmath); it is not claimed that the tables print these digits.
import { besselJ1, struveH1 } from "dividing-network/numeric";
import { expect, it } from "vitest";
import { published } from "./standing";

/** Half a unit of the last printed digit. */
const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;

published("recomputed", "values after Abramowitz & Stegun", () => {
  it.each(["3.8317059702", "7.0155866698", "10.1734681351", "13.3236919363"])("J1 changes sign within half a unit of %s", (zero) => {
    const at = Number(zero);
    expect(Math.sign(besselJ1(at - half(zero)))).toBe(-Math.sign(besselJ1(at + half(zero))));
  });

  it.each([
    [1, "0.1984573362"],
    [2, "0.6467637283"],
    [5, "0.8078119458"],
  ] as const)("H1(%d) = %s", (x, value) => {
    expect(Math.abs(struveH1(x) - Number(value))).toBeLessThanOrEqual(half(value));
  });
});
