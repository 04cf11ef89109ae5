import { listOf } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkNumber, checkObject, checkOneOf, checkOptions, show } from "../errors/internal";
import { predict, type Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Entries } from "../network";
import { coupling, type BoardPlace, type Winding } from "../parts";
import { coupled } from "../parts/internal";
import { levelDb } from "../response";
import { goalOf } from "./goal";
import type { Goal, GoalOptions } from "./goal-types";
import { distanceOf } from "./heard-places";
import { lossOf } from "./loss";

/** A coil where it lies on the board. */
export interface PlacedCoil {
  /** Its winding: turns, and lengths in m. */
  readonly winding: Winding;
  /** Its centre in m, and along which edge of the board its axis points; as `leastCoupling` gives it. */
  readonly place: BoardPlace;
}

/** What a layout does at one place. */
export interface LayoutChangeAtPlace {
  /** Degrees. */
  readonly azimuth: number;
  /** Degrees. */
  readonly elevation: number;
  /** dB at each frequency: with the couplings less without. */
  readonly changeDb: Float64Array;
  /** dB: the largest change, with its sign. */
  readonly largestDb: number;
  /** Hz, where it is. */
  readonly frequency: number;
}

/** What a layout of coils does to the sound. */
export interface LayoutChange {
  /** Each pair of coils. */
  readonly couplings: readonly {
    /** Designators of the two. */
    readonly coils: readonly [string, string];
    /** Coupling factor, dimensionless. */
    readonly k: number;
    /** H. */
    readonly mutualInductance: number;
  }[];
  /** The loudspeaker's network with these couplings. */
  readonly network: Entries;
  /** Hz, of every `changeDb`. */
  readonly frequencies: Float64Array;
  /** Each of the goal's places. */
  readonly places: readonly LayoutChangeAtPlace[];
  /** dB from the goal, with coils that don't couple and as laid out. */
  readonly lossDb: {
    /** dB. */
    readonly uncoupled: number;
    /** dB. */
    readonly laidOut: number;
  };
  /** In words. */
  readonly sentence: string;
}

/**
 * What a layout of coils changes in decibels at the listener: the couplings that follow from where the coils lie go into the network, and the levels at the goal's places
 * are held against those without. Coils at right angles and far apart change nothing that can be computed; two flat ones side by side may. Both turn right-handed about
 * their axes from their first node: connected the other way round, a pair's coupling changes its sign. Air coils; steel near by isn't in it.
 *
 * @param loudspeaker network and drivers; its coils must not be coupled already
 * @param options `coils` by designator: windings and places in m; `goal`
 * @returns couplings (dimensionless, H), the network with them, and changes in dB
 * @throws DividingNetworkError `unknown-part`, `invalid-argument`, `coils-overlap`, and what `lossOf` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { layoutChange } from "dividing-network/assessment";
 *
 * const grid = logGrid(200, 20_000, 200);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({
 *   network: { L1: [inductor("0.6 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("5 µF"), "in", "t"], L2: [inductor("0.4 mH"), "t", "gnd"], tweeter: [resistor(8), "gnd", "t"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [flat] }, { name: "tweeter", role: "tweeter", pressures: [flat] }],
 * });
 * const winding = { turns: 150, meanRadius: "18 mm", length: "18 mm", depth: "12 mm" } as const;
 * const at = (axis: "x" | "z") => layoutChange(box, { coils: {
 *   L1: { winding, place: { x: 0, y: 0, z: 0.02, axis: "z" } }, L2: { winding, place: { x: 0.055, y: 0, z: 0.02, axis } },
 * } });
 * Math.abs(at("z").places[0]!.largestDb); // > 0.05
 * Math.abs(at("x").places[0]!.largestDb); // < 1e-3
 * ```
 */
export function layoutChange<T extends Entries>(
  loudspeaker: Loudspeaker<T>,
  options: {
    readonly coils: Readonly<Record<string, PlacedCoil>>;
    readonly goal?: Goal | GoalOptions | undefined;
  },
): LayoutChange {
  const caller = "layoutChange";
  const box: Loudspeaker = checkLoudspeaker(caller, loudspeaker);
  const { coils, goal: aim } = checkOptions(caller, options, ["coils", "goal"]);
  const goal = goalOf(aim);
  const placed = Object.entries(checkObject(caller, "coils", coils, "{ L1: { winding, place } }"));
  if (placed.length < 2 || placed.length > 20)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coils" must place two to twenty coils, got ${placed.length}`,
      "Write { L1: { winding, place }, L2: { winding, place } }",
    );
  const places = placed.map(([name, coil]) => placeOf(caller, box.network, name, coil));
  const couplings = placed.flatMap(([second, { winding }], j) =>
    placed
      .slice(0, j)
      .map(([first, one], i) =>
        Object.freeze({ coils: Object.freeze([first, second] as const), ...coupled(one.winding, winding, places[i]!, places[j]!) }),
      ),
  );
  const network: Record<string, unknown> = { ...box.network };
  // A coupling of exactly 0 is none: the solver then keeps to its quicker ways.
  for (const {
    coils: [first, second],
    k,
  } of couplings)
    if (k !== 0) network[freeName(network, first, second)] = [coupling(k), first, second];
  const laidOut = { ...box, network: network as unknown as Entries };
  const distance = distanceOf(caller, box, goal);
  const heard = goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation }));
  const asked = { places: heard, ...(goal.frequencies === undefined ? {} : { frequencies: goal.frequencies }) };
  const [before, after] = [predict(box, asked), predict(laidOut, asked)];
  const { from, to } = lossOf(box, goal).band;
  const inside = Array.from(before.frequencies.keys()).filter(
    (i) => before.frequencies[i]! >= from * (1 - 1e-9) && before.frequencies[i]! <= to * (1 + 1e-9),
  );
  const changes = after.places.map(({ azimuth, elevation, sum }, index): LayoutChangeAtPlace => {
    const [with_, without] = [levelDb(sum), levelDb(before.places[index]!.sum)];
    const changeDb = Float64Array.from(inside, (i) =>
      with_[i] === without[i] ? 0 : Math.max(-400, with_[i]!) - Math.max(-400, without[i]!),
    );
    const worst = changeDb.reduce((best, change, i) => (Math.abs(change) > Math.abs(changeDb[best]!) ? i : best), 0);
    return Object.freeze({ azimuth, elevation, changeDb, largestDb: changeDb[worst]!, frequency: before.frequencies[inside[worst]!]! });
  });
  const lossDb = Object.freeze({ uncoupled: lossOf(box, goal).lossDb, laidOut: lossOf(laidOut, goal).lossDb });
  const most = changes.reduce((best, one) => (Math.abs(one.largestDb) > Math.abs(best.largestDb) ? one : best));
  const tightest = couplings.reduce((best, one) => (Math.abs(one.k) > Math.abs(best.k) ? one : best));
  const sentence = `So laid out, ${listOf(tightest.coils)} couple most, by ${(100 * Math.abs(tightest.k)).toFixed(2)} %; at the listener that changes ${Math.abs(most.largestDb) < 0.01 ? "less than 0.01 dB" : `up to ${Math.abs(most.largestDb).toFixed(2)} dB, at ${most.frequency.toFixed(0)} Hz`}.`;
  return Object.freeze({
    couplings: Object.freeze(couplings),
    network: laidOut.network,
    frequencies: Float64Array.from(inside, (i) => before.frequencies[i]!),
    places: Object.freeze(changes),
    lossDb,
    sentence,
  });
}

function placeOf(caller: string, network: Entries, name: string, coil: PlacedCoil): BoardPlace {
  const entry = Object.hasOwn(network, name) ? network[name] : undefined;
  if (entry === undefined)
    throw new DividingNetworkError(
      "unknown-part",
      `${caller}: "coils" names ${show(name)}, which isn't in the network`,
      `Parts: ${Object.keys(network).join(", ")}`,
    );
  const { place } = checkObject(caller, `coils.${name}`, coil, "{ winding, place }");
  const { x, y, z, axis } = checkObject(caller, `coils.${name}.place`, place, "{ x, y, z, axis }");
  const metres = (key: string, value: unknown) =>
    checkNumber(caller, `coils.${name}.place.${key}`, value, { min: -100, max: 100, unit: "m" });
  return {
    x: metres("x", x),
    y: metres("y", y),
    z: metres("z", z),
    axis: checkOneOf(caller, `coils.${name}.place.axis`, axis, ["x", "y", "z"]),
  };
}

function freeName(network: Readonly<Record<string, unknown>>, first: string, second: string): string {
  let name = `K ${first} ${second}`;
  while (Object.hasOwn(network, name)) name += "'";
  return name;
}
