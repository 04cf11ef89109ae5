import { computedAll, shown, type Views } from "../../errors/internal";
import type { FrequencyResponse } from "../../response";
import { checkedGrid, freezeResponse, gridText } from "../../response/internal";
import type { Crossover } from "./crossover-data";
import { ladderImpedance } from "../ladders/ladder-impedance";
import { checkLadder } from "../ladders/make-ladder";
import { phaseDegreesAt } from "./polarity";
import type { Polarity } from "./crossover-data";
import { sumOf, type Sum } from "./sum-of";

/** What a two-way crossover sums to. */
export interface CrossoverSum extends Sum {
  /** Degrees, −180 to 180: phase of the low-pass less that of the high-pass, before any reversal. */
  readonly phaseDifferenceDegrees: Float64Array;
  /** Ω: both ladders with their loads, in parallel. */
  readonly inputImpedance: FrequencyResponse;
}

/**
 * What a two-way crossover sums to for flat, coincident drivers and resistive loads: level (dB), power (dB), group delay
 * of the sum (s), phase difference of the ways (degrees) and input impedance (Ω).
 *
 * @param crossover from `crossover`
 * @param frequencies Hz, above 0, length n, strictly ascending
 * @param polarity of the high-pass driver, default the crossover's own
 * @returns the sum, each quantity of n points
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { crossover, crossoverSum } from "dividing-network/alignments";
 *
 * const twoWay = crossover({ family: "butterworth", order: 2, frequency: 1000, load: 8 });
 * crossoverSum(twoWay, [1000]).levelDb; // [3.0103]
 * crossoverSum(twoWay, [500]).inputImpedance.re; // [8.000]
 * ```
 */
export function crossoverSum(crossover: Crossover, frequencies: ArrayLike<number>, polarity?: Polarity): CrossoverSum {
  checkLadder("crossoverSum", "crossover.lowPass", crossover?.lowPass);
  checkLadder("crossoverSum", "crossover.highPass", crossover.highPass);
  const grid = checkedGrid("crossoverSum", frequencies);
  const { lowPass, highPass } = crossover;
  const sum = sumOf(
    [{ transfer: lowPass.transfer }, { transfer: highPass.transfer, polarity: polarity === undefined ? crossover.polarity : polarity }],
    grid,
  );
  const made: CrossoverSum = {
    ...sum,
    phaseDifferenceDegrees: grid.map((frequency) => {
      const difference = phaseDegreesAt(lowPass.transfer, frequency) - phaseDegreesAt(highPass.transfer, frequency);
      return difference - 360 * Math.round(difference / 360);
    }),
    inputImpedance: finiteImpedance(inParallel(ladderImpedance(lowPass, grid), ladderImpedance(highPass, grid))),
  };
  return Object.freeze(shown(made, crossoverSumViews));
}

/** A sum: between which levels it runs, and the load that it makes. */
const crossoverSumViews: Views<CrossoverSum> = {
  text: ({ response: { frequencies }, levelDb, powerDb, inputImpedance: { re, im } }) => {
    const range = (values: ArrayLike<number>): string => {
      const [least, most] = [Math.min, Math.max].map((pick) => Array.from(values).reduce((a, b) => pick(a, b)));
      return `${(Math.round(least! * 100) / 100 + 0).toFixed(2)} to ${(Math.round(most! * 100) / 100 + 0).toFixed(2)}`.replaceAll("-", "−");
    };
    return [
      `CrossoverSum: ${gridText(frequencies)}, flat drivers in one place`,
      `  level of the sum ${range(levelDb)} dB, power ${range(powerDb)} dB`,
      `  |Z| of both ways together ${range(re.map((value, at) => Math.hypot(value, im[at]!)))} Ω`,
      "  ask: .levelDb, .powerDb, .groupDelay, .phaseDifferenceDegrees, .response, .inputImpedance",
    ].join("\n");
  },
};

function inParallel(a: FrequencyResponse, b: FrequencyResponse): FrequencyResponse {
  const [re, im] = [new Float64Array(a.re.length), new Float64Array(a.re.length)];
  for (let i = 0; i < re.length; i++) {
    // Sum of the admittances, inverted.
    const [aSize, bSize] = [a.re[i]! ** 2 + a.im[i]! ** 2, b.re[i]! ** 2 + b.im[i]! ** 2];
    const [g, s] = [a.re[i]! / aSize + b.re[i]! / bSize, -a.im[i]! / aSize - b.im[i]! / bSize];
    const size = g * g + s * s;
    re[i] = g / size;
    im[i] = -s / size;
  }
  return freezeResponse(a.frequencies, re, im);
}

/** Next to 0 Hz both branches can be beyond what a number holds. */
function finiteImpedance(response: FrequencyResponse): FrequencyResponse {
  computedAll("crossoverSum", response.re);
  computedAll("crossoverSum", response.im);
  return response;
}
