import { table } from "../blocks";
import { element, type Markup } from "../markup";
import type { BuildSheet } from "./build-sheet";
import { READING_COLUMNS, readingRows, wiringRows, WIRING_COLUMNS } from "./tables";

/** A build sheet for a page: steps in their order, cautions before the boxes of their step. */
export function buildSheetBlocks(sheet: BuildSheet): Markup {
  const { topology, parts, coils, resistance, impedance, steps } = sheet;
  const tables = {
    parts: () => table({ columns: WIRING_COLUMNS, rows: wiringRows(parts) }, { label: "Parts and where they go" }),
    resistance: () => table({ columns: READING_COLUMNS, rows: readingRows(resistance) }, { label: "Readings of resistance" }),
    impedance: () => table({ columns: READING_COLUMNS, rows: readingRows(impedance) }, { label: "Readings of impedance" }),
  };
  return element(
    "div",
    { class: "build" },
    element("p", {}, topology.join(" ")),
    element(
      "ol",
      { class: "steps" },
      steps.map((step) =>
        element(
          "li",
          {},
          element("strong", {}, step.title),
          ...step.cautions.map((caution) =>
            element("p", { class: "caution" }, element("span", { "aria-hidden": "true" }, "⚠ "), element("b", {}, "Caution: "), caution),
          ),
          element(
            "ul",
            { class: "boxes" },
            step.boxes.map((box) => element("li", {}, element("span", { class: "box", "aria-hidden": "true" }, "☐ "), box)),
          ),
          ...(step.table === undefined ? [] : [tables[step.table]()]),
        ),
      ),
    ),
    coils.standing === ""
      ? []
      : [
          element(
            "p",
            { class: "small" },
            `Coils: ${coils.standing}. Readings are computed; the room beside them is common practice, no source. The cautions don’t replace local codes, a manufacturer’s instructions or a licensed practitioner.`,
          ),
        ],
  );
}
