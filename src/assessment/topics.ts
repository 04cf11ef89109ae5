import { drivers, load } from "./electric-topics";
import type { Goal } from "./goal-types";
import type { Quality } from "./quality";
import { loudness, onAxis, outside, planes } from "./sound-topics";
import type { TopicVerdict } from "./topic-verdict";

/** The topics, each judged by itself. */
export function topicsOf(before: Quality, after: Quality, goal: Goal): readonly TopicVerdict[] {
  return Object.freeze(
    [
      onAxis(before, after, goal),
      ...planes(before, after, goal),
      ...outside(before, after),
      load(before, after),
      drivers(before, after),
      loudness(before, after, goal),
    ].map((topic) => Object.freeze(topic)),
  );
}
