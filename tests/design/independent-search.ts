// Another way to the same networks: annealing over drawings and values of its own, judged by lossOf alone. It shares no code with the library's search, and knows nothing of the order in which it
// looks; the ranges of values are those that docs/design.md states.
import {
  capacitor,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  network,
  pressurePerVolt,
  resistor,
  solve,
  type Entries,
  type Loudspeaker,
} from "dividing-network";
import { lossOf } from "dividing-network/assessment";
import { numbers } from "../support/two-way";

/** A seeded loudspeaker, what it is to do, and which drawings are compared. */
export interface RedesignCase {
  readonly name: string;
  readonly box: Loudspeaker;
  readonly goal: {
    readonly frequencies: Float64Array;
    readonly limits: "stated";
    readonly places?: readonly { readonly azimuth?: number; readonly elevation?: number }[];
  };
  readonly maxParts: number;
  readonly groups: readonly (readonly string[])[];
}

const grid = logGrid(80, 18_000, 120);

/** Pa per volt of an invented driver: a rise and a fall of second order, a slope off the axis, a ripple, a delay. */
function heard(
  next: () => number,
  [from, to]: readonly [number, number],
  size: number,
  places: readonly (readonly [number, number])[],
  delayFor: (elevation: number) => number,
) {
  const [ripple, turn] = [0.06 * next(), 6 * next()];
  return places.map(([azimuth, elevation]) =>
    pressurePerVolt({
      ...(() => {
        const at = [...grid].map((f) => {
          const [x, y] = [f / from, f / (to / (1 + Math.abs(azimuth) / 60))];
          const part = (u: number): readonly [number, number] => [1 - u * u, 1.3 * u];
          const [a, b] = [part(x), part(y)];
          // −x²/(1 − x² + j1.3x) · 1/(1 − y² + j1.3y)
          const d = [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]] as const;
          const square = d[0] * d[0] + d[1] * d[1];
          const wave = 1 + ripple * Math.sin(turn * Math.log2(f / 500));
          const scale = (size * wave * -x * x) / square;
          const angle = -2 * Math.PI * f * delayFor(elevation);
          const [re, im] = [scale * d[0], -scale * d[1]];
          return [re * Math.cos(angle) - im * Math.sin(angle), re * Math.sin(angle) + im * Math.cos(angle)] as const;
        });
        return {
          response: frequencyResponse(
            grid,
            at.map(([re]) => re),
            at.map(([, im]) => im),
          ),
        };
      })(),
      drive: { voltage: 1, at: "terminals" },
      distance: 1,
      azimuth,
      elevation,
      timeZero: "common",
    }),
  );
}

/** Twelve cases: two-ways, such as are compared in series connection alone, three-ways, and tall panels heard at several heights. */
export function redesignCases(): readonly RedesignCase[] {
  const make = (name: string, seed: number, kind: "two" | "pair" | "three" | "panel", maxParts: number): RedesignCase => {
    const next = numbers(seed);
    const between = (from: number, to: number) => from + (to - from) * next();
    const places: (readonly [number, number])[] =
      kind === "panel"
        ? [
            [0, 0],
            [0, 8],
            [0, -8],
          ]
        : seed % 2 === 0
          ? [
              [0, 0],
              [25, 0],
            ]
          : [[0, 0]];
    const cone = (fs: number) =>
      driverImpedance({ re: between(3.2, 6.5), le: between(0.2e-3, 0.9e-3), fs, qms: between(2, 5), qes: between(0.3, 0.8) });
    const dome = () =>
      driverImpedance({
        re: between(3, 6),
        le: between(0.02e-3, 0.08e-3),
        fs: between(600, 1300),
        qms: between(1, 3),
        qes: between(0.8, 2),
      });
    // A panel's tall source is heard earlier or later above and below; its tweeter hardly.
    const delay = (own: number, tall: number) => (elevation: number) => own + tall * Math.abs(Math.sin((elevation * Math.PI) / 180));
    const low = heard(
      next,
      [between(45, 80), kind === "three" ? between(900, 2500) : between(3000, 6000)],
      between(0.15, 0.25),
      places,
      delay(between(0, 1e-4), kind === "panel" ? 3e-4 : 0),
    );
    const high = heard(
      next,
      [between(800, 1500), between(15_000, 25_000)],
      between(0.2, 0.35),
      places,
      delay(between(0, 1e-4), kind === "panel" ? 0.5e-4 : 0),
    );
    const middle = heard(next, [between(150, 350), between(4000, 8000)], between(0.18, 0.3), places, delay(between(0, 1e-4), 0));
    const drivers = [
      { name: "woofer", role: "woofer", pressures: low },
      ...(kind === "pair" ? [{ name: "lower", role: "woofer", pressures: low }] : []),
      ...(kind === "three" ? [{ name: "mid", role: "midrange", pressures: middle }] : []),
      { name: "tweeter", role: "tweeter", pressures: high },
    ];
    const woofer = cone(between(35, 70));
    const devices: Record<string, unknown> = {
      woofer,
      lower: woofer,
      mid: cone(between(120, 250)),
      tweeter: kind === "panel" ? resistor(between(3, 6)) : dome(),
    };
    return {
      name,
      box: loudspeaker({
        network: Object.fromEntries(drivers.map(({ name: own }) => [own, [devices[own], "in", "gnd"]])),
        drivers,
      } as never) as unknown as Loudspeaker,
      goal: {
        frequencies: logGrid(kind === "three" ? 150 : 300, 12_000, kind === "three" ? 20 : 16),
        limits: "stated",
        ...(places.length > 1 ? { places: places.map(([azimuth, elevation]) => ({ azimuth, elevation })) } : {}),
      },
      maxParts,
      groups: [kind === "pair" ? ["woofer", "lower"] : ["woofer"], ...(kind === "three" ? [["mid"]] : []), ["tweeter"]],
    };
  };
  return [
    make("two-way 1", 101, "two", 4),
    make("two-way 2, two places", 102, "two", 4),
    make("two-way 3", 103, "two", 5),
    make("two-way 4, two places", 104, "two", 5),
    make("two-way 5, in series", 105, "two", 3),
    make("two-way 6, in series, two places", 106, "two", 3),
    make("two woofers 1", 107, "pair", 4),
    make("two woofers 2, two places", 108, "pair", 4),
    make("three-way 1", 109, "three", 5),
    make("three-way 2, two places", 110, "three", 5),
    make("tall panel 1, three heights", 111, "panel", 4),
    make("tall panel 2, three heights", 112, "panel", 4),
  ];
}

/** A drawing with values: letters of the elements in the way (`s`) and across (`p`), by group; or both drivers one after the other. */
interface Sketch {
  readonly series: boolean;
  readonly branches: readonly (readonly {
    readonly letter: "L" | "C" | "R";
    readonly across: boolean;
    readonly step: number;
    readonly range: readonly [number, number];
  }[])[];
  readonly turned: readonly boolean[];
}

const E6 = [1, 1.5, 2.2, 3.3, 4.7, 6.8] as const;
/** SI: the preferred value of a step; 0 is 1 Ω, 100 µH, 1 µF. */
const valueAt = (letter: "L" | "C" | "R", step: number): number =>
  Number(`${E6[((step % 6) + 6) % 6]}e${Math.floor(step / 6) + { L: -4, C: -6, R: 0 }[letter]}`);
/** Steps between two values, both ends included. */
const stepsBetween = (letter: "L" | "C" | "R", from: number, to: number): readonly [number, number] => {
  const all = Array.from({ length: 80 }, (_, i) => i - 30).filter((step) => valueAt(letter, step) >= from && valueAt(letter, step) <= to);
  return [all[0]!, all[all.length - 1]!];
};

/** The ranges that docs/design.md states, from the handovers and the least impedance of each group, which is measured here. */
function rangesOf({ box, groups }: RedesignCase): readonly ((letter: "L" | "C" | "R", across: boolean) => readonly [number, number])[] {
  const handovers =
    groups.length === 2
      ? [[800, 6000]]
      : [
          [150, 1200],
          [1500, 8000],
        ];
  return groups.map((parts, group) => {
    const alone = Object.fromEntries(parts.map((part) => [part, [box.network[part]![0], "in", "gnd"]]));
    const { re, im } = solve(network<Entries>(alone as unknown as Entries), [100, 200, 400, 800, 1600, 3200, 6400]).impedance;
    const load = Math.min(...re.map((real, i) => Math.hypot(real, im[i]!)));
    const own = handovers.slice(Math.max(0, group - 1), group + 1).flat();
    const [low, high] = [2 * Math.PI * Math.min(...own), 2 * Math.PI * Math.max(...own)];
    return (letter, across) =>
      letter === "L"
        ? stepsBetween("L", (0.4 * load) / high, (2.5 * load) / low)
        : letter === "C"
          ? stepsBetween("C", 0.4 / (high * load), 2.5 / (low * load))
          : stepsBetween("R", (across ? 0.5 : 0.08) * load, (across ? 10 : 2.5) * load);
  });
}

function drawn({ box, groups }: RedesignCase, { series, branches, turned }: Sketch): Entries {
  const entries: Record<string, unknown> = {};
  let [count, nodes] = [0, 0];
  const put = (letter: "L" | "C" | "R", step: number, from: string, to: string) => {
    const value = valueAt(letter, step);
    entries[`${letter}${++count}`] = [
      letter === "L"
        ? inductor(value, { dcr: 0.35 * (value / 1e-3) ** 0.6 })
        : letter === "C"
          ? capacitor(value, { dissipationFactor: 0.002 })
          : resistor(value),
      from,
      to,
    ];
  };
  const hang = (group: number, from: string, to: string) => {
    for (const part of groups[group]!) entries[part] = [box.network[part]![0], ...(turned[group]! ? [to, from] : [from, to])];
  };
  if (series) {
    const [coil, film, ...pads] = branches[0]!;
    put("L", coil!.step, "in", "m");
    put("C", film!.step, "m", "gnd");
    let at = "in";
    for (const pad of pads) {
      put("R", pad.step, at, `n${++nodes}`);
      at = `n${nodes}`;
    }
    hang(1, at, "m");
    hang(0, "m", "gnd");
  } else {
    branches.forEach((branch, group) => {
      let at = "in";
      for (const { letter, across, step } of branch) {
        if (across) put(letter, step, at, "gnd");
        else {
          put(letter, step, at, `n${++nodes}`);
          at = `n${nodes}`;
        }
      }
      hang(group, at, "gnd");
    });
  }
  return network<Entries>(entries as unknown as Entries);
}

/** The least loss found for each number of parts by annealing from a seed, so many networks long. */
export function independently(
  own: RedesignCase,
  seed: number,
  evaluations: number,
  seriesAlone: boolean,
  tell?: (loss: number, network: Entries) => void,
): ReadonlyMap<number, number> {
  const next = numbers(seed);
  const integer = (from: number, to: number) => from + Math.floor(next() * (to - from + 1));
  const ranges = rangesOf(own);
  const element = (group: number, letter: "L" | "C" | "R", across: boolean) => {
    const range = ranges[group]!(letter, across);
    return { letter, across, range, step: integer(...range) };
  };
  const ladder = (group: number, first: "L" | "C", order: number) =>
    Array.from({ length: order }, (_, i) => element(group, i % 2 === 0 ? first : first === "L" ? "C" : "L", i % 2 === 1));
  const branchFor = (group: number) => {
    const [bottom, top] = [group === 0, group === own.groups.length - 1];
    const high = bottom ? [] : ladder(group, "C", integer(1, top ? 3 : 2));
    const low = top ? [] : ladder(group, "L", integer(1, bottom ? 3 : 2));
    const pads = bottom ? 0 : integer(0, top ? 2 : 1);
    const pad = [element(group, "R", false), element(group, "R", true)].slice(0, pads);
    return pads > 0 && next() < 0.3 ? [...pad, ...high, ...low] : [...high, ...low, ...pad];
  };
  const fresh = (): Sketch => {
    for (;;) {
      const series = own.groups.length === 2 && (seriesAlone || next() < 0.15);
      const branches = series
        ? [[element(1, "L", false), element(0, "C", true), ...(next() < 0.5 ? [element(1, "R", false)] : [])]]
        : own.groups.map((_, group) => branchFor(group));
      if (branches.flat().length <= own.maxParts)
        return { series, branches, turned: own.groups.map((_, group) => group > 0 && next() < 0.5) };
    }
  };
  const moved = (from: Sketch): Sketch => {
    const dice = next();
    if (dice < 0.04) return fresh();
    if (dice < 0.1 && !from.series) {
      const group = integer(0, own.groups.length - 1);
      const branches = from.branches.map((branch, at) => (at === group ? branchFor(group) : branch));
      return branches.flat().length <= own.maxParts ? { ...from, branches } : from;
    }
    if (dice < 0.16) {
      const group = integer(1, own.groups.length - 1);
      return { ...from, turned: from.turned.map((is, at) => (at === group ? !is : is)) };
    }
    const changes = next() < 0.3 ? 2 : 1;
    let branches = from.branches;
    for (let i = 0; i < changes; i++) {
      const at = integer(0, branches.flat().length - 1);
      const by = integer(1, 3) * (next() < 0.5 ? -1 : 1);
      let place = -1;
      branches = branches.map((branch) =>
        branch.map((one) => {
          place++;
          const [low, high] = one.range;
          return place === at ? { ...one, step: Math.min(high, Math.max(low, one.step + by)) } : one;
        }),
      );
    }
    return { ...from, branches };
  };
  const loss = (sketch: Sketch): number => lossOf({ ...own.box, network: drawn(own, sketch) }, own.goal).lossDb;
  const best = new Map<number, number>();
  const RUNS = Math.max(2, Math.round(evaluations / 1500));
  for (let run = 0; run < RUNS; run++) {
    let at = fresh();
    let now = loss(at);
    const length = Math.floor(evaluations / RUNS);
    for (let i = 0; i < length; i++) {
      const other = moved(at);
      const value = loss(other);
      const warm = 0.4 * (0.004 / 0.4) ** (i / length);
      if (value <= now || next() < Math.exp((now - value) / warm)) [at, now] = [other, value];
      const parts = at.branches.flat().length;
      if (now < (best.get(parts) ?? Infinity)) {
        best.set(parts, now);
        tell?.(now, drawn(own, at));
      }
    }
  }
  return best;
}
