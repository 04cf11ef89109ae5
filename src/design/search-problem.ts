import { DividingNetworkError } from "../errors";
import type { Goal } from "../assessment";
import { distanceOf, QUIETEST_DB, shapeOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { sourceResponse } from "../network/internal";
import { REFERENCE_PRESSURE } from "../physics";
import { bandBound } from "./band-bound";
import { branchTable, checkSize, stateCount, writeCodes, type BranchTable } from "./branch-table";
import { independentBranches } from "./branches";
import type { Choice } from "./choices";
import type { OuterHeard } from "./hump-check";
import type { Limits } from "./limits";
import type { Heard, LossBound } from "./heard";
import { PlainLossBound } from "./loss-bound";
import type { Pause } from "./pause";
import { admittanceOf, pressuresOn } from "./pressures-on";
import type { SearchOptions } from "./question";
import type { Shard } from "./shard";
import { SparingCheck, sparingGrid } from "./sparing-check";
import { StateTree } from "./state-tree";

/** Decibels of a change of 1 in ln of an amplitude. */
export const DB_PER_NEPER = 20 / Math.LN10;

/** Branches with choices, and how their states' loss is bounded for given polarities. */
export interface SearchProblem {
  readonly tables: readonly BranchTable[];
  readonly trees: readonly StateTree[];
  /** For drivers' parts that are turned against the drawing. */
  readonly boundFor: (turned: ReadonlySet<string>) => LossBound;
}

/** How many points of the load's grid lie between those at which states are held to |Z|; the best is held to all of them. */
const LOAD_STEP = 8;
/** Of how many of these points one is enclosed by the nodes of trees; single states are held to all of them. */
const ENCLOSED_STEP = 4;

/** Solves every branch for all its states at the frequencies (Hz) at which the loss is a mean. */
export async function searchProblem(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  choices: readonly Choice[],
  limits: Limits,
  heard: Float64Array,
  levelSlackDb: number,
  pause: Pause,
  shard?: Shard,
  shared?: SearchOptions["shared"],
  thirds?: SearchOptions["thirds"],
): Promise<SearchProblem> {
  const { network, drivers } = box;
  // Of third-octave powers the whole network's own solution tells whether it has a hump.
  const outside = thirds === undefined ? limits.outside : { frequencies: new Float64Array(0), rows: [], places: [] };
  const branches = independentBranches(network);
  const source = sourceResponse(caller, box.sourceImpedance, heard);
  const largestZ = Math.max(limits.smallestImpedance, limits.smallestPeakDissipationResistance);
  const load = largestZ > 0 ? limits.load.filter((_, index) => index % LOAD_STEP === 0) : new Float64Array(0);
  const enclosed = Math.ceil(load.length / ENCLOSED_STEP);
  const hung = [...new Set(drivers.map(({ part }) => part))];
  const inside = branches.map((names) => choices.flatMap(({ name }, index) => (names.includes(name) ? [index] : [])));
  const channels = branches.map((names) => hung.filter((part) => names.includes(part)));
  checkSize(
    caller,
    choices,
    inside,
    channels.map(({ length }) => (length + (source === undefined ? 0 : 1)) * (heard.length + outside.frequencies.length) + load.length),
  );
  const grids = {
    heard,
    outer: outside.frequencies,
    behindSource: source !== undefined,
    load,
    loadOrder: everyFirst(load.length, ENCLOSED_STEP),
    drive: limits.drive,
    spared: source === undefined ? limits.spared : [],
    driven: source === undefined || limits.spared.length === 0 ? new Float64Array(0) : sparingGrid(limits.spared, limits.drive),
    damped: source === undefined ? limits.damped : [],
  };
  const all: BranchTable[] = [];
  // A shard is every so-and-so-manieth state of the branch that has most.
  const counts = inside.map((own) => stateCount(choices, own));
  const divided = counts.indexOf(Math.max(...counts));
  const inPieces = (index: number) => shard !== undefined && index === divided;
  const keys = branches.map((names, index) => [...names, ...inside[index]!.map((choice) => choices[choice]!.options.length)].join(" "));
  for (const [index, names] of branches.entries()) {
    const before = inPieces(index) ? undefined : shared?.get(keys[index]!)?.table;
    // Designators and candidates are the same, but not their places among all choices.
    all.push(
      before === undefined
        ? await branchTable(network, names, choices, channels[index]!, grids, pause, inPieces(index) ? shard : undefined)
        : { ...before, choices: names.flatMap((name) => choices.flatMap((choice, place) => (choice.name === name ? [place] : []))) },
    );
  }
  const tables = all.filter((_, index) => inside[index]!.length > 0);
  const constant = all.filter((_, index) => inside[index]!.length === 0);

  const n = heard.length;
  const distance = distanceOf(caller, box, goal);
  const total = goal.places.reduce((sum, { weight }) => sum + weight, 0);
  const ownLevels = goal.places.map(({ levelDb }) => levelDb ?? goal.levelDb);
  const K = goal.places.length;
  const divisor = goal.places.map((place, k) => {
    const shape = thirds === undefined ? shapeOf(goal, place) : () => 0;
    return heard.map((frequency) => 10 ** (-(shape(frequency) + (ownLevels[k] ?? 0)) / 20) / REFERENCE_PRESSURE);
  });
  const { perVoltOf, beside, laid } = pressuresOn(caller, box, goal, distance, heard, divisor, thirds?.bands);

  if (constant.some(({ states }) => states === 0))
    throw new DividingNetworkError(
      "no-feasible-network",
      `${caller}: a branch without candidates leaves no network: it breaks a limit of the goal, or can't be solved`,
      "Give its parts candidates, or loosen the goal's limits",
    );
  const constantAdmittance = admittanceOf(constant, (index) => constant[index]!.table, n, (source === undefined ? 0 : n) + load.length);

  const varied = tables.flatMap(({ channels: own }) => own);
  const outer =
    outside.rows.length === 0 ? undefined : outerOf(caller, box, goal, distance, limits, ownLevels, constant, varied, levelSlackDb);
  const sparing =
    grids.driven.length === 0
      ? undefined
      : new SparingCheck(limits.spared, limits.drive, sourceResponse(caller, box.sourceImpedance, grids.driven)!, tables, constant);
  const codes = new Int32Array(choices.length);
  const boundFor = (turned: ReadonlySet<string>): LossBound => {
    if (thirds === undefined) return new PlainLossBound(heardFor(turned), tables, trees, outer?.(turned), sparing);
    const silence = ownLevels.map((level) => (10 ** ((QUIETEST_DB - (level ?? 0)) / 20) / REFERENCE_PRESSURE) ** 2);
    return bandBound(heardFor(turned), thirds.bands, silence, tables, trees, (nodes, at) => {
      if (sparing?.unspared(nodes, at) === true) return Infinity;
      tables.forEach((table, g) => writeCodes(table, choices, -1 - nodes[at + g]!, codes));
      return (thirds.lossDb(codes, turned) / DB_PER_NEPER) ** 2;
    });
  };
  const heardFor = (turned: ReadonlySet<string>): Heard => {
    const { perVolt, constant: fixedSum } = laid(varied, constant, turned);
    return {
      points: n,
      weights: Float64Array.from(goal.places, ({ weight }) => weight / total),
      fixed: ownLevels.map((level) => level !== undefined),
      offsets: Float64Array.from(ownLevels, (level) => (level ?? 0) / DB_PER_NEPER),
      perVolt,
      constant: fixedSum,
      beside,
      source,
      constantAdmittance,
      loads: load.length,
      enclosedLoads: enclosed,
      largestAdmittance: largestZ > 0 ? 1 / largestZ : Infinity,
      leastLevel: (limits.leastLevelDb - levelSlackDb) / DB_PER_NEPER,
      axis: goal.places.findIndex(({ azimuth, elevation }) => azimuth === 0 && elevation === 0),
      leastAxis: (limits.leastAxisDb - levelSlackDb) / DB_PER_NEPER,
    };
  };

  // What a radius at each number of a state is worth in the sum, so that the wider of two nodes is the one that matters more.
  const drawn = new Set<string>();
  const trees: StateTree[] = [];
  for (const [index, branch] of tables.entries()) {
    const { channels: own, width, table, states } = branch;
    const at = all.indexOf(branch);
    const key = keys[at]!;
    const before = inPieces(at) ? undefined : shared?.get(key)?.tree;
    if (before !== undefined) {
      trees.push(before);
      continue;
    }
    const treeWidth = width - load.length + enclosed;
    const weights = new Float64Array(treeWidth);
    own.forEach((part, c) => {
      for (let k = 0; k < K; k++) {
        const one = perVoltOf(part, k, drawn);
        for (let f = 0; f < n; f++) weights[c * n + f]! += Math.hypot(one[2 * f]!, one[2 * f + 1]!) * (goal.places[k]!.weight / total);
      }
    });
    const middle = (part: string, k: number) => {
      const one = perVoltOf(part, k, drawn);
      return Math.hypot(one[2 * (n >> 1)]!, one[2 * (n >> 1) + 1]!);
    };
    const typical = goal.places.reduce((sum, _, k) => sum + hung.reduce((most, part) => Math.max(most, middle(part, k)), 0), 0) / K;
    const ohms = source === undefined ? 0 : Math.hypot(source.re[n >> 1]!, source.im[n >> 1]!);
    for (let i = own.length * n; i < width - load.length; i++) weights[i] = typical * ohms;
    for (let i = width - load.length; i < treeWidth; i++) weights[i] = (typical * largestZ * n) / (20 * enclosed);
    trees.push(new StateTree(table, width, states, weights));
    if (!inPieces(at)) shared?.set(key, { table: branch, tree: trees[index]! });
  }
  return { tables, trees, boundFor };
}

/** Numbers below n, every so-and-so-manieth first. */
function everyFirst(n: number, step: number): Int32Array {
  const all = Array.from({ length: n }, (_, index) => index);
  return Int32Array.from([...all.filter((index) => index % step === 0), ...all.filter((index) => index % step !== 0)]);
}

/** What is heard outside the judged band, for given polarities. */
function outerOf(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  distance: number,
  { outside, largestHumpDb }: Limits,
  ownLevels: readonly (number | undefined)[],
  constant: readonly BranchTable[],
  varied: readonly string[],
  levelSlackDb: number,
): (turned: ReadonlySet<string>) => OuterHeard {
  const { frequencies, rows, places } = outside;
  const heard = places.map((index) => goal.places[index]!);
  const source = sourceResponse(caller, box.sourceImpedance, frequencies);
  const divisor = places.map((index) => frequencies.map(() => 10 ** (-(ownLevels[index] ?? 0) / 20) / REFERENCE_PRESSURE));
  const { beside, laid } = pressuresOn(caller, box, { ...goal, places: heard }, distance, frequencies, divisor);
  const own = constant.map(({ channels, outer }) => ({ channels, table: outer }));
  const o = frequencies.length;
  const shared = {
    outside,
    shapes: heard.map((place) => Float64Array.from(rows, ({ frequency }) => shapeOf(goal, place)(frequency) / DB_PER_NEPER)),
    beside,
    source,
    constantAdmittance: admittanceOf(constant, (index) => constant[index]!.outer, o, source === undefined ? 0 : o),
    largest: largestHumpDb / DB_PER_NEPER,
    slack: levelSlackDb / DB_PER_NEPER,
  };
  return (turned) => ({ ...shared, ...laid(varied, own, turned) });
}
