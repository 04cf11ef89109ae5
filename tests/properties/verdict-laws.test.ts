// Laws of the verdict, over loudspeakers and networks drawn at random: what no example can show. The numbers are never looked at, only how they hang together.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess, compare, goal, type Assessment, type Comparison } from "dividing-network/assessment";
import { predict, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { comparisonPage, comparisonText } from "dividing-network/report";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { arbitraryDrivers, arbitraryValues, boxOf } from "../support/arbitrary-loudspeaker";

const band = { from: 350, to: 12_000 };
/** Without limits that weren't stated there are no dangers from the load; a tweeter is spared as stated. */
const safe = goal({ band, limits: "stated", drivers: { tweeter: "not spared" } });
const watched = goal({ band, limits: "stated", drivers: { tweeter: 0, woofer: 0 } });
const judged = (box: Loudspeaker, aim = safe): Assessment => assess(box, { ratedImpedance: 4, goal: aim });
const columnOf = ({ verdict, findings }: Comparison) => ({
  topics: verdict.topics.map(({ topic, before }) => [topic, before]),
  rows: new Map(findings.map(({ topic, subject, before }) => [`${topic}: ${subject}`, before])),
});
const changes = ({ verdict }: Comparison) => verdict.topics.map(({ topic, change }) => `${topic}: ${change}`);

describe("the verdict", () => {
  it("has one column before, whatever is proposed", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, arbitraryValues, arbitraryValues, (drivers, found, one, other) => {
        const before = judged(boxOf(drivers, found), watched);
        const [a, b] = [one, other].map((values) => columnOf(compare(before, judged(boxOf(drivers, values), watched))));
        expect(a!.topics).toEqual(b!.topics);
        for (const [subject, value] of a!.rows) if (b!.rows.has(subject)) expect(b!.rows.get(subject), subject).toBe(value);
      }),
      { numRuns: cases(20) },
    );
  });

  it("turns round when found and proposed are exchanged, and a trade stays a trade", () => {
    const round = { better: "worse", worse: "better", unchanged: "unchanged", "a trade": "a trade" } as Readonly<Record<string, string>>;
    const seen = new Set<string>();
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, arbitraryValues, (drivers, one, other) => {
        const [a, b] = [judged(boxOf(drivers, one)), judged(boxOf(drivers, other))];
        expect([...a.dangers, ...b.dangers]).toEqual([]);
        const forth = compare(a, b).verdict.overall;
        seen.add(forth);
        expect(compare(b, a).verdict.overall).toBe(round[forth]);
      }),
      { numRuns: cases(40) },
    );
    // The cases are of all kinds that matter.
    expect([...seen]).toEqual(expect.arrayContaining(["better", "worse", "a trade"]));
  });

  it("of a network against itself is unchanged in every topic that was checked", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, (drivers, values) => {
        const own = judged(boxOf(drivers, values));
        const made = compare(own, judged(boxOf(drivers, values)));
        expect(made.verdict.overall).toBe("unchanged");
        for (const { change } of made.verdict.topics) expect(["unchanged", "not checked"]).toContain(change);
        for (const { code, verdict } of made.findings)
          expect(["unchanged", "for information", "cannot be decided from these data"], code).toContain(verdict);
      }),
      { numRuns: cases(20) },
    );
  });

  it("isn't changed by a place given twice", () => {
    fc.assert(
      fc.property(
        arbitraryDrivers.filter(({ angles }) => angles.length > 0),
        arbitraryValues,
        arbitraryValues,
        fc.nat(),
        (drivers, found, proposed, which) => {
          const again = { more: [drivers.angles[which % drivers.angles.length]!] };
          const [plain, twice] = [{}, again].map((more) =>
            compare(judged(boxOf(drivers, found, more)), judged(boxOf(drivers, proposed, more))),
          );
          expect(changes(twice!)).toEqual(changes(plain!));
          expect(twice!.verdict.overall).toBe(plain!.verdict.overall);
        },
      ),
      { numRuns: cases(20) },
    );
  });

  it("isn't changed by one more place at which nothing changes", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, uniform(1, 8), (drivers, values, louder) => {
        // The tweeter alone changes, and at the new place it is silent: what is heard there stays the same.
        const [found, proposed] = [
          judged(silentAside(boxOf(drivers, { ...values, pad: 0.6 }))),
          judged(silentAside(boxOf(drivers, { ...values, pad: 0.6 + louder }))),
        ];
        const [was, is] = [judged(boxOf(drivers, { ...values, pad: 0.6 })), judged(boxOf(drivers, { ...values, pad: 0.6 + louder }))];
        const [more, plain] = [compare(found, proposed), compare(was, is)];
        const checked = plain.verdict.topics.map(({ topic, change }) => (change === "not checked" ? "" : topic));
        const of = (made: Comparison) => changes(made).filter((_, index) => checked[index] !== "");
        expect(of(more)).toEqual(of(plain));
        expect(more.verdict.overall).toBe(plain.verdict.overall);
      }),
      { numRuns: cases(20) },
    );
  });

  it("with a danger is never a good one, and says the danger first", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, arbitraryValues, uniform(0.05, 2), (drivers, found, proposed, ohms) => {
        const box = boxOf(drivers, proposed);
        const shunted = { ...box, network: { ...box.network, R99: [resistor(ohms), "in", "gnd"] } as unknown as Entries };
        const aim = goal({ band, limits: "stated", amplifier: { smallestImpedance: 2.5 } });
        const { verdict } = compare(judged(boxOf(drivers, found), aim), judged(shunted as Loudspeaker, aim));
        expect(verdict.overall).toBe("not fit to be connected");
        expect(verdict.sentence).toMatch(/^The new network is not fit to be connected\. The load falls to/);
      }),
      { numRuns: cases(15) },
    );
  });

  it("with a part beyond its rating is never a good one; and within all ratings, they change nothing", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, arbitraryValues, uniform(5, 40), (drivers, found, proposed, voltage) => {
        const aim = goal({ band, limits: "stated", drivers: { tweeter: "not spared" }, amplifier: { voltage } });
        const [before, after] = [boxOf(drivers, found), boxOf(drivers, { ...proposed, pad: proposed.pad + 0.6 })];
        const bare = compare(judged(before), judged(after)).verdict;
        const takes = judged(after, aim).ratings.checks.filter(({ quantity, value }) => quantity === "power" && value > 0);
        const pads = takes.filter(({ code }) => code === "part-rating");
        expect(pads.length).toBeGreaterThan(0);
        const { name, value } = pads[0]!;
        const rated = (factor: number) => ({
          ...after,
          network: {
            ...after.network,
            [name]: [
              resistor((after.network[name]![0] as { resistance: number }).resistance, { power: factor * value }),
              ...after.network[name]!.slice(1),
            ],
          } as unknown as Entries,
        });
        const [weak, strong] = [0.99, 2.01].map((factor) => compare(judged(before, aim), judged(rated(factor), aim)).verdict);
        expect(weak!.overall).toBe("not fit to be connected");
        expect(weak!.sentence).toContain(`connected. ${name} turns `);
        expect(strong!.overall).toBe(bare.overall);
        expect(strong!.topics).toEqual(bare.topics);
      }),
      { numRuns: cases(8) },
    );
  });

  it("calls a departure from the goal's slope worse, whatever the slope is", () => {
    fc.assert(
      fc.property(uniform(-3, 3), uniform(0.4, 4), fc.boolean(), (slope, by, up) => {
        // Without a network to speak of, and each driver straight but for the tilt.
        const straight = (tilt: number) => judged(tiltedCone(tilt), goal({ band, limits: "stated", slopeDbPerOctave: slope }));
        const { verdict } = compare(straight(slope), straight(slope + (up ? by : -by)));
        expect(verdict.topics[0]).toMatchObject({ topic: "on the axis", change: "worse" });
        expect(["worse", "a trade"]).toContain(verdict.overall);
      }),
      { numRuns: cases(20) },
    );
  });

  it("comes with a page all the same: of a single driver, of branches that never meet, of a band that is trusted in part", () => {
    fc.assert(
      fc.property(arbitraryDrivers, arbitraryValues, fc.constantFrom("single", "never", "partly"), (drivers, values, kind) => {
        const box =
          kind === "single"
            ? alone(boxOf(drivers, values))
            : kind === "never"
              ? quiet(boxOf(drivers, values))
              : partly(boxOf(drivers, values));
        const aim = kind === "partly" ? goal({ limits: "stated" }) : kind === "single" ? goal({ band, limits: "stated" }) : safe;
        const made = compare(judged(box, aim), judged(box, aim));
        if (kind !== "partly") expect(made.before.handovers).toEqual([]);
        const page = comparisonPage(made, { title: "Drawn at random" });
        expect(String(page)).not.toMatch(/NaN|undefined|Infinity/);
        expect(comparisonText(made)).not.toMatch(/NaN|undefined|Infinity/);
        expect(made.verdict.overall).toBe("unchanged");
      }),
      { numRuns: cases(12) },
    );
  });
});

/** One more place, 60° to the side, at which the tweeter isn't heard. */
function silentAside(box: Loudspeaker): Loudspeaker {
  const aside = (name: string) => {
    const { pressures } = box.drivers.find((driver) => driver.name === name)!;
    const axis = pressures.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0)!;
    const factor = name === "tweeter" ? 0 : 1;
    return [
      ...pressures,
      {
        ...axis,
        azimuth: 60,
        response: { ...axis.response, re: axis.response.re.map((x) => x * factor), im: axis.response.im.map((x) => x * factor) },
      },
    ];
  };
  return { ...box, drivers: box.drivers.map((driver) => ({ ...driver, pressures: aside(driver.name) })) };
}

/** A cone that is straight but for a tilt, on the source itself. */
function tiltedCone(tilt: number): Loudspeaker {
  const drivers = {
    woofer: { gain: 0.1, low: 1, high: 1e9, bump: 0, bumpAt: 1000, radius: 0, late: 0, offset: 0 },
    tweeter: { gain: 0.1, low: 1, high: 1e9, bump: 0, bumpAt: 1000, radius: 0, late: 0, offset: 0 },
    re: [6, 6],
    fs: [50, 800],
    angles: [],
  } as const;
  return alone(boxOf(drivers, { low: 1000, high: 1000, orders: [0, 1], pad: 0, damping: 1, reversed: false }, { tilt }));
}

/** Without the tweeter. */
function alone(box: Loudspeaker): Loudspeaker {
  const network = Object.fromEntries(
    Object.entries(box.network).filter(([name]) => name === "woofer" || name.startsWith("W")),
  ) as unknown as Entries;
  return { ...box, network, drivers: box.drivers.filter(({ name }) => name === "woofer") };
}

/** With a tweeter that is 120 dB too quiet to meet the woofer anywhere. */
function quiet(box: Loudspeaker): Loudspeaker {
  const hushed = (pressures: Loudspeaker["drivers"][number]["pressures"]) =>
    pressures.map((pressure) => ({
      ...pressure,
      response: { ...pressure.response, re: pressure.response.re.map((x) => x * 1e-6), im: pressure.response.im.map((x) => x * 1e-6) },
    }));
  return {
    ...box,
    drivers: box.drivers.map((driver) => (driver.name === "tweeter" ? { ...driver, pressures: hushed(driver.pressures) } : driver)),
  };
}

/** Measured from 900 Hz on, and trusted from 1500 Hz. */
function partly(box: Loudspeaker): Loudspeaker {
  const cut = ({ response, ...rest }: Loudspeaker["drivers"][number]["pressures"][number]) => {
    const first = response.frequencies.findIndex((frequency) => frequency >= 900);
    const mark = { kind: "coarse" as const, to: 1500, note: "the gate of T = 2 ms at 1 m loses details below 3/T" };
    return {
      ...rest,
      response: {
        frequencies: response.frequencies.slice(first),
        re: response.re.slice(first),
        im: response.im.slice(first),
        marks: [mark],
      },
    };
  };
  const drivers = box.drivers.map((driver) => ({ ...driver, pressures: driver.pressures.map(cut) }));
  expect(predict({ ...box, drivers }).frequencies[0]).toBeGreaterThanOrEqual(900);
  return { ...box, drivers };
}
