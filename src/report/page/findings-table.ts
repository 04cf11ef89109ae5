import { fixed } from "../../quantity/internal";
import type { Comparison, Finding } from "../../assessment";
import { markText } from "../bands";
import { byTopic, limitText, verdictText } from "../findings-words";
import { element, type Markup } from "../markup";
import { shortName, type Alternative } from "./alternative";
import { axisOf } from "./shown";
import { withUnit } from "./words";

/** The standing that most limits have: said once, behind a sign. */
const CUSTOM = "common practice, no source";

interface Row {
  readonly subject: string;
  readonly numbers: readonly (number | undefined)[];
  readonly unit: string;
  readonly decimals: number;
  readonly limit: string;
  readonly reason: string | undefined;
  readonly verdict: string;
  readonly sentence: string;
}

/** One table of everything that was judged: found, proposed, limit, verdict, and where, in words. Why the limits are what they are stands below, once each. */
export function findingsTable({ findings, before, after }: Comparison, alternative: Alternative | undefined): readonly Markup[] {
  const reasons: string[] = [];
  const note = (reason: string | undefined): string => {
    if (reason === undefined) return "";
    if (!reasons.includes(reason)) reasons.push(reason);
    return ` [${reasons.indexOf(reason) + 1}]`;
  };
  const heads = ["Finding", "Found", "Proposed", ...(alternative === undefined ? [] : [shortName(alternative)]), "Should be", "Verdict"];
  const row = ({ subject, numbers, unit, decimals, limit, reason, verdict: word, sentence }: Row): readonly Markup[] => [
    element(
      "tr",
      sentence === "" ? {} : { class: "with-words" },
      element("th", { scope: "row" }, subject),
      numbers.map((value, index) =>
        element(
          "td",
          { class: "right", "data-label": heads[index + 1] },
          value === undefined ? "–" : `${fixed(value, decimals)}${withUnit(unit)}`,
        ),
      ),
      element("td", { "data-label": "Should be" }, limit === "" ? "" : `${limit.replaceAll(" ", "\u00A0")}${note(reason)}`),
      element("td", { "data-label": "Verdict" }, word),
    ),
    ...(sentence === "" ? [] : [element("tr", { class: "words" }, element("td", { colspan: heads.length }, sentence))]),
  ];
  const group = (heading: string, rows: readonly Row[]): Markup =>
    element(
      "tbody",
      {},
      element("tr", { class: "group" }, element("th", { scope: "colgroup", colspan: heads.length }, heading)),
      rows.flatMap(row),
    );
  // What the plot of the axis says already isn’t said again.
  const said = new Set([before, after].flatMap((assessment) => (axisOf(assessment).sum.marks ?? []).map((mark) => JSON.stringify(mark))));
  const marks = [
    ...new Set(
      findings.flatMap((finding) =>
        finding.marks.filter((mark) => !said.has(JSON.stringify(mark))).map((mark) => markText(mark, 20, 20_000)),
      ),
    ),
  ];
  const body = [...byTopic(findings).map(({ heading, findings: of }) => group(heading, rowsOf(of, alternative)))];
  return [
    element(
      "div",
      { class: "scroll cards findings", role: "region", "aria-label": "Findings", tabindex: 0 },
      element(
        "table",
        {},
        element(
          "thead",
          {},
          element(
            "tr",
            {},
            heads.map((label, index) =>
              element("th", { scope: "col", ...(index > 0 && index < heads.length - 2 ? { class: "right" } : {}) }, label),
            ),
          ),
        ),
        body,
      ),
    ),
    ...(reasons.length === 0
      ? []
      : [
          element(
            "p",
            { class: "small" },
            reasons.map((reason, index) => `[${index + 1}] ${reason.replace(` (${CUSTOM})`, "*")}.`).join(" "),
            reasons.some((reason) => reason.endsWith(`(${CUSTOM})`)) ? ` * ${CUSTOM}.` : "",
          ),
        ]),
    ...(marks.length === 0
      ? []
      : [element("p", { class: "small" }, `What must be known of the data behind these findings: ${marks.join("; ")}.`)]),
  ];
}

/** dB against the axis below which an angle isn't worth a row of its own; common practice, no source. */
const QUIET_DB = 1;

/** The rows of a topic; angles at which next to nothing happens share one. */
function rowsOf(findings: readonly Finding[], alternative: Alternative | undefined): readonly Row[] {
  const numbersOf = (finding: Finding) => [
    finding.before,
    finding.after,
    ...(alternative === undefined ? [] : [thirdOf(finding, alternative)]),
  ];
  const quiet = findings.filter(
    (finding) =>
      finding.code === "off-axis" && finding.kept === true && numbersOf(finding).every((value) => Math.abs(value ?? 0) < QUIET_DB),
  );
  if (quiet.length < 2) return findings.map((finding) => rowOf(finding, alternative));
  const columns = quiet.map(numbersOf);
  const largest = columns[0]!.map((_, column) =>
    columns.reduce((most, row) => (Math.abs(row[column] ?? 0) > Math.abs(most) ? row[column]! : most), 0),
  );
  const shared: Row = {
    ...rowOf(quiet[0]!, alternative),
    subject: `change ${quiet.map(({ subject }) => subject.replace(/^change /, "")).join(", ")}: the largest of each`,
    numbers: largest,
    verdict: [...new Set(quiet.map(verdictText))].join(" or "),
  };
  return findings.flatMap((finding) => (finding === quiet[0] ? [shared] : quiet.includes(finding) ? [] : [rowOf(finding, alternative)]));
}

/** What the third network comes to in a row. */
function thirdOf({ code, subject }: Finding, { comparison }: Alternative): number | undefined {
  return comparison.findings.find((other) => other.code === code && other.subject === subject)?.after;
}

function rowOf(finding: Finding, alternative: Alternative | undefined): Row {
  const { subject, before, after, unit, decimals, threshold, sentence } = finding;
  const limit = limitText(finding);
  return {
    subject,
    numbers: [before, after, ...(alternative === undefined ? [] : [thirdOf(finding, alternative)])],
    unit,
    decimals,
    limit: limit === "" ? "" : `${limit}${withUnit(unit)}`,
    reason: threshold?.reason,
    verdict: verdictText(finding),
    sentence: REGULAR.has(finding.code) ? "" : sentence,
  };
}

/** Rows whose numbers say all, so that a sentence would say them again. */
const REGULAR: ReadonlySet<string> = /* @__PURE__ */ new Set([
  "off-axis",
  "sides",
  "sensitivity-2.83V",
  "sensitivity-1W",
  "smoothness",
  "slope-steepness",
  "slope-match",
  "tilt",
  "distance",
  "crossover",
  "phase-tracking",
  "reversed-null",
  "impedance-below-limit",
  "driver-excursion",
  "spared-driver",
  "source-resistance",
]);
