import { mainOf } from "../parts/internal";
import { formatQuantity } from "../quantity";
import { fewDigits } from "../quantity/internal";
import type { Circuit } from "./circuit";
import type { NetworkIssue } from "./network-issue";

/** A value beyond this is most likely in the wrong unit. */
interface Bound {
  readonly unit: "Ω" | "H" | "F";
  /** SI; below `least` and from `most` on. */
  readonly least: number;
  readonly most: number;
  /** What a plain number counts, and the unit that was likely meant. */
  readonly counted: string;
  readonly meant: { readonly small: string; readonly large: string };
}

/**
 * By the name of the value (choice, no source), with two or three decades of room to what the networks of loudspeakers are built of: resistors of 0.1 Ω to 1 kΩ, coils of 10 µH to 30 mH, capacitors of 0.1 µF to 1 mF.
 * The large end of coils and capacitors is nearer, since that is where millihenries and microfarads land that were written as plain numbers.
 */
const BOUNDS: Readonly<Record<string, Bound>> = /* @__PURE__ */ Object.freeze({
  resistance: { unit: "Ω", least: 1e-3, most: 1e6, counted: "ohms", meant: { small: "Ω", large: "mΩ" } },
  inductance: { unit: "H", least: 1e-8, most: 0.1, counted: "henries", meant: { small: "mH", large: "mH" } },
  capacitance: { unit: "F", least: 1e-10, most: 0.05, counted: "farads", meant: { small: "µF", large: "µF" } },
  dcr: { unit: "Ω", least: 0, most: 100, counted: "ohms", meant: { small: "Ω", large: "mΩ" } },
  esr: { unit: "Ω", least: 0, most: 100, counted: "ohms", meant: { small: "Ω", large: "mΩ" } },
});

/** Values of resistors, coils and capacitors that are most likely in the wrong unit: warnings, since they can be solved. 0 is a connection and no typo. */
export function unlikelyValues({ parts, branches }: Circuit): NetworkIssue[] {
  const issues: NetworkIssue[] = [];
  for (const [name, { part, branches: own }] of parts) {
    if (mainOf(part) === undefined) continue;
    for (const branch of own) {
      const { law, values } = branches[branch]!;
      law.parameters.forEach((parameter, index) => {
        const bound = BOUNDS[parameter];
        const value = values[index]!;
        if (bound === undefined || value === 0 || (value >= bound.least && value < bound.most)) return;
        const large = value >= bound.most;
        const unit = large ? bound.meant.large : bound.meant.small;
        issues.push(
          Object.freeze({
            code: "unlikely-value",
            message: `the ${parameter} of "${name}" is ${formatQuantity(value, bound.unit)}, far ${large ? "above" : "below"} what such a network is built of`,
            hint: large
              ? `A plain number is in ${bound.counted}: if ${unit} are meant, write "${fewDigits(value)} ${unit}"`
              : `Look at the unit: a plain number is in ${bound.counted}, and parts of such a network come in ${unit}`,
            parts: [name],
            severity: "warning",
          }),
        );
      });
    }
  }
  return issues;
}
