import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { Goal } from "../assessment";
import { drawnLosses, drawnLossesFrom } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { fewDigits, fixed, inSi, percent } from "../quantity/internal";
import { checkDriversAlone, lotsIn } from "./robust-lots";
import type { RobustOptions, Robustness } from "./robust-data";

/** By what networks are chosen instead of their loss as drawn. */
export interface Robust {
  readonly by: "loss" | "yield";
  readonly largestLossDb: number | undefined;
  /** What drawn loudspeakers come to, of any network of the same drivers. */
  readonly of: (box: Loudspeaker, goal: Goal) => Robustness;
  /** Whether a network's rank can be below `enough`, as far as some of its draws tell: it is said no only of what isn't, or is further than `mostDb` from the goal as drawn. */
  readonly canBeBelow: (box: Loudspeaker, goal: Goal, enough: number, mostDb: number) => boolean;
  /** Smaller is better: dB of expected loss; by yield, 1000 for all that aren't good, and the expected loss. */
  readonly rank: (robustness: Robustness) => number;
}

const NAMES = ["by", "largestLossDb", "byKind", "drivers", "unstated", "lots", "distribution", "samples", "seed"] as const;
/** Loudspeakers drawn where nothing is said: some 5 % of the scatter are then left to chance. */
const SAMPLES = 64;
/** By how much the draws that stop early may stray from the whole ones, relative. */
const ROUNDING = 1e-9;
/** What no good loudspeaker at all counts, in dB of expected loss: more than any loss. */
const WORST = 1000;

/** Checks what is asked for, on the loudspeaker as found; the level is held against it. Whether its parts are those of the networks that are looked at is told by `parts`. */
export function robustOf(
  caller: string,
  found: Loudspeaker,
  goal: Goal,
  options: unknown,
  ratedImpedance: unknown,
  parts: "its parts" | "other parts",
): Robust | undefined {
  if (options === undefined) return undefined;
  const given = checkOptions(`${caller}: robust`, options as RobustOptions, NAMES);
  const by = checkOneOf(caller, "robust.by", given.by ?? "loss", ["loss", "yield"]);
  checkOneOf(caller, "robust.unstated", given.unstated ?? "assumed", ["assumed", "exact"]);
  const largestLossDb =
    given.largestLossDb === undefined
      ? undefined
      : checkNumber(caller, "robust.largestLossDb", given.largestLossDb, { above: 0, max: 200, unit: "dB" });
  if (by === "yield" && largestLossDb === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "robust.largestLossDb" must be stated where networks are chosen by yield, got none`,
      'Say how far a good loudspeaker may lie from the goal, in dB, or choose by: "loss"',
    );
  if (parts === "other parts") checkDriversAlone(caller, found, given.lots);
  const drawn = {
    byKind: given.byKind,
    drivers: given.drivers,
    unstated: given.unstated,
    lots: given.lots,
    distribution: checkOneOf(caller, "robust.distribution", given.distribution ?? "uniform", ["uniform", "triangular", "normal"]),
    samples: checkNumber(caller, "robust.samples", given.samples ?? SAMPLES, { min: 2, max: 4096, integer: true }),
    seed: checkNumber(caller, "robust.seed", given.seed ?? 1, { min: 0, max: 2 ** 32 - 1, integer: true }),
  };
  const rated = ratedImpedance === undefined ? undefined : inSi(caller, "ratedImpedance", ratedImpedance, "Ω", { above: 0 });
  const lossesOf = (box: Loudspeaker, aim: Goal, options: typeof drawn) =>
    drawnLosses(`${caller}: robust`, box, aim, options, { largestLossDb: largestLossDb ?? 200, found, rated });
  // What is drawn leaves off as soon as it is too much: squares of losses add up, and whoever isn't good stays so. Their rounding may differ from that of the whole.
  const rankOf = (squares: number, bad: number): number => {
    const loss = Math.sqrt(squares / drawn.samples);
    return by === "loss" ? loss : WORST * (bad / drawn.samples) + Math.min(WORST, loss);
  };
  let ready: { readonly goal: Goal; readonly losses: ReturnType<typeof drawnLossesFrom> } | undefined;
  const lossesFrom = (aim: Goal) => {
    if (ready?.goal !== aim) {
      const heldTo = { largestLossDb: largestLossDb ?? 200, found, rated };
      ready = { goal: aim, losses: drawnLossesFrom(`${caller}: robust`, found, aim, heldTo) };
    }
    return ready.losses;
  };
  // What is said of drivers and kinds is looked at before anything is searched.
  lossesOf(found, goal, { ...drawn, samples: 2 });
  return {
    by,
    largestLossDb,
    of(box, aim) {
      const { expectedLossDb, good } = lossesOf(box, aim, { ...drawn, lots: lotsIn(box, found, drawn.lots) });
      const limit =
        largestLossDb === undefined ? "" : `; ${percent(good, 2)} are good, within ${fewDigits(largestLossDb)} dB and all limits`;
      return Object.freeze({
        expectedLossDb,
        ...(largestLossDb === undefined ? {} : { yield: good }),
        samples: drawn.samples,
        says: `${drawn.samples} loudspeakers drawn within the tolerances lie ${fixed(expectedLossDb, 2)} dB from the goal (root mean square)${limit}`,
      });
    },
    canBeBelow(box, aim, enough, mostDb) {
      if (enough === Infinity) return true;
      const goesOn = {
        mostDb: mostDb * (1 + ROUNDING),
        on: (squares: number, bad: number) => rankOf(squares, bad) < enough * (1 + ROUNDING),
      };
      try {
        return lossesFrom(aim)(box, { ...drawn, lots: lotsIn(box, found, drawn.lots) }, goesOn) !== undefined;
      } catch (error) {
        // Whatever is wrong with it is said where it is looked at as a whole.
        if (error instanceof DividingNetworkError) return true;
        throw error;
      }
    },
    rank({ expectedLossDb, yield: good }) {
      if (!Number.isFinite(expectedLossDb)) return Infinity;
      return by === "loss" ? expectedLossDb : WORST * (1 - good!) + Math.min(WORST, expectedLossDb);
    },
  };
}
