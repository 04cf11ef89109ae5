import { hertz } from "../quantity/internal";
import { axisAmong, marksIn, miss, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { sensitivityLevels } from "./sensitivity-levels";

const TOPIC = "on the axis";

/** How loud it is on the axis. */
export function sensitivityFindings(context: Context): readonly Finding[] {
  const { before, after } = context;
  const { sensitivityBand, ratedImpedance } = after;
  const loudness = miss(context, (places) => {
    const axis = axisAmong(places);
    return axis === undefined ? undefined : sensitivityLevels(axis, { band: sensitivityBand, ratedImpedance }).for2V83Db;
  });
  const [s, t] = [before.sensitivity, after.sensitivity];
  return [
    decide({
      topic: TOPIC,
      code: "sensitivity-2.83V",
      subject: "sensitivity for 2.83 V",
      before: s.for2V83Db,
      after: t.for2V83Db,
      unit: "dB",
      decimals: 1,
      better: "higher",
      residual: loudness,
      negligible: 0.2,
      says: `At ${after.distance} m for 2.83 V the power average from ${hertz(sensitivityBand.from)} to ${hertz(sensitivityBand.to)} is ${s.for2V83Db.toFixed(1)} dB before and ${t.for2V83Db.toFixed(1)} dB after`,
      marks: marksIn(context, sensitivityBand),
    }),
    decide({
      topic: TOPIC,
      code: "sensitivity-1W",
      subject: `sensitivity for 1 W into ${ratedImpedance} Ω`,
      before: s.for1WDb,
      after: t.for1WDb,
      unit: "dB",
      decimals: 1,
      better: "neither",
      negligible: 0.2,
      says: `The same for 1 W into the rated ${ratedImpedance} Ω (${Math.sqrt(ratedImpedance).toFixed(2)} V) is ${s.for1WDb.toFixed(1)} dB before and ${t.for1WDb.toFixed(1)} dB after`,
      marks: marksIn(context, sensitivityBand),
    }),
  ];
}
