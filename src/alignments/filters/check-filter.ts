import { DividingNetworkError } from "../../errors";
import { checkNumber, show, shown } from "../../errors/internal";
import { inSi } from "../../quantity/internal";
import type { ComplexParts, TransferFunction } from "../../response";
import { filterViews } from "../views";

/** Corners that make sense for a loudspeaker and for double precision. */
export const frequencyRange = { min: 0.001, max: 1e6 } as const;

/** A corner frequency, Hz: 1 mHz to 1 MHz. */
export function checkFrequency(caller: string, argument: string, value: unknown): number {
  return inSi(caller, argument, value, "Hz", frequencyRange);
}

/** A load or source that a network is made for, Ω: 1 µΩ to 1 GΩ. */
export function checkLoad(caller: string, argument: string, value: unknown): number {
  return inSi(caller, argument, value, "Ω", { min: 1e-6, max: 1e9 });
}

/** Checks that something is a transfer function with finite numbers in conjugate pairs, not more zeros than poles and at most 200 poles. */
export function checkFilter(caller: string, argument: string, value: unknown): TransferFunction {
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Record<keyof TransferFunction, unknown>>;
  if (!Array.isArray(given.zeros) || !Array.isArray(given.poles) || given.zeros.length > given.poles.length || given.poles.length > 200) {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      `${caller}: "${argument}" must be { zeros, poles, gain } with at most as many zeros as poles and at most 200 poles, got ${show(value)}`,
    );
  }
  checkNumber(caller, `${argument}.gain`, given.gain);
  for (const [name, list] of [
    ["zeros", given.zeros],
    ["poles", given.poles],
  ] as const) {
    for (let k = 0; k < list.length; k++) {
      const each = list[k] as Partial<ComplexParts> | null | undefined;
      checkNumber(caller, `${argument}.${name}[${k}].re`, each?.re, { unit: "rad/s" });
      checkNumber(caller, `${argument}.${name}[${k}].im`, each?.im, { unit: "rad/s" });
    }
  }
  checkPairs(caller, `${argument}.zeros`, given.zeros as ComplexParts[]);
  checkPairs(caller, `${argument}.poles`, given.poles as ComplexParts[]);
  return value as TransferFunction;
}

/** Checks that each complex root has its mirror image, as all functions with real coefficients do. */
function checkPairs(caller: string, argument: string, roots: readonly ComplexParts[]): void {
  const lower = roots.filter(({ im }) => im < 0);
  const alone = (root: ComplexParts): never => {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      `${caller}: "${argument}" must come in conjugate pairs, got ${root.re} ${root.im < 0 ? "−" : "+"} j${Math.abs(root.im)} rad/s without its mirror image`,
      "A function with real coefficients has them in pairs",
    );
  };
  for (const root of roots) {
    if (!(root.im > 0)) continue;
    const at = lower.findIndex(({ re, im }) => Math.hypot(re - root.re, im + root.im) <= 1e-9 * Math.hypot(re, im));
    if (at < 0) alone(root);
    lower.splice(at, 1);
  }
  if (lower[0] !== undefined) alone(lower[0]);
}

/** Checks that something is an array of numbers (each is checked where it is used); it may be empty and in any order. */
export function checkList(caller: string, argument: string, value: unknown): void {
  if (Array.isArray(value) && value.length > 2 ** 27)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must have at most ${2 ** 27} numbers, got ${value.length}`,
    );
  if (!Array.isArray(value) && !(ArrayBuffer.isView(value) && "length" in value)) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be an array of numbers, got ${show(value)}`);
  }
}

/** Freezes a transfer function; numbers that double precision can't hold are refused. */
export function makeFilter(zeros: readonly ComplexParts[], poles: readonly ComplexParts[], gain: number): TransferFunction {
  const finite = ({ re, im }: ComplexParts): boolean => Number.isFinite(re) && Number.isFinite(im);
  if (!Number.isFinite(gain) || !zeros.every(finite) || !poles.every(finite)) {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      "a transfer function must have a gain, zeros and poles that double precision can hold, got a value beyond 10³⁰⁸",
      "Check the filter given, its order and the frequencies",
    );
  }
  const frozen = (list: readonly ComplexParts[]): readonly ComplexParts[] =>
    Object.freeze(list.map(({ re, im }) => Object.freeze({ re, im })));
  return Object.freeze(shown({ zeros: frozen(zeros), poles: frozen(poles), gain }, filterViews));
}
