// All benches, printed and written to docs/performance.md with the machine they ran on. Figures are medians of one run on
// one machine; what is compared is compared within that run.
import { writeFileSync } from "node:fs";
import { cpus, totalmem } from "node:os";
import { fileURLToPath } from "node:url";
import { bench as publicCalls } from "./public";
import { bench as radiation } from "./radiation";
import { bench as responseTools } from "./response-tools";
import { bench as solver } from "./solver";

const only = process.argv.slice(2);
const benches = Object.entries({ solver, publicCalls, radiation, responseTools }).filter(([name]) => only.length === 0 || only.includes(name));
const [cpu] = cpus();
const out = [
  "# Performance",
  "",
  "Written by `npm run bench`: medians of one run, on one core where nothing else is said. Times depend on the machine; ratios within a run much less.",
  "",
  `Machine: ${cpu?.model ?? "unknown"}, ${cpus().length} cores, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}.`,
];
for (const [, run] of benches) {
  const { name, lines } = await run();
  console.log(`\n${name}\n${lines.join("\n")}`);
  out.push("", `## ${name}`, "", ...lines);
}
if (only.length === 0) writeFileSync(fileURLToPath(new URL("../../docs/performance.md", import.meta.url)), `${out.join("\n")}\n`);
