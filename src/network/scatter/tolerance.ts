import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../../errors/internal";
import { reportProgress, percentile, seededRandom } from "../../numeric/internal";
import { boundedGrid } from "../solve/compile";
import { circuitIssues, throwFindings, throwIssues } from "../diagnose";
import { engineFor } from "../solve/engine";
import type { Entries } from "../entries";
import type { NodeName, PartName } from "../names";
import { checkedLimits } from "./level-limits";
import { inUnit, namedOutputs, squaresOf } from "./named-outputs";
import { deviations } from "./deviations";
import { sourceResponse } from "../solve/source";
import { tolerancedValues, type PartTolerance } from "./toleranced-values";
import type { Tolerance, ToleranceBand, ToleranceOptions } from "./tolerance-data";
import { worstCases } from "./worst-cases";
import { writeValue } from "../solve/write-value";
import { yieldOf } from "./yield";

/** Numbers kept at once: the grid is worked through in pieces that keep within this. */
const KEPT = 4_000_000;

/**
 * How a network's levels (dB) and impedance (Ω) scatter when its values scatter within their tolerances: a percentile band for
 * each frequency by seeded samples, the share that keeps within limits with its 95 % interval after Wilson (1927), and, on
 * request, the worst cases. Values scatter independently; `"normal"` takes the tolerance
 * for three standard deviations and cuts off there. Percentiles lie between two samples by straight line. The worst cases
 * are searched for at each frequency by itself, inside the tolerances too, since a trap's null lies between its corners: from the worst corner (of all of
 * them up to eleven values), of 500 places drawn inside, and from the nominal values, one value after the other and in pairs. They hold the nominal and
 * every sample. That nothing is worse is found by search, not proved: in rare networks something a little worse may be missed. Random numbers: xoshiro128** (Blackman and Vigna 2018).
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @param frequencies Hz, ≥ 0, strictly ascending, length n
 * @param options `outputs`; `tolerances`, `byKind` relative (dimensionless); `distribution`, `samples`, `seed`;
 *   `percentiles` in %; `limits` in dB or Ω; `corners`; `sourceImpedance` in Ω; `onProgress`, `signal`
 * @returns by output the bands in dB (or Ω), n numbers each, and the yield (dimensionless); plain data
 * @throws DividingNetworkError `invalid-network`, `unknown-name`, `unknown-option`, `invalid-argument`, `infinite-impedance`,
 *   `no-solution`, `aborted`
 * @example
 * ```ts
 * import { capacitor, network, resistor } from "dividing-network";
 * import { tolerance } from "dividing-network/network";
 *
 * const firstOrder = network({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
 * const { bands, yield: good } = tolerance(firstOrder, [1000, 2000], {
 *   outputs: ["t", "impedance"], tolerances: { C1: 0.1 }, samples: 2000, corners: true, limits: { output: "t", lowerDb: [-7.5, -20] },
 * });
 * bands.t.nominal; // [-6.952941, -2.987362]
 * bands.t.corners!.lowest; // [-7.698384, -3.466583]
 * bands.t.percentiles[0]; // [-7.617505, -3.413178]
 * good!.share; // 0.868
 * ```
 */
export function tolerance<const T extends Entries, const O extends NodeName<T> | PartName<T> | "in" | "impedance">(
  network: T,
  frequencies: ArrayLike<number>,
  options: ToleranceOptions<T, O>,
): Tolerance<O> {
  const caller = "tolerance";
  const given = checkOptions(caller, options, [
    "outputs",
    "tolerances",
    "byKind",
    "distribution",
    "samples",
    "seed",
    "percentiles",
    "limits",
    "corners",
    "sourceImpedance",
    "onProgress",
    "signal",
  ]);
  const circuit = throwFindings(network);
  const { outputs, pairs } = namedOutputs(caller, circuit, given.outputs);
  const variables = tolerancedValues(
    caller,
    circuit,
    given.tolerances as Readonly<Record<string, PartTolerance>> | undefined,
    given.byKind,
  );
  const distribution = checkOneOf(caller, "distribution", given.distribution ?? "uniform", ["uniform", "triangular", "normal"]);
  const samples = checkNumber(caller, "samples", given.samples ?? 1000, { min: 1, max: 1_000_000, integer: true });
  const seed = checkNumber(caller, "seed", given.seed ?? 1, { min: 0, max: 2 ** 32 - 1, integer: true });
  const percentiles = checkedPercentiles(caller, given.percentiles);
  if (typeof (given.corners ?? false) !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "corners" must be true or false, got ${show(given.corners)}`);
  const whole = boundedGrid(caller, frequencies).slice();
  const n = whole.length;
  const names = outputs.map(({ name }) => name);
  const limits = checkedLimits(caller, given.limits, names, n);
  const engine = engineFor(circuit, () => throwIssues(circuitIssues(circuit, true)));
  const values = circuit.branches.map((branch) => Float64Array.from(branch.values));
  const put = (deviation: (variable: number) => number) => {
    for (let k = 0; k < variables.length; k++) {
      const { place, nominal, relative } = variables[k]!;
      writeValue(engine.elimination, values, place, nominal * (1 + relative * deviation(k)));
    }
  };
  const results = outputs.map(() => ({ nominal: new Float64Array(n), percentiles: percentiles.map(() => new Float64Array(n)) }));
  const [least, most] = [outputs.map(() => new Float64Array(n)), outputs.map(() => new Float64Array(n))];
  const passed = new Uint8Array(samples).fill(1);
  const piece = Math.min(n, Math.max(1, Math.floor(KEPT / (samples * outputs.length))));
  const runs = Math.ceil(n / piece) * samples;
  const searches = given.corners === true ? 2 * n * outputs.length : 0;
  for (let start = 0; start < n; start += piece) {
    const grid = whole.slice(start, start + piece);
    const count = grid.length;
    const source = sourceResponse(caller, given.sourceImpedance, grid);
    const run = () => squaresOf(engine.run(grid, pairs, values), outputs, source, grid);
    put(() => 0);
    run().forEach((own, at) =>
      results[at]!.nominal.set(
        own.map((square) => inUnit(square, outputs[at]!)),
        start,
      ),
    );
    // The same numbers for every piece of the grid: a sample is one network at all frequencies.
    const draw = deviations(seededRandom(seed), distribution);
    const kept = outputs.map(() => new Float64Array(count * samples));
    for (let sample = 0; sample < samples; sample++) {
      if (sample % 16 === 0) reportProgress(caller, given, (start / piece) * samples + sample, runs + searches);
      put(draw);
      const found = run();
      for (let at = 0; at < kept.length; at++) for (let i = 0; i < count; i++) kept[at]![i * samples + sample] = found[at]![i]!;
    }
    for (const { output, lower, upper } of limits) {
      for (let i = 0; i < count; i++) {
        const [low, high, own] = [lower[start + i]!, upper[start + i]!, kept[output]!];
        for (let sample = 0; sample < samples; sample++)
          if (!(own[i * samples + sample]! >= low && own[i * samples + sample]! <= high)) passed[sample] = 0;
      }
    }
    kept.forEach((own, at) => {
      for (let i = 0; i < count; i++) {
        const sorted = own.subarray(i * samples, (i + 1) * samples).sort();
        [least[at]![start + i], most[at]![start + i]] = [sorted[0]!, sorted[samples - 1]!];
        percentiles.forEach(
          (percent, k) => (results[at]!.percentiles[k]![start + i] = percentile(sorted, percent, (square) => inUnit(square, outputs[at]!))),
        );
      }
    });
  }
  const worst =
    given.corners !== true
      ? undefined
      : worstCases(
          variables.length,
          outputs.length,
          whole,
          (grid, deviation) => {
            put(deviation);
            return squaresOf(engine.run(grid, pairs, values), outputs, sourceResponse(caller, given.sourceImpedance, grid), grid);
          },
          (done) => reportProgress(caller, given, runs + done, runs + searches),
        );
  reportProgress(caller, given, runs + searches, runs + searches);
  const bands = outputs.map((output, at): [string, ToleranceBand] => {
    const convert = (squares: Float64Array) => squares.map((square) => inUnit(square, output));
    const ends = worst?.[at];
    const corners =
      ends === undefined
        ? {}
        : {
            corners: Object.freeze({
              lowest: convert(ends.lowest.map((square, i) => Math.min(square, least[at]![i]!))),
              highest: convert(ends.highest.map((square, i) => Math.max(square, most[at]![i]!))),
            }),
          };
    return [output.name, Object.freeze({ unit: output.place === 0 ? "Ω" : "dB", ...results[at]!, ...corners })];
  });
  const result = {
    frequencies: whole,
    samples,
    seed,
    percentiles,
    bands: Object.freeze(Object.fromEntries(bands)) as Tolerance<O>["bands"],
  };
  return Object.freeze(
    limits.length === 0
      ? result
      : {
          ...result,
          yield: yieldOf(
            passed.reduce((sum, one) => sum + one, 0),
            samples,
          ),
        },
  );
}

function checkedPercentiles(caller: string, percentiles: readonly number[] = [5, 50, 95]): readonly number[] {
  if (!Array.isArray(percentiles))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "percentiles" must be an array of numbers from 0 to 100, got ${show(percentiles)}`,
    );
  return Object.freeze(
    percentiles.map((percent, index) => checkNumber(caller, `percentiles[${index}]`, percent, { min: 0, max: 100, unit: "%" })),
  );
}
