// Contrast after the Web Content Accessibility Guidelines 2 (relative luminance and contrast ratio; 3:1 for graphics, 4.5:1
// for text), palette after Okabe & Ito (2008). Provenance of both: from memory.
import { anglesPlot, frequencyPlot, type ColorName } from "dividing-network/report";
import { describe, expect, it } from "vitest";
import { curvesOf, findAll, named, parseXml, textOf, type XmlElement } from "./xml";

const linear = (hex: string): [number, number, number] =>
  [1, 3, 5]
    .map((at) => parseInt(hex.slice(at, at + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)) as [number, number, number];
const luminance = (hex: string): number => {
  const [r, g, b] = linear(hex);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number =>
  (Math.max(luminance(a), luminance(b)) + 0.05) / (Math.min(luminance(a), luminance(b)) + 0.05);

const published: Record<ColorName, string> = {
  black: "#000000",
  orange: "#e69f00",
  "sky-blue": "#56b4e9",
  "bluish-green": "#009e73",
  yellow: "#f0e442",
  blue: "#0072b2",
  vermillion: "#d55e00",
  "reddish-purple": "#cc79a7",
};
const names = Object.keys(published) as ColorName[];

const curve = { frequencies: [20, 20000], values: [1, 2] };
const plot = (styles: { color?: ColorName }[]): XmlElement =>
  parseXml(frequencyPlot({ title: "x", panels: [{ label: "y", series: styles.map((style, i) => ({ ...curve, label: `${i}`, style })) }] }));
const shades = (element: XmlElement): { light: string; dark: string } => {
  const [, light, dark] = /^--dn-light:(#[0-9a-f]{6});--dn-dark:(#[0-9a-f]{6})$/.exec(element.attributes["style"]!)!;
  return { light: light!, dark: dark! };
};

/** The colours of a theme from the style sheet that a plot carries. */
const themes = ((): Record<"light" | "dark" | "print", Record<string, string>> => {
  const style = textOf(findAll(plot([]), named("style"))[0]!);
  const read = (css: string): Record<string, string> =>
    Object.fromEntries([...css.matchAll(/--dn-(\w+):(#[0-9a-f]{6})/g)].map(([, name, color]) => [name!, color!]));
  const [light, dark, print] = style.split("@media");
  return { light: read(light!), dark: read(dark!), print: read(print!) };
})();

const contrastsOf = (element: XmlElement): number[] => {
  const { light, dark } = shades(element);
  return [
    contrast(light, themes.light["paper"]!),
    contrast(light, themes.light["band"]!),
    contrast(light, themes.print["paper"]!),
    contrast(light, themes.print["band"]!),
    contrast(dark, themes.dark["paper"]!),
    contrast(dark, themes.dark["band"]!),
  ];
};

describe("the colours of series", () => {
  it("keep a contrast of 3:1 with paper and shaded bands, on light and dark screens and in print", () => {
    for (const element of curvesOf(plot(names.map((color) => ({ color })))))
      expect(Math.min(...contrastsOf(element))).toBeGreaterThanOrEqual(3);
  });

  it("are those of Okabe and Ito, or shades of the same hue", () => {
    const hue = (hex: string): number => {
      const [r, g, b] = linear(hex);
      return Math.atan2(Math.sqrt(3) * (g - b), 2 * r - g - b);
    };
    for (const [i, element] of curvesOf(plot(names.map((color) => ({ color })))).entries()) {
      const name = names[i]!;
      if (name === "black") continue;
      for (const shade of Object.values(shades(element))) expect(Math.abs(hue(shade) - hue(published[name]))).toBeLessThan(0.03);
    }
    expect(shades(curvesOf(plot([{ color: "black" }]))[0]!)).toEqual({ light: "#000000", dark: "#f2f2f2" });
  });

  it("change together with the dashes, and 32 series all differ", () => {
    const looks = curvesOf(plot(Array.from({ length: 32 }, () => ({})))).map((element) => ({
      color: element.attributes["stroke"],
      line: element.attributes["stroke-dasharray"],
    }));
    expect(new Set(looks.map((look) => JSON.stringify(look))).size).toBe(32);
    for (let i = 1; i < 8; i++) {
      expect(looks[i]!.color).not.toBe(looks[i - 1]!.color);
      expect(looks[i]!.line).not.toBe(looks[i - 1]!.line);
    }
  });

  it("leave out what other series have asked for", () => {
    const root = parseXml(
      frequencyPlot({
        title: "x",
        panels: [
          {
            label: "y",
            series: [
              { ...curve, label: "a" },
              { ...curve, label: "b", style: { color: "blue", line: "solid" } },
            ],
          },
        ],
      }),
    );
    const [a, b] = curvesOf(root);
    expect(a!.attributes["stroke"]).not.toBe(b!.attributes["stroke"]);
    expect(a!.attributes["stroke-dasharray"]).not.toBe(b!.attributes["stroke-dasharray"]);
  });
});

describe("the colours of a family of angles", () => {
  const root = parseXml(
    anglesPlot({
      title: "x",
      yLabel: "y",
      series: Array.from({ length: 13 }, (_, i) => ({ angle: 15 * i, response: { frequencies: [20, 20000], levelDb: [80, 80 - i] } })),
    }),
  );
  const ordered = curvesOf(root).reverse();

  it("keep a contrast of 3:1 with paper and shaded bands", () => {
    for (const element of ordered) expect(Math.min(...contrastsOf(element))).toBeGreaterThanOrEqual(3);
  });

  it("fall in contrast from the axis outwards, in both themes", () => {
    expect(ordered).toHaveLength(13);
    for (let i = 1; i < ordered.length; i++) {
      expect(contrast(shades(ordered[i]!).light, "#ffffff")).toBeLessThan(contrast(shades(ordered[i - 1]!).light, "#ffffff"));
      expect(contrast(shades(ordered[i]!).dark, "#000000")).toBeLessThan(contrast(shades(ordered[i - 1]!).dark, "#000000"));
    }
  });
});

describe("text", () => {
  it("keeps a contrast of 4.5:1 in each theme, and is black on white in print", () => {
    for (const theme of Object.values(themes)) {
      for (const name of ["ink", "quiet"])
        for (const back of ["paper", "band"]) expect(contrast(theme[name]!, theme[back]!)).toBeGreaterThanOrEqual(4.5);
    }
    expect(themes.print).toMatchObject({ paper: "#ffffff", ink: "#000000", quiet: "#000000" });
  });

  it("stands on a grid that is fainter than any curve", () => {
    for (const theme of Object.values(themes))
      for (const name of ["major", "minor", "hatch"]) expect(contrast(theme[name]!, theme["paper"]!)).toBeLessThan(3);
  });
});
