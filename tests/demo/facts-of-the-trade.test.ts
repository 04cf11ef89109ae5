// What the trade says of networks like the two in the example, and what can be computed instead, on the example's data.
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { assess, type Assessment } from "dividing-network/assessment";
import { pressureAtPlace, type PressureAtPlace } from "dividing-network/loudspeaker";
import { readProject } from "dividing-network/project";
import { valueAt } from "dividing-network/response";

const folder = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
let found: Assessment;
let proposed: Assessment;
/** The network made by hand, whose slopes match most closely. */
let matched: Assessment;

beforeAll(async () => {
  const project = await readProject(await readFile(`${folder}project.json`, "utf8"), {
    readFile: (path) => readFile(folder + path, "utf8"),
  });
  const options = { ratedImpedance: project.project.ratedImpedance };
  proposed = assess(project.proposed, options);
  matched = assess(project.alternative!.loudspeaker, options);
  found = assess(project.found, options);
}, 120_000);

/** The smallest |Z| between two frequencies. */
function smallest({ load: { impedance } }: Assessment, { from, to }: { readonly from: number; readonly to: number }): number {
  let least = Infinity;
  impedance.frequencies.forEach((frequency, index) => {
    if (frequency >= from && frequency <= to) least = Math.min(least, Math.hypot(impedance.re[index]!, impedance.im[index]!));
  });
  return least;
}

const worstAt = ({ offAxis }: Assessment, angle: number): number =>
  Math.max(
    ...offAxis
      .filter(({ azimuth, elevation }) => Math.abs(azimuth) === angle && elevation === 0)
      .flatMap(({ bands }) => bands.map(({ changeDb }) => Math.abs(changeDb))),
  );

describe("common practice, no source", () => {
  it("where branches work on top of each other the input impedance dips, and both draw its current", () => {
    const { load, handovers, ratedImpedance } = found;
    const { overlap } = handovers[0]!;
    expect(load.minimumFrequency).toBeGreaterThan(overlap.from);
    expect(load.minimumFrequency).toBeLessThan(overlap.to);
    expect(load.minimum).toBeLessThan(0.8 * ratedImpedance);
    for (const { drivers, share } of load.shares) expect(share, drivers.join()).toBeGreaterThan(0.3);
    // The same drivers handed over within an octave: no such dip there.
    expect(smallest(proposed, overlap)).toBeGreaterThan(1.2 * load.minimum);
    expect(smallest(proposed, proposed.handovers[0]!.overlap)).toBeGreaterThan(ratedImpedance);
  });

  it("with matched acoustic slopes and close drivers, 10° and 20° to either side stay close to the axis; with octaves of overlap they don't", () => {
    const { lowerSlopeDbPerOctave, upperSlopeDbPerOctave, overlapOctaves } = matched.handovers[0]!;
    expect(Math.abs(Math.abs(lowerSlopeDbPerOctave!) - Math.abs(upperSlopeDbPerOctave!))).toBeLessThan(3);
    expect(overlapOctaves).toBeLessThan(1);
    expect(worstAt(matched, 10)).toBeLessThan(1);
    expect(worstAt(matched, 20)).toBeLessThan(3);
    expect(found.handovers[0]!.overlapOctaves).toBeGreaterThan(3);
    expect(worstAt(found, 10)).toBeGreaterThan(1);
    expect(worstAt(found, 20)).toBeGreaterThan(6);
  });
});

describe("by computation, not by custom", () => {
  it("in the plane that holds both drivers the change at a crossover in phase is cos(π d sin θ/λ) times each driver's own directivity", () => {
    const { frequency, phaseDegrees } = matched.handovers[0]!;
    const c = 343.2 * Math.sqrt((22 + 273.15) / 293.15); // the project's 22 °C
    const spacing = 0.098;
    expect((spacing * frequency) / c).toBeLessThanOrEqual(0.6);
    expect(Math.abs(phaseDegrees), "in phase").toBeLessThan(5);
    const size = (response: PressureAtPlace["sum"]) => {
      const { re, im } = valueAt(response, frequency);
      return Math.hypot(re, im);
    };
    const axis = pressureAtPlace(matched.prediction, { distance: 1, azimuth: 0, elevation: 0 });
    const missedBy = (azimuth: number): { readonly missed: number; readonly half: number } => {
      const there = pressureAtPlace(matched.prediction, { distance: 1, azimuth, elevation: 0 });
      // Each driver's own: its measured level there against the axis. The branches are equal on the axis.
      const [w, t] = ["woofer", "tweeter"].map((name) => size(there.branches[name]!) / size(axis.branches[name]!));
      const half = (Math.PI * spacing * Math.sin((azimuth * Math.PI) / 180) * frequency) / c;
      const expected = 20 * Math.log10(Math.hypot((w! + t!) * Math.cos(half), (w! - t!) * Math.sin(half)) / 2);
      return { missed: 20 * Math.log10(size(there.sum) / size(axis.sum)) - expected, half: Math.abs(half) };
    };
    // The edges of the baffle, which lie nearer to one driver on either side, turn the phase of each with the angle: some degrees.
    const edges = 0.2;
    for (const azimuth of [10, 20, 30]) {
      const [left, right] = [missedBy(azimuth), missedBy(-azimuth)];
      // What isn't quite in phase turns one side up and the other down: the angle ε between the branches on the axis, and the
      // 19 mm by which the invented woofer's acoustic centre lies deeper, seen from the side. 20 lg cos x then moves by 8.7 tan x · ε/2.
      const slack =
        (Math.abs(phaseDegrees) * Math.PI) / 180 + (2 * Math.PI * frequency * 0.019 * (1 - Math.cos((azimuth * Math.PI) / 180))) / c;
      const tolerance = 8.686 * Math.tan(left.half + slack / 2) * (slack / 2) + edges;
      for (const { missed } of [left, right]) expect(Math.abs(missed), `±${azimuth}°`).toBeLessThan(tolerance);
      expect(Math.abs((left.missed + right.missed) / 2), `mean of ±${azimuth}°`).toBeLessThan(edges);
    }
  });

  it("perpendicular to that plane the sum changes as the drivers do, and by nothing else", () => {
    const { frequency } = proposed.handovers[0]!;
    const axis = pressureAtPlace(proposed.prediction, { distance: 1, azimuth: 0, elevation: 0 });
    const level = (response: PressureAtPlace["sum"]) => {
      const { re, im } = valueAt(response, frequency);
      return 20 * Math.log10(Math.hypot(re, im));
    };
    for (const elevation of [-20, -10, 10, 20]) {
      const there = pressureAtPlace(proposed.prediction, { distance: 1, azimuth: 0, elevation });
      const own = ["woofer", "tweeter"].map((name) => level(there.branches[name]!) - level(axis.branches[name]!));
      const change = level(there.sum) - level(axis.sum);
      // Between the two drivers' own changes, to the noise of the data.
      expect(change, `${elevation}°`).toBeGreaterThan(Math.min(...own) - 0.05);
      expect(change, `${elevation}°`).toBeLessThan(Math.max(...own) + 0.05);
    }
  });
});
