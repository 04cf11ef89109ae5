import { describe, expect, it } from "vitest";
import { logGrid } from "dividing-network";
import { lossOf } from "dividing-network/assessment";
import { rankByYield, redesign } from "dividing-network/design";
import { redesignText } from "dividing-network/report";
import { monitor } from "../support/two-way";

const frequencies = logGrid(500, 10_000, 9);
const asked = { goal: { frequencies, limits: "stated" }, series: "E6", maxParts: 3 } as const;

describe("places held back from a redesign", () => {
  it("change nothing of what is found, and tell the loss there by the same target", async () => {
    const plain = await redesign(monitor(), asked);
    const heldBack = [{ azimuth: 20 }, { azimuth: -20, weight: 3 }];
    const { front } = await redesign(monitor(), { ...asked, heldBack });
    expect(front.map(({ heldBackDb: _, ...rest }) => JSON.stringify(rest))).toEqual(plain.front.map((one) => JSON.stringify(one)));
    for (const { network, heldBackDb } of front)
      expect(heldBackDb).toBe(lossOf({ ...monitor(), network }, { frequencies, limits: "stated", places: heldBack }).lossDb);
    // rankByYield says the same of them.
    const ranked = rankByYield(monitor(), { networks: front, goal: asked.goal, heldBack, samples: 2 });
    for (const { member, heldBackDb } of ranked) expect(heldBackDb).toBe(member.heldBackDb);
    const text = redesignText({ front, topologies: 1, unfinished: 0, complete: true }, { width: 400 });
    for (const { heldBackDb } of front) expect(text).toContain(`${heldBackDb!.toFixed(2)} dB at the places held back`);
  });

  it("must have been measured, which is told before anything is searched", async () => {
    let looked = 0;
    const call = redesign(monitor(), { ...asked, heldBack: [{ azimuth: 77 }], onProgress: () => looked++ });
    await expect(call).rejects.toMatchObject({
      code: "not-measured",
      message: expect.stringMatching(/^redesign: "heldBack" .* azimuth 77°/) as unknown,
    });
    expect(looked).toBe(0);
    await expect(redesign(monitor(), { ...asked, heldBack: 3 as never })).rejects.toMatchObject({ code: "invalid-argument" });
  });

  it("are refused by their own name, in redesign as in rankByYield", async () => {
    const saidOf = async (call: () => unknown): Promise<string> => {
      try {
        await call();
        return "taken";
      } catch (error) {
        return (error as Error).message;
      }
    };
    for (const [heldBack, place] of [
      [[{}, { azimuth: 400 }], '"heldBack[1].azimuth" must be'],
      [[{ elevation: NaN }], '"heldBack[0].elevation" must be'],
      [[4], '"heldBack[0]" must be'],
      [[{ angle: 3 }], 'heldBack[0]: unknown option "angle"'],
      [[], '"heldBack" must be an array of at least one'],
      [[{ azimuth: 77 }], '"heldBack" must be places that can be judged: woofer has nothing'],
    ] as const) {
      expect(await saidOf(() => redesign(monitor(), { ...asked, heldBack: heldBack as never }))).toContain(`redesign: ${place}`);
      const networks = [{ network: monitor().network }];
      expect(await saidOf(() => rankByYield(monitor(), { networks, goal: asked.goal, heldBack: heldBack as never, samples: 2 }))).toContain(
        `rankByYield: ${place}`,
      );
    }
  });
});
