import { capital, fewDigits } from "../quantity/internal";
import type { Finding, Topic } from "../assessment";

/** The topics in the order in which they are read. */
const TOPICS: readonly Topic[] = ["on the axis", "crossover", "off the axis", "load and drive", "bass and damping"];

/** Findings by topic, with the topic's heading; topics without findings are left out. */
export function byTopic(findings: readonly Finding[]): readonly { readonly heading: string; readonly findings: readonly Finding[] }[] {
  return TOPICS.flatMap((topic) => {
    const of = findings.filter((finding) => finding.topic === topic);
    return of.length === 0 ? [] : [{ heading: capital(topic), findings: of }];
  });
}

/** What a finding should be: `"at most 3"`, `"within ±3"`; empty where nothing is asked. */
export function limitText({ threshold, better }: Finding): string {
  if (threshold === undefined) return "";
  const value = fewDigits(threshold.value);
  return better === "nearer to zero" ? `within ±${value}` : `${threshold.comparison} ${value}`;
}

/** The verdict in a word or two, with the limit where it isn't kept. */
export function verdictText({ verdict, kept, threshold }: Finding): string {
  const words = verdict === "cannot be decided from these data" ? "undecided" : verdict === "for information" ? "" : verdict;
  const beyond = kept !== false ? "" : threshold!.comparison === "at most" ? "above the limit" : "below the limit";
  return [words, beyond].filter((text) => text !== "").join(", ");
}
