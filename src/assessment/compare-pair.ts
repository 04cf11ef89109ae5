import { DividingNetworkError } from "../errors";
import { checkObject, checkOptions, shown } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import { samePlace } from "../loudspeaker/internal";
import { resample, type FrequencyResponse, type Mark } from "../response";
import { bandWithout } from "../response/internal";
import { anchoredGrid, checkBand, type Band } from "./band";
import { checkMeasured, type ModelCheck, type WholeMeasurement } from "./model-check";
import type { Suspect } from "./suspects/groups";
import { checkRepeatability, type SuspectsOptions } from "./suspects/repeatability";
import { suspects } from "./suspects/suspects";
import { momentsBetween, thirdOctaves } from "./third-octaves";
import { pairViews } from "./views";
import { hertz, signed } from "../quantity/internal";
import type { PairDifference, PairComparison } from "./comparison-data";
import type { FrequencyBand } from "../quantity";

/** What `comparePair` may be told. */
export interface PairOptions {
  /** Hz; default 20 Hz to 20 kHz as far as both cover and neither is coarse. */
  readonly band?: FrequencyBand | undefined;
  /** Whether the two are built as mirror images, so that the left one's +20° is the right one's −20°; default false. */
  readonly mirrored?: boolean | undefined;
  /** By how much a repeated measurement may differ: dB and part of |Z|; see `SuspectsOptions`. */
  readonly repeatability?: SuspectsOptions["repeatability"] | undefined;
  /** One of the two as drawn, its drivers measured alone: then each is held against it. */
  readonly drawing?: Loudspeaker | undefined;
}

/** What was measured of one loudspeaker of a pair. */
export interface PairHalf {
  /** Pa, of the whole, each with its place and voltage. */
  readonly pressures?: readonly WholeMeasurement[] | undefined;
  /** Ω. */
  readonly impedance?: FrequencyResponse | undefined;
}

/**
 * Left against right of a pair as found, each measured as a whole: the balance between them, the difference in colour, the impedances, and, with
 * a drawing, what may be wrong in either. One that aged differently shows here before anything is redesigned: what isn't alike isn't one loudspeaker.
 *
 * @param left `pressures` of the left one (Pa, with place in m and degrees and the source's V), its `impedance` in Ω; one of them at least
 * @param right the same of the right one
 * @param options `band` in Hz, `mirrored`, `repeatability` in dB and as a part of |Z|, `drawing`
 * @returns differences left less right in dB and as parts of |Z|, whether that is within the repeatability, and suspects
 * @throws DividingNetworkError `not-measured` when nothing was measured of both, `outside-band`, `invalid-argument`, and what `suspects` throws
 * @example
 * ```ts
 * import { frequencyResponse, logGrid } from "dividing-network";
 * import { comparePair } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const at = (pressure: number) => ({ pressures: [{ distance: 1, azimuth: 0, elevation: 0, voltage: 2.83, response: frequencyResponse(grid, grid.map(() => pressure), grid.map(() => 0)) }] });
 * comparePair(at(0.2), at(0.1)).places[0]?.meanDb; // 6.0206
 * ```
 */
export function comparePair(left: PairHalf, right: PairHalf, options: PairOptions = {}): PairComparison {
  const caller = "comparePair";
  const {
    band: asked,
    mirrored = false,
    repeatability,
    drawing,
  } = checkOptions(caller, options, ["band", "mirrored", "repeatability", "drawing"]);
  if (typeof mirrored !== "boolean") throw new DividingNetworkError("invalid-argument", `${caller}: "mirrored" must be true or false`);
  const unit = checkRepeatability(caller, { repeatability });
  const region: Region = {
    within: asked === undefined ? { from: 20, to: 20_000 } : checkBand(caller, "band", asked),
    asked: asked !== undefined,
  };
  const [a, b] = [checkHalf(caller, "left", left), checkHalf(caller, "right", right)];
  const places = a.pressures.flatMap((mine) => {
    const theirs = b.pressures.find((other) => samePlace(other, mirrored ? { ...mine, azimuth: -mine.azimuth } : mine));
    return theirs === undefined ? [] : [differenceAt(caller, mine, theirs, region)];
  });
  const impedance =
    a.impedance === undefined || b.impedance === undefined ? undefined : ofImpedances(caller, a.impedance, b.impedance, region);
  if (places.length === 0 && impedance === undefined) {
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: left and right must share a measured place, or both have a measured impedance, got neither`,
      "Measure both with the microphone at the same place",
    );
  }
  const alike =
    places.every(
      ({ meanDb, spreadDb, worstDb }) => Math.hypot(meanDb, spreadDb) <= unit.levelDb && Math.abs(worstDb) <= CHANCE * unit.levelDb,
    )
    && (impedance === undefined || impedance.part <= unit.impedance);
  const of = (half: ModelCheck["measured"]): readonly Suspect[] =>
    drawing === undefined ? [] : suspects(drawing, half, { repeatability: unit });
  const made: PairComparison = {
    places: Object.freeze(places),
    ...(impedance === undefined ? {} : { impedance }),
    alike,
    suspects: Object.freeze({ left: of(a), right: of(b) }),
    sentence: sentenceOf(places, impedance, alike),
  };
  return Object.freeze(shown(made, pairViews));
}

/** A narrow hole hardly moves a root mean square: three of these are no chance. */
const CHANCE = 3;

function checkHalf(caller: string, argument: string, half: PairHalf): ModelCheck["measured"] {
  const { pressures = [], impedance } = checkOptions(caller, checkObject(caller, argument, half, "{ pressures, impedance }"), [
    "pressures",
    "impedance",
  ]);
  return checkMeasured(caller, { pressures, ...(impedance === undefined ? {} : { impedance }) }, argument);
}

/** Hz: where to compare, and whether that was asked for. */
interface Region {
  readonly within: Band;
  readonly asked: boolean;
}

function common(caller: string, a: FrequencyResponse, b: FrequencyResponse, { within, asked }: Region): Band {
  // Nothing is compared where nothing was measured; where it is only coarse, no more than was asked for.
  const shared = (kinds: readonly Mark["kind"][]): Band => {
    const [left, right] = [bandWithout(a, kinds), bandWithout(b, kinds)];
    return { from: Math.max(within.from, left.from, right.from), to: Math.min(within.to, left.to, right.to) };
  };
  const wide = ({ from, to }: Band) => to / from >= 2 ** (1 / 3);
  const [sure, all] = [shared(["no-data", "coarse"]), shared(["no-data"])];
  const band = !asked && wide(sure) ? sure : all;
  if (!wide(band))
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: left and right must share a third of an octave of the band ${within.from} Hz to ${within.to} Hz, got ${band.from.toPrecision(4)} Hz to ${band.to.toPrecision(4)} Hz`,
      "Measure both over the same band",
    );
  return Object.freeze(band);
}

function differenceAt(caller: string, mine: WholeMeasurement, theirs: WholeMeasurement, region: Region): PairDifference {
  const band = common(caller, mine.response, theirs.response, region);
  const [l, r] = [thirdOctaves(mine.response), thirdOctaves(theirs.response)];
  const drive = 20 * (Math.log10(theirs.voltage) - Math.log10(mine.voltage));
  const value = (lnf: number) => l.levelDb(lnf) - r.levelDb(lnf) + drive;
  const [from, to] = [Math.log(band.from), Math.log(band.to)];
  const bends = [...l.bends, ...r.bends].sort((x, y) => x - y);
  const { mean, variance } = momentsBetween(from, to, bends, value);
  const steps = Math.ceil(((to - from) / Math.LN2) * 48);
  let [worstDb, worstFrequency] = [0, band.from];
  for (let i = 0; i <= steps; i++) {
    const lnf = from + ((to - from) * i) / steps;
    const now = value(lnf);
    if (Math.abs(now) > Math.abs(worstDb)) [worstDb, worstFrequency] = [now, Math.exp(lnf)];
  }
  const marks = Object.freeze([
    ...new Map(
      [...(mine.response.marks ?? []), ...(theirs.response.marks ?? [])]
        .filter((mark) => (mark.from ?? 0) < band.to && (mark.to ?? Infinity) > band.from)
        .map((mark) => [JSON.stringify(mark), mark]),
    ).values(),
  ]);
  return Object.freeze({
    distance: mine.distance,
    azimuth: mine.azimuth,
    elevation: mine.elevation,
    band,
    marks,
    meanDb: mean,
    spreadDb: Math.sqrt(Math.max(0, variance)),
    worstDb,
    worstFrequency,
  });
}

function ofImpedances(
  caller: string,
  left: FrequencyResponse,
  right: FrequencyResponse,
  region: Region,
): NonNullable<PairComparison["impedance"]> {
  const grid = anchoredGrid(common(caller, left, right, region), 48);
  const [l, r] = [resample(left, grid, { delay: 0 }), resample(right, grid, { delay: 0 })];
  let [sum, worst, at] = [0, 0, grid[0]!];
  for (let i = 0; i < grid.length; i++) {
    const part =
      Math.hypot(l.re[i]! - r.re[i]!, l.im[i]! - r.im[i]!) / ((Math.hypot(l.re[i]!, l.im[i]!) + Math.hypot(r.re[i]!, r.im[i]!)) / 2);
    sum += part * part;
    if (part > worst) [worst, at] = [part, grid[i]!];
  }
  return Object.freeze({ part: Math.sqrt(sum / grid.length), worst, worstFrequency: at });
}

function sentenceOf(places: readonly PairDifference[], impedance: PairComparison["impedance"], alike: boolean): string {
  const worst = places.reduce<PairDifference | undefined>(
    (most, place) =>
      most === undefined || Math.hypot(place.meanDb, place.spreadDb) > Math.hypot(most.meanDb, most.spreadDb) ? place : most,
    undefined,
  );
  const said = [
    ...(worst === undefined
      ? []
      : [
          `at azimuth ${worst.azimuth}°, elevation ${worst.elevation}° the left is ${signed(worst.meanDb, 1)} dB against the right on the average, differs in colour by ${worst.spreadDb.toFixed(1)} dB and by ${signed(worst.worstDb, 1)} dB at ${hertz(worst.worstFrequency)}${worst.marks.some(({ kind }) => kind === "coarse") ? ", where the data are coarse in part of the band" : ""}`,
        ]),
    ...(impedance === undefined
      ? []
      : [
          `the impedances differ by ${(100 * impedance.part).toFixed(1)} %, most by ${(100 * impedance.worst).toFixed(0)} % at ${hertz(impedance.worstFrequency)}`,
        ]),
  ];
  return `Left and right ${alike ? "are alike, within what a repeated measurement may differ" : "are not one loudspeaker twice"}: ${said.join("; ")}`;
}
