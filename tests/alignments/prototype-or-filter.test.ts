// Tests src/alignments/filters/: cascade.ts, check-filter.ts, filter.ts
// A prototype lies at 1 rad/s, a filter at its frequency. One in place of the other is wrong by a factor of 2πf, and looks like an answer.
import {
  allPassFilter,
  allPole,
  bandPass,
  butterworth,
  cascade,
  delayDerived,
  highPass,
  ladder,
  ladderValues,
  linkwitzRiley,
  lowPass,
  subtractive,
} from "dividing-network/alignments";
import { levelDb, responseOf, valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const filter = lowPass(butterworth(2), "3 kHz");
const scaled = expect.objectContaining({ code: "already-scaled" });
const unscaled = expect.objectContaining({ code: "unscaled-prototype" });

describe("a filter in place of a prototype", () => {
  it("doesn't compile, and is refused with the way out", () => {
    // @ts-expect-error it would be brought to its frequency twice: 0.03 µH
    expect(() => ladder(filter, { pass: "low", frequency: "3 kHz", load: 8 })).toThrow(
      /got a filter that has been brought to its frequency already\. Give ladder the prototype itself/,
    );
    // @ts-expect-error a filter is no prototype
    expect(() => ladderValues(filter)).toThrow(scaled);
    // @ts-expect-error a filter is no prototype
    expect(() => lowPass(filter, 100)).toThrow(scaled);
    // @ts-expect-error a filter is no prototype
    expect(() => highPass(highPass(butterworth(1), 100), 100)).toThrow(scaled);
    // @ts-expect-error a filter is no prototype
    expect(() => bandPass(allPassFilter({ frequency: 100 }), { from: 100, to: 200 })).toThrow(scaled);
    // @ts-expect-error a filter is no prototype
    expect(() => delayDerived(filter, { frequency: 100 })).toThrow(scaled);
  });

  it("is known through what is made of it, and after JSON", () => {
    for (const made of [
      cascade(filter, filter),
      subtractive(filter),
      ladder(butterworth(2), { pass: "high", frequency: 500, load: 8 }).transfer,
      JSON.parse(JSON.stringify(filter)) as typeof filter,
    ]) {
      expect(() => lowPass(made as never, 100)).toThrow(scaled);
    }
  });
});

describe("a prototype in place of a filter", () => {
  it("is refused at audible frequencies, with the way out", () => {
    expect(() => responseOf(butterworth(2), [3000])).toThrow(
      /a prototype, whose corner lies at 1 rad\/s \(0\.159 Hz\), must be asked up to 10 Hz, got 3000 Hz.*lowPass\(prototype, "3 kHz"\)/,
    );
    expect(() => responseOf(linkwitzRiley(4), [0.1, 20])).toThrow(unscaled);
    expect(() => valueAt({ ...butterworth(2), gain: 2 }, 1000)).toThrow(unscaled);
    expect(() => cascade(filter, butterworth(2))).toThrow(unscaled);
  });

  it("is answered about 1 rad/s, where its corner is", () => {
    expect(levelDb(responseOf(butterworth(5), [1 / (2 * Math.PI)]))[0]).toBeCloseTo(10 * Math.log10(0.5), 12);
    expect(valueAt(linkwitzRiley(4), 1 / (2 * Math.PI)).abs()).toBeCloseTo(0.5, 12);
  });
});

describe("products of prototypes, and zeros and poles written by hand", () => {
  it("stay at 1 rad/s until they are brought to a frequency", () => {
    const product = cascade(butterworth(2), butterworth(2));
    expect(ladder(product, { pass: "low", frequency: 2000, load: 8 }).parts["L1"]).toBeCloseTo(
      ladder(linkwitzRiley(4), { pass: "low", frequency: 2000, load: 8 }).parts["L1"]!,
      12,
    );
    expect(ladderValues({ zeros: [], poles: butterworth(3).poles, gain: 1 })[0]).toBeCloseTo(1.5, 12);
    expect(ladderValues(allPole({ denominator: [1, 2, 2, 1] }))[0]).toBeCloseTo(1.5, 9);
  });
});
