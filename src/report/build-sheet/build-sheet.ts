import type { Comparison } from "../../assessment";
import { refutedWords } from "../refuted";
import { DividingNetworkError } from "../../errors";
import { checkObject, checkOptions, show } from "../../errors/internal";
import type { Loudspeaker } from "../../loudspeaker";
import { checkLoudspeaker } from "../../loudspeaker/internal";
import type { Entries } from "../../network";
import { driverImpedance, type Stock } from "../../parts";
import { checkStock, driverModel, mainOf, measuredImpedance } from "../../parts/internal";
import type { Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { checkComparison } from "../check-comparison";
import { turned } from "../network-changes";
import { topologyText } from "../topology-text";
import type { CoilLayout, CoilPlan } from "./coil-plan-data";
import { coilPlan } from "./coils";
import { wiringOf, type Joint, type WiredPart } from "./joints";
import { impedanceReadings, meterFrequencies, resistanceReadings, type MeterReading } from "./readings";
import { takenFor } from "./taken-parts";
import { stepsOf, type BuildStep } from "./steps";

/** What whoever solders the network needs, as data. */
export interface BuildSheet {
  /** How the network feeds its drivers, in sentences. */
  readonly topology: readonly string[];
  /** Each part with the joints of its terminals. */
  readonly parts: readonly WiredPart[];
  /** Each joint with what meets there. */
  readonly joints: readonly Joint[];
  /** How the coils are to lie; lengths in m. */
  readonly coils: CoilPlan;
  /** What an ohmmeter should read, Ω. */
  readonly resistance: readonly MeterReading[];
  /** What |Z| should be at three frequencies (Hz), Ω. */
  readonly impedance: readonly MeterReading[];
  /** Parts missing or bridged that none of the three frequencies shows. */
  readonly unseen: readonly string[];
  /** The work in its order, with cautions where they matter and boxes to tick. */
  readonly steps: readonly BuildStep[];
}

/** What `buildSheet` may be told. */
export interface BuildSheetOptions {
  /** Windings of coils by designator (lengths in m), and the board (m): the coils are then placed by computation. */
  readonly coils?: CoilLayout | undefined;
  /** By driver's part: its direct-current resistance in Ω; default that of its model, or the least resistance of its measured impedance, which lies a little above. */
  readonly resistances?: Readonly<Record<string, Resistance>> | undefined;
  /** The parts that can be had, from `stock` or `readStockCsv`: the sheet then says which of them stand in the place of each part, and how they are wired. */
  readonly stock?: Stock | undefined;
}

/** dB of a null that is worth being measured; above it the polarity is told. */
const TELLING_NULL = 6;

/**
 * Everything that is needed to build a network by hand: which terminal goes to which joint, how the coils lie, and what a meter must
 * read before any signal is applied (Ω), each computed by solving the network. Readings of direct current: capacitors are open, coils and
 * windings their resistance. The three frequencies of |Z| are those at which most of all parts missing or bridged would show.
 *
 * The cautions are the usual ones. They don't replace local codes, a manufacturer's instructions or a licensed practitioner.
 *
 * @param of a loudspeaker, or a comparison, of which the new network is built
 * @param options `coils`: windings and board in m; `resistances` of drivers in Ω; `stock`, from `stock` or `readStockCsv`, dimensionless
 * @returns topology, parts, joints, coils (m), readings (Ω, Hz) and steps
 * @throws DividingNetworkError `invalid-argument`, `unknown-part`, `unknown-option`, and what `solve` and `leastCoupling` throw
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { buildSheet } from "dividing-network/report";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([200, 20000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const sheet = buildSheet(loudspeaker({
 *   network: { L1: [inductor("0.47 mH", { dcr: 0.3 }), "in", "w"], woofer: [resistor(5.7), "w", "gnd"], C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(6), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [cone] }, { name: "tweeter", role: "tweeter", pressures: [cone] }],
 * }));
 * sheet.topology[1]; // "C1 feeds the tweeter."
 * sheet.resistance[1]?.expected; // 6 Ω
 * sheet.resistance[2]?.expected; // "open"
 * ```
 */
export function buildSheet(of: Loudspeaker | Comparison, options: BuildSheetOptions = {}): BuildSheet {
  const caller = "buildSheet";
  const { coils: layout, resistances = {}, stock } = checkOptions(caller, options, ["coils", "resistances", "stock"]);
  const comparison = isComparison(of) ? checkComparison(caller, of, "of") : undefined;
  const box = checkLoudspeaker<Entries>(caller, comparison?.after.prediction.loudspeaker ?? (of as Loudspeaker));
  if (layout !== undefined) checkOptions(caller, layout, ["windings", "board"]);
  if (layout !== undefined && (typeof layout.windings !== "object" || layout.windings === null))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coils.windings" must be an object of windings by designator, got ${show(layout.windings)}`,
    );
  const drivers = [...new Set(box.drivers.map(({ part }) => part))];
  const network = withDrivers(box.network, drivers);
  const stated = statedOhms(caller, resistances, drivers);
  const resistance = resistanceReadings(network, drivers, (part) => stated[part] ?? ohmsOf(network, part));
  const { readings: impedance, unseen } = impedanceReadings(network, drivers);
  const coils = coilPlan(caller, network, layout, drivers, meterFrequencies(network));
  const drawer = stock === undefined ? undefined : checkStock(caller, "stock", stock);
  const { taken, wiredAs } = takenFor(box, comparison, drawer, Object.keys(layout?.windings ?? {}));
  const { parts, joints } = wiringOf(network, drivers, taken);
  const handover = comparison?.after.handovers.at(-1);
  const heat = (comparison?.after.ratings.checks ?? []).filter(({ code, quantity }) => code === "part-rating" && quantity === "power");
  const steps = stepsOf({
    warning: comparison === undefined ? "" : warningOf(comparison),
    heat,
    network,
    drivers,
    tweeter: box.drivers.some(({ role }) => role === "tweeter"),
    joints,
    wiredAs,
    coils,
    unseen,
    exchanged: comparison === undefined ? [] : exchangedIn(comparison, network, drivers),
    notes: [...new Set(resistance.map(({ note }) => note))].filter((note) => note !== ""),
    smallestImpedance: comparison?.after.load.minimum,
    reversal:
      handover === undefined || handover.nullDepthDb < TELLING_NULL
        ? undefined
        : { driver: handover.upper, frequency: handover.nullFrequency, depthDb: handover.nullDepthDb },
  });
  return Object.freeze({
    topology: topologyText(network),
    parts,
    joints,
    coils,
    resistance: Object.freeze(resistance),
    impedance: Object.freeze(impedance),
    unseen: Object.freeze(unseen),
    steps,
  });
}

/** Which drivers the new network turns round, with the joint of their +: who keeps the old wires must exchange them. */
function exchangedIn(
  { before }: Comparison,
  network: Entries,
  drivers: readonly string[],
): readonly { readonly driver: string; readonly joint: string }[] {
  const found = before.prediction.loudspeaker.network;
  return drivers
    .filter((driver) => turned(driver, found, network) === true)
    .map((driver) => ({ driver, joint: (network[driver]!.slice(1) as readonly string[])[0]! }));
}

/** What the verdict forbids. */
function warningOf(comparison: Comparison): string {
  const { overall, sentence } = comparison.verdict;
  const refuted = refutedWords(comparison, "sheet").join(" ");
  return [
    refuted,
    ...(overall === "not fit to be connected" ? [`${sentence} Don’t connect it: change the network first.`] : []),
    ...(overall === "no verdict" ? [sentence] : []),
  ]
    .filter((words) => words !== "")
    .join(" ");
}

function isComparison(value: unknown): value is Comparison {
  return typeof value === "object" && value !== null && ("after" in value || "verdict" in value);
}

/** The network with drivers where resistors stand for them, so that they are read and drawn as drivers. */
function withDrivers(network: Entries, drivers: readonly string[]): Entries {
  return Object.fromEntries(
    Object.entries(network).map(([name, entry]) => {
      const [part, ...nodes] = entry;
      const main = mainOf(part);
      const ohms = main?.parameter === "resistance" ? main.value : 0;
      return [name, drivers.includes(name) && ohms > 0 ? [driverImpedance({ re: ohms }), ...nodes] : entry];
    }),
  ) as unknown as Entries;
}

function statedOhms(
  caller: string,
  given: Readonly<Record<string, Resistance>>,
  drivers: readonly string[],
): Readonly<Record<string, number>> {
  const own = checkObject(caller, "resistances", given, "an object of resistances by driver", 'As in { woofer: "5.6 Ω" }');
  return Object.fromEntries(
    Object.entries(own).map(([name, value]) => {
      if (!drivers.includes(name))
        throw new DividingNetworkError(
          "unknown-part",
          `${caller}: "resistances" names ${show(name)}, which is no driver here`,
          `Drivers: ${drivers.join(", ")}`,
        );
      return [name, inSi(caller, `resistances.${name}`, value, "Ω", { above: 0 })];
    }),
  );
}

/** Ω: of a model its re; of a measured impedance its least resistance, which lies a little above re; of another part nothing. */
function ohmsOf(network: Entries, name: string): number {
  const [part] = network[name]!;
  return driverModel(part)?.re ?? measuredImpedance(part)?.re.reduce((least, value) => Math.min(least, value), Infinity) ?? 0;
}
