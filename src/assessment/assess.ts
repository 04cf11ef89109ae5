import { DividingNetworkError } from "../errors";
import { checkOptions, shown } from "../errors/internal";
import { commonPlaces, predict, pressureAtPlace, type Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Entries } from "../network";
import type { Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { REFERENCE_PRESSURE } from "../physics";
import { levelDb, type FrequencyResponse } from "../response";
import type { Assessment } from "./assessment-data";
import { SILENCE_DB, covered, judged, type Band } from "./band";
import { bassDamping } from "./bass";
import { branchesAt, type Branch } from "./branches";
import { causesOf } from "./causes";
import { dangersOf } from "./dangers";
import { goalOf } from "./goal";
import type { Goal, GoalOptions } from "./goal-types";
import { distanceOf } from "./heard-places";
import type { Intention } from "./intention";
import { bandOf } from "./judged-bands";
import { handover } from "./handover";
import { limitsNotChecked } from "./limits-not-checked";
import { loadOf } from "./load";
import { offAxisChange, sideDifferences } from "./off-axis";
import { overItsBand, qualityOf } from "./quality";
import { ratingsOf } from "./ratings";
import { risingBranches } from "./rising-branches";
import { sensitivityLevels } from "./sensitivity-levels";
import { smoothness } from "./smoothness";
import { assessmentViews } from "./views";
import { sampledAt } from "./sampled-at";

/** What `assess` may be told. */
export interface AssessOptions {
  /** Ω: what the loudspeaker is sold or meant as. */
  readonly ratedImpedance: Resistance;
  /** What the loudspeaker is meant to do, from `goal`, or its options; default flat from 300 Hz to 10 kHz as far as measured. */
  readonly goal?: Goal | GoalOptions | undefined;
}

/**
 * Judges one loudspeaker by numbers: sensitivity and smoothness on the axis (dB), how each branch hands over to the next
 * (Hz, octaves, dB per octave, degrees), what changes off the axis and between the sides (dB), and the load (Ω).
 *
 * @param loudspeaker network, drivers where they sit, and the source
 * @param options `ratedImpedance` in Ω; `goal`, whose bands are in Hz and whose `distance` is in m
 * @returns the numbers, with the prediction (Pa) from which they come
 * @throws DividingNetworkError `nothing-heard` where the axis is silent, `no-resonance` where a limit of `damping` is stated of which nothing is known, `no-crossover`, `not-measured`, `invalid-argument`, and what `predict` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 20_000, 400);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const pair = loudspeaker({
 *   network: { L1: [inductor("0.4244 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("6.631 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * });
 * assess(pair, { ratedImpedance: 8 }).handovers[0]?.overlapOctaves; // 3.32
 * ```
 */
export function assess<T extends Entries>(loudspeaker: Loudspeaker<T>, options: AssessOptions): Assessment {
  const caller = "assess";
  const { ratedImpedance: rated, goal: given } = checkOptions(caller, options, ["ratedImpedance", "goal"]);
  const ratedImpedance = inSi(caller, "ratedImpedance", rated, "Ω", { above: 0 });
  const box = checkLoudspeaker(caller, loudspeaker) as unknown as Loudspeaker;
  const goal = goalOf(given);
  const places = commonPlaces(box);
  const axes = places.filter(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  // The verdict is one of the axis.
  const distance = distanceOf(caller, box, { ...goal, places: [{ azimuth: 0, elevation: 0, weight: 1 }] });
  // Each distance has a gate of its own, and so a band of its own.
  const prediction = predict(box, { places: places.filter((place) => Math.abs(place.distance - distance) < 1e-3) });
  const axis = pressureAtPlace(prediction, { distance, azimuth: 0, elevation: 0 });
  const band = bandOf(overItsBand(goal), [axis.sum]);
  const sensitivityBand = covered({ from: 300, to: 3000 }, axis.sum) ?? band;
  const branches = branchesAt(prediction, axis);
  const load = loadOf(box, { ratedImpedance });
  const quality = qualityOf(box, goal, prediction, axis, load, ratedImpedance);
  const rising = risingBranches(box);
  const ratings = ratingsOf(box, goal, ratedImpedance);
  const bass = bassDamping(box, goal, axis);
  const handovers = handoversOf(branches, axis.sum, (lower, upper) => meantPair(goal, box, lower, upper));
  // The same for every network: the middle of what is judged.
  const centre = Math.sqrt(band.from * band.to);
  const made: Assessment = {
    prediction,
    ratedImpedance,
    goal,
    quality,
    dangers: dangersOf(quality, load, ratings),
    ratings,
    distance,
    band,
    sensitivityBand,
    sensitivity: inNumbers(sensitivityLevels(axis.sum, { band: sensitivityBand, ratedImpedance, voltage: prediction.voltage })),
    smoothness: smoothness(axis.sum, { band }),
    handovers,
    causes: causesOf(box, { goal, quality, branches, axis, prediction, load, rising }),
    rising,
    bass,
    limitsNotChecked: limitsNotChecked(box, goal, bass),
    offAxis: offAxisChange(prediction, { distance, centre }),
    sides: sideDifferences(prediction, { distance, centre }),
    load,
    distances: Object.freeze(
      axes
        .filter((other) => Math.abs(other.distance - distance) >= 1e-3)
        .map((other) =>
          Object.freeze({
            distance: other.distance,
            spreadDb: spreadDb(axis.sum, pressureAtPlace(predict(box, { places: [other] }), other).sum, band),
          }),
        ),
    ),
    marks: axis.sum.marks ?? [],
  };
  return Object.freeze(shown(made, assessmentViews));
}

/** What the goal says of two branches, whichever of their parts it names, and in whichever order. */
function meantPair(goal: Goal, { drivers }: Loudspeaker, lower: Branch, upper: Branch): Intention | undefined {
  const has = (branch: Branch, part: string) => drivers.some((driver) => driver.part === part && branch.drivers.includes(driver.name));
  return goal.intentions.find(
    (intention) =>
      (has(lower, intention.lower) && has(upper, intention.upper)) || (has(lower, intention.upper) && has(upper, intention.lower)),
  );
}

/** Pairs of branches that hand over to each other, from low to high; where two never meet there is nothing to hand over. */
function handoversOf(
  branches: readonly Branch[],
  sum: FrequencyResponse,
  meant: (lower: Branch, upper: Branch) => Intention | undefined,
): Assessment["handovers"] {
  const pairs = branches.flatMap((upper, at) =>
    branches.slice(0, at).map((lower, under) => ({ lower, upper, neighbours: under === at - 1 })),
  );
  return Object.freeze(
    pairs.flatMap(({ lower, upper, neighbours }) => {
      const intention = meant(lower, upper);
      try {
        const found = handover(lower.response, upper.response);
        const together = levelDb(sampledAt(sum, [found.frequency]), { reference: REFERENCE_PRESSURE })[0]!;
        if (!neighbours && intention === undefined && found.levelDb < together - HEARD_DB) return [];
        return [
          Object.freeze({ lower: lower.part, upper: upper.part, ...found, ...(intention === undefined ? {} : { meant: intention }) }),
        ];
      } catch (error) {
        if (error instanceof DividingNetworkError && error.code === "no-crossover") return [];
        throw error;
      }
    }),
  );
}

/** dB below the sum at which a pair of branches that aren't neighbours is still heard together (choice, no source). */
const HEARD_DB = 10;

/** What is silent over the band of a sensitivity has that of silence. */
function inNumbers({ for2V83Db, for1WDb }: Assessment["sensitivity"]): Assessment["sensitivity"] {
  const level = (db: number) => Math.max(SILENCE_DB, db);
  return Object.freeze({ for2V83Db: level(for2V83Db), for1WDb: level(for1WDb) });
}

/** Standard deviation of the level difference of two responses over what both cover of a band, dB. */
function spreadDb(a: FrequencyResponse, b: FrequencyResponse, within: Band): number {
  const first = covered(within, a);
  const both = first === undefined ? undefined : covered(first, b);
  if (both === undefined) return 0;
  const [here, there] = [judged(a, both).levelDb, judged(b, both).levelDb];
  const difference = here.map((level, index) => level - there[index]!);
  const mean = difference.reduce((sum, value) => sum + value, 0) / difference.length;
  return Math.sqrt(difference.reduce((sum, value) => sum + (value - mean) ** 2, 0) / difference.length);
}
