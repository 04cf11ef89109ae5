// What the command reads and writes beside measured files: the project's text, the page, and a copy of the example.
import { cp, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { codeOf, Complaint, messageOf, NAME } from "./command-line-words";

/** The example lies beside the folder of this file, in a clone as in the package. */
export const EXAMPLE = fileURLToPath(new URL("../examples/desk-monitor/", import.meta.url));

/** The text of a project file. */
export async function projectText(file: string): Promise<string> {
  try {
    return await readFile(file, "utf8");
  } catch (error) {
    const words: Readonly<Record<string, string>> = {
      ENOENT: "there is no such file. Correct the path, which is relative to where you are, or give none for the example",
      EISDIR: "this is a folder. Name the project file in it",
      EACCES: "you may not read it. Change its permissions",
    };
    throw new Complaint(`${NAME}: the project file ${file} cannot be read: ${words[codeOf(error)] ?? messageOf(error)}`);
  }
}

/** Whether a file is there. */
export async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}

/** Refuses a place where no page can be written, or where it would take the place of what it is made from. */
export async function checkOut(out: string, sources: readonly string[]): Promise<void> {
  const is = async (path: string) => stat(path).catch(() => undefined);
  if (sources.includes(out)) throw new Complaint(`${NAME}: --out ${out} is a file that the page is made from. Name another`);
  if ((await is(out))?.isDirectory() === true) throw new Complaint(`${NAME}: --out ${out} is a folder. Name a file in it`);
  if ((await is(dirname(out)))?.isDirectory() !== true)
    throw new Complaint(`${NAME}: --out ${out}: there is no folder ${dirname(out)}. Make it first, or name another`);
}

/** Whole or not at all: nobody finds half a page. */
export async function writeWhole(out: string, page: string): Promise<void> {
  const half = `${out}.part`;
  try {
    await writeFile(half, page);
    await rename(half, out);
  } catch (error) {
    await rm(half, { force: true }).catch(() => undefined);
    throw new Complaint(`${NAME}: the page cannot be written to ${out}: ${messageOf(error)}`);
  }
}

/** Only into a folder that is new or empty: nothing of anyone's is replaced. */
export async function copyExample(folder: string): Promise<void> {
  const to = resolve(folder);
  let there: readonly string[];
  try {
    await mkdir(to, { recursive: true });
    there = await readdir(to);
  } catch (error) {
    const words = ["EEXIST", "ENOTDIR"].includes(codeOf(error)) ? "a file is in its place. Name another folder" : messageOf(error);
    throw new Complaint(`${NAME}: --example ${to}: the folder cannot be made: ${words}`);
  }
  if (there.length > 0) throw new Complaint(`${NAME}: --example ${to}: the folder is not empty. Name a new or an empty one`);
  try {
    await cp(EXAMPLE, to, { recursive: true });
  } catch (error) {
    throw new Complaint(`${NAME}: --example ${to}: the example cannot be copied: ${messageOf(error)}`);
  }
  const project = join(folder, "project.json");
  console.log(`The example is in ${to}: an invented loudspeaker with its measured files, a poor network and a proposed one. Judge it:

  npx ${NAME} ${/[^\w./\\:-]/.test(project) ? `"${project}"` : project}

Then change project.json and judge it again: other values under "proposed", or your own measured files. docs/project-file.md in the package explains its keys.`);
}
