import { DividingNetworkError } from "../../errors";
import { solveLinear } from "../../numeric/internal";
import { butterworth } from "../prototypes/butterworth";
import { linkwitzRiley } from "../prototypes/linkwitz-riley";
import type { Polarity } from "./crossover-data";
import { polynomialsOf } from "../filters/polynomials-of";
import { residuals, type ThreeWayTarget } from "./three-way-equations";

/** Newton's method, carried from a wide spacing, where the answer is nearly a known family, to the one asked for. */
export function solveThreeWay(
  target: ThreeWayTarget,
  order: number,
  spread: number,
): { readonly coefficients: number[]; readonly gain: number; readonly polarity: Polarity } {
  const family = target === "all-pass" && order % 2 === 0 ? linkwitzRiley(order) : butterworth(order);
  const polarity = target === "all-pass" && (order === 2 || order === 3) ? "reversed" : "same";
  const sign = polarity === "reversed" ? -1 : 1;
  const widest = Math.max(spread, 30);
  let unknowns = [...polynomialsOf(family).denominator.slice(1, -1), widest ** order];
  const rounds = 40;
  for (let round = 0; round <= rounds; round++) {
    const at = widest * (spread / widest) ** (round / rounds);
    // K is nearly the spacing to the power n: carry it along as such.
    const before = widest * (spread / widest) ** (Math.max(round - 1, 0) / rounds);
    unknowns[order - 1]! *= (at / before) ** order;
    const next = newton(target, order, at, sign, unknowns);
    if (next === undefined) throw noThreeWay(order, spread * spread);
    unknowns = next;
  }
  return { coefficients: unknowns.slice(0, order - 1), gain: unknowns[order - 1]!, polarity };
}

function newton(target: ThreeWayTarget, order: number, spread: number, sign: 1 | -1, start: readonly number[]): number[] | undefined {
  let x = [...start];
  for (let step = 0; step < 60; step++) {
    const value = residuals(target, order, spread, sign, x);
    const columns = x.map((own, k) => {
      const h = 1e-6 * Math.max(Math.abs(own), 1e-3);
      const [up, down] = [h, -h].map((d) =>
        residuals(
          target,
          order,
          spread,
          sign,
          x.map((other, i) => (i === k ? other + d : other)),
        ),
      );
      return up!.map((entry, i) => (entry - down![i]!) / (2 * h));
    });
    const change = solveLinear(
      value.map((_, i) => columns.map((column) => column[i]!)),
      value,
    );
    if (change === undefined) return undefined;
    x = x.map((own, k) => own - change[k]!);
    if (!x.every(Number.isFinite)) return undefined;
    if (change.every((d, k) => Math.abs(d) <= 1e-14 * Math.abs(x[k]!))) return x;
  }
  return residuals(target, order, spread, sign, x).every((entry) => Math.abs(entry) < 1e-12) ? x : undefined;
}

/** The refusal where no solution is found. */
export function noThreeWay(order: number, ratio: number): DividingNetworkError {
  return new DividingNetworkError(
    "not-realizable",
    `derivedThreeWay: no functions of order ${order} with this target were found for corners in the ratio ${Number(ratio.toPrecision(4))}`,
    "Spread the corners, or use multiWay",
  );
}
