// How often the true fault is named first, over seeded networks with one fault and 1 % of noise: npx tsx tests/bench/suspects.ts [cases] [first seed]
// Slow, and so never part of the tests, which look at a sample. The figures stand in docs/judging.md.
import { suspects } from "../../src/assessment";
import { faultyCase, type Case } from "../assessment/faulty-networks";

const [count = 400, begin = 20_000] = process.argv.slice(2).map(Number);
const names = (found: { readonly parts: readonly string[]; readonly fault: string }, { parts, fault }: Case["truth"]) =>
  found.fault === fault && [...found.parts].sort().join() === [...parts].sort().join();

const byFault = new Map<string, { all: number; first: number; three: number; alone: number; alike: number[]; off: number[] }>();
const missed: string[] = [];
let slowest = 0;
const start = performance.now();
let made = 0;
for (let seed = begin; made < count; seed++) {
  const one = faultyCase(seed);
  if (one === undefined) continue;
  made++;
  const before = performance.now();
  const found = suspects(one.drawn, one.measured);
  slowest = Math.max(slowest, performance.now() - before);
  const at = found.findIndex((suspect) => names(suspect, one.truth) || (suspect.alike ?? []).some((other) => names(other, one.truth)));
  const of = byFault.get(one.truth.fault) ?? { all: 0, first: 0, three: 0, alone: 0, alike: [], off: [] };
  byFault.set(one.truth.fault, of);
  of.all++;
  if (at === 0) of.first++;
  if (at === 0 && (found[0]!.alike ?? []).every(({ parts }) => parts.join() === found[0]!.parts.join())) of.alone++;
  if (at >= 0 && at < 3) of.three++;
  if (at === 0) of.alike.push(found[0]!.alike?.length ?? 0);
  const named = at < 0 ? undefined : [found[at]!, ...(found[at]!.alike ?? [])].find((each) => names(each, one.truth));
  if (one.truth.value !== undefined && named?.value !== undefined) of.off.push(Math.abs(named.value / one.truth.value - 1));
  if (at !== 0)
    missed.push(
      `seed ${seed}: ${one.truth.parts.join("+")} ${one.truth.fault} ${one.truth.value?.toPrecision(3) ?? ""} at ${at}; said ${found
        .slice(0, 3)
        .map(({ parts, fault, value, misfit }) => `${parts.join("+")} ${fault} ${value?.toPrecision(3) ?? ""} (${misfit.toFixed(3)})`)
        .join("; ")}; nodes ${Object.entries(one.drawn.network)
        .map(([name, [, ...nodes]]) => `${name}:${nodes.join("-")}`)
        .join(" ")}`,
    );
}
const all = [...byFault.values()];
const sum = (pick: (of: (typeof all)[number]) => number) => all.reduce((total, of) => total + pick(of), 0);
console.log(
  `${count} cases from seed ${begin}: first ${((100 * sum((of) => of.first)) / count).toFixed(1)} %, within three ${((100 * sum((of) => of.three)) / count).toFixed(1)} %, first, and no other part in its group, ${((100 * sum((of) => of.alone)) / count).toFixed(1)} %`,
);
for (const [fault, of] of [...byFault].sort()) {
  const sorted = [...of.alike].sort((a, b) => a - b);
  const off = [...of.off].sort((a, b) => a - b);
  console.log(
    `  ${fault}: ${of.all} cases, first ${of.first}, within three ${of.three}, no other part ${of.alone}; alike median ${sorted[sorted.length >> 1] ?? 0}, most ${sorted.at(-1) ?? 0}${off.length === 0 ? "" : `; value off by ${(100 * off[off.length >> 1]!).toFixed(2)} % (median), ${(100 * off[Math.floor(off.length * 0.95)]!).toFixed(1)} % (95th percentile), ${(100 * off.at(-1)!).toFixed(1)} % (most)`}`,
  );
}
console.log(`${((performance.now() - start) / count).toFixed(0)} ms a case, ${slowest.toFixed(0)} ms the slowest`);
for (const line of missed) console.log(line);
