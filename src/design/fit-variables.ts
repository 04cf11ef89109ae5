import { DividingNetworkError } from "../errors";
import { checkList, checkObject, checkOptions, show } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import { describe } from "../parts/internal";
import { boundsFor, type FitParameter } from "./fit-bounds";
import { drawnOtherwise, MOVABLE, movableOf, onlyNamed } from "./movable";
import type { MovingValue } from "./moving-value";
import { scaleOf } from "./scale";
import type { CoilLaw } from "./series-parts";

/** One value that is fitted, on its scale: as drawn, but within its bounds. */
export interface FitVariable extends MovingValue {
  readonly parameter: FitParameter;
  /** On the scale. */
  readonly lower: number;
  readonly upper: number;
}

/** The variables as they were asked for: designators, or bounds by designator. */
export function fitVariables(
  caller: string,
  { network, drivers }: Loudspeaker,
  vary: unknown,
  law: CoilLaw | undefined,
): readonly FitVariable[] {
  const hung = new Set(drivers.map(({ part }) => part));
  const isNamedOnly = onlyNamed(network);
  const valueOf = (name: string) => movableOf(network[name]![0])?.value ?? 0;
  const asked: readonly (readonly [string, object])[] =
    vary === undefined
      ? Object.keys(network)
          .filter((name) => !isNamedOnly(name) && !hung.has(name) && valueOf(name) > 0)
          .map((name) => [name, {}])
      : Array.isArray(vary)
        ? checkList<string>(caller, "vary", vary, "parts' names, or an object of bounds by part").map((name) => [name, {}])
        : Object.entries(checkObject(caller, "vary", vary, "parts' names, or an object of bounds by part"))
            .filter(([, bounds]) => bounds !== undefined)
            .map(([name, bounds]) => [name, checkObject(caller, `vary.${name}`, bounds as object, "{ from, to }")]);
  const variables = asked.map(([name, stated]): FitVariable => {
    if (typeof name !== "string" || !Object.hasOwn(network, name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: "vary" names ${show(name)}, which isn't in the network`,
        `Parts: ${Object.keys(network).join(", ")}`,
      );
    const [part] = network[name]!;
    const main = movableOf(part);
    if (main === undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary" must name ${MOVABLE}, got ${name}, a ${describe(part).noun}`,
        drawnOtherwise(part),
      );
    if (hung.has(name))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary" must name parts of the network, got ${name}, at which a driver hangs`,
        "What it does to the sound was measured: draw another loudspeaker",
      );
    const parameter = main.parameter as FitParameter;
    const value = valueOf(name);
    const { from, to, coilResistance } = checkOptions(
      `${caller}: vary.${name}`,
      stated as { readonly from?: unknown; readonly to?: unknown; readonly coilResistance?: unknown },
      ["from", "to", "coilResistance"],
    );
    const own = checkLaw(caller, `vary.${name}.coilResistance`, coilResistance);
    if (own !== undefined && parameter !== "inductance")
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary.${name}.coilResistance" must belong to a coil, got a ${describe(part).noun}`,
      );
    const { from: least, to: most, drawn } = boundsFor(caller, name, parameter, value, from, to);
    const scale = scaleOf(parameter, drawn);
    const resistance = parameter === "inductance" ? (own ?? law) : undefined;
    if (resistance !== undefined) for (const at of [least, Math.sqrt(least * most), most]) ohmsOf(caller, resistance, at);
    return Object.freeze({
      part: name,
      parameter,
      drawn,
      scale,
      lower: scale.of(least),
      upper: scale.of(most),
      ...(resistance === undefined ? {} : { law: resistance }),
    });
  });
  if (new Set(variables.map(({ part }) => part)).size < variables.length)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "vary" must name each part once, got ${variables.map(({ part }) => part).join(", ")}`,
    );
  if (variables.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "vary" must name at least one part whose value is fitted`,
      "Name the parts whose values are to be fitted",
    );
  if (variables.length > MOST)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "vary" must name at most ${MOST} parts, got ${variables.length}`,
      "Hold some of them as drawn",
    );
  return variables;
}

/** Most values of one fit. */
const MOST = 40;

/** A law of coils, if there is one. */
export function checkLaw(caller: string, argument: string, law: unknown): CoilLaw | undefined {
  if (law === undefined || typeof law === "function") return law as CoilLaw | undefined;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${argument}" must be a function from H to Ω, got ${show(law)}`,
    "For example (l) => 350 * l",
  );
}

function ohmsOf(caller: string, law: CoilLaw, inductance: number): number {
  const ohms: unknown = law(inductance);
  if (typeof ohms === "number" && ohms >= 0 && ohms < Infinity) return ohms;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "coilResistance" must give ohms, 0 or more, got ${show(ohms)} for ${inductance.toPrecision(4)} H`,
  );
}
