// Tests src/assessment/suspects/: observed.ts
// What was measured of the whole counts between its ends alone: what lies in an end that is marked as without data is no evidence, however the mark states that end.
import { suspects } from "dividing-network/assessment";
import { predict } from "dividing-network/loudspeaker";
import { solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { frequencyResponse, type FrequencyResponse, type Mark } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { observe } from "../../src/assessment/suspects/observed";
import { faultyCase } from "./faulty-networks";

const { drawn, measured } = faultyCase(30_001)!;
const grid = logGrid(30, 18_000, 280);
const first = grid[0]!;
const last = grid[grid.length - 1]!;
const [place] = predict(drawn, { places: measured.pressures.slice(0, 1), voltage: 2.83 }).places;
const at = { distance: place!.distance, azimuth: place!.azimuth, elevation: place!.elevation, voltage: 2.83 };
const { impedance } = solve(drawn.network as never, grid);

/** Half as large below 300 Hz and above 12 kHz, with marks. */
const bent = ({ frequencies, re, im }: FrequencyResponse, ...marks: Omit<Mark, "note">[]): FrequencyResponse => {
  const size = frequencies.map((f) => (f < 300 || f > 12_000 ? 0.5 : 1));
  return frequencyResponse(
    frequencies,
    re.map((x, i) => x * size[i]!),
    im.map((x, i) => x * size[i]!),
    marks.map((mark) => ({ ...mark, note: "a gate" }) as Mark),
  );
};
const both = (...marks: Omit<Mark, "note">[]) => ({
  pressures: [{ ...at, response: bent(place!.sum, ...marks) }],
  impedance: bent(impedance, ...marks),
});
const ends = [
  [{ kind: "no-data", to: 300 }, { kind: "no-data", from: 12_000 }],
  [{ kind: "no-data", from: first, to: 300 }, { kind: "no-data", from: 12_000, to: last }],
  [{ kind: "no-data", from: 0, to: 300 }, { kind: "no-data", from: 12_000, to: 2 * last }],
] as const satisfies readonly (readonly Omit<Mark, "note">[])[]; // prettier-ignore

describe("an end without data", () => {
  it.each(ends)("is no evidence, be it open or stated: %o, %o", (low, high) => {
    const { frequencies, places, impedance: seen } = observe("test", drawn, both(low, high));
    for (const { from, to } of [places[0]!, seen!]) {
      expect(frequencies[from]).toBeGreaterThanOrEqual(300);
      expect(frequencies[from]).toBeLessThan(300 * 2 ** (1 / 24) * 1.001);
      expect(frequencies[to - 1]).toBeLessThanOrEqual(12_000);
      expect(frequencies[to - 1]).toBeGreaterThan((12_000 / 2 ** (1 / 24)) * 0.999);
    }
    expect(suspects(drawn, both(low, high))).toEqual([]);
  });

  it("is evidence where no mark takes it away, or one that begins further up", () => {
    for (const marks of [[], [{ kind: "no-data", from: 60, to: 300 }], [{ kind: "smoothed", to: 300 }]] as const)
      expect(observe("test", drawn, both(...marks)).frequencies[0]).toBeLessThan(60);
    expect(suspects(drawn, both()).length).toBeGreaterThan(0);
  });

  it("leaves nothing to compare where it is all there is", () => {
    for (const whole of [both({ kind: "no-data" }), { pressures: [], impedance: bent(impedance, { kind: "no-data" }) }])
      expect(() => observe("test", drawn, whole)).toThrowError(expect.objectContaining({ code: "band-too-narrow" }));
  });
});
