import { GND, IN, type NodalChange, type NodalSolution } from "../../network/internal";
import { describe, isDriver, mainOf, sameKind } from "../../parts/internal";

/** What may be wrong with a part; `"impedances exchanged"` and `"drive"`: with how drivers were measured; `"unknown"`: something is, and no fault of a single one comes nearer to it than the drawing. */
export type Fault = "open" | "short" | "value" | "loss" | "reversed" | "exchanged" | "moved" | "impedances exchanged" | "drive" | "unknown";

type Pair = readonly [number, number];

/** A fault as changes of the network between fixed pairs of nodes, with up to two numbers to fit. */
export interface NetworkFault {
  readonly parts: readonly string[];
  readonly fault: Fault;
  readonly pairs: readonly Pair[];
  /** Which numbers are to be fitted: ratios of the part's main value, ohms in series, ohms across. */
  readonly unknowns: readonly ("ratio" | "ohms" | "across")[];
  /** The changes, for the unknowns given; writes into arrays of its own. */
  readonly changes: (unknowns: readonly number[]) => readonly NodalChange[];
  /** The fitted number in SI, of what the part is measured in, for the unknowns given. */
  readonly value?: (unknowns: readonly number[]) => number;
  readonly unit?: "Ω" | "H" | "F" | "dB";
  /** The capacitance (F) that was fitted beside. */
  readonly capacitance?: (unknowns: readonly number[]) => number;
  /** Node, for a wire that was moved. */
  readonly to?: string;
  /** Where a part's terminals are now, when that isn't where they were drawn. */
  readonly ends?: Readonly<Record<string, Pair>>;
  /** What the part itself gets of the voltage between its nodes: nothing behind a break, a part behind added ohms (1/den of the change). */
  readonly own?: "nothing" | "divided";
}

/** All single faults of a network that can be written as one or two changed admittances. */
export function networkFaults({ circuit, frequencies, points, branchRe, branchIm, coupled }: NodalSolution): readonly NetworkFault[] {
  const faults: NetworkFault[] = [];
  const blank = (from: number, to: number): NodalChange => ({
    from,
    to,
    numRe: new Float64Array(points),
    numIm: new Float64Array(points),
    denRe: new Float64Array(points).fill(1),
    denIm: new Float64Array(points),
  });
  // What can't be separated any more hangs by a thread: a billionth of the part stays.
  const removed = (branch: number, from: number, to: number): NodalChange => {
    const change = blank(from, to);
    for (let p = 0; p < points; p++) {
      change.numRe[p] = -branchRe[branch]![p]! * (1 - 1e-9);
      change.numIm[p] = -branchIm[branch]![p]! * (1 - 1e-9);
    }
    return change;
  };
  const added = (branch: number, from: number, to: number): NodalChange => {
    const change = blank(from, to);
    change.numRe.set(branchRe[branch]!);
    change.numIm.set(branchIm[branch]!);
    return change;
  };
  const simple = [...circuit.parts].flatMap(([name, { part, branches, terminals }]) =>
    branches.length === 1 && terminals.length === 2 && coupled[branches[0]!] === false
      ? [{ name, part, branch: branches[0]!, from: terminals[0]!, to: terminals[1]!, main: circuit.branches[branches[0]!]!.values[0] ?? 0 }]
      : [],
  );

  // What nobody drew: a bridge of solder, a frayed wire, a part behind the terminals.
  const across = blank(IN, GND);
  across.numRe.fill(1);
  faults.push({
    parts: [circuit.nodes[IN]!, circuit.nodes[GND]!],
    fault: "short",
    pairs: [[IN, GND]],
    unknowns: ["across"],
    changes: ([ohms]) => (across.denRe.fill(ohms!), [across]),
    value: ([ohms]) => ohms!,
    unit: "Ω",
  });

  for (const [name, { branches, terminals }] of circuit.parts) {
    if (terminals.length !== 2 || branches.length !== 1) continue;
    const branch = branches[0]!;
    const [from, to] = [terminals[0]!, terminals[1]!];
    if (from === to) continue;
    const short = blank(from, to);
    short.numRe.fill(1);
    short.denRe.fill(1e-7);
    faults.push({ parts: [name], fault: "short", pairs: [[from, to]], unknowns: [], changes: () => [short] });
    if (coupled[branch]) continue;
    const open = removed(branch, from, to);
    faults.push({ parts: [name], fault: "open", pairs: [[from, to]], unknowns: [], changes: () => [open], own: "nothing" });
  }

  for (const { name, part, branch, from, to, main } of simple) {
    if (from === to) continue;
    const [re, im] = [branchRe[branch]!, branchIm[branch]!];
    // Another main value, the part's own losses as they were.
    const { law, values } = circuit.branches[branch]!;
    const [evaluator, trial, otherRe, otherIm] = [
      law.bind(frequencies),
      Float64Array.from(values),
      new Float64Array(points),
      new Float64Array(points),
    ];
    const withRatio = (ratio: number) => {
      trial[0] = main * ratio;
      evaluator.admittance(trial, 0, 0, points, otherRe, otherIm, 0);
    };
    const scaled = blank(from, to);
    if (mainOf(part) !== undefined) {
      faults.push({
        parts: [name],
        fault: "value",
        pairs: [[from, to]],
        unknowns: ["ratio"],
        changes: ([ratio]) => {
          withRatio(ratio!);
          for (let p = 0; p < points; p++) {
            scaled.numRe[p] = otherRe[p]! - re[p]!;
            scaled.numIm[p] = otherIm[p]! - im[p]!;
          }
          return [scaled];
        },
        value: ([ratio]) => main * ratio!,
        unit: law.limits[0]!.unit as "Ω" | "H" | "F",
      });
    }
    if (law.kernel !== "resistance") {
      const lossy = blank(from, to);
      // A capacitor that dries out loses capacitance too.
      const dry = describe(part).stores === "electric";
      faults.push({
        parts: [name],
        fault: "loss",
        pairs: [[from, to]],
        unknowns: dry ? ["ohms", "ratio"] : ["ohms"],
        // Y' = Yr/(1 + R·Yr) with Yr at the other value, less the Y that was there.
        changes: ([ohms, ratio = 1]) => {
          if (dry) withRatio(ratio);
          for (let p = 0; p < points; p++) {
            const [yr, yi] = [re[p]!, im[p]!];
            const [gr, gi] = dry ? [otherRe[p]!, otherIm[p]!] : [yr, yi];
            const [dr, di] = [1 + ohms! * gr, ohms! * gi];
            lossy.denRe[p] = dr;
            lossy.denIm[p] = di;
            lossy.numRe[p] = gr - (yr * dr - yi * di);
            lossy.numIm[p] = gi - (yr * di + yi * dr);
          }
          return [lossy];
        },
        value: ([ohms]) => ohms!,
        unit: "Ω",
        ...(dry ? { capacitance: ([, ratio]: readonly number[]) => main * ratio! } : {}),
        own: "divided",
      });
    }
    const neighbours = (node: number) =>
      new Set([...circuit.parts.values()].flatMap(({ terminals }) => (terminals.includes(node) ? terminals : [])));
    for (const [fixed, node] of [
      [from, to],
      [to, from],
    ] as const) {
      for (const other of neighbours(node)) {
        if (other === node || other === fixed) continue;
        const pairs: readonly Pair[] = [[from, to], node === to ? [from, other] : [other, to]];
        const both = [removed(branch, from, to), added(branch, pairs[1]![0], pairs[1]![1])];
        faults.push({
          parts: [name],
          fault: "moved",
          pairs,
          unknowns: [],
          changes: () => both,
          to: circuit.nodes[other]!,
          ends: { [name]: pairs[1]! },
        });
      }
    }
  }

  simple.forEach((a, index) => {
    for (const b of simple.slice(index + 1)) {
      if (!sameKind(a.part, b.part) || same(branchRe[a.branch]!, branchRe[b.branch]!, branchIm[a.branch]!, branchIm[b.branch]!)) continue;
      const difference = (here: typeof a, there: typeof a): NodalChange => {
        const change = blank(here.from, here.to);
        for (let p = 0; p < points; p++) {
          change.numRe[p] = branchRe[there.branch]![p]! - branchRe[here.branch]![p]!;
          change.numIm[p] = branchIm[there.branch]![p]! - branchIm[here.branch]![p]!;
        }
        return change;
      };
      const both = [difference(a, b), difference(b, a)];
      faults.push({
        parts: [a.name, b.name],
        fault: "exchanged",
        pairs: [
          [a.from, a.to],
          [b.from, b.to],
        ],
        unknowns: [],
        changes: () => both,
        ends: { [a.name]: [b.from, b.to], [b.name]: [a.from, a.to] },
      });
      // Their files were taken for each other's: what each gives stays where it is.
      if (isDriver(a.part) && isDriver(b.part))
        faults.push({
          parts: [a.name, b.name],
          fault: "impedances exchanged",
          pairs: [
            [a.from, a.to],
            [b.from, b.to],
          ],
          unknowns: [],
          changes: () => both,
        });
    }
  });
  return faults;
}

/** Parts within 1 % of each other can be exchanged without anybody noticing. */
function same(ar: Float64Array, br: Float64Array, ai: Float64Array, bi: Float64Array): boolean {
  return ar.every((value, p) => Math.hypot(value - br[p]!, ai[p]! - bi[p]!) <= 0.01 * Math.hypot(value, ai[p]!));
}
