import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** One colour in its two shades, each a hex colour: on a light and on a dark background. */
export interface Paint {
  /** Hex colour on a light page. */
  readonly light: string;
  /** Hex colour on a dark page. */
  readonly dark: string;
}

/** The names of the eight colours for series, after Okabe & Ito (2008). */
export type ColorName = "blue" | "vermillion" | "bluish-green" | "reddish-purple" | "orange" | "sky-blue" | "black" | "yellow";

/**
 * The eight colours of Okabe & Ito (2008), "Color Universal Design", chosen there to stay apart for readers with the
 * common kinds of colour blindness. A thin line needs a contrast of at least 3:1 with its background (WCAG 2), shaded
 * bands included, which not all of the eight have on both white and near-black. So shades differ from the published ones
 * where they must: on white, orange, sky blue, yellow, bluish green and reddish purple are darkened (linear RGB scaled);
 * on dark, blue is lightened (linear RGB mixed with white) and black becomes near-white. Both ways keep the hue.
 */
export const PALETTE: Readonly<Record<ColorName, Paint>> = {
  blue: { light: "#0072b2", dark: "#4c84b9" },
  vermillion: { light: "#d55e00", dark: "#d55e00" },
  "bluish-green": { light: "#009c72", dark: "#009e73" },
  "reddish-purple": { light: "#be709c", dark: "#cc79a7" },
  orange: { light: "#b77e00", dark: "#e69f00" },
  "sky-blue": { light: "#4490bc", dark: "#56b4e9" },
  black: { light: "#000000", dark: "#f2f2f2" },
  yellow: { light: "#938b25", dark: "#f0e442" },
};

/** The order in which series without a colour of their own take them. */
const ORDER: readonly ColorName[] = ["blue", "vermillion", "bluish-green", "reddish-purple", "black", "orange", "sky-blue", "yellow"];

/** Ten equal steps of the sequential colour map "viridis" of van der Walt & Smith (2015), dark to light. */
const VIRIDIS = ["#440154", "#482878", "#3e4989", "#31688e", "#26828e", "#1f9e89", "#35b779", "#6ece58", "#b5de2b", "#fde725"] as const;

/** The ways to draw a line. */
export type LineKind = "solid" | "dashed" | "dotted" | "dash-dot";

/** Dash patterns in px for a line of 2 px; round caps lengthen each dash by the line's width. */
export const DASHES: Readonly<Record<LineKind, string | undefined>> = {
  solid: undefined,
  dashed: "7 5",
  dotted: "0.1 4.5",
  "dash-dot": "9 4.5 0.1 4.5",
};

/** Line widths in px. */
export const WEIGHTS = { thin: 1.25, normal: 1.75, strong: 2.5 } as const;

/** How a series is drawn; what is left out is chosen by the series' place in the list. */
export interface LineStyle {
  /** One of the palette's names, or a pair of hex colours. */
  readonly color?: ColorName | Paint | undefined;
  /** Default: the one used least so far. */
  readonly line?: LineKind | undefined;
  /** Thickness of the line, by name. */
  readonly weight?: keyof typeof WEIGHTS | undefined;
}

/** A style with nothing left out. */
export interface ResolvedStyle {
  readonly paint: Paint;
  readonly line: LineKind;
  readonly weight: keyof typeof WEIGHTS;
}

/**
 * Styles for a list of series: what a series leaves open takes the colour and the dashes used least so far, so that
 * neighbours differ in both, and 32 series in a row differ in one at least.
 */
export function settleStyles(caller: string, styles: readonly LineStyle[]): readonly ResolvedStyle[] {
  const uses = new Map<string, number>();
  const count = (key: string): number => uses.get(key) ?? 0;
  const use = (...keys: readonly (string | undefined)[]): void => {
    for (const key of keys) if (key !== undefined) uses.set(key, count(key) + 1);
  };
  const pair = (color: LineStyle["color"], line: LineKind): string => JSON.stringify([color, line]);
  const leastUsed = <T extends string>(among: readonly T[], cost: (candidate: T) => number): T =>
    among.reduce((best, candidate) => (cost(candidate) < cost(best) ? candidate : best));

  for (const { color, line } of styles) {
    use(typeof color === "string" ? color : undefined, line);
    if (line !== undefined && color !== undefined) use(pair(color, line));
  }
  return styles.map((style) => {
    const color = style.color ?? leastUsed(ORDER, count);
    const line =
      style.line ?? leastUsed(Object.keys(DASHES) as LineKind[], (candidate) => 1e6 * count(pair(color, candidate)) + count(candidate));
    use(style.color === undefined ? (color as ColorName) : undefined, style.line === undefined ? line : undefined);
    if (style.color === undefined || style.line === undefined) use(pair(color, line));
    return { paint: typeof color === "string" ? PALETTE[color] : checkPaint(caller, color), line, weight: style.weight ?? "normal" };
  });
}

function checkPaint(caller: string, paint: Paint): Paint {
  for (const theme of ["light", "dark"] as const) {
    const shade = typeof paint === "object" && paint !== null ? paint[theme] : undefined;
    if (typeof shade !== "string" || !/^#[0-9a-f]{6}$/i.test(shade)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "style.color.${theme}" must be a hex colour such as "#0072b2", got ${show(shade)}`,
      );
    }
  }
  return paint;
}

/**
 * A colour of the ordered scale: `position` 0 stands out most from the background, 1 least. Each theme uses the half of
 * viridis that keeps at least 3:1 with its background: purple to green on white, yellow to green-blue on dark.
 */
export function sequentialPaint(position: number): Paint {
  return { light: mix(4.8 * position), dark: mix(9 - 5 * position) };
}

function mix(step: number): string {
  const index = Math.min(Math.floor(step), VIRIDIS.length - 2);
  const [low, high] = [VIRIDIS[index]!, VIRIDIS[index + 1]!];
  const channels = [1, 3, 5].map((at) => {
    const from = parseInt(low.slice(at, at + 2), 16);
    const to = parseInt(high.slice(at, at + 2), 16);
    return Math.round(from + (to - from) * (step - index))
      .toString(16)
      .padStart(2, "0");
  });
  return `#${channels.join("")}`;
}
