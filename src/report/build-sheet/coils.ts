import { fixed } from "../../quantity/internal";
import { DividingNetworkError } from "../../errors";
import { compile, type Entries } from "../../network";
import {
  coupling,
  couplingFromPlacement,
  leastCoupling,
  smallestCoil,
  windingInductance,
  type BoardPlace,
  type Winding,
} from "../../parts";
import { coupled, isCoil, isCoupling } from "../../parts/internal";
import { formatQuantity, type Length } from "../../quantity";
import { levelDb } from "../../response";

/** How the coils of a network are to lie. */
export interface CoilPlan {
  /** Coils that must not couple. */
  readonly coils: readonly string[];
  /** What to do, in sentences. */
  readonly sentences: readonly string[];
  /** Where that comes from. */
  readonly standing: string;
  /** Places on the board, m and axes, where windings and board were given. */
  readonly places?:
    | readonly (BoardPlace & {
        /** Its designator. */
        readonly coil: string;
      })[]
    | undefined;
  /** The largest coupling factor of a pair there, dimensionless. */
  readonly worst?: number | undefined;
}

/** Coils whose windings are known, and the board that they go on. */
export interface CoilLayout {
  /** By designator: turns, and lengths in m. */
  readonly windings: Readonly<Record<string, Winding>>;
  /** m. */
  readonly board: {
    /** m. */
    readonly width: Length;
    /** m. */
    readonly depth: Length;
  };
}

/** The coupling factor that is taken as none, dimensionless: what it does is computed and said. */
const SMALL = 0.01;

/** How the coils are to lie: placed by their windings where these are known, else by the rule of the trade with a distance for coils of the smallest shape. */
export function coilPlan(
  caller: string,
  network: Entries,
  layout: CoilLayout | undefined,
  drivers: readonly string[],
  frequencies: Float64Array,
): CoilPlan {
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  const coils = Object.entries(network)
    .filter(([name, [part]]) => isCoil(part) && part.inductance > 0 && !coupled.has(name) && !drivers.includes(name))
    .map(([name]) => name);
  const metal = coils.length + coupled.size === 0 ? [] : ["Coils away from steel and magnets, fixed with brass screws or ties."];
  if (layout !== undefined) return placed({ caller, network, coils, drivers, frequencies, metal }, layout);
  if (coils.length < 2)
    return Object.freeze({
      coils: Object.freeze(coils),
      sentences: Object.freeze(metal),
      standing: metal.length === 0 ? "" : "common practice, no source",
    });
  const apart = distanceApart(network, coils);
  const harm = harmOf(network, coils, drivers, frequencies, SMALL);
  return Object.freeze({
    coils: Object.freeze(coils),
    sentences: Object.freeze([
      `Set ${coils.join(", ")} at right angles: one flat, the next on edge, its axis through the middle of the first${coils.length > 2 ? ", a third on edge the other way" : ""}${coils.length > 3 ? "; more than three: far apart" : ""}.`,
      ...(apart === undefined
        ? []
        : [
            `Where two must lie the same way, keep ${Math.ceil(apart.distance * 100)} cm between their middles${harm === undefined ? "" : `: they then couple by ${SMALL * 100} % or less${harmText(harm)}`}.`,
          ]),
      ...metal,
    ]),
    standing:
      apart === undefined
        ? "common practice, no source"
        : "right angles: common practice, no source; the distance is computed for air coils of the smallest shape that have these values",
  });
}

/** What placing by windings needs of the network. */
interface Placing {
  readonly caller: string;
  readonly network: Entries;
  readonly coils: readonly string[];
  readonly drivers: readonly string[];
  readonly frequencies: Float64Array;
  readonly metal: readonly string[];
}

function placed({ caller, network, coils, drivers, frequencies, metal }: Placing, { windings, board }: CoilLayout): CoilPlan {
  const names = Object.keys(windings);
  const strange = names.find((name) => !coils.includes(name));
  if (strange !== undefined)
    throw new DividingNetworkError(
      "unknown-part",
      `${caller}: "coils.windings" names "${strange}", which is no uncoupled coil of this network`,
      `Coils: ${coils.join(", ")}`,
    );
  const { places, worst } = leastCoupling({ coils: Object.values(windings), board });
  const rest = coils.filter((name) => !names.includes(name));
  const aside = asideOf(places, Object.values(windings));
  return Object.freeze({
    coils: Object.freeze([...coils]),
    sentences: Object.freeze([
      ...places.map(
        ({ x, y, axis }, index) =>
          `${names[index]!}: its middle ${whereText(x, y)}, ${axis === "z" ? "flat, its axis upright" : `on edge, its axis along the ${axis === "x" ? "width" : "depth"}`}.`,
      ),
      nearestText(places, names),
      `So placed, no two of them couple by more than ${percentOf(worst)}; 5 mm beside its place, ${percentOf(aside)}${harmText(harmOf(network, coils, drivers, frequencies, Math.max(aside, 5e-4)))}.`,
      ...names.flatMap((name) => strayText(network, name, windings[name]!)),
      ...(rest.length === 0
        ? []
        : [`The winding of ${rest.join(", ")} isn’t known: set it at right angles to its neighbours and far from them.`]),
      ...metal,
    ]),
    standing: "computed from the windings, air coils",
    places: Object.freeze(places.map((place, index) => Object.freeze({ ...place, coil: names[index]! }))),
    worst,
  });
}

/** m between the middles of two coils that lie the same way, side by side, beyond which they couple by less than `SMALL`: the pair that needs most. */
function distanceApart(
  network: Entries,
  coils: readonly string[],
): { readonly distance: number; readonly pair: readonly [string, string] } | undefined {
  const shapes = coils
    .flatMap((name) => {
      const [part] = network[name]!;
      if (!isCoil(part) || part.dcr === 0) return [];
      const { innerRadius: side, turns } = smallestCoil({ inductance: part.inductance, dcr: part.dcr });
      // Beyond half a metre across it is no coil of a loudspeaker, and its data are a slip.
      return side < 0.125 ? [{ name, winding: { turns: Math.max(1, turns), meanRadius: 1.5 * side, length: side, depth: side } }] : [];
    })
    .sort((a, b) => b.winding.meanRadius - a.winding.meanRadius);
  const [first, second] = shapes;
  if (first === undefined || second === undefined) return undefined;
  const outer = 2 * (first.winding.length + second.winding.length);
  const close = (distance: number) =>
    Math.abs(couplingFromPlacement(first.winding, second.winding, { x: distance, y: 0, z: 0, axis: { x: 0, y: 0, z: 1 } }).k) >= SMALL;
  if (!close(outer)) return { distance: outer, pair: [first.name, second.name] };
  // It falls with about the third power of the distance, so that 20 diameters are always far enough.
  let [near, far] = [outer, 20 * outer];
  while (far - near > 0.002) {
    const middle = (near + far) / 2;
    if (close(middle)) near = middle;
    else far = middle;
  }
  return { distance: far, pair: [first.name, second.name] };
}

/** m: how far from its place a coil may be set by hand (common practice, no source). */
const ASIDE = 0.005;

/** The largest coupling factor, dimensionless, of a pair of which one stands beside its place along either edge of the board. */
function asideOf(places: readonly BoardPlace[], windings: readonly Winding[]): number {
  return Math.max(
    ...places.flatMap((a, index) =>
      places.slice(0, index).flatMap((b, other) =>
        [
          [0, 0],
          [ASIDE, 0],
          [-ASIDE, 0],
          [0, ASIDE],
          [0, -ASIDE],
        ].map(([x, y]) => Math.abs(coupled(windings[index]!, windings[other]!, a, { ...b, x: b.x + x!, y: b.y + y! }).k)),
      ),
    ),
  );
}

function percentOf(factor: number): string {
  return `${factor < 5e-4 ? "0.1" : (100 * factor).toFixed(1)} %`;
}

/** A place on the board in words. */
function whereText(x: number, y: number): string {
  const offset = (metres: number, [before, after]: readonly [string, string]) =>
    Math.abs(metres) < 5e-4 ? [] : [`${fixed(100 * Math.abs(metres), 1)} cm ${metres < 0 ? before : after}`];
  const [across, along] = [offset(x, ["left of", "right of"]), offset(y, ["before", "behind"])];
  return across.length + along.length === 0 ? "in the board’s middle" : `${[...across, ...along].join(" and ")} the board’s middle`;
}

/** How far apart the two nearest are, to be checked with a ruler. */
function nearestText(places: readonly BoardPlace[], names: readonly string[]): string {
  const [nearest] = places
    .flatMap((a, index) =>
      places.slice(0, index).map((b, other) => ({ apart: Math.hypot(a.x - b.x, a.y - b.y), names: [names[other]!, names[index]!] })),
    )
    .sort((a, b) => a.apart - b.apart);
  return `Between the middles of ${nearest!.names.join(" and ")}, seen from above: ${(100 * nearest!.apart).toFixed(1)} cm.`;
}

/** A winding that doesn't make the coil that is drawn: more off than air coils and their formulas are (a tenth; common practice, no source). */
function strayText(network: Entries, name: string, winding: Winding): readonly string[] {
  const [part] = network[name]!;
  if (!isCoil(part)) return [];
  const makes = windingInductance(winding);
  return Math.abs(makes / part.inductance - 1) < 0.1
    ? []
    : [
        `The winding stated for ${name} makes ${formatQuantity(makes, "H", { digits: 3 })}, not the ${formatQuantity(part.inductance, "H")} drawn: find out which is right before you place it.`,
      ];
}

/** What is left of coupling, in words; empty where it wasn't computed. */
function harmText(harm: number | undefined): string {
  return harm === undefined
    ? ""
    : `, and no driver’s voltage changes by more than ${harm < 0.01 ? "0.01" : harm.toFixed(2)} dB in its passband`;
}

/** dB: by how much the drivers' voltages change where they are within 10 dB of their highest, with one coupling factor between all coils. */
function harmOf(
  network: Entries,
  coils: readonly string[],
  drivers: readonly string[],
  frequencies: Float64Array,
  factor: number,
): number | undefined {
  if (coils.length > 6 || frequencies.length === 0) return undefined;
  const pairs = coils.flatMap((a, index) => coils.slice(index + 1).map((b) => [a, b] as const));
  const worst = [1, -1].map((sign) => {
    const couplings = Object.fromEntries(pairs.map(([a, b], index) => [unusedName(network, index), [coupling(sign * factor), a, b]]));
    const [plain, close] = [network, { ...network, ...couplings } as Entries].map((entries) =>
      compile<Entries>(entries as never).sweep(frequencies),
    );
    return Math.max(
      ...drivers.map((name) => {
        const [a, b] = [levelDb(plain!.voltage(name)), levelDb(close!.voltage(name))];
        const top = a.reduce((most, value) => Math.max(most, value), -Infinity);
        return a.reduce((most, value, index) => (value > top - 10 ? Math.max(most, Math.abs(value - b[index]!)) : most), 0);
      }),
    );
  });
  return Math.max(...worst);
}

/** A designator that neither a part nor a node of the network has. */
function unusedName(network: Entries, index: number): string {
  const taken = new Set(Object.entries(network).flatMap(([name, [, ...nodes]]) => [name, ...nodes]));
  let name = `K${index}`;
  while (taken.has(name)) name = `K${name}`;
  return name;
}
