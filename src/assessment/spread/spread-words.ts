import { capital, fewDigits, listOf } from "../../quantity/internal";
import type { Spread, SpreadContribution, SpreadCriterion } from "./spread-types";

const DRIVER_WORDS: Readonly<Record<string, string>> = { levelDb: "level", resonance: "resonance", q: "Q", delay: "delay" };
const MAIN = new Set(["resistance", "inductance", "capacitance"]);

/** A thing that scatters, in words. */
export function contributionName({ of, quantity }: Pick<SpreadContribution, "of" | "quantity">): string {
  const names = listOf(of);
  const lot = of.length > 1 ? " (one lot)" : "";
  const driver = DRIVER_WORDS[quantity];
  if (driver !== undefined) return `the ${driver} of the ${names}${lot}`;
  return MAIN.has(quantity) ? `${names}${lot}` : `the ${quantity} of ${names}${lot}`;
}

/** A tolerance in words: ±5 %, ±1 dB, ±5 µs. */
export function toleranceText({ tolerance, unit }: Pick<SpreadContribution, "tolerance" | "unit">): string {
  return unit === "dB"
    ? `±${fewDigits(tolerance)} dB`
    : unit === "s"
      ? `±${fewDigits(tolerance * 1e6)} µs`
      : `±${fewDigits(tolerance * 100)} %`;
}

/** A share in whole percent; what isn't all is never rounded to all, nor what is something to nothing. */
function percent(share: number): string {
  if (share > 0.9995 && share < 1) return "over 99.9 %";
  if (share > 0 && share < 0.0005) return "under 0.1 %";
  const tenths = (share >= 0.995 && share < 1) || (share > 0 && share < 0.005);
  return `${(100 * share).toFixed(tenths ? 1 : 0)} %`;
}

/** A limit in words. */
export function criterionText({ name, limit, unit }: Pick<SpreadCriterion, "name" | "limit" | "unit">): string {
  const number = `${unit === "Ω" ? limit.toFixed(2) : limit.toFixed(1)} ${unit}`;
  if (name === "loss") return `at most ${limit.toFixed(2)} dB from the goal`;
  if (name === "corridor") return `within ±${number} of the target`;
  if (name === "smallestImpedance") return `|Z| at least ${number}`;
  if (name === "smallestPeakDissipationResistance") return `peak dissipation as of ${number} at least`;
  if (name === "leastLevelDb") return `a level of at least ${number}`;
  return `the ${name.replace("drivers.", "")} ${number} lower at its resonance than in its passband`;
}

/** The answer in a few sentences. */
export function spreadSentences(spread: Omit<Spread, "sentences">, count: "kept" | "all" = "kept"): readonly string[] {
  const { yield: good, criteria, ranking, pair, matchedPair, samples, assumed } = spread;
  const sentences: string[] = [];
  if (ranking.length === 0) sentences.push("Nothing scatters: every tolerance is 0.");
  const kept = criteria.filter((one) => one.kept || count === "all");
  const [low, high] = good.interval;
  const lost = criteria.filter((one) => !one.kept && count === "kept");
  if (lost.length > 0 && kept.length > 0)
    sentences.push(`Not kept as drawn, and so not counted in what follows: ${lost.map(criterionText).join(", ")}.`);
  if (kept.length === 0) sentences.push("Nothing that is asked for is kept as drawn, so that no share of good loudspeakers can be given.");
  else
    sentences.push(
      `Of ${samples} loudspeakers drawn within these tolerances, ${percent(good.share)} (${percent(low)} to ${percent(high)} with 95 % confidence) keep: ${kept.map(criterionText).join(", ")}.`,
    );
  const [first] = ranking;
  if (first !== undefined && first.share > 0) {
    const better = ranking.filter(({ yieldIfExact }) => yieldIfExact !== undefined).sort((a, b) => b.yieldIfExact! - a.yieldIfExact!)[0];
    sentences.push(shareSentence(ranking));
    if (better !== undefined && kept.length > 0 && better.yieldIfExact! > good.share + 0.01)
      sentences.push(`With ${contributionName(better)} exact, ${percent(better.yieldIfExact!)} would be good: ${advice(better)}.`);
    else if (good.share < 0.995 && kept.length > 0)
      sentences.push("No single part or driver made exact would raise that by more than 1 %.");
    sentences.push(
      `Left and right differ by ${pair.rmsDb.median.toFixed(2)} dB (root mean square over the band) in half of all pairs, and by ${pair.rmsDb.most.toFixed(2)} dB in one of twenty${matchedPair === undefined ? "" : `; with what is matched, by ${matchedPair.rmsDb.median.toFixed(2)} dB and ${matchedPair.rmsDb.most.toFixed(2)} dB`}.`,
    );
  }
  if (assumed.length > 0) sentences.push(`Assumed, since nothing else is stated: ${assumed.join("; ")}.`);
  return sentences;
}

/** What makes most of the spread, and what comes second. */
export function shareSentence([first, second]: readonly SpreadContribution[]): string {
  if (first === undefined) return "";
  const of = (one: SpreadContribution) => `${contributionName(one)} (${toleranceText(one)})`;
  return `${capital(of(first))} makes ${percent(first.share)} of the spread${second === undefined || second.share < 0.01 ? "" : `, ${of(second)} ${percent(second.share)}`}.`;
}

function advice({ of, quantity }: SpreadContribution): string {
  const many = of.length > 1;
  if (quantity === "delay") return "see that it is mounted where it was measured, and pick drivers by their phase";
  return DRIVER_WORDS[quantity] === undefined
    ? `measure several and pick ${many ? "them" : "it"}, or buy ${many ? "them" : "it"} closer`
    : `measure several drivers and pick by their ${DRIVER_WORDS[quantity]}`;
}

/** What was assumed, in words. */
export function assumedTexts(ranking: readonly SpreadContribution[], still: ReadonlyMap<string, string>): readonly string[] {
  const texts = new Map<string, string[]>();
  for (const one of ranking) {
    if (!one.assumed) continue;
    const kind =
      DRIVER_WORDS[one.quantity] === undefined
        ? `${toleranceText(one)} of`
        : `${toleranceText(one)} of the ${DRIVER_WORDS[one.quantity]!} of`;
    texts.set(kind, [...(texts.get(kind) ?? []), ...one.of]);
  }
  return [
    ...[...texts].map(([kind, names]) => `${kind} ${names.join(", ")}`),
    ...[...still].map(([part, why]) => `the resonance and Q of ${part} stay, since ${why}`),
  ];
}
