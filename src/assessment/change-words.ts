import type { TopicVerdict } from "./topic-verdict";

/** dB of level that nobody misses: less isn't said. */
const HEARD_DB = 0.5;

/** What level was given up within what the goal allows: no topic is worse for it, and it is said all the same. */
function givenUpLevel({ topic, change, before, after }: TopicVerdict): string | undefined {
  const allowed = topic === "loudness" && change === "unchanged" && before !== undefined && after !== undefined;
  return allowed && before - after >= HEARD_DB ? `${(before - after).toFixed(1)} dB quieter` : undefined;
}

/**
 * What became of a topic, in words for a table.
 *
 * @param topic of a verdict, its values in its own unit
 * @returns its change; of loudness that was given up within its limit, how much
 */
export function changeWords(topic: TopicVerdict): string {
  const level = givenUpLevel(topic);
  const words = topic.change === "both" ? "better here, worse there" : topic.change;
  return `${level === undefined ? words : `${level}, allowed`}${topic.kept === false ? ", limit not kept" : ""}`;
}

/** The same for the end of a sentence; empty where no level was given up. */
export function quieter(topics: readonly TopicVerdict[]): string {
  const level = topics.map(givenUpLevel).find((each) => each !== undefined);
  return level === undefined ? "" : `, ${level} as the goal allows`;
}
