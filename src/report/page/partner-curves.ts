import type { Assessment } from "../../assessment";
import { heardWithPartner } from "../../assessment/internal";
import { pressureAtPlace } from "../../loudspeaker";
import { resample, type FrequencyResponse } from "../../response";

/** What is heard on the axis beside the network, in Pa for the prediction's voltage. */
export interface PartnerCurves {
  /** What the partner gives by itself, as far as both are known. */
  readonly alone: FrequencyResponse;
  /** What both give together there. */
  readonly together: FrequencyResponse;
}

/** The partner outside the network on the axis, and the sum with it; undefined where none was measured. */
export function partnerOnAxis({ goal, prediction, distance }: Assessment): PartnerCurves | undefined {
  const { partner } = goal;
  if (partner === undefined || !("pressures" in partner)) return undefined;
  const axis = { azimuth: 0, elevation: 0 };
  const found = partner.pressures.find(({ azimuth, elevation }) => Math.abs(azimuth) < 0.01 && Math.abs(elevation) < 0.01);
  if (found === undefined) return undefined;
  const together = heardWithPartner(goal, axis, pressureAtPlace(prediction, { distance, ...axis }).sum);
  return { alone: resample(found.response, together.frequencies), together };
}
