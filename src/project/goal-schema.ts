import * as z from "zod";
import { list, name, optional, plainNumber, quantity, record } from "./fields";
import { bandSchema } from "./measurement-schema";
import type { ProjectGoal } from "./project-goal";

/** The goal of a project; what its numbers may be beyond this, `goal` says. */
export function goalSchema(): z.ZodType<ProjectGoal> {
  const decibels = (range: { readonly min: number; readonly max: number }) => optional(plainNumber({ ...range, unit: "dB" }));
  const slope = () => optional(plainNumber({ min: -24, max: 24, unit: "dB per octave" }));
  const level = () => decibels({ min: -200, max: 300 });
  const family = () => z.enum(["butterworth", "linkwitz-riley", "bessel", "chebyshev", "legendre-papoulis", "critically-damped"]);
  const share = () => optional(plainNumber({ above: 0, max: 1 }));
  const more = () => ({
    rippleDb: optional(plainNumber({ above: 0, max: 20, unit: "dB" })),
    normalization: optional(z.enum(["delay", "half-power", "asymptote"])),
  });
  return record({
    band: optional(bandSchema()),
    frequencies: optional(list(plainNumber({ above: 0, unit: "Hz" }), 1, 10_000)),
    distance: optional(quantity("m", { above: 0 })),
    levelDb: level(),
    slopeDbPerOctave: slope(),
    corridorDb: optional(plainNumber({ above: 0, max: 60, unit: "dB" })),
    places: optional(
      list(
        record({
          azimuth: optional(plainNumber({ min: -180, max: 180, unit: "degrees" })),
          elevation: optional(plainNumber({ min: -90, max: 90, unit: "degrees" })),
          weight: optional(plainNumber({ above: 0, max: 1e6 })),
          levelDb: level(),
          slopeDbPerOctave: slope(),
        }),
        1,
        500,
      ),
    ),
    largestLevelLossDb: decibels({ min: 0, max: 100 }),
    leastLevelDb: level(),
    largestHumpDb: decibels({ min: 0, max: 100 }),
    amplifier: optional(
      record({
        smallestImpedance: optional(quantity("Ω", { min: 0 })),
        smallestPeakDissipationResistance: optional(quantity("Ω", { min: 0 })),
        voltage: optional(quantity("V", { above: 0, max: 1e6 })),
        power: optional(quantity("W", { above: 0, max: 1e9 })),
        spectrum: optional(
          z.union([
            z.enum(["sine", "pink", "programme"]),
            record({
              frequencies: list(plainNumber({ above: 0, unit: "Hz" }), 2, 10_000),
              levelDb: list(plainNumber({ min: -1000, max: 1000, unit: "dB" }), 2, 10_000),
            }),
          ]),
        ),
        crestFactor: optional(plainNumber({ min: 1, max: 1000 })),
      }),
    ),
    derating: optional(record({ power: share(), voltage: share(), current: share() })),
    drivers: optional(z.record(z.string(), z.union([plainNumber({ min: 0, max: 120, unit: "dB" }), z.literal("not spared")]))),
    curve: optional(
      record({
        frequencies: list(plainNumber({ above: 0, unit: "Hz" }), 2, 10_000),
        levelDb: list(plainNumber({ min: -1000, max: 1000, unit: "dB" }), 2, 10_000),
      }),
    ),
    intentions: optional(
      list(
        record({
          lower: name(),
          upper: name(),
          order: plainNumber({ min: 1, max: 8 }),
          family: optional(family()),
          ...more(),
          frequency: optional(quantity("Hz", { above: 0 })),
        }),
        1,
        100,
      ),
    ),
    damping: optional(
      record({ largestQ: optional(plainNumber({ above: 0, max: 100 })), largestSourceResistance: optional(quantity("Ω", { min: 0 })) }),
    ),
    partner: optional(
      record({
        highPass: record({ family: family(), order: plainNumber({ min: 1, max: 20 }), ...more(), frequency: quantity("Hz", { above: 0 }) }),
      }),
    ),
    limits: optional(z.enum(["default", "stated"])),
  });
}
