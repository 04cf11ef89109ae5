import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import { formatQuantity, type Inductance, type Resistance, type Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import {
  checkedFormer,
  checkedWire,
  MOST_TURNS,
  turnsFor,
  woundCoil,
  type Former,
  type MagnetWire,
  type WireSize,
  type WoundCoil,
} from "./wound-coil";
import { wireDiameter } from "../conductor/wire";

/** Gauges that are tried from thin to thick when no wire is given. */
const THINNEST = 30;
const THICKEST = 8;

/**
 * An air coil for an inductance: turns, layers, size, wire, copper and resistance. Wound layer on layer with each turn in a square of its own, the last
 * layer counted by its share; inductance by `windingInductance`, with the correction for round wire. Square packing is what a hand winds at best where
 * turns don't fall into the grooves of the layer below; a coil that is wound so packs up to 13 % flatter. Expect a few per cent, and measure: that is what
 * `turnsToTakeOff` is for.
 *
 * @param options `inductance` in H (10 nH to 100 H); `wire`: `awg` or bare `diameter` in m, `insulation` in m on one side (default about grade 2 enamel, from memory); without it the thinnest gauge
 *   that keeps `largestDcr`; `former`: `innerRadius` or `diameter` in m on which the first layer lies, and `length` in m between its cheeks; `largestDcr` in Ω; `temperature` in °C (default 20)
 * @returns the coil, frozen: SI, with its part for a network
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `no-such-coil` when the wire doesn't fit on the former, the turns
 *   are too many, or the resistance is larger than `largestDcr`
 * @example
 * ```ts
 * import { windCoil } from "dividing-network/parts";
 *
 * const coil = windCoil({ inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
 * coil.turns; // 155
 * coil.dcr; // 0.3223 Ω
 * ```
 */
export function windCoil(options: {
  readonly inductance: Inductance;
  readonly wire?: MagnetWire | undefined;
  readonly former: Former;
  readonly largestDcr?: Resistance | undefined;
  readonly temperature?: Temperature | undefined;
}): WoundCoil {
  const caller = "windCoil";
  checkOptions(caller, options, ["inductance", "wire", "former", "largestDcr", "temperature"]);
  const inductance = inSi(caller, "inductance", options?.inductance, "H", { min: 1e-8, max: 100 });
  const former = checkedFormer(caller, options.former);
  const temperature = inSi(caller, "temperature", options.temperature ?? 20, "°C", { min: -200, max: 300 });
  const largest = options.largestDcr === undefined ? undefined : inSi(caller, "largestDcr", options.largestDcr, "Ω", { above: 0 });
  if (options.wire === undefined && largest === undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "wire" must be given, or "largestDcr", got ${show(undefined)}`,
      "With a largest resistance the thinnest gauge that keeps it is taken",
    );
  }
  const refuse = (what: string): DividingNetworkError =>
    new DividingNetworkError(
      "no-such-coil",
      `${caller}: "${options.wire === undefined ? "former" : "wire"}" must allow ${formatQuantity(inductance, "H")}, got ${what}`,
      "Take another wire, a larger former, or more resistance",
    );
  const wires: WireSize[] = [];
  if (options.wire !== undefined) wires.push(checkedWire(caller, options.wire));
  else for (let awg = THINNEST; awg >= THICKEST; awg--) wires.push(checkedWire(caller, { diameter: wireDiameter({ awg }) }));
  let closest = Infinity;
  for (const wire of wires) {
    const turns = turnsFor(inductance, wire, former);
    if (turns === undefined) continue;
    const coil = woundCoil(turns, wire, former, temperature);
    if (largest === undefined || coil.dcr <= largest) return coil;
    closest = Math.min(closest, coil.dcr);
  }
  throw refuse(
    closest === Infinity
      ? `a wire that doesn't fit between the cheeks, or more than ${MOST_TURNS} turns`
      : `a resistance of ${formatQuantity(closest, "Ω")} at least`,
  );
}

/** What becomes of a coil when turns are taken off. */
export interface TurnsTakenOff {
  /** Turns to take off. */
  readonly turns: number;
  /** What is left: SI. */
  readonly coil: WoundCoil;
}

/**
 * How many turns to take off a wound coil for a smaller inductance. To correct a coil by measurement, ask for what it should have times what it was
 * computed to have over what it measures.
 *
 * @param coil what `windCoil` gave
 * @param inductance H that is wanted, below the coil's own
 * @returns whole turns to take off, and the coil that is left
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`
 * @example
 * ```ts
 * import { turnsToTakeOff, windCoil } from "dividing-network/parts";
 *
 * const coil = windCoil({ inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
 * turnsToTakeOff(coil, "0.68 mH").turns; // 12
 * ```
 */
export function turnsToTakeOff(coil: WoundCoil, inductance: Inductance): TurnsTakenOff {
  const caller = "turnsToTakeOff";
  if (typeof coil !== "object" || coil === null || typeof coil.wire !== "object" || typeof coil.former !== "object") {
    throw new DividingNetworkError("invalid-argument", `${caller}: "coil" must come from windCoil, got ${show(coil)}`);
  }
  const wire = checkedWire(caller, coil.wire);
  const former = checkedFormer(caller, coil.former);
  const wanted = inSi(caller, "inductance", inductance, "H", { min: 1e-9, max: coil.inductance });
  const left = turnsFor(wanted, wire, former, coil.turns) ?? coil.turns;
  return Object.freeze({ turns: coil.turns - left, coil: woundCoil(left, wire, former, coil.temperature) });
}
