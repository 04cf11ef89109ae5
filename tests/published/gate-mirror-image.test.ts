// Source: gating note of textbooks (after IEC 60268-5): the lowest reliable frequency of a gated measurement is 1/T; mirror image of the source.
// Provenance: recomputed. Speed of sound 343 m/s.
import { gateFromGeometry, gateMarks } from "dividing-network/response";
import { expect, it } from "vitest";
import { published } from "./standing";

const half = (digits: string): number => 0.5 * 10 ** -(digits.split(".")[1] ?? "").length;

published("recomputed", "the gate", () => {
  it("with source and microphone 1 m above the floor and 1 m apart", () => {
    const gate = gateFromGeometry({ distance: 1, sourceHeight: 1, microphoneHeight: 1, air: { speedOfSound: 343 } });
    for (const [value, digits] of [
      [gate.reflections[0]!.extraPath, "1.236068"],
      [gate.duration * 1000, "3.6036967"],
      [gate.lowestFrequency, "277.492829"],
    ] as const) {
      expect(Math.abs(value - Number(digits))).toBeLessThanOrEqual(half(digits));
    }
    expect(gate.coarseBelow).toBeCloseTo(3 * gate.lowestFrequency, 9);
    expect(gate.working.at(-1)!.value).toBe(gate.lowestFrequency);
  });

  it("of 4 ms holds no data below 250 Hz and is coarse to 750 Hz", () => {
    const [none, coarse] = gateMarks(0.004);
    expect([none.kind, none.to, coarse.kind, coarse.from, coarse.to]).toEqual(["no-data", 250, "coarse", 250, 750]);
  });
});
