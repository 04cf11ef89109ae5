import { checkList, checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { inSi } from "../quantity/internal";
import { checkedGrid } from "../response/internal";
import { checkBand } from "./band";
import { checkAmplifier, checkDerating } from "./goal-amplifier";
import { checkCurve, checkDamping, checkPlaces } from "./goal-parts";
import type { Goal, GoalOptions } from "./goal-types";
import { checkIntention } from "./intention";
import { checkPartner } from "./partner";

const NAMES = [
  "band",
  "frequencies",
  "distance",
  "levelDb",
  "slopeDbPerOctave",
  "curve",
  "corridorDb",
  "places",
  "largestLevelLossDb",
  "leastLevelDb",
  "largestHumpDb",
  "amplifier",
  "derating",
  "drivers",
  "damping",
  "partner",
  "intentions",
  "limits",
] as const;

/**
 * A goal: what the verdict, the fit and the search measure a loudspeaker by. Target on the axis as a level (free unless stated), a slope in
 * dB per octave that passes through that level at 1 kHz, or a curve; a corridor; places with weights; the loudness to keep; what amplifier
 * and drivers bear. Each default says why at its place in `Goal`.
 *
 * @param options `band` and `frequencies` in Hz, `distance` in m, levels in dB re 20 µPa for 2.83 V, places in degrees, limits in Ω and dB
 * @returns the goal, frozen, in SI, dB and degrees
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `invalid-quantity`
 * @example
 * ```ts
 * import { goal } from "dividing-network/assessment";
 *
 * const flat = goal({ band: { from: "300 Hz", to: "10 kHz" }, places: [{ azimuth: 0, weight: 2 }, { azimuth: 20 }, { azimuth: -20 }] });
 * flat.places[1]?.weight; // 1
 * flat.corridorDb; // 3
 * ```
 */
export function goal(options: GoalOptions = {}): Goal {
  const caller = "goal";
  const given = checkOptions(caller, options, NAMES);
  const decibels = (name: "levelDb" | "leastLevelDb", value: number | undefined) =>
    value === undefined ? {} : { [name]: checkNumber(caller, name, value, { min: -200, max: 300, unit: "dB" }) };
  const band = given.band === undefined ? { from: 300, to: 10_000 } : checkBand(caller, "band", given.band);
  const amplifier = checkAmplifier(caller, given.amplifier ?? {});
  const places = checkPlaces(caller, "places", given.places ?? [{}], "Leave it out for the axis alone");
  const stated = [
    ...(given.largestLevelLossDb === undefined ? [] : ["largestLevelLossDb"]),
    ...(given.leastLevelDb === undefined ? [] : ["leastLevelDb"]),
    ...(given.largestHumpDb === undefined ? [] : ["largestHumpDb"]),
    ...(amplifier.smallestImpedance === undefined ? [] : ["smallestImpedance"]),
    ...(amplifier.smallestPeakDissipationResistance === undefined ? [] : ["smallestPeakDissipationResistance"]),
    ...Object.keys(given.drivers ?? {}),
  ];
  const fresh: Goal = Object.freeze({
    band: Object.freeze(band),
    bandStated: given.band !== undefined,
    ...(given.frequencies === undefined ? {} : { frequencies: checkedGrid(caller, given.frequencies) }),
    ...(given.distance === undefined ? {} : { distance: inSi(caller, "distance", given.distance, "m", { above: 0 }) }),
    ...decibels("levelDb", given.levelDb),
    slopeDbPerOctave: checkNumber(caller, "slopeDbPerOctave", given.slopeDbPerOctave ?? 0, { min: -24, max: 24, unit: "dB per octave" }),
    ...(given.curve === undefined ? {} : { curve: checkCurve(caller, given.curve) }),
    corridorDb: checkNumber(caller, "corridorDb", given.corridorDb ?? 3, { above: 0, max: 60, unit: "dB" }),
    places,
    largestLevelLossDb: checkNumber(caller, "largestLevelLossDb", given.largestLevelLossDb ?? 3, { min: 0, max: 100, unit: "dB" }),
    ...decibels("leastLevelDb", given.leastLevelDb),
    largestHumpDb: checkNumber(caller, "largestHumpDb", given.largestHumpDb ?? 3, { min: 0, max: 100, unit: "dB" }),
    amplifier,
    derating: checkDerating(caller, given.derating ?? {}),
    drivers: Object.freeze(
      Object.fromEntries(
        Object.entries(given.drivers ?? {}).map(([name, value]) => [
          name,
          value === "not spared" ? value : checkNumber(caller, `drivers.${name}`, value, { min: 0, max: 120, unit: "dB" }),
        ]),
      ),
    ),
    damping: checkDamping(caller, given.damping ?? {}),
    ...(given.partner === undefined ? {} : { partner: checkPartner(caller, given.partner) }),
    intentions: Object.freeze(
      checkList(caller, "intentions", given.intentions ?? [], "{ lower, upper, order }").map((intention, index) =>
        checkIntention(caller, `intentions[${index}]`, intention),
      ),
    ),
    limits: checkOneOf(caller, "limits", given.limits ?? "default", ["default", "stated"]),
    stated: Object.freeze(stated),
  });
  made.add(fresh);
  return fresh;
}

const made = /* @__PURE__ */ new WeakSet<object>();

/** A goal as `goal` makes it, a copy of one (looked at again), or its options. */
export function goalOf(value: Goal | GoalOptions | undefined): Goal {
  if (value !== undefined && made.has(value)) return value as Goal;
  if (typeof value !== "object" || value === null || !("bandStated" in value) || !("stated" in value)) return goal(value);
  const { bandStated, stated, band, ...rest } = value;
  const again = goal(bandStated === false ? rest : { ...rest, band });
  const copy = Object.freeze({
    ...again,
    stated: Object.freeze(again.stated.filter((name) => Array.isArray(stated) && stated.includes(name))),
  });
  made.add(copy);
  return copy;
}
