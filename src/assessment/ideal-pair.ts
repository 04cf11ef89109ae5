import { highPass, lowPass } from "../alignments";
import { familyPrototype, flatterPolarity } from "../alignments/internal";
import { logGrid } from "../numeric";
import { responseOf, scaleResponse } from "../response";
import type { Intention } from "./intention";
import { handoverOf } from "./handover";

/** What an ideal pair of a family and order does where one branch hands over to the other: from its transfer functions, without drivers. */
export interface IdealPair {
  /** Octaves over which the levels are within 10 dB. */
  readonly overlapOctaves: number;
  /** dB per octave: how both fall over the octave that begins half an octave beyond the crossover; both alike, since one mirrors the other. */
  readonly slope: number;
  /** Degrees, root mean square over the overlap. */
  readonly phaseRmsDegrees: number;
  /** dB by which reversing one lowers the sum; 120 for a perfect null. */
  readonly nullDepthDb: number;
}

const known = /* @__PURE__ */ new Map<string, IdealPair>();
/** Hz; a pair has the same shape wherever its corner lies. */
const CORNER = 1000;

/** The ideal that was meant, in the polarity that sums flatter. Without a family: Butterworth, whose overlap a Linkwitz–Riley pair shares. */
export function idealPair({
  family = "butterworth",
  order,
  rippleDb,
  normalization,
}: Pick<Intention, "family" | "order" | "rippleDb" | "normalization">): IdealPair {
  const key = JSON.stringify([family, order, rippleDb, normalization]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const prototype = familyPrototype("goal", { family, order, rippleDb, normalization });
  const [low, high] = [lowPass(prototype, CORNER), highPass(prototype, CORNER)];
  const sign = flatterPolarity(low, high, CORNER, order) === "reversed" ? -1 : 1;
  // Of a gentle pair the overlap spans some octaves, which the grid must hold.
  const grid = logGrid(CORNER / 256, CORNER * 256, 16 * 96 + 1);
  const { overlapOctaves, lowerSlopeDbPerOctave, phaseRmsDegrees, nullDepthDb } = handoverOf(
    responseOf(low, grid),
    scaleResponse(responseOf(high, grid), sign),
  );
  const found: IdealPair = Object.freeze({ overlapOctaves, slope: -lowerSlopeDbPerOctave!, phaseRmsDegrees, nullDepthDb });
  // A handful of intentions at most; a caller that varies the ripple without end doesn't fill the memory.
  if (known.size > 100) known.clear();
  known.set(key, found);
  return found;
}
