import type { TopicName } from "./planes";

/** Why one side of the goal isn't kept. */
export interface Cause {
  /** Which side. */
  readonly topic: TopicName;
  /** Degrees: where, of what lies off the axis. */
  readonly azimuth?: number;
  /** Degrees. */
  readonly elevation?: number;
  /** Hz. */
  readonly frequency: number;
  /** dB from the target there, with its sign: of a level; of |Z| against the amplifier's limit; of what a driver is spared against what it should be. */
  readonly deviationDb: number;
  /**
   * `"two branches"`: how they stand to each other makes it; `"one driver"`: what the loudest gives by itself, its voltage's share left out; `"voltage"`: what the network gives it;
   * `"level"`: neither strays around there, but the whole branch is too loud or too quiet against the rest; `"current"`: what the named parts draw.
   */
  readonly kind: "two branches" | "one driver" | "voltage" | "level" | "current";
  /** Parts of the branches that make it. */
  readonly parts: readonly string[];
  /** In words. */
  readonly sentence: string;
}
