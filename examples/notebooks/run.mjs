// Makes the notebooks from the Markdown pages beside this file, and runs them: `npm run notebooks` writes the .ipynb files with their outputs,
// `npm run notebooks -- --check` runs them and compares with those that are there; a number behind it
// takes the lessons that begin with it. A page's fenced `ts` blocks become cells of code.
//
// The kernel is that of the npm package `deno`; `jupyter-nbconvert` runs it (Debian: jupyter-nbconvert). The notebooks see the package as a reader does
// who installed it: a folder with `node_modules/dividing-network`, here a link to this clone, whose `dist/` must be built.
import { execFile } from "node:child_process";
import { access, cp, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = join(here, "..", "..");
const run = promisify(execFile);
const check = process.argv.includes("--check");
const exists = (path) =>
  access(path).then(
    () => true,
    () => false,
  );

const runner = process.env.JUPYTER_NBCONVERT ?? "jupyter-nbconvert";
if (
  !(await run(runner, ["--version"]).then(
    () => true,
    () => false,
  ))
) {
  console.error(
    `notebooks: ${runner} isn't installed, so that no notebook can be run. On Debian: apt-get install jupyter-nbconvert. Elsewhere: JUPYTER_NBCONVERT names the program`,
  );
  process.exit(1);
}
if (!(await exists(join(root, "dist", "index.js")))) {
  console.error("notebooks: there is no dist/index.js. Run `npm run build` first");
  process.exit(1);
}

/** A page as a notebook without outputs. */
function notebookOf(page) {
  const cells = [];
  const put = (cell_type, text) => {
    const source = text.trim();
    if (source !== "")
      cells.push({
        cell_type,
        id: `cell-${cells.length + 1}`,
        metadata: {},
        source: source.split(/(?<=\n)/),
        ...(cell_type === "code" ? { execution_count: null, outputs: [] } : {}),
      });
  };
  page.split(/^```ts\n([\s\S]*?)^```$/m).forEach((text, i) => put(i % 2 === 0 ? "markdown" : "code", text));
  return {
    cells,
    metadata: {
      kernelspec: { display_name: "Deno", language: "typescript", name: "deno" },
      language_info: { file_extension: ".ts", mimetype: "text/x.typescript", name: "typescript" },
    },
    nbformat: 4,
    nbformat_minor: 5,
  };
}

/** An executed notebook without what differs from run to run: times, counts of the kernel, colours of a terminal. */
function tidied(executed, plain) {
  let count = 0;
  const cells = executed.cells.map((cell, i) => ({
    ...plain.cells[i],
    ...(cell.cell_type === "code" ? { execution_count: ++count, outputs: together(cell.outputs.map(tidyOutput)) } : {}),
  }));
  return { ...plain, cells };
}

const colourless = (text) =>
  [text]
    .flat()
    .join("")
    .replaceAll(/\u001b\[[\d;]*m/g, "");

function tidyOutput(output) {
  if (output.output_type === "stream") return { name: output.name, output_type: "stream", text: colourless(output.text).split(/(?<=\n)/) };
  const data = Object.fromEntries(Object.entries(output.data).map(([type, value]) => [type, colourless(value).split(/(?<=\n)/)]));
  return {
    data,
    ...(output.output_type === "execute_result" ? { execution_count: null } : {}),
    metadata: {},
    output_type: output.output_type,
  };
}

/** Lines that were printed one after the other as one output: how they are cut hangs on the clock. */
function together(outputs) {
  return outputs.reduce((before, output) => {
    const last = before.at(-1);
    if (output.output_type !== "stream" || last?.output_type !== "stream" || last.name !== output.name) return [...before, output];
    return [...before.slice(0, -1), { ...last, text: [...last.text, ...output.text] }];
  }, []);
}

/** Of each cell the run that gave more outputs; the later one, where they gave as many. */
function fuller(before, after) {
  const size = ({ outputs = [] }) => outputs.reduce((sum, { text = [] }) => sum + 1 + text.length, 0);
  return { ...after, cells: after.cells.map((cell, i) => (size(before.cells[i]) > size(cell) ? before.cells[i] : cell)) };
}

/** What is compared of a notebook: every word. Of pictures their words, since a line may be drawn another way and show the same. */
function words(notebook) {
  const ofPicture = (svg) =>
    [...svg.matchAll(/<(?:text|title|desc)[^>]*>([\s\S]*?)<\/(?:text|title|desc)>/g)]
      .map((match) => match[1].replaceAll(/<[^>]*>/g, ""))
      .join("\n");
  return notebook.cells.map(({ cell_type, source, outputs = [] }) => [
    cell_type,
    source.join(""),
    ...outputs.map(({ output_type, text, data = {} }) => [
      output_type,
      text?.join(""),
      ...Object.entries(data).map(([type, value]) => [type, type === "image/svg+xml" ? ofPicture(value.join("")) : value.join("")]),
    ]),
  ]);
}

/** Sources as they are; of each output its kinds and its numbers. */
const numbersOf = (cells) =>
  cells.map(([type, source, ...outputs]) => [
    type,
    source,
    ...outputs.map(([kind, text, ...data]) => [
      kind,
      numbers(text),
      ...data.map(([media, value]) => [media, media === "image/svg+xml" ? "" : numbers(value)]),
    ]),
  ]);
const numbers = (text) => text?.match(/\d+(?:\.\d+)?/g)?.join(" ");

function firstDifference(expected, got, place = "cell") {
  if (Array.isArray(expected) && Array.isArray(got)) {
    for (let i = 0; i < Math.max(expected.length, got.length); i++) {
      const found = firstDifference(expected[i], got[i], `${place} ${i + 1}`);
      if (found !== undefined) return found;
    }
    return undefined;
  }
  return expected === got
    ? undefined
    : `${place}:\n  stands there: ${JSON.stringify(expected)?.slice(0, 600)}\n  came out:     ${JSON.stringify(got)?.slice(0, 600)}`;
}

const work = await mkdtemp(join(tmpdir(), "notebooks-"));
try {
  await mkdir(join(work, "node_modules"));
  await symlink(root, join(work, "node_modules", "dividing-network"));
  await writeFile(join(work, "package.json"), '{ "type": "module", "private": true }');
  await cp(join(root, "examples", "desk-monitor"), join(work, "examples", "desk-monitor"), { recursive: true });
  const folder = join(work, "examples", "notebooks");
  await mkdir(folder);
  const kernel = join(work, "jupyter", "kernels", "deno");
  await mkdir(kernel, { recursive: true });
  const deno = join(root, "node_modules", "deno", "bin.cjs");
  await writeFile(
    join(kernel, "kernel.json"),
    JSON.stringify({
      argv: [process.execPath, deno, "jupyter", "--kernel", "--conn", "{connection_file}"],
      display_name: "Deno",
      language: "typescript",
    }),
  );
  const env = {
    ...process.env,
    JUPYTER_PATH: join(work, "jupyter"),
    NO_COLOR: "1",
    DENO_NO_UPDATE_CHECK: "1",
    DENO_DIR: join(work, "deno"),
    HOME: work,
    IPYTHONDIR: join(work, "ipython"),
  };

  const only = process.argv.slice(2).filter((each) => /^\d/.test(each));
  const pages = (await readdir(here))
    .filter((name) => name.endsWith(".md") && /^\d/.test(name) && (only.length === 0 || only.some((each) => name.startsWith(each))))
    .sort();
  let different = 0;
  for (const page of pages) {
    const plain = notebookOf(await readFile(join(here, page), "utf8"));
    const name = page.replace(/\.md$/, ".ipynb");
    const started = performance.now();
    const at = join(here, name);
    const standing = (await exists(at)) ? JSON.parse(await readFile(at, "utf8")) : undefined;
    let done;
    try {
      // The kernel sometimes hands an output on after it said that it is done with a cell, and that output is lost. Cells are run until
      // none lacks what another run gave.
      for (let attempt = 0; attempt < (check ? 4 : 3); attempt++) {
        await writeFile(join(folder, name), JSON.stringify(plain));
        await run(
          runner,
          [
            "--to",
            "notebook",
            "--execute",
            "--inplace",
            "--ExecutePreprocessor.kernel_name=deno",
            "--ExecutePreprocessor.timeout=180",
            join(folder, name),
          ],
          { env, cwd: folder, maxBuffer: 2 ** 28 },
        );
        const next = tidied(JSON.parse(await readFile(join(folder, name), "utf8")), plain);
        done = done === undefined ? next : fuller(done, next);
        if (check && standing !== undefined && firstDifference(words(standing), words(done)) === undefined) break;
      }
    } catch (error) {
      console.error(`notebooks: ${name} doesn't run:\n${colourless(error.stderr ?? String(error)).slice(-3000)}`);
      process.exitCode = 1;
      continue;
    }
    if (!check) await writeFile(at, `${JSON.stringify(done, null, 1)}\n`);
    else if (standing === undefined) {
      console.error(`notebooks: there is no ${name}. Run \`npm run notebooks\``);
      different++;
    } else {
      const difference = firstDifference(words(standing), words(done));
      // What a lesson teaches are its numbers. A sentence of the library that reads otherwise now is a reason to write it anew, and no failure.
      const numbers = firstDifference(numbersOf(words(standing)), numbersOf(words(done)));
      if (difference !== undefined)
        console.error(
          `notebooks: ${name} gives other outputs than those that stand in it, ${numbers ?? difference}\nRun \`npm run notebooks\` if that is meant`,
        );
      if (numbers !== undefined) different++;
    }
    console.log(
      `${name}: ${done.cells.filter(({ cell_type }) => cell_type === "code").length} cells of code, ${((performance.now() - started) / 1000).toFixed(1)} s`,
    );
  }
  if (different > 0) process.exitCode = 1;
} finally {
  await rm(work, { recursive: true, force: true });
}
