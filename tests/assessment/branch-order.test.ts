// Tests src/assessment/: branches.ts
// Who is one branch and who isn't, and which branch lies lower: the centre of a branch's power on the log axis.
import { describe, expect, it } from "vitest";
import { loudspeaker, predict } from "dividing-network/loudspeaker";
import { coupling, inductor, resistor } from "dividing-network/parts";
import { branchesAt } from "../../src/assessment/branches";
import { grid, measure, type C } from "../support/synthetic";

const r = resistor(8);
type Driver = {
  readonly name: string;
  readonly part?: string;
  readonly role?: "woofer" | "tweeter";
  readonly level?: (f: number) => number;
};
const branches = (network: object, drivers: readonly Driver[], frequencies: Float64Array = grid) => {
  const box = loudspeaker({
    network: network as never,
    drivers: drivers.map(({ level = () => 0.1, role = "woofer", ...driver }) => ({
      ...driver,
      role,
      pressures: [measure((f): C => [level(f), 0])],
    })) as never,
  });
  const prediction = predict(box, { frequencies });
  return branchesAt(prediction, prediction.places[0]!);
};
const names = (...given: Parameters<typeof branches>) => branches(...given).map(({ drivers }) => drivers.join("+"));
/** A hump of one octave around a frequency. */
const around = (at: number) => (f: number) => 0.1 * Math.exp(-(Math.log2(f / at) ** 2));

describe("the order of branches", () => {
  const three = { a: [r, "in", "gnd"], b: [r, "in", "x"], R1: [r, "x", "gnd"], c: [r, "in", "y"], R2: [r, "y", "gnd"] };
  it("is from the lowest to the highest, whatever the order in which they are listed", () => {
    const [low, mid, high] = [around(200), around(1000), around(5000)];
    for (const [a, b, c, order] of [
      [low, mid, high, ["a", "b", "c"]],
      [high, mid, low, ["c", "b", "a"]],
      [mid, high, low, ["c", "a", "b"]],
    ] as const)
      expect(
        names(three, [
          { name: "a", level: a },
          { name: "b", level: b },
          { name: "c", level: c },
        ]),
      ).toEqual(order);
  });

  it("weighs power by octaves and not by points: a linear grid puts most of its points high up", () => {
    // Even from 100 Hz to 2 kHz, against a hump at 800 Hz: the middle of the even one is 447 Hz.
    const linear = Float64Array.from({ length: 191 }, (_, i) => 100 + 10 * i);
    expect(names(three, [{ name: "a", level: around(800) }, { name: "b" }], linear)).toEqual(["b", "a"]);
    // And power, not pressure: a shelf of a tenth of the pressure weighs a hundredth.
    expect(
      names(three, [
        { name: "a", level: (f) => (f < 1000 ? 0.1 : 0.01) },
        { name: "b", level: (f) => (f < 1000 ? 0.1 : 0.02) },
      ]),
    ).toEqual(["a", "b"]);
  });

  it("begins with what is silent", () => {
    expect(
      names(three, [
        { name: "a", level: around(200) },
        { name: "b", level: () => 0 },
      ]),
    ).toEqual(["b", "a"]);
  });
});

describe("drivers that are one branch", () => {
  it("add up, under the first one's part", () => {
    const [both] = branches({ a: [r, "in", "m"], b: [r, "m", "gnd"] }, [
      { name: "one", part: "a", level: () => 0.1 },
      { name: "two", part: "b", level: () => 0.2 },
    ]);
    expect(both).toMatchObject({ part: "a", drivers: ["one", "two"] });
    // Each has half of the source's voltage.
    expect(both!.response.re[0]! / branches({ a: [r, "in", "gnd"] }, [{ name: "a", level: () => 0.15 }])[0]!.response.re[0]!).toBeCloseTo(
      1,
      9,
    );
  });

  it("share a part, whatever their roles", () => {
    expect(
      names({ a: [r, "in", "gnd"] }, [
        { name: "one", part: "a" },
        { name: "two", part: "a", role: "tweeter" },
      ]),
    ).toEqual(["one+two"]);
  });

  it("aren't those of two roles, in parallel or in series", () => {
    expect(names({ a: [r, "in", "gnd"], b: [r, "in", "gnd"] }, [{ name: "a" }, { name: "b", role: "tweeter" }])).toHaveLength(2);
    expect(names({ a: [r, "in", "m"], b: [r, "m", "gnd"] }, [{ name: "a" }, { name: "b", role: "tweeter" }])).toHaveLength(2);
  });

  const apart = {
    L1: [inductor(1e-3), "in", "x"],
    a: [r, "x", "gnd"],
    L2: [inductor(3e-3), "in", "y"],
    b: [r, "y", "gnd"],
  };
  it("aren't two that meet at the source and the return alone, nor by the field of their coils", () => {
    expect(names(apart, [{ name: "a" }, { name: "b" }])).toEqual(["b", "a"]);
    expect(names({ ...apart, K: [coupling(0.2), "L1", "L2"] }, [{ name: "a" }, { name: "b" }])).toHaveLength(2);
    // A resistor between the two makes them one, and so does a chain of three parts, drawn in any order.
    expect(names({ ...apart, R: [r, "x", "y"] }, [{ name: "a" }, { name: "b" }])).toEqual(["a+b"]);
    const chain = { R1: [r, "p", "q"], R0: [r, "x", "p"], ...apart, R2: [r, "q", "y"] };
    expect(names(chain, [{ name: "a" }, { name: "b" }])).toEqual(["a+b"]);
  });

  it("may be three, told apart from a fourth", () => {
    const four = { L1: [inductor(1e-3), "in", "x"], a: [r, "x", "gnd"], b: [r, "x", "gnd"], c: [r, "gnd", "x"], d: [r, "in", "gnd"] };
    expect(names(four, [{ name: "d" }, { name: "a" }, { name: "b" }, { name: "c" }]).sort()).toEqual(["a+b+c", "d"]);
  });
});
