// Which topologies a redesign looks at, told by what it says of them and by the parts in its networks.
import { describe, expect, it } from "vitest";
import { logGrid } from "dividing-network";
import { redesign, type TopologyChoice } from "dividing-network/design";
import { combinationsOf, variations } from "../../src/design/combinations";
import { groupsOf } from "../../src/design/driver-groups";
import { monitor } from "../support/two-way";

const aim = { frequencies: logGrid(500, 10_000, 9), limits: "stated" } as const;
const codeOf = async (call: () => Promise<unknown>): Promise<string> =>
  call().then(
    () => "none",
    (error: unknown) => (error as { code: string }).code,
  );
/** What each feature is called in the words of a topology. */
const WORDS = {
  "in series": /^connected in series/,
  parallel: /^woofer:/,
  zobel: /Zobel/,
  "series resistor": /series resistor/,
  divider: /resistors in series and across/,
  "resistors first": /before it/,
  bypass: /bridged by/,
  trap: /trap/,
  pair: /drivers in series|rolled off/,
} as const;
const box = monitor();
const groups = groupsOf("test", box);
const all = (asked?: TopologyChoice) => {
  const usual = combinationsOf(box, groups, 12, asked);
  const tried = usual.map((each, i) => ({ ...each, lossDb: 1 / (1 + i) }));
  const varied = variations(box, groups, tried, usual, 12, asked);
  return [...usual, ...varied].map(({ says }) => says);
};

describe("the topologies of a redesign", () => {
  it("are all but those with what is left out in them", () => {
    const every = all();
    for (const [feature, words] of Object.entries(WORDS)) {
      const left = all({ without: [feature as keyof typeof WORDS] });
      expect(
        left.filter((says) => words.test(says)),
        feature,
      ).toEqual([]);
      expect(left.length).toBeGreaterThan(0);
      // Of the usual ones all others are there; what is varied hangs on what is there to be varied.
      const usual = combinationsOf(box, groups, 12).map(({ says }) => says);
      for (const says of usual) if (!words.test(says)) expect(left, feature).toContain(says);
      if (feature !== "pair")
        expect(
          every.some((says) => words.test(says)),
          feature,
        ).toBe(true);
    }
    expect(all({ without: ["in series", "trap"] }).filter((says) => WORDS["in series"].test(says) || WORDS.trap.test(says))).toEqual([]);
    expect(all({})).toEqual(every);
  });

  it("have filters of the orders asked for alone", () => {
    for (const orders of [[1], [2], [4], [2, 3]] as const) {
      const left = all({ orders });
      expect(left.length).toBeGreaterThan(0);
      for (const says of left.filter((each) => !WORDS["in series"].test(each)))
        for (const [, order] of says.matchAll(/(?:low|high)-pass of (\d)/g))
          expect(orders as readonly number[], says).toContain(Number(order));
    }
    expect(all({ orders: [4] }).every((says) => /low-pass of 4.*high-pass of 4/.test(says))).toBe(true);
    expect(all({ orders: [2] }).filter((says) => WORDS["in series"].test(says)).length).toBe(2);
  });

  it("are what the search looks at", async () => {
    const asked = { goal: aim, series: "E6", maxParts: 4 } as const;
    const both = await redesign(monitor(), asked);
    expect(both.front[0]!.topology).toMatch(/^connected in series/);
    const parallel = await redesign(monitor(), { ...asked, topologies: { without: ["in series"] } });
    expect(parallel.front.every(({ topology }) => !/^connected in series/.test(topology))).toBe(true);
    // Each of its networks hangs between the amplifier's two poles, driver by driver.
    expect(parallel.front.every(({ network }) => ["woofer", "tweeter"].every((name) => network[name]!.slice(1).includes("gnd")))).toBe(
      true,
    );
    expect(parallel.topologies).toBeLessThan(both.topologies);
    const second = await redesign(monitor(), { ...asked, topologies: { orders: [2], without: ["in series"] } });
    for (const { network, parts } of second.front) {
      expect(parts).toBe(4);
      const count = (kind: string) => Object.values(network).filter(([part]) => part.kind === kind).length;
      expect([count("inductor"), count("capacitor")]).toEqual([2, 2]);
    }
  });

  it("must be some, and known", async () => {
    const ask = (topologies: unknown, maxParts = 4) => codeOf(() => redesign(monitor(), { goal: aim, maxParts, topologies } as never));
    expect(await ask({ orders: [] })).toBe("invalid-argument");
    expect(await ask({ orders: [4] })).toBe("invalid-argument");
    expect(await ask({ orders: [5] })).toBe("invalid-argument");
    expect(await ask({ orders: 2 })).toBe("invalid-argument");
    expect(await ask({ without: ["in series", "parallel"] })).toBe("invalid-argument");
    expect(await ask({ without: ["resistors"] })).toBe("invalid-argument");
    expect(await ask({ with: ["trap"] })).toBe("unknown-option");
    expect(await ask(null)).toBe("invalid-argument");
  });
});
