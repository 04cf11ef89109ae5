import { checkOptions } from "../../errors/internal";
import type { Loudspeaker } from "../../loudspeaker";
import { checkLoudspeaker } from "../../loudspeaker/internal";
import type { Entries } from "../../network";
import type { FrequencyResponse } from "../../response";
import { checkMeasured, type WholeMeasurement } from "../model-check";
import { groups, type Found, type Suspect } from "./groups";
import { observe, PER_OCTAVE, type Observed } from "./observed";
import { checkRepeatability, type SuspectsOptions } from "./repeatability";
import { trialOf } from "./trial";

/**
 * What is wrong when a loudspeaker doesn't measure as its drawing says: every part open, shorted, of another value or with added ohms, two
 * of a kind exchanged, a pad or a coupling turned round, a driver reversed, a wire on the neighbouring node. Each fault is fitted to the
 * impedance and the pressures of the whole in one misfit (units of the repeatability), and they are ranked by what is left. The same
 * serves after building: does the network match its drawing? Impedance alone will do; it can't see a driver's polarity.
 *
 * @param loudspeaker as drawn, its drivers measured alone, Ω and Pa/V
 * @param measured the whole: `pressures` (Pa, with place in m and degrees and the source's V), `impedance` in Ω; one of them at least
 * @param options `repeatability` of the measurements in dB and as a part of |Z|, dimensionless
 * @returns suspects, best first, at most ten; empty when the measurement is explained by the drawing. Where no single fault comes nearer to it than the
 *   drawing, one of no part, whose fault is `"unknown"` and whose `explains` is false. Values in SI
 * @throws DividingNetworkError `not-measured`, `band-too-narrow`, `invalid-argument`, and what `solve` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, logGrid, loudspeaker, network, pressurePerVolt, resistor, solve } from "dividing-network";
 * import { suspects } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const one = frequencyResponse(grid, grid.map(() => 1), grid.map(() => 0));
 * const cone = pressurePerVolt({ response: one, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const withCapacitor = (c: number) => network({ C1: [capacitor(c), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
 * const drawn = loudspeaker({ network: withCapacitor(10e-6), drivers: [{ name: "tweeter", pressures: [cone] }] });
 * const { impedance } = solve(withCapacitor(22e-6), grid);
 * const [first] = suspects(drawn, { pressures: [], impedance });
 * first?.parts; // ["C1"]
 * first?.value; // 0.000022
 * ```
 */
export function suspects<T extends Entries>(
  loudspeaker: Loudspeaker<T>,
  measured: { readonly pressures?: readonly WholeMeasurement[] | undefined; readonly impedance?: FrequencyResponse | undefined },
  options: SuspectsOptions = {},
): readonly Suspect[] {
  const caller = "suspects";
  const box = checkLoudspeaker(caller, loudspeaker) as Loudspeaker;
  const { pressures = [], impedance } = checkOptions(caller, measured, ["pressures", "impedance"]);
  const known = checkMeasured(caller, { pressures, ...(impedance === undefined ? {} : { impedance }) });
  const repeatability = checkRepeatability(caller, options);
  const observed = observe(caller, box, known);
  const trial = trialOf(box, observed, repeatability);
  const { misfit: drawn, residuals: drawnResiduals } = trial.drawn;
  // All faults on a coarse grid first; what is far behind there needs no second look.
  const rough =
    observed.frequencies.length < 8 * COARSER
      ? undefined
      : trialOf(box, alike(trial.observed, observe(caller, box, known, PER_OCTAVE / COARSER)), repeatability).faults();
  const promising =
    rough === undefined
      ? undefined
      : new Map(
          byScore(rough)
            .slice(0, PROMISING)
            .map(({ key, unknowns }) => [key, unknowns]),
        );
  const ranked = byScore(trial.faults(promising).filter(({ unchanged }) => !unchanged));
  const best = ranked[0];
  // Explained: within the repeatability, and no fault beyond a tolerance explains it by far better.
  const explained = trial.within(drawnResiduals);
  if (explained && !(best !== undefined && best.misfit < drawn / 1.3 && best.beyondTolerance)) return [];
  // Where no fault comes much nearer than the drawing, that is said: an empty list would say that nothing is wrong, and the best of them accuse somebody.
  if (!(best !== undefined && best.misfit < 0.95 * drawn))
    return Object.freeze([Object.freeze({ parts: Object.freeze([]), fault: "unknown", misfit: drawn, explains: false })]);
  return groups(
    ranked.filter(({ misfit }) => misfit < 0.95 * drawn),
    drawnResiduals.length,
    known,
    trial.within,
  );
}

/** Phases that don't count on one grid don't on the other. */
function alike({ places }: Observed, other: Observed): Observed {
  return {
    ...other,
    places: other.places.map((place, index) => {
      const { levelOnly } = places[index]!;
      const { complex, ...rest } = place;
      return complex === undefined || levelOnly === undefined ? place : { ...rest, levelOnly };
    }),
  };
}

/** How much coarser the first look is, and how many faults get a second one. */
const [COARSER, PROMISING] = [4, 40];

/** Best first; a number that was fitted costs a little, since it fits noise too. */
function byScore(found: readonly Found[]): readonly Found[] {
  return found
    .map((each) => ({ each, score: each.misfit * (1 + 0.03 * each.unknowns.length) }))
    .sort((a, b) => a.score - b.score)
    .map(({ each }) => each);
}
