// The laws of the verdict again, over goals drawn at random beside loudspeakers and networks: whatever is asked for, they hold. The numbers are never looked at, only how they hang together.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess, compare, goal, lossOf, type Assessment, type Comparison, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { cases } from "../support/cases";
import { finite } from "../support/finite";
import { uniform } from "../support/uniform";
import { arbitraryDrivers, arbitraryGoal, arbitraryValues, boxOf, type Drivers } from "../support/arbitrary-loudspeaker";

const judged = (box: Loudspeaker, aim: GoalOptions): Assessment => assess(box, { ratedImpedance: 4, goal: aim });
const changes = ({ verdict }: Comparison) => verdict.topics.map(({ topic, change, kept }) => [topic, change, kept]);
const drawn = arbitraryDrivers.chain((drivers) => fc.record({ drivers: fc.constant(drivers), aim: arbitraryGoal(drivers) }));
/** The same verdict, word for word but for the last digits of its numbers. */
const same = (a: Comparison, b: Comparison) => {
  expect(b.verdict.overall).toBe(a.verdict.overall);
  expect(changes(b)).toEqual(changes(a));
  expect(b.verdict.dangers.map(({ code }) => code)).toEqual(a.verdict.dangers.map(({ code }) => code));
  for (const [index, { before = 0, after = 0 }] of a.verdict.topics.entries()) {
    expect(b.verdict.topics[index]!.before ?? 0).toBeCloseTo(before, 6);
    expect(b.verdict.topics[index]!.after ?? 0).toBeCloseTo(after, 6);
  }
};

describe("the verdict by any goal", () => {
  it("has one column before and the same trust, whatever is proposed", () => {
    fc.assert(
      fc.property(drawn, arbitraryValues, arbitraryValues, arbitraryValues, ({ drivers, aim }, found, one, other) => {
        const before = judged(boxOf(drivers, found), aim);
        const [a, b] = [one, other].map((values) => compare(before, judged(boxOf(drivers, values), aim)).verdict);
        expect(a!.topics.map(({ topic, before: number }) => [topic, number])).toEqual(
          b!.topics.map(({ topic, before: number }) => [topic, number]),
        );
        expect(a!.trust).toEqual(b!.trust);
      }),
      { numRuns: cases(8) },
    );
  });

  it("turns round when found and proposed are exchanged where neither is a danger, and a trade stays a trade, topic by topic", () => {
    const round = {
      better: "worse",
      worse: "better",
      unchanged: "unchanged",
      both: "both",
      "not checked": "not checked",
      "a trade": "a trade",
    } as Readonly<Record<string, string>>;
    const seen = new Set<string>();
    fc.assert(
      fc.property(drawn, arbitraryValues, arbitraryValues, ({ drivers, aim }, one, other) => {
        // An amplifier that bears anything, and no driver to be spared: then nothing is a danger.
        const harmless = { ...aim, amplifier: {}, drivers: { tweeter: "not spared" as const } };
        const [a, b] = [one, other].map((values) => assess(boxOf(drivers, values), { ratedImpedance: 0.05, goal: harmless })) as [
          Assessment,
          Assessment,
        ];
        expect([...a.dangers, ...b.dangers]).toEqual([]);
        const [forth, back] = [compare(a, b).verdict, compare(b, a).verdict];
        seen.add(forth.overall);
        expect(back.overall).toBe(round[forth.overall]);
        expect(back.topics.map(({ change }) => change)).toEqual(forth.topics.map(({ change }) => round[change]));
      }),
      { numRuns: cases(20) },
    );
    expect([...seen]).toEqual(expect.arrayContaining(["better", "worse", "a trade"]));
  });

  it("of a network against itself is unchanged, or not fit where it is a danger, in finite numbers", () => {
    fc.assert(
      fc.property(drawn, arbitraryValues, ({ drivers, aim }, values) => {
        const own = judged(boxOf(drivers, values), aim);
        const made = compare(own, judged(boxOf(drivers, values), aim));
        expect(made.verdict.overall).toBe(own.dangers.length > 0 ? "not fit to be connected" : "unchanged");
        for (const { change } of made.verdict.topics) expect(["unchanged", "not checked"]).toContain(change);
        expect(finite(made.verdict)).toEqual([]);
        expect(finite(own.quality)).toEqual([]);
      }),
      { numRuns: cases(12) },
    );
  });

  it("is no good one wherever there is a danger after the change, of whichever kind, and says the first of them first", () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(
        drawn,
        arbitraryValues,
        arbitraryValues,
        uniform(0.3, 30),
        uniform(3, 30),
        ({ drivers, aim }, found, proposed, ohms, voltage) => {
          const box = boxOf(drivers, proposed);
          const across = { R98: [resistor(ohms, { power: 20 }), "in", "gnd"] };
          const after = loudspeaker({
            ...box,
            network: { ...box.network, ...across } as unknown as Entries,
            drivers: box.drivers.map((driver) => ({ ...driver, ratings: { power: 10 } })),
          } as never) as unknown as Loudspeaker;
          const loud = goal({ ...aim, amplifier: { ...aim.amplifier, voltage } });
          const { verdict } = compare(judged(boxOf(drivers, found), loud), judged(after, loud));
          for (const { code } of verdict.dangers) seen.add(code);
          if (verdict.dangers.length === 0) expect(verdict.overall).not.toBe("not fit to be connected");
          else {
            expect(verdict.overall).toBe("not fit to be connected");
            expect(verdict.sentence.startsWith(`The new network is not fit to be connected. ${verdict.dangers[0]!.sentence}.`)).toBe(true);
          }
        },
      ),
      { numRuns: cases(20) },
    );
    expect([...seen]).toEqual(expect.arrayContaining(["load", "part-rating", "unprotected-driver"]));
  });

  it("isn't changed by a place measured twice, by the order of drivers, places and parts, nor by the names of nodes", () => {
    fc.assert(
      fc.property(
        drawn,
        arbitraryValues,
        arbitraryValues,
        fc.constantFrom("twice", "drivers", "places", "parts", "nodes"),
        ({ drivers, aim }, one, other, how) => {
          const other_ = (box: Loudspeaker): Loudspeaker => {
            const of: Readonly<Record<typeof how, () => object>> = {
              twice: () => ({
                drivers: box.drivers.map((driver) => ({ ...driver, pressures: [...driver.pressures, ...driver.pressures] })),
              }),
              drivers: () => ({ drivers: [...box.drivers].reverse() }),
              places: () => ({ drivers: box.drivers.map((driver) => ({ ...driver, pressures: [...driver.pressures].reverse() })) }),
              parts: () => ({ network: Object.fromEntries(Object.entries(box.network).reverse()) }),
              nodes: () => ({
                network: Object.fromEntries(
                  Object.entries(box.network).map(([name, [part, ...nodes]]) => [
                    name,
                    [part, ...nodes.map((node) => (node === "in" || node === "gnd" ? node : `z${node}`))],
                  ]),
                ),
              }),
            };
            return loudspeaker({ ...box, ...of[how]() } as never) as unknown as Loudspeaker;
          };
          const [a, b] = [boxOf(drivers, one), boxOf(drivers, other)];
          same(compare(judged(a, aim), judged(b, aim)), compare(judged(other_(a), aim), judged(other_(b), aim)));
        },
      ),
      { numRuns: cases(12) },
    );
  });

  it("isn't changed by a goal that names each of its places twice", () => {
    fc.assert(
      fc.property(drawn, arbitraryValues, arbitraryValues, ({ drivers, aim }, one, other) => {
        const twice = { ...aim, places: [...aim.places, ...aim.places] };
        const [a, b] = [boxOf(drivers, one), boxOf(drivers, other)];
        same(compare(judged(a, aim), judged(b, aim)), compare(judged(a, twice), judged(b, twice)));
        expect(lossOf(b, twice).lossDb).toBeCloseTo(lossOf(b, aim).lossDb, 9);
      }),
      { numRuns: cases(8) },
    );
  });

  it("isn't changed by a microphone that read all drivers the same number of decibels too high, where no level is stated", () => {
    fc.assert(
      fc.property(drawn, arbitraryValues, arbitraryValues, uniform(-20, 20), ({ drivers, aim }, one, other, by) => {
        const { levelDb: _, leastLevelDb: _least, places, ...rest } = aim;
        const free = goal({ ...rest, places: places.map(({ levelDb: _own, ...place }) => place) });
        const louder: Drivers = {
          ...drivers,
          woofer: { ...drivers.woofer, gain: drivers.woofer.gain * 10 ** (by / 20) },
          tweeter: { ...drivers.tweeter, gain: drivers.tweeter.gain * 10 ** (by / 20) },
        };
        const made = (of: Drivers) => compare(judged(boxOf(of, one), free), judged(boxOf(of, other), free));
        const [plain, loud] = [made(drivers), made(louder)];
        expect(loud.verdict.overall).toBe(plain.verdict.overall);
        expect(changes(loud)).toEqual(changes(plain));
      }),
      { numRuns: cases(8) },
    );
  });

  it("never calls a departure from the goal's slope better, of any loudspeaker that has that slope over all", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, uniform(0.3, 4), fc.boolean(), (drivers, values, by, up) => {
        const band = { from: 400, to: 10_000 };
        const tilted = (tilt: number) => boxOf(drivers, values, { tilt });
        const aim = (slopeDbPerOctave: number) => goal({ band, limits: "stated", drivers: { tweeter: "not spared" }, slopeDbPerOctave });
        // The slope at which the loss is least, by the parabola through three slopes: the square of the loss is one of them.
        const square = (slope: number) => lossOf(tilted(0), aim(slope)).lossDb ** 2;
        const [low, middle, high] = [square(-4), square(0), square(4)];
        const own = (2 * (low - high)) / (low - 2 * middle + high);
        const [straight, off] = [0, up ? by : -by].map((tilt) => judged(tilted(tilt), aim(own)));
        expect(off!.quality.axisDb).toBeGreaterThan(straight!.quality.axisDb);
        const { verdict } = compare(straight!, off!);
        expect(["worse", "unchanged"]).toContain(verdict.topics[0]!.change);
        expect(verdict.overall).not.toBe("better");
      }),
      { numRuns: cases(12) },
    );
  });
});
