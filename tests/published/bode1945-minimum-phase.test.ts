// Source: after Bode (1945), chapter 14: phase from magnitude.
// Where: closed forms of simple filters; the phase integral by an independent quadrature.
// Provenance: recomputed (follows from the formula; it is not claimed that the book prints these digits).
import { minimumPhase, frequencyResponse, phaseDegrees } from "dividing-network/response";
import { it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

type Magnitude = (w: number) => number;
const lowPass1: Magnitude = (w) => 1 / Math.hypot(1, w);
const butterworth =
  (n: number): Magnitude =>
  (w) =>
    1 / Math.sqrt(1 + w ** (2 * n));

const cases: readonly [name: string, at: number, magnitude: Magnitude, degrees: string][] = [
  ["first-order low-pass", 1, lowPass1, "-45.000000"],
  ["first-order low-pass", 2, lowPass1, "-63.434949"],
  ["second-order Butterworth", 1, butterworth(2), "-90.000000"],
  ["fourth-order Butterworth", 0.5, butterworth(4), "-77.963211"],
  ["fourth-order Linkwitz–Riley", 0.5, (w) => butterworth(2)(w) ** 2, "-86.627713"],
  ["(1 + s)/(1 + s/4)", 2, (w) => Math.hypot(1, w) / Math.hypot(1, w / 4), "36.869898"],
];
published("recomputed", "minimum phase against closed forms (Bode 1945)", () => {
  it.each(cases)("%s at ω = %d", (_name, at, magnitude, degrees) => {
    const f = Float64Array.from({ length: 1601 }, (_, i) => at * 10 ** ((i - 800) / 160));
    const result = minimumPhase(frequencyResponse(f, f.map(magnitude), new Float64Array(f.length)));
    expectPrinted(phaseDegrees(result)[800], degrees);
  });
});
