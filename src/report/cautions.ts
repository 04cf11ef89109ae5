/**
 * The usual cautions for work on a loudspeaker's network, as sentences. They don't replace local codes, a manufacturer's
 * instructions or a licensed practitioner.
 *
 * @returns sentences (dimensionless)
 * @example
 * ```ts
 * import { cautions } from "dividing-network/report";
 *
 * cautions().length > 4; // true
 * ```
 */
export function cautions(): readonly string[] {
  return Object.freeze([
    "Resistors and coils of a network get hot enough to burn skin and to char what they touch: keep them clear of damping material, wires and glue, and let them cool before touching them.",
    "An active loudspeaker holds mains voltage, and its capacitors stay charged after it is unplugged: leave its inside to a licensed practitioner and follow the local electrical code.",
    "A capacitor may hold a charge after a test: discharge it through a resistor before touching its leads.",
    "A load below what the amplifier is made for can overheat or destroy it: measure the impedance of the finished network before connecting it, and begin at a low level.",
    "Tweeters fail quickly when they get what belongs to the woofer: check each branch with a meter and at a very low level first.",
    "Test signals can damage hearing: begin quietly, keep a distance, and wear protection above 85 dB(A) over a working day (the limit in your country may be lower).",
    "Solder in good ventilation, away from what burns, with eye protection; wash your hands after handling solder that contains lead.",
    "Computed values rest on the measurements they were given. Build, measure again, and compare before trusting them.",
  ]);
}
