import { DividingNetworkError } from "../../errors";
import { shown } from "../../errors/internal";
import type { ComplexParts, TransferFunction } from "../../response";
import { makeFilter } from "./check-filter";
import { filterViews } from "../views";

/** A transfer function that has been brought to its frequency, by `lowPass`, `highPass` and the like. */
export interface Filter extends TransferFunction {
  /** What a prototype at 1 rad/s hasn't: it would be brought to its frequency twice. */
  readonly scaled: true;
}

/** A function at ω = 1 rad/s: from `butterworth` and the like, or any zeros, poles (rad/s) and gain that no function has brought elsewhere. */
export interface PrototypeFunction extends TransferFunction {
  /** Never there: what is scaled to a frequency is a filter. The text is what the compiler says of one. */
  readonly scaled?: "this is a filter at its frequency: give the prototype itself, such as butterworth(2)" | undefined;
}

/** Freezes a filter that lies at its frequency. */
export function makeScaled(zeros: readonly ComplexParts[], poles: readonly ComplexParts[], gain: number): Filter {
  return Object.freeze(shown({ ...makeFilter(zeros, poles, gain), scaled: true as const }, filterViews));
}

/** Whether a function was brought to its frequency by this library. */
export function isScaled(filter: object): boolean {
  return (filter as { readonly scaled?: unknown }).scaled === true;
}

/** Refuses a filter in place of a prototype. */
export function refuseScaled(caller: string, argument: string, value: unknown): void {
  if (typeof value !== "object" || value === null || !isScaled(value)) return;
  throw new DividingNetworkError(
    "already-scaled",
    `${caller}: "${argument}" must be a prototype at 1 rad/s, got a filter that has been brought to its frequency already`,
    `Give ${caller} the prototype itself, such as butterworth(2): the frequency is an argument of ${caller}`,
  );
}
