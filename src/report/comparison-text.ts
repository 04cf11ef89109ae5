import { checkNumber, checkOptions } from "../errors";
import type { Comparison } from "../assessment";
import { textTable } from "./text-table";

/**
 * The findings of a comparison as a table for the terminal, with the verdict and the model's check.
 *
 * @param comparison from `compare`
 * @param options `width` of the terminal in columns (dimensionless), default 100
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
export function comparisonText({ findings, verdict, model }: Comparison, options: { readonly width?: number } = {}): string {
  const width = checkNumber("comparisonText", "width", checkOptions("comparisonText", options, ["width"]).width ?? 100, { min: 20, max: 1000, integer: true });
  const number = (value: number, decimals: number) => value.toFixed(decimals).replace(/^-(0(\.0*)?)$/, "$1");
  const rows = findings.map((finding) => [
    finding.subject,
    `${number(finding.before, finding.decimals)}`,
    `${number(finding.after, finding.decimals)}`,
    finding.unit,
    finding.threshold === undefined ? "" : `${finding.threshold.comparison} ${Number(finding.threshold.value.toPrecision(3))}${finding.kept === true ? "" : " (no)"}`,
    finding.residual === undefined ? "" : number(finding.residual, finding.decimals),
    finding.verdict === "cannot be decided from these data" ? "undecided" : finding.verdict === "for information" ? "" : finding.verdict,
  ]);
  const columns = [{ label: "Finding" }, { label: "As found", align: "right" as const }, { label: "Proposed", align: "right" as const }, { label: "Unit" }, { label: "Should be" }, { label: "Miss", align: "right" as const }, { label: "Verdict" }];
  const check =
    model === undefined
      ? "The model was not checked against a measurement of the whole."
      : `Model check at ${model.places} places: level ${missed(model.levelDb, "dB")}, impedance ${missed(model.impedance, "Ω")}. "Miss": by how much each finding is missed.`;
  return `${textTable({ columns, rows, width })}\n${check}\n\n${verdict}\n`;
}

function missed(value: number | undefined, unit: string): string {
  return value === undefined ? "not measured" : `missed by ${value.toFixed(unit === "Ω" ? 3 : 2)} ${unit} (rms)`;
}
