// Source: after Keele (1974): p_far/p_near = a/(2r) in half space, valid to ka ≤ 1.
// Provenance: recalled-then-recomputed. Speed of sound 343 m/s.
import { combineNearFields, farFieldFromNearField, frequencyResponse, levelDb, nearFieldErrorDb } from "dividing-network/response";
import { expect, it } from "vitest";
import { published } from "./standing";

const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;

published("recalled-then-recomputed", "near field carried to the far field (Keele 1974)", () => {
  it.each([
    ["0.05", "-32.0412", "1091.8"],
    ["0.0825", "-27.691521", "661.7"],
    ["0.1", "-26.0206", "545.9"],
  ])("a radius of %s m: %s dB at 1 m, valid to %s Hz", (radius, decibels, limit) => {
    const near = frequencyResponse([20, 2000], [1, 1], [0, 0]);
    const far = farFieldFromNearField(near, { radius: Number(radius), distance: 1, air: { speedOfSound: 343 } });
    expect(Math.abs(levelDb(far)[0]! - Number(decibels))).toBeLessThanOrEqual(half(decibels));
    expect(far.marks).toHaveLength(1);
    expect(Math.abs(far.marks![0]!.from! - Number(limit))).toBeLessThanOrEqual(half(limit));
  });

  it.each([
    ["1", "-0.364977"],
    ["1.6", "-0.947104"],
  ])("at ka = %s it reads %s dB low", (ka, decibels) => {
    expect(Math.abs(nearFieldErrorDb(Number(ka)) - Number(decibels))).toBeLessThanOrEqual(half(decibels));
  });

  it("sums a cone and a port by radius: four times the area counts twice", () => {
    const cone = { response: frequencyResponse([40], [1], [0]), radius: 0.1 };
    const port = { response: frequencyResponse([40], [1], [0]), radius: 0.05 };
    expect(combineNearFields([cone, port]).re[0]).toBeCloseTo(1.5, 12);
  });
});
