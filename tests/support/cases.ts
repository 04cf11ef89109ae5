import { env } from "node:process";

/** How many times as many cases `npm run test:search` draws, with new seeds; 0 when the suite runs from its fixed seed. */
export const searchFactor = Number(env["PROPERTY_SEARCH"] ?? 0);
/** The share of the cases that a run takes which repeats the suite many times, from the fixed seed. */
const share = Number(env["PROPERTY_SHARE"] ?? 1);

/** The number of cases of a property: n from the fixed seed, `searchFactor` times as many in a search. */
export function cases(n: number): number {
  return Math.ceil(n * (searchFactor || share));
}
