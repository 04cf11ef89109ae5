import type { Entries } from "../../network";
import { describe, isCoupling, type PartSymbol } from "../../parts/internal";

/** What a symbol shows. */
export type SymbolKind = PartSymbol["symbol"];

/** One symbol between two nodes: a part, or one element of a part that has more terminals. */
export interface Piece {
  /** The designator of the part. */
  readonly part: string;
  /** The lines beside the symbol, the designator first. */
  readonly texts: readonly string[];
  readonly symbol: SymbolKind;
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
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  for (const [name, [part, ...places]] of Object.entries(network)) {
    const { symbols, note } = describe(part);
    for (const { suffix, symbol, value, from, to, dot } of symbols(part)) {
      const dotted = dot === "always" || (dot === "coupled" && coupled.has(name));
      pieces.push({
        part: name,
        texts: [suffix === "" ? name : `${name} ${suffix}`, value],
        symbol,
        from: places[from]!,
        to: places[to]!,
        dotted,
      });
    }
    if (note !== undefined) notes.push(`${name}: ${note(part, places)}`);
  }
  return { pieces, notes };
}
