import type { Coupling, Part } from "../parts";
import { isCoupling } from "../parts/internal";

/** The way out for whoever wants the factor of a coupling or the ratio of an ideal transformer to vary; undefined for all other parts. */
export function linkHint(part: Part | Coupling): string | undefined {
  if (isCoupling(part))
    return "Vary it in sumObjective, or measure its two coils in series, aiding and opposing: the factor is (aiding − opposing) / (4·√(L1·L2))";
  return "ratio" in part ? "Vary its ratio in sumObjective, or leave it as drawn" : undefined;
}
