import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { fragment as piecesInside, type Entries } from "../../network";
import { checkText, element, pixels, trusted } from "../markup";
import { pictureOf, type Picture } from "../picture";
import { EDGE, SIZE, textAt, TITLE } from "../plot-shapes";
import { pixelsOf, wrapText } from "../text-width";
import { FONT, LIGHT, plotStyleSheet } from "../theme";
import { general } from "./general-layout";
import { hung } from "./ladder-layout";
import { piecesOf } from "./pieces";
import { seriesParallel } from "./series-parallel";
import { sheetOf } from "./sheet";
import { strips } from "./strips";

/** What `schematic` takes. */
export interface SchematicOptions {
  /** What stands above the drawing; "Schematic" by default. */
  readonly title?: string | undefined;
  /** Designators to be outlined, such as those that differ from the network as found. */
  readonly changed?: readonly string[] | undefined;
  /** Designators of parts that are taken over from the network as found. */
  readonly reused?: readonly string[] | undefined;
  /** Px, dimensionless, 400 or more: a network with a bridge that would be wider is drawn in strips below each other, in which nodes of one name are one joint. By default it never is. */
  readonly largestWidth?: number | undefined;
}

const FEED = 44;
/** What nobody could read anyway; more would take seconds, and ladders are drawn in as many steps within one another. */
const MOST_SYMBOLS = 800;

/**
 * Draws a network as an SVG schematic, with values in Ω, H and F. Branches lie as ladders: what leads to a driver along the
 * rail, shunts standing on the return, no wire crossing another. A network with a bridge is drawn by level lines, one a node;
 * there wires may cross, and only a dot joins them. The names of inner nodes stand slanted beside their wires, where there is room. L-pads are drawn as their two resistors, transformers as two windings.
 *
 * Symbols are those of IEC 60617, drawn from memory of the standard and not compared with its text.
 *
 * @param network entries keyed by designator; dimensionless
 * @param options title; designators of `changed` parts (outlined) and `reused` parts (marked); `largestWidth` in px (dimensionless)
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `malformed-network`, `invalid-argument`, `unknown-option`, `too-large` for more than 800 symbols
 * @example
 * ```ts
 * import { capacitor, network, resistor } from "dividing-network";
 * import { schematic } from "dividing-network/report";
 *
 * const found = network({ C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor("6 Ω"), "t", "gnd"] });
 * schematic(found, { title: "As found", changed: ["C1"] }).svg.includes("6.8 µF"); // true
 * ```
 */
export function schematic(network: Entries, options: SchematicOptions = {}): Picture {
  const caller = "schematic";
  const own = piecesInside(network as never) as Entries;
  const {
    title: given = "Schematic",
    changed,
    reused,
    largestWidth,
  } = checkOptions(caller, options, ["title", "changed", "reused", "largestWidth"]);
  const most = checkNumber(caller, "largestWidth", largestWidth ?? 1e6, { min: 400, max: 1e6, unit: "px" });
  const title = checkText(caller, "title", given);
  const marks = { changed: designators(caller, "changed", changed, own), reused: designators(caller, "reused", reused, own) };
  const { pieces, notes } = piecesOf(own);
  if (pieces.length > MOST_SYMBOLS)
    throw new DividingNetworkError(
      "too-large",
      `${caller}: "network" must have at most ${MOST_SYMBOLS} symbols, got ${pieces.length}`,
      "Draw its branches one by one",
    );
  const touches = (node: string): boolean => pieces.some(({ from, to }) => from === node || to === node);
  if (!touches("in") || !touches("gnd")) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "network" must have parts at "in" and at "gnd", got none at ${touches("in") ? '"gnd"' : '"in"'}`,
      "Join the fragment with what feeds it, or name its ends in and gnd",
    );
  }
  const tree = seriesParallel(pieces, "in", "gnd");
  const block = tree === undefined ? general(pieces, "in", "gnd", marks) : hung(tree, marks);
  const wrapped = tree === undefined && EDGE + FEED + block.width + EDGE > most ? strips(pieces, marks, most - 2 * EDGE, SIZE) : undefined;
  const width = Math.ceil(
    Math.max(
      wrapped === undefined ? EDGE + FEED + block.width + EDGE : EDGE + wrapped.width + EDGE,
      240,
      1.08 * pixelsOf(title, TITLE) > 400 ? 424 : 1.08 * pixelsOf(title, TITLE) + 2 * EDGE,
    ),
  );
  const sheet = sheetOf(marks);
  const titles = wrapText(title, width - 2 * EDGE, (text) => pixelsOf(text, TITLE) * 1.08);
  const rail = EDGE + titles.length * (TITLE + 5) + Math.max(block.up, 26) + 6;
  const bottom = rail + (wrapped?.height ?? block.down) + 4;
  if (wrapped !== undefined) wrapped.draw(sheet, EDGE, rail);
  else {
    const left = EDGE + 12;
    const start = EDGE + FEED;
    sheet.wire([left, rail], [start + block.port, rail]);
    sheet.wire([left, bottom], [start + block.foot, bottom]);
    block.draw(sheet, start, rail, bottom);
    sheet.terminal("in", "in", left, rail);
    sheet.terminal("gnd", "gnd", left, bottom);
  }
  const said = wrapped === undefined ? notes : ["Flags of one name are one joint.", ...notes];
  const below = said.flatMap((note) => wrapText(note, width - 2 * EDGE, (text) => pixelsOf(text, SIZE)));
  const height = Math.ceil(bottom + 16 + below.length * 17 + EDGE);
  const style = `${plotStyleSheet()}.dn-plot .dn-stroke{stroke:var(--dn-ink)}.dn-plot .dn-fill{fill:var(--dn-paper)}`;
  return pictureOf(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        class: "dn-plot",
        role: "img",
        viewBox: `0 0 ${pixels(width)} ${height}`,
        width,
        height,
        "font-family": FONT,
        "font-size": SIZE,
      },
      element("title", {}, title),
      element(
        "desc",
        {},
        pieces.map(({ texts, from, to }) => `${texts.filter((text) => text !== "").join(" ")} from ${from} to ${to}.`).join(" "),
      ),
      element("style", {}, trusted(style)),
      element("rect", { class: "dn-paper", fill: LIGHT.paper, width, height }),
      titles.map((line, k) => textAt(EDGE, EDGE + TITLE + k * (TITLE + 5), line, { "font-size": TITLE, "font-weight": 600 })),
      sheet.markup(),
      below.map((line, k) => textAt(EDGE, bottom + 30 + k * 17, line, { class: "dn-quiet", fill: LIGHT.quiet })),
    ),
  );
}

function designators(caller: string, option: string, given: unknown, network: Entries): ReadonlySet<string> {
  if (given === undefined) return new Set();
  const wrong = Array.isArray(given)
    ? (given as unknown[]).find((name) => typeof name !== "string" || !Object.hasOwn(network, name))
    : given;
  if (!Array.isArray(given) || (given as unknown[]).some((name) => typeof name !== "string" || !Object.hasOwn(network, name))) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${option}" must be designators of this network, got ${show(wrong)}`,
      `Its parts are ${Object.keys(network).join(", ")}`,
    );
  }
  return new Set(given as string[]);
}
