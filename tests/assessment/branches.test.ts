// Several drivers that play as one are one branch: nothing is handed over between them. Equal woofers in parallel and in series, and one behind
// a coil of its own, are loudspeakers with a single crossover at most; a woofer and a tweeter in series are two branches all the same.
import { assess, compare, goal } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { measure } from "../support/synthetic";

const roles = { w1: "woofer", w2: "woofer", tweeter: "tweeter" } as const;
const box = (network: object): Loudspeaker =>
  loudspeaker({
    network: network as never,
    drivers: Object.keys(roles)
      .filter((name) => name in network)
      .map((name) => ({
        name,
        role: roles[name as keyof typeof roles],
        pressures: [measure(() => [name === "w2" ? 0.09 : 0.1, 0])],
      })) as never,
  }) as unknown as Loudspeaker;
const pairs = (network: object) => assess(box(network), { ratedImpedance: 8 }).handovers.map(({ lower, upper }) => `${lower} ${upper}`);
const r = resistor(8);
const high = { C1: [capacitor(10e-6), "in", "t"], tweeter: [r, "t", "gnd"] };

describe("woofers that play together", () => {
  it.each([
    ["in parallel at the input", { w1: [r, "in", "gnd"], w2: [r, "in", "gnd"] }],
    ["in parallel, one turned round", { w1: [r, "in", "gnd"], w2: [r, "gnd", "in"] }],
    ["in parallel behind a coil", { L1: [inductor(1e-3), "in", "w"], w1: [r, "w", "gnd"], w2: [r, "w", "gnd"] }],
    ["in series", { w1: [r, "in", "m"], w2: [r, "m", "gnd"] }],
    [
      "the second rolled off lower",
      { L1: [inductor(0.5e-3), "in", "w"], w1: [r, "w", "gnd"], L2: [inductor(3e-3), "w", "v"], w2: [r, "v", "gnd"] },
    ],
  ])("%s hand nothing over", (_, network) => {
    expect(pairs(network)).toEqual([]);
    expect(
      compare(assess(box(network), { ratedImpedance: 2 }), assess(box(network), { ratedImpedance: 2 })).findings.filter(
        ({ topic }) => topic === "crossover",
      ),
    ).toEqual([]);
  });

  it("have one crossover to a tweeter", () => {
    expect(pairs({ L1: [inductor(1.2e-3), "in", "w"], w1: [r, "w", "gnd"], w2: [r, "w", "gnd"], ...high })).toEqual(["w1 tweeter"]);
  });

  it("aren't a woofer and a tweeter in series", () => {
    // Each driver bridged by what it doesn't want: the textbook series crossover of first order.
    expect(
      pairs({ L1: [inductor(1.2e-3), "m", "gnd"], tweeter: [r, "m", "gnd"], C1: [capacitor(20e-6), "in", "m"], w1: [r, "in", "m"] }),
    ).toHaveLength(1);
  });
});

describe("limits of slope and overlap", () => {
  const network = {
    L1: [inductor(8 / (2 * Math.PI * 2000)), "in", "w"],
    w1: [r, "w", "gnd"],
    C1: [capacitor(1 / (2 * Math.PI * 2000 * 8)), "in", "t"],
    tweeter: [r, "t", "gnd"],
  };
  const rows = (order?: number) => {
    const judged = assess(box(network), {
      ratedImpedance: 8,
      goal: goal({ limits: "stated", ...(order === undefined ? {} : { intentions: [{ lower: "w1", upper: "tweeter", order }] }) }),
    });
    return compare(judged, judged).findings.filter(({ topic }) => topic === "crossover");
  };

  it("hold only where it was said what is meant", () => {
    expect(rows().every(({ kept }) => kept === undefined)).toBe(true);
  });

  it("are kept by a first-order pair that was meant, and not where second order was", () => {
    expect(rows(1).every(({ kept }) => kept !== false)).toBe(true);
    expect(
      rows(2)
        .filter(({ kept }) => kept === false)
        .map(({ code }) => code),
    ).toEqual(["slope-steepness", "overlap", "phase-tracking", "reversed-null"]);
  });
});
