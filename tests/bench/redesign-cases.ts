// Twelve seeded redesigns against a long independent search: npx tsx tests/bench/redesign-cases.ts [networks a case, default 20000] [first case] [last case]. Writes the rows of the table in docs/design.md.
import { redesign } from "../../src/design";
import { independently, redesignCases } from "../design/independent-search";

const [long = 20_000, first = 1, last = 12] = process.argv.slice(2).map(Number);
console.log("| case | parts | redesign, dB | independent, dB | networks looked through | proven |\n|---|---|---|---|---|---|");
let worse = 0;
for (const [index, own] of redesignCases().entries()) {
  if (index + 1 < first || index + 1 > last) continue;
  const { front } = await redesign(own.box, { goal: own.goal, series: "E6", maxParts: own.maxParts } as never);
  const other = independently(own, 1000 + index, long, own.name.includes("in series"));
  for (const parts of [...other.keys()].sort((a, b) => a - b)) {
    const least = Math.min(...[...other].filter(([count]) => count <= parts).map(([, loss]) => loss));
    const member = front.filter((one) => one.parts <= parts).at(-1);
    if (member === undefined || member.lossDb > least + 1e-9) worse++;
    console.log(
      `| ${own.name} | ${parts} | ${member?.lossDb.toFixed(3) ?? "none"} | ${least.toFixed(3)} | ${member?.networks ?? 0} | ${member?.proven === true ? "yes" : "no"} |${member === undefined || member.lossDb > least + 1e-9 ? " WORSE" : ""}`,
    );
  }
}
console.log(worse === 0 ? "\nThe independent search found nothing better." : `\nThe independent search was better ${worse} times.`);
process.exitCode = worse === 0 ? 0 : 1;
