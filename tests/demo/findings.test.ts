// The findings of the example against numbers from a second route: tests/demo/plain-arithmetic.mjs reads the same text files
// and calculates by itself, with no import from the library. Both use the same definitions (its head states them), so a number must
// agree to its printed digits. The exceptions are wider, each with its reason beside it.
import { execFileSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { assess, compare, type Comparison } from "dividing-network/assessment";
import { readProject } from "dividing-network/project";

interface Numbers {
  readonly onAxis: readonly { readonly frequency: number; readonly sumDb: number; readonly wooferDb: number; readonly tweeterDb: number }[];
  readonly crossoverFrequencies: readonly number[];
  readonly mainCrossover: number;
  readonly overlaps: readonly { readonly from: number; readonly to: number; readonly octaves: number }[];
  readonly fittedSlopeDbPerOctave: { readonly woofer: number; readonly tweeter: number };
  readonly phaseRmsDegrees: number;
  readonly reversedNull: { readonly depthDb: number; readonly frequency: number };
  readonly line: {
    readonly slopeDbPerOctave: number;
    readonly standardDeviationDb: number;
    readonly worstDb: number;
    readonly worstFrequency: number;
    readonly rangeDb: number;
  };
  readonly sensitivity: { readonly for2V83Db: number; readonly for1WDb: number };
  readonly impedance: {
    readonly minimum: number;
    readonly frequency: number;
    readonly below80PercentOctaves: number;
    readonly wooferShare: number;
    readonly lowestPhaseDegrees: { readonly degrees: number; readonly frequency: number };
    readonly highestPhaseDegrees: { readonly degrees: number; readonly frequency: number };
  };
  readonly aroundCrossover: Readonly<Record<string, readonly number[]>>;
  readonly sideDifference: Readonly<Record<string, { readonly db: number; readonly frequency: number }>>;
  readonly shapeChangeFrom1To2mDb: number;
}

interface Plain {
  readonly found: Numbers;
  readonly proposed: Numbers;
  readonly tweeterDriveAtEqualSystemLevel: { readonly meanBelowCrossover: { readonly foundDb: number; readonly proposedDb: number } };
  readonly checkAsFound: {
    readonly directions: number;
    readonly rmsLevelErrorDb: number;
    readonly angleDegrees: number;
    readonly rmsImpedanceError: number;
    readonly misses: {
      readonly sensitivityDb: number;
      readonly standardDeviationDb: number;
      readonly worstDb: number;
      readonly smallestImpedance: number;
    };
  };
}

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
let plain: Plain;
let comparison: Comparison;

beforeAll(async () => {
  plain = JSON.parse(execFileSync(process.execPath, [here("plain-arithmetic.mjs")], { encoding: "utf8" })) as Plain;
  const folder = here("../../examples/desk-monitor/");
  const { project, found, proposed, measured } = await readProject(await readFile(`${folder}project.json`, "utf8"), {
    file: "project.json",
    readFile: (path) => readFile(folder + path, "utf8"),
  });
  const options = { ratedImpedance: project.ratedImpedance, goal: project.goal! };
  comparison = compare(assess(found, options), assess(proposed, options), { measured });
}, 120_000);

/** Half a unit of the last printed digit; a hundredth of it more, for a number that sits on the edge between two digits. */
function agrees(value: number | undefined, printed: number, digits: number, what: string, wider = 0): void {
  expect(Math.abs(value! - printed), `${what}: ${value} against ${printed}`).toBeLessThanOrEqual(0.505 * 10 ** -digits + wider);
}

/** Both assessments with their numbers. */
const both = () =>
  [
    ["as found", comparison.before, plain.found],
    ["proposed", comparison.after, plain.proposed],
  ] as const;

/** The two numbers of one finding. */
function finding(code: string, subject?: (text: string) => boolean) {
  const found = comparison.findings.filter((each) => each.code === code && (subject?.(each.subject) ?? true));
  expect(found, code).toHaveLength(1);
  return found[0]!;
}

describe("what is found on the example, against plain arithmetic on its files", () => {
  it("levels on the axis, of the sum and of each branch", () => {
    for (const [which, { prediction, distance }, numbers] of both()) {
      const axis = prediction.places.find((place) => place.azimuth === 0 && place.elevation === 0 && place.distance === distance)!;
      for (const { frequency, sumDb, wooferDb, tweeterDb } of numbers.onAxis) {
        const at = axis.sum.frequencies.findIndex((candidate) => Math.abs(candidate / frequency - 1) < 1e-4);
        const level = (of: { readonly re: Float64Array; readonly im: Float64Array }) =>
          20 * Math.log10(Math.hypot(of.re[at]!, of.im[at]!) / 20e-6);
        agrees(level(axis.sum), sumDb, 2, `${which}: sum at ${frequency} Hz`);
        agrees(level(axis.branches.woofer!), wooferDb, 2, `${which}: woofer at ${frequency} Hz`);
        agrees(level(axis.branches.tweeter!), tweeterDb, 2, `${which}: tweeter at ${frequency} Hz`);
      }
    }
  });

  it("sensitivity both ways", () => {
    for (const [which, { sensitivity }, numbers] of both()) {
      agrees(sensitivity.for2V83Db, numbers.sensitivity.for2V83Db, 3, `${which}, 2.83 V`);
      agrees(sensitivity.for1WDb, numbers.sensitivity.for1WDb, 3, `${which}, 1 W`);
    }
    const { before, after } = finding("sensitivity-2.83V");
    agrees(before, plain.found.sensitivity.for2V83Db, 3, "finding, as found");
    agrees(after, plain.proposed.sensitivity.for2V83Db, 3, "finding, proposed");
  });

  it("smoothness on the axis: line, deviations and range", () => {
    for (const [which, { smoothness }, { line }] of both()) {
      agrees(smoothness.slopeDbPerOctave, line.slopeDbPerOctave, 3, `${which}: slope`);
      agrees(smoothness.standardDeviationDb, line.standardDeviationDb, 3, `${which}: standard deviation`);
      agrees(smoothness.worstDb, line.worstDb, 3, `${which}: worst`);
      agrees(smoothness.worstFrequency, line.worstFrequency, 1, `${which}: where`);
      agrees(smoothness.rangeDb, line.rangeDb, 3, `${which}: range`);
    }
  });

  it("every crossover, and the overlap around the main one", () => {
    for (const [which, { handovers }, numbers] of both()) {
      const { crossovers, frequency, overlap, overlapOctaves, overlapCut } = handovers[0]!;
      expect(crossovers, which).toHaveLength(numbers.crossoverFrequencies.length);
      crossovers.forEach((value, index) => agrees(value, numbers.crossoverFrequencies[index]!, 1, `${which}: crossover`));
      agrees(frequency, numbers.mainCrossover, 1, `${which}: main crossover`);
      agrees(overlap.from, numbers.overlaps[0]!.from, 1, `${which}: overlap from`);
      agrees(overlap.to, numbers.overlaps[0]!.to, 1, `${which}: overlap to`);
      agrees(overlapOctaves, numbers.overlaps[0]!.octaves, 3, `${which}: overlap`);
      expect(overlapCut, which).toBe(false);
    }
  });

  it("acoustic slopes over the octave that starts half an octave beyond the crossover", () => {
    for (const [
      which,
      { handovers },
      {
        fittedSlopeDbPerOctave: { woofer, tweeter },
      },
    ] of both()) {
      // Between the files' points the library interpolates the complex pressure, the plain route the level. A level that bends by
      // b dB per octave² differs there by b/8/48² at most: 0.01 dB for the 200 dB per octave² of the woofer's fall.
      agrees(handovers[0]!.lowerSlopeDbPerOctave, woofer, 3, `${which}: woofer`, 0.01);
      agrees(handovers[0]!.upperSlopeDbPerOctave, tweeter, 3, `${which}: tweeter`, 0.01);
    }
  });

  it("phase between the branches where they overlap, and the null when one is reversed", () => {
    for (const [which, { handovers }, { phaseRmsDegrees, reversedNull }] of both()) {
      agrees(handovers[0]!.phaseRmsDegrees, phaseRmsDegrees, 2, `${which}: phase`);
      // Complex pressure against level and phase between the points, as above: 0.1° of phase is 0.1 dB of a null of 29 dB.
      agrees(handovers[0]!.nullDepthDb, reversedNull.depthDb, 2, `${which}: depth`, 0.02);
      agrees(handovers[0]!.nullFrequency, reversedNull.frequency, 1, `${which}: where`);
    }
  });

  // Power between the files' points: straight here, a cubic in the library. With 48 points an octave that is less than this, also where a null
  // of the network as found lies in the band.
  const straight = 0.003;

  it("change of each measured angle in the octaves around the crossover", () => {
    for (const [which, { offAxis }, { aroundCrossover }] of both()) {
      for (const [direction, changes] of Object.entries(aroundCrossover)) {
        const there = offAxis.find(({ azimuth, elevation }) => `${azimuth},${elevation}` === direction)!;
        expect(there.bands).toHaveLength(3);
        there.bands.forEach(({ changeDb }, index) =>
          agrees(changeDb, changes[index]!, 3, `${which}: ${direction}, band ${index}`, straight),
        );
      }
    }
    const worst = (changes: readonly number[]) => changes.reduce((most, change) => (Math.abs(change) > Math.abs(most) ? change : most));
    const reported = comparison.findings.filter(({ code }) => code === "off-axis");
    expect(reported).toHaveLength(Object.keys(plain.found.aroundCrossover).length);
    for (const direction of Object.keys(plain.found.aroundCrossover)) {
      const [before, after] = [worst(plain.found.aroundCrossover[direction]!), worst(plain.proposed.aroundCrossover[direction]!)];
      expect(
        reported.some((each) => Math.abs(each.before - before) < 6e-4 + straight && Math.abs(each.after - after) < 6e-4 + straight),
        direction,
      ).toBe(true);
    }
  });

  it("difference between the two sides", () => {
    for (const [which, { sides }, { sideDifference }] of both()) {
      for (const angle of [10, 20, 30]) {
        const side = sides.find(({ azimuth }) => azimuth === angle)!;
        agrees(side.differenceDb, sideDifference[`±${angle}`]!.db, 2, `${which}: ±${angle}°`);
        agrees(side.frequency, sideDifference[`±${angle}`]!.frequency, 1, `${which}: ±${angle}°, where`);
      }
    }
  });

  it("change of shape with distance", () => {
    for (const [which, { distances }, { shapeChangeFrom1To2mDb }] of both()) {
      expect(distances.map(({ distance }) => distance)).toEqual([2]);
      agrees(distances[0]!.spreadDb, shapeChangeFrom1To2mDb, 3, which);
    }
  });

  it("the load: minimum and where, whose current makes it, phase extremes, and where it is too low", () => {
    for (const [which, { load }, { impedance }] of both()) {
      agrees(load.minimum, impedance.minimum, 3, `${which}: minimum`);
      agrees(load.minimumFrequency, impedance.frequency, 1, `${which}: where`);
      agrees(load.octavesBelowLimit, impedance.below80PercentOctaves, 3, `${which}: below the limit`);
      agrees(load.lowestPhaseDegrees, impedance.lowestPhaseDegrees.degrees, 2, `${which}: lowest phase`);
      agrees(load.lowestPhaseFrequency, impedance.lowestPhaseDegrees.frequency, 1, `${which}: where`);
      agrees(load.highestPhaseDegrees, impedance.highestPhaseDegrees.degrees, 2, `${which}: highest phase`);
      agrees(load.highestPhaseFrequency, impedance.highestPhaseDegrees.frequency, 1, `${which}: where`);
      const share = (driver: string) => load.shares.find(({ drivers }) => drivers.includes(driver))!.share;
      agrees(share("woofer"), impedance.wooferShare, 4, `${which}: woofer's share`);
      agrees(share("tweeter"), 1 - impedance.wooferShare, 4, `${which}: tweeter's share`);
    }
  });

  it("by how much the model misses the loudspeaker as measured, over all and finding by finding", () => {
    const model = comparison.model!;
    const { directions, rmsLevelErrorDb, angleDegrees, rmsImpedanceError, misses } = plain.checkAsFound;
    expect(model.places).toBe(directions);
    agrees(model.levelDb, rmsLevelErrorDb, 5, "level");
    agrees(model.angleDegrees, angleDegrees, 4, "angle");
    agrees(model.impedance, rmsImpedanceError, 6, "impedance");
    agrees(finding("sensitivity-2.83V").residual, misses.sensitivityDb, 5, "sensitivity", straight / 100);
    agrees(finding("smoothness").residual, misses.standardDeviationDb, 5, "standard deviation");
    agrees(finding("worst-deviation").residual, misses.worstDb, 5, "worst deviation");
    agrees(finding("impedance-minimum").residual, misses.smallestImpedance, 5, "smallest impedance");
  });

  it("the verdicts are those that the plain numbers give", () => {
    const { found, proposed } = plain;
    const better = (code: string, is: boolean) => expect(finding(code).verdict, code).toBe(is ? "better" : "worse");
    better("smoothness", proposed.line.standardDeviationDb < found.line.standardDeviationDb);
    better("worst-deviation", Math.abs(proposed.line.worstDb) < Math.abs(found.line.worstDb));
    better("overlap", proposed.overlaps[0]!.octaves < found.overlaps[0]!.octaves);
    better("phase-tracking", proposed.phaseRmsDegrees < found.phaseRmsDegrees);
    better("reversed-null", proposed.reversedNull.depthDb > found.reversedNull.depthDb);
    better("impedance-minimum", proposed.impedance.minimum > found.impedance.minimum);
    better("sensitivity-2.83V", proposed.sensitivity.for2V83Db > found.sensitivity.for2V83Db);
    expect(comparison.verdict.sentence).toMatch(
      /^The new network is better: on the axis .* off the axis, to the sides .* worse in no topic/,
    );
  });
});
