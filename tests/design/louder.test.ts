// A front that also holds what is louder, against looking at every network of two parts. The drivers are invented.
import { capacitor, inductor, logGrid, network, preferredValues, solve, type Entries, type Loudspeaker } from "dividing-network";
import { goal, lossOf } from "dividing-network/assessment";
import { redesign } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { drawn, monitor } from "../support/two-way";

const aim = goal({ frequencies: logGrid(500, 10_000, 9), limits: "stated", largestLevelLossDb: 8 });
const plain = {
  series: "E6",
  coilResistance: (l: number) => 900 * l,
  topologies: { orders: [1], without: ["in series", "zobel", "bypass", "trap", "series resistor", "divider"] },
} as const;
const step = 0.5;
const box = monitor();
const levelOf = (own: Entries) => lossOf({ ...box, network: own } as Loudspeaker, aim);

/** Every network of a coil and a capacitor, with the ranges that docs/design.md states as `inside`. */
function all() {
  const load = (part: "woofer" | "tweeter") => {
    const { re, im } = solve(
      network({ [part]: [drawn[part][0], "in", "gnd"] } as never) as never,
      [200, 400, 800, 1600, 3200, 6400],
    ).impedance;
    return Math.min(...re.map((value, i) => Math.hypot(value, im[i]!)));
  };
  const values = [-6, -5, -4, -3].flatMap((power) =>
    [...preferredValues("E6")].map((value) => Number((value * 10 ** power).toPrecision(3))),
  );
  const [w, t] = [load("woofer"), load("tweeter")];
  const within = (value: number, low: number, high: number) => value >= 0.4 * low && value <= 2.5 * high;
  const made: { readonly loss: number; readonly level: number; readonly inside: boolean }[] = [];
  for (const l of values.filter((value) => value > 3e-5 && value < 6e-3))
    for (const c of values.map((value) => value / 10).filter((value) => value > 5e-7 && value < 1e-4))
      for (const turned of [false, true]) {
        const { lossDb, levelDb } = levelOf(
          network({
            L1: [inductor(l, { dcr: 900 * l }), "in", "w"],
            woofer: [drawn.woofer[0], "w", "gnd"],
            C1: [capacitor(c, { dissipationFactor: 0.002 }), "in", "t"],
            tweeter: [drawn.tweeter[0], ...((turned ? ["gnd", "t"] : ["t", "gnd"]) as ["t", "gnd"])],
          }) as unknown as Entries,
        );
        const inside =
          within(l, w / (2 * Math.PI * 6000), w / (2 * Math.PI * 800))
          && within(c, 1 / (2 * Math.PI * 6000 * t), 1 / (2 * Math.PI * 800 * t));
        made.push({ loss: lossDb, level: levelDb, inside });
      }
  return made;
}

describe("a front with a step of level", () => {
  it("holds the nearest of what is a step louder, two, and so on, as looking at each has it", { timeout: 60_000 }, async () => {
    const { front } = await redesign(box, { goal: aim, maxParts: 2, levelStepDb: step, ...plain });
    const every = all();
    const [nearest] = front;
    expect(front.length).toBeGreaterThan(1);
    front.forEach(({ levelDb, lossDb, parts, proof }, index) => {
      expect(parts).toBe(2);
      if (index === 0) return;
      for (const before of front.slice(0, index)) {
        expect(levelDb).toBeGreaterThanOrEqual(before.levelDb + step - 1e-9);
        expect(lossDb).toBeGreaterThanOrEqual(before.lossDb);
      }
      expect(proof).toContain("it stands here for its level");
    });
    for (let least = nearest!.levelDb + step; least <= nearest!.levelDb + 3 * step; least += step) {
      const known = every.filter(({ level }) => level >= least);
      const best = (some: typeof every) => some.reduce((a, { loss }) => Math.min(a, loss), Infinity);
      const ours = Math.min(...front.filter(({ levelDb }) => levelDb >= least - 1e-9).map(({ lossDb }) => lossDb));
      if (best(known.filter(({ inside }) => inside)) === Infinity) continue;
      // What stands on the front may be louder than was asked for, by less than a step.
      expect(ours, `${least} dB`).toBeGreaterThanOrEqual(best(known) - 1e-9);
      const nextLouder = every.filter(({ level, inside }) => inside && level >= least + step);
      expect(ours, `${least} dB`).toBeLessThanOrEqual(best(nextLouder) + 1e-9);
    }
  });

  it("is the plain front and more", { timeout: 60_000 }, async () => {
    const options = { goal: aim, series: "E3", maxParts: 3 } as const;
    const without = await redesign(box, options);
    const { front } = await redesign(box, { ...options, levelStepDb: 1 });
    for (const { network: own, proof } of without.front) expect(front.find((one) => one.proof === proof)?.network).toEqual(own);
    expect(Math.max(...front.map(({ levelDb }) => levelDb))).toBeGreaterThanOrEqual(
      Math.max(...without.front.map(({ levelDb }) => levelDb)),
    );
  });

  it("is refused where the goal states the level, and below a tenth of a decibel", async () => {
    await expect(redesign(box, { goal: { frequencies: aim.frequencies!, levelDb: 84 }, levelStepDb: 1 })).rejects.toMatchObject({
      code: "invalid-argument",
      message: expect.stringContaining("level is free") as string,
    });
    await expect(redesign(box, { levelStepDb: 0.01 })).rejects.toMatchObject({ code: "invalid-argument" });
  });
});
