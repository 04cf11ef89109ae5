import type { Quality } from "./quality";
import { changeOf } from "./topic-change";
import type { TopicVerdict } from "./topic-verdict";

/** dB of |Z|, and the ease beyond which an amplifier doesn't care: twice its limit (choice, no source). */
const [LOAD_DB, EASE_DB] = [0.5, 6];
/** dB of a driver's voltage, and how far beyond its limit it still counts (choice, no source). */
const [DRIVE_DB, SPARE_DB] = [1, 6];

/** What the amplifier sees. */
export function load(before: Quality, after: Quality): TopicVerdict {
  const louder = after.levelDb - before.levelDb;
  const { limit } = after.load;
  const [a, b] = [before.load.minimum, after.load.minimum];
  // Without a limit the same ease is reckoned from the easier of the two.
  const eased = (ohms: number) => Math.min(EASE_DB, 20 * Math.log10(ohms / (limit ?? Math.max(a, b) / 2)));
  const gain = eased(b) - eased(a);
  const [least, most] = [Math.min(a, b), Math.max(a, b)];
  return {
    topic: "load",
    // What the amplifier doesn't bear counts as it is; ease beyond that only as far as it isn't bought with level. Where one is borne and the other isn't, however little lies between counts.
    change: changeOf(
      [limit !== undefined && least < limit ? gain : notBought(gain, louder)],
      limit !== undefined && least < limit && most >= limit ? 0 : LOAD_DB,
    ),
    before: a,
    after: b,
    unit: "Ω",
    decimals: 2,
    limit: limit === undefined ? "" : `at least ${limit.toFixed(2)} Ω`,
    ...(limit === undefined ? {} : { kept: b >= limit }),
    sentence: `The smallest impedance is ${a.toFixed(2)} Ω before and ${b.toFixed(2)} Ω after`,
  };
}

/** An ease in dB that isn't only bought with level: a resistor in series makes any load easier, and a louder loudspeaker takes more. */
function notBought(ease: number, louder: number): number {
  return ease > 0 ? Math.max(0, ease + Math.min(0, louder)) : Math.min(0, ease + Math.max(0, louder));
}

/** What the drivers that are to be spared get at their resonances. */
export function drivers(before: Quality, after: Quality): TopicVerdict {
  const pairs = after.spared.flatMap((now) => {
    const then = before.spared.find(({ driver }) => driver === now.driver);
    return now.belowDb === undefined || then?.belowDb === undefined
      ? []
      : [{ driver: now.driver, a: then.belowDb, b: now.belowDb, limit: now.limitDb }];
  });
  if (pairs.length === 0)
    return {
      topic: "drivers",
      change: "not checked",
      unit: "dB",
      decimals: 1,
      limit: "",
      sentence:
        after.spared.length === 0
          ? "No driver is named that must be spared"
          : `Drive of ${after.spared.map(({ driver }) => driver).join(", ")}: not checked, no resonance in the impedance`,
    };
  const counted = (below: number, limit: number) => Math.min(limit + SPARE_DB, below);
  // Each column by itself: what stood there before doesn't hang on what is proposed.
  const least = (of: "a" | "b") => pairs.reduce((worst, pair) => (pair[of] - pair.limit < worst[of] - worst.limit ? pair : worst));
  const [then, now] = [least("a"), least("b")];
  return {
    topic: "drivers",
    change: changeOf(
      pairs.map(({ a, b, limit }) => counted(b, limit) - counted(a, limit)),
      DRIVE_DB,
    ),
    before: then.a,
    after: now.b,
    unit: "dB",
    decimals: 1,
    limit: `at least ${now.limit} dB`,
    kept: pairs.every(({ b, limit }) => b >= limit),
    sentence:
      then.driver === now.driver
        ? `At its resonance the ${now.driver} gets ${now.a.toFixed(1)} dB less than in its passband before and ${now.b.toFixed(1)} dB less after`
        : `Least spared at its resonance is the ${then.driver} before, with ${then.a.toFixed(1)} dB less than in its passband, and the ${now.driver} after, with ${now.b.toFixed(1)} dB less`,
  };
}
