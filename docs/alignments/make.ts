// Writes the plots and the tables of the pages beside this file: npx tsx docs/alignments/make.ts
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { plots, tables } from "./generate";

/** A page with the tables between its markers replaced. */
export function withTables(page: string, contents: Readonly<Record<string, string>>): string {
  return page.replace(/<!-- table: ([\w-]+) -->\n[\s\S]*?<!-- end -->/g, (_whole, name: string) => {
    const content = contents[name];
    if (content === undefined) throw new Error(`no table is called ${name}`);
    return `<!-- table: ${name} -->\n${content}\n<!-- end -->`;
  });
}

if (process.argv[1] === import.meta.filename) {
  const here = import.meta.dirname;
  for (const [name, svg] of Object.entries(plots())) writeFileSync(join(here, "plots", `${name}.svg`), svg);
  const contents = tables();
  for (const file of readdirSync(here).filter((name) => name.endsWith(".md"))) {
    const path = join(here, file);
    writeFileSync(path, withTables(readFileSync(path, "utf8"), contents));
  }
}
