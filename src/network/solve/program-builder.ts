import { codeWriter, type CodeWriter } from "./code-writer";
import type { Elimination } from "./elimination";
import type { Demand, Injected, NOTHING, ONE, OutputPair, Value } from "./program-values";
import { arrivals, wayBack } from "./way-back";
import { wayIn, type WayIn } from "./way-in";

/** The symbolic state of an elimination that is being written as a program. */
export interface ProgramBuilder extends CodeWriter, Pick<WayIn, "forward"> {
  demand(pairs: readonly OutputPair[]): Demand;
  /** The slot of a kept ratio: of a node eliminated to one of its neighbours. */
  ratio(node: number, neighbour: number): number;
  /** The slot of a kept mesh. */
  mesh(node: number): number;
  /** Where currents are injected (slots by merged node; ONE where it is 1 A, and the only one), how they arrive at the nodes eliminated later. Uses the slots. */
  inject(currents: ReadonlyMap<number, number>): ReadonlyMap<number, Injected>;
  /** Voltages of all demanded differences: of the driven network (`base` ONE), or of injected currents with `in` at 0. */
  backward(demand: Demand, base: typeof ONE | typeof NOTHING, injected?: ReadonlyMap<number, Injected>): (a: number, b: number) => Value;
}

/**
 * Star–mesh elimination as a program. Eliminating a node k with branch admittances y_i to its neighbours replaces them by
 * a mesh y_ij += y_i·y_j/Σy, which only adds: nothing cancels that the circuit itself doesn't cancel. On the way back
 * V_k − V_o = I_k/Σy + Σ m_j (V_j − V_o) with m_j = y_j/Σy, for whichever node o is asked for, so that the small voltage
 * across a small resistance is never the difference of two large ones.
 */
export function programBuilder(elimination: Elimination): ProgramBuilder {
  const { neighbours, rank } = elimination;
  const writer = codeWriter();
  const inwards = wayIn(elimination, writer);
  return {
    ...writer,
    forward: inwards.forward,
    demand: (pairs) => demandOf(elimination, pairs),
    ratio: (node, neighbour) => inwards.ratios[rank[node]!]![neighbours[rank[node]!]!.indexOf(neighbour)]!,
    mesh: (node) => inwards.meshes.get(node)!,
    inject: (currents) => arrivals(elimination, writer, inwards, currents),
    backward: (demand, base, injected = new Map()) => wayBack(elimination, writer, inwards, demand, base, injected),
  };
}

function demandOf({ order, neighbours, rank, rootOf }: Elimination, asked: readonly OutputPair[]): Demand {
  const byNode = new Map<number, Set<number>>();
  const want = (a: number, b: number) => {
    if (a === b) return;
    const [node, other] = rank[a]! < rank[b]! ? [a, b] : [b, a];
    if (rank[node]! >= order.length) return;
    const others = byNode.get(node);
    if (others === undefined) byNode.set(node, new Set([other]));
    else others.add(other);
  };
  for (const [a, b] of asked) want(rootOf[a]!, rootOf[b]!);
  order.forEach((node, step) => {
    for (const other of byNode.get(node) ?? []) for (const neighbour of neighbours[step]!) want(neighbour, other);
  });
  return byNode;
}
