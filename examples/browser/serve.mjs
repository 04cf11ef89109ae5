// Serves the browser example: `npm run browser`, then open the address that it prints. Needs `npm run build`. The built ES module is bundled with what it
// imports, since a browser finds no packages by name; everything else is served as it stands, under a strict content-security policy.
import { build } from "esbuild";
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = join(here, "..", "..");
const policy =
  "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; worker-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/** The worker has its own policy. The solver's inner loops are WebAssembly, which this allows, and nothing else; without it they run as plain loops, to the same bits, and the browser reports. */
const policyOfWorker = policy.replace("script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'");
const types = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".json": "application/json",
  ".txt": "text/plain",
  ".csv": "text/csv",
};

/** Starts the server on a port, 0 for any, and gives it with its address. */
export async function serve(port = 0) {
  if (!existsSync(join(root, "dist", "index.js"))) throw new Error("there is no dist/index.js: run `npm run build` first");
  const worker = await build({
    entryPoints: [join(here, "worker.js")],
    bundle: true,
    format: "esm",
    target: "es2022",
    platform: "browser",
    minify: true,
    write: false,
    logLevel: "error",
    plugins: [
      {
        name: "the built package",
        setup: (context) =>
          context.onResolve({ filter: /^dividing-network(\/|$)/ }, ({ path }) => ({
            path: join(root, "dist", path.slice("dividing-network".length), "index.js"),
          })),
      },
    ],
  });
  const server = createServer(async (request, response) => {
    const path = normalize(new URL(request.url, "http://localhost").pathname);
    const head = {
      "Content-Security-Policy": path === "/worker.js" ? policyOfWorker : policy,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "no-store",
    };
    const file = path.startsWith("/desk-monitor/") ? join(root, "examples", path) : join(here, path === "/" ? "index.html" : path);
    try {
      const body =
        path === "/worker.js" ? worker.outputFiles[0].contents : types[extname(file)] === undefined ? undefined : await readFile(file);
      if (body === undefined) throw new Error("no such type");
      response.writeHead(200, { ...head, "Content-Type": `${types[extname(file)]}; charset=utf-8` }).end(body);
    } catch {
      response.writeHead(404, head).end("not here");
    }
  });
  await new Promise((resolve) => server.listen(port, "127.0.0.1", resolve));
  return { server, address: `http://127.0.0.1:${server.address().port}/` };
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { address } = await serve(Number(process.env.PORT ?? 8080));
  console.log(`The example is at ${address} (stop it with Ctrl C)`);
}
