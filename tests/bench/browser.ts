// What a slider of the browser example waits for, in headless Chromium: needs `npm run build` and a browser.
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

export function bench(): { name: string; lines: string[] } {
  const name = "A slider in the browser";
  const what =
    "`node tests/package/browser-example.mjs`: the proposed network of the example, 240 frequencies, solved, predicted and judged in a worker, and drawn.";
  if (!existsSync(`${root}/dist/index.js`)) return { name, lines: [what, "", "Not measured: `npm run build` was not run."] };
  const said = execFileSync(process.execPath, ["tests/package/browser-example.mjs"], { cwd: root, encoding: "utf8" });
  const found = said.match(/(\d+) moves .* ([\d.]+) ms \(median\), of which computed ([\d.]+) ms/);
  if (found === null) return { name, lines: [what, "", `Not measured: ${said.trim()}`] };
  const [, moves, frame, computed] = found;
  return {
    name,
    lines: [
      what,
      "",
      `${moves} moves of a slider: from the key to the new plots ${frame} ms (median), of which computed ${computed} ms. A frame of 60 a second has 16.7 ms.`,
    ],
  };
}
