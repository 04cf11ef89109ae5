import { checkNumber, checkOptions } from "../../errors/internal";
import { textTable } from "../text-table";
import { columnsOf, wrapText } from "../text-width";
import type { BuildSheet } from "./build-sheet";
import { checkBuildSheet } from "./check-build-sheet";
import { READING_COLUMNS, readingRows, wiringRows, WIRING_COLUMNS } from "./tables";

/**
 * A build sheet for the terminal or for a printer of text: the steps with their boxes, the cautions before them, wiring and readings in Ω as tables.
 *
 * @param sheet from `buildSheet`
 * @param options `width` in columns (dimensionless), default 100
 * @returns text, lines of at most `width` columns
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { buildSheet, buildSheetText } from "dividing-network/report";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([200, 20000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(1), "in", "w"], woofer: [resistor(6), "w", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * buildSheetText(buildSheet(box)).includes("Joint w: R1, woofer +"); // true
 * ```
 */
export function buildSheetText(sheet: BuildSheet, options: { readonly width?: number | undefined } = {}): string {
  const { topology, parts, coils, resistance, impedance, steps } = checkBuildSheet("buildSheetText", sheet);
  const width = checkNumber("buildSheetText", "width", checkOptions("buildSheetText", options, ["width"]).width ?? 100, {
    min: 40,
    max: 1000,
    integer: true,
  });
  const line = (text: string, indent = "") =>
    wrapText(text, width - indent.length, columnsOf)
      .map((each, index) => `${index === 0 ? indent : " ".repeat(indent.length)}${each}`)
      .join("\n");
  const tables = {
    parts: () => textTable({ columns: WIRING_COLUMNS, rows: wiringRows(parts), width }),
    resistance: () => textTable({ columns: READING_COLUMNS, rows: readingRows(resistance), width }),
    impedance: () => textTable({ columns: READING_COLUMNS, rows: readingRows(impedance), width }),
  };
  return [
    ...topology.map((sentence) => line(sentence)),
    ...steps.flatMap(({ title, cautions, boxes, table }, index) => [
      "",
      line(`${index + 1}. ${title}`),
      ...cautions.map((caution) => line(caution, "   ! ")),
      ...boxes.map((box) => line(box, "   [ ] ")),
      ...(table === undefined ? [] : ["", tables[table]().trimEnd()]),
    ]),
    "",
    ...(coils.standing === "" ? [] : [line(`Coils: ${coils.standing}.`)]),
    "",
  ].join("\n");
}
