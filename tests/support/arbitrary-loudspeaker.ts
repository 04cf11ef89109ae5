// Loudspeakers as people rework them, drawn at random: drivers with resonances and ripple, measured at some angles, behind networks of parts that can be bought. Invented.
import fc from "fast-check";
import type { GoalOptions } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { uniform } from "./uniform";
import { measure, over, times, turned, type C } from "./synthetic";

const log = (low: number, high: number): fc.Arbitrary<number> => uniform(Math.log(low), Math.log(high)).map(Math.exp);

/** What a driver gives: a band-pass of second order with a resonance somewhere, a flight, and a beam that narrows. */
interface DriverShape {
  readonly gain: number;
  readonly low: number;
  readonly high: number;
  readonly bump: number;
  readonly bumpAt: number;
  readonly radius: number;
  readonly late: number;
  readonly offset: number;
}

const shape = (low: fc.Arbitrary<number>, high: fc.Arbitrary<number>, radius: number): fc.Arbitrary<DriverShape> =>
  fc.record({
    gain: log(0.06, 0.16),
    low,
    high,
    bump: uniform(-0.3, 0.6),
    bumpAt: log(500, 9000),
    radius: fc.constant(radius),
    late: uniform(0, 60e-6),
    offset: uniform(-0.1, 0.1),
  });

export interface Drivers {
  readonly woofer: DriverShape;
  readonly tweeter: DriverShape;
  readonly re: readonly [number, number];
  readonly fs: readonly [number, number];
  readonly angles: readonly (readonly [number, number])[];
}

/** Two drivers, measured on the axis and at some angles. */
export const arbitraryDrivers: fc.Arbitrary<Drivers> = fc.record({
  woofer: shape(log(40, 80), log(3000, 7000), 0.06),
  tweeter: shape(log(600, 1500), log(16_000, 25_000), 0.013),
  re: fc.tuple(uniform(3.2, 7), uniform(3.2, 7)),
  fs: fc.tuple(log(40, 80), log(500, 1200)),
  angles: fc.subarray(
    [
      [15, 0],
      [-15, 0],
      [30, 0],
      [-30, 0],
      [0, 10],
      [0, -10],
    ] as const,
    { minLength: 0, maxLength: 6 },
  ),
});

/** Hz: 24 an octave, 250 Hz to 16 kHz. */
export const coarse = Float64Array.from({ length: 145 }, (_, i) => 1000 * 2 ** ((i - 48) / 24));

const pressureOf = (
  { gain, low, high, bump, bumpAt, radius, late, offset }: DriverShape,
  azimuth: number,
  elevation: number,
  tilt = 0,
): PressurePerVolt =>
  measure(
    (f): C => {
      const second = (x: number): C => [1 - x * x, 1.2 * x];
      const band = over(times([-((f / low) ** 2), 0], [1, 0]), times(second(f / low), second(f / high)));
      const resonance = over([0, (bump * f) / bumpAt], [1 - (f / bumpAt) ** 2, f / bumpAt / 1.5]);
      const off = Math.sin((Math.hypot(azimuth, elevation) * Math.PI) / 180);
      const beam = 1 / (1 + ((f * radius * off) / 100) ** 2 / 8);
      const flight = late - (offset * Math.sin((azimuth * Math.PI) / 180)) / 343;
      return times(times(times(band, [1 + resonance[0], resonance[1]]), turned(gain * beam, -360 * f * flight)), [
        10 ** ((tilt * Math.log2(f / 1000)) / 20),
        0,
      ]);
    },
    { azimuth, elevation },
    coarse,
  );

/** The values of a two-way network: orders, corners and a pad. */
export interface Values {
  readonly low: number;
  readonly high: number;
  readonly orders: readonly [number, number];
  readonly pad: number;
  readonly damping: number;
  readonly reversed: boolean;
}

export const arbitraryValues: fc.Arbitrary<Values> = fc.record({
  low: log(700, 5000),
  high: log(1200, 6000),
  orders: fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 1, max: 3 })),
  pad: uniform(0, 6),
  damping: uniform(0.5, 1.4),
  reversed: fc.boolean(),
});

/** The network: ladders of coil and capacitor on each driver's resistance. */
export function networkOf({ low, high, orders, pad, damping, reversed }: Values, { re: [rw, rt], fs: [fw, ft] }: Drivers): Entries {
  const entries: Record<string, unknown> = {};
  const ladder = (way: "W" | "T", order: number, corner: number, load: number): string => {
    let node = "in";
    const w = 2 * Math.PI * corner;
    for (let i = 0; i < order; i++) {
      const coil = (i % 2 === 0) === (way === "W");
      const part = coil ? inductor((load * damping ** (i + 1)) / w, { dcr: 0.2 }) : capacitor(1 / (w * load * damping ** i), { esr: 0.05 });
      const next = i % 2 === 0 ? `${way}${i}` : "gnd";
      entries[`${way}${coil ? "L" : "C"}${i}`] = [part, node, next];
      if (i % 2 === 0) node = next;
    }
    return node;
  };
  entries["woofer"] = [driverImpedance({ re: rw, le: 0.3e-3, fs: fw, qms: 4, qes: 0.5 }), ladder("W", orders[0], low, rw), "gnd"];
  let hot = ladder("T", orders[1], high, rt);
  if (pad > 0.5) {
    entries["TR"] = [resistor(pad), hot, "pad"];
    hot = "pad";
  }
  entries["tweeter"] = [driverImpedance({ re: rt, le: 40e-6, fs: ft, qms: 2, qes: 1.2 }), ...(reversed ? ["gnd", hot] : [hot, "gnd"])];
  return entries as Entries;
}

/** Drivers on a network; `more` are further places, `tilt` dB per octave of both drivers. */
export function boxOf(
  drivers: Drivers,
  values: Values,
  { more = [], tilt = 0 }: { readonly more?: readonly (readonly [number, number])[]; readonly tilt?: number } = {},
): Loudspeaker {
  const places = [[0, 0], ...drivers.angles, ...more] as const;
  const pressures = (driver: DriverShape) => places.map(([azimuth, elevation]) => pressureOf(driver, azimuth, elevation, tilt));
  return loudspeaker({
    network: networkOf(values, drivers),
    drivers: [
      { name: "woofer", role: "woofer", pressures: pressures(drivers.woofer) },
      { name: "tweeter", role: "tweeter", pressures: pressures(drivers.tweeter) },
    ],
    sourceImpedance: 0.1,
  });
}

/** What is asked of them: bands, levels and slopes, places with weights and targets of their own, limits of amplifier and drivers, stated alone or not. */
export function arbitraryGoal({ angles }: Drivers): fc.Arbitrary<GoalOptions & { readonly places: NonNullable<GoalOptions["places"]> }> {
  const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
  const place = ([azimuth, elevation]: readonly [number, number]) =>
    fc.record({
      azimuth: fc.constant(azimuth),
      elevation: fc.constant(elevation),
      weight: log(0.1, 10),
      levelDb: maybe(uniform(70, 90)),
      slopeDbPerOctave: maybe(uniform(-2, 1)),
    });
  return fc
    .record({
      band: fc.record({ from: log(350, 900), to: log(4000, 13_000) }),
      levelDb: maybe(uniform(70, 90)),
      slopeDbPerOctave: uniform(-2, 2),
      corridorDb: uniform(0.5, 6),
      places: fc.subarray([...angles]).chain((some) => fc.tuple(...([[0, 0], ...some] as const).map(place))),
      largestLevelLossDb: maybe(uniform(0.3, 8)),
      leastLevelDb: maybe(uniform(60, 84)),
      amplifier: fc.constantFrom({}, { smallestImpedance: 1.5 }, { smallestImpedance: 4 }, { smallestPeakDissipationResistance: 1 }),
      drivers: fc.constantFrom({}, { tweeter: "not spared" as const }, { tweeter: 3 }, { tweeter: 20, woofer: 1 }),
      damping: fc.constantFrom({}, { largestSourceResistance: 0.4 }, { largestQ: 0.7 }),
      limits: fc.constantFrom("default" as const, "stated" as const),
    })
    .map(({ levelDb, leastLevelDb, ...rest }) => ({
      ...rest,
      levelDb,
      // A least level above what is aimed at can be kept by nothing, and is refused.
      leastLevelDb: levelDb === undefined || leastLevelDb === undefined ? leastLevelDb : Math.min(leastLevelDb, levelDb),
    }));
}
