import { listOf } from "../../quantity/internal";
import type { Entries } from "../../network";
import { isWire } from "../wire";
import { piecesOf, type Piece } from "../schematic/pieces";
import { hasDriver, seriesParallel, type Tree } from "../schematic/series-parallel";

/** What stands from the line to the return, or across something, before the driver is reached. */
export interface Shunt {
  /** The parts in words: `"R2 and C2 in series"`. */
  readonly what: string;
  readonly plural: boolean;
  /** How many of the driver's `feeds` come before it. */
  readonly after: number;
  /** Whether it has the driver's own two nodes. */
  readonly acrossDriver: boolean;
  readonly nodes: readonly [string, string];
}

/** One element on a driver's way, in words. */
export interface Step {
  readonly what: string;
  readonly plural: boolean;
}

/** How one driver is fed. */
export interface DriverPath {
  /** Designator of the driver's part. */
  readonly driver: string;
  /** Whether its − looks towards `in`. */
  readonly reversed: boolean;
  /** Through what it is fed, from `in` on. */
  readonly feeds: readonly Step[];
  /** What stands between its other end and `gnd`. */
  readonly returns: readonly Step[];
  readonly shunts: readonly Shunt[];
  /** Drivers that stand in series with it. */
  readonly inSeriesWith: readonly string[];
}

/** The way from `in` to each driver, read from nested chains and groups, wires left out; `undefined` where the network has a bridge, a loose end or an island. */
export function driverPaths(network: Entries): readonly DriverPath[] | undefined {
  const { pieces } = piecesOf(network);
  const tree = seriesParallel(pieces, "in", "gnd");
  const wires = new Set(Object.entries(network).flatMap(([name, [part]]) => (isWire(part) ? [name] : [])));
  return tree === undefined ? undefined : driversOf(tree).map((piece) => pathTo(tree, piece, wires));
}

function pathTo(root: Tree, piece: Piece, wires: ReadonlySet<string>): DriverPath {
  const feeds: Step[] = [];
  const returns: Step[] = [];
  const shunts: Shunt[] = [];
  const inSeriesWith: string[] = [];
  let here = root;
  while (here.shape !== "leaf") {
    const { shape, children } = here;
    const own = children.findIndex((child) => driversOf(child).includes(piece));
    const next = children[own]!;
    for (const [index, child] of children.entries()) {
      if (index === own) continue;
      if (shape === "series") {
        if (child.shape === "leaf" && wires.has(child.piece.part)) continue;
        if (hasDriver(child)) inSeriesWith.push(...driversOf(child).map(({ part }) => part));
        else if (index < own) feeds.push(stepOf(child));
        else returns.push(stepOf(child));
      } else if (!hasDriver(child)) {
        shunts.push({ ...stepOf(child), after: feeds.length, acrossDriver: next.shape === "leaf", nodes: endsOf(child) });
      }
    }
    here = next;
  }
  return { driver: piece.part, reversed: !here.forward, feeds, returns, shunts, inSeriesWith };
}

function driversOf(tree: Tree): readonly Piece[] {
  if (tree.shape === "leaf") return tree.piece.symbol === "driver" ? [tree.piece] : [];
  return tree.children.flatMap(driversOf);
}

/** The nodes at the two ends of a tree. */
function endsOf(tree: Tree): readonly [string, string] {
  if (tree.shape === "leaf") return tree.forward ? [tree.piece.from, tree.piece.to] : [tree.piece.to, tree.piece.from];
  if (tree.shape === "parallel") return endsOf(tree.children[0]!);
  return [endsOf(tree.children[0]!)[0], endsOf(tree.children.at(-1)!)[1]];
}

function stepOf(tree: Tree): Step {
  return { what: words(tree), plural: tree.shape !== "leaf" };
}

function words(tree: Tree): string {
  if (tree.shape === "leaf") return tree.piece.texts[0]!;
  const parts = tree.children.map((child) => (child.shape === "leaf" ? words(child) : `(${words(child)})`));
  return `${listOf(parts)} in ${tree.shape}`;
}
