import { show } from "../../errors/internal";
import { fileError, textLines, type TextFile } from "../../response/internal";

/** A statement of a netlist: its words, with what continues it on further lines, and the line where it begins. */
export interface SpiceCard {
  readonly words: readonly string[];
  readonly line: number;
}

/** A netlist taken apart. */
export interface SpiceCards {
  readonly title: string;
  readonly cards: readonly SpiceCard[];
  readonly notes: readonly string[];
}

const MOST_CARDS = 20_000;
const MOST_WORDS = 1000;

/**
 * The statements of a netlist. The first line is the title, whatever it says. `*` begins a comment; so do `;` and, after a space, `$`. A line that begins with
 * `+` continues the one before. Commas, parentheses and `=` part words. What stands between `.control` and `.endc` is a program, and left out.
 */
export function spiceCards(file: TextFile): SpiceCards {
  let title: string | undefined;
  const cards: { words: string[]; line: number }[] = [];
  const notes: string[] = [];
  let [number, control, ended] = [0, 0, false];
  for (const raw of textLines(file.text)) {
    number++;
    if (title === undefined) {
      title = raw.trim();
      if (/^[rlckv]\w* +\S+ +\S+ +[\d.]/i.test(title))
        notes.push(`the first line is the title, by the rule of the format: ${show(title)} was not read as a part`);
      continue;
    }
    const line = raw.replace(/(?:;|(?<=\s)\$).*$/, "").trim();
    if (line === "" || line.startsWith("*") || line.startsWith("$")) continue;
    if (ended) {
      notes.push(`what follows .end was ignored, from line ${number}`);
      break;
    }
    const first = /^\S+/.exec(line)![0].toLowerCase();
    if (first === ".control") control = number;
    if (control > 0) {
      if (first === ".endc") {
        notes.push(`the program in lines ${control} to ${number} was ignored`);
        control = 0;
      }
      continue;
    }
    ended = first === ".end";
    if (ended) continue;
    const words = line
      .replace(/^\+/, "")
      .split(/[\s,()=]+/)
      .filter((word) => word !== "");
    if (!line.startsWith("+")) {
      if (words.length === 0)
        throw fileError(file, "invalid-card", number, `a line must begin with a name, got ${show(line)}`, "Begin comments with *");
      cards.push({ words, line: number });
      if (cards.length > MOST_CARDS)
        throw fileError(
          file,
          "file-too-large",
          number,
          `a netlist must have at most ${MOST_CARDS} statements, got more`,
          "Read it in pieces",
        );
      continue;
    }
    const last = cards.at(-1);
    if (last === undefined)
      throw fileError(
        file,
        "invalid-card",
        number,
        "a line that begins with + must continue another, got none before it",
        "Take out the +",
      );
    last.words.push(...words);
    if (last.words.length > MOST_WORDS)
      throw fileError(
        file,
        "invalid-card",
        last.line,
        `a statement must have at most ${MOST_WORDS} words, got more`,
        "Check the lines that begin with +",
      );
  }
  if (control > 0)
    throw fileError(file, "invalid-card", control, ".control must be followed by .endc, got none", "Add .endc below the program");
  if (!ended) notes.push("there is no .end: the whole text was read");
  return { title: title ?? "", cards, notes };
}
