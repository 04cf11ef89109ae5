import { fewDigits, percent, hertz } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { driversUnder } from "../loudspeaker/internal";
import type { DriverStress, Loudspeaker } from "../loudspeaker";
import { stress, type Entries, type PartStress, type Stress } from "../network";
import { isCoil, isCoupling, ratingOf } from "../parts/internal";
import { formatQuantity } from "../quantity";
import type { Derating } from "./goal-amplifier";
import type { Goal } from "./goal-types";
import { reliefText } from "./relief-text";

/** One thing that a part or a driver has to stand, against what it is rated for. */
export interface RatingCheck {
  /** A part of the network, or a driver. */
  readonly code: "part-rating" | "driver-rating";
  /** The part's designator, or the driver's name. */
  readonly name: string;
  /** What: heat, the highest voltage, the highest current, or the cone's largest excursion. */
  readonly quantity: "power" | "voltage" | "current" | "excursion";
  /** W mean under the signal; V or A, peak of the worst full sine; m, peak under the signal. */
  readonly value: number;
  /** With a full sine where it is worst, in the same unit: W, or a peak in V, A or m. */
  readonly sine: number;
  /** The rating to buy by, in the same unit: `value` over the share of a rating that may be used. */
  readonly required: number;
  /** What it is rated for, in the same unit; absent: not stated. */
  readonly rating?: number;
  /** Of all three. */
  readonly unit: "W" | "V" | "A" | "m";
  /** Hz: where a full sine is worst. */
  readonly frequency: number;
  /** What it comes to. */
  readonly state: "kept" | "beyond the share to use" | "beyond its rating" | "not checked";
  /** In words. */
  readonly sentence: string;
}

/** What parts and drivers have to stand at the goal's amplifier level. */
export interface Ratings {
  /** What every part has to stand; absent where the goal states no level, or the network has no answer. */
  readonly stress?: Stress;
  /** What every driver has to stand; empty likewise. */
  readonly drivers: readonly DriverStress[];
  /** Everything that has a rating, or should have one. */
  readonly checks: readonly RatingCheck[];
  /** What couldn't be checked, each in words with why. */
  readonly notChecked: readonly string[];
  /** At which level, in words; empty where none is stated. */
  readonly level: string;
}

/** Ratings of a loudspeaker by a goal. */
export function ratingsOf(box: Loudspeaker, goal: Goal, ratedImpedance: number): Ratings {
  const { spectrum, crestFactor } = goal.amplifier;
  const voltage = largestSine(goal, ratedImpedance);
  const none = (why: string): Ratings =>
    Object.freeze({
      drivers: Object.freeze([]),
      checks: Object.freeze([]),
      notChecked: Object.freeze([`watts, volts and amperes in the parts, heat and excursion of the drivers (${why})`]),
      level: "",
    });
  if (voltage === undefined) return none("the goal states no level of the amplifier");
  let under: Stress;
  let drivers: readonly DriverStress[];
  try {
    under = stress<Entries>(box.network, { voltage, spectrum, crestFactor, sourceImpedance: box.sourceImpedance });
    drivers = driversUnder(box, under, spectrum);
  } catch (error) {
    if (error instanceof DividingNetworkError) return none(error.message);
    throw error;
  }
  const checks = [...partChecks(box, under, goal), ...drivers.flatMap((driver) => driverChecks(driver))].map((check) =>
    Object.freeze(check),
  );
  return Object.freeze({
    stress: under,
    drivers,
    checks: Object.freeze(checks),
    notChecked: Object.freeze(unchecked(box, checks, drivers)),
    level: levelText(under, spectrum),
  });
}

/** V rms of the amplifier's largest sine; undefined where the goal states no level. */
function largestSine({ amplifier: { voltage, power } }: Goal, ratedImpedance: number): number | undefined {
  return voltage ?? (power === undefined ? undefined : Math.sqrt(power * ratedImpedance));
}

/** What parts alone have to stand that have a rating; nothing where the goal states no level, or the network has no answer: for searches, which ask often. */
export function partRatings(box: Loudspeaker, goal: Goal, ratedImpedance: number): readonly RatingCheck[] {
  const { spectrum, crestFactor } = goal.amplifier;
  const voltage = largestSine(goal, ratedImpedance);
  const { network, sourceImpedance } = box;
  if (voltage === undefined || !Object.values(network).some(([part]) => ratingOf(part)?.value !== undefined)) return [];
  try {
    return partChecks(box, stress<Entries>(network, { voltage, spectrum, crestFactor, sourceImpedance }), goal);
  } catch (error) {
    if (error instanceof DividingNetworkError) return [];
    throw error;
  }
}

function partChecks({ network, drivers }: Loudspeaker, under: Stress, { derating }: Goal): RatingCheck[] {
  return Object.entries(network).flatMap(([name, [part]]) =>
    drivers.some((driver) => driver.part === name) ? [] : partCheck(name, part, under.parts[name], derating),
  );
}

/** What the parts are judged at, in words. */
function levelText({ voltage, signalVoltage, crestFactor }: Stress, spectrum: Goal["amplifier"]["spectrum"] = "programme"): string {
  const size = `${formatQuantity(voltage, "V")} rms of the largest sine`;
  if (spectrum === "sine") return `${size}, at whatever frequency is worst`;
  const what =
    spectrum === "programme"
      ? "simulated programme (IEC 60268-1, levels from memory, not verified)"
      : spectrum === "pink"
        ? "pink noise"
        : "the goal's own spectrum";
  return `${size}; heat and excursion under ${what} of ${formatQuantity(signalVoltage, "V")} rms, crest factor ${fewDigits(crestFactor)}`;
}

function partCheck(name: string, part: Entries[string][0], under: PartStress | undefined, derating: Derating): RatingCheck[] {
  if (under === undefined) return [];
  const rating = ratingOf(part);
  if (rating === undefined) return [];
  const { quantity } = rating;
  const given = { code: "part-rating", name, quantity, rating: rating.value } as const;
  if (quantity === "power") {
    const { mean, sine, frequency } = under.power;
    if (!(sine > 0)) return [];
    return [
      checkOf(
        { ...given, value: mean, sine, unit: "W", frequency },
        derating.power,
        `${name} turns ${formatQuantity(mean, "W")} into heat (a full sine at ${hertz(frequency)}: ${formatQuantity(sine, "W")})`,
      ),
    ];
  }
  const { sinePeak, frequency } = under[quantity];
  const unit = quantity === "voltage" ? "V" : "A";
  return [
    checkOf(
      { ...given, value: sinePeak, sine: sinePeak, unit, frequency },
      derating[quantity],
      `${name} ${quantity === "voltage" ? "gets" : "carries"} up to ${formatQuantity(sinePeak, unit)} peak, from a sine at ${hertz(frequency)}`,
    ),
  ];
}

function driverChecks({ driver, power, powerOf, excursion, ratings, first, relief }: DriverStress): RatingCheck[] {
  const more = (limit: "power" | "excursion") =>
    first?.limit === limit && relief !== undefined ? `; reached at ${formatQuantity(first.voltage, "V")}. ${reliefText(relief)}` : "";
  return [
    checkOf(
      {
        code: "driver-rating",
        name: driver,
        quantity: "power",
        value: power.mean,
        sine: power.sine,
        unit: "W",
        frequency: power.frequency,
        rating: ratings.power,
      },
      1,
      `The ${driver} gets ${formatQuantity(power.mean, "W")} of heat${powerOf === "voice coil" ? " in its voice coil" : " at most, since its coil's resistance isn't stated"}`,
      more("power"),
    ),
    ...(excursion === undefined
      ? []
      : [
          checkOf(
            {
              code: "driver-rating",
              name: driver,
              quantity: "excursion",
              value: excursion.peak,
              sine: excursion.sinePeak,
              unit: "m",
              frequency: excursion.frequency,
              rating: ratings.excursion,
            },
            1,
            `The ${driver} moves by up to ${written(excursion.peak, "m")} to one side (a full sine at ${hertz(excursion.frequency)}: ${written(excursion.sinePeak, "m")})`,
            more("excursion"),
          ),
        ]),
  ];
}

type Given = Omit<RatingCheck, "required" | "state" | "sentence" | "rating"> & { readonly rating: number | undefined };

function checkOf({ rating, ...given }: Given, share: number, says: string, more = ""): RatingCheck {
  const { value, unit } = given;
  const required = value / share;
  const state =
    rating === undefined ? "not checked" : value > rating ? "beyond its rating" : required > rating ? "beyond the share to use" : "kept";
  const against =
    rating === undefined
      ? "; no rating of it is stated"
      : ` and is rated for ${written(rating, unit)}${state === "beyond the share to use" ? `, of which ${percent(share)} may be used` : ""}`;
  return {
    ...given,
    required,
    ...(rating === undefined ? {} : { rating }),
    state,
    sentence: `${says}${against}${state === "beyond its rating" ? more : ""}`,
  };
}

/** A number with its unit; excursions in mm. */
function written(value: number, unit: RatingCheck["unit"]): string {
  return unit === "m" ? `${fewDigits(1000 * value)} mm` : formatQuantity(value, unit);
}

/** What nobody looked at, and why: by kind, with the number that wants a rating. */
function unchecked(box: Loudspeaker, checks: readonly RatingCheck[], drivers: readonly DriverStress[]): string[] {
  const open = (quantity: RatingCheck["quantity"], code: RatingCheck["code"]) =>
    checks.filter((check) => check.quantity === quantity && check.code === code && check.state === "not checked");
  const listed = (of: readonly RatingCheck[]) => of.map(({ name, value, unit }) => `${name} ${written(value, unit)}`).join(", ");
  const said = (what: string, of: readonly RatingCheck[]) => (of.length === 0 ? [] : [`${what}: ${listed(of)}`]);
  const still = drivers.filter(({ excursion }) => excursion === undefined).map(({ driver }) => driver);
  const others = Object.entries(box.network).flatMap(([name, [part]]) =>
    isCoupling(part) || ratingOf(part) !== undefined || box.drivers.some((driver) => driver.part === name) ? [] : [name],
  );
  const coils = Object.entries(box.network).flatMap(([name, [part]]) => (isCoil(part) ? [name] : []));
  return [
    ...said("watts, no rating stated", open("power", "part-rating")),
    ...said("volts, no rating stated", open("voltage", "part-rating")),
    ...said("amperes, no rating stated", open("current", "part-rating")),
    ...(coils.length === 0 ? [] : [`heat of coils: ${coils.join(", ")}`]),
    ...said("heat of drivers, no rating stated", open("power", "driver-rating")),
    ...said("excursion, no limit stated", open("excursion", "driver-rating")),
    ...(still.length === 0 ? [] : [`excursion, since what moves the cone isn't stated: ${still.join(", ")}`]),
    ...(others.length === 0 ? [] : [`what has no rating here: ${others.join(", ")}`]),
  ];
}
