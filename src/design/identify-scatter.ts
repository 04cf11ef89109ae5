import { neighbourProducts } from "../numeric/internal";
import { numbersOf, type Observation } from "./identify-data";

/** How many standard deviations of chance are chance. */
const CHANCE = 3;
/** A misfit below which nobody measures: what is left is rounding. */
const ROUNDING = 1e-6;

/**
 * The standard deviation of a residual that standard errors are to rest on, and what speaks against trusting them. Neighbours that stray together are
 * fewer than they look: with a correlation ρ, by (1 + ρ)/(1 − ρ).
 *
 * @param residuals real and imaginary part in turn, or the real part alone, in units of the stated repeatability where it is known
 * @param free how many more residuals there are than unknowns
 */
export function scatterOf(
  residuals: Float64Array,
  seen: readonly Observation[],
  free: number,
  known: boolean,
  misfit: number,
): { readonly scatter: number; readonly correlation: number; readonly doubts: readonly string[] } {
  const count = residuals.length;
  const squares = residuals.reduce((sum, value) => sum + value * value, 0);
  const found = Math.sqrt(squares / Math.max(1, free));
  let [products, at] = [0, 0];
  for (const one of seen) products += neighbourProducts(residuals.subarray(at, (at += numbersOf(one))), one.levelsAlone === true ? 1 : 2);
  const correlation = squares > 0 ? products / squares : 0;
  const doubts: string[] = [];
  let scatter = known ? 1 : found;
  if (misfit < ROUNDING || free < 1) return { scatter, correlation, doubts: Object.freeze(doubts) };
  if (known && found * found > 1 + CHANCE * Math.sqrt(2 / free)) {
    scatter = found;
    doubts.push(
      `what is left is ${found.toPrecision(2)} times the stated repeatability: the drawing isn't what was measured, or a measurement is off`,
    );
  }
  const together = Math.min(correlation, 1 - 2 / count);
  if (together > CHANCE / Math.sqrt(count)) {
    scatter *= Math.sqrt((1 + together) / (1 - together));
    doubts.push(
      `what is left of neighbouring frequencies goes together, ρ = ${together.toFixed(2)}: the drawing isn't what was measured, or the measurement was smoothed or is off as a whole`,
    );
  }
  return { scatter, correlation, doubts: Object.freeze(doubts) };
}
