import { DividingNetworkError } from "../../errors";
import type { Entries } from "../../network";
import { leastCoupling, windingInductance, type BoardPlace, type Winding } from "../../parts";
import { coupled, isCoil } from "../../parts/internal";
import { formatQuantity } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { harmOf, harmText } from "./coil-harm";
import type { CoilLayout, CoilPlan } from "./coil-plan-data";

/** What placing by windings needs of the network. */
interface Placing {
  readonly caller: string;
  readonly network: Entries;
  readonly coils: readonly string[];
  readonly drivers: readonly string[];
  readonly frequencies: Float64Array;
  readonly metal: readonly string[];
}

/** Where coils whose windings are known stand on their board, so that they couple least. */
export function placed({ caller, network, coils, drivers, frequencies, metal }: Placing, { windings, board }: CoilLayout): CoilPlan {
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
  const [width, depth] = [board.width, board.depth].map((length) => inSi(caller, "coils.board", length, "m")) as [number, number];
  const aside = asideOf(places, Object.values(windings));
  return Object.freeze({
    coils: Object.freeze([...coils]),
    sentences: Object.freeze([
      `The board is ${millimetres(width)} wide and ${millimetres(depth)} deep, seen from above, its front edge towards you.`,
      ...places.map(
        ({ x, y, axis }, index) =>
          `${names[index]!}: its middle ${millimetres(width / 2 + x)} from the left edge and ${millimetres(depth / 2 + y)} from the front edge, ${axis === "z" ? "flat, its axis upright" : `on edge, its axis along the ${axis === "x" ? "width" : "depth"}`}.`,
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

/** Whole millimetres: as exactly as a coil is set by hand. */
const millimetres = (metres: number): string => `${Math.round(1000 * metres)} mm`;
/** m, to a millimetre. */
const rounded = (metres: number): number => Math.round(1000 * metres) / 1000;

/** How far apart the two nearest are, by the places as they are written, to be checked with a ruler. */
function nearestText(places: readonly BoardPlace[], names: readonly string[]): string {
  const [nearest] = places
    .flatMap((a, index) =>
      places.slice(0, index).map((b, other) => ({
        apart: Math.hypot(rounded(a.x) - rounded(b.x), rounded(a.y) - rounded(b.y)),
        names: [names[other]!, names[index]!],
      })),
    )
    .sort((a, b) => a.apart - b.apart);
  return `Between the middles of ${nearest!.names.join(" and ")}, seen from above: ${millimetres(nearest!.apart)}.`;
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
