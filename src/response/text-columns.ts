/** What the columns of a text file hold, after the frequency in Hz. */
export type TextColumns = "db-degrees" | "db" | "ohm-degrees" | "re-im";

/** The name of each column with its unit, as it stands in messages and in the heading that is written. */
export const columnNames: Readonly<Record<TextColumns, readonly string[]>> = {
  "db-degrees": ["frequency (Hz)", "level (dB)", "phase (degrees)"],
  db: ["frequency (Hz)", "level (dB)"],
  "ohm-degrees": ["frequency (Hz)", "magnitude (ohm)", "phase (degrees)"],
  "re-im": ["frequency (Hz)", "real part", "imaginary part"],
};

/** The words that `columns` may be. */
export const textColumns = ["db-degrees", "db", "ohm-degrees", "re-im"] as const satisfies readonly TextColumns[];
