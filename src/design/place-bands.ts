import type { Goal } from "../assessment";
import { heardWithPartner, lossEvenIfSilent, shapeOf } from "../assessment/internal";
import { predict, type Loudspeaker } from "../loudspeaker";
import { bandCells } from "./band-cells";
import type { PlaceBand } from "./band-bound";

/** Half a third of an octave, in ln f. */
const HALF = Math.LN2 / 6;
/** Frequencies beyond the outermost window: the slopes inside it hang on two of them. */
const BESIDE = 4;
/** Decibels of a change of 1 in ln of an amplitude. */
const DB_PER_NEPER = 20 / Math.LN10;

/** Where the loss of third-octave powers needs |p|², and each place's band over it: the frequencies of `predict`. Networks don't change them. */
export function placeBands(box: Loudspeaker, goal: Goal): { readonly frequencies: Float64Array; readonly bands: readonly PlaceBand[] } {
  const { distance, places } = lossEvenIfSilent(box, goal);
  const { frequencies: all, places: heard } = predict(box, {
    places: goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation })),
  });
  const [low, high] = [
    Math.min(...places.map(({ band }) => band.from)) * Math.exp(-HALF),
    Math.max(...places.map(({ band }) => band.to)) * Math.exp(HALF),
  ];
  const [inside, beyond] = [all.findIndex((f) => f >= low), all.findIndex((f) => f > high)];
  const start = Math.max(all[0]! > 0 ? 0 : 1, inside - BESIDE);
  const frequencies = all.slice(start, beyond < 0 ? all.length : beyond + BESIDE);
  const bands = places.map(({ band }, k) => {
    const { frequencies: measured } = heardWithPartner(goal, goal.places[k]!, heard[k]!.sum);
    const first = Math.max(0, all.indexOf(measured[0]!) - start);
    const end = Math.min(frequencies.length, all.indexOf(measured[measured.length - 1]!) + 1 - start);
    const shape = shapeOf(goal, goal.places[k]!);
    const cells = bandCells(
      frequencies.subarray(first, end).map(Math.log),
      Math.log(band.from),
      Math.log(band.to),
      (lnf) => shape(Math.exp(lnf)) / DB_PER_NEPER,
    );
    return { first, end, cells };
  });
  return { frequencies, bands };
}
