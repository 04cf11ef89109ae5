import { formatQuantity } from "../quantity";
import type { PartOrCoupling } from "./part";

/**
 * A part in words: what it is with its value as the trade writes it (Ω, mH, µF), and what else it must keep.
 *
 * @param part any part, or a coupling
 * @returns the name with the value, and the rest, which may be empty
 */
export function describePart(part: PartOrCoupling): readonly [what: string, detail: string] {
  switch (part.kind) {
    case "resistor":
      return [`Resistor ${formatQuantity(part.resistance, "Ω")}`, listed(within(part.tolerance), rated(part.power, "W"))];
    case "inductor":
      return [`Coil ${formatQuantity(part.inductance, "H")}`, listed(part.dcr > 0 ? `DCR ${formatQuantity(part.dcr, "Ω")}` : "", within(part.tolerance), rated(part.current, "A"))];
    case "capacitor":
      return [
        `Capacitor ${formatQuantity(part.capacitance, "F")}`,
        listed(part.esr > 0 ? `ESR ${formatQuantity(part.esr, "Ω")}` : part.dissipationFactor > 0 ? `tan δ ${Number(part.dissipationFactor.toPrecision(2))}` : "", within(part.tolerance), rated(part.voltage, "V")),
      ];
    case "l-pad":
      return [`L-pad ${Number(part.attenuationDb.toPrecision(3))} dB for ${formatQuantity(part.load, "Ω")}`, listed(`${formatQuantity(part.series, "Ω")} in series${part.shunt === undefined ? "" : `, ${formatQuantity(part.shunt, "Ω")} across the load`}`, rated(part.power, "W"))];
    case "transformer":
      return "ratio" in part
        ? [`Transformer ${Number(part.ratio.toPrecision(3))} : 1`, ""]
        : [`Transformer ${formatQuantity(part.primaryInductance, "H")} / ${formatQuantity(part.secondaryInductance, "H")}`, `k ${Number(part.k.toPrecision(3))}`];
    case "coupling":
      return [`Coupling k ${Number(part.k.toPrecision(3))}`, ""];
    case "driver": {
      if ("model" in part) return [`Driver Re ${formatQuantity(part.model.re, "Ω")}`, part.model.fs > 0 ? `fs ${formatQuantity(part.model.fs, "Hz")}` : ""];
      const { frequencies } = part.response;
      return ["Driver, measured", `${formatQuantity(frequencies[0]!, "Hz")} to ${formatQuantity(frequencies.at(-1)!, "Hz")}`];
    }
  }
}

/** How close it is, where that is stated. */
function within(tolerance: number | undefined): string {
  return tolerance === undefined ? "" : `±${Number((100 * tolerance).toPrecision(3))} %`;
}

/** What it is rated for, where that is stated. */
function rated(value: number | undefined, unit: "W" | "V" | "A"): string {
  return value === undefined ? "" : `rated ${formatQuantity(value, unit)}`;
}

function listed(...texts: readonly string[]): string {
  return texts.filter((text) => text !== "").join(", ");
}
