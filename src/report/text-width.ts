/**
 * Ranges of code points that take two columns of a terminal (East Asian wide and fullwidth, and pictographs), as pairs
 * first, last. Ambiguous characters (Ω, µ, °, −) take one.
 */
const WIDE: readonly number[] = [
  0x1100, 0x115f, 0x231a, 0x231b, 0x2329, 0x232a, 0x23e9, 0x23ec, 0x23f0, 0x23f0, 0x23f3, 0x23f3, 0x25fd, 0x25fe, 0x2614, 0x2615, 0x2630,
  0x2637, 0x2648, 0x2653, 0x267f, 0x267f, 0x268a, 0x268f, 0x2693, 0x2693, 0x26a1, 0x26a1, 0x26aa, 0x26ab, 0x26bd, 0x26be, 0x26c4, 0x26c5,
  0x26ce, 0x26ce, 0x26d4, 0x26d4, 0x26ea, 0x26ea, 0x26f2, 0x26f3, 0x26f5, 0x26f5, 0x26fa, 0x26fa, 0x26fd, 0x26fd, 0x2705, 0x2705, 0x270a,
  0x270b, 0x2728, 0x2728, 0x274c, 0x274c, 0x274e, 0x274e, 0x2753, 0x2755, 0x2757, 0x2757, 0x2795, 0x2797, 0x27b0, 0x27b0, 0x27bf, 0x27bf,
  0x2b1b, 0x2b1c, 0x2b50, 0x2b50, 0x2b55, 0x2b55, 0x2e80, 0x303e, 0x3041, 0x3247, 0x3250, 0x33ff, 0x3400, 0x4dbf, 0x4dc0, 0x9fff, 0xa000,
  0xa4cf, 0xa960, 0xa97f, 0xac00, 0xd7a3, 0xf900, 0xfaff, 0xfe10, 0xfe19, 0xfe30, 0xfe6f, 0xff01, 0xff60, 0xffe0, 0xffe6, 0x16fe0, 0x18cff,
  0x1aff0, 0x1b2ff, 0x1d300, 0x1d376, 0x1f004, 0x1f004, 0x1f0cf, 0x1f0cf, 0x1f18e, 0x1f18e, 0x1f191, 0x1f19a, 0x1f200, 0x1f265, 0x1f300,
  0x1f320, 0x1f32d, 0x1f335, 0x1f337, 0x1f37c, 0x1f37e, 0x1f393, 0x1f3a0, 0x1f3ca, 0x1f3cf, 0x1f3d3, 0x1f3e0, 0x1f3f0, 0x1f3f4, 0x1f3f4,
  0x1f3f8, 0x1f43e, 0x1f440, 0x1f440, 0x1f442, 0x1f4fc, 0x1f4ff, 0x1f53d, 0x1f54b, 0x1f54e, 0x1f550, 0x1f567, 0x1f57a, 0x1f57a, 0x1f595,
  0x1f596, 0x1f5a4, 0x1f5a4, 0x1f5fb, 0x1f64f, 0x1f680, 0x1f6c5, 0x1f6cc, 0x1f6cc, 0x1f6d0, 0x1f6d2, 0x1f6d5, 0x1f6d8, 0x1f6dc, 0x1f6df,
  0x1f6eb, 0x1f6ec, 0x1f6f4, 0x1f6fc, 0x1f7e0, 0x1f7eb, 0x1f7f0, 0x1f7f0, 0x1f90c, 0x1f93a, 0x1f93c, 0x1f945, 0x1f947, 0x1f9ff, 0x1fa70,
  0x1faff, 0x20000, 0x3fffd,
];

function isWide(codePoint: number): boolean {
  if (codePoint < WIDE[0]!) return false;
  let low = 0;
  let high = WIDE.length / 2 - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    if (codePoint < WIDE[2 * middle]!) high = middle - 1;
    else if (codePoint > WIDE[2 * middle + 1]!) low = middle + 1;
    else return true;
  }
  return false;
}

/** The characters of a text as people see them: a letter with its accents, or a joined pictograph, is one. */
export function characters(text: string): string[] {
  if (/^[\x20-\x7e]*$/.test(text)) return text.split("");
  return Array.from(new Intl.Segmenter("en", { granularity: "grapheme" }).segment(text), ({ segment }) => segment);
}

function characterColumns(character: string): number {
  if (/^[\p{M}\p{Cf}\p{Cc}]*$/u.test(character)) return 0;
  return isWide(character.codePointAt(0)!) || character.includes("\uFE0F") ? 2 : 1;
}

/**
 * Columns that one line of text takes in a terminal: two for wide characters, none for combining marks, one for the rest.
 */
export function columnsOf(text: string): number {
  if (/^[\x20-\x7e]*$/.test(text)) return text.length;
  return characters(text).reduce((sum, character) => sum + characterColumns(character), 0);
}

/**
 * An estimate of a text's width in px in an unknown sans-serif font, on the wide side, since a picture drawn without a
 * browser cannot measure.
 */
export function pixelsOf(text: string, fontSize: number): number {
  let em = 0;
  for (const character of characters(text)) {
    if (/[ .,:;'|!()[\]iljtfrI]/.test(character)) em += 0.38;
    else if (/[mwMW@%]/.test(character)) em += 0.95;
    else if (/[\p{Lu}Ω−+=<>~]/u.test(character)) em += 0.74;
    else em += characterColumns(character) * (isWide(character.codePointAt(0)!) ? 0.52 : 0.62);
  }
  return em * fontSize;
}

/**
 * Breaks text into lines no wider than a limit: at spaces, at line breaks of the text itself, and inside a word only
 * where the word alone is too wide. A character wider than the limit still gets a line of its own.
 */
export function wrapText(text: string, limit: number, measure: (text: string) => number): string[] {
  const lines: string[] = [];
  const space = measure(" ");
  for (const paragraph of text.split(/\r\n|[\r\n\u2028\u2029]/)) {
    let line = "";
    let width = 0;
    for (const word of paragraph.split(/[ \t]+/)) {
      if (word === "") continue;
      const wordWidth = measure(word);
      if (line !== "" && width + space + wordWidth <= limit) {
        line += ` ${word}`;
        width += space + wordWidth;
        continue;
      }
      if (line !== "") lines.push(line);
      line = "";
      width = 0;
      if (wordWidth <= limit) {
        line = word;
        width = wordWidth;
        continue;
      }
      for (const character of characters(word)) {
        const columns = measure(character);
        if (line !== "" && width + columns > limit) {
          lines.push(line);
          line = "";
          width = 0;
        }
        line += character;
        width += columns;
      }
    }
    lines.push(line);
  }
  return lines;
}
