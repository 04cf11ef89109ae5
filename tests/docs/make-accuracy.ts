// Writes the table of docs/accuracy.md from what is measured here: `npm run accuracy`.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../support/program";
import { accuracyRows, accuracyTable, bound } from "./accuracy-rows";

const file = join(root, "docs/accuracy.md");
const page = readFileSync(file, "utf8");
const errors = accuracyRows.map(({ name, worst }) => {
  const started = performance.now();
  const error = worst();
  console.log(`${error.toExponential(2)}  ${name}  (${(performance.now() - started).toFixed(0)} ms)`);
  return error;
});
const table = accuracyTable(errors.map(bound));
writeFileSync(
  file,
  page.replace(/(?<=<!-- table -->\n)[\s\S]*?(?=\n<!-- \/table -->)/, () => table),
);
