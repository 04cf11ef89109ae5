import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { resistor } from "../parts";
import { hertz } from "../quantity/internal";
import { branchParts } from "./branches";
import { knownBand } from "./load";
import { resonanceOf } from "./spared";

/** A branch of woofers or full-range drivers: what the first sees stands for all of them. */
export interface WooferBranch {
  /** The first driver's part. */
  readonly part: string;
  /** The parts of all of them. */
  readonly parts: readonly string[];
}

/** The branches of a loudspeaker that hold a woofer or a full-range driver. */
export function woofersOf(box: Loudspeaker): readonly WooferBranch[] {
  return branchParts(box).flatMap(({ part, drivers }) => {
    const mine = box.drivers.filter(({ name }) => drivers.includes(name));
    return mine.some(({ role }) => role === "woofer" || role === "full-range")
      ? [{ part, parts: [...new Set(mine.map((driver) => driver.part))] }]
      : [];
  });
}

/** Where what a driver sees is looked at, and its resonance where that is known; Hz. */
export interface DampedAt {
  readonly frequency: number;
  readonly resonance?: number;
}

/**
 * Where what a driver sees of its source is looked at: at its resonance. Where that isn't known, or some impedance isn't known there, a limit
 * that is stated (`anyway`) holds at the lowest frequency at which all of them are. Undefined where it is no bass, or nothing is known of it.
 */
export function dampedAt(network: Entries, part: string, anyway: boolean): DampedAt | undefined {
  const resonance = resonanceOf(network, part);
  if (resonance !== undefined && resonance > HIGHEST) return undefined;
  const { from, to } = knownBand(network);
  if (resonance !== undefined && resonance >= from && resonance <= to) return { frequency: resonance, resonance };
  if (!anyway || from > HIGHEST || !(from < to)) return undefined;
  return { frequency: from, ...(resonance === undefined ? {} : { resonance }) };
}

/** Ω, real and imaginary part, of what a branch's drivers see instead of an ideal source. Equal drivers, in parallel or in series, each see the same: the network with a resistor for each of them, and the voltage that these get. */
export function sourceOf(
  { network, sourceImpedance }: Loudspeaker,
  { part, parts }: WooferBranch,
  frequency: number,
): readonly [number, number] {
  return sourceSeen((ohms) => {
    const replaced = Object.fromEntries(
      Object.entries(network).map(([name, entry]) => [name, parts.includes(name) ? [resistor(ohms), ...entry.slice(1)] : entry]),
    ) as unknown as Entries;
    const { re, im } = compile<Entries>(replaced)
      .sweep([frequency], sourceImpedance === undefined ? {} : { sourceImpedance })
      .voltage(part);
    return { re: re[0]!, im: im[0]! };
  });
}

/** The refusal of a limit that would be looked at nowhere. */
export function noWoofer(caller: string, network: Entries, limit: string): DividingNetworkError {
  return new DividingNetworkError(
    "no-resonance",
    `${caller}: "goal.damping.${limit}" is stated, but there is no woofer or full-range driver that resonates below ${HIGHEST} Hz, or of which anything is known there: all impedances are known from ${hertz(knownBand(network).from)} on`,
    "Give the woofer its role, and its impedance measured from below its resonance on or its parameters; or leave that limit out",
  );
}

/** Hz: what resonates above is no bass. */
export const HIGHEST = 300;

/** Ω, real and imaginary part, of what a driver sees instead of an ideal source, from the voltage (V/V) that a resistor of some Ω in its place gets: V = V₀·R/(R + Zs), from two resistors. */
export function sourceSeen(voltageWith: (ohms: number) => { readonly re: number; readonly im: number }): readonly [number, number] {
  const [low, high] = [1, 100];
  const [a, b] = [inverse(voltageWith(low)), inverse(voltageWith(high))];
  const perOhm = { re: (a.re - b.re) / (1 / low - 1 / high), im: (a.im - b.im) / (1 / low - 1 / high) };
  const open = inverse({ re: a.re - perOhm.re / low, im: a.im - perOhm.im / low });
  return [perOhm.re * open.re - perOhm.im * open.im, perOhm.re * open.im + perOhm.im * open.re];
}

function inverse({ re, im }: { readonly re: number; readonly im: number }): { readonly re: number; readonly im: number } {
  const square = re * re + im * im;
  return { re: re / square, im: -im / square };
}
