// Tests src/design/: proof.ts, redesigned.ts, refine.ts, supply.ts
// The limit of what a woofer sees: a search that keeps it against looking at every network, with the resistance from the divider's formula. No published source.
import { capacitor, inductor, logGrid, network, resistor, type Entries } from "dividing-network";
import { assess, lossOf } from "dividing-network/assessment";
import { chooseValues, fitValues, redesign } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { drawn, monitor } from "../support/two-way";

const frequencies = logGrid(400, 11_000, 9);
const drawing = { ...drawn, R9: [resistor(1), "in", "v"], L1: [inductor(0.68e-3, { dcr: 0.25 }), "v", "w"] } as unknown as Entries;
const aim = (largest: number | undefined) => ({
  frequencies,
  limits: "stated" as const,
  ...(largest === undefined ? {} : { damping: { largestSourceResistance: largest } }),
});
const values = {
  R9: [0.2, 0.8, 1.8, 4.7, "short"],
  L1: [inductor(0.3e-3, { dcr: 0.1 }), inductor(0.7e-3, { dcr: 0.4 }), inductor(1.5e-3, { dcr: 0.9 })],
  C1: [5e-6, 10e-6, 20e-6],
} as const;
/** Ω at 45 Hz, the woofer's resonance, real and imaginary part: the resistor, the coil and its inductance, beside what hangs across the woofer. */
const impedanceSeen = (entries: Entries): readonly [number, number] => {
  const [coil, cap, way, zobel] = (["L1", "C1", "R9", "R1"] as const).map(
    (name) => entries[name]?.[0] as unknown as Record<string, number>,
  );
  const w = 2 * Math.PI * 45;
  const [a, b] = [way!["resistance"]! + coil!["dcr"]!, w * coil!["inductance"]!];
  const [c, d] = [zobel!["resistance"]! + cap!["esr"]!, -1 / (w * cap!["capacitance"]!)];
  // (a + jb)(c + jd)/(a + c + j(b + d)).
  const [nr, ni, dr, di] = [a * c - b * d, a * d + b * c, a + c, b + d];
  return [(nr * dr + ni * di) / (dr * dr + di * di), (ni * dr - nr * di) / (dr * dr + di * di)];
};
const seen = (entries: Entries): number => impedanceSeen(entries)[0];
/** The woofer's Q behind it: of 5.6 Ω, Qms 3, Qes 0.45; the motional branch sees Re and the source one after the other. */
const qOf = (entries: Entries): number => {
  const [rs, xs] = impedanceSeen(entries);
  const qes = (0.45 * ((5.6 + rs) ** 2 + xs ** 2)) / (5.6 * (5.6 + rs));
  return (3 * qes) / (3 + qes);
};

describe("what a woofer sees of its source", () => {
  it("is kept by the search where the goal states it, as looking at each network has it", async () => {
    for (const source of [undefined, 0.3]) {
      const box = monitor(drawing, source);
      for (const largest of [0.5, 1.3, 3]) {
        let best = Infinity;
        for (const r of values.R9)
          for (const l of values.L1)
            for (const c of values.C1) {
              const entries = network<Entries>({
                ...drawing,
                R9: [resistor(r === "short" ? 0 : r), "in", "v"],
                L1: [l, "v", "w"],
                C1: [capacitor(c, { esr: 0.02 }), "z", "gnd"],
              } as unknown as Entries);
              // The tweeter's branch lies across a source that isn't ideal; it is small at 45 Hz and left out here.
              if (seen(entries) + (source ?? 0) > largest + (source === undefined ? 0 : -0.001)) continue;
              best = Math.min(best, lossOf({ ...box, network: entries }, aim(undefined)).lossDb);
            }
        const answer = await chooseValues(box, { goal: aim(largest), values } as never).then(
          ({ lossDb }) => lossDb,
          (error: unknown) => (error as { readonly code: string }).code,
        );
        if (best === Infinity) expect(answer).toBe("no-feasible-network");
        else expect(answer, `${largest} Ω, source ${source}`).toBeCloseTo(best, 8);
      }
    }
  });

  it("is kept as the Q that it gives, by the search, by a fit and by assess", async () => {
    const box = monitor(drawing);
    const all = values.R9.flatMap((r) =>
      values.L1.flatMap((l) =>
        values.C1.map((c) => {
          const entries = network<Entries>({
            ...drawing,
            R9: [resistor(r === "short" ? 0 : r), "in", "v"],
            L1: [l, "v", "w"],
            C1: [capacitor(c, { esr: 0.02 }), "z", "gnd"],
          } as unknown as Entries);
          return { q: qOf(entries), loss: lossOf({ ...box, network: entries }, aim(undefined)).lossDb };
        }),
      ),
    );
    const bestFree = all.reduce((a, b) => (b.loss < a.loss ? b : a));
    let [kept, refused] = [0, 0];
    for (const largestQ of [0.38, 0.42, 0.45, 0.5, bestFree.q * 0.99]) {
      const best = all.filter(({ q }) => q <= largestQ).reduce((least, { loss }) => Math.min(least, loss), Infinity);
      const goal = { ...aim(undefined), damping: { largestQ } };
      const answer = await chooseValues(box, { goal, values } as never).catch((error: unknown) => error as { readonly message: string });
      if (best === Infinity) {
        refused++;
        const { message } = answer as { readonly message: string };
        expect(Number(/damping\.woofer\.q: the Q of woofer is ([\d.]+)/.exec(message)![1])).toBeCloseTo(
          Math.min(...all.map(({ q }) => q)),
          2,
        );
        continue;
      }
      kept++;
      const { lossDb, network: own } = answer as Awaited<ReturnType<typeof chooseValues>>;
      expect(lossDb, `Q ${largestQ}`).toBeCloseTo(best, 8);
      expect(assess({ ...box, network: own } as never, { ratedImpedance: 6, goal }).bass[0]!.q).toBeLessThanOrEqual(largestQ * (1 + 1e-9));
    }
    expect([kept > 1, refused > 0]).toEqual([true, true]);
    // A target so low that the fit would put ohms before the woofer.
    const fit = (more: object) =>
      fitValues(box, { goal: { ...aim(undefined), levelDb: 78, ...more }, vary: ["R9", "L1", "C1"], starts: 4 } as never);
    const free = qOf((await fit({})).network as unknown as Entries);
    const largestQ = 0.45;
    const held = qOf((await fit({ damping: { largestQ } })).network as unknown as Entries);
    expect(free).toBeGreaterThan(largestQ);
    expect(held).toBeLessThanOrEqual(largestQ * (1 + 1e-6));
    expect(held).toBeGreaterThan(largestQ * 0.99);
  });

  it("keeps redesigned networks to it", { timeout: 60_000 }, async () => {
    const goal = { ...aim(0.25), limits: "stated" as const };
    const { front } = await redesign(monitor(), { goal, series: "E3", maxParts: 3 });
    for (const { network: own, topology } of front) {
      const coils = Object.values(own)
        .filter(([part, ...nodes]) => part.kind === "inductor" && nodes.includes("in"))
        .map(([part]) => (part.kind === "inductor" ? part.dcr : 0));
      if (topology.startsWith("woofer")) for (const dcr of coils) expect(dcr).toBeLessThanOrEqual(0.26);
    }
    expect(front.length).toBeGreaterThan(0);
  });
});
