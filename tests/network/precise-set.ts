// The errors of the default path against the committed set of 50-digit solutions.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Decimal } from "decimal.js";
import { solve } from "dividing-network/network";
import { entriesOf, type PreciseNetwork } from "./make-precise-set";

const Precise = Decimal.clone({ precision: 50 });

/** Relative errors, ascending; a voltage that is exactly 0 counts with what was found, per volt of the source. */
export interface Errors {
  readonly family: string;
  readonly quantity: "node voltages" | "part voltages" | "input impedance";
  readonly errors: Float64Array;
}

export function preciseSet(): PreciseNetwork[] {
  return JSON.parse(readFileSync(join(import.meta.dirname, "precise-set.json"), "utf8")) as PreciseNetwork[];
}

function relativeError({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }, [a, b]: readonly [string, string]): number {
  const [exactRe, exactIm] = [new Precise(a), new Precise(b)];
  const miss = Precise.hypot(exactRe.minus(re[0]!), exactIm.minus(im[0]!));
  const size = Precise.hypot(exactRe, exactIm);
  return (size.isZero() ? miss : miss.div(size)).toNumber();
}

/** Solves every network of the set and compares: one entry for each family and quantity. */
export function preciseErrors(set: readonly PreciseNetwork[] = preciseSet()): Errors[] {
  const all = new Map<string, number[]>();
  const put = (family: string, quantity: Errors["quantity"], error: number) => {
    const key = `${family}|${quantity}`;
    all.set(key, [...(all.get(key) ?? []), error]);
  };
  for (const { family, frequency, parts, nodes, voltages, impedance } of set) {
    const sweep = solve(entriesOf(parts), [frequency]);
    for (const [node, exact] of Object.entries(nodes)) put(family, "node voltages", relativeError(sweep.voltage(node), exact));
    for (const [part, exact] of Object.entries(voltages)) put(family, "part voltages", relativeError(sweep.voltage(part), exact));
    put(family, "input impedance", relativeError(sweep.impedance, impedance));
  }
  return [...all].map(([key, errors]) => {
    const [family, quantity] = key.split("|") as [string, Errors["quantity"]];
    return { family, quantity, errors: Float64Array.from(errors).sort() };
  });
}

export const median = (ascending: Float64Array): number => ascending[ascending.length >> 1]!;
export const worst = (ascending: Float64Array): number => ascending[ascending.length - 1]!;
