// Drives the browser example in headless Chromium as a hand would: opens it, moves sliders by keys, reads the plot and the sentence, and listens for every report of
// the content-security policy, in the page and in its worker. The time from a key to the new plot is measured and reported, never judged. Run after `npm run build`.
// With a folder as an argument, it leaves screenshots there.
import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { serve } from "../../examples/browser/serve.mjs";

const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";
const pictures = process.argv[2];
if (process.env.SKIP_BROWSER_CHECK === "1") {
  console.log("browser example skipped: SKIP_BROWSER_CHECK=1");
  process.exit(0);
}
if (!existsSync(chromium)) {
  console.error(
    `browser example: there is no ${chromium}. Install Chromium (Debian: apt-get install chromium), name it in CHROMIUM, or set SKIP_BROWSER_CHECK=1`,
  );
  process.exit(1);
}

/** The network that the page begins with, as the project file writes it: a slider a part, drivers aside. */
const { parts } = JSON.parse(readFileSync(new URL("../../examples/desk-monitor/project.json", import.meta.url), "utf8")).networks.proposed;
const adjustable = parts.filter(({ kind }) => kind !== "driver").map(({ name }) => `part-${name}`);
const firstCoil = Number.parseFloat(parts.find(({ name }) => name === "L1").inductance);

const work = mkdtempSync(join(tmpdir(), "browser-example-"));
const { server, address } = await serve();
const browser = spawn(
  chromium,
  [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    `--user-data-dir=${join(work, "profile")}`,
    "--remote-debugging-pipe",
    "--window-size=1000,1400",
    "about:blank",
  ],
  { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] },
);

/** The browser's own protocol over its pipe: messages as JSON, each ended by a zero. */
const pending = new Map();
const heard = [];
let [count, rest] = [0, ""];
browser.stdio[4].on("data", (chunk) => {
  const parts = (rest + chunk.toString("utf8")).split("\0");
  rest = parts.pop();
  for (const message of parts.map((each) => JSON.parse(each))) {
    if (message.id === undefined) heard.push(message);
    else {
      const { resolve, reject } = pending.get(message.id);
      pending.delete(message.id);
      if (message.error) reject(new Error(message.error.message));
      else resolve(message.result);
    }
  }
});
const send = (method, params = {}, sessionId) =>
  new Promise((resolve, reject) => {
    pending.set(++count, { resolve, reject });
    browser.stdio[3].write(`${JSON.stringify({ id: count, method, params, ...(sessionId ? { sessionId } : {}) })}\0`);
  });

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const must = (truth, what) => {
  if (!truth) throw new Error(`browser example: ${what}`);
};

try {
  const { targetId } = await send("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await send("Target.attachToTarget", { targetId, flatten: true });
  const page = (method, params) => send(method, params, sessionId);
  const ask = async (expression) => {
    const { result, exceptionDetails } = await page("Runtime.evaluate", { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  };
  const until = async (expression, what, patience = 30_000) => {
    for (const end = Date.now() + patience; !(await ask(expression));) {
      must(Date.now() < end, `${what}: ${await ask("document.getElementById('verdict')?.textContent")}`);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };
  await Promise.all(["Page.enable", "Runtime.enable", "Log.enable"].map((each) => page(each)));
  await page("Page.navigate", { url: address });
  await until("globalThis.report?.answers > 0", "the page shows no plot");

  const curve = () => ask("document.querySelector('#axis path.sum').getAttribute('d')");
  const sentence = () => ask("document.getElementById('verdict').textContent");
  const levels = (path) =>
    path
      .split(/[ML]/)
      .slice(1)
      .map((pair) => Number(pair.split(" ")[1]));
  const [atFirst, saidFirst] = [await curve(), await sentence()];
  must(levels(atFirst).length === 240 && levels(atFirst).every(Number.isFinite), "the curve of the sum has no 240 numbers");
  must(
    /within ±\d/.test(saidFirst) && !saidFirst.includes("Danger"),
    `the proposed network should be within its limits, and the page says: ${saidFirst}`,
  );

  const sliders = await ask("[...document.querySelectorAll('input[type=range]')].map(({ id }) => id)");
  must(sliders.join() === adjustable.join(), `there should be a slider for ${adjustable.join(", ")}, found ${sliders.join(", ")}`);
  const press = async (key, code, times) => {
    for (let i = 0; i < times; i++) {
      const answers = await ask("report.answers");
      for (const type of ["keyDown", "keyUp"]) await page("Input.dispatchKeyEvent", { type, key, code: key, windowsVirtualKeyCode: code });
      await until(`report.answers > ${answers}`, `no answer to ${key}`);
    }
  };
  // Warm, then measured: a key, and the plot that follows from it.
  await ask("document.getElementById('part-L1').focus()");
  await press("ArrowLeft", 37, 20);
  await ask("report.frames.length = report.computed.length = 0");
  await press("ArrowLeft", 37, 80);
  const { frames, computed } = await ask("({ frames: report.frames, computed: report.computed })");
  const moved = await curve();
  must(moved !== atFirst, "the slider of L1 moves no curve");
  const raised = levels(moved).filter((y, i) => y < levels(atFirst)[i] - 1).length;
  must(raised > 20, "a fourth of the woofer's coil should raise the sum somewhere");
  const shown = Number.parseFloat(await ask("document.querySelector('#part-L1 + output, output[for=part-L1]').textContent"));
  must(Math.abs(shown / (firstCoil / 4) - 1) < 0.02, `L1 should have come to a fourth of ${firstCoil} mH, and the page says ${shown}`);
  if (pictures)
    writeFileSync(
      join(pictures, "moved.png"),
      Buffer.from((await page("Page.captureScreenshot", { captureBeyondViewport: true })).data, "base64"),
    );

  // A tweeter turned round, a load that is too low: the page must say so in words.
  await ask("document.getElementById('reset').click()");
  await until(
    `document.querySelector('#axis path.sum').getAttribute('d') === ${JSON.stringify(atFirst)}`,
    "the button doesn't bring the first curve back",
  );
  await ask("document.getElementById('reversed').click()");
  await until(
    `document.querySelector('#axis path.sum').getAttribute('d') !== ${JSON.stringify(atFirst)}`,
    "the tweeter turned round changes nothing",
  );
  await ask("document.getElementById('reset').click()");
  await ask("document.getElementById('part-C2').focus()");
  await ask("document.getElementById('part-C2').value = '100'; document.getElementById('part-C2').dispatchEvent(new Event('input'))");
  await ask("document.getElementById('part-L1').value = '-100'; document.getElementById('part-L1').dispatchEvent(new Event('input'))");
  await until("document.getElementById('verdict').textContent.includes('Danger')", "a load below the limit is not called a danger");
  await ask("document.getElementById('reset').click()");
  await until(
    `document.querySelector('#axis path.sum').getAttribute('d') === ${JSON.stringify(atFirst)}`,
    "the button doesn't bring the first curve back",
  );

  for (const [name, width, dark] of [
    ["wide", 1000, false],
    ["dark", 1000, true],
    ["narrow", 420, false],
  ]) {
    await page("Emulation.setDeviceMetricsOverride", { width, height: 1400, deviceScaleFactor: 1, mobile: width < 500 });
    await page("Emulation.setEmulatedMedia", { features: [{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }] });
    must(await ask("document.documentElement.scrollWidth <= innerWidth"), `the page scrolls sideways at ${width} px`);
    if (pictures)
      writeFileSync(
        join(pictures, `${name}.png`),
        Buffer.from((await page("Page.captureScreenshot", { captureBeyondViewport: true })).data, "base64"),
      );
  }

  const violations = await ask("report.violations");
  const logged = heard.filter(
    ({ method, params }) => (method === "Log.entryAdded" && params.entry.level === "error") || method === "Runtime.exceptionThrown",
  );
  must(violations.length === 0, `the content-security policy was violated: ${violations.join(", ")}`);
  must(
    logged.length === 0,
    `the console has errors: ${JSON.stringify(logged.map(({ params }) => params.entry?.text ?? params.exceptionDetails?.text))}`,
  );
  console.log(
    `browser example: ${frames.length} moves of a slider, from the key to the new plots ${median(frames).toFixed(1)} ms (median), of which computed ${median(computed).toFixed(1)} ms; no report of the content-security policy`,
  );
} finally {
  // Asked to close, it ends its helpers too, which would else go on writing into its profile.
  const ended = new Promise((resolve) => (browser.exitCode === null ? browser.once("exit", resolve) : resolve()));
  await Promise.race([
    send("Browser.close").then(
      () => ended,
      () => undefined,
    ),
    new Promise((resolve) => setTimeout(resolve, 5000)),
  ]);
  browser.kill();
  await ended;
  server.close();
  try {
    rmSync(work, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
  } catch (error) {
    console.log(`browser example: the profile in ${work} couldn't be removed: ${error.code}`);
  }
}
