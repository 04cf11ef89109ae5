import type { Goal } from "../assessment";
import { withPartner } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { pressuresAt } from "../loudspeaker/internal";
import type { ComplexArrays } from "../numeric";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { frequencyResponse } from "../response";

/** What is heard at some places over some frequencies, re 20 µPa at 2.83 V; its arrays are written over by the next call. */
export interface FitSums {
  /** Place after place, at each frequency. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** From the voltages of the drivers' parts, V/V. */
  readonly hear: (voltages: readonly ComplexArrays[]) => void;
  /** Writes ∂|p|² of one place by what moves the voltages so, at what was heard last. */
  readonly powerSlopes: (place: number, moved: readonly ComplexArrays[], out: Float64Array) => void;
}

/**
 * Sums over the drivers' parts, with a partner that was measured.
 *
 * @param hung the drivers' parts, in the order of the voltages
 * @param frequencies Hz; `at`: where each lies in the grid of the voltages
 * @param known by place, the first frequency that is known there and the one after the last
 */
export function fitSums(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  distance: number,
  hung: readonly string[],
  frequencies: Float64Array,
  at: Int32Array,
  known: readonly { readonly first: number; readonly end: number }[],
): FitSums {
  const F = frequencies.length;
  const complexes = () => ({ re: new Float64Array(F), im: new Float64Array(F) });
  const pressures = goal.places.map(({ azimuth, elevation }, k) => {
    const { first, end } = known[k]!;
    const each = pressuresAt(caller, box, { distance, azimuth, elevation }, frequencies.subarray(first, end));
    return hung.map((part) => {
      const { re, im } = complexes();
      box.drivers.forEach((driver, d) => {
        if (driver.part === part)
          for (let f = first; f < end; f++)
            [re[f], im[f]] = [
              re[f]! + (DRIVE_VOLTAGE / REFERENCE_PRESSURE) * each[d]!.re[f - first]!,
              im[f]! + (DRIVE_VOLTAGE / REFERENCE_PRESSURE) * each[d]!.im[f - first]!,
            ];
      });
      return { re, im };
    });
  });
  const beside =
    goal.partner !== undefined && "pressures" in goal.partner
      ? goal.places.map((place, k) => {
          const { first, end } = known[k]!;
          const silence = frequencyResponse(frequencies.subarray(first, end), new Float64Array(end - first), new Float64Array(end - first));
          const added = withPartner(goal, place, silence);
          const { re, im } = complexes();
          re.set(added.re, first);
          im.set(added.im, first);
          return { re, im };
        })
      : undefined;
  const [re, im] = [new Float64Array(goal.places.length * F), new Float64Array(goal.places.length * F)];
  return {
    re,
    im,
    hear(voltages) {
      pressures.forEach((own, k) => {
        for (let f = 0; f < F; f++) {
          let [r, i] = beside === undefined ? [0, 0] : [beside[k]!.re[f]! / REFERENCE_PRESSURE, beside[k]!.im[f]! / REFERENCE_PRESSURE];
          for (let c = 0; c < own.length; c++) {
            const [P, V, place] = [own[c]!, voltages[c]!, at[f]!];
            r += P.re[f]! * V.re[place]! - P.im[f]! * V.im[place]!;
            i += P.re[f]! * V.im[place]! + P.im[f]! * V.re[place]!;
          }
          re[k * F + f] = r;
          im[k * F + f] = i;
        }
      });
    },
    powerSlopes(k, moved, out) {
      const own = pressures[k]!;
      for (let f = 0; f < F; f++) {
        let [r, i] = [0, 0];
        const place = at[f]!;
        for (let c = 0; c < own.length; c++) {
          const [P, V] = [own[c]!, moved[c]!];
          r += P.re[f]! * V.re[place]! - P.im[f]! * V.im[place]!;
          i += P.re[f]! * V.im[place]! + P.im[f]! * V.re[place]!;
        }
        out[f] = 2 * (re[k * F + f]! * r + im[k * F + f]! * i);
      }
    },
  };
}
