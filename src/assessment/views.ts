import { listed, type Views } from "../errors";
import { markdownEscaped } from "../quantity";
import type { Comparison } from "./compare";
import type { Finding } from "./finding";

const number = (value: number, decimals: number): string => value.toFixed(Math.max(0, Math.min(20, decimals)));

/** A finding: what was judged, the numbers, and the verdict in one sentence. */
export const findingViews: Views<Finding> = {
  text: (finding) => `Finding: ${finding.verdict} (${finding.topic}, ${finding.code})\n  ${listed([finding.subject])}: ${numbers(finding)}\n  ${finding.sentence}`,
  markdown: ({ verdict, sentence }) => `**${markdownEscaped(verdict)}**: ${markdownEscaped(sentence)}`,
};

function numbers({ before, after, unit, decimals }: Finding): string {
  return `${number(before, decimals)} before, ${number(after, decimals)} after${unit === "" ? "" : ` (${unit})`}`;
}

/** A list of findings; in a notebook as a table. */
export const findingsViews: Views<readonly Finding[]> = {
  text: (findings) => [
    `Findings: ${findings.length}`,
    ...findings.slice(0, 10).map((finding) => `  ${finding.verdict}: ${listed([finding.subject])}, ${numbers(finding)}`),
    ...(findings.length > 10 ? [`  and ${findings.length - 10} more`] : []),
  ].join("\n"),
  markdown: findingsTable,
};

function findingsTable(findings: readonly Finding[]): string {
  const rows = findings.map(({ subject, before, after, unit, decimals, verdict }) =>
    `| ${[subject, number(before, decimals), number(after, decimals), unit, verdict].map(markdownEscaped).join(" | ")} |`);
  return ["| Finding | Before | After | Unit | Verdict |", "| --- | ---: | ---: | --- | --- |", ...rows].join("\n");
}

/** A comparison: its verdict, and what is worse or undecided by name. */
export const comparisonViews: Views<Comparison> = {
  text: ({ verdict, findings, model }) => {
    const of = (wanted: Finding["verdict"]): string => listed(findings.filter((finding) => finding.verdict === wanted).map(({ subject }) => subject), 6);
    return [
      `Comparison: ${verdict}`,
      `  better: ${of("better")}`,
      `  worse: ${of("worse")}`,
      `  undecided: ${of("cannot be decided from these data")}`,
      `  model: ${model === undefined ? "not checked against a measurement of the whole" : `checked at ${model.places} measured ${model.places === 1 ? "place" : "places"}`}`,
    ].join("\n");
  },
  markdown: ({ verdict, findings }) => `${markdownEscaped(verdict)}\n\n${findingsTable(findings)}`,
};
