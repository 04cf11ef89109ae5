import { fixed } from "../../quantity/internal";
import { suspectText, type Comparison } from "../../assessment";
import { changeWords } from "../../assessment/internal";
import { list, paragraph } from "../blocks";
import { element, type Markup } from "../markup";
import { notChecked } from "../not-checked";
import { isRefuted, refutedBox } from "../refuted";
import { thirdSentence, type Alternative } from "./alternative";
import { withUnit } from "./words";

type TopicVerdict = Comparison["verdict"]["topics"][number];

/** Dangers first, then the verdict, five tiles, what is open, how far all that can be trusted, and what the loudspeaker is. */
export function summary(
  comparison: Comparison,
  alternative: Alternative | undefined,
  description: string | undefined,
  proof: string | undefined,
): readonly Markup[] {
  const { verdict, after } = comparison;
  const { sentence, dangers, topics, trust, suspects } = verdict;
  // Computed from a drawing that isn't this loudspeaker, nothing is kept or broken.
  const refuted = isRefuted(comparison);
  const open = topics.filter(({ kept }) => kept === false).map(({ sentence: words }) => `${words}.`);
  return [
    ...refutedBox(comparison, "summary"),
    ...dangers.map((danger) =>
      element(
        "p",
        { class: "danger" },
        element("span", { "aria-hidden": "true" }, "⚠ "),
        `Danger${refuted ? ", by that drawing" : ""}: ${danger.sentence}.`,
      ),
    ),
    paragraph(element("strong", {}, sentence)),
    ...(refuted ? suspected(suspects) : [tiles(tilesOf(topics), alternative)]),
    ...(alternative === undefined || refuted ? [] : [paragraph(`Third number: ${thirdSentence(alternative)}`)]),
    element(
      "div",
      { class: "columns" },
      [
        ...(refuted
          ? []
          : [
              open.length === 0 ? "Still open: no limit that was checked is broken." : `Still open: ${open.join(" ")}`,
              `${notJudged(topics)}${notChecked(after)}`,
            ]),
        `${trust.sentence}.`,
        ...(proof === undefined ? [] : [`How far the search for the proposed network went: ${proof}.`]),
        ...(description === undefined ? [] : [description]),
      ]
        .filter((words) => words !== "")
        .map((words) => paragraph(words)),
    ),
  ];
}

/** What may be wrong, each with what would tell it from others. */
function suspected(suspects: Comparison["verdict"]["suspects"]): readonly Markup[] {
  if (suspects.length === 0) return [];
  return [
    paragraph("What may be wrong, best first, with what each leaves in units of the repeatability:"),
    list(
      suspects
        .slice(0, 5)
        .map(
          (suspect) =>
            `${suspectText(suspect)} (${suspect.misfit.toFixed(2)}${suspect.explains === true ? ", explains all of it alone" : ""})${suspect.wouldTell === undefined ? "" : `. ${suspect.wouldTell}`}`,
        ),
    ),
  ];
}

interface Tile {
  readonly heading: string;
  readonly topics: readonly TopicVerdict[];
}

/** One tile a topic; one with several sides is as wide as two. */
function tiles(all: readonly Tile[], alternative: Alternative | undefined): Markup {
  const columns = all.reduce((sum, { topics }) => sum + (topics.length > 1 ? 2 : 1), 0);
  return element(
    "ul",
    { class: "tiles", style: `--tiles:${Math.max(1, columns)}` },
    all.map(({ heading, topics }) => tile(heading, topics, alternative)),
  );
}

/** The topics that were judged, those off the axis in one tile. */
function tilesOf(topics: readonly TopicVerdict[]): readonly Tile[] {
  const judged = topics.filter(({ change }) => change !== "not checked");
  const off = judged.filter(({ topic }) => topic.startsWith("off the axis"));
  return judged.flatMap((topic) =>
    topic === off[0] ? [{ heading: "off the axis", topics: off }] : off.includes(topic) ? [] : [{ heading: topic.topic, topics: [topic] }],
  );
}

function tile(heading: string, topics: readonly TopicVerdict[], alternative: Alternative | undefined): Markup {
  const named = topics.length > 1 || topics[0]!.topic.startsWith("off");
  return element(
    "li",
    topics.length > 1 ? { class: "several" } : {},
    element("strong", {}, heading),
    element(
      "div",
      { class: "sides" },
      topics.map((topic) => element("div", {}, lines(topic, named, alternative))),
    ),
  );
}

/** Before, after and the third in the topic's unit, the change in words, and the limit. */
function lines(judged: TopicVerdict, named: boolean, alternative: Alternative | undefined): readonly Markup[] {
  const { topic, before, after, unit, decimals, limit } = judged;
  const number = (value: number | undefined) => (value === undefined ? "–" : fixed(value, decimals));
  const third = alternative?.comparison.verdict.topics.find((other) => other.topic === topic)?.after;
  const numbers = [before, after, ...(alternative === undefined ? [] : [third])].map(number).join(" → ");
  return [
    ...(named ? [element("small", { class: "side" }, topic.replace("off the axis, ", ""))] : []),
    ...(before === undefined && after === undefined ? [] : [element("span", { class: "numbers" }, `${numbers}${withUnit(unit)}`)]),
    element("small", {}, `${changeWords(judged)}${limit === "" ? "" : `; ${limit}`}`),
  ];
}

/** The topics that weren't judged, in one sentence, each with why. */
function notJudged(topics: readonly TopicVerdict[]): string {
  const why = ({ topic, sentence }: TopicVerdict) =>
    sentence.toLowerCase().startsWith(`${topic}: `)
      ? sentence.slice(topic.length + 2)
      : `${sentence[0]!.toLowerCase()}${sentence.slice(1)}`;
  const open = topics.filter(({ change }) => change === "not checked");
  return open.length === 0 ? "" : `Not judged: ${open.map((topic) => `${topic.topic} (${why(topic)})`).join("; ")}. `;
}
