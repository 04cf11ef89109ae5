// All benches, printed and written to docs/performance.md with the machine they ran on; `npm run bench publicCalls` runs one of
// them and leaves the other sections as they are. Figures of a section are of one run on one machine; what is compared is
// compared within that run.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { arch, cpus, loadavg, totalmem } from "node:os";
import { fileURLToPath } from "node:url";
import { bench as browser } from "./browser";
import { bench as coils } from "./coils";
import { bench as cores } from "./cores";
import { bench as design } from "./design";
import { bench as exact } from "./exact";
import { bench as publicCalls } from "./public";
import { bench as radiation } from "./radiation";
import { bench as responseTools } from "./response-tools";
import { bench as solver } from "./solver";
import { bench as spreading } from "./spread";
import { bench as types } from "./types";

const only = process.argv.slice(2);
const benches = Object.entries({
  solver,
  publicCalls,
  radiation,
  responseTools,
  types,
  coils,
  design,
  exact,
  cores,
  spreading,
  browser,
}).filter(([name]) => only.length === 0 || only.includes(name));
const head = [
  "# Performance",
  "",
  "Written by `npm run bench`: one run for each section, on one core where nothing else is said. A time is the one that a tenth of the timings stay under, since other work only lengthens them; medians are named so. Times depend on the machine; ratios within a run much less.",
  "",
  `Machine: a processor of the ${arch()} kind, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}.`,
].join("\n");
const page = fileURLToPath(new URL("../../docs/performance.md", import.meta.url));
const sections = new Map(
  only.length === 0 || !existsSync(page)
    ? []
    : readFileSync(page, "utf8")
        .trimEnd()
        .split("\n\n## ")
        .slice(1)
        .map((section): [string, string] => [section.split("\n", 1)[0]!, section]),
);
for (const [, run] of benches) {
  const load = loadavg()[0]!;
  const { name, lines } = await run();
  console.log(`\n${name}\n${lines.join("\n")}`);
  const busy =
    load < 0.5
      ? []
      : [`The machine had other work meanwhile (a load of ${load.toFixed(1)} at the start): times are too long, ratios less so.`, ""];
  sections.set(name, [name, "", ...busy, ...lines].join("\n"));
}
writeFileSync(page, `${[head, ...sections.values()].join("\n\n## ")}\n`);
