import type { BassDamping } from "./bass";
import type { Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { hertz, signed } from "../quantity/internal";

const TOPIC = "bass and damping";

/** What the source that each woofer sees does at its resonance, before and after: limits hold where the goal states them. */
export function bassFindings({ before, after }: Context): readonly Finding[] {
  const { largestQ, largestSourceResistance } = after.goal.damping;
  return after.bass.flatMap((now) => {
    const then = before.bass.find(({ part }) => part === now.part);
    if (then === undefined) return [];
    const where =
      now.resonance === undefined
        ? `${now.part}, at ${hertz(now.frequency)}, the lowest frequency at which all impedances are known`
        : `${now.part}, whose resonance is at ${hertz(now.resonance)}`;
    const standing = now.heard ? "" : "; from impedances alone, since no sound pressure is trusted down there";
    const ohms = ({ sourceResistance, sourceReactance }: BassDamping) =>
      `${sourceResistance.toFixed(2)} ${sourceReactance < 0 ? "−" : "+"} ${Math.abs(sourceReactance).toFixed(2)}j Ω`;
    return [
      decide({
        topic: TOPIC,
        code: "source-resistance",
        subject: `source resistance that ${now.part} sees`,
        before: then.sourceResistance,
        after: now.sourceResistance,
        unit: "Ω",
        decimals: 2,
        better: "neither",
        negligible: 0.02,
        threshold:
          largestSourceResistance === undefined
            ? undefined
            : { value: largestSourceResistance, comparison: "at most", reason: "as the goal states" },
        says: `Instead of an ideal source, ${where}, sees ${ohms(then)} before and ${ohms(now)} after, amplifier and cable included`,
      }),
      ...(then.q === undefined || now.q === undefined || now.qAlone === undefined
        ? []
        : [
            decide({
              topic: TOPIC,
              code: "bass-q",
              subject: `Q of ${now.part} at its resonance`,
              before: then.q,
              after: now.q,
              unit: "",
              decimals: 2,
              better: "neither",
              negligible: 0.01,
              threshold: largestQ === undefined ? undefined : { value: largestQ, comparison: "at most", reason: "as the goal states" },
              says: `The Q of ${where}, is ${now.qAlone.toFixed(2)} on an ideal source, in its enclosure as its impedance was measured; with the source that it sees it is ${then.q.toFixed(2)} before and ${now.q.toFixed(2)} after`,
            }),
          ]),
      ...(then.riseDb === undefined || now.riseDb === undefined
        ? []
        : [
            decide({
              topic: TOPIC,
              code: "bass-rise",
              subject: `level of ${now.part} at its resonance`,
              before: then.riseDb,
              after: now.riseDb,
              unit: "dB",
              decimals: 1,
              better: "neither",
              negligible: 0.1,
              says: `At the resonance the network gives ${now.part} ${signed(then.riseDb, 1)} dB before and ${signed(now.riseDb, 1)} dB after, against where its impedance is least above${standing}`,
            }),
          ]),
    ];
  });
}
