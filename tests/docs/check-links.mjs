// Checks every link: those of the pages in Markdown (files, and headings within them), and those of the site that `npm run docs` made of them and of the docstrings
// (files, and places within them). Links to other hosts are not asked for, but must be listed here: a page that isn't there any more is a reason to look.
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
/** Hosts that a page may name. */
const hosts = new Set(["www.w3.org"]);
const problems = [];
let checked = 0;

const files = (folder, end) =>
  readdirSync(folder, { recursive: true })
    .filter((name) => name.endsWith(end))
    .map((name) => join(folder, name));
const decoded = (text) => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** Looks at one link; `placesOf` gives the places within a file that a link may name. */
function check(file, link, placesOf) {
  checked++;
  const say = (what) => problems.push(`${relative(root, file)}: ${link} ${what}`);
  if (/^(?:mailto|javascript|data|blob):/i.test(link)) return link.startsWith("data:") ? undefined : say("is no link to a page");
  if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(link)) {
    const host = /^(?:https?:)?\/\/([^/]+)/i.exec(link)?.[1];
    return hosts.has(host) ? undefined : say(`names the host ${host}, which isn't among those that are meant`);
  }
  const [path, place] = link.split("#");
  const target = path === "" ? file : resolve(dirname(file), decoded(path.split("?")[0]));
  if (!existsSync(target)) return say("leads to no file");
  const page = statSync(target).isDirectory() ? join(target, "index.html") : target;
  if (place === undefined || place === "") return undefined;
  return placesOf(page).has(decoded(place)) ? undefined : say("leads to no such place in the file");
}

/** The places of a page in Markdown: its headings as the usual hosts name them. */
const headings = new Map();
function headingsOf(file) {
  if (!headings.has(file)) {
    const text = readFileSync(file, "utf8").replaceAll(/^(```|~~~)[\s\S]*?^\1/gm, "");
    headings.set(
      file,
      new Set(
        [...text.matchAll(/^#{1,6} +(.+)$/gm)].map(([, title]) =>
          title
            .replaceAll(/[`*]|\[|\]\([^)]*\)/g, "")
            .trim()
            .toLowerCase()
            .replaceAll(/[^\p{L}\p{N}\s_-]/gu, "")
            .replaceAll(/\s/g, "-"),
        ),
      ),
    );
  }
  return headings.get(file);
}

const pages = [
  ...["README.md", "DEVELOPERS.md", "CHANGELOG.md"].map((name) => join(root, name)),
  ...files(join(root, "docs"), ".md"),
  ...files(join(root, "examples"), ".md"),
];
for (const file of pages) {
  const text = readFileSync(file, "utf8")
    .replaceAll(/^(```|~~~)[\s\S]*?^\1/gm, "")
    .replaceAll(/`[^`\n]*`/g, "");
  for (const [, link] of text.matchAll(/\]\(\s*<?([^)\s>]+)>?(?:\s+"[^"]*")?\s*\)/g)) check(file, link, headingsOf);
  for (const [, link] of text.matchAll(/^\[[^\]]+\]:\s*(\S+)/gm)) check(file, link, headingsOf);
}
const inMarkdown = checked;

/** The places of a page of the site. */
const ids = new Map();
function idsOf(file) {
  if (!ids.has(file))
    ids.set(
      file,
      new Set([...readFileSync(file, "utf8").matchAll(/\s(?:id|name)="([^"]*)"/g)].map(([, id]) => id.replaceAll("&amp;", "&"))),
    );
  return ids.get(file);
}

const site = join(root, "site");
if (!existsSync(join(site, "index.html"))) {
  console.error("links: there is no site/index.html. Run `npm run docs` first");
  process.exit(1);
}
for (const file of files(site, ".html")) {
  const text = readFileSync(file, "utf8").replaceAll(/<script\b[^>]*>[\s\S]*?<\/script>/g, "");
  for (const [, link] of text.matchAll(/<[a-z][^<>]*?\s(?:href|src)="([^"]*)"/g))
    check(file, link.replaceAll("&amp;", "&").replaceAll("&#x2F;", "/"), idsOf);
}

for (const problem of problems.slice(0, 50)) console.error(problem);
if (problems.length > 50) console.error(`and ${problems.length - 50} more`);
console.log(`links: ${inMarkdown} in ${pages.length} pages, ${checked - inMarkdown} in the site; ${problems.length} lead nowhere`);
if (problems.length > 0) process.exitCode = 1;
