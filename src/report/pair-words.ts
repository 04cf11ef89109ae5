import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { suspectText, type PairComparison } from "../assessment";

/** Left against right in sentences: what `comparePair` says, then what may be wrong in either. */
export function pairWords({ sentence, suspects }: PairComparison): readonly string[] {
  const wrong = (["left", "right"] as const).flatMap((side) => {
    const [first, ...more] = suspects[side].slice(0, 3);
    return first === undefined
      ? []
      : [
          `What may be wrong in the ${side} one, by its drawing: ${[first, ...more].map(suspectText).join("; ")}.${first.explains === false ? " None of them alone explains what was measured." : ""}`,
        ];
  });
  return [`${sentence}.`, ...wrong];
}

/** A pair, or nothing. */
export function checkPair(caller: string, pair: PairComparison | undefined): PairComparison | undefined {
  if (pair === undefined) return undefined;
  if (
    typeof pair === "object"
    && pair !== null
    && typeof pair.sentence === "string"
    && Array.isArray(pair.suspects?.left)
    && Array.isArray(pair.suspects.right)
  )
    return pair;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "pair" must be what comparePair gives, got ${show(pair)}`,
    "Make it with comparePair(left, right)",
  );
}
