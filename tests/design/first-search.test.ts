// A bowl over three places, whose lowest point is known, and a wall around it.
import { describe, expect, it } from "vitest";
import type { BranchTable } from "../../src/design/branch-table";
import type { Choice } from "../../src/design/choices";
import { FirstSearch } from "../../src/design/first-search";
import type { LossBound } from "../../src/design/heard";

const counts = [9, 7, 8];
const lowest = [6, 2, 5];
const choices = counts.map((count, place) => ({ name: `P${place}`, options: Array.from({ length: count }, () => undefined) })) as Choice[];
const states = counts.reduce((product, count) => product * count, 1);
const tables = [{ choices: [0, 1, 2], stateOf: Int32Array.from({ length: states }, (_, state) => state) }] as unknown as BranchTable[];
const codesOf = (state: number) => [state % 9, Math.floor(state / 9) % 7, Math.floor(state / 63)];
const away = (state: number) => codesOf(state).reduce((sum, code, place) => sum + (code - lowest[place]!) ** 2, 0);
const stateAt = (nodes: Int32Array, at: number) => -1 - nodes[at]!;

/** Beyond the limits farther away than this; how far is known there, the loss isn't. */
const bowl = (within: number): LossBound => ({
  below: () => 0,
  exact: (nodes, at) => (away(stateAt(nodes, at)) > within ? Infinity : away(stateAt(nodes, at))),
  beyond: (nodes, at) => Math.max(0, away(stateAt(nodes, at)) - within),
});

describe("the first search by single changes", () => {
  it.each([Infinity, 3, 0])("comes to the lowest point, also where limits hold all but %d around it", (within) => {
    const offered: number[] = [];
    const incumbent = {
      loss: Infinity,
      offer: (own: Int32Array) => {
        offered.push(own[0]!);
        return true;
      },
    };
    const looked = new FirstSearch(tables, choices, bowl(within), incumbent).from(4);
    expect(incumbent.loss).toBe(0);
    expect(codesOf(offered[offered.length - 1]!)).toEqual(lowest);
    expect(looked).toBeGreaterThan(counts[0]! + counts[1]! + counts[2]! - 3);
  });

  it("keeps what was better before, and what an offer declines", () => {
    const before = { loss: 0, offer: () => expect.unreachable() };
    new FirstSearch(tables, choices, bowl(3), before).from(4);
    expect(before.loss).toBe(0);
    const declined = { loss: Infinity, offer: () => false };
    new FirstSearch(tables, choices, bowl(3), declined).from(4);
    expect(declined.loss).toBe(Infinity);
  });
});
