import type { Redesign } from "../design";
import { describePart, isDriver } from "../parts/internal";
import { textTable } from "./text-table";

/**
 * The networks that a redesign found as a table of text: for each its parts, loss, level, what it costs, and what is in it.
 *
 * @param found from `redesign`
 * @param width in characters, a count
 * @returns lines of text: losses in dB, levels in dB re 20 µPa, prices in the stock's currency
 */
export function redesignText({ front }: Redesign, width: number): string {
  const rows = front.map(({ parts, lossDb, levelDb, price, topology, network, taken }) => [
    String(parts), lossDb.toFixed(2), levelDb.toFixed(1), price === undefined ? "–" : price.toFixed(2), topology,
    Object.entries(network).filter(([, [part]]) => !isDriver(part)).map(([name, [part]]) => `${name} ${taken[name]?.name ?? describePart(part)[0]}`).join("; "),
  ]);
  return textTable({ columns: [{ label: "Parts", align: "right" }, { label: "Loss, dB", align: "right" }, { label: "Level, dB", align: "right" }, { label: "Price", align: "right" }, { label: "Topology" }, { label: "What is in it" }], rows, width });
}
