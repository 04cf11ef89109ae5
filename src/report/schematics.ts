import type { Comparison } from "../assessment";
import { paragraph } from "./blocks";
import { element, type Markup } from "./markup";
import { changedParts, turned } from "./network-changes";
import type { Picture } from "./picture";
import { schematic } from "./schematic/schematic";

/** Px of both together beyond which they stand below each other, on a wide screen and on paper, and between them. */
const SIDE_BY_SIDE = { screen: 1500, paper: 1000, gap: 24 } as const;

/** Px of a drawing beyond which the other isn't made small with it. */
const WIDEST = 900;

/** Parts of one network beyond which its drawing would be no help. */
const MOST_PARTS = 200;

/** Both networks, drawn to one scale unless one is very wide; a sentence in their place where one of them can't be drawn. */
export function schematics({ before, after }: Comparison): Markup {
  try {
    const [found, proposed] = [before, after].map(({ prediction }) => prediction.loudspeaker);
    const networks = [found!.network, proposed!.network] as const;
    if (networks.some((network) => Object.keys(network).length > MOST_PARTS))
      return paragraph(`No schematic: a network has more than ${MOST_PARTS} parts. The build sheet says where each stands.`);
    const changed = [changedParts(networks[0], networks[1]), changedParts(networks[1], networks[0])] as const;
    const drawings = [
      schematic(networks[0], { title: "As found", changed: changed[0], largestWidth: WIDEST }),
      schematic(networks[1], { title: "Proposed", changed: changed[1], largestWidth: WIDEST }),
    ];
    const widths = drawings.map(widthOf);
    const whole = widths[0]! + widths[1]! + SIDE_BY_SIDE.gap;
    const classes = [
      "drawings",
      ...(whole > SIDE_BY_SIDE.screen ? [] : ["beside"]),
      ...(whole > SIDE_BY_SIDE.paper ? [] : ["beside-on-paper"]),
    ];
    return element(
      "figure",
      { class: classes.join(" "), style: `--columns:${widths.map((width) => `${width}fr`).join(" ")};--whole:${whole}px` },
      element(
        "div",
        { class: "both" },
        drawings.map((drawing, index) =>
          element(
            "div",
            {
              class: "scroll",
              role: "region",
              "aria-label": `Schematic, ${index === 0 ? "as found" : "proposed"}`,
              tabindex: 0,
              style: `--width:${widths[index]}px;--share:${Math.min(100, (100 * widths[index]!) / Math.min(WIDEST, Math.max(...widths))).toFixed(2)}%`,
            },
            drawing,
          ),
        ),
      ),
      element(
        "figcaption",
        {},
        [
          changed.every((names) => names.length === 0)
            ? "Both networks are the same."
            : "A frame around a designator: the part is another one, or connected elsewhere, than in the other network, or isn’t in that at all.",
          "Slanted names are the joints of the build sheet.",
          ...found!.drivers.flatMap(({ name, part }) => polarityText(name, part, proposed!.drivers, networks)),
        ].join(" "),
      ),
    );
  } catch {
    return paragraph("The schematics couldn’t be drawn. The build sheet says where each part stands.");
  }
}

function polarityText(
  name: string,
  part: string,
  proposed: Comparison["after"]["prediction"]["loudspeaker"]["drivers"],
  networks: readonly [Network, Network],
): readonly string[] {
  if (proposed.every((driver) => driver.name !== name || driver.part !== part)) return [];
  const answer = turned(part, ...networks);
  if (answer === true) return [`The ${name} is connected the other way round: its + and − are exchanged.`];
  return answer === false ? [] : [`Whether the ${name}’s polarity changes must be read from its + and − here.`];
}

type Network = Comparison["before"]["prediction"]["loudspeaker"]["network"];

function widthOf({ svg }: Picture): number {
  return Number(/viewBox="0 0 (\d+)/.exec(svg)![1]);
}
