// Checks the page that the command writes in headless Chromium: no violation that axe-core finds, in light and in dark, no sideways scroll at
// 1400, 820 and 420 px, and at most five sides of A4. Run after `npm run build`. Needs Chromium, as browser-check.mjs does, and is left out as that is.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";
if (process.env.SKIP_BROWSER_CHECK === "1") {
  console.log("accessibility check skipped: SKIP_BROWSER_CHECK=1");
  process.exit(0);
}
if (!existsSync(chromium)) {
  console.error(
    `accessibility check: there is no ${chromium}. Install Chromium (Debian: apt-get install chromium), name it in CHROMIUM, or set SKIP_BROWSER_CHECK=1`,
  );
  process.exit(1);
}

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const work = mkdtempSync(join(tmpdir(), "accessibility-"));
try {
  const written = join(work, "report.html");
  execFileSync(process.execPath, [join(root, "dist/command-line.js"), "--out", written], { stdio: ["ignore", "ignore", "inherit"] });
  const page = readFileSync(written, "utf8");
  // The page forbids scripts, so that its own policy is taken out for the check alone.
  const open = page.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, "");
  if (open === page) throw new Error("the page has no policy that forbids scripts");

  const checked = join(work, "checked.html");
  writeFileSync(
    checked,
    open.replace(
      "</body>",
      () => `<script>${axe.replaceAll("</script", "<\\/script")}</script><script>
    axe.run(document, { resultTypes: ["violations"] }).then(({ violations, passes }) => {
      const answer = document.createElement("pre");
      answer.id = "answer";
      answer.textContent = JSON.stringify({ dark: matchMedia("(prefers-color-scheme: dark)").matches, passes: passes.length, violations: violations.map(({ id, help, nodes }) => ({ id, help, nodes: nodes.map(({ html, failureSummary }) => html.slice(0, 160) + " " + failureSummary) })) });
      document.body.append(answer);
    });
  </script></body>`,
    ),
  );
  for (const theme of ["light", "dark"]) {
    const { dark, passes, violations } = answerOf(checked, 1400, `--blink-settings=preferredColorScheme=${theme === "dark" ? 0 : 1}`);
    if (dark !== (theme === "dark")) throw new Error(`Chromium didn't show the ${theme} theme`);
    if (!(passes > 10)) throw new Error(`axe-core ran ${passes} checks only`);
    if (violations.length > 0)
      throw new Error(
        `${theme}: ${violations.map(({ id, help, nodes }) => `${id} (${help}):\n  ${nodes.slice(0, 5).join("\n  ")}`).join("\n")}`,
      );
    console.log(`accessibility, ${theme}: ${passes} rules of axe-core passed, none violated`);
  }

  // A window is never narrower than some 500 px, a frame may be.
  const frames = join(work, "frames.html");
  writeFileSync(
    frames,
    `<!doctype html><meta charset="utf-8"><title>frames</title><body><script>
    const widths = [1400, 820, 420];
    const page = ${JSON.stringify(open).replaceAll("</", "<\\/")};
    Promise.all(widths.map((width) => new Promise((done) => {
      const frame = document.createElement("iframe");
      frame.style.cssText = "border:0;height:900px;width:" + width + "px";
      frame.onload = () => done({ width, inside: frame.contentDocument.documentElement.scrollWidth });
      frame.srcdoc = page;
      document.body.append(frame);
    }))).then((found) => {
      for (const frame of document.querySelectorAll("iframe")) frame.remove();
      const answer = document.createElement("pre");
      answer.id = "answer";
      answer.textContent = JSON.stringify(found);
      document.body.append(answer);
    });
  </script></body>`,
  );
  for (const { width, inside } of answerOf(frames, 1500)) {
    if (inside > width) throw new Error(`at ${width} px the page is ${inside} px wide: it scrolls sideways`);
    console.log(`width ${width} px: no sideways scroll`);
  }

  const pdf = join(work, "report.pdf");
  execFileSync(chromium, [...flagsOf(1400), "--no-pdf-header-footer", `--print-to-pdf=${pdf}`, `file://${written}`], {
    timeout: 180_000,
    stdio: "ignore",
  });
  const sides = readFileSync(pdf, "latin1").match(/\/Type \/Page\b/g)?.length ?? 0;
  if (!(sides >= 1 && sides <= 5)) throw new Error(`the page prints on ${sides} sides`);
  console.log(`printed: ${sides} sides`);
} finally {
  rmSync(work, { recursive: true, force: true });
}

/** What a page writes into its element "answer". */
function answerOf(file, width, ...more) {
  const dom = execFileSync(chromium, [...flagsOf(width), "--virtual-time-budget=30000", "--dump-dom", ...more, `file://${file}`], {
    encoding: "utf8",
    timeout: 180_000,
    maxBuffer: 1 << 28,
    stdio: ["ignore", "pipe", "ignore"],
  });
  const found = /<pre id="answer">([^<]*)<\/pre>/.exec(dom.slice(dom.lastIndexOf('<pre id="answer">')))?.[1];
  if (found === undefined) throw new Error(`${file}: Chromium gave no answer`);
  return JSON.parse(found.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&amp;", "&"));
}

function flagsOf(width) {
  return [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    `--user-data-dir=${join(work, "profile")}`,
    `--window-size=${width},1200`,
  ];
}
