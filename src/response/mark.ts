/**
 * Something that a reader of a response must know about a band of it: below a gate's limit there is no data, a splice
 * or a model stands in for a measurement, the curve was smoothed. Arithmetic carries marks into its result.
 */
export interface Mark {
  /** What is wrong with, or special about, the data there. */
  readonly kind: "no-data" | "coarse" | "model" | "splice" | "smoothed" | "uncertain";
  /** Hz; absent: from the lowest frequency on. */
  readonly from?: number | undefined;
  /** Hz; absent: up to the highest frequency. */
  readonly to?: number | undefined;
  /** One sentence for people. */
  readonly note: string;
}
