// Tests src/design/: enumerate.ts, local-search.ts
// chooseValues against looking at every network by itself, on seeded spaces: loss by `lossOf`, limits computed here from the network's own solution. No published source: the drivers are invented.
import { capacitor, inductor, logGrid, network, resistor, solve, type Entries, type Loudspeaker } from "dividing-network";
import { goal, lossOf, type Goal } from "dividing-network/assessment";
import { chooseValues } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { drawn, monitor, numbers, tweeter, woofer } from "../support/two-way";

interface Space {
  readonly box: Loudspeaker;
  readonly aim: Goal;
  readonly values: Readonly<Record<string, readonly (number | "open" | "short")[]>>;
  readonly polarity: Readonly<Record<string, "either">>;
}

/** The drivers one after the other: nothing is independent there. */
const inSeries = {
  L1: [inductor(0.4e-3, { dcr: 0.2 }), "in", "m"],
  tweeter: [tweeter, "in", "m"],
  R2: [resistor(30), "in", "m"],
  C1: [capacitor(22e-6), "m", "gnd"],
  woofer: [woofer, "m", "gnd"],
} as unknown as Entries;

function space(seed: number): Space {
  const next = numbers(1000 + seed);
  const any = <V>(...list: readonly V[]): V => list[Math.floor(next() * list.length)]!;
  const series = seed % 5 === 4;
  const source = any(undefined, undefined, 0.4);
  const box = monitor(series ? inSeries : drawn, source);
  const about = (value: number, many: number): number[] =>
    Array.from({ length: many }, () => Number((value * 3 ** (2 * next() - 1)).toPrecision(2)));
  const names = series ? ["L1", "C1", "R2"] : ["L1", "C1", "C2", "L2", "R2", "R3"];
  const taken = names.filter(() => next() < 0.75).slice(0, 4);
  if (taken.length < 2) taken.splice(0, taken.length, names[0]!, names[1]!);
  const main = (name: string) => {
    const part = box.network[name]![0] as unknown as Record<string, number>;
    return part["inductance"] ?? part["capacitance"] ?? part["resistance"]!;
  };
  const values = Object.fromEntries(
    taken.map((name) => [
      name,
      [
        ...about(main(name), any(2, 3)),
        ...(name === "R3" || name === "C1" ? ["open" as const] : []),
        ...(name === "R2" && !series ? ["short" as const] : []),
      ],
    ]),
  );
  // The first value twice: a tie.
  if (seed % 7 === 3) values[taken[0]!] = [...values[taken[0]!]!, values[taken[0]!]![0]!];
  const aim = goal({
    frequencies: logGrid(400, 11_000, 9),
    places: any([{}], [{ weight: 2 }, { azimuth: 20 }], [{}, { azimuth: 20 }, { azimuth: -20 }]),
    limits: "stated",
    ...any({}, { levelDb: any(84, 87) }, {}),
    slopeDbPerOctave: any(0, -0.5),
    amplifier: any({}, { smallestImpedance: any(3.5, 5, 6) }),
    leastLevelDb: any(undefined, any(78, 84, 86)),
    ...any({}, { drivers: { tweeter: any(10, 16, 20) } }),
  });
  return { box, aim, values, polarity: any({}, { tweeter: "either" as const }) };
}

/** The part with another main value, nothing or a wire. */
function put(entries: Record<string, Entries[string]>, name: string, value: number | "open" | "short"): void {
  const [part, ...nodes] = entries[name]!;
  if (value === "open") delete entries[name];
  else if (value === "short") entries[name] = [resistor(0), ...nodes] as unknown as Entries[string];
  else
    entries[name] = [
      part.kind === "inductor"
        ? inductor(value, { dcr: part.dcr })
        : part.kind === "capacitor"
          ? capacitor(value, { esr: part.esr })
          : resistor(value),
      ...nodes,
    ] as unknown as Entries[string];
}

/** Every network of a space that keeps its limits, with its loss. */
function all({ box, aim, values, polarity }: Space): { readonly entries: Entries; readonly loss: number }[] {
  const names = Object.keys(values);
  const turns = polarity["tweeter"] === undefined ? [false] : [false, true];
  const kept: { readonly entries: Entries; readonly loss: number }[] = [];
  // 20 Hz to 20 kHz, 48 to an octave, through 1 kHz: where |Z| is judged.
  const load = Array.from({ length: 479 }, (_, i) => 1000 * 2 ** ((i - 271) / 48)).filter((f) => f >= 20 && f <= 20_000);
  const passband = logGrid(400, 11_000, Math.ceil(12 * Math.log2(11_000 / 400)) + 1);
  const source = box.sourceImpedance === undefined ? {} : { sourceImpedance: box.sourceImpedance };
  const size = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }) => re.map((value, i) => Math.hypot(value, im[i]!));
  const { levelDb: _level, ...free } = aim;
  for (const turned of turns) {
    const total = names.reduce((product, name) => product * values[name]!.length, 1);
    for (let code = 0; code < total; code++) {
      const entries: Record<string, Entries[string]> = { ...box.network };
      let rest = code;
      for (const name of names) {
        put(entries, name, values[name]![rest % values[name]!.length]!);
        rest = Math.floor(rest / values[name]!.length);
      }
      if (turned) {
        const [part, a, b] = entries["tweeter"]!;
        entries["tweeter"] = [part, b, a] as unknown as Entries[string];
      }
      const own = network<Entries>(entries);
      const heard = { ...box, network: own };
      // Over the goal's places, and on the axis, by which loudness is judged.
      const onAxis = { ...free, places: [{ azimuth: 0, elevation: 0, weight: 1 }] };
      if (aim.leastLevelDb !== undefined && [free, onAxis].some((each) => lossOf(heard, each).levelDb < aim.leastLevelDb!)) continue;
      if (
        aim.amplifier.smallestImpedance !== undefined
        && Math.min(...size(solve(own, load).impedance)) < aim.amplifier.smallestImpedance * (1 - 1e-9)
      )
        continue;
      const spare = aim.drivers["tweeter"];
      if (typeof spare === "number") {
        // The octave in which the mean square is highest, against 850 Hz, its resonance.
        const volts = size(solve(own, passband, source).voltage("tweeter" as never));
        const steps = Math.round(Math.LN2 / Math.log(passband[1]! / passband[0]!));
        let highest = 0;
        for (let first = 0; first + steps < volts.length; first++) {
          let sum = 0;
          for (let i = 0; i <= steps; i++) sum += (i === 0 || i === steps ? 0.5 : 1) * volts[first + i]! ** 2;
          highest = Math.max(highest, sum / steps);
        }
        const [at] = size(solve(own, [850], source).voltage("tweeter" as never));
        if (-20 * Math.log10(at! / Math.sqrt(highest)) < spare - 1e-6) continue;
      }
      kept.push({ entries: own, loss: lossOf(heard, aim).lossDb });
    }
  }
  return kept;
}

describe("chooseValues on spaces that can be enumerated", () => {
  it(
    "gives the best network that keeps the limits of thirty-five seeded spaces, proven, and none where none does",
    { timeout: 120_000 },
    async () => {
      let [infeasible, limited, tied] = [0, 0, 0];
      for (let seed = 0; seed < 35; seed++) {
        const own = space(seed);
        const kept = all(own);
        const answer = await chooseValues(own.box, { goal: own.aim, values: own.values, polarity: own.polarity } as never).catch(
          (error: unknown) => (error as { readonly code: string }).code,
        );
        if (kept.length === 0) {
          expect(answer, `seed ${seed}`).toBe("no-feasible-network");
          infeasible++;
          continue;
        }
        if (typeof answer === "string") expect.unreachable(`seed ${seed}: ${answer}`);
        const best = kept.reduce((least, { loss }) => Math.min(least, loss), Infinity);
        expect(answer.lossDb, `seed ${seed}`).toBeCloseTo(best, 8);
        expect(answer.proven, `seed ${seed}`).toBe(true);
        expect(answer.lowerBoundDb).toBe(answer.lossDb);
        if (kept.length < answer.networks) limited++;
        const ties = kept.filter(({ loss }) => loss - best < 1e-9);
        if (ties.length > 1) tied++;
        expect(
          ties.some(({ entries }) => JSON.stringify(entries) === JSON.stringify(answer.network)),
          `seed ${seed}`,
        ).toBe(true);
      }
      // The seeds hold what they are for.
      expect(infeasible).toBeGreaterThan(0);
      expect(limited).toBeGreaterThan(5);
      expect(tied).toBeGreaterThan(1);
    },
  );
});
