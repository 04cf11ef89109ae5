import { DividingNetworkError } from "../../errors";
import type { Loudspeaker } from "../../loudspeaker";
import { compile, type Entries } from "../../network";
import { nodalSolution, type ChangedNetwork } from "../../network/internal";
import { formatQuantity } from "../../quantity";
import { networkFaults, type Fault } from "./faults";
import { fitted } from "./fitted-fault";
import type { Found } from "./groups";
import { counts, kindsOf, type Kinds } from "./kinds";
import { misfitOf } from "./misfit";
import type { Observed } from "./observed";
import { otherTimeZero } from "./other-time-zero";
import { redrawnFaults } from "./redrawn";
import type { Repeatability } from "./repeatability";
import { tryFault } from "./try-fault";

/**
 * The worst of many places may miss by more than all of them together: none of 600 repetitions with 3 mm and 0.2 dB a driver, at up to 18 places of four
 * loudspeakers, came to 2 (by computation; choice, no source).
 */
const CHANCE = 2;

/** Whether each kind of measurement lies within the repeatability by itself, and each place within what chance may do there. */
export function inside({ levels = 0, phases = 0, impedance = 0, places }: Kinds): boolean {
  return (
    [levels, phases, impedance].every((left) => left <= 1) && places.every(({ level, phase = 0 }) => level <= CHANCE && phase <= CHANCE)
  );
}

/** Which place misses by most beyond what chance may do there; undefined where none does. */
export function worstPlace({ places }: Kinds): number | undefined {
  const most = places.map(({ level, phase = 0 }) => Math.max(level, phase));
  const at = most.indexOf(Math.max(...most));
  return at >= 0 && most[at]! > CHANCE ? at : undefined;
}

/** Tries faults on a drawing. */
export function trialOf(box: Loudspeaker, given: Observed, repeatability: Repeatability) {
  const { frequencies } = given;
  const upright = box.drivers.map(() => 1);
  const whole = (network: Entries): ChangedNetwork => {
    const sweep = compile(network).sweep(frequencies);
    const voltages = box.drivers.map(({ part }) => sweep.voltage(part));
    return {
      voltageRe: voltages.map(({ re }) => re),
      voltageIm: voltages.map(({ im }) => im),
      inputRe: sweep.admittance.re,
      inputIm: sweep.admittance.im,
    };
  };
  const asDrawn = whole(box.network);
  const observed = onOneTimeZero(given, asDrawn, upright, repeatability);
  const { levels, phases, ohms } = counts(observed);
  const count = levels + phases + ohms;
  const scratch = new Float64Array(count);
  const { misfit, signOf, levelsDb } = misfitOf(observed, asDrawn, repeatability);
  const take = (parts: readonly string[], fault: Fault, predicted: ChangedNetwork, signs: readonly number[] = upright): Found => {
    const residuals = new Float64Array(count);
    return {
      parts,
      fault,
      misfit: misfit(predicted, signs, residuals),
      residuals,
      unknowns: [],
      key: `${fault} ${parts.join(" ")}`,
      beyondTolerance: true,
      unchanged: false,
    };
  };
  const drawn = take([], "open", asDrawn);
  const drawnLevelsDb = levelsDb();
  return {
    /** With the places whose phase turned out to count from another instant. */
    observed,
    /** Of the whole against the drawing: −1 where the amplifier inverts. */
    sign: signOf(asDrawn, upright),
    drawn,
    /** dB of the stronger branch by which the drawing misses, plain. */
    drawnLevelsDb,
    /** Whether what is left of pressures and of impedance each lies within the repeatability. */
    within: (residuals: Float64Array) => inside(kindsOf(observed, residuals)),
    kinds: (residuals: Float64Array) => kindsOf(observed, residuals),
    /** Each fault with what fits best; near the numbers given, and those alone, where some are. */
    faults: (among?: ReadonlyMap<string, readonly number[]>): readonly Found[] => {
      const found: Found[] = [];
      const wanted = ({ key }: { readonly key: string }) => among === undefined || among.has(key);
      for (const fault of redrawnFaults(box.network)
        .map((each) => ({ ...each, key: `redrawn ${each.fault} ${each.parts.join(" ")}` }))
        .filter(wanted)) {
        try {
          found.push(
            fitted(fault, (unknowns, out) => misfit(whole(fault.network(unknowns)), upright, out), scratch, among?.get(fault.key)),
          );
        } catch (error) {
          // A network that can't be solved isn't the one that was measured.
          if (!(error instanceof DividingNetworkError)) throw error;
        }
      }
      const solution = nodalSolution(box.network, frequencies);
      // Without it no fault of a part could be tried, and an empty answer would say that nothing is wrong.
      if (solution === undefined)
        throw new DividingNetworkError(
          "no-solution",
          "suspects: the network as drawn has no single solution at some of the frequencies measured, so that no faults can be tried on it",
          "Give lossless parts their losses; diagnose(network) tells what hangs free",
        );
      for (const fault of networkFaults(solution)
        .map((each) => ({ ...each, key: `${each.fault} ${each.parts.join(" ")} ${each.to ?? ""} ${each.pairs.join(" ")}` }))
        .filter(wanted)) {
        found.push(tryFault(solution, fault, box, (predicted, out) => misfit(predicted, upright, out), scratch, among?.get(fault.key)));
      }
      if (observed.places.length > 0) {
        const parts = [...new Set(box.drivers.map(({ part }) => part))];
        if (box.drivers.length > 1)
          for (const part of parts)
            found.push(
              take(
                [part],
                "reversed",
                asDrawn,
                box.drivers.map((driver) => (driver.part === part ? -1 : 1)),
              ),
            );
        for (const louder of driveFaults(box))
          found.push(
            fitted(
              { ...louder, key: `drive ${louder.parts.join(" ")}` },
              ([factor], out) =>
                misfit(
                  asDrawn,
                  box.drivers.map(({ name }) => (louder.parts.includes(name) ? factor! : 1)),
                  out,
                ),
              scratch,
            ),
          );
        box.drivers.forEach((driver, index) => {
          if (box.drivers.filter(({ part }) => part === driver.part).length > 1)
            found.push(
              take(
                [driver.name],
                "reversed",
                asDrawn,
                box.drivers.map((_, other) => (other === index ? -1 : 1)),
              ),
            );
        });
      }
      return found;
    },
  };
}

/** Each driver alone, and all of them: what was measured of them at another drive than stated, as what all that they give is to be multiplied by. */
function driveFaults({ drivers }: Loudspeaker) {
  const names = drivers.map(({ name }) => name);
  return [...(names.length > 1 ? names.map((name) => [name]) : []), names].map((parts) => ({
    parts,
    fault: "drive" as const,
    unknowns: ["ratio"] as const,
    value: ([factor]: readonly number[]) => 20 * Math.log10(factor!),
    unit: "dB" as const,
  }));
}

/** The phases of places that count from another instant are left out, unless it is stated that they count from this one. */
function onOneTimeZero(observed: Observed, drawn: ChangedNetwork, upright: readonly number[], repeatability: Repeatability) {
  const { levels, phases, ohms } = counts(observed);
  const { misfit, productsOf } = misfitOf(observed, drawn, repeatability);
  const residuals = new Float64Array(levels + phases + ohms);
  misfit(drawn, upright, residuals);
  const left = kindsOf(observed, residuals).places;
  const products = productsOf();
  const places = observed.places.map((place, index) => {
    const { complex, ...rest } = place;
    const delay =
      complex === undefined || place.timed === true
        ? undefined
        : otherTimeZero(observed.frequencies, products[index]!, left[index]!.phase!);
    if (delay === undefined) return place;
    const late = formatQuantity(Math.abs(delay), "s", { digits: 2 });
    return { ...rest, levelOnly: `the whole arrives ${late} ${delay > 0 ? "later" : "earlier"} than the drivers alone: another time zero` };
  });
  return { ...observed, places };
}
