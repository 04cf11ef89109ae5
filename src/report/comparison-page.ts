import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import { suspectText, type Assessment, type Comparison, type Finding } from "../assessment";
import { REFERENCE_PRESSURE } from "../physics";
import { levelDb } from "../response";
import { checkComparison } from "./check-comparison";
import { markText } from "./bands";
import { figure, list, paragraph, table } from "./blocks";
import { buildSheet } from "./build-sheet/build-sheet";
import { buildSheetBlocks } from "./build-sheet/build-sheet-blocks";
import { cautions } from "./cautions";
import { connections } from "./connections";
import { anglesPlot } from "./angles-plot";
import { byTopic, limitText, printed, verdictText } from "./findings-words";
import { htmlPage, type PageSection } from "./html-page";
import { impedancePlot } from "./impedance-plot";
import { element, type Markup } from "./markup";
import { partsList } from "./parts-list";
import { NOT_CHECKED } from "./not-checked";
import { responsePlot } from "./response-plot";
import { schematics } from "./schematics";

/** What the page says beside the comparison. */
export interface ComparisonPageOptions {
  /** The page's heading. */
  readonly title: string;
  /** What the loudspeaker is, and whether it is invented. */
  readonly description?: string | undefined;
  /** What was read: for the foot of the page. */
  readonly generatedFrom?: string | undefined;
}

const PRESSURE = { yLabel: "Sound pressure level, dB re 20 µPa", reference: REFERENCE_PRESSURE } as const;

/**
 * The whole comparison as one self-contained HTML page: verdict, responses on the axis (dB re 20 µPa), branches, off-axis
 * families, impedance (Ω, degrees), findings, the model's check, parts with quantities, connections and cautions.
 *
 * @param comparison from `compare`
 * @param options `title`, `description`, `generatedFrom`; text, dimensionless
 * @returns the text of the HTML document
 * @throws DividingNetworkError `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess, compare } from "dividing-network/assessment";
 * import { comparisonPage } from "dividing-network/report";
 *
 * const grid = logGrid(100, 20_000, 200);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const pair = assess(loudspeaker({
 *   network: { L1: [inductor("0.42 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * }), { ratedImpedance: 8 });
 * comparisonPage(compare(pair, pair), { title: "Nothing changed" }).startsWith("<!DOCTYPE html>"); // true
 * ```
 */
export function comparisonPage(comparison: Comparison, options: ComparisonPageOptions): string {
  const { title, description, generatedFrom } = checkOptions("comparisonPage", options, ["title", "description", "generatedFrom"]);
  const { before, after } = checkComparison("comparisonPage", comparison);
  const sections: PageSection[] = [
    { heading: "Summary", html: verdictBlocks(comparison) },
    { heading: "Schematics", html: schematics(comparison) },
    ...(description === undefined ? [] : [{ heading: "The loudspeaker", html: paragraph(description) }]),
    { heading: "On the axis", html: axisFigure(before, after) },
    { heading: "Branches", html: pair(branchFigures(before, after)) },
    { heading: "Off the axis", html: offAxisBlocks(before, after) },
    {
      heading: "Load",
      html: figure(
        (width) =>
          impedancePlot({
            title: "Input impedance",
            series: [
              { label: "as found", response: before.load.impedance, style: { color: "vermillion", line: "dashed" } },
              { label: "proposed", response: after.load.impedance, style: { color: "blue", line: "solid" } },
            ],
            limit: after.quality.load.limit,
            width,
          }),
        `Input impedance without amplifier and cable. Rated ${after.ratedImpedance} Ω; 80 % of it is ${(0.8 * after.ratedImpedance).toFixed(2)} Ω.${after.quality.load.limit === undefined ? "" : " Dotted: the least that the amplifier should be given."}`,
      ),
    },
    { heading: "Findings", html: findingsTable(comparison.findings) },
    { heading: "How far the model can be trusted", html: modelBlocks(comparison) },
    { heading: "Parts of the proposed network", html: partsBlocks(after) },
    { heading: "Build sheet", html: sheetOf(comparison) },
    { heading: "Cautions", html: list(cautions()) },
  ];
  return htmlPage({ title, sections, generatedFrom });
}

/** The build sheet, or why there is none. */
function sheetOf(comparison: Comparison): Markup {
  try {
    return buildSheetBlocks(buildSheet(comparison));
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    return paragraph(`There is no build sheet: ${error.message}`);
  }
}

/** Dangers first, then the verdict, the topics, and how far all that can be trusted. */
function verdictBlocks({ verdict }: Comparison): readonly Markup[] {
  const { sentence, dangers, topics, trust, suspects } = verdict;
  const open = topics.filter(({ kept }) => kept === false).map(({ topic }) => topic);
  return [
    ...dangers.map((danger) => element("p", { class: "danger" }, element("span", { "aria-hidden": "true" }, "⚠ "), `Danger: ${danger.sentence}.`)),
    paragraph(element("strong", {}, sentence)),
    element("ul", { class: "tiles" }, topics.filter(({ change }) => change !== "not checked").map(tile)),
    paragraph(open.length === 0 ? "Still open: no limit that was checked is broken." : `Still open: ${open.join("; ")}.`),
    paragraph(`${notJudged(topics)}${NOT_CHECKED}`),
    paragraph(`${trust.sentence}.`),
    ...(suspects.length === 0 ? [] : [paragraph("What may be wrong, best first, with what each leaves in units of the repeatability:"), list(suspects.slice(0, 5).map((suspect) => `${suspectText(suspect)} (${suspect.misfit.toFixed(2)})${suspect.wouldTell === undefined ? "" : `. ${suspect.wouldTell}`}`))]),
    paragraph("“As found” is the loudspeaker with the network as found, “proposed” the same drivers with the network proposed. Both are computed from the same measurements."),
  ];
}

/** The topics that weren't judged, in one sentence, each with why. */
function notJudged(topics: Comparison["verdict"]["topics"]): string {
  const why = ({ topic, sentence }: (typeof topics)[number]) => (sentence.toLowerCase().startsWith(`${topic}: `) ? sentence.slice(topic.length + 2) : `${sentence[0]!.toLowerCase()}${sentence.slice(1)}`);
  const open = topics.filter(({ change }) => change === "not checked");
  return open.length === 0 ? "" : `Not judged: ${open.map((topic) => `${topic.topic} (${why(topic)})`).join("; ")}. `;
}

/** A topic: before, after, limit, and the change in words. */
function tile({ topic, before, after, unit, decimals, limit, change, kept, sentence }: Comparison["verdict"]["topics"][number]): Markup {
  const number = (value: number | undefined) => (value === undefined ? "–" : printed(value, decimals));
  return element(
    "li",
    {},
    element("strong", {}, topic),
    ...(before === undefined && after === undefined ? [] : [element("span", { class: "numbers" }, `${number(before)} → ${number(after)}${withUnit(unit)}`)]),
    element("span", {}, `${change}${limit === "" ? "" : `; ${limit}`}${kept === false ? ", limit not kept" : ""}`),
    element("small", {}, `${sentence}.`),
  );
}

/** Figures that stand side by side on paper. */
function pair(figures: readonly Markup[]): Markup {
  return element("div", { class: "pair" }, figures);
}

/** A unit after a number: degrees stand close. */
function withUnit(unit: string): string {
  return unit === "°" || unit === "" ? unit : ` ${unit}`;
}

function axisFigure(before: Assessment, after: Assessment): Markup {
  const [found, proposed] = [axisOf(before), axisOf(after)];
  return figure(
    (width) =>
      responsePlot({
        ...shownBand(before, after),
        title: `On the axis at ${after.distance} m, ${after.prediction.voltage} V`,
        ...PRESSURE,
        series: [
          { label: "as found", response: found.sum, style: { color: "vermillion", line: "dashed" } },
          { label: "proposed", response: proposed.sum, style: { color: "blue", line: "solid" } },
        ],
        width,
      }),
    `What reaches a microphone on the axis at ${after.distance} m for ${after.prediction.voltage} V of the amplifier: each driver's measured pressure times the voltage that the network gives it, not smoothed.`,
  );
}

/** Both networks on one scale: 50 dB down from the highest level. */
function branchFigures(before: Assessment, after: Assessment): readonly Markup[] {
  const highest = Math.max(...[before, after].flatMap((assessment) => Array.from(levelDb(axisOf(assessment).sum, { reference: PRESSURE.reference }))));
  const top = 5 * Math.ceil((highest + 1) / 5);
  const band = shownBand(before, after);
  return [branchFigure(before, "as found", [top - 50, top], band), branchFigure(after, "proposed", [top - 50, top], band)];
}

function branchFigure(assessment: Assessment, which: string, yRange: readonly [number, number], band: Band): Markup {
  const axis = axisOf(assessment);
  const colors = ["bluish-green", "reddish-purple", "orange", "sky-blue"] as const;
  const lines = ["dashed", "dotted", "dash-dot", "dashed"] as const;
  return figure(
    (width) =>
      responsePlot({
        ...band,
        title: `Branches, ${which}`,
        ...PRESSURE,
        yRange,
        series: [
          { label: "sum", response: axis.sum, style: { color: "black", line: "solid" } },
          ...Object.entries(axis.branches).map(([label, response], index) => ({ label, response, style: { color: colors[index % 4]!, line: lines[index % 4]! } })),
        ],
        width,
      }),
    `Each branch alone and the sum on the axis, ${which}. ${assessment.handovers.map(({ lower, upper, frequency, overlapOctaves }) => `The levels of ${lower} and ${upper} are equal at ${frequency.toFixed(0)} Hz and within 10 dB of each other over ${overlapOctaves.toFixed(2)} octaves.`).join(" ")}`,
  );
}

/** Change against the axis that counts as none, dB: common practice, no source. */
const FLAT_DB = 0.5;

/** Each plane before and after side by side; a plane in which nothing changes is a sentence. */
function offAxisBlocks(before: Assessment, after: Assessment): readonly Markup[] {
  return (["horizontal", "vertical"] as const).flatMap((plane) => {
    const families = [before, after].map((assessment) => familyOf(assessment, plane));
    const largest = Math.max(0, ...families.flat().flatMap(({ response }) => response.levelDb.reduce((most, level) => Math.max(most, Math.abs(level)), 0)));
    if (families.every((members) => members.length < 2)) return [paragraph(`Off the axis, ${plane}: not measured.`)];
    if (largest < FLAT_DB) return [paragraph(`Off the axis, ${plane}: before and after, no angle differs from the axis by ${FLAT_DB} dB or more.`)];
    return [pair(families.flatMap((members, index) => (members.length < 2 ? [] : [familyFigure(members, plane, index === 0 ? "as found" : "proposed", after.distance, shownBand(before, after))])))];
  });
}

function familyOf(assessment: Assessment, plane: "horizontal" | "vertical") {
  const axis = axisOf(assessment).sum;
  const reference = new Map(Array.from(levelDb(axis), (level, index) => [axis.frequencies[index]!, level] as const));
  return assessment.prediction.places
    .filter(({ azimuth, elevation }) => (plane === "horizontal" ? elevation === 0 : azimuth === 0))
    .flatMap(({ azimuth, elevation, sum }) => {
      // A place may have less of the prediction's frequencies than the axis, or more.
      const levels = levelDb(sum);
      const both = Array.from(sum.frequencies, (frequency, index) => ({ frequency, level: levels[index]!, axis: reference.get(frequency) })).filter((each): each is typeof each & { readonly axis: number } => each.axis !== undefined);
      if (both.length < 2) return [];
      return [{ angle: plane === "horizontal" ? azimuth : elevation, response: { frequencies: Float64Array.from(both, ({ frequency }) => frequency), levelDb: Float64Array.from(both, (each) => each.level - each.axis), marks: sum.marks } }];
    })
    .sort((a, b) => a.angle - b.angle);
}

function familyFigure(members: ReturnType<typeof familyOf>, plane: "horizontal" | "vertical", which: string, distance: number, band: Band): Markup {
  return figure(
    (width) => anglesPlot({ ...band, title: `Change off the axis, ${plane}, ${which}`, yLabel: "Level against the axis, dB", series: members, plane, yRange: [-20, 10], width }),
    `Each measured angle less the axis at ${distance} m, ${which}. ${plane === "horizontal" ? "Positive: the loudspeaker's own left, the right-hand side of a listener who faces it." : "Positive: up."}`,
  );
}

/** The ends of a plot's axis, Hz. */
interface Band { readonly from: number; readonly to: number }

/** What the plots of sound pressure show, Hz: where either axis has data and a third of an octave beyond, within 20 Hz to 20 kHz where that leaves an octave. */
function shownBand(before: Assessment, after: Assessment): Band {
  const ends = [before, after].map((assessment) => axisOf(assessment).sum.frequencies);
  const third = 2 ** (1 / 3);
  const [low, high] = [Math.min(...ends.map((grid) => grid[0]!)) / third, Math.max(...ends.map((grid) => grid.at(-1)!)) * third];
  const [from, to] = [Math.max(20, low), Math.min(20_000, high)];
  const round = (frequency: number) => Number(frequency.toPrecision(3));
  return to >= 2 * from ? { from: round(from), to: round(to) } : { from: low, to: high };
}

function axisOf({ prediction, distance }: Assessment) {
  return prediction.places.find((place) => place.azimuth === 0 && place.elevation === 0 && Math.abs(place.distance - distance) < 1e-3)!;
}

function findingsTable(findings: readonly Finding[]): readonly Markup[] {
  const notes = [...new Set(findings.flatMap(({ marks }) => marks.map((mark) => markText(mark, 20, 20_000))))];
  const reasons = new Map<string, Set<string>>();
  for (const finding of findings) {
    if (finding.threshold === undefined) continue;
    const limit = `${limitText(finding)}${withUnit(finding.unit)}: ${finding.threshold.reason}`;
    const subject = finding.code === "off-axis" ? "change off the axis" : finding.code === "sides" ? "difference between the sides" : finding.subject;
    reasons.set(limit, (reasons.get(limit) ?? new Set()).add(subject));
  }
  return [
    ...byTopic(findings).map(({ heading, findings: of }) =>
      element("div", { class: "cards" }, table({
        caption: heading,
        columns: [{ label: "Finding" }, { label: "Before and after" }, { label: "Verdict" }, { label: "Should be" }],
        rows: of.map((finding) => [finding.subject, finding.sentence, verdictText(finding), limitText(finding) === "" ? "" : `${limitText(finding)}${withUnit(finding.unit)}`.replaceAll(" ", "\u00A0")]),
      })),
    ),
    paragraph("Why these limits:"),
    list([...reasons].map(([limit, subjects]) => `${[...subjects].join(", ")}: ${limit}.`)),
    ...(notes.length === 0 ? [] : [paragraph("What must be known of the data behind these findings:"), list(notes.map((note) => `${note}.`))]),
  ];
}

function modelBlocks({ model }: Comparison): readonly Markup[] {
  if (model === undefined) return [paragraph("No measurement of the whole loudspeaker was given, so the model wasn't checked: take every finding as computed, not as confirmed.")];
  const bands = model.bands.map(({ centre, levelDb: level, impedance }) => [centre < 1000 ? `${Number(centre.toPrecision(3))} Hz` : `${centre / 1000} kHz`, level === undefined ? "" : level.toFixed(2), impedance === undefined ? "" : impedance.toFixed(3)]);
  return [
    paragraph(
      `Before any verdict, the loudspeaker as found was predicted and compared with its own measurement at ${model.places} place${model.places === 1 ? "" : "s"}. ` +
        `${model.levelDb === undefined ? "No pressure of the whole was measured. " : `Its level is missed by ${model.levelDb.toFixed(2)} dB (root mean square). `}` +
        `${model.impedance === undefined ? "Its impedance wasn't measured." : `Its impedance is missed by ${model.impedance.toFixed(3)} Ω.`} A difference smaller than the miss is not decided.`,
    ),
    table({ caption: "What the model misses, by octave band", columns: [{ label: "Octave at" }, { label: "Level", unit: "dB", align: "right" }, { label: "Impedance", unit: "Ω", align: "right" }], rows: bands }),
  ];
}

function partsBlocks({ prediction }: Assessment): readonly Markup[] {
  const { network, drivers } = prediction.loudspeaker;
  const bought = Object.fromEntries(Object.entries(network).filter(([name]) => drivers.every(({ part }) => part !== name)));
  return [
    table({
      caption: "Parts list, for one loudspeaker",
      columns: [{ label: "Quantity", align: "right" }, { label: "Part" }, { label: "Must keep" }, { label: "Designators" }],
      rows: partsList(bought).map(({ quantity, part, detail, designators }) => [quantity, part, detail, designators.join(", ")]),
    }),
    table({
      caption: "Connections: \"in\" is the amplifier's +, \"gnd\" its return; a driver's + and a coil's dot come first",
      columns: [{ label: "Designator" }, { label: "Part" }, { label: "Between" }],
      rows: connections(network).map((row) => [...row]),
    }),
  ];
}
