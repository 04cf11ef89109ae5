import { fitLeastSquares } from "../../numeric";
import { startWorking } from "../../quantity";
import type { FrequencyResponse } from "../../response";
import { chainBranch, type LadderBranch } from "./chain-branch";
import { butterworth } from "../prototypes/butterworth";
import { writeChainTransfer, type ChainReactance } from "./chain-transfer";
import { asHighPass, atFrequency } from "./denormalise";
import { normalLadder } from "./ladder-values";
import type { LadderElement } from "./ladder-data";

/** A ladder that, with a driver's own roll-off, comes near an acoustic function. */
export interface ElectricalFit {
  /** Electrical order. */
  readonly order: number;
  /** Hz: where the ladder alone is at −3.01 dB. */
  readonly cornerFrequency: number;
  /** From source to load. */
  readonly elements: readonly LadderElement[];
  /** H and F by designator. */
  readonly parts: Readonly<Record<string, number>>;
  /**
   * dB: the largest deviation of driver and ladder from the acoustic function where that is within 24 dB of its
   * passband, and Hz: where.
   */
  readonly error: {
    /** dB: the largest deviation. */
    readonly worstDb: number;
    /** Hz: where that is. */
    readonly worstFrequency: number;
  };
  /** The ladder's parts between two nodes, without the load, as a fragment for `join`. */
  readonly branch: LadderBranch;
}

/** 24 dB below the passband. */
const depth = 0.063;

interface Task {
  readonly pass: "low" | "high";
  readonly order: number;
  /** Hz. */
  readonly frequency: number;
  /** Ω. */
  readonly load: number;
  /** What driver and ladder together are meant to be. */
  readonly wanted: FrequencyResponse;
  /** The driver's own response on the same grid. */
  readonly own: FrequencyResponse;
  /** Whether the wanted function may lie at another level. */
  readonly freeLevel: boolean;
}

/** A ladder, and dB by which the wanted function was moved. */
export interface FittedLadder {
  readonly fit: ElectricalFit;
  readonly levelDb: number;
}

/**
 * Fits the values of a ladder of one order, from Butterworth ladders at three corners, and takes the best; undefined
 * when its values run away, as those of an element do that had better not be there.
 */
export function fitElectrical({ pass, order, frequency, load, wanted, own, freeLevel }: Task): FittedLadder | undefined {
  const grid = wanted.frequencies;
  // Relative error down to 24 dB below the passband, absolute error further down.
  const weight = wanted.re.map((re, i) => 1 / Math.max(Math.hypot(re, wanted.im[i]!), depth));
  const normal = normalLadder("acousticTarget", butterworth(order), 0, "series", startWorking());
  const fits = [0.6, 1, 1.7].map((factor) => {
    const scale = { load, frequency: frequency * factor };
    const base = pass === "low" ? atFrequency(normal, scale, startWorking()) : asHighPass(normal, scale, startWorking());
    const chain = (parameters: ArrayLike<number>): ChainReactance[] =>
      base.map(({ placement, kind, value }, k) => ({ placement, kind, value: value * Math.exp(parameters[k]!), loss: 0, tan: 0 }));
    const whole = (parameters: ArrayLike<number>, out: Float64Array): void => {
      const parts = chain(parameters);
      for (let i = 0; i < grid.length; i++) {
        writeChainTransfer(parts, load, 0, grid[i]!, out, 2 * i);
        const [x, y] = [out[2 * i]!, out[2 * i + 1]!];
        out[2 * i] = x * own.re[i]! - y * own.im[i]!;
        out[2 * i + 1] = x * own.im[i]! + y * own.re[i]!;
      }
    };
    // A free level divides driver and ladder, so that the residuals stay in the size of the wanted function.
    const gain = (parameters: ArrayLike<number>): number => (freeLevel ? Math.exp(-parameters[order]!) : 1);
    const residuals = (parameters: Float64Array, out: Float64Array): void => {
      whole(parameters, out);
      const level = gain(parameters);
      for (let i = 0; i < grid.length; i++) {
        out[2 * i] = (out[2 * i]! * level - wanted.re[i]!) * weight[i]!;
        out[2 * i + 1] = (out[2 * i + 1]! * level - wanted.im[i]!) * weight[i]!;
      }
    };
    const fit = fitLeastSquares(residuals, new Float64Array(order + (freeLevel ? 1 : 0)), { count: 2 * grid.length, maxIterations: 300 });
    const out = new Float64Array(2 * grid.length);
    whole(fit.parameters, out);
    const level = gain(fit.parameters);
    const bounded = fit.parameters.every((value) => Math.abs(value) < Math.log(1000));
    return {
      squares: fit.squares,
      bounded,
      base,
      chain: chain(fit.parameters),
      out: out.map((value) => value * level),
      levelDb: -20 * Math.log10(level),
    };
  });
  const best = fits.reduce((one, other) => (other.squares < one.squares ? other : one));
  if (!best.bounded) return undefined;
  const elements = best.chain.map(({ placement, kind, value }, k) =>
    Object.freeze({ designator: best.base[k]!.designator, placement, kind, value }),
  );
  const fit = Object.freeze({
    order,
    cornerFrequency: corner(pass, best.chain, load, frequency),
    elements: Object.freeze(elements),
    parts: Object.freeze(Object.fromEntries(elements.map(({ designator, value }) => [designator, value]))),
    error: deviation(best.out, grid, wanted),
    branch: chainBranch("acousticTarget.branch", elements),
  });
  return { fit, levelDb: best.levelDb };
}

function deviation(
  out: Float64Array,
  grid: Float64Array,
  wanted: { readonly re: Float64Array; readonly im: Float64Array },
): ElectricalFit["error"] {
  let worst = { worstDb: 0, worstFrequency: grid[0]! };
  grid.forEach((frequency, i) => {
    const size = Math.hypot(wanted.re[i]!, wanted.im[i]!);
    const off = Math.abs(20 * Math.log10(Math.hypot(out[2 * i]!, out[2 * i + 1]!) / size));
    if (size > depth && off > worst.worstDb) worst = { worstDb: off, worstFrequency: frequency };
  });
  return Object.freeze(worst);
}

/** Where the ladder crosses −3.01 dB, going from its stopband to its passband; by bisection on a logarithmic axis. */
function corner(pass: "low" | "high", chain: readonly ChainReactance[], load: number, frequency: number): number {
  const out = new Float64Array(2);
  const passes = (f: number): boolean => {
    writeChainTransfer(chain, load, 0, f, out, 0);
    return Math.hypot(out[0]!, out[1]!) > Math.SQRT1_2;
  };
  const outward = pass === "low" ? 1 / 1.02 : 1.02;
  let stop = pass === "low" ? frequency * 1e4 : frequency / 1e4;
  for (let step = 0; step < 2000 && !passes(stop); step++) stop *= outward;
  let [inside, outside] = [stop, stop / outward];
  for (let step = 0; step < 60; step++) {
    const middle = Math.sqrt(inside * outside);
    if (passes(middle)) inside = middle;
    else outside = middle;
  }
  return Math.sqrt(inside * outside);
}
