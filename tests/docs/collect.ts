// Finds the examples: every ```ts block of README.md, the other pages at the top, docs/ and the docstrings below src/.
import { readFileSync, readdirSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import ts from "typescript";

export const root = resolve(import.meta.dirname, "../..");

export interface Example {
  /** File relative to the root, and the line of the first line of code, counted from 1. */
  readonly file: string;
  readonly line: number;
  readonly code: string;
  /** False for ```ts no-run: only type-checked. */
  readonly run: boolean;
}

const fence = /^([ \t]*)```(\S*)([^\n]*)\n([\s\S]*?)^[ \t]*```[ \t]*$/gm;

/** The fenced blocks of a text, whatever their language. */
function blocks(text: string): { language: string; flags: string[]; code: string; line: number }[] {
  return [...text.matchAll(fence)].map((match) => {
    const [, indent = "", language = "", flags = "", code = ""] = match;
    return {
      language,
      flags: flags.split(/\s+/).filter(Boolean),
      code: code
        .split("\n")
        .map((line) => (line.startsWith(indent) ? line.slice(indent.length) : line))
        .join("\n"),
      line: text.slice(0, match.index).split("\n").length,
    };
  });
}

function examplesIn(file: string, text: string, firstLine: number): Example[] {
  return blocks(text).flatMap(({ language, flags, code, line }) => {
    const where = `${file}:${firstLine + line - 1}`;
    if (/^(js|javascript|typescript|tsx|jsx|mts|cts)$/i.test(language))
      throw new Error(`${where}: write the block as \`\`\`ts, so that it is checked`);
    if (language !== "ts") return [];
    const unknown = flags.find((flag) => flag !== "no-run");
    if (unknown !== undefined) throw new Error(`${where}: unknown word after \`\`\`ts: ${unknown}`);
    return [{ file, line: firstLine + line, code, run: !flags.includes("no-run") }];
  });
}

/** Text of a docstring without its stars, line for line. */
function withoutStars(comment: string): string {
  return comment
    .replace(/^\/\*\*/, "   ")
    .replace(/\*\/$/, "")
    .split("\n")
    .map((line) => line.replace(/^\s*\* ?/, ""))
    .join("\n");
}

export function sourceFiles(): string[] {
  return readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(root, "src", name))
    .sort();
}

function docstrings(path: string): Example[] {
  const file = ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.ES2022, true);
  const found = new Map<number, Example[]>();
  const visit = (node: ts.Node): void => {
    for (const doc of ts.getJSDocCommentsAndTags(node).filter(ts.isJSDoc)) {
      const line = file.getLineAndCharacterOfPosition(doc.pos).line + 1;
      found.set(doc.pos, examplesIn(relative(root, path).replaceAll("\\", "/"), withoutStars(doc.getText(file)), line));
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return [...found.values()].flat();
}

function pages(): string[] {
  const top = readdirSync(root).filter((name) => name.endsWith(".md"));
  const docs = readdirSync(join(root, "docs"), { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".md"));
  return [...top, ...docs.map((name) => `docs/${name}`)].sort();
}

/** All examples, pages first. */
export function collectExamples(): Example[] {
  return [...pages().flatMap((page) => examplesIn(page, readFileSync(join(root, page), "utf8"), 1)), ...sourceFiles().flatMap(docstrings)];
}
