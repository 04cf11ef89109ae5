import { env } from "node:process";

/** How many times as many cases `npm run test:search` draws; 0 when the suite runs from its fixed seed. */
export const searchFactor = Number(env["PROPERTY_SEARCH"] ?? 0);

/** The number of cases of a property: n from the fixed seed, `searchFactor` times as many in a search. */
export function cases(n: number): number {
  return Math.ceil(n * (searchFactor || 1));
}
