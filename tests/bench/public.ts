// The public calls: what they cost beside the inner run for the same output, the first one in a fresh process, and long grids.
import { bundled } from "./bundled";

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

export function bench(): { name: string; lines: string[] } {
  const runs = bundled("public-calls.ts", 3);
  const fresh = bundled("first-call.ts", 15);
  const of = (key: string): number => median(runs.map((run) => run[key]!));
  const first = (key: string): number => median(fresh.map((run) => run[key]!));
  const least = (key: string): number => Math.min(...fresh.map((run) => run[key]!));
  const micro = (ms: number): string => `${(1000 * ms).toFixed(1)} µs`;
  const ratio = (key: string): string => `${of(`${key}Ratio`).toFixed(2)}×`;
  const lines = [
    'The same network as under "Solver", by the public calls, bundled and in processes of their own (medians of three). An inner run writes to arrays that are there already and',
    "checks nothing; a public call compares its grid with the last one, makes the arrays of its answer, and freezes it.",
    "",
    "| what | inner run | public call | ratio | bar |",
    "|---|---|---|---|---|",
    `| \`compile(…)\` once, then \`.sweep(f).voltage("w")\` | ${micro(of("oneInner"))} | ${micro(of("onePublic"))} | ${ratio("one")} | ≤ 1.3× |`,
    `| the same for four outputs of one sweep | ${micro(of("fourInner"))} | ${micro(of("fourPublic"))} | ${ratio("four")} | |`,
    `| drivers as parts, one output | ${micro(of("partsInner"))} | ${micro(of("partsPublic"))} | ${ratio("parts")} | |`,
    ...[25, 50, 100, 200].map(
      (nodes) =>
        `| ladder of ${nodes} nodes, one output, per node | ${((1e3 * of(`ladder${nodes}Inner`)) / nodes).toFixed(2)} µs | ${((1e3 * of(`ladder${nodes}Public`)) / nodes).toFixed(2)} µs | ${ratio(`ladder${nodes}`)} | |`,
    ),
    "",
    "| what | found | bar |",
    "|---|---|---|",
    `| \`solve(network, f).voltage("w")\`, the network analysed each time | ${of("solve").toFixed(2)} ms | |`,
    `| a fresh process, drivers by their parameters: \`solve(network, f).voltage("w")\` the first time, least of ${fresh.length} processes | ${least("first").toFixed(1)} ms, median ${first("first").toFixed(1)} ms; processor time ${least("processor").toFixed(1)} ms, median ${first("processor").toFixed(1)} ms | < 10 ms |`,
    `| the second and the third time | ${first("second").toFixed(1)} ms and ${first("third").toFixed(1)} ms | |`,
    `| from the start of the process until the library is loaded and the network written down | ${first("loaded").toFixed(0)} ms | |`,
    `| 200 nodes at 100,000 frequencies, one voltage | ${of("longTime").toFixed(0)} ms; grid, answer and all that stays: ${of("longBytes").toFixed(0)} MB | |`,
    `| 10 nodes at 10,000,000 frequencies, one voltage | ${(of("longestTime") / 1000).toFixed(1)} s; grid, answer and all that stays: ${of("longestBytes").toFixed(0)} MB | |`,
    "",
    "What the first call takes on a busy machine is mostly waiting. Of its processor time some seventh is unpacking and starting WebAssembly; the rest is code that runs once, before any of it is compiled.",
  ];
  return { name: "Public calls", lines };
}
