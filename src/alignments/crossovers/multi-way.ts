import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import { startWorking, type Frequency, type Resistance, type Working } from "../../quantity";
import type { TransferFunction } from "../../response";
import { allPassOfSum } from "./all-pass-of-sum";
import { cascade } from "../filters/cascade";
import { checkElements } from "../ladders/check-elements";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { makeScaled } from "../filters/filter";
import { atFrequency } from "../ladders/denormalise";
import { familyOptionNames, familyPrototype, type FamilyOptions } from "../prototypes/family";
import { highPass } from "../filters/high-pass";
import { ladder } from "../ladders/ladder";
import { lowPass } from "../filters/low-pass";
import { makeLadder } from "../ladders/make-ladder";
import type { Ladder } from "../ladders/ladder-data";
import { poleProduct } from "../prototypes/prototype";
import { polarityOf, polarityStep } from "./polarity";
import type { Polarity } from "./crossover-data";
import { sumDeviation, type SumDeviation } from "./sum-deviation";
import { singlyTerminated } from "../ladders/synthesis";

/** The options of `multiWay`. */
export interface MultiWayOptions extends FamilyOptions {
  /** Hz: the corners between the ways, ascending: two for a three-way, three for a four-way crossover. */
  readonly frequencies: readonly Frequency[];
  /** Ω: of all drivers, or of each, from the lowest way up. */
  readonly load: Resistance | readonly Resistance[];
}

/** One way of a crossover with several. */
export interface Way {
  /** The function wanted: all high-passes and low-passes of the way in a row. */
  readonly transfer: TransferFunction;
  /** For flat, coincident drivers. */
  readonly polarity: Polarity;
  /** dB, of the way in the sum. */
  readonly gainDb: number;
  /** The ladder that makes it. A middle way's ladder has the right shape but passes `surplusDb` more. */
  readonly ladder: Ladder;
  /** dB: how much the ladder's level lies above that of `transfer`, to be taken off at the driver by an L-pad. */
  readonly surplusDb: number;
  /**
   * What, put before the way, makes the sum exactly all-pass; undefined for families that have no such correction, and
   * where nothing is needed.
   */
  readonly correction: TransferFunction | undefined;
}

/** A crossover of three ways or more. */
export interface MultiWay {
  /** From the lowest way up. */
  readonly ways: readonly Way[];
  /** dB: lowest and highest level of the sum as built, with flat, coincident drivers. */
  readonly sum: SumDeviation;
  /** dB: the same with every `correction` in place; undefined where there is none. */
  readonly correctedSum: SumDeviation | undefined;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * A crossover of three ways or more, of ladders (H, F) in parallel, each way with a high-pass at its lower and a
 * low-pass at its upper corner. Such ways don't sum exactly: the outer ways lack the phase that the corners further
 * away give the others. The sum's error is reported, with the correction that removes it: for each way the all-pass
 * function of every corner above it, and the high-pass of every corner below but the nearest.
 *
 * @param options `family`, `order` and what goes with them, `frequencies` (Hz, ascending, at least two), `load` (Ω)
 * @returns the ways with ladders (H, F), polarity and correction; the sum's error in dB; working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`, `not-realizable`, `accuracy-not-reached`
 * @example
 * ```ts
 * import { multiWay } from "dividing-network/alignments";
 *
 * const threeWay = multiWay({ family: "linkwitz-riley", order: 4, frequencies: [300, 3000], load: 8 });
 * threeWay.sum.lowestDb; // -0.1185
 * threeWay.correctedSum?.lowestDb; // 0.0000000
 * ```
 */
export function multiWay(options: MultiWayOptions): MultiWay {
  const given = checkOptions("multiWay", options, [...familyOptionNames, "frequencies", "load"]);
  const prototype = familyPrototype("multiWay", given);
  const corners = checkCorners(given.frequencies);
  const loads = checkLoads(given.load, corners.length + 1);
  const functions = [...corners, undefined].map((upper, k) => wayFunction(prototype, corners[k - 1], upper));
  const polarities: readonly Polarity[] = prototype.order % 2 === 1 ? ["same", "reversed"] : [polarityOf(prototype.order)];
  // At odd orders both polarities of neighbours are candidates: the one whose sum strays less is taken.
  const { polarity, sum } = polarities
    .map((candidate) => ({ polarity: candidate, sum: sumDeviation(alternating(functions, candidate), corners) }))
    .reduce((best, other) => (strays(other.sum) < strays(best.sum) ? other : best));
  const allPass = allPassOfSum(prototype.poles, polarity);
  const ways = loads.map((load, k): Way => {
    const [lower, upper] = [corners[k - 1], corners[k]];
    const transfer = functions[k]!;
    const made = wayLadder(prototype, transfer, lower, upper, load);
    const below = corners.slice(0, Math.max(0, k - 1)).map((corner) => highPass(prototype, corner));
    const corrections = allPass === undefined ? [] : [...below, ...corners.slice(k + 1).map((corner) => lowPass(allPass, corner))];
    return Object.freeze({
      transfer,
      ladder: made,
      polarity: alternating(functions, polarity)[k]!.polarity,
      gainDb: 0,
      surplusDb: lower === undefined || upper === undefined ? 0 : 20 * Math.log10(made.transfer.gain / transfer.gain),
      correction: corrections.length === 0 ? undefined : cascade(...corrections),
    });
  });
  const corrected = ways.map(({ transfer, polarity: own, correction }) => ({
    transfer: correction === undefined ? transfer : cascade(transfer, correction),
    polarity: own,
  }));
  return Object.freeze({
    ways: Object.freeze(ways),
    sum,
    correctedSum: allPass === undefined ? undefined : sumDeviation(corrected, corners),
    working: workingOf(ways, corners, prototype.order, polarity),
  });
}

/** The ladders way by way, then each pair of neighbours with the reason of its polarity. */
function workingOf(ways: readonly Way[], corners: readonly number[], order: number, polarity: Polarity): Working {
  const steps = startWorking();
  ways.forEach(({ ladder: { working } }, k) => steps.take(`way ${k + 1}: `, working));
  const connected = polarity === "reversed" ? "neighbours are reversed against each other" : "all ways have the same polarity";
  const reason =
    order % 2 === 1
      ? "about a quarter turn apart, either polarity sums, and with this one the sum strays less from 0 dB"
      : polarity === "reversed"
        ? "about half a turn apart, they would cancel at the corner with the same"
        : "about a whole turn apart, they add in phase";
  corners.forEach((corner, k) =>
    polarityStep(steps, `ways ${k + 1} and ${k + 2}: φ`, ways[k]!.transfer, ways[k + 1]!.transfer, corner, `${connected}: ${reason}`),
  );
  return steps.done();
}

function wayFunction(prototype: TransferFunction, lower: number | undefined, upper: number | undefined): TransferFunction {
  return cascade(...(lower === undefined ? [] : [highPass(prototype, lower)]), ...(upper === undefined ? [] : [lowPass(prototype, upper)]));
}

/** Each way with its neighbours' polarity or against it. */
function alternating(
  functions: readonly TransferFunction[],
  polarity: Polarity,
): readonly { readonly transfer: TransferFunction; readonly polarity: Polarity }[] {
  return functions.map((transfer, k) => ({ transfer, polarity: polarity === "reversed" && k % 2 === 1 ? "reversed" : "same" }));
}

function strays({ lowestDb, highestDb }: SumDeviation): number {
  return Math.max(-lowestDb, highestDb);
}

/** Lowest way: low-pass. Highest: high-pass. Between: one ladder with the poles of both. */
function wayLadder(
  prototype: TransferFunction,
  transfer: TransferFunction,
  lower: number | undefined,
  upper: number | undefined,
  load: number,
): Ladder {
  if (lower === undefined) return ladder(prototype, { pass: "low", frequency: upper!, load });
  if (upper === undefined) return ladder(prototype, { pass: "high", frequency: lower, load });
  return middleLadder("multiWay", transfer, Math.sqrt(lower * upper), load);
}

/** The ladder from an ideal source with the given poles, and as many zeros at zero frequency as the function has. */
export function middleLadder(caller: string, wanted: TransferFunction, frequency: number, load: number): Ladder {
  const w = 2 * Math.PI * frequency;
  const steps = startWorking();
  const poles = wanted.poles.map(({ re, im }) => ({ re: re / w, im: im / w }));
  const elements = singlyTerminated(poles, wanted.zeros.length, steps);
  // Far above the band only the elements that block high frequencies are left: the transfer tends to 1/∏g · s⁻ᵐ.
  const blocksHigh = elements.filter(({ placement, part }) => (placement === "series") === (part === "inductor"));
  const atInfinity = blocksHigh.reduce((product, { value }) => product / value, 1);
  checkElements(caller, elements, {
    poles,
    zerosAtOrigin: wanted.zeros.length,
    gain: atInfinity / poleProduct(poles),
    sourceResistance: 0,
  });
  const gain = atInfinity * w ** (poles.length - wanted.zeros.length);
  return makeLadder(
    caller,
    atFrequency(elements, { load, frequency }, steps),
    { load, sourceResistance: 0 },
    makeScaled(wanted.zeros, wanted.poles, gain),
    steps.done(),
  );
}

function checkCorners(frequencies: readonly Frequency[]): number[] {
  if (!Array.isArray(frequencies) || frequencies.length < 2 || frequencies.length > 8) {
    throw new DividingNetworkError(
      "invalid-argument",
      `multiWay: "frequencies" must be 2 to 8 corners in Hz, got ${show(frequencies)}`,
      "For two ways use crossover",
    );
  }
  const corners = frequencies.map((corner: Frequency, k) => checkFrequency("multiWay", `frequencies[${k}]`, corner));
  corners.forEach((corner, k) => {
    if (k > 0 && !(corner > corners[k - 1]!)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `multiWay: "frequencies" must ascend, got ${corner} Hz after ${corners[k - 1]} Hz`,
      );
    }
  });
  return corners;
}

function checkLoads(load: MultiWayOptions["load"], count: number): number[] {
  if (!Array.isArray(load)) return new Array<number>(count).fill(checkLoad("multiWay", "load", load));
  if (load.length !== count) {
    throw new DividingNetworkError(
      "invalid-argument",
      `multiWay: "load" must be one resistance or ${count} of them, one for each way, got ${load.length}`,
    );
  }
  return Array.from(load as readonly Resistance[]).map((each, k) => checkLoad("multiWay", `load[${k}]`, each));
}
