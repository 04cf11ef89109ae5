import * as z from "zod";
import { pointSchema } from "./driver-schema";
import { complain, list, name, optional, path, plainNumber, quantity, record } from "./fields";
import type { ProjectMeasurement } from "./project-measurement";
import type { ProjectBand } from "./project-place";

/** A band in Hz. */
export function bandSchema(): z.ZodType<ProjectBand> {
  return record({ from: quantity("Hz", { above: 0 }), to: quantity("Hz", { above: 0 }) }).superRefine(({ from, to }, context) => {
    if (!(from < to))
      complain(context, { message: `must have "from" below "to", got ${from} Hz and ${to} Hz`, hint: "Exchange the two, or correct one" });
  });
}

function smoothing(): z.ZodType<string> {
  return z.string().superRefine((text, context) => {
    if (text === "none" || /^1\/[1-9]\d{0,2} octave$/.test(text)) return;
    complain(context, {
      message: `must be "none" or a width such as "1/24 octave", got ${JSON.stringify(text.slice(0, 60))}`,
      hint: "Write how the curve was smoothed before it was saved",
    });
  });
}

function timeZero() {
  return record({ common: optional(z.boolean()), delay: optional(quantity("s")) }).superRefine((given, context) => {
    if ((given.common === undefined) !== (given.delay === undefined)) return;
    complain(context, {
      message: 'must have either "common" or "delay"',
      hint: 'Write { "common": true } when all measurements share one time zero, { "delay": "0.1 ms" } when this one\'s is so much later, { "common": false } when it isn\'t known',
    });
  });
}

/** One measurement of a project file. */
export function measurementSchema(): z.ZodType<ProjectMeasurement> {
  const slope = () => optional(plainNumber({ min: -96, max: 96, unit: "dB per octave" }));
  return z.discriminatedUnion("quantity", [
    record({
      of: name(),
      quantity: z.literal("pressure"),
      columns: z.enum(["db-degrees", "db", "re-im"]),
      drive: record({ voltage: quantity("V", { above: 0 }), at: z.enum(["terminals", "input"]) }),
      distance: quantity("m", { above: 0 }),
      rotationCentre: pointSchema(),
      timeZero: timeZero(),
      gate: optional(record({ length: quantity("s", { above: 0 }) })),
      trusted: bandSchema(),
      nearField: optional(
        record({
          below: quantity("Hz", { above: 0 }),
          space: optional(z.enum(["half", "full"])),
          baffle: optional(record({ width: quantity("m", { above: 0 }), height: quantity("m", { above: 0 }) })),
        }),
      ),
      smoothing: smoothing(),
      minimumPhase: optional(z.boolean()),
      slopes: optional(record({ low: slope(), high: slope() })),
      files: list(
        record({
          azimuth: plainNumber({ min: -180, max: 180, unit: "degrees" }),
          elevation: plainNumber({ min: -90, max: 90, unit: "degrees" }),
          file: path(),
          delay: optional(quantity("s")),
        }),
        1,
        2000,
      ),
    }),
    record({
      of: z.enum(["loudspeaker", "twin"]),
      quantity: z.literal("impedance"),
      columns: z.enum(["ohm-degrees", "re-im"]),
      trusted: optional(bandSchema()),
      smoothing: optional(smoothing()),
      files: list(record({ file: path() }), 1, 1),
    }),
  ]);
}
