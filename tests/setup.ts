// A library that warns on the console is a library with an undecided error: a warning fails the test that caused it.
import { afterEach, beforeEach, expect, vi } from "vitest";

beforeEach(() => {
  vi.spyOn(console, "warn").mockImplementation(() => undefined);
});

afterEach(() => {
  expect(console.warn, "nothing may call console.warn").not.toHaveBeenCalled();
  vi.restoreAllMocks();
});
