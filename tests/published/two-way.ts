// Textbook two-way networks by formula, for tests of the solver: source to load, first a series coil, loads of R.
import { network, type Entries, type Entry } from "dividing-network/network";
import { capacitor, inductor, resistor } from "dividing-network/parts";

export type Name = "BW1" | "BW2" | "BW3" | "BW4" | "LR2" | "LR4";
export const names: readonly Name[] = ["BW1", "BW2", "BW3", "BW4", "LR2", "LR4"];
export const orderOf = (name: Name): number => Number(name.slice(2));

/** Values for 1 Ω and 1 rad/s. Butterworth by the recursion for a ladder fed from 0 Ω, Linkwitz–Riley in closed form. */
export function ladderOf(name: Name): readonly number[] {
  if (name === "LR2") return [2, 1 / 2];
  if (name === "LR4") return [(4 * Math.SQRT2) / 3, (9 * Math.SQRT2) / 8, (2 * Math.SQRT2) / 3, Math.SQRT2 / 4];
  const n = orderOf(name);
  const a = (k: number) => Math.sin(((2 * k - 1) * Math.PI) / (2 * n));
  const fromLoad = [a(1)];
  for (let k = 2; k <= n; k++) fromLoad.push((a(k) * a(k - 1)) / (Math.cos(((k - 1) * Math.PI) / (2 * n)) ** 2 * fromLoad[k - 2]!));
  return fromLoad.reverse();
}

/** A low-pass ladder from `in` to the node `w`, with its load; corner in Hz. */
export function lowPassBranch(name: Name, corner: number, load: number): Entries {
  return branch(
    "w",
    "woofer",
    load,
    ladderOf(name).map((g, at) =>
      at % 2 === 0 ? inductor((g * load) / (2 * Math.PI * corner)) : capacitor(g / (2 * Math.PI * corner * load)),
    ),
  );
}

/** The high-pass ladder by s → 1/s, from `in` to the node `t`. */
export function highPassBranch(name: Name, corner: number, load: number): Entries {
  return branch(
    "t",
    "tweeter",
    load,
    ladderOf(name).map((g, at) =>
      at % 2 === 0 ? capacitor(1 / (g * 2 * Math.PI * corner * load)) : inductor(load / (g * 2 * Math.PI * corner)),
    ),
  );
}

function branch(end: string, driver: string, load: number, parts: readonly Entry[0][]): Entries {
  const entries: Record<string, Entry> = { [driver]: [resistor(load), end, "gnd"] };
  let node = "in";
  parts.forEach((part, at) => {
    const series = at % 2 === 0;
    const next = !series ? node : at >= parts.length - 2 ? end : `${end}${at}`;
    entries[`${end}P${at}`] = (series ? [part, node, next] : [part, node, "gnd"]) as Entry;
    node = next;
  });
  return entries;
}

/** Both branches on one source; the corners may differ. */
export function twoWay(name: Name, low: number, high: number, load: number): Entries {
  return network({ ...lowPassBranch(name, low, load), ...highPassBranch(name, high, load) });
}

/** A complex number, for closed forms. */
export type C = readonly [re: number, im: number];
export const times = ([a, b]: C, [c, d]: C): C => [a * c - b * d, a * d + b * c];
export const over = ([a, b]: C, [c, d]: C): C => [(a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)];
export const plus = ([a, b]: C, [c, d]: C): C => [a + c, b + d];

/** The denominator at s = jx: the Butterworth polynomial by its quadratic factors, for Linkwitz–Riley the square of one. */
export function denominatorAt(name: Name, x: number): C {
  const butterworth = (n: number): C => {
    let value: C = n % 2 === 1 ? [1, x] : [1, 0];
    for (let k = 1; k <= Math.floor(n / 2); k++) value = times(value, [1 - x * x, 2 * Math.sin(((2 * k - 1) * Math.PI) / (2 * n)) * x]);
    return value;
  };
  if (name.startsWith("BW")) return butterworth(orderOf(name));
  const half = butterworth(orderOf(name) / 2);
  return times(half, half);
}

/** (jx)ⁿ. */
export function powerOf(x: number, n: number): C {
  return (
    [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ] as const
  )[n % 4]!.map((part) => part * x ** n) as unknown as C;
}
