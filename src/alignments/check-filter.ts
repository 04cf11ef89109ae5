import { checkNumber, DividingNetworkError, show } from "../errors";
import { inSi } from "../quantity";
import type { ComplexParts, TransferFunction } from "../response";

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

/** Checks that something is a transfer function with finite numbers, not more zeros than poles and at most 200 poles. */
export function checkFilter(caller: string, argument: string, value: unknown): TransferFunction {
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Record<keyof TransferFunction, unknown>>;
  if (!Array.isArray(given.zeros) || !Array.isArray(given.poles) || given.zeros.length > given.poles.length || given.poles.length > 200) {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      `${caller}: "${argument}" must be { zeros, poles, gain } with at most as many zeros as poles and at most 200 poles, got ${show(value)}`,
    );
  }
  checkNumber(caller, `${argument}.gain`, given.gain);
  for (const [name, list] of [["zeros", given.zeros], ["poles", given.poles]] as const) {
    list.forEach((each: Partial<ComplexParts> | null | undefined, k) => {
      checkNumber(caller, `${argument}.${name}[${k}].re`, each?.re, { unit: "rad/s" });
      checkNumber(caller, `${argument}.${name}[${k}].im`, each?.im, { unit: "rad/s" });
    });
  }
  return value as TransferFunction;
}

/** Freezes a transfer function. */
export function makeFilter(zeros: readonly ComplexParts[], poles: readonly ComplexParts[], gain: number): TransferFunction {
  const frozen = (list: readonly ComplexParts[]): readonly ComplexParts[] => Object.freeze(list.map(({ re, im }) => Object.freeze({ re, im })));
  return Object.freeze({ zeros: frozen(zeros), poles: frozen(poles), gain });
}
