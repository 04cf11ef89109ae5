import { DividingNetworkError } from "../../errors";
import type { Loudspeaker } from "../../loudspeaker";
import { compile, type Entries } from "../../network";
import { nodalSolution, type ChangedNetwork } from "../../network/internal";
import { networkFaults, type Fault } from "./faults";
import { fitted } from "./fitted-fault";
import type { Found } from "./groups";
import { halves, misfitOf, residualCount } from "./misfit";
import type { Observed } from "./observed";
import { redrawnFaults } from "./redrawn";
import type { Repeatability } from "./repeatability";
import { tryFault } from "./try-fault";

/** Tries faults on a drawing. */
export function trialOf(box: Loudspeaker, observed: Observed, repeatability: Repeatability) {
  const { frequencies } = observed;
  const count = residualCount(observed);
  const scratch = new Float64Array(count);
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
  const misfit = misfitOf(observed, asDrawn, repeatability);
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
  return {
    drawn,
    /** Whether what is left of pressures and of impedance each lies within the repeatability. */
    within: (residuals: Float64Array) => Object.values(halves(observed, residuals)).every((half) => half === undefined || half <= 1),
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
