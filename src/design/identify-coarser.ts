import type { Observation } from "./identify-data";

/** Points of each measurement at which the first search looks. */
const COARSE = 40;

/** The same curve at so many of its points at most, evenly taken. */
export function coarser(observation: Observation): Observation {
  const { frequencies } = observation;
  if (frequencies.length <= COARSE) return observation;
  const picked = Int32Array.from({ length: COARSE }, (_, index) => Math.round((index * (frequencies.length - 1)) / (COARSE - 1)));
  const pick = (array: Float64Array) => Float64Array.from(picked, (index) => array[index]!);
  const heard = observation.heard?.map(({ part, re, im }) => ({ part, re: pick(re), im: pick(im) }));
  return {
    ...observation,
    frequencies: pick(frequencies),
    re: pick(observation.re),
    im: pick(observation.im),
    ...(heard === undefined ? {} : { heard }),
  };
}
