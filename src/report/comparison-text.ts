import { fixed } from "../quantity/internal";
import { checkNumber, checkOptions } from "../errors/internal";
import { suspectText, type Comparison, type PairComparison } from "../assessment";
import { changeWords } from "../assessment/internal";
import type { Stock } from "../parts";
import { checkStock } from "../parts/internal";
import { checkAlternative, thirdSentence, type Alternative } from "./page/alternative";
import { checkComparison } from "./check-comparison";
import { byTopic, limitText, verdictText } from "./findings-words";
import { notChecked } from "./not-checked";
import { checkPair, pairWords } from "./pair-words";
import { isRefuted, refutedWords } from "./refuted";
import { shoppingText } from "./shopping-text";
import { textTable } from "./text-table";
import { columnsOf, wrapText } from "./text-width";

const COLUMNS = [
  { label: "Finding" },
  { label: "Before", align: "right" },
  { label: "After", align: "right" },
  { label: "Unit" },
  { label: "Should be" },
  { label: "Misses", align: "right" },
  { label: "Verdict" },
] as const;

const TOPIC_COLUMNS = [
  { label: "Topic" },
  { label: "Before", align: "right" },
  { label: "After", align: "right" },
  { label: "Unit" },
  { label: "Should be" },
  { label: "Change" },
] as const;

/** What the text says beside the comparison. */
export interface ComparisonTextOptions {
  /** Columns of the terminal, dimensionless; default 100. */
  readonly width?: number | undefined;
  /** Left against right of the pair as found, from `comparePair`. */
  readonly pair?: PairComparison | undefined;
  /** The parts that can be had: the shopping list then says what to take for a pair, and what it costs. */
  readonly stock?: Stock | undefined;
  /** A third network: a sentence says what it comes to against the one found. */
  readonly alternative?: Alternative | undefined;
}

/**
 * The findings of a comparison as a table for the terminal, with the verdict, the model's check and the shopping list (Ω, mH, µF, W, V, A).
 *
 * @param comparison from `compare`
 * @param options `width` of the terminal in columns (dimensionless), default 100; `pair`, from `comparePair`; `stock`, from `stock` or `readStockCsv`; `alternative`, a third network
 * @returns text, lines of at most `width` columns
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess, compare } from "dividing-network/assessment";
 * import { comparisonText } from "dividing-network/report";
 *
 * const grid = logGrid(100, 20_000, 200);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const pair = assess(loudspeaker({
 *   network: { L1: [inductor("0.42 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * }), { ratedImpedance: 8 });
 * comparisonText(compare(pair, pair)).includes("sensitivity for 2.83 V"); // true
 * ```
 */
export function comparisonText(comparison: Comparison, options: ComparisonTextOptions = {}): string {
  const checked = checkComparison("comparisonText", comparison);
  const { findings, verdict, model, after } = checked;
  const {
    width: columns = 100,
    pair,
    stock: given,
    alternative: other,
  } = checkOptions("comparisonText", options, ["width", "pair", "stock", "alternative"]);
  const alternative = checkAlternative("comparisonText", other, checked);
  const drawer = given === undefined ? undefined : checkStock("comparisonText", "stock", given);
  const stereo = checkPair("comparisonText", pair);
  const width = checkNumber("comparisonText", "width", columns, { min: 20, max: 1000, integer: true });
  const rows = byTopic(findings).flatMap(({ heading, findings: of }, index) => [
    ...(index === 0 ? [] : [COLUMNS.map(() => "")]),
    COLUMNS.map((_, column) => (column === 0 ? heading.toUpperCase() : "")),
    ...of.map((finding) => [
      finding.subject,
      fixed(finding.before, finding.decimals),
      fixed(finding.after, finding.decimals),
      finding.unit,
      limitText(finding),
      finding.residual === undefined ? "" : fixed(finding.residual, finding.decimals),
      verdictText(finding),
    ]),
  ]);
  const topics = textTable({
    columns: TOPIC_COLUMNS,
    rows: verdict.topics.map(({ topic, before, after, unit, decimals, limit }, index) => [
      topic,
      before === undefined ? "" : fixed(before, decimals),
      after === undefined ? "" : fixed(after, decimals),
      before === undefined ? "" : unit,
      limit,
      changeWords(verdict.topics[index]!),
    ]),
    width,
  });
  const check =
    model === undefined
      ? "The model was not checked against a measurement of the whole."
      : `"Misses" is by how much the model misses the finding of the loudspeaker as measured; what it cannot resolve is undecided.\nOver all, at ${model.places} measured ${model.places === 1 ? "place" : "places"}: level ${missed(model.levelDb, "dB")}, impedance ${missed(model.impedance, "Ω")}.`;
  const line = (text: string) => wrapText(text, width, columnsOf).join("\n");
  const third = alternative === undefined ? "" : `${line(`The third network, ${thirdSentence(alternative)}`)}\n`;
  const suspected =
    verdict.suspects.length === 0
      ? ""
      : `\n${line("Suspects, best first (what is left, in units of the repeatability):")}\n${verdict.suspects
          .slice(0, 5)
          .map((suspect) =>
            line(
              `  ${suspectText(suspect)}: ${suspect.misfit.toFixed(2)}${suspect.explains === true ? ", explains all of it alone" : ""}${suspect.wouldTell === undefined ? "" : `. ${suspect.wouldTell}`}`,
            ),
          )
          .join("\n")}\n`;
  const refuted = isRefuted(checked);
  const box = (words: readonly string[]) => words.map((each) => `${line(each)}\n`).join("");
  // By topic, and what isn't checked, is said of this loudspeaker alone.
  const judged = refuted ? "" : `${topics}\n${line(notChecked(after))}\n`;
  const bought = shoppingText(checked, drawer, width);
  return `${box(refutedWords(checked, "summary"))}${line(verdict.sentence)}\n${refuted ? "" : third}\n${judged}${line(`${verdict.trust.sentence}.`)}\n${suspected}\n${refuted ? `${line("What the drawing that is refuted would do:")}\n` : ""}${textTable({ columns: COLUMNS, rows, width })}\n${line(check)}\n${stereo === undefined ? "" : `\n${pairWords(stereo).map(line).join("\n")}\n`}\n${bought === "" ? "" : box(refutedWords(checked, "shopping"))}${bought}\n${line(verdict.sentence)}\n`;
}

function missed(value: number | undefined, unit: string): string {
  return value === undefined ? "not measured" : `missed by ${value.toFixed(unit === "Ω" ? 3 : 2)} ${unit} (rms)`;
}
