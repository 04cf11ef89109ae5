// A library that warns on the console is a library with an undecided error: a warning fails the test that caused it.
// Properties draw the same cases at every run, so that a failure is a change of the code; `npm run test:search` draws others.
import fc from "fast-check";
import { afterEach, beforeEach, expect, vi } from "vitest";
import { cases, searchFactor } from "./support/cases";

fc.configureGlobal(searchFactor > 0 ? { numRuns: cases(100) } : { seed: 20_261_126, numRuns: cases(100) });

beforeEach(() => {
  vi.spyOn(console, "warn").mockImplementation(() => undefined);
});

afterEach(() => {
  expect(console.warn, "nothing may call console.warn").not.toHaveBeenCalled();
  vi.restoreAllMocks();
});
