/** The cells of one line, or what is wrong with its quotation marks. Cells stand without the spaces around them; a quotation mark within quotation marks is doubled. */
export function csvCells(line: string, separator: string): readonly string[] | "open" | "stray" {
  const cells: string[] = [];
  const spaces = separator === "\t" ? " " : " \t";
  for (let at = 0; ;) {
    while (spaces.includes(line[at] ?? "end")) at++;
    let cell = "";
    if (line[at] === '"') {
      for (at++; ; at++) {
        if (at >= line.length) return "open";
        if (line[at] !== '"') cell += line[at];
        else if (line[at + 1] === '"') cell += line[at++];
        else break;
      }
      at++;
      while (line[at] === " ") at++;
      if (at < line.length && line[at] !== separator) return "stray";
    } else {
      const end = line.indexOf(separator, at);
      cell = line.slice(at, end < 0 ? line.length : end).trimEnd();
      if (cell.includes('"')) return "stray";
      at = end < 0 ? line.length : end;
    }
    cells.push(cell);
    if (at >= line.length) return cells;
    at++;
    // A separator at the very end: an empty cell follows.
    if (at >= line.length) return [...cells, ""];
  }
}

/** A cell as it must be written to be read back. */
export function csvCell(text: string, separator: string): string {
  return text.includes(separator) || text.includes('"') || text.startsWith("#") || text !== text.trim()
    ? `"${text.replaceAll('"', '""')}"`
    : text;
}
