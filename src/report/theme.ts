/** The colours of text, grid and background in one theme. */
export interface Theme {
  readonly paper: string;
  readonly ink: string;
  /** Text of second rank: tick labels, notes. */
  readonly quiet: string;
  /** Decade lines, value lines and the frame. */
  readonly major: string;
  /** The lines between the decades. */
  readonly minor: string;
  /** Solid shading of a band. */
  readonly band: string;
  /** Hatching of a band. */
  readonly hatch: string;
}

export const LIGHT: Theme = {
  paper: "#ffffff",
  ink: "#1a1a1a",
  quiet: "#555555",
  major: "#c4c4c4",
  minor: "#e6e6e6",
  band: "#eeeeee",
  hatch: "#cfcfcf",
};
export const DARK: Theme = {
  paper: "#15181c",
  ink: "#e8e8e8",
  quiet: "#aab2ba",
  major: "#4a525a",
  minor: "#282d33",
  band: "#23282d",
  hatch: "#3d444b",
};
export const PRINT: Theme = {
  paper: "#ffffff",
  ink: "#000000",
  quiet: "#000000",
  major: "#a8a8a8",
  minor: "#d4d4d4",
  band: "#eeeeee",
  hatch: "#b8b8b8",
};

/** A theme as CSS custom properties. */
export function customProperties(theme: Theme): string {
  return Object.entries(theme)
    .map(([name, color]) => `--dn-${name}:${color}`)
    .join(";");
}

/** Fonts are whatever the reader's system sets its own text in: nothing is fetched. */
export const FONT = "system-ui, sans-serif";

/**
 * The style sheet that each plot carries. Colours are also written as presentation attributes (in the light theme), so
 * that a viewer which knows no custom properties still draws the plot.
 */
export function plotStyleSheet(): string {
  return [
    `.dn-plot{${customProperties(LIGHT)};max-width:100%;height:auto}`,
    ".dn-plot .dn-paper{fill:var(--dn-paper)}",
    ".dn-plot .dn-ink{fill:var(--dn-ink)}",
    ".dn-plot .dn-quiet{fill:var(--dn-quiet)}",
    ".dn-plot .dn-major{stroke:var(--dn-major)}",
    ".dn-plot .dn-minor{stroke:var(--dn-minor)}",
    ".dn-plot .dn-band{fill:var(--dn-band)}",
    ".dn-plot .dn-hatch{stroke:var(--dn-hatch)}",
    ".dn-plot .dn-area{fill:var(--dn-band);stroke:var(--dn-quiet)}",
    ".dn-plot .dn-tint{fill:var(--dn-light)}",
    ".dn-plot .dn-marker{stroke:var(--dn-quiet)}",
    ".dn-plot .dn-halo{stroke:var(--dn-paper)}",
    ".dn-plot .dn-curve{stroke:var(--dn-light)}",
    ".dn-plot text{font-variant-numeric:tabular-nums}",
    `@media screen and (prefers-color-scheme:dark){.dn-plot{${customProperties(DARK)}}.dn-plot .dn-curve{stroke:var(--dn-dark)}.dn-plot .dn-tint{fill:var(--dn-dark)}}`,
    `@media print{.dn-plot{${customProperties(PRINT)}}}`,
  ].join("");
}
