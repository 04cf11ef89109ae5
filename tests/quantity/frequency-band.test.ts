// A band of frequencies at the door.
import { describe, expect, it } from "vitest";
import { bandInSi } from "../../src/quantity/internal";

const read = (value: unknown) => bandInSi("goal", "band", value);

describe("a band", () => {
  it("is read in Hz or with its units", () => {
    expect(read({ from: 300, to: "3 kHz" })).toEqual({ from: 300, to: 3000 });
    expect(bandInSi("goal", "band", { from: 0, to: 1 }, { min: 0 })).toEqual({ from: 0, to: 1 });
  });

  it.each<[unknown, RegExp]>([
    [[300, 3000], /^goal: "band" must be a band \{ from, to \} in Hz, got an array\. Write \{ from: "300 Hz", to: "3 kHz" \}$/],
    [300, /got 300\. Write/],
    ["300 Hz", /got "300 Hz"\. Write/],
    [{ from: 300, upto: 3000 }, /goal: band: unknown option "upto"/],
    [{ from: 300 }, /"band\.to" must be/],
    [{ from: 0, to: 100 }, /"band\.from" must be .*above 0 Hz/],
    [{ from: 300, to: 300 }, /"band\.to" must be above "band\.from" \(300 Hz\), got 300 Hz$/],
    [{ from: 300, to: 200 }, /got 200 Hz$/],
    [null, /options must be an object, got null/],
  ])("%j is refused with the way out", (value, says) => {
    expect(() => read(value)).toThrow(says);
  });
});
