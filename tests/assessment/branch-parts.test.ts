// Tests src/assessment/: branches.ts
// Which drivers are one branch, and in which order branches stand: on networks and responses of a few numbers.
import { describe, expect, it } from "vitest";
import type { Loudspeaker, PressureAtPlace } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { branchesAt, branchParts } from "../../src/assessment/branches";

const R = resistor(8);
const box = (network: object, drivers: readonly (readonly [name: string, part: string, role: string])[]) =>
  ({ network, drivers: drivers.map(([name, part, role]) => ({ name, part, role })) }) as unknown as Loudspeaker;
const parts = (network: object, ...drivers: readonly (readonly [string, string, string])[]) =>
  branchParts(box(network, drivers)).map(({ part, drivers: names }) => `${part}: ${names.join(" ")}`);
const two = [["a", "A", "woofer"], ["b", "B", "woofer"]] as const; // prettier-ignore

describe("drivers are one branch", () => {
  it("on one part, whatever their roles", () => {
    expect(parts({ A: [R, "in", "gnd"] }, ["a", "A", "woofer"], ["b", "A", "tweeter"])).toEqual(["A: a b"]);
  });

  it("of one role between the same two nodes, either way round", () => {
    expect(parts({ A: [R, "in", "gnd"], B: [R, "in", "gnd"] }, ...two)).toEqual(["A: a b"]);
    expect(parts({ A: [R, "in", "gnd"], B: [R, "gnd", "in"] }, ...two)).toEqual(["A: a b"]);
    expect(parts({ A: [R, "gnd", "in"], B: [R, "in", "gnd"] }, ...two)).toEqual(["A: a b"]);
    expect(parts({ A: [R, "in", "gnd"], B: [R, "in", "gnd"] }, two[0], ["b", "B", "tweeter"])).toEqual(["A: a", "B: b"]);
  });

  it("of one role in series, or one behind a coil of its own, hanging together inside the network", () => {
    expect(parts({ A: [R, "in", "m"], B: [R, "m", "gnd"] }, ...two)).toEqual(["A: a b"]);
    expect(parts({ L1: [R, "in", "w"], A: [R, "w", "gnd"], L2: [R, "w", "v"], B: [R, "v", "gnd"] }, ...two)).toEqual(["A: a b"]);
    // The link between both groups comes last.
    expect(parts({ A: [R, "w", "gnd"], B: [R, "v", "gnd"], X: [R, "in", "w"], L1: [R, "w", "v"] }, ...two)).toEqual(["A: a b"]);
  });

  it("and two where only the amplifier and its return join them", () => {
    expect(parts({ L1: [R, "in", "w"], A: [R, "w", "gnd"], L2: [R, "in", "v"], B: [R, "v", "gnd"] }, ...two)).toEqual(["A: a", "B: b"]);
    expect(parts({ A: [R, "in", "gnd"], L2: [R, "in", "v"], B: [R, "v", "gnd"] }, ...two)).toEqual(["A: a", "B: b"]);
  });
});

describe("branches at a place", () => {
  const grid = [0, 100, 200, 400, 800];
  const at = (...squares: readonly number[]) => frequencyResponse(grid, squares.map(Math.sqrt), squares.map(() => 0)); // prettier-ignore
  const order = (branches: Readonly<Record<string, ReturnType<typeof at>>>) => {
    const names = Object.keys(branches);
    const network = Object.fromEntries(names.map((name) => [name, [R, "in", `n${name}`]]));
    const loudspeaker = box(network, names.map((name, i) => [name, name, `role${i}`] as const)); // prettier-ignore
    return branchesAt({ loudspeaker } as never, { branches } as unknown as PressureAtPlace).map(({ part }) => part);
  };

  it("stand from low to high by where their power lies on the log axis", () => {
    const [low, middle, high] = [at(9, 0, 1, 0, 0), at(9, 0, 0, 1, 0), at(9, 0, 0, 0, 1)];
    expect(order({ high, low, middle })).toEqual(["low", "middle", "high"]);
    expect(order({ middle, high, low })).toEqual(["low", "middle", "high"]);
    // Half the power lower and half higher lies in the middle; a little more higher, above it.
    expect(order({ both: at(0, 0, 1, 0, 1.2), middle })).toEqual(["middle", "both"]);
    expect(order({ both: at(0, 0, 1.2, 0, 1), middle })).toEqual(["both", "middle"]);
  });

  it("whatever their phases, with a silent one lowest, and as they came where they lie alike", () => {
    const turned = frequencyResponse(grid, [0, 0, 0, 0, 0], [0, 0, 0, 0, 1]);
    expect(order({ turned, low: at(0, 0, 1, 0, 0), silent: at(0, 0, 0, 0, 0) })).toEqual(["silent", "low", "turned"]);
    const mixed = frequencyResponse(grid, [0, 0, 1, 0, 1], [0, 0, 0, 0, 1]);
    expect(order({ mixed, middle: at(0, 0, 0, 1, 0) })).toEqual(["middle", "mixed"]);
    expect(order({ one: at(0, 0, 1, 0, 0), two: at(0, 0, 1, 0, 0) })).toEqual(["one", "two"]);
  });

  it("are the sum of their drivers", () => {
    const network = { A: [R, "in", "gnd"] };
    const loudspeaker = box(network, [["a", "A", "woofer"], ["b", "A", "woofer"]]); // prettier-ignore
    const response = (re: number, im: number) => frequencyResponse([100, 200], [re, re], [im, im]);
    const [branch, ...rest] = branchesAt({ loudspeaker } as never, { branches: { a: response(1, 2), b: response(3, -5) } } as never);
    expect(rest).toEqual([]);
    expect([branch!.response.re[0], branch!.response.im[0], branch!.drivers]).toEqual([4, -3, ["a", "b"]]);
  });
});
