// Random ladders whose values scatter, and the worst that a dense sampling of the values finds: thousands of draws over their whole
// range (each value at an end every third time), then a random walk from the worst of them. Computed here from the two node equations of
// the circuits drawn.
import type { Entries, Entry } from "dividing-network/network";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import type { Random } from "../../src/numeric/random";

const DRAWS = 3000;
const STEPS = 1000;

/** Two nodes between `in` and `gnd`: every pair of nodes that a part may join. */
const PLACES = [
  ["in", "a"],
  ["a", "gnd"],
  ["a", "b"],
  ["b", "gnd"],
  ["in", "b"],
] as const;

/** A part of such a ladder. */
export interface Drawn {
  readonly name: string;
  readonly kind: "R" | "L" | "C";
  readonly place: number;
  /** Ω, H or F. */
  readonly value: number;
  /** Ω: dcr or esr. */
  readonly loss: number;
  /** ± relative; 0: doesn't scatter. */
  readonly relative: number;
}

/** A ladder of two sections in front of a load, bridged or not; reactances near 1 kHz are alike, so that it resonates there. */
export function drawLadder(random: Random): readonly Drawn[] {
  const between = (low: number, high: number) => low * (high / low) ** random();
  const omega = 2 * Math.PI * 1000;
  const places = [0, 1, 2, ...(random() < 0.6 ? [3] : []), ...(random() < 0.4 ? [4] : []), 3];
  const parts = places.map((place, index): Drawn => {
    const [chance, size, loss] = [random(), between(2, 60), between(0.05, 1)];
    const kind = index === places.length - 1 ? "R" : chance < 0.4 ? "L" : chance < 0.8 ? "C" : "R";
    const value = index === places.length - 1 ? 8 : { R: size, L: size / omega, C: 1 / (size * omega) }[kind];
    return { name: `${kind}${index}`, kind, place, value, loss: { R: 0, L: loss, C: loss / 10 }[kind], relative: 0 };
  });
  const order = parts.map(() => random());
  const count = 2 + Math.floor(5 * random());
  const ranks = order.map((own) => order.filter((other) => other < own).length);
  return parts.map((part, index) => ({ ...part, relative: ranks[index]! < count ? between(0.03, 0.3) : 0 }));
}

/** The network as the library takes it. */
export const entriesOf = (parts: readonly Drawn[]): Entries =>
  Object.fromEntries(
    parts.map(({ name, kind, place, value, loss }) => {
      const part = kind === "R" ? resistor(value) : kind === "L" ? inductor(value, { dcr: loss }) : capacitor(value, { esr: loss });
      return [name, [part, ...PLACES[place]!] as unknown as Entry];
    }),
  );

/** |V(b)| and |Z| at one frequency by Kirchhoff's current law at a and b. */
export function closedForm(parts: readonly Drawn[], shares: ArrayLike<number>, frequency: number): readonly [number, number] {
  const omega = 2 * Math.PI * frequency;
  const y: [number, number][] = PLACES.map(() => [0, 0]);
  parts.forEach(({ kind, place, value, loss }, k) => {
    const own = value * shares[k]!;
    const [r, x] = kind === "R" ? [own, 0] : [loss, kind === "L" ? omega * own : -1 / (omega * own)];
    const size = r * r + x * x;
    y[place]![0] += r / size;
    y[place]![1] -= x / size;
  });
  const [ia, ag, ab, bg, ib] = y as unknown as [C, C, C, C, C];
  const [aa, bb] = [add(ia, ag, ab), add(ib, bg, ab)];
  const det = subtract(times(aa, bb), times(ab, ab));
  const [va, vb] = [divide(add(times(ia, bb), times(ib, ab)), det), divide(add(times(ib, aa), times(ia, ab)), det)];
  const current = add(times(ia, subtract([1, 0], va)), times(ib, subtract([1, 0], vb)));
  return [Math.hypot(...vb), 1 / Math.hypot(...current)];
}

type C = readonly [re: number, im: number];
const add = (...all: readonly C[]): C => [all.reduce((sum, [re]) => sum + re, 0), all.reduce((sum, [, im]) => sum + im, 0)];
const subtract = (p: C, q: C): C => [p[0] - q[0], p[1] - q[1]];
const times = (p: C, q: C): C => [p[0] * q[0] - p[1] * q[1], p[0] * q[1] + p[1] * q[0]];
const divide = (p: C, q: C): C => [
  (p[0] * q[0] + p[1] * q[1]) / (q[0] ** 2 + q[1] ** 2),
  (p[1] * q[0] - p[0] * q[1]) / (q[0] ** 2 + q[1] ** 2),
];

/** The shares of the worst sample: of the least (sign −1) or greatest (+1) of an output at a frequency. */
export function worstSample(parts: readonly Drawn[], output: 0 | 1, frequency: number, sign: 1 | -1, random: Random): number[] {
  const scattered = parts.flatMap(({ relative }, k) => (relative > 0 ? [k] : []));
  const place = new Float64Array(parts.length);
  const shares = () => parts.map(({ relative }, k) => 1 + relative * place[k]!);
  let [best, worst] = [place.slice(), -Infinity];
  const look = () => {
    const value = sign * closedForm(parts, shares(), frequency)[output];
    if (value > worst) [worst, best] = [value, place.slice()];
  };
  for (let draw = 0; draw < DRAWS; draw++) {
    for (const k of scattered) place[k] = random() < 1 / 3 ? (random() < 0.5 ? -1 : 1) : 2 * random() - 1;
    look();
  }
  for (let step = 0; step < STEPS; step++) {
    const reach = 0.5 ** (1 + (14 * step) / STEPS);
    for (const k of scattered) place[k] = Math.min(1, Math.max(-1, best[k]! + reach * (2 * random() - 1)));
    look();
  }
  place.set(best);
  return shares();
}
