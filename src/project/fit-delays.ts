import { DividingNetworkError } from "../errors";
import { fitLeastSquares } from "../numeric";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import {
  addResponses,
  delayResponse,
  estimateDelay,
  frequencyResponse,
  relativeAcousticOffset,
  type FrequencyResponse,
  type RelativeOffset,
} from "../response";
import type { FittedTimeZero } from "./loaded-project";

/** What of a fitted time zero hangs on the sounds alone. */
export type FittedDelay = Omit<FittedTimeZero, "driver" | "distance" | "azimuth" | "elevation">;

/** What may be left, as a part of the loudest group: beyond it the whole isn't these drivers through this network, and no delay says anything (choice, no source). */
const MOST_LEFT = 0.5;
/** Groups in turn until none moves by a micrometre; they hang together through their neighbours alone, which takes a few rounds. */
const [ROUNDS, STILL] = [20, 1e-6];
/** A group that is this much weaker than the louder of two, as a ratio, doesn't stand in the way of fitting these. */
const FAR_BELOW = 0.1;

/**
 * The delays, s, at which groups of drivers with clocks of their own add up with the first to what was measured of all; polarities are the drawing's. All on one grid.
 * Each is sought against those already placed where the others are hardly heard, then all in turn, then together, so that the errors know of each other.
 */
export function fitDelays(
  first: FrequencyResponse,
  free: readonly FrequencyResponse[],
  both: FrequencyResponse,
  air: Air,
): readonly FittedDelay[] {
  // Starts of their own may lie milliseconds apart: the search is for what is left.
  const bulk = free.map((group) => estimateDelay(first) - estimateDelay(group));
  const near = free.map((group, index) => delayResponse(group, bulk[index]!));
  const offsets = free.length === 1 ? [0] : startingOffsets(first, near, both, air);
  const shifted = (index: number) => delayResponse(near[index]!, offsets[index]!);
  const others = (index: number) => addResponses(first, ...near.flatMap((_, other) => (other === index ? [] : [shifted(other)])));
  const against = (index: number, polarity: "same" | "either") =>
    relativeAcousticOffset({ first: free.length === 1 ? first : others(index), second: shifted(index), both, air, polarity });
  for (let round = 0; round < ROUNDS && free.length > 1; round++) {
    let moved = 0;
    free.forEach((_, index) => {
      const { delay, offset } = against(index, "same");
      offsets[index]! += delay;
      moved = Math.max(moved, Math.abs(offset));
    });
    if (moved < STILL) break;
  }
  const joint = free.length === 1 ? undefined : together(first, near, both, offsets);
  const c = checkAir("readProject", air).speedOfSound;
  return free.map((_, index) => {
    const drawn = against(index, "same");
    const misfit = joint?.misfit ?? drawn.misfit;
    if (misfit > MOST_LEFT)
      throw new DividingNetworkError(
        "undetermined",
        `readProject: at most half of the louder branch may be left, got ${misfit.toPrecision(3)} times that branch`,
        "Look whether the drawing, the voltages and the files are those of this loudspeaker",
      );
    const runnerUp = secondBest(drawn, against(index, "either"));
    const [delay, uncertainty] =
      joint === undefined
        ? [drawn.delay, drawn.delayUncertainty]
        : [offsets[index]!, Math.max(joint.errors[index] ?? 0, drawn.delayUncertainty)];
    return {
      delay: bulk[index]! + delay,
      delayUncertainty: uncertainty,
      offset: delay * c,
      offsetUncertainty: uncertainty * c,
      misfit,
      ...(runnerUp === undefined
        ? {}
        : {
            runnerUp: Object.freeze({
              offset: runnerUp.offset - drawn.offset,
              polarity: runnerUp.polarity,
              misfitRatio: runnerUp.misfitRatio,
            }),
          }),
    };
  });
}

/** s: each group against those already placed, the one that meets them most first, at frequencies where those still to come are hardly heard. */
function startingOffsets(first: FrequencyResponse, free: readonly FrequencyResponse[], both: FrequencyResponse, air: Air): number[] {
  const offsets = free.map(() => 0);
  let placed = first;
  let left = free.map((_, index) => index);
  while (left.length > 0) {
    const common = (index: number) => sizes(placed).reduce((sum, size, k) => sum + Math.min(size, sizes(free[index]!)[k]!) ** 2, 0);
    const next = left.reduce((most, index) => (common(index) > common(most) ? index : most));
    left = left.filter((index) => index !== next);
    const [a, b, others] = [sizes(placed), sizes(free[next]!), left.map((index) => sizes(free[index]!))];
    const clear = [...a.keys()].filter((k) => others.every((other) => other[k]! < FAR_BELOW * Math.max(a[k]!, b[k]!)));
    const part = ({ frequencies, re, im }: FrequencyResponse) => {
      const kept = clear.length < 12 ? [...frequencies.keys()] : clear;
      return frequencyResponse(
        kept.map((k) => frequencies[k]!),
        kept.map((k) => re[k]!),
        kept.map((k) => im[k]!),
      );
    };
    try {
      offsets[next] = relativeAcousticOffset({
        first: part(placed),
        second: part(free[next]!),
        both: part(both),
        polarity: "same",
        air,
      }).delay;
    } catch (error) {
      // Heard beside the placed ones nowhere where the rest is silent: found in turn, later.
      if (!(error instanceof DividingNetworkError) || error.code !== "undetermined") throw error;
    }
    placed = addResponses(placed, delayResponse(free[next]!, offsets[next]!));
  }
  return offsets;
}

/** Moves all offsets, s, to where together they leave the least; what is left re the loudest group, and their standard errors, s. */
function together(
  first: FrequencyResponse,
  free: readonly FrequencyResponse[],
  both: FrequencyResponse,
  offsets: number[],
): { readonly misfit: number; readonly errors: readonly (number | undefined)[] } {
  const { frequencies } = first;
  const loudest = [first, ...free].map(sizes).reduce((most, each) => most.map((size, k) => Math.max(size, each[k]!)));
  const measured = sizes(both);
  const residuals = (milliseconds: ArrayLike<number>, out: Float64Array) => {
    for (let k = 0; k < frequencies.length; k++) {
      let [re, im] = [first.re[k]!, first.im[k]!];
      free.forEach((group, index) => {
        const angle = -2 * Math.PI * frequencies[k]! * milliseconds[index]! * 1e-3;
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
        re += group.re[k]! * cos - group.im[k]! * sin;
        im += group.re[k]! * sin + group.im[k]! * cos;
      });
      out[k] = loudest[k]! === 0 ? 0 : (Math.hypot(re, im) - measured[k]!) / loudest[k]!;
    }
  };
  // Steps that can't leap into another period.
  const fit = fitLeastSquares(
    residuals,
    offsets.map((offset) => offset * 1e3),
    { count: frequencies.length, maxStep: 0.01 },
  );
  fit.parameters.forEach((milliseconds, index) => (offsets[index] = milliseconds * 1e-3));
  return {
    misfit: Math.sqrt(fit.squares / frequencies.length),
    errors: fit.standardErrors.map((error) => (error === undefined ? undefined : error * 1e-3)),
  };
}

function sizes({ re, im }: FrequencyResponse): Float64Array {
  return re.map((x, k) => Math.hypot(x, im[k]!));
}

/** The best answer beside the one that the drawing's polarity gives. */
function secondBest(drawn: RelativeOffset, either: RelativeOffset): RelativeOffset["runnerUp"] {
  const others = [
    rival(drawn, drawn.runnerUp),
    either.polarity === "reversed"
      ? { offset: either.offset, polarity: "reversed" as const, misfitRatio: either.misfit / Math.max(drawn.misfit, 1e-12) }
      : rival(drawn, either.runnerUp),
  ];
  return others.flatMap((other) => (other === undefined ? [] : [other])).sort((a, b) => a.misfitRatio - b.misfitRatio)[0];
}

function rival(best: RelativeOffset, other: RelativeOffset["runnerUp"]): RelativeOffset["runnerUp"] {
  return other === undefined || (Math.abs(other.offset - best.offset) < 1e-4 && other.polarity === best.polarity) ? undefined : other;
}
