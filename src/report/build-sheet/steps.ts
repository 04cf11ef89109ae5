import { fewDigits, listOf } from "../../quantity/internal";
import { formatQuantity } from "../../quantity";
import type { Entries } from "../../network";
import type { Part } from "../../parts";
import { blocksDirectCurrent, describe, isCoupling, isDriver } from "../../parts/internal";
import { isWire } from "../wire";
import type { CoilPlan } from "./coil-plan-data";
import type { Joint } from "./joints";

/** One step of the work. */
export interface BuildStep {
  /** What is done. */
  readonly title: string;
  /** What can hurt someone or something in this step; said before its boxes. */
  readonly cautions: readonly string[];
  /** Each to be ticked. */
  readonly boxes: readonly string[];
  /** Which of the sheet's tables belongs to it. */
  readonly table?: "parts" | "resistance" | "impedance" | undefined;
}

/** What is known for the last steps. */
export interface StepFacts {
  readonly network: Entries;
  readonly drivers: readonly string[];
  /** Whether one of them is a tweeter. */
  readonly tweeter: boolean;
  readonly joints: readonly Joint[];
  /** How several pieces in the place of one part are wired, a sentence a part. */
  readonly wiredAs: readonly string[];
  readonly coils: CoilPlan;
  /** Drivers that stood the other way round in the network as found, with the joint of their +. */
  readonly exchanged: readonly { readonly driver: string; readonly joint: string }[];
  readonly reversal?: { readonly driver: string; readonly frequency: number; readonly depthDb: number } | undefined;
  readonly unseen: readonly string[];
  /** What the readings of direct current leave out, each once. */
  readonly notes: readonly string[];
  readonly smallestImpedance?: number | undefined;
  /** Why it must not be connected, or not be relied on, in a sentence; empty otherwise. */
  readonly warning: string;
  /** W, of each part at the level that the goal states: under its signal and with a full sine; empty where it states none. */
  readonly heat: readonly { readonly name: string; readonly value: number; readonly sine: number }[];
}

/** The order of the work, from the box as found to the measurement that confirms the new one. */
export function stepsOf({
  network,
  drivers,
  tweeter,
  joints,
  wiredAs,
  coils,
  reversal,
  exchanged,
  unseen,
  notes,
  smallestImpedance,
  heat,
  warning,
}: StepFacts): readonly BuildStep[] {
  const those = (are: (part: Part) => boolean) =>
    Object.entries(network)
      .filter(([name, [part]]) => !isCoupling(part) && !isDriver(part) && !drivers.includes(name) && are(part))
      .map(([name]) => name);
  const [resistors, capacitors] = [those((part) => describe(part).heats?.(part) === true && !isWire(part)), those(blocksDirectCurrent)];
  // A loudspeaker of one driver has no polarity that could be heard.
  const several = drivers.length > 1;
  return Object.freeze([
    step(
      "Before you begin",
      [
        ...(warning === "" ? [] : [warning]),
        "Unplug the amplifier. An active loudspeaker holds mains voltage, and its capacitors stay charged: leave its inside to a licensed practitioner, and follow the local electrical code.",
      ],
      ["Old network photographed, each of its wires labelled."],
    ),
    step(
      "Measure each part by itself",
      capacitors.length === 0 ? [] : ["A capacitor may hold a charge: discharge it through some 100 Ω before you touch it or measure it."],
      ["Each part measured, written down, within its tolerance. Without a sign or a dot, it lies either way round."],
      "parts",
    ),
    step(
      "Lay the parts out",
      resistors.length === 0
        ? []
        : [
            `${listOf(resistors)} can get hot enough to burn skin and to char: air around, away from damping material, wires, glue and capacitors.${heatText(heat.filter(({ name }) => resistors.includes(name)))}`,
          ],
      [...coils.sentences, "Heavy parts tied down, not held by their leads."],
    ),
    step(
      "Solder joint by joint",
      ["Solder in moving air, away from what burns, with eye protection; wash your hands after solder that contains lead."],
      [
        ...wiredAs,
        ...joints.map(({ joint, terminals }) => `Joint ${joint}: ${terminals.join(", ")}`),
        ...exchanged.map(
          ({ driver, joint }) => `The ${driver}’s wires are exchanged against the old network: its + goes to joint ${joint}.`,
        ),
      ],
    ),
    step(
      "Read the resistance, amplifier disconnected",
      [`Never with the amplifier connected.${tweeter ? " Touch a tweeter’s terminals only briefly." : ""}`],
      [
        "Each reading met, less what the shorted leads read. One that is off is a wrong part or a bad joint: find it before any signal is applied.",
        ...notes.map((note) => `Mind that ${note}.`),
      ],
      "resistance",
    ),
    step(
      "Read the impedance, amplifier still disconnected",
      [],
      [
        `A generator feeds the input through a known resistor of about 100 Ω: |Z| is its resistance times the voltage at the input over that across the resistor.${unseen.length === 0 ? "" : ` These frequencies don’t show: ${unseen.join("; ")}.`}${several ? " Impedance doesn’t show which way round a driver is connected." : ""}`,
      ],
      "impedance",
    ),
    step(
      "First sound",
      [
        ...(warning === "" ? [] : [warning]),
        ...(smallestImpedance === undefined || warning !== ""
          ? []
          : [
              `By computation the load falls to ${formatQuantity(smallestImpedance, "Ω")}. A load that is too low can destroy the amplifier: connect it only when the readings above are met.`,
            ]),
        `Begin at the lowest level.${tweeter && several ? " A tweeter that gets what belongs to the woofer fails within seconds: stop at any rasping." : " Stop at any rasping."}`,
        "Test signals can damage hearing: keep them quiet and short, keep a distance, wear protection.",
      ],
      [
        several
          ? `Each driver plays what it should: measured close to it, or heard with the others covered.`
          : `The ${drivers[0]!} plays over its whole range, clean and even, measured close to it or heard.`,
        ...(reversal === undefined
          ? []
          : [
              `Polarity: with the wires of the ${reversal.driver} exchanged for one measurement on the axis, the level at ${formatQuantity(reversal.frequency, "Hz", { digits: 2 })} falls by about ${Math.min(30, Math.round(reversal.depthDb))} dB. If it rises, it was the wrong way round. Put them back.`,
            ]),
      ],
    ),
    step(
      "Measure again, and hand it back",
      [],
      [
        "Impedance at the input and response on the axis measured again, as the loudspeaker as found was.",
        `This network entered as “found” in a copy of the project file, with the new files as those of the whole loudspeaker: the page then says whether it measures as drawn, and if not, which parts are suspected${several ? `, a reversed ${drivers.at(-1)!} among them` : ""}.`,
      ],
    ),
  ]);
}

function step(title: string, cautions: readonly string[], boxes: readonly string[], table?: BuildStep["table"]): BuildStep {
  return Object.freeze({
    title,
    cautions: Object.freeze([...cautions]),
    boxes: Object.freeze([...boxes]),
    ...(table === undefined ? {} : { table }),
  });
}

/** What was computed of the heat, for the caution. */
function heatText(heat: StepFacts["heat"]): string {
  const watts = (value: number): string => `${fewDigits(value, 2)} W`;
  const each = heat.map(
    ({ name, value, sine }) => `${name} takes ${watts(value)}${sine > 1.05 * value ? `, with a full sine ${watts(sine)}` : ""}`,
  );
  return each.length === 0 ? "" : ` At the stated amplifier level ${each.join("; ")}.`;
}
