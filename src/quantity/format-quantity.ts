import { checkNumber, checkOptions } from "../errors/internal";
import { unitEntry, type Unit } from "./units";

/** How a quantity is written. */
export interface FormatOptions {
  /** Significant digits, 1 to 17, or `"exact"`: as many as read back to the very same number; 3 when absent. Trailing zeros are dropped. */
  readonly digits?: number | "exact" | undefined;
}

/**
 * Writes an SI value as the trade writes it, with its unit in SI prefixes, so that `parseQuantity` reads it back to the
 * digits printed: coils in mH from 0.01 mH to below 0.1 H and in µH below, capacitors in µF from 0.1 µF to below 10 000 µF
 * and in nF or pF below, resistors in Ω from 0.1 Ω. Zero and −0 are written in the unit itself, and so are values beyond
 * the prefixes, with a power of ten.
 *
 * @param value in the SI unit (°C for a temperature); finite
 * @param unit SI symbol of the unit, such as `"H"`
 * @param options `digits`: significant digits, dimensionless, 3 when absent; `"exact"` for the fewest with which `parseQuantity` gives the same number, to the last bit
 * @returns number, a space, and the unit with its prefix
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { formatQuantity } from "dividing-network/quantity";
 *
 * formatQuantity(0.00047, "H"); // "0.47 mH"
 * formatQuantity(2.2e-7, "F"); // "0.22 µF"
 * formatQuantity(2476.8, "Hz", { digits: 4 }); // "2.477 kHz"
 * formatQuantity(1 / 3e6, "F", { digits: "exact" }); // "0.33333333333333335 µF"
 * ```
 */
export function formatQuantity(value: number, unit: Unit, options?: FormatOptions): string {
  const entry = unitEntry("formatQuantity", unit);
  checkNumber("formatQuantity", "value", value, { unit });
  const { digits = 3 } = checkOptions("formatQuantity", options, ["digits"]);
  if (digits !== "exact") checkNumber("formatQuantity", "digits", digits, { integer: true, min: 1, max: 17 });
  // Rounding comes first, so that 999.6 Hz becomes 1 kHz and never 1000 Hz.
  const [, sign = "", mantissa = "0", exponent = "0"] = /^(-?)(.*)e(.*)$/.exec(rounded(value, digits))!;
  const size = Number(`${mantissa}e${exponent}`);
  const base = Object.keys(entry.suffixes)[0]!;
  if (size === 0) return `0 ${base}`;
  const suffix = entry.scale.find(([, from]) => size >= from)![0];
  const power = Number(exponent) - entry.suffixes[suffix]!;
  return plainPower(power) ? `${sign}${decimal(mantissa, power)} ${suffix}` : `${sign}${decimal(mantissa, Number(exponent))} ${base}`;
}

/** Exponential notation; in full where that is asked for, and where rounding would leave the range of numbers. */
function rounded(value: number, digits: number | "exact"): string {
  if (digits === "exact") return value.toExponential();
  const text = value.toExponential(digits - 1);
  return Number.isFinite(Number(text)) ? text : value.toExponential();
}

/** Whether a number of this power of ten is written without an exponent: 0.001 to below a million. */
function plainPower(power: number): boolean {
  return power >= -3 && power < 6;
}

/** A mantissa times a power of ten, as text: moving the point in the digits rounds nothing. */
function decimal(mantissa: string, power: number): string {
  const digits = mantissa.replace(".", "").replace(/0+$/, "");
  const withPoint = (before: number): string => `${digits.slice(0, before)}.${digits.slice(before)}`.replace(/\.$/, "");
  if (!plainPower(power)) return `${withPoint(1)}e${power}`;
  return power < 0 ? `0.${"0".repeat(-power - 1)}${digits}` : digits.length > power ? withPoint(power + 1) : digits.padEnd(power + 1, "0");
}
