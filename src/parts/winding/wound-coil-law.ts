import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { formatQuantity, type Inductance, type Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { wireResistance } from "../conductor/wire";
import { checkedFormer, checkedWire, inductanceOf, MOST_TURNS, sectionOf, type Former, type MagnetWire } from "./wound-coil";

/** What coils of one wire on one former have in common: resistance as a function of inductance. */
export interface WoundCoilLaw {
  /** Direct-current resistance in Ω of the coil that has so many H; a `coilResistance` for fits and designs. */
  readonly resistance: (inductance: Inductance) => number;
  /** Its slope in Ω/H; where the first layer is just full, that from above. */
  readonly slope: (inductance: Inductance) => number;
}

/** Step of the logarithm of turns for the slope of inductance, which has no closed form. */
const STEP = 1e-4;
const MOST_STEPS = 100;

/**
 * The resistance of coils wound from one wire on one former as a law over their inductance, so that coils vary in fits and designs as they would be wound.
 * It is `windCoil` with turns that need not be whole: at whole turns both agree. Continuous everywhere, and smooth but for a corner of the slope where the
 * first layer is full. The accuracy is that of `windCoil`.
 *
 * @param options `wire`: `awg` or bare `diameter` in m, `insulation` in m on one side (default about grade 2 enamel, from memory); `former`: `innerRadius` or `diameter` in m on which the first layer
 *   lies, and `length` in m between its cheeks; `temperature` in °C (default 20)
 * @returns functions of the inductance in H (above 0 H, at most 100 H): `resistance` in Ω, `slope` in Ω/H; both throw as this does
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `no-such-coil` when the wire doesn't fit on the former, or the turns are too many
 * @example
 * ```ts
 * import { woundCoilLaw } from "dividing-network/parts";
 *
 * const law = woundCoilLaw({ wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
 * law.resistance("0.82 mH"); // 0.3234 Ω
 * law.slope("0.82 mH"); // 231.7 Ω/H
 * ```
 */
export function woundCoilLaw(options: {
  readonly wire: MagnetWire;
  readonly former: Former;
  readonly temperature?: Temperature | undefined;
}): WoundCoilLaw {
  const caller = "woundCoilLaw";
  checkOptions(caller, options, ["wire", "former", "temperature"]);
  const wire = checkedWire(caller, options?.wire);
  const former = checkedFormer(caller, options.former);
  const temperature = inSi(caller, "temperature", options.temperature ?? 20, "°C", { min: -200, max: 300 });
  const refuse = (wanted: string, got: string) =>
    new DividingNetworkError("no-such-coil", `${caller}: "wire" must allow ${wanted}, got ${got}`, "Take another wire, or a larger former");
  const full = sectionOf(1, wire, former).turnsPerLayer;
  if (full < 1) throw refuse("a turn on the former", "a wire that doesn't fit between the cheeks");
  const perMetre = wireResistance({ diameter: wire.diameter, length: 1, temperature });
  const turnsOf = (given: Inductance): number => {
    const inductance = inSi(caller, "inductance", given, "H", { above: 0, max: 100 });
    const turns = solved((count) => Math.log(inductanceOf(count, wire, former) / inductance));
    if (!(turns <= MOST_TURNS)) throw refuse(formatQuantity(inductance, "H"), `more than ${MOST_TURNS} turns`);
    return turns;
  };
  return Object.freeze({
    resistance: (inductance: Inductance) => {
      const turns = turnsOf(inductance);
      return perMetre * 2 * Math.PI * sectionOf(turns, wire, former).meanRadius * turns;
    },
    slope: (inductance: Inductance) => {
      const turns = turnsOf(inductance);
      const { meanRadius, depth } = sectionOf(turns, wire, former);
      // From a full first layer on the depth is proportional to the turns.
      const ohmsByTurn = perMetre * 2 * Math.PI * (meanRadius + (turns >= full ? depth / 2 : 0));
      const at = (steps: number) => inductanceOf(turns * Math.exp(steps * STEP), wire, former);
      const away = Math.log(turns / full) / STEP;
      // Differences to both sides, or to one side where the other lies beyond the corner.
      const byLogarithm =
        Math.abs(away) > 1 ? (at(1) - at(-1)) / 2 : away >= 0 ? (4 * at(1) - 3 * at(0) - at(2)) / 2 : (3 * at(0) - 4 * at(-1) + at(-2)) / 2;
      return (ohmsByTurn * turns * STEP) / byLogarithm;
    },
  });
}

/** Turns where a function that rises with their logarithm, by about 1 to 2, is zero: secants, kept near that. */
function solved(deviation: (turns: number) => number): number {
  let logarithm = Math.log(30);
  let now = deviation(30);
  let rise = 2;
  for (let step = 0; step < MOST_STEPS && Math.abs(now) > 1e-15; step++) {
    const next = logarithm - now / rise;
    if (next === logarithm || !(next < Math.log(1e3 * MOST_TURNS))) return Math.exp(next);
    const then = deviation(Math.exp(next));
    // Close to zero rounding makes the slope; the last one stays.
    if (Math.abs(next - logarithm) > 1e-7) rise = Math.max(0.5, Math.min(4, (then - now) / (next - logarithm)));
    [logarithm, now] = [next, then];
  }
  return Math.exp(logarithm);
}
