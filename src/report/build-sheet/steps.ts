import { formatQuantity } from "../../quantity";
import type { Entries } from "../../network";
import type { CoilPlan } from "./coils";
import { listed } from "./driver-paths";
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
  readonly joints: readonly Joint[];
  readonly coils: CoilPlan;
  readonly reversal?: { readonly driver: string; readonly frequency: number; readonly depthDb: number } | undefined;
  readonly unseen: readonly string[];
  readonly smallestImpedance?: number | undefined;
}

/** The order of the work, from the box as found to the measurement that confirms the new one. */
export function stepsOf({ network, drivers, joints, coils, reversal, unseen, smallestImpedance }: StepFacts): readonly BuildStep[] {
  const of = (kind: string) => Object.entries(network).filter(([name, [part]]) => part.kind === kind && !drivers.includes(name)).map(([name]) => name);
  const [resistors, capacitors] = [[...of("resistor"), ...of("l-pad")], of("capacitor")];
  const high = drivers.at(-1)!;
  return Object.freeze([
    step("Before you begin",
      ["Switch the amplifier off and unplug it. An active loudspeaker holds mains voltage, also after it is unplugged: leave its inside to a licensed practitioner, and follow the local electrical code."],
      ["The old network is photographed and each of its wires labelled."]),
    step("Measure each part by itself",
      capacitors.length === 0 ? [] : ["A capacitor may hold a charge: discharge it through a resistor (some 100 Ω) before you touch its leads or put a meter on it."],
      ["Each part is measured, its value written into the table, and within its tolerance."], "parts"),
    step("Lay the parts out",
      resistors.length === 0 ? [] : [`${listed(resistors)} can get hot enough to burn skin and to char: air around, nothing under, away from damping material, wires, glue and capacitors.`],
      [...coils.sentences, "Heavy parts are tied down, not held by their leads."]),
    step("Solder joint by joint",
      ["Solder where air moves, away from what burns, with eye protection; wash your hands after solder that contains lead."],
      joints.map(({ joint, terminals }) => `Joint ${joint}: ${terminals.join(", ")}`)),
    step("Read the resistance, amplifier disconnected",
      ["Never with the amplifier connected. A tweeter can be harmed by a meter’s battery on its lowest ranges: touch it briefly."],
      ["Each reading below is met. Short the leads first and take off what they read. A value that is off is a wrong part, a wrong joint or a bad one: find it before any signal is applied."], "resistance"),
    step("Read the impedance, amplifier still disconnected",
      [],
      [`A signal generator feeds the input through a known resistor of about 100 Ω: |Z| is that resistance times the voltage across the input over the voltage across the resistor. Use a meter that is good at that frequency.${unseen.length === 0 ? "" : ` These frequencies don’t show: ${unseen.join("; ")}.`} No impedance shows the polarity of drivers side by side.`], "impedance"),
    step("First sound",
      [
        ...(smallestImpedance === undefined ? [] : [`The load falls to ${formatQuantity(smallestImpedance, "Ω")} by computation. Connect the amplifier only when the readings above are met: a load that is too low can destroy it.`]),
        `Begin at the lowest level. A tweeter that gets what belongs to the woofer fails within seconds: stop at any rasping, and feel that no part gets hot.`,
        "Test signals can damage hearing: keep a distance, keep them short, and wear protection when they are loud.",
      ],
      [
        `Each driver plays what it should: cover the others with a hand’s breadth of foam and listen, or measure close to it.`,
        ...(reversal === undefined ? [] : [`Polarity: with the wires of the ${reversal.driver} exchanged for one measurement on the axis the level at ${formatQuantity(reversal.frequency, "Hz", { digits: 2 })} falls by about ${Math.min(30, Math.round(reversal.depthDb))} dB. If it rises, it was connected the wrong way round. Put them back.`]),
      ]),
    step("Measure again, and hand it back",
      [],
      [
        "The impedance at the input and the response on the axis are measured with the finished network, as the loudspeaker as found was.",
        `In a copy of the project file this network is entered as “found”, and the new files as those of the whole loudspeaker. The page then says whether the network measures as it is drawn, and if not, which parts are suspected (\`suspects\`), ${high === undefined ? "" : `a reversed ${high} among them`}.`,
      ]),
  ]);
}

function step(title: string, cautions: readonly string[], boxes: readonly string[], table?: BuildStep["table"]): BuildStep {
  return Object.freeze({ title, cautions: Object.freeze([...cautions]), boxes: Object.freeze([...boxes]), ...(table === undefined ? {} : { table }) });
}
