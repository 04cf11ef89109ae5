import { DividingNetworkError } from "../../errors";
import { checkList, checkOptions, show } from "../../errors/internal";
import { isCoupling, resistanceLaw } from "../../parts/internal";
import type { FrequencyResponse } from "../../response";
import { freezeResponse } from "../../response/internal";
import { circuitOf, GND, IN, type Circuit, type CircuitBranch } from "../circuit";
import { boundedGrid, measuredMarks } from "./compile";
import { structure, throwFindings } from "../diagnose";
import { engineFor } from "./engine";
import type { Entries } from "../entries";
import type { NodeName, PartName } from "../names";
import type { SourceImpedance } from "./source";
import { sourceLaw } from "./source-law";
import { SOURCE } from "./with-source";

/** What `drivingPointImpedance` may be told. */
export interface DrivingPointOptions<T extends Entries = Entries> {
  /** Between `in` and `gnd`, in place of the source: Ω, `{ resistance, inductance }`, or a `FrequencyResponse` in Ω. Default 0 Ω. */
  readonly sourceImpedance?: SourceImpedance | undefined;
  /** Parts to leave out, such as the driver that looks into the network. */
  readonly without?: PartName<T> | readonly PartName<T>[] | undefined;
}

/**
 * The impedance seen between two nodes while the source gives no voltage, Ω: what a driver sees of network and amplifier, and
 * what damps it. The source's own impedance stays between `in` and `gnd`; without one, the two are joined. Computed by the same
 * elimination as `solve`, with the two nodes as its terminals.
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @param nodes `from`, and `to` (default `gnd`): two different nodes; dimensionless
 * @param frequencies Hz, ≥ 0, strictly ascending, length n
 * @param options `sourceImpedance` in Ω; `without`: the designators of parts to leave out
 * @returns the impedance in Ω, n points; 0 Ω where 0 Ω joins the nodes
 * @throws DividingNetworkError `invalid-network`, `unknown-node`, `unknown-part`, `invalid-argument`, `infinite-impedance` where
 *   nothing that conducts joins the nodes, `no-solution`
 * @example
 * ```ts
 * import { inductor, network, resistor, valueAt } from "dividing-network";
 * import { drivingPointImpedance } from "dividing-network/network";
 *
 * const low = network({ L1: [inductor("1 mH", { dcr: 0.3 }), "in", "w"], woofer: [resistor(6), "w", "gnd"] });
 * const seen = drivingPointImpedance(low, { from: "w" }, [50, 100], { sourceImpedance: 0.1, without: "woofer" });
 * valueAt(seen, 100).re; // 0.4
 * valueAt(seen, 100).im; // 0.628319
 * ```
 */
export function drivingPointImpedance<const T extends Entries>(
  network: T,
  nodes: { readonly from: NodeName<T> | "in" | "gnd"; readonly to?: NodeName<T> | "in" | "gnd" | undefined },
  frequencies: ArrayLike<number>,
  options: DrivingPointOptions<T> = {},
): FrequencyResponse {
  const caller = "drivingPointImpedance";
  const { sourceImpedance, without = [] } = checkOptions(caller, options, ["sourceImpedance", "without"]);
  const { from, to = "gnd" } = checkOptions<{ readonly from: string; readonly to?: string | undefined }>(caller, nodes, ["from", "to"]);
  const circuit = throwFindings(network);
  for (const node of [from, to]) {
    if (!circuit.nodeNumber.has(node))
      throw new DividingNetworkError(
        "unknown-node",
        `${caller}: there is no node ${show(node)} in this network`,
        `Nodes: ${circuit.nodes.join(", ")}`,
      );
  }
  if (from === to)
    throw new DividingNetworkError("invalid-argument", `${caller}: "from" and "to" must be two different nodes, got ${show(from)} twice`);
  const left = circuitOf(
    withoutParts(
      caller,
      network,
      circuit,
      typeof without === "string" ? [without] : checkList<string>(caller, "without", without as readonly string[], "parts' names"),
    ),
  );
  const seen = seenFrom(left, from, to, sourceLaw(caller, sourceImpedance));
  const grid = boundedGrid(caller, frequencies);
  const n = grid.length;
  const [re, im] = [new Float64Array(n), new Float64Array(n)];
  const first = grid[0] === 0 ? 1 : 0;
  if (first === 1) put(0, 1, true);
  if (first < n) put(first, n, false);
  return freezeResponse(grid, re, im, measuredMarks(network));

  /** Fills the points of one frequency class. */
  function put(start: number, end: number, zeroFrequency: boolean): void {
    const { shorts, paths } = structure(seen, zeroFrequency);
    if (shorts.find(IN) === GND) return;
    if (paths.find(IN) !== GND) throw infinite(grid[start]!);
    const engine = engineFor(
      settled(seen, (node) => paths.find(node)),
      () => undefined,
    );
    const { re: yr, im: yi } = engine.run(grid.slice(start, end), []);
    for (let i = start; i < end; i++) {
      const [a, b] = [yr[0]![i - start]!, yi[0]![i - start]!];
      // A source whose measured impedance is 0 Ω at this very frequency lies across the nodes.
      if (a === Infinity) continue;
      const size = a * a + b * b;
      if (size === 0) throw infinite(grid[i]!);
      re[i] = a / size;
      im[i] = (0 - b) / size;
    }
  }

  function infinite(frequency: number): DividingNetworkError {
    return new DividingNetworkError(
      "infinite-impedance",
      `${caller}: no current flows from "${from}" to "${to}" at ${frequency} Hz, so that the impedance is infinite there`,
      "Leave this frequency out, or keep a part that joins the two nodes",
    );
  }
}

/** The entries without some parts, and without the couplings of those that are coils. */
function withoutParts(caller: string, network: Entries, circuit: Circuit, names: readonly string[]): Entries {
  for (const name of names) {
    if (!circuit.parts.has(name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: there is no part ${show(name)} in this network`,
        `Parts: ${[...circuit.parts.keys()].join(", ")}`,
      );
  }
  const gone = new Set(names);
  return Object.fromEntries(
    Object.entries(network).filter(
      ([name, [part, ...ends]]) => !gone.has(name) && !(isCoupling(part) && ends.some((coil) => gone.has(coil))),
    ),
  );
}

type PartPlace = Circuit["parts"] extends ReadonlyMap<string, infer P> ? P : never;

/** The circuit driven at `from` against `to`, with the source's impedance as a branch between what were `in` and `gnd`. */
function seenFrom(circuit: Circuit, from: string, to: string, source: Pick<CircuitBranch, "law" | "values">): Circuit {
  const nodes = [to, from, ...circuit.nodes.filter((name) => name !== from && name !== to)];
  const nodeNumber = new Map(nodes.map((name, index) => [name, index]));
  const moved = (node: number) => nodeNumber.get(circuit.nodes[node]!)!;
  const pair = ([a, b]: readonly [number, number]) => [moved(a), moved(b)] as const;
  const terminals = [moved(IN), moved(GND)] as const;
  return {
    nodes,
    nodeNumber,
    branches: [
      ...circuit.branches.map((branch) => ({ ...branch, from: moved(branch.from), to: moved(branch.to) })),
      { part: SOURCE, from: terminals[0], to: terminals[1], ...source },
    ],
    couplings: circuit.couplings,
    transformers: circuit.transformers.map((transformer) => ({
      ...transformer,
      primary: pair(transformer.primary),
      secondary: pair(transformer.secondary),
    })),
    parts: new Map<string, PartPlace>([
      ...[...circuit.parts].map(([name, part]): [string, PartPlace] => [name, { ...part, terminals: part.terminals.map(moved) }]),
      [SOURCE, { part: { kind: "resistor", resistance: 0 }, terminals, branches: [circuit.branches.length] }],
    ]),
  };
}

/** What nothing joins to the two terminals is joined to `to` at one node, where no current can flow: it may still be coupled by its coils. */
function settled(circuit: Circuit, groupOf: (node: number) => number): Circuit {
  const loose = circuit.nodes.flatMap((_, node) => (node !== GND && groupOf(node) === node ? [node] : []));
  if (loose.length === 0) return circuit;
  return {
    ...circuit,
    branches: [...circuit.branches, ...loose.map((node) => ({ part: SOURCE, from: node, to: GND, law: resistanceLaw, values: [0] }))],
  };
}
