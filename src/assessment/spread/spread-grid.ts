import type { Loudspeaker } from "../../loudspeaker";
import { anchoredGrid, type Band } from "../band";
import type { Goal } from "../goal-types";
import { knownBand } from "../load";
import type { GoalLoss } from "../loss";
import { passbandGrid, sparesOf, type Spare } from "../spared";

/** Points per octave at which samples are judged. */
const PER_OCTAVE = 24;
/** Half a third of an octave. */
const HALF = 2 ** (1 / 6);

/** A driver that is to be spared, with where its voltage is looked at. */
export interface SpareAt extends Spare {
  readonly resonance: number;
  /** Hz, ascending: its resonance, with its ends where it may move. */
  readonly around: Float64Array;
}

/** At what frequencies samples are solved, and which of these serve what. */
export interface SpreadGrid {
  /** Hz: everything, ascending. */
  readonly all: Float64Array;
  /** Hz: where sound is judged, and their places in `all`. */
  readonly heard: Float64Array;
  readonly heardAt: Int32Array;
  /** Where the load is judged. */
  readonly loadAt: Int32Array;
  /** Hz: where passbands are looked for. */
  readonly passband: Float64Array;
  readonly passbandAt: Int32Array;
  readonly spares: readonly (SpareAt & { readonly aroundAt: Int32Array })[];
}

/** The grid for a goal: each place heard over its `covered` (what was measured), judged over its band; with the load's where that has limits. `moves` gives the relative tolerance of a part's resonance. */
export function spreadGrid(
  box: Loudspeaker,
  goal: Goal,
  { band, places }: Pick<GoalLoss, "band" | "places">,
  covered: readonly Band[],
  loaded: boolean,
  moves: (part: string) => number,
): SpreadGrid {
  const heard =
    goal.frequencies
    ?? heardGrid(
      places.map((place) => place.band),
      covered,
    );
  const load = loaded ? anchoredGrid(knownBand(box.network), PER_OCTAVE) : new Float64Array(0);
  const { from, to } = knownBand(box.network);
  const spares = sparesOf(box, goal).flatMap((spare) => {
    if (spare.resonance === undefined) return [];
    const tolerance = moves(spare.part);
    const around = [1 - tolerance, 1, 1 + tolerance].map((factor) => Math.min(to, Math.max(from, spare.resonance! * factor)));
    return [{ ...spare, resonance: spare.resonance, around: Float64Array.from(new Set(around)) }];
  });
  const passband = spares.length === 0 ? new Float64Array(0) : passbandGrid(band);
  const all = Float64Array.from(new Set([...heard, ...load, ...passband, ...spares.flatMap(({ around }) => [...around])])).sort();
  const place = new Map(Array.from(all, (frequency, index) => [frequency, index]));
  const at = (frequencies: Float64Array) => Int32Array.from(frequencies, (frequency) => place.get(frequency)!);
  return {
    all,
    heard,
    heardAt: at(heard),
    loadAt: at(load),
    passband,
    passbandAt: at(passband),
    spares: spares.map((spare) => ({ ...spare, aroundAt: at(spare.around) })),
  };
}

/** Hz: 24 points an octave through 1 kHz over every place's band and half a third beyond, as far as it was measured, with the ends themselves. */
function heardGrid(bands: readonly Band[], covered: readonly Band[]): Float64Array {
  const ends = bands.flatMap(({ from, to }, k) => [Math.max(covered[k]!.from, from / HALF), from, to, Math.min(covered[k]!.to, to * HALF)]);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const inner = anchoredGrid({ from: low, to: high }, PER_OCTAVE).filter(
    (frequency) => frequency > low && frequency < high && ends.every((end) => Math.abs(frequency / end - 1) > 1e-6),
  );
  return Float64Array.from(new Set([...inner, ...ends])).sort();
}
