import { hertz, listOf, percent } from "../../quantity/internal";
import type { Comparison } from "../../assessment";
import { table } from "../blocks";
import { paragraph } from "../blocks";
import type { Markup } from "../markup";
import { formatQuantity } from "../../quantity";

/** What went in: amplifier, cable, air, goal. */
export function inputs({ after }: Comparison, generatedFrom: string | undefined): readonly Markup[] {
  const { prediction, goal, ratedImpedance, distance, band } = after;
  const { air, sourceImpedance } = prediction.loudspeaker;
  return [
    paragraph(
      `${[
        `Rated impedance ${ratedImpedance} Ω`,
        `amplifier and cable: ${sourceText(sourceImpedance)}`,
        `air: ${"temperature" in air && air.temperature !== undefined ? `${String(air.temperature)}${typeof air.temperature === "number" ? " °C" : ""}` : "as stated"}`,
        `judged from ${formatQuantity(band.from, "Hz")} to ${formatQuantity(band.to, "Hz")} at ${distance} m and ${prediction.voltage} V`,
        `target: ${goal.levelDb === undefined ? "level free" : `${goal.levelDb} dB`}, slope ${goal.slopeDbPerOctave} dB per octave, corridor ±${goal.corridorDb} dB`,
        ...placesText(goal.places),
      ].join("; ")}.${generatedFrom === undefined ? "" : ` Made from ${generatedFrom}.`}`,
    ),
  ];
}

/** Where the goal holds, if elsewhere than on the axis: each place with its share of the loss. */
function placesText(places: Comparison["after"]["goal"]["places"]): readonly string[] {
  if (places.every(({ azimuth, elevation }) => azimuth === 0 && elevation === 0)) return [];
  const total = places.reduce((sum, { weight }) => sum + weight, 0);
  const degrees = (angle: number) => `${angle > 0 ? "+" : angle < 0 ? "−" : ""}${Math.abs(angle)}°`;
  const where = places.map(
    ({ azimuth, elevation, weight }) =>
      `${azimuth === 0 && elevation === 0 ? "the axis" : `azimuth ${degrees(azimuth)}${elevation === 0 ? "" : `, elevation ${degrees(elevation)}`}`} (${percent(weight / total)})`,
  );
  return [`searches go by ${listOf(where)}`];
}

function sourceText(source: unknown): string {
  if (source === undefined || source === 0) return "ideal source, no cable";
  if (typeof source === "number") return `${source} Ω together`;
  if (typeof source === "string") return `${source} together`;
  const { resistance, inductance, frequencies } = source as { resistance?: unknown; inductance?: unknown; frequencies?: unknown };
  if (frequencies !== undefined) return "as measured";
  const text = (value: unknown, unit: "Ω" | "H") =>
    typeof value === "number" ? formatQuantity(value, unit) : typeof value === "string" ? value : `0 ${unit}`;
  return `${text(resistance, "Ω")} and ${text(inductance, "H")} together`;
}

/** What was measured of the whole, against the model. */
export function modelCheck({ model }: Comparison): readonly Markup[] {
  if (model === undefined)
    return [
      paragraph(
        "No measurement of the whole loudspeaker was given, so the model wasn't checked: take every finding as computed, not as confirmed.",
      ),
    ];
  const bands = model.bands.map(({ centre, levelDb: level, impedance }) => [
    hertz(centre),
    level === undefined ? "" : level.toFixed(2),
    impedance === undefined ? "" : impedance.toFixed(3),
  ]);
  return [
    paragraph(
      `The loudspeaker as found, predicted and measured at ${model.places} place${model.places === 1 ? "" : "s"}: `
        + `${model.levelDb === undefined ? "no pressure of the whole was measured; " : `its level is missed by ${model.levelDb.toFixed(2)} dB (root mean square); `}`
        + `${model.impedance === undefined ? "its impedance wasn't measured." : `its impedance by ${model.impedance.toFixed(3)} Ω.`} A difference smaller than the miss is not decided.`,
    ),
    table({
      caption: "What the model misses, by octave band",
      columns: [{ label: "Octave at" }, ...bands.map(([octave]) => ({ label: octave!, align: "right" as const }))],
      rows: [
        ["Level, dB", ...bands.map(([, level]) => level!)],
        ["Impedance, Ω", ...bands.map(([, , ohms]) => ohms!)],
      ],
    }),
  ];
}
