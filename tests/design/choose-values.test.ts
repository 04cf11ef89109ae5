// Tests src/design/: pair-search.ts, question-digest.ts, question.ts, search.ts, turns.ts
// The oracle builds every network of a small space by itself, asks the public `predict` and `solve` of each, and has a loss and limits of its own.
import { capacitor, inductor, lPad, network, predict, resistor, solve, type Entries, type Entry, type Loudspeaker } from "dividing-network";
import { lossOf } from "dividing-network/assessment";
import { chooseValues, type ChooseValuesOptions } from "dividing-network/design";
import { DividingNetworkError } from "dividing-network/errors";
import { describe, expect, it } from "vitest";
import { drawn, monitor, numbers, tweeter, woofer } from "../support/two-way";

type Part = Entry[0];
type Space = Readonly<Record<string, readonly (Part | "open" | "short")[]>>;

interface Aim {
  readonly frequencies: readonly number[];
  readonly places: readonly { readonly azimuth: number; readonly weight: number; readonly levelDb?: number }[];
  readonly levelDb?: number;
  readonly slopeDbPerOctave: number;
  readonly smallestImpedance?: number;
  readonly leastLevelDb?: number;
  readonly spareDb?: number;
}

/** dB of every place and frequency less the target's slope, from the prediction alone. */
function levels(box: Loudspeaker, { frequencies, places, slopeDbPerOctave }: Aim): number[][] {
  const { places: heard } = predict(box, {
    frequencies,
    voltage: 2.83,
    places: places.map(({ azimuth }) => ({ distance: 1, azimuth, elevation: 0 })),
  });
  return heard.map(({ sum }) =>
    frequencies.map((f, i) => 20 * Math.log10(Math.hypot(sum.re[i]!, sum.im[i]!) / 20e-6) - slopeDbPerOctave * Math.log2(f / 1000)),
  );
}

function lossBy(box: Loudspeaker, aim: Aim): { readonly lossDb: number; readonly meanDb: number } {
  const found = levels(box, aim);
  const n = aim.frequencies.length;
  const total = aim.places.reduce((sum, { weight }) => sum + weight, 0);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / n;
  const free = aim.places.map((place, k) => ({ place, k })).filter(({ place }) => place.levelDb === undefined);
  const freeLevel =
    free.reduce((sum, { place, k }) => sum + place.weight * mean(found[k]!), 0) / free.reduce((sum, { place }) => sum + place.weight, 0);
  let loss = 0;
  aim.places.forEach(({ weight, levelDb }, k) => {
    const target = levelDb ?? aim.levelDb ?? freeLevel;
    loss += (weight / total) * mean(found[k]!.map((level) => (level - target) ** 2));
  });
  return { lossDb: Math.sqrt(loss), meanDb: aim.places.reduce((sum, { weight }, k) => sum + (weight / total) * mean(found[k]!), 0) };
}

const audio = Array.from({ length: 480 }, (_, i) => 1000 * 2 ** ((i - 271) / 48)).filter((f) => f >= 20 && f <= 20_000);

function keeps(box: Loudspeaker, aim: Aim): boolean {
  if (aim.smallestImpedance !== undefined) {
    const { impedance } = solve<Entries>(box.network as never, audio);
    if (audio.some((_, i) => Math.hypot(impedance.re[i]!, impedance.im[i]!) < aim.smallestImpedance!)) return false;
  }
  if (aim.leastLevelDb !== undefined && !(lossBy(box, aim).meanDb >= aim.leastLevelDb)) return false;
  if (aim.spareDb !== undefined) {
    const options = box.sourceImpedance === undefined ? {} : { sourceImpedance: box.sourceImpedance };
    const volts = (f: readonly number[]) => {
      const v = solve<Entries>(box.network as never, f, options).voltage("tweeter");
      return f.map((_, i) => Math.hypot(v.re[i]!, v.im[i]!));
    };
    if (20 * Math.log10(Math.max(...volts(aim.frequencies)) / volts([850])[0]!) < aim.spareDb) return false;
  }
  return true;
}

/** Every network of a space, drivers turned or not. */
function* members(base: Entries, space: Space, turnable: readonly string[]): Generator<Entries> {
  const names = Object.keys(space);
  const counts = [...names.map((name) => space[name]!.length), ...turnable.map(() => 2)];
  for (let number = 0; number < counts.reduce((a, b) => a * b, 1); number++) {
    let rest = number;
    const digits = counts.map((count) => {
      const digit = rest % count;
      rest = Math.floor(rest / count);
      return digit;
    });
    const entries: Record<string, Entry> = { ...base };
    names.forEach((name, i) => {
      const candidate = space[name]![digits[i]!]!;
      if (candidate === "open") delete entries[name];
      else entries[name] = [candidate === "short" ? resistor(0) : candidate, ...base[name]!.slice(1)] as unknown as Entry;
    });
    turnable.forEach((name, i) => {
      if (digits[names.length + i] === 1) {
        const [part, a, b] = entries[name]!;
        entries[name] = [part, b, a] as unknown as Entry;
      }
    });
    yield entries;
  }
}

interface Optimum {
  readonly lossDb: number;
  readonly ties: number;
  readonly feasible: number;
  readonly all: number;
}

function bestOf(box: Loudspeaker, space: Space, turnable: readonly string[], aim: Aim): Optimum {
  const losses: number[] = [];
  let all = 0;
  for (const entries of members(box.network, space, turnable)) {
    all++;
    try {
      const other = { ...box, network: network(entries as never) as Entries };
      if (!keeps(other, aim)) continue;
      const { lossDb } = lossBy(other, aim);
      if (Number.isFinite(lossDb)) losses.push(lossDb);
    } catch (error) {
      if (!(error instanceof DividingNetworkError)) throw error;
    }
  }
  const lossDb = losses.reduce((a, b) => Math.min(a, b), Infinity);
  return { lossDb, ties: losses.filter((loss) => loss < lossDb + 1e-9).length, feasible: losses.length, all };
}

const goalOf = ({ frequencies, places, levelDb, slopeDbPerOctave, smallestImpedance, leastLevelDb, spareDb }: Aim) => ({
  frequencies,
  places,
  levelDb,
  slopeDbPerOctave,
  leastLevelDb,
  amplifier: { smallestImpedance },
  limits: "stated" as const,
  drivers: spareDb === undefined ? {} : { tweeter: spareDb },
});

const choose = (box: Loudspeaker, aim: Aim, space: Space, turnable: readonly string[] = []) =>
  chooseValues(box, {
    goal: goalOf(aim),
    values: space,
    polarity: Object.fromEntries(turnable.map((name) => [name, "either" as const])),
  } as unknown as ChooseValuesOptions);

const series = {
  woofer: [woofer, "in", "m"],
  C1: [capacitor(10e-6), "in", "m"],
  tweeter: [tweeter, "m", "gnd"],
  L1: [inductor(0.4e-3, { dcr: 0.2 }), "m", "gnd"],
  R1: [resistor(10), "in", "z"],
  C3: [capacitor(20e-6), "z", "gnd"],
} as const satisfies Entries;
const bridged = {
  L1: [inductor(0.8e-3, { dcr: 0.3 }), "in", "w"],
  C1: [capacitor(15e-6), "w", "gnd"],
  woofer: [woofer, "w", "gnd"],
  C2: [capacitor(8e-6), "in", "p"],
  pad: [lPad({ attenuationDb: 4, load: 5 }), "p", "t", "gnd"],
  L2: [inductor(0.3e-3, { dcr: 0.2 }), "p", "gnd"],
  tweeter: [tweeter, "gnd", "t"],
  R4: [resistor(60), "in", "gnd"],
} as const satisfies Entries;

/** A seeded small space of one of three networks. */
function seeded(seed: number): { box: Loudspeaker; space: Space; turnable: string[]; aim: Aim } {
  const next = numbers(seed);
  const among = <V>(values: readonly V[]): V => values[Math.floor(next() * values.length)]!;
  const base: Entries = [drawn, bridged, drawn, series][seed % 4]!;
  const space: Record<string, (Part | "open" | "short")[]> = {};
  const free = Object.keys(base).filter((name) => !["woofer", "tweeter"].includes(name));
  let size = 1;
  while (size < 40 && Object.keys(space).length < free.length) {
    const name = among(free);
    if (name in space) continue;
    const part = base[name]![0];
    const factor = () => 0.5 + 1.6 * next();
    const made: (Part | "open" | "short")[] = Array.from({ length: 2 + Math.floor(next() * 2) }, () =>
      part.kind === "resistor"
        ? resistor(part.resistance * factor())
        : part.kind === "inductor"
          ? inductor(part.inductance * factor(), { dcr: 0.1 + 0.4 * next() })
          : part.kind === "capacitor"
            ? capacitor(part.capacitance * factor(), { esr: 0.05 * next() })
            : lPad({ attenuationDb: 6 * next(), load: 5 }),
    );
    if (part.kind !== "l-pad" && next() < 0.4) made.push(among(["open", "short"]));
    space[name] = made;
    size *= made.length;
  }
  const many = among([1, 2, 3]);
  const ownLevel = seed % 7 === 3;
  return {
    box: monitor(base, [undefined, undefined, 0.4, { resistance: 0.2, inductance: 20e-6 }][Math.floor(next() * 4)]),
    space,
    turnable: seed % 3 === 0 ? ["tweeter"] : seed % 11 === 5 ? ["woofer", "tweeter"] : [],
    aim: {
      frequencies: Array.from({ length: 9 }, (_, i) => 500 * 2 ** (i / 2)),
      places: [0, 20, -20]
        .slice(0, many)
        .map((azimuth, k) => ({ azimuth, weight: 0.5 + next(), ...(ownLevel && k === 1 ? { levelDb: 84 } : {}) })),
      ...(seed % 2 === 0 ? { levelDb: 84 + 3 * next() } : {}),
      slopeDbPerOctave: among([0, 0, -0.5]),
      ...(seed % 5 === 1 ? { smallestImpedance: 4 + 1.5 * next() } : {}),
      ...(seed % 5 === 2 ? { leastLevelDb: 84 + 2 * next() } : {}),
      ...(seed % 5 === 4 ? { spareDb: 4 + 6 * next() } : {}),
    },
  };
}

describe("the best network of a small space", () => {
  for (let seed = 1; seed <= 36; seed++) {
    it(`is the one that looking at every network finds, with the limits kept (space ${seed})`, async () => {
      const { box, space, turnable, aim } = seeded(seed);
      const truth = bestOf(box, space, turnable, aim);
      if (truth.feasible === 0) {
        await expect(choose(box, aim, space, turnable)).rejects.toMatchObject({ code: "no-feasible-network" });
        return;
      }
      const found = await choose(box, aim, space, turnable);
      expect(Math.abs(found.lossDb - truth.lossDb)).toBeLessThan(1e-9);
      // Of networks that tie, one is given: its own loss is the least, whichever it is.
      const own = { ...box, network: found.network };
      expect(Math.abs(lossBy(own, aim).lossDb - truth.lossDb)).toBeLessThan(1e-9);
      expect(keeps(own, aim)).toBe(true);
      expect(truth.ties).toBeGreaterThanOrEqual(1);
      expect(found).toMatchObject({ proven: true, networks: truth.all });
      expect(found.lossDb).toBe(lossOf(own, goalOf(aim)).lossDb);
      expect(found.lossDb - found.lowerBoundDb).toBeLessThan(1e-9);
    });
  }

  it("has feasible and infeasible spaces, and ties, among the seeded ones", () => {
    const truths = Array.from({ length: 36 }, (_, i) => seeded(i + 1))
      .filter(({ aim }) => aim.smallestImpedance !== undefined || aim.leastLevelDb !== undefined || aim.spareDb !== undefined)
      .map(({ box, space, turnable, aim }) => bestOf(box, space, turnable, aim));
    expect(truths.some(({ feasible, all }) => feasible > 0 && feasible < all)).toBe(true);
    expect(truths.filter(({ feasible }) => feasible > 0).length).toBeGreaterThan(8);
  });
});
