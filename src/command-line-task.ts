// What the command is asked for: its arguments, and its help.
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { EXAMPLE } from "./command-line-files";
import { codeOf, Complaint, messageOf, NAME } from "./command-line-words";

const USAGE = `Usage: npx ${NAME} project.json --out report.html, or npx ${NAME} --help`;
/** What `--help` prints. */
export const HELP = `Judges a loudspeaker's network as found against the one proposed, from measured files, and writes the findings as one page.

  npx ${NAME} project.json                 prints the findings and writes report.html; a third network of the project, its alternative,
                                           is judged too, and stands on the page as a third number
  npx ${NAME} project.json --out new.html  writes the page to new.html; a page that is there is replaced
  npx ${NAME}                              the same for the invented example that comes with the package
  npx ${NAME} --example folder             copies that example with its data into a new or empty folder
  npx ${NAME} project.json --redesign 6    designs networks of at most 6 parts first, from the project's stock or in E12 without one, on all cores: a minute or so.
                                           The nearest to the goal is judged; the project's alternative, or else its proposed network, stands beside it
  npx ${NAME} project.json --redesign 6 --pieces 2
                                           the same, with two lines of the stock in the place of one part where that is better
  npx ${NAME} project.json --redesign 6 --robust loss
                                           the same, chosen by what tolerances of parts and drivers do to it: by the loss to be expected of drawn loudspeakers, or
                                           with yield by the share of good ones; two or three times as long. What the project states under "redesign" goes without saying;
                                           --pieces 1 and --robust none leave it out
  npx ${NAME} --help                       this text
  npx ${NAME} --version                    the version

The project file and its keys: docs/project-file.md in the package. The exit code is 0 when the page was written, else 1.`;

/** What is to be designed before it is judged; what isn't said is left to the project. */
export interface RedesignTask {
  readonly maxParts: number;
  readonly mostPieces: 1 | 2 | undefined;
  readonly robust: "loss" | "yield" | "none" | undefined;
}

/** One thing to do. */
export type Task =
  | { readonly kind: "judge"; readonly file: string; readonly out: string; readonly redesign: RedesignTask | undefined }
  | { readonly kind: "example"; readonly folder: string }
  | { readonly kind: "help" | "version" };

/** The task that arguments ask for. */
export function taskOf(args: readonly string[]): Task {
  const { values, positionals } = parsed(args);
  if (values.help === true) return { kind: "help" };
  if (values.version === true) return { kind: "version" };
  if (values.example !== undefined) {
    if (values.out !== undefined || positionals.length > 0)
      throw new Complaint(
        `${NAME}: --example copies the example and does nothing else. Leave out ${positionals[0] ?? "--out"}, or leave out --example. ${USAGE}`,
      );
    return { kind: "example", folder: values.example };
  }
  if (positionals.length > 1)
    throw new Complaint(`${NAME}: one project file at a time, got ${positionals.length}: ${positionals.join(", ")}. ${USAGE}`);
  return {
    kind: "judge",
    file: resolve(positionals[0] ?? join(EXAMPLE, "project.json")),
    out: resolve(values.out ?? "report.html"),
    redesign: redesignOf(values),
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        out: { type: "string" },
        redesign: { type: "string" },
        pieces: { type: "string" },
        robust: { type: "string" },
        example: { type: "string" },
        help: { type: "boolean" },
        version: { type: "boolean" },
      },
    });
  } catch (error) {
    if (!codeOf(error).startsWith("ERR_PARSE_ARGS")) throw error;
    throw new Complaint(`${NAME}: ${messageOf(error).split(/\. |\n/)[0]}. ${USAGE}`);
  }
}

function redesignOf({ redesign, pieces, robust }: Pick<ReturnType<typeof parsed>["values"], "redesign" | "pieces" | "robust">) {
  if (redesign === undefined) {
    const alone = pieces !== undefined ? "--pieces" : robust !== undefined ? "--robust" : undefined;
    if (alone !== undefined) throw new Complaint(`${NAME}: ${alone} says how to design, and goes with --redesign. ${USAGE}`);
    return undefined;
  }
  if (!/^\d{1,2}$/.test(redesign) || Number(redesign) < 2 || Number(redesign) > 20)
    throw new Complaint(`${NAME}: --redesign takes the most parts that a network may have, 2 to 20, got ${redesign}. ${USAGE}`);
  if (pieces !== undefined && pieces !== "1" && pieces !== "2")
    throw new Complaint(`${NAME}: --pieces takes the most lines of the stock in the place of one part, 1 or 2, got ${pieces}. ${USAGE}`);
  if (robust !== undefined && robust !== "loss" && robust !== "yield" && robust !== "none")
    throw new Complaint(`${NAME}: --robust takes by what networks are chosen, loss, yield or none, got ${robust}. ${USAGE}`);
  return { maxParts: Number(redesign), mostPieces: pieces === undefined ? undefined : pieces === "1" ? 1 : 2, robust } as const;
}
