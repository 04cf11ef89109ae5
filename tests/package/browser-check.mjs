// Checks that the built ESM package runs in a browser page and in a worker there. Run after `npm run build`. Needs Chromium (its path in
// CHROMIUM, or /usr/bin/chromium) and fails without it, unless SKIP_BROWSER_CHECK=1 says that this is meant.
import { build } from "esbuild";
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";
if (!existsSync(join(root, "dist/index.js"))) throw new Error("dist/ is missing: run `npm run build` first");
if (process.env.SKIP_BROWSER_CHECK === "1") {
  console.log("browser check skipped: SKIP_BROWSER_CHECK=1");
  process.exit(0);
}
if (!existsSync(chromium)) {
  console.error(
    `browser check: there is no ${chromium}. Install Chromium (Debian: apt-get install chromium), name it in CHROMIUM, or set SKIP_BROWSER_CHECK=1`,
  );
  process.exit(1);
}

const { exports } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const subpaths = Object.keys(exports).filter((name) => !/\.js(on)?$/.test(name));

/** Says what it found, in a page as in a worker: how many names each subpath has, and one solved divider. */
const program = `
  ${subpaths.map((name, index) => `import * as m${index} from "./dist/${name === "." ? "" : `${name.slice(2)}/`}index.js";`).join("\n")}
  const names = [${subpaths.map((_, index) => `m${index}`).join(", ")}].map((each) => Object.keys(each).length);
  const { network, resistor, solve, DividingNetworkError } = m0;
  const sweep = solve(network({ R1: [resistor("3 Ω"), "in", "out"], R2: [resistor("1 Ω"), "out", "gnd"] }), [1000]);
  let refused = false;
  try { resistor("4,7 Ω"); } catch (error) { refused = error instanceof DividingNetworkError; }
  globalThis.answer = JSON.stringify({ names, divider: sweep.voltage("out").re[0], impedance: sweep.impedance.re[0], refused });
`;

const work = mkdtempSync(join(tmpdir(), "browser-"));
try {
  const options = {
    stdin: { contents: program, resolveDir: root },
    bundle: true,
    format: "iife",
    target: "es2022",
    // What workers are started with; cores-check.mjs starts some.
    external: ["workerpool"],
    write: false,
    logLevel: "error",
  };
  const bundled = (await build({ ...options, platform: "browser" })).outputFiles[0].text;
  // In a file of its own, so that the page that is printed afterwards stays small.
  writeFileSync(join(work, "source.js"), `const source = ${JSON.stringify(bundled)};`);
  const page = join(work, "page.html");
  writeFileSync(
    page,
    `<!doctype html><meta charset="utf-8"><title>check</title><pre id="page"></pre><pre id="worker"></pre><script src="source.js"></script><script>
    const say = (id, text) => { document.getElementById(id).textContent = text; };
    try { (0, eval)(source); say("page", globalThis.answer); } catch (error) { say("page", String(error)); }
    const worker = new Worker(URL.createObjectURL(new Blob([source + "\\npostMessage(globalThis.answer);"], { type: "text/javascript" })));
    worker.onmessage = (event) => say("worker", event.data);
    worker.onerror = (event) => say("worker", "error: " + event.message);
  </script>`,
  );
  const flags = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    `--user-data-dir=${join(work, "profile")}`,
    "--virtual-time-budget=10000",
    "--dump-dom",
  ];
  const dom = execFileSync(chromium, [...flags, `file://${page}`], {
    encoding: "utf8",
    timeout: 120_000,
    stdio: ["ignore", "pipe", "ignore"],
  });

  // What the same program says here, under Node, is what it must say there.
  (0, eval)(bundled);
  const expected = globalThis.answer;
  const { divider, impedance, refused } = JSON.parse(expected);
  if (divider !== 0.25 || impedance !== 4 || refused !== true) throw new Error(`wrong under Node already: ${expected}`);
  for (const place of ["page", "worker"]) {
    const found = dom.match(new RegExp(`<pre id="${place}">([^<]*)</pre>`))?.[1];
    if (found !== expected) throw new Error(`in the ${place}: expected ${expected}, found ${found}`);
  }
  console.log(`browser: page and worker agree with Node: ${expected}`);
} finally {
  rmSync(work, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}
