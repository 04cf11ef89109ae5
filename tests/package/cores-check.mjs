// Checks that the built package starts its workers in a browser page: bundled by esbuild with the script copied beside the bundle, and by vite, which carries it along by itself. Run after
// `npm run build`. Needs Chromium as browser-check.mjs does.
import { build } from "esbuild";
import { spawn } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { extname, join, normalize, resolve } from "node:path";
import { build as viteBuild } from "vite";

const root = resolve(import.meta.dirname, "../..");
const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";
if (!existsSync(join(root, "dist/cores/worker.js"))) throw new Error("dist/ is missing: run `npm run build` first");
if (process.env.SKIP_BROWSER_CHECK === "1") {
  console.log("workers in a browser skipped: SKIP_BROWSER_CHECK=1");
  process.exit(0);
}
if (!existsSync(chromium)) {
  console.error(`workers in a browser: there is no ${chromium}. Install Chromium, name it in CHROMIUM, or set SKIP_BROWSER_CHECK=1`);
  process.exit(1);
}

/** A small redesign and values to choose, alone and by two workers, and a redesign whose script isn't there; what came of it is posted to the server. */
const program = (dist) => `
import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "${dist}/index.js";
import { chooseValues, redesign } from "${dist}/design/index.js";
import { chooseValuesOnAllCores, redesignOnAllCores } from "${dist}/cores/index.js";
const say = (answer) => fetch("/answer", { method: "POST", body: JSON.stringify(answer) });
(async () => {
  const grid = logGrid(500, 8000, 17);
  const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
  const box = loudspeaker({
    network: { cone: [resistor(8), "in", "gnd"], dome: [resistor(8), "in", "gnd"] },
    drivers: [{ name: "cone", role: "woofer", pressures: [flat] }, { name: "dome", role: "tweeter", pressures: [flat] }],
  });
  const asked = { goal: { frequencies: grid, limits: "stated" }, maxParts: 2, series: "E6" };
  const alone = await redesign(box, asked);
  const together = await redesignOnAllCores(box, { ...asked, workers: 2 });
  const drawn = { ...box, network: { R1: [resistor(1), "in", "a"], cone: [resistor(8), "a", "gnd"], R2: [resistor(1), "in", "b"], dome: [resistor(8), "b", "gnd"] } };
  const values = { goal: { frequencies: grid, levelDb: 84, limits: "stated" }, values: { R1: [1, 2.2, 4.7, 10, 22], R2: [1, 2.2, 4.7, 10, "short"] } };
  const [one, two] = [await chooseValues(drawn, values), await chooseValuesOnAllCores(drawn, { ...values, workers: 2 })];
  const chosen = JSON.stringify({ ...one, evaluated: 0 }) === JSON.stringify({ ...two, evaluated: 0 }) && one.proven && one.networks === 25;
  const missing = await redesignOnAllCores(box, { ...asked, workers: 1, workerScript: "/nowhere.js" }).then(() => "found", ({ code }) => code);
  await say({ chosen, same: JSON.stringify(alone) === JSON.stringify(together), topologies: together.topologies, lossDb: together.front[0].lossDb, missing });
})().catch((error) => say({ error: String(error) }));
`;

const work = mkdtempSync(join(tmpdir(), "cores-"));
/** What the package behind the workers asks Node for, and only Node. */
const nodesOwn = ["worker_threads", "os", "child_process"];
const types = { ".html": "text/html", ".js": "text/javascript" };

/** What a page says of itself, opened in a browser from a server of its own. */
async function answerOf(folder) {
  let told;
  const answer = new Promise((done) => (told = done));
  const server = createServer((request, response) => {
    if (request.method === "POST") {
      let text = "";
      request.on("data", (more) => (text += more));
      request.on("end", () => {
        response.end();
        told(text);
      });
      return;
    }
    const path = join(folder, normalize(request.url === "/" ? "/index.html" : request.url.split("?")[0]));
    if (!existsSync(path)) return void response.writeHead(404).end();
    response.writeHead(200, { "content-type": types[extname(path)] ?? "application/octet-stream" }).end(readFileSync(path));
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const page = `http://127.0.0.1:${server.address().port}/`;
  const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"];
  const browser = spawn(chromium, [...flags, `--user-data-dir=${join(folder, "profile")}`, "--remote-debugging-port=0", page], {
    stdio: "ignore",
  });
  const limit = setTimeout(() => told(JSON.stringify({ error: "no answer within two minutes" })), 120_000);
  try {
    return JSON.parse(await answer);
  } finally {
    clearTimeout(limit);
    browser.kill("SIGTERM");
    await new Promise((ended) => (browser.exitCode !== null || browser.signalCode !== null ? ended() : browser.once("exit", ended)));
    server.close();
  }
}

try {
  const plain = join(work, "plain");
  mkdirSync(plain);
  const stdin = { contents: program("./dist"), resolveDir: root };
  await build({
    stdin,
    bundle: true,
    format: "esm",
    platform: "browser",
    target: "es2022",
    outfile: join(plain, "page.js"),
    external: nodesOwn,
    logLevel: "error",
  });
  copyFileSync(join(root, "dist/cores/worker.js"), join(plain, "worker.js"));
  writeFileSync(
    join(plain, "index.html"),
    '<!doctype html><meta charset="utf-8"><title>check</title><script type="module" src="page.js"></script>',
  );

  const source = join(work, "source");
  const bundled = join(work, "bundled");
  mkdirSync(source);
  writeFileSync(join(source, "main.js"), program(join(root, "dist")));
  writeFileSync(
    join(source, "index.html"),
    '<!doctype html><meta charset="utf-8"><title>check</title><script type="module" src="./main.js"></script>',
  );
  await viteBuild({ root: source, configFile: false, logLevel: "error", build: { outDir: bundled, emptyOutDir: true, target: "es2022" } });

  for (const [how, folder] of [
    ["esbuild, the script beside the bundle", plain],
    ["vite", bundled],
  ]) {
    const { same, chosen, topologies, lossDb, missing, error } = await answerOf(folder);
    if (error !== undefined || same !== true || chosen !== true || missing !== "worker-failed")
      throw new Error(`workers in a page bundled by ${how}: ${JSON.stringify({ same, chosen, topologies, missing, error })}`);
    console.log(
      `browser: two workers in a page bundled by ${how} give what one core gives: ${topologies} topologies, ${lossDb.toFixed(4)} dB, and the values that it chooses`,
    );
  }
} finally {
  rmSync(work, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}
