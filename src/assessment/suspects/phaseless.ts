import type { Loudspeaker } from "../../loudspeaker";
import { samePlace } from "../../loudspeaker/internal";
import type { Band } from "../band";
import type { WholeMeasurement } from "../model-check";

/** Why the phase of the whole can't be held against the drawing's at a place, in words; undefined where it can. */
export function phaseless(box: Loudspeaker, whole: WholeMeasurement, band: Band): string | undefined {
  const alone = box.drivers.flatMap(({ name, pressures }) =>
    pressures.filter((each) => samePlace(each, whole)).map((each) => ({ name, each })),
  );
  const untimed = alone.find(({ each }) => !each.timed);
  if (whole.timed === false) return "the whole was measured on a time zero of its own";
  if (untimed !== undefined) return `${untimed.name} was measured on a time zero of its own`;
  // A response that was never given a phase is real everywhere.
  if (whole.timed === undefined && whole.response.im.every((im) => im === 0)) return "the whole was measured without phase";
  if (modelled(whole, band)) return "the phase of the whole is a model";
  const model = alone.find(({ each }) => modelled(each, band));
  return model === undefined ? undefined : `the phase of ${model.name} is a model`;
}

function modelled({ response }: Pick<WholeMeasurement, "response">, { from, to }: Band): boolean {
  return (response.marks ?? []).some((mark) => mark.kind === "model" && (mark.from ?? 0) < to && (mark.to ?? Infinity) > from);
}
