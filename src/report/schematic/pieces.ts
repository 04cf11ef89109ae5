import type { Entries } from "../../network";
import { formatQuantity } from "../../quantity";

/** What a symbol shows. */
export type SymbolKind = "resistor" | "inductor" | "capacitor" | "driver";

/** One symbol between two nodes: a part, or one element of a part that has more terminals. */
export interface Piece {
  /** The designator of the part. */
  readonly part: string;
  /** The lines beside the symbol, the designator first. */
  readonly texts: readonly string[];
  readonly kind: SymbolKind;
  readonly from: string;
  readonly to: string;
  /** Whether the end at the first node carries the dot of a coupled winding. */
  readonly dotted: boolean;
}

/** The symbols of a network and what no symbol can say. */
export interface Pieces {
  readonly pieces: readonly Piece[];
  readonly notes: readonly string[];
}

/** Pads are drawn as their two resistors and transformers as two windings, so that each symbol has two ends. */
export function piecesOf(network: Entries): Pieces {
  const pieces: Piece[] = [];
  const notes: string[] = [];
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (part.kind === "coupling" ? names : [])));
  const add = (part: string, suffix: string, kind: SymbolKind, value: string, from: string, to: string, dotted = false): void => {
    pieces.push({ part, texts: [suffix === "" ? part : `${part} ${suffix}`, value], kind, from, to, dotted });
  };
  for (const [name, [part, ...nodes]] of Object.entries(network)) {
    const [a, b, c, d] = nodes as unknown as readonly [string, string, string, string];
    switch (part.kind) {
      case "resistor":
        add(name, "", "resistor", formatQuantity(part.resistance, "Ω"), a, b);
        break;
      case "inductor":
        add(name, "", "inductor", formatQuantity(part.inductance, "H"), a, b, coupled.has(name));
        break;
      case "capacitor":
        add(name, "", "capacitor", formatQuantity(part.capacitance, "F"), a, b);
        break;
      case "driver":
        add(name, "", "driver", "model" in part ? `Re ${formatQuantity(part.model.re, "Ω")}` : "as measured", a, b);
        break;
      case "l-pad":
        add(name, "series", "resistor", formatQuantity(part.series, "Ω"), a, b);
        if (part.shunt !== undefined) add(name, "shunt", "resistor", formatQuantity(part.shunt, "Ω"), b, c);
        break;
      case "transformer": {
        const values = "ratio" in part ? ["", ""] : [formatQuantity(part.primaryInductance, "H"), formatQuantity(part.secondaryInductance, "H")];
        add(name, "primary", "inductor", values[0]!, a, b, true);
        add(name, "secondary", "inductor", values[1]!, c, d, true);
        notes.push(`${name}: primary and secondary are one transformer, ${"ratio" in part ? `${rounded(part.ratio)} : 1` : `k = ${rounded(part.k)}`}. The dots mark its ends of one sense.`);
        break;
      }
      case "coupling":
        notes.push(`${name}: ${a} and ${b} are coupled, k = ${rounded(part.k)}. The dots mark their first ends.`);
    }
  }
  return { pieces, notes };
}

function rounded(value: number): string {
  return String(Number(value.toPrecision(3))).replace("-", "−");
}
