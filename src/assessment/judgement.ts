import { quieter } from "./change-words";
import type { Danger } from "./dangers";
import { suspectText } from "./suspect-text";
import type { Suspect } from "./suspects/groups";
import type { Change, TopicVerdict } from "./topic-verdict";
import type { Trust } from "./trust";

/** What it comes to. */
export type Overall = "better" | "worse" | "unchanged" | "a trade" | "not fit to be connected" | "no verdict";

/** The verdict on a network against the one found. */
export interface Judgement {
  /** In a word or a few. */
  readonly overall: Overall;
  /** What it comes to, dangers first. */
  readonly sentence: string;
  /** Of the network after. */
  readonly dangers: readonly Danger[];
  /** Each side of the goal. */
  readonly topics: readonly TopicVerdict[];
  /** How far the drawing explains what was measured. */
  readonly trust: Trust;
  /** Where the measured loudspeaker refutes the drawing: what may be wrong, best first. */
  readonly suspects: readonly Suspect[];
}

/** One word and one sentence from topics, dangers and trust; stated limits that couldn't be looked at are said. */
export function judgement(
  topics: readonly TopicVerdict[],
  dangers: readonly Danger[],
  trust: Trust,
  suspects: readonly Suspect[],
  limitsNotChecked: readonly string[] = [],
): Judgement {
  const by = (change: Change) => topics.filter((topic) => topic.change === change);
  const [better, worse, both] = [by("better"), by("worse"), by("both")];
  const overall: Overall =
    dangers.length > 0
      ? "not fit to be connected"
      : trust.state === "refuted"
        ? "no verdict"
        : both.length > 0 || (better.length > 0 && worse.length > 0)
          ? "a trade"
          : better.length > 0
            ? "better"
            : worse.length > 0
              ? "worse"
              : "unchanged";
  return Object.freeze({
    overall,
    sentence: sentenceOf(overall, topics, dangers, trust, suspects, limitsNotChecked, { better, worse, both }),
    dangers,
    topics,
    trust,
    suspects,
  });
}

type Groups = Readonly<Record<"better" | "worse" | "both", readonly TopicVerdict[]>>;

function sentenceOf(
  overall: Overall,
  topics: readonly TopicVerdict[],
  dangers: readonly Danger[],
  trust: Trust,
  suspects: readonly Suspect[],
  limitsNotChecked: readonly string[],
  { better, worse, both }: Groups,
): string {
  const name = (list: readonly TopicVerdict[]) =>
    list
      .map(({ topic, before, after, unit, decimals }) =>
        before === undefined || after === undefined ? topic : `${topic} (${before.toFixed(decimals)} → ${after.toFixed(decimals)} ${unit})`,
      )
      .join("; ");
  const unchecked = [
    trust.state === "not checked" ? " The model was not checked against the whole as measured." : "",
    limitsNotChecked.length === 0 ? "" : ` Not checked: ${limitsNotChecked.join("; ")}.`,
  ].join("");
  switch (overall) {
    case "not fit to be connected":
      return `The new network is not fit to be connected. ${dangers.map(({ sentence }) => sentence).join(". ")}.`;
    case "no verdict":
      if (suspects[0]?.fault === "unknown")
        return `There is no verdict. ${trust.sentence}. No single fault of a part or a driver comes nearer to what was measured than the drawing does: more than one thing may be wrong, something that isn't drawn, or a measurement.`;
      return `There is no verdict. ${trust.sentence}.${suspects.length === 0 ? "" : ` First suspects: ${suspects.slice(0, 3).map(suspectText).join("; ")}.${suspects[0]!.explains === false ? " None of them alone explains what was measured: more than one thing may be wrong, or a measurement." : ""}`}`;
    case "a trade":
      return `The new network is a trade: better ${better.length === 0 ? "in nothing as a whole" : name(better)}, bought with ${name([...worse, ...both])}.${unchecked}`;
    case "better":
      return `The new network is better: ${name(better)}; worse in no topic${quieter(topics)}.${unchecked}`;
    case "worse":
      return `The new network is worse: ${name(worse)}; better in no topic.${unchecked}`;
    case "unchanged":
      return `By this goal the new network changes nothing.${unchecked}`;
  }
}
