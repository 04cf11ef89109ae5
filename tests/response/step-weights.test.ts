// How much a phase step counts: 1/(1 + (b/0.1)²), b being the larger second difference of ln |H| at its two ends. Numbers by hand.
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { stepWeights } from "../../src/response/step-weights";

/** The weights of a response with these ln |H|, in nepers, at an angle that doesn't matter. */
const weights = (nepers: readonly number[]): number[] => {
  const size = nepers.map(Math.exp);
  return [
    ...stepWeights(
      frequencyResponse(
        nepers.map((_, i) => i + 1),
        size.map((value) => 0.6 * value),
        size.map((value) => 0.8 * value),
      ),
    ),
  ];
};
const near = (values: readonly number[]): unknown[] => values.map((value) => expect.closeTo(value, 9) as unknown);

describe("the weight of a step", () => {
  it("is 1 where the logarithm of the size runs straight", () => {
    expect(weights([0, 1, 2, 3])).toEqual(near([1, 1, 1]));
    expect(weights([0, 5])).toEqual([1]);
  });

  it("is a half at a bend of 0.1 neper and a fifth at one of 0.2, by the larger bend of its ends; the first and last sample have none", () => {
    expect(weights([0, 1, 2.1, 3.2])).toEqual(near([1 / 2, 1 / 2, 1]));
    expect(weights([0, 0, 0.2, 0.3, 0.3])).toEqual(near([1 / 5, 1 / 5, 1 / 2, 1 / 2]));
    expect(weights([0.3, 0.3, 0.2, 0, 0])).toEqual(near([1 / 2, 1 / 2, 1 / 5, 1 / 5]));
  });

  it("is 0 beside a sample without sound, and beside its neighbours, whose bend has no end", () => {
    expect(weights([0, 0, 0, -Infinity, 0, 0, 0, 0])).toEqual(near([1, 0, 0, 0, 0, 1, 1]));
    expect(weights([-Infinity, 0, 0, 0])).toEqual(near([0, 0, 1]));
    expect(weights([-Infinity, 0])).toEqual([0]);
    expect(weights([0, -Infinity])).toEqual([0]);
    expect(weights([-Infinity, -Infinity, 0])).toEqual([0, 0]);
  });
});
