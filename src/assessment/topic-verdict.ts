import type { TopicName } from "./planes";

/** One side of the goal, before and after. Topics count once, however much was measured of them. */
export interface TopicVerdict {
  /** What is judged. */
  readonly topic: TopicName;
  /** `"both"`: better at one angle or driver, worse at another. */
  readonly change: "better" | "worse" | "unchanged" | "both" | "not checked";
  /** The number before, in `unit`; absent where it wasn't checked. */
  readonly before?: number;
  /** The number after, in `unit`. */
  readonly after?: number;
  /** Of `before` and `after`. */
  readonly unit: string;
  /** Decimals worth printing. */
  readonly decimals: number;
  /** What it should be, in words; empty where nothing is asked. */
  readonly limit: string;
  /** Whether `after` keeps it. */
  readonly kept?: boolean;
  /** In words. */
  readonly sentence: string;
}

/** What a topic comes to. */
export type Change = TopicVerdict["change"];
