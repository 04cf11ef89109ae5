import type { Stock } from "../parts";
import { checkStock } from "../parts/internal";
import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Comparison, PairComparison, Spread } from "../assessment";
import { buildSheet, type BuildSheetOptions } from "./build-sheet/build-sheet";
import { buildSheetBlocks } from "./build-sheet/build-sheet-blocks";
import { paragraph } from "./blocks";
import { checkComparison } from "./check-comparison";
import { htmlPage, type PageSection } from "./html-page";
import { checkText, element, type Markup } from "./markup";
import { checkAlternative, type Alternative } from "./page/alternative";
import { inputs, modelCheck } from "./page/appendix";
import { findingsTable } from "./page/findings-table";
import { plots } from "./page/plots";
import { networksOf } from "./page/shown";
import { shopping } from "./page/shopping";
import { summary } from "./page/summary";
import { checkPair, pairWords } from "./pair-words";
import { schematics } from "./schematics";
import { isRefuted, refutedBox } from "./refuted";
import { spreadBlocks } from "./spread-blocks";

/** What the page says beside the comparison. */
export interface ComparisonPageOptions {
  /** The page's heading. */
  readonly title: string;
  /** What the loudspeaker is, and whether it is invented. */
  readonly description?: string | undefined;
  /** What was read: stands among the inputs. */
  readonly generatedFrom?: string | undefined;
  /** A third network, such as one made by hand: one more number in each tile and row, one more curve on the axis. */
  readonly alternative?: Alternative | undefined;
  /** For the build sheet: windings and board (m), drivers' resistances (Ω). */
  readonly build?: BuildSheetOptions | undefined;
  /** Left against right of the pair as found, from `comparePair`. */
  readonly pair?: PairComparison | undefined;
  /** From `spread`, for the proposed network: what tolerances do to its sound. */
  readonly spread?: Spread | undefined;
  /** What is proven of the proposed network, such as `proof` of a member of `redesign`'s front: one sentence of the summary. */
  readonly proof?: string | undefined;
  /** The parts that can be had, from `stock` or `readStockCsv`: the shopping list then says what to take for a pair, and what it costs. */
  readonly stock?: Stock | undefined;
}

/**
 * The whole comparison as one self-contained HTML page of four to five printed sides: summary, schematics, plots in pairs (dB re 20 µPa, Ω, degrees),
 * shopping list, build sheet on a side of its own, and an appendix with every finding, the inputs and the model's check.
 *
 * @param comparison from `compare`
 * @param options texts; a third network; what the build sheet is told, m and Ω; a pair, from `comparePair`; what tolerances do, dB; a stock, its prices dimensionless
 * @returns the text of the HTML document
 * @throws DividingNetworkError `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess, compare } from "dividing-network/assessment";
 * import { comparisonPage } from "dividing-network/report";
 *
 * const grid = logGrid(100, 20_000, 200);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const pair = assess(loudspeaker({
 *   network: { L1: [inductor("0.42 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * }), { ratedImpedance: 8 });
 * comparisonPage(compare(pair, pair), { title: "Nothing changed" }).startsWith("<!DOCTYPE html>"); // true
 * ```
 */
export function comparisonPage(comparison: Comparison, options: ComparisonPageOptions): string {
  const caller = "comparisonPage";
  const {
    title,
    description,
    generatedFrom,
    alternative: other,
    build,
    pair: given,
    spread,
    proof,
    stock,
  } = checkOptions(caller, options, ["title", "description", "generatedFrom", "alternative", "build", "pair", "spread", "proof", "stock"]);
  checkText(caller, "title", title);
  for (const [argument, text] of Object.entries({ description, generatedFrom, proof }))
    if (text !== undefined) checkText(caller, argument, text);
  const drawer = stock === undefined ? undefined : checkStock(caller, "stock", stock);
  const pair = checkPair(caller, given);
  const checked = checkComparison(caller, comparison);
  const alternative = checkAlternative(caller, other, checked);
  // What tolerances do to a loudspeaker that isn't this one helps nobody.
  const tolerances = isRefuted(checked) ? undefined : spread;
  const sections: PageSection[] = [
    { heading: "Summary", html: summary(checked, alternative, description, proof) },
    { heading: "Schematics", html: schematics(checked) },
    ...(pair === undefined ? [] : [{ heading: "Left against right", html: pairWords(pair).map((words) => paragraph(words)) }]),
    ...(tolerances === undefined
      ? []
      : [{ heading: "From one loudspeaker to the next", html: spreadBlocks(tolerances), onPaper: "together" as const }]),
    { heading: "Plots", html: plots(networksOf(checked, alternative), tolerances) },
    { heading: "Shopping list", html: [...refutedBox(checked, "shopping"), shopping(checked, drawer)] },
    { heading: "Build sheet", html: [...refutedBox(checked, "sheet"), sheetOf(checked, build, drawer)], onPaper: "own-side" },
    {
      heading: "Appendix: findings, inputs, the model’s check",
      html: [
        ...findingsTable(checked, alternative),
        element(
          "div",
          { class: "tight" },
          element("h3", {}, "Inputs and the model’s check"),
          inputs(checked, generatedFrom),
          modelCheck(checked),
        ),
      ],
      onPaper: "own-side",
    },
  ];
  return htmlPage({ title, sections });
}

/** The build sheet, or why there is none. */
function sheetOf(comparison: Comparison, build: BuildSheetOptions | undefined, stock: Stock | undefined): Markup {
  try {
    const told = checkOptions("buildSheet", build ?? {}, ["coils", "resistances", "stock"]);
    return buildSheetBlocks(buildSheet(comparison, stock === undefined ? told : { ...told, stock }));
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    return paragraph(`There is no build sheet: ${error.message}`);
  }
}
