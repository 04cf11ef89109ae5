import { DividingNetworkError } from "../errors";
import { inductance, lossyOnly, noCoil, parallel, power, type CoilFormula, type CoilModel } from "./coil-formula";
import type { FitTask } from "./driver-deviations";
import { fitDriver, type DriverFit } from "./fit-driver";

/** A fit, and why its coil isn't wholly the one asked for. */
export interface ChosenCoil {
  readonly fit: DriverFit;
  readonly problem: string | undefined;
}

/** The formulas that are tried, from simple to rich. */
const ladder: Readonly<Record<CoilModel, readonly CoilFormula[]>> = {
  none: [noCoil],
  inductance: [noCoil, inductance],
  power: [noCoil, inductance, power],
  parallel: [noCoil, inductance, lossyOnly, parallel],
};

/** Squares that are rounding: no measurement comes within 1e-10 of its formula. */
const rounding = 1e-20;

/**
 * The richest formula, up to the one asked for, that the curve bears out: a coil must lower the sum of squares by more than three standard errors in
 * each of its parameters would. Beside its own limit a formula needs only to come to parameters within its range: were n = 0.99 ± 0.02
 * taken for 1, the errors would hold the truth less often than they say.
 */
export function chooseCoil(task: FitTask, coil: CoilModel): ChosenCoil {
  const fits: DriverFit[] = [];
  for (const formula of ladder[coil]) {
    fits.push(
      fitDriver(
        task,
        formula,
        fits.find((other) => other.formula === formula.limit?.formula),
      ),
    );
  }
  const fit = fits.reduce((best, next) => {
    if (!next.valid || Object.values(next.errors).includes(undefined)) return best;
    const beside = next.formula.limit?.formula === best.formula;
    const needed = beside ? rounding : scatter(next, next.parameters.length - best.parameters.length);
    return best.squares - next.squares > needed ? next : best;
  });
  const fs = fit.values["fs"]!;
  const inside = fs > task.f[0]! && fs < task.f[task.f.length - 1]!;
  if (!inside || !(fitDriver(task, fit.formula, undefined, false).squares - fit.squares > scatter(fit, 3))) {
    const misfit = (100 * Math.sqrt((2 * fit.squares) / fit.deviations.length)).toPrecision(2);
    throw new DividingNetworkError(
      "undetermined",
      `driverParameters: "impedance" must show its resonance peak above what the fit leaves, got a misfit of ${misfit} %`,
      "Measure from well below the resonance to well above it, with less noise; allow a coil, or give a narrower band; check a stated re",
    );
  }
  return { fit, problem: problem(coil, fit.formula) };
}

/** By how much the sum of squares falls with three standard errors in each of so many parameters. */
function scatter({ squares, deviations, parameters }: DriverFit, terms: number): number {
  return 9 * terms * Math.max(rounding, squares / (deviations.length - parameters.length));
}

function problem(asked: CoilModel, found: CoilFormula): string | undefined {
  if (found === lossyOnly) return "le comes to 0 H or below and is left out";
  if (found.coil === asked) return undefined;
  if (found === noCoil) return "without a coil the formula meets the curve as well, to within the scatter of its points";
  if (asked === "power") return "the exponent n comes to 1 or above, where K(jω)ⁿ is an inductance";
  return "re2 and le2 do not show above the scatter of the points";
}
