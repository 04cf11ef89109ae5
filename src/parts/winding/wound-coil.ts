import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import { COPPER_DENSITY, VACUUM_PERMEABILITY } from "../../physics";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { wireDiameter, wireResistance } from "../conductor/wire";
import { inductor, type Inductor } from "../inductor";
import type { CheckedWinding } from "./winding";
import { selfMean } from "./winding-inductance";

/** Copper wire as it is given: a gauge number (dimensionless) or a bare diameter, and the thickness of the insulation on one side. */
export type MagnetWire =
  | {
      /** American wire gauge number, dimensionless. */
      readonly awg: number;
      /** m: thickness on one side. */
      readonly insulation?: Length | undefined;
    }
  | {
      /** m: of the bare copper. */
      readonly diameter: Length;
      /** m: thickness on one side. */
      readonly insulation?: Length | undefined;
    };

/** A former as it is given: the radius or the diameter on which the first layer lies, and the room between its cheeks. */
export type Former =
  | {
      /** m: on which the first layer lies. */
      readonly innerRadius: Length;
      /** m: room between the cheeks. */
      readonly length: Length;
    }
  | {
      /** m: on which the first layer lies, twice the radius. */
      readonly diameter: Length;
      /** m: room between the cheeks. */
      readonly length: Length;
    };

/** The same in metres. */
export interface WireSize {
  /** Bare diameter, m. */
  readonly diameter: number;
  /** Thickness of the insulation on one side, m. */
  readonly insulation: number;
}

/** A former in metres. */
export interface FormerSize {
  /** On which the first layer lies, m. */
  readonly innerRadius: number;
  /** Room between the cheeks, m. */
  readonly length: number;
}

/** A coil wound layer on layer, each turn in a square of its own. */
export interface WoundCoil {
  /** Whole turns. */
  readonly turns: number;
  /** Layers, the last of which need not be full. */
  readonly layers: number;
  /** Turns that a full layer holds. */
  readonly turnsPerLayer: number;
  /** H, with uniform current density over the section and the correction for round wire. */
  readonly inductance: number;
  /** Direct-current resistance in Ω at the temperature. */
  readonly dcr: number;
  /** The section for `windingInductance` and `couplingFromPlacement`; lengths in m. */
  readonly winding: CheckedWinding;
  /** m, over the wire. */
  readonly outerDiameter: number;
  /** m. */
  readonly wireLength: number;
  /** kg of copper. */
  readonly copperMass: number;
  /** Wire and former, lengths in m, and °C: what it was wound from. */
  readonly wire: WireSize;
  /** What it was wound on, lengths in m. */
  readonly former: FormerSize;
  /** °C, at which `dcr` holds. */
  readonly temperature: number;
  /** The part for a network. */
  readonly part: Inductor;
}

/** Most turns of a coil that is looked for. */
export const MOST_TURNS = 100_000;

/** Enamel on one side, about that of grade 2: 0.045 mm at 1 mm, with the root of the diameter. From memory. */
function usualInsulation(diameter: number): number {
  return 0.045e-3 * Math.sqrt(diameter / 1e-3);
}

export function checkedWire(caller: string, wire: MagnetWire): WireSize {
  const { awg, diameter, insulation } = checkOptions(caller, wire as { awg?: number; diameter?: Length; insulation?: Length }, [
    "awg",
    "diameter",
    "insulation",
  ]);
  if ((awg === undefined) === (diameter === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "wire" must have either "awg" or "diameter", got ${show(awg === undefined ? undefined : "both")}`,
      "Give the gauge, or the bare diameter in m",
    );
  }
  const bare = awg === undefined ? inSi(caller, "wire.diameter", diameter, "m", { min: 1e-6, max: 0.1 }) : wireDiameter({ awg });
  return {
    diameter: bare,
    insulation: insulation === undefined ? usualInsulation(bare) : inSi(caller, "wire.insulation", insulation, "m", { min: 0, max: 0.1 }),
  };
}

export function checkedFormer(caller: string, former: Former): FormerSize {
  const { innerRadius, diameter, length } = checkOptions(caller, former as { innerRadius?: Length; diameter?: Length; length: Length }, [
    "innerRadius",
    "diameter",
    "length",
  ]);
  if ((innerRadius === undefined) === (diameter === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "former" must have either "innerRadius" or "diameter", got ${show(diameter === undefined ? undefined : "both")}`,
      "It is what the first layer lies on",
    );
  }
  const range = { above: 1e-5, max: 10 };
  const radius =
    diameter === undefined
      ? inSi(caller, "former.innerRadius", innerRadius, "m", range)
      : inSi(caller, "former.diameter", diameter, "m", range) / 2;
  return { innerRadius: radius, length: inSi(caller, "former.length", length, "m", range) };
}

/** The section that so many turns take. A last layer that isn't full counts by its share. */
export function sectionOf(turns: number, wire: WireSize, former: FormerSize): CheckedWinding & { readonly turnsPerLayer: number } {
  const pitch = wire.diameter + 2 * wire.insulation;
  const turnsPerLayer = Math.floor((former.length / pitch) * (1 + 1e-9));
  const depth = pitch * Math.max(1, turns / turnsPerLayer);
  return { turns, meanRadius: former.innerRadius + depth / 2, length: pitch * Math.min(turns, turnsPerLayer), depth, turnsPerLayer };
}

/**
 * Inductance of so many turns: uniform current density, and for each turn what a round wire in its square has more inside than the square filled
 * evenly, µ₀a(ln(pitch/d) + 0.1381): the squares' geometric mean distance is 0.44705 of the side, the circle's e^(−¼)/2 of the diameter.
 */
export function inductanceOf(turns: number, wire: WireSize, former: FormerSize): number {
  const section = sectionOf(turns, wire, former);
  const round = Math.log((0.44705 * (wire.diameter + 2 * wire.insulation)) / ((Math.exp(-0.25) / 2) * wire.diameter));
  return VACUUM_PERMEABILITY * turns * (turns * selfMean(section) + section.meanRadius * round);
}

export function woundCoil(turns: number, wire: WireSize, former: FormerSize, temperature: number): WoundCoil {
  const { turnsPerLayer, ...winding } = sectionOf(turns, wire, former);
  const inductance = inductanceOf(turns, wire, former);
  const wireLength = 2 * Math.PI * winding.meanRadius * turns;
  const dcr = wireResistance({ diameter: wire.diameter, length: wireLength, temperature });
  const layers = Math.ceil(turns / turnsPerLayer);
  return Object.freeze({
    turns,
    layers,
    turnsPerLayer,
    inductance,
    dcr,
    winding: Object.freeze(winding),
    outerDiameter: 2 * (former.innerRadius + layers * (wire.diameter + 2 * wire.insulation)),
    wireLength,
    copperMass: (COPPER_DENSITY * wireLength * Math.PI * wire.diameter ** 2) / 4,
    wire: Object.freeze(wire),
    former: Object.freeze(former),
    temperature,
    part: inductor(inductance, { dcr }),
  });
}

/** The whole number of turns that comes nearest to an inductance; undefined when it takes more than the most or the wire doesn't fit. */
export function turnsFor(inductance: number, wire: WireSize, former: FormerSize, most = MOST_TURNS): number | undefined {
  if (sectionOf(1, wire, former).turnsPerLayer < 1) return undefined;
  let high = Math.min(most, 8);
  while (inductanceOf(high, wire, former) < inductance) {
    if (high === most) return undefined;
    high = Math.min(most, 2 * high);
  }
  let low = 0;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (inductanceOf(middle, wire, former) < inductance) low = middle;
    else high = middle;
  }
  if (low === 0) return high;
  return inductance - inductanceOf(low, wire, former) < inductanceOf(high, wire, former) - inductance ? low : high;
}
