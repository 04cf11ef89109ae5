import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkNumbers, checkObject, checkOptions, show } from "../errors/internal";
import { inSi } from "../quantity/internal";
import { checkedGrid } from "../response/internal";
import type { Goal, GoalOptions, GoalPlace } from "./goal-types";

/** How a woofer is to be damped, as it is taken in. */
export function checkDamping(caller: string, value: NonNullable<GoalOptions["damping"]>): Goal["damping"] {
  const { largestQ, largestSourceResistance } = checkOptions(caller, value, ["largestQ", "largestSourceResistance"]);
  return Object.freeze({
    ...(largestQ === undefined ? {} : { largestQ: checkNumber(caller, "damping.largestQ", largestQ, { above: 0, max: 100 }) }),
    ...(largestSourceResistance === undefined
      ? {}
      : { largestSourceResistance: inSi(caller, "damping.largestSourceResistance", largestSourceResistance, "Ω", { min: 0 }) }),
  });
}

/** Places as they are taken in, at least one. */
export function checkPlaces(caller: string, argument: string, value: unknown, hint: string): readonly GoalPlace[] {
  const each = "{ azimuth, elevation, weight }";
  const places = checkList(caller, argument, value as readonly object[], each);
  if (places.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be an array of at least one ${each}, got ${show(value)}`,
      hint,
    );
  return Object.freeze(
    places.map((place, index) =>
      checkPlace(caller, `${argument}[${index}]`, checkObject<object>(caller, `${argument}[${index}]`, place, each)),
    ),
  );
}

/** A place as it is taken in. */
function checkPlace(caller: string, argument: string, value: object): GoalPlace {
  const {
    azimuth = 0,
    elevation = 0,
    weight = 1,
    levelDb,
    slopeDbPerOctave,
  } = checkOptions(`${caller}: ${argument}`, value as Partial<GoalPlace>, [
    "azimuth",
    "elevation",
    "weight",
    "levelDb",
    "slopeDbPerOctave",
  ]);
  return Object.freeze({
    azimuth: checkNumber(caller, `${argument}.azimuth`, azimuth, { min: -180, max: 180, unit: "degrees" }),
    elevation: checkNumber(caller, `${argument}.elevation`, elevation, { min: -90, max: 90, unit: "degrees" }),
    weight: checkNumber(caller, `${argument}.weight`, weight, { above: 0, max: 1e6 }),
    ...(levelDb === undefined ? {} : { levelDb: checkNumber(caller, `${argument}.levelDb`, levelDb, { min: -200, max: 300, unit: "dB" }) }),
    ...(slopeDbPerOctave === undefined
      ? {}
      : {
          slopeDbPerOctave: checkNumber(caller, `${argument}.slopeDbPerOctave`, slopeDbPerOctave, {
            min: -24,
            max: 24,
            unit: "dB per octave",
          }),
        }),
  });
}

/** A target's curve as it is taken in. */
export function checkCurve(caller: string, value: NonNullable<GoalOptions["curve"]>): NonNullable<Goal["curve"]> {
  const { frequencies, levelDb } = checkOptions(caller, value, ["frequencies", "levelDb"]);
  const grid = checkedGrid(`${caller}: curve`, frequencies);
  if (
    !(grid[0]! > 0)
    || grid.length < 2
    || grid.length !== levelDb?.length
    || !Array.from(checkNumbers(caller, "curve.levelDb", levelDb)).every((level) => Math.abs(level) <= 1000)
  ) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "curve" must be { frequencies, levelDb } of one length of at least two, above 0 Hz and in dB, got ${show(value)}`,
    );
  }
  return Object.freeze({ frequencies: grid, levelDb: Float64Array.from(levelDb) });
}
