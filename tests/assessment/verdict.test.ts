// Tests src/assessment/: judgement.ts, quality.ts, suspect-text.ts, topics.ts
// Tests src/assessment/: electric-topics.ts, sound-topics.ts, topic-change.ts
// Laws of the verdict. The cases are synthetic: ideal drivers on textbook ladders, whose behaviour is known in advance, and faults that must
// not be praised: a resistor across the amplifier, a drawing with a driver reversed, a tilted response.
import { assess, compare, goal, type Assessment } from "dividing-network/assessment";
import { loudspeaker, predict, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { measure, turned, twoWay, twoWayBox, type C } from "../support/synthetic";

const R = 8;
const places = [0, 20, -20] as const;
/** Flat drivers; the tweeter's path differs by azimuth, so that lobes are there. */
const flatAt = (delay: number, gain = 0.1) =>
  places.map((azimuth) => measure((f): C => turned(gain, -360 * f * delay * (azimuth / 20)), { azimuth }));
const box = (network: Entries, gain = 0.1): Loudspeaker => twoWayBox(network, flatAt(0, gain), flatAt(30e-6, gain));
const good = twoWay("Linkwitz–Riley 4", R, 2000);
const overlapping = twoWay("Butterworth 2", R, 5000, 800);
const aim = goal({ band: { from: 300, to: 10_000 } });
const judge = (network: Entries, options: { readonly goal?: Parameters<typeof assess>[1]["goal"] } = {}): Assessment =>
  assess(box(network), { ratedImpedance: R, goal: aim, ...options });
const shunted = (network: Entries, ohms: number): Entries => ({ ...network, R9: [resistor(ohms), "in", "gnd"] }) as unknown as Entries;

describe("the verdict", () => {
  const networks: Readonly<Record<string, Entries>> = {
    good,
    overlapping,
    "first order": twoWay("Butterworth 1", R, 2000),
    "second order": twoWay("Linkwitz–Riley 2", R, 2000, 2000, true),
    far: twoWay("Linkwitz–Riley 4", R, 1200, 3000),
  };

  it("of a network against itself is unchanged", () => {
    for (const [name, network] of Object.entries(networks))
      expect(compare(judge(network), judge(network)).verdict.overall, name).toBe(
        judge(network).dangers.length > 0 ? "not fit to be connected" : "unchanged",
      );
  });

  it("turns round when found and proposed are exchanged", () => {
    const safe = Object.values(networks).map((network) => judge(network, { goal: goal({ band: aim.band, limits: "stated" }) }));
    const round = { better: "worse", worse: "better", unchanged: "unchanged", "a trade": "a trade" } as Readonly<Record<string, string>>;
    for (const a of safe) for (const b of safe) expect(compare(b, a).verdict.overall).toBe(round[compare(a, b).verdict.overall]);
  });

  it("has the same column before, whatever is proposed", () => {
    const columns = Object.values(networks).map((network) =>
      compare(judge(good), judge(network)).verdict.topics.map(({ before }) => before),
    );
    for (const column of columns)
      expect(column.filter((value) => value !== undefined)).toEqual(columns[0]!.filter((value) => value !== undefined));
    const rows = Object.values(networks).map((network) =>
      Object.fromEntries(compare(judge(good), judge(network)).findings.map(({ subject, before }) => [subject, before])),
    );
    for (const row of rows)
      for (const [subject, before] of Object.entries(row)) if (subject in rows[0]!) expect(before, subject).toBe(rows[0]![subject]);
  });

  it("is not fit to be connected with 0.6 Ω across the amplifier, first and in words, however good the rest", () => {
    const { verdict } = compare(judge(overlapping), judge(shunted(good, 0.6)));
    expect(verdict.overall).toBe("not fit to be connected");
    expect(verdict.sentence).toMatch(/^The new network is not fit to be connected\. The load falls to 0\.5\d Ω/);
    expect(verdict.dangers.map(({ code }) => code)).toEqual(["load"]);
  });

  it("is worse for a response that falls by 4 dB an octave than for a flat one, and the other way where the goal falls as much", () => {
    const tilted =
      (slope: number) =>
      (f: number): C => [0.1 * 10 ** ((slope * Math.log2(f / 1000)) / 20), 0];
    const single = (slope: number) =>
      loudspeaker({ network: { cone: [resistor(R), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [measure(tilted(slope))] }] });
    const judged = (slope: number, aimed: number) =>
      assess(single(slope), { ratedImpedance: R, goal: { band: aim.band, slopeDbPerOctave: aimed } });
    expect(compare(judged(0, 0), judged(-4, 0)).verdict.overall).toBe("worse");
    expect(compare(judged(-4, 0), judged(0, 0)).verdict.overall).toBe("better");
    for (const aimed of [-2, 0, 1])
      for (const departure of [-1, 0.5])
        expect(compare(judged(aimed, aimed), judged(aimed + departure, aimed)).verdict.topics[0]!.change).toBe("worse");
  });

  it("says a trade where flatness is bought with loudness, and with what", () => {
    const { verdict } = compare(
      assess(box(overlapping), { ratedImpedance: R, goal: { band: aim.band, limits: "stated" } }),
      assess(box(good, 0.04), { ratedImpedance: R, goal: { band: aim.band, limits: "stated" } }),
    );
    expect(verdict.overall).toBe("a trade");
    expect(verdict.sentence).toMatch(/^The new network is a trade: better .*on the axis.*bought with loudness/);
  });

  it("is not moved by a place given twice, nor by one more where nothing changes", () => {
    const withPlaces = (network: Entries, woofer: ReturnType<typeof flatAt>, tweeter: ReturnType<typeof flatAt>) =>
      assess(twoWayBox(network, woofer, tweeter), { ratedImpedance: R, goal: aim });
    const change = (more: readonly ReturnType<typeof flatAt>[]) => {
      const [w, t] = [
        [...flatAt(0), ...more[0]!],
        [...flatAt(30e-6), ...more[1]!],
      ];
      return compare(withPlaces(overlapping, w, t), withPlaces(good, w, t)).verdict.topics.map(
        ({ topic, change: now }) => `${topic}: ${now}`,
      );
    };
    const plain = change([[], []]);
    expect(change([flatAt(0).slice(1), flatAt(30e-6).slice(1)])).toEqual(plain);
    // Straight behind the two, silent but for a faint even sound: nothing changes there but the level.
    const faint = (): [ReturnType<typeof measure>] => [measure(() => [1e-4, 0], { azimuth: 40 })];
    const dead = (): [ReturnType<typeof measure>] => [measure(() => [0, 0], { azimuth: 40 })];
    expect(change([faint(), dead()]).filter((each) => !each.startsWith("off the axis, to the sides"))).toEqual(
      plain.filter((each) => !each.startsWith("off the axis, to the sides")),
    );
  });

  it("says which planes weren't measured", () => {
    expect(compare(judge(good), judge(good)).verdict.topics.find(({ topic }) => topic === "off the axis, up and down")).toMatchObject({
      change: "not checked",
    });
  });
});

describe("trust comes first", () => {
  const measuredOf = (loudspeakerAsIs: Loudspeaker) => {
    const { places: heard, voltage, sweep } = predict(loudspeakerAsIs);
    return {
      pressures: heard.map(({ distance, azimuth, elevation, sum }) => ({ distance, azimuth, elevation, response: sum, voltage })),
      impedance: sweep.impedance,
    };
  };

  it("gives no verdict on a drawing with the tweeter reversed, and names it", () => {
    const reversed = { ...good, tweeter: [good["tweeter"]![0], ...[...good["tweeter"]!].slice(1).reverse()] } as unknown as Entries;
    const { verdict } = compare(judge(reversed), judge(good), { measured: measuredOf(box(good)) });
    expect(verdict.overall).toBe("no verdict");
    expect(verdict.sentence).toMatch(
      /^There is no verdict\. The loudspeaker as measured is not the one as drawn.*First suspects: .*reversed/,
    );
    expect(verdict.suspects[0]!.fault).toBe("reversed");
  });

  it("gives a verdict beside which it stands that nothing was checked", () => {
    const { verdict } = compare(judge(overlapping), judge(good));
    expect(verdict.trust.state).toBe("not checked");
    expect(verdict.sentence).toContain("was not checked");
  });

  it("says what impedance alone can't see: with it the reversed tweeter goes unnoticed", () => {
    const reversed = { ...good, tweeter: [good["tweeter"]![0], ...[...good["tweeter"]!].slice(1).reverse()] } as unknown as Entries;
    const { impedance } = measuredOf(box(good));
    const { trust, overall } = compare(judge(reversed), judge(good), { measured: { impedance } }).verdict;
    expect(trust).toMatchObject({
      state: "explained",
      sentence: expect.stringContaining("impedance alone sees no polarity of a driver") as unknown,
    });
    expect(overall).not.toBe("no verdict");
    expect(compare(judge(good), judge(good), { measured: measuredOf(box(good)) }).verdict.trust.sentence).not.toContain("impedance alone");
  });

  it("takes a danger before doubt: a network that may burn an amplifier isn't excused by a wrong drawing", () => {
    const reversed = { ...good, tweeter: [good["tweeter"]![0], ...[...good["tweeter"]!].slice(1).reverse()] } as unknown as Entries;
    expect(compare(judge(reversed), judge(shunted(good, 0.6)), { measured: measuredOf(box(good)) }).verdict.overall).toBe(
      "not fit to be connected",
    );
  });
});

describe("a driver that is to be spared", () => {
  const tweeter = driverImpedance({ re: 5, fs: 900, qms: 2, qes: 1.2 });
  const way = (c: number | undefined): Loudspeaker =>
    loudspeaker({
      network: {
        L1: [inductor("0.5 mH"), "in", "w"],
        woofer: [resistor(R), "w", "gnd"],
        ...(c === undefined ? {} : { C1: [capacitor(c), "in", "t"] as const }),
        tweeter: [tweeter, c === undefined ? "in" : "t", "gnd"],
      } as unknown as Entries,
      drivers: [
        { name: "woofer", role: "woofer", pressures: [measure(() => [0.1, 0])] },
        { name: "tweeter", role: "tweeter", pressures: [measure(() => [0.1, 0])] },
      ],
    }) as unknown as Loudspeaker;
  const judged = (c: number | undefined) =>
    assess(way(c), { ratedImpedance: 4, goal: { band: aim.band, amplifier: { smallestImpedance: 1 } } });

  it("without anything before it is a danger", () => {
    // A danger below 3 dB, whatever more the topic asks for.
    expect(judged(undefined).dangers).toMatchObject([{ code: "unprotected-driver", limit: 3 }]);
    expect(compare(judged(5e-6), judged(undefined)).verdict.overall).toBe("not fit to be connected");
  });

  it("behind a small capacitor is spared by what the divider gives at its resonance", () => {
    // At fs the driver is Re(1 + Qms/Qes), real; behind a capacitor V/V(in) = Z/(Z + 1/jωC).
    const [z, x] = [5 * (1 + 2 / 1.2), 1 / (2 * Math.PI * 900 * 2e-6)];
    const { quality } = judged(2e-6);
    const atResonance = 20 * Math.log10(z / Math.hypot(z, x));
    expect(quality.spared[0]!.resonance).toBe(900);
    // The passband is the octave of the band that gets most: the mean of |Z/(Z + 1/jωC)|² over ln f, here by 400 points an octave.
    const power = (f: number) => {
      const turn = 2 * (f / 900 - 900 / f);
      const motion = (5 * 2) / 1.2 / (1 + turn * turn);
      const [re, im] = [5 + motion, -motion * turn];
      const reactance = -1 / (2 * Math.PI * f * 2e-6);
      return (re * re + im * im) / (re * re + (im + reactance) ** 2);
    };
    const { from, to } = aim.band;
    const octaveFrom = (low: number) =>
      Array.from({ length: 400 }, (_, i) => power(low * 2 ** ((i + 0.5) / 400))).reduce((sum, each) => sum + each / 400, 0);
    const highest = Math.max(...Array.from({ length: 200 }, (_, i) => octaveFrom(from * (to / 2 / from) ** (i / 199))));
    expect(Math.abs(quality.spared[0]!.belowDb! - (10 * Math.log10(highest) - atResonance))).toBeLessThan(0.1);
  });

  it("whose impedance shows no resonance is not checked, never passed", () => {
    expect(compare(judge(good), judge(good)).verdict.topics.find(({ topic }) => topic === "drivers")).toMatchObject({
      change: "not checked",
    });
  });
});

describe("a branch that rises above the source", () => {
  it("is named with what resonates there, its height and Q: a coil and a capacitor with a light load", () => {
    // L and C to ground with R across C: gain at resonance is about Q = R·√(C/L), at f0 = 1/(2π√(LC)).
    const [l, c, r] = [0.5e-3, 15e-6, 24];
    const network = {
      L1: [inductor(l), "in", "w"],
      C1: [capacitor(c), "w", "gnd"],
      woofer: [resistor(r), "w", "gnd"],
    } as unknown as Entries;
    const made = loudspeaker({
      network,
      drivers: [{ name: "woofer", role: "woofer", pressures: [measure(() => [0.1, 0])] }],
    }) as unknown as Loudspeaker;
    const [rising] = assess(made, { ratedImpedance: R, goal: aim }).rising;
    const q = r * Math.sqrt(c / l);
    const peak = (1 / (2 * Math.PI * Math.sqrt(l * c))) * Math.sqrt(1 - 1 / (2 * q * q));
    expect(rising!.part).toBe("woofer");
    expect(rising!.resonating).toEqual(["L1", "C1"]);
    expect(rising!.frequency / peak).toBeCloseTo(1, 1);
    expect(rising!.gainDb).toBeCloseTo(20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q * q))), 1);
    expect(rising!.q! / q).toBeCloseTo(1, 0.6);
  });
});
