import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** ± relative to a value: 0.05, or `"5 %"`. */
export type RelativeTolerance = number | `${number} %` | `${number}%`;

/** A relative tolerance as a number of at least 0 and below 1. */
export function relativeTolerance(caller: string, argument: string, value: unknown): number {
  const written = typeof value === "string" ? /^\s*(?:±\s*)?(\d+(?:\.\d+)?|\.\d+)\s*%\s*$/.exec(value.slice(0, 40)) : null;
  const number = written === null ? value : hundredths(written[1]!);
  if (typeof number === "number" && number >= 0 && number < 1) return number;
  const hint =
    typeof value === "number" || (typeof value === "string" && /^\s*\d+([.,]\d+)?\s*$/.test(value))
      ? `Write "${String(value).trim().replace(",", ".")} %"`
      : 'Write it as in "5 %"';
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${argument}" must be a relative number below 1, or text with a percent sign below 100 %, got ${show(value)}`,
    hint,
  );
}

/** A tolerance as text with a percent sign, if that reads back to the same number; else the number. */
export function toleranceText(tolerance: number): string | number {
  const text = `${Number((tolerance * 100).toPrecision(15))} %`;
  return !text.includes("e") && hundredths(text.slice(0, -2)) === tolerance ? text : tolerance;
}

/** The decimal a hundredth as large, rounded once: 99.9 % is 0.999, where 99.9 / 100 is 0.9990000000000001. */
const hundredths = (decimal: string): number => Number(`${decimal}e-2`);
