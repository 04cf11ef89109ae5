import { listed, type Views } from "../errors/internal";
import { formatQuantity } from "../quantity";
import { markdownEscaped } from "../quantity/internal";
import type { Assessment } from "./assessment-data";
import type { Comparison } from "./comparison-data";
import type { PairComparison } from "./comparison-data";
import type { Finding } from "./finding-data";
import type { TopicVerdict } from "./topic-verdict";

const number = (value: number, decimals: number): string => value.toFixed(Math.max(0, Math.min(20, decimals)));

/** A finding: what was judged, the numbers, and the verdict in one sentence. */
export const findingViews: Views<Finding> = {
  text: (finding) =>
    `Finding: ${finding.verdict} (${finding.topic}, ${finding.code})\n  ${listed([finding.subject])}: ${numbers(finding)}\n  ${finding.sentence}`,
  markdown: ({ verdict, sentence }) => `**${markdownEscaped(verdict)}**: ${markdownEscaped(sentence)}`,
};

function numbers({ before, after, unit, decimals }: Finding): string {
  return `${number(before, decimals)} before, ${number(after, decimals)} after${unit === "" ? "" : ` (${unit})`}`;
}

/** A list of findings; in a notebook as a table. */
export const findingsViews: Views<readonly Finding[]> = {
  text: (findings) =>
    [
      `Findings: ${findings.length}`,
      ...findings.slice(0, 10).map((finding) => `  ${finding.verdict}: ${listed([finding.subject])}, ${numbers(finding)}`),
      ...(findings.length > 10 ? [`  and ${findings.length - 10} more`] : []),
    ].join("\n"),
  markdown: findingsTable,
};

function findingsTable(findings: readonly Finding[]): string {
  const rows = findings.map(
    ({ subject, before, after, unit, decimals, verdict }) =>
      `| ${[subject, number(before, decimals), number(after, decimals), unit, verdict].map(markdownEscaped).join(" | ")} |`,
  );
  return ["| Finding | Before | After | Unit | Verdict |", "| --- | ---: | ---: | --- | --- |", ...rows].join("\n");
}

const hertz = (frequency: number): string => formatQuantity(frequency, "Hz", { digits: 3 });

const decibels = (value: number): string => value.toFixed(1).replace("-", "−");

/** On one line, and not a long one. */
const short = (sentence: string): string => (sentence.length > 200 ? `${sentence.slice(0, 199)}…` : sentence).replace(/[\r\n]+/g, " ");

/** An assessment: how loud and how smooth, the load, where drivers hand over, and what could do harm. */
export const assessmentViews: Views<Assessment> = {
  text: ({ band, distance, sensitivity, ratedImpedance, quality, load, handovers, dangers, limitsNotChecked }) =>
    [
      `Assessment: at ${formatQuantity(distance, "m", { digits: 3 })}, judged from ${hertz(band.from)} to ${hertz(band.to)}`,
      `  sensitivity ${decibels(sensitivity.for2V83Db)} dB for 2.83 V, ${decibels(sensitivity.for1WDb)} dB for 1 W into ${formatQuantity(ratedImpedance, "Ω", { digits: 3 })}`,
      `  on the axis ${quality.axisDb.toFixed(2)} dB from its target (rms), largest ${decibels(quality.worstDb)} dB at ${hertz(quality.worstFrequency)}`,
      `  off the axis: ${quality.places.length} places judged`,
      `  least |Z| ${formatQuantity(load.minimum, "Ω", { digits: 3 })} at ${hertz(load.minimumFrequency)}`,
      `  crossovers: ${listed(
        handovers.map(({ lower, upper, frequency }) => `${lower} to ${upper} at ${hertz(frequency)}`),
        4,
      )}`,
      `  dangers: ${dangers.length}`,
      ...dangers.slice(0, 3).map(({ sentence }) => `    ${short(sentence)}`),
      ...(limitsNotChecked.length === 0 ? [] : [`  not checked: ${short(limitsNotChecked.join("; "))}`]),
      "  ask: .quality, .dangers, .ratings, .handovers, .causes, .offAxis, .load; compare(before, after) gives a verdict",
    ].join("\n"),
};

/** A comparison: the verdict's sentence, and each topic. */
export const comparisonViews: Views<Comparison> = {
  text: ({ verdict }) =>
    [
      `Comparison: ${verdict.sentence}`,
      ...verdict.topics.map(({ change, sentence }) => `  ${change}: ${sentence}`),
      `  ${verdict.trust.sentence}`,
    ].join("\n"),
  markdown: ({ verdict, findings }) =>
    `**${markdownEscaped(verdict.sentence)}**\n\n${topicsTable(verdict.topics)}\n\n${findingsTable(findings)}`,
};

/** A pair: its sentence, place by place. */
export const pairViews: Views<PairComparison> = {
  text: ({ sentence, places, suspects: { left, right } }) =>
    [
      `Pair: ${sentence}`,
      ...places
        .slice(0, 10)
        .map(
          ({ azimuth, elevation, meanDb, spreadDb }) =>
            `  azimuth ${azimuth}°, elevation ${elevation}°: ${number(meanDb, 1)} dB on the average, ${number(spreadDb, 1)} dB in colour`,
        ),
      `  suspects: ${left.length} in the left, ${right.length} in the right`,
    ].join("\n"),
  markdown: ({ sentence }) => markdownEscaped(sentence),
};

function topicsTable(topics: readonly TopicVerdict[]): string {
  const size = (value: number | undefined, decimals: number, unit: string) =>
    value === undefined ? "" : `${number(value, decimals)} ${unit}`;
  return [
    "| Topic | Before | After | Limit | |",
    "| --- | ---: | ---: | --- | --- |",
    ...topics.map(
      ({ topic, before, after, decimals, unit, limit, change }) =>
        `| ${[topic, size(before, decimals, unit), size(after, decimals, unit), limit, change].map(markdownEscaped).join(" | ")} |`,
    ),
  ].join("\n");
}
