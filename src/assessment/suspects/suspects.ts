import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import type { Loudspeaker } from "../../loudspeaker";
import { checkLoudspeaker } from "../../loudspeaker/internal";
import { compile, type Entries } from "../../network";
import { changer, nodalSolution, type ChangedNetwork, type NodalSolution } from "../../network/internal";
import { checkMeasured, type WholeMeasurement } from "../model-check";
import type { FrequencyResponse } from "../../response";
import { networkFaults, type Fault, type NetworkFault } from "./faults";
import { leastAlong, leastOverTwo, refined } from "./fit";
import { groups, type Found, type Suspect } from "./groups";
import { redrawnFaults } from "./redrawn";
import { misfitOf, residualCount, type Repeatability } from "./misfit";
import { observe, PER_OCTAVE, type Observed } from "./observed";

/** What `suspects` may be told. */
export interface SuspectsOptions {
  /**
   * By how much a repeated measurement may differ: dB of level (default 1 dB: 3 mm and 0.2 dB an error per driver come to 0.5 to 0.9 dB,
   * by computation; choice, no source) and part of |Z| (default 0.03; choice, no source).
   */
  readonly repeatability?: {
    /** dB. */
    readonly levelDb?: number | undefined;
    /** Part of |Z|, dimensionless. */
    readonly impedance?: number | undefined } | undefined;
}

/** Default repeatability; its standing is in `SuspectsOptions`. */
export const REPEATABILITY: Repeatability = /* @__PURE__ */ Object.freeze({ levelDb: 1, impedance: 0.03 });

/**
 * What is wrong when a loudspeaker doesn't measure as its drawing says: every part open, shorted, of another value or with added ohms, two
 * of a kind exchanged, a pad or a coupling turned round, a driver reversed, a wire on the neighbouring node. Each fault is fitted to the
 * impedance and the pressures of the whole in one misfit (units of the repeatability), and they are ranked by what is left. The same
 * serves after building: does the network match its drawing? Impedance alone will do; it can't see a driver's polarity.
 *
 * @param loudspeaker as drawn, its drivers measured alone, Ω and Pa/V
 * @param measured the whole: `pressures` (Pa, with place in m and degrees and the source's V), `impedance` in Ω; one of them at least
 * @param options `repeatability` of the measurements in dB and as a part of |Z|, dimensionless
 * @returns suspects, best first, at most ten; empty when the measurement is explained by the drawing. Where no single fault comes nearer to it than the
 *   drawing, the best one alone, whose `explains` is false. Values in SI
 * @throws DividingNetworkError `not-measured`, `band-too-narrow`, `invalid-argument`, and what `solve` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, logGrid, loudspeaker, network, pressurePerVolt, resistor, solve } from "dividing-network";
 * import { suspects } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const one = frequencyResponse(grid, grid.map(() => 1), grid.map(() => 0));
 * const cone = pressurePerVolt({ response: one, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const withCapacitor = (c: number) => network({ C1: [capacitor(c), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
 * const drawn = loudspeaker({ network: withCapacitor(10e-6), drivers: [{ name: "tweeter", pressures: [cone] }] });
 * const { impedance } = solve(withCapacitor(22e-6), grid);
 * const [first] = suspects(drawn, { pressures: [], impedance });
 * first?.parts; // ["C1"]
 * first?.value; // 0.000022
 * ```
 */
export function suspects<T extends Entries>(loudspeaker: Loudspeaker<T>, measured: { readonly pressures?: readonly WholeMeasurement[] | undefined; readonly impedance?: FrequencyResponse | undefined }, options: SuspectsOptions = {}): readonly Suspect[] {
  const caller = "suspects";
  const box = checkLoudspeaker(caller, loudspeaker) as Loudspeaker;
  const { pressures = [], impedance } = checkOptions(caller, measured, ["pressures", "impedance"]);
  const known = checkMeasured(caller, { pressures, ...(impedance === undefined ? {} : { impedance }) });
  const repeatability = checkRepeatability(caller, options);
  const observed = observe(caller, box, known);
  const trial = trialOf(box, observed, repeatability);
  const { misfit: drawn, residuals: drawnResiduals } = trial.drawn;
  // All faults on a coarse grid first; what is far behind there needs no second look.
  const rough = observed.frequencies.length < 8 * COARSER ? undefined : trialOf(box, observe(caller, box, known, PER_OCTAVE / COARSER), repeatability).faults();
  const promising = rough === undefined ? undefined : new Map(byScore(rough).slice(0, PROMISING).map(({ key, unknowns }) => [key, unknowns]));
  const ranked = byScore(trial.faults(promising));
  const best = ranked[0];
  // Explained: within the repeatability, and no fault beyond a tolerance explains it by far better.
  const explained = trial.within(drawnResiduals);
  if (best === undefined || (explained && !(best.misfit < drawn / 1.3 && best.beyondTolerance))) return [];
  // Where no fault comes much nearer than the drawing, the best alone stands for that: an empty list would say that nothing is wrong.
  if (best.misfit >= 0.95 * drawn) return groups(ranked.slice(0, 1), drawnResiduals.length, known, trial.within);
  return groups(ranked.filter(({ misfit }) => misfit < 0.95 * drawn), drawnResiduals.length, known, trial.within);
}

/** How much coarser the first look is, and how many faults get a second one. */
const [COARSER, PROMISING] = [4, 40];

/** Best first; a number that was fitted costs a little, since it fits noise too. */
function byScore(found: readonly Found[]): readonly Found[] {
  return found.map((each) => ({ each, score: each.misfit * (1 + 0.03 * each.unknowns.length) })).sort((a, b) => a.score - b.score).map(({ each }) => each);
}

export function checkRepeatability(caller: string, options: SuspectsOptions): Repeatability {
  const { repeatability = {} } = checkOptions(caller, options, ["repeatability"]);
  const { levelDb = REPEATABILITY.levelDb, impedance = REPEATABILITY.impedance } = checkOptions(caller, repeatability, ["levelDb", "impedance"]);
  return { levelDb: checkNumber(caller, "repeatability.levelDb", levelDb, { above: 0, max: 20, unit: "dB" }), impedance: checkNumber(caller, "repeatability.impedance", impedance, { above: 0, max: 1 }) };
}

/** Tries faults on a drawing. */
function trialOf(box: Loudspeaker, observed: Observed, repeatability: Repeatability) {
  const { frequencies } = observed;
  const count = residualCount(observed);
  const scratch = new Float64Array(count);
  const upright = box.drivers.map(() => 1);
  const solution = nodalSolution(box.network, frequencies);
  const whole = (network: Entries): ChangedNetwork => {
    const sweep = compile(network).sweep(frequencies);
    const voltages = box.drivers.map(({ part }) => sweep.voltage(part));
    return { voltageRe: voltages.map(({ re }) => re), voltageIm: voltages.map(({ im }) => im), inputRe: sweep.admittance.re, inputIm: sweep.admittance.im };
  };
  const asDrawn = whole(box.network);
  const misfit = misfitOf(observed, asDrawn, repeatability);
  const take = (parts: readonly string[], fault: Fault, predicted: ChangedNetwork, signs: readonly number[] = upright): Found => {
    const residuals = new Float64Array(count);
    return { parts, fault, misfit: misfit(predicted, signs, residuals), residuals, unknowns: [], key: `${fault} ${parts.join(" ")}`, beyondTolerance: true };
  };
  const drawn = take([], "open", asDrawn);
  return {
    drawn,
    /** Whether what is left of pressures and of impedance each lies within the repeatability. */
    within: (residuals: Float64Array) => Object.values(halves(observed, residuals)).every((half) => half === undefined || half <= 1),
    /** Each fault with what fits best; near the numbers given, and those alone, where some are. */
    faults: (among?: ReadonlyMap<string, readonly number[]>): readonly Found[] => {
      const found: Found[] = [];
      const wanted = ({ key }: { readonly key: string }) => among === undefined || among.has(key);
      for (const fault of redrawnFaults(box.network).map((each) => ({ ...each, key: `redrawn ${each.fault} ${each.parts.join(" ")}` })).filter(wanted)) {
        try {
          found.push(fitted(fault, (unknowns, out) => misfit(whole(fault.network(unknowns)), upright, out), scratch, among?.get(fault.key)));
        } catch (error) {
          // A network that can't be solved isn't the one that was measured.
          if (!(error instanceof DividingNetworkError)) throw error;
        }
      }
      if (solution !== undefined) {
        for (const fault of networkFaults(solution).map((each) => ({ ...each, key: `${each.fault} ${each.parts.join(" ")} ${each.to ?? ""} ${each.pairs.join(" ")}` })).filter(wanted)) {
          found.push(tryFault(solution, fault, box, (predicted, out) => misfit(predicted, upright, out), scratch, among?.get(fault.key)));
        }
      }
      if (observed.places.length > 0) {
        const parts = [...new Set(box.drivers.map(({ part }) => part))];
        if (box.drivers.length > 1) for (const part of parts) found.push(take([part], "reversed", asDrawn, box.drivers.map((driver) => (driver.part === part ? -1 : 1))));
        box.drivers.forEach((driver, index) => {
          if (box.drivers.filter(({ part }) => part === driver.part).length > 1) found.push(take([driver.name], "reversed", asDrawn, box.drivers.map((_, other) => (other === index ? -1 : 1))));
        });
      }
      return found;
    },
  };
}

/** The range in which a value is sought, as a ratio, and ohms added. */
const RATIO = [1 / 40, 40] as const;
const OHMS = [0.02, 200] as const;
/** What is left of a capacitor that dried out. */
const DRY = [0.2, 1.5] as const;

function tryFault(solution: NodalSolution, fault: NetworkFault & { readonly key: string }, box: Loudspeaker, misfit: (predicted: ChangedNetwork, out: Float64Array) => number, scratch: Float64Array, near?: readonly number[]): Found {
  const terminals = (part: string) => solution.circuit.parts.get(part)!.terminals;
  const outputs = box.drivers.map(({ part }) => fault.ends?.[part] ?? ([terminals(part)[0]!, terminals(part)[1]!] as const));
  const change = changer(solution, fault.pairs, outputs);
  const mine = box.drivers.flatMap(({ part }, index) => (part === fault.parts[0] ? [index] : []));
  const run = (unknowns: readonly number[], out: Float64Array) => {
    const changes = fault.changes(unknowns);
    const predicted = change(changes);
    if (fault.own !== undefined) for (const index of mine) divide(predicted.voltageRe[index]!, predicted.voltageIm[index]!, fault.own === "nothing" ? undefined : changes[0]!);
    return misfit(predicted, out);
  };
  return fitted(fault, run, scratch, near);
}

/** The unknowns that leave the least; near those that a coarser grid gave, where it did. */
function fitted(fault: Pick<NetworkFault, "parts" | "fault" | "unknowns" | "value" | "unit" | "to"> & { readonly key: string }, run: (unknowns: readonly number[], out: Float64Array) => number, scratch: Float64Array, near?: readonly number[]): Found {
  let unknowns: readonly number[] = [];
  if (near?.length === 2) unknowns = refined((ohms, ratio) => run([ohms, ratio], scratch), [near[0]!, near[1]!], [OHMS, DRY]);
  else if (near?.length === 1) {
    const [from, to] = fault.unknowns[0] === "ohms" ? OHMS : RATIO;
    unknowns = [leastAlong((x) => run([x], scratch), Math.max(from, near[0]! / 1.3), Math.min(to, near[0]! * 1.3), 4, 12).at];
  } else if (fault.unknowns.length === 2) {
    const { x, y } = leastOverTwo((ohms, ratio) => run([ohms, ratio], scratch), OHMS, DRY);
    unknowns = [x, y];
  } else if (fault.unknowns.length === 1) {
    const [from, to] = fault.unknowns[0] === "ohms" ? OHMS : RATIO;
    unknowns = [leastAlong((x) => run([x], scratch), from, to, 28).at];
  }
  const residuals = new Float64Array(scratch.length);
  const size = run(unknowns, residuals);
  const ratio = fault.unknowns[0] === "ratio" ? unknowns[0]! : Infinity;
  return {
    parts: fault.parts, fault: fault.fault, misfit: size, residuals, unknowns, key: fault.key, beyondTolerance: Math.abs(Math.log(ratio)) > Math.log(1.1) && (fault.fault !== "loss" || unknowns[0]! > 0.3),
    ...(fault.value === undefined ? {} : { value: fault.value(unknowns), ...(fault.unit === undefined ? {} : { unit: fault.unit }) }), ...(fault.to === undefined ? {} : { to: fault.to }),
  };
}

/** A voltage over the denominator of a change, or nothing. */
function divide(re: Float64Array, im: Float64Array, by: { readonly denRe: Float64Array; readonly denIm: Float64Array } | undefined): void {
  if (by === undefined) {
    re.fill(0);
    im.fill(0);
    return;
  }
  for (let p = 0; p < re.length; p++) {
    const [x, y, dr, di] = [re[p]!, im[p]!, by.denRe[p]!, by.denIm[p]!];
    const size = dr * dr + di * di;
    re[p] = (x * dr + y * di) / size;
    im[p] = (y * dr - x * di) / size;
  }
}

/** By how much the drawing misses the whole as measured: dB of the stronger branch, part of |Z|; each where it was measured. */
export function misfitOfDrawing(box: Loudspeaker, measured: { readonly pressures: readonly WholeMeasurement[]; readonly impedance?: FrequencyResponse }, repeatability: Repeatability): { readonly levelDb?: number; readonly impedance?: number } {
  const observed = observe("compare", box, checkMeasured("compare", measured));
  const { pressures, impedance } = halves(observed, trialOf(box, observed, repeatability).drawn.residuals);
  return { ...(pressures === undefined ? {} : { levelDb: pressures * repeatability.levelDb }), ...(impedance === undefined ? {} : { impedance: impedance * repeatability.impedance }) };
}

/** What is left of pressures and of impedance, each by itself, in units of the repeatability; undefined where it wasn't measured. */
function halves({ places, impedance }: Observed, residuals: Float64Array): { readonly pressures?: number | undefined; readonly impedance?: number | undefined } {
  const points = places.reduce((sum, { from, to }) => sum + to - from, 0);
  const count = (points > 0 ? 1 : 0) + (impedance === undefined ? 0 : 1);
  const root = (part: Float64Array) => Math.sqrt(part.reduce((sum, e) => sum + e * e, 0) * count);
  return { pressures: points === 0 ? undefined : root(residuals.subarray(0, points)), impedance: impedance === undefined ? undefined : root(residuals.subarray(points)) };
}

export type { Repeatability };
