import { pointInDirection, type Point } from "../physics";
import { checkAir } from "../physics/internal";
import { hertz, signed } from "../quantity/internal";
import { marksIn, miss, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { PLANES } from "./planes";
import { offAxisChange, sideDifferences, type OffAxisChange, type Places } from "./off-axis";

const TOPIC = "off the axis";

/** What is found when the listener moves to either side, up and down. */
export function offAxisFindings(context: Context): readonly Finding[] {
  const { centre, before, after, listenerAngle } = context;
  const { distance } = after;
  const marks = marksIn(context, { from: centre / 2, to: centre * 2 });
  const within = ({ azimuth, elevation }: { readonly azimuth: number; readonly elevation: number }) =>
    Math.abs(azimuth) <= listenerAngle + 0.01 && Math.abs(elevation) <= listenerAngle + 0.01;
  const worst = ({ bands }: OffAxisChange) =>
    bands.reduce((most, band) => (Math.abs(band.changeDb) > Math.abs(most.changeDb) ? band : most));
  const changes = (places: Places) =>
    places.places.some(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ? offAxisChange(places, { distance, centre }) : [];
  const same = (a: OffAxisChange) => (b: OffAxisChange) => a.azimuth === b.azimuth && a.elevation === b.elevation;

  const angles = after.offAxis.filter(within).flatMap((now) => {
    const then = before.offAxis.find(same(now));
    if (then === undefined || now.bands.length === 0 || then.bands.length === 0) return [];
    const [a, b] = [worst(then), worst(now)];
    const where = direction(now);
    return [
      decide({
        topic: TOPIC,
        code: "off-axis",
        subject: `change ${where}`,
        before: a.changeDb,
        after: b.changeDb,
        unit: "dB",
        decimals: 1,
        better: "nearer to zero",
        threshold: {
          value: 3,
          comparison: "at most",
          reason: "a listener who moves should hear the same loudspeaker: ±3 dB is the usual limit (common practice, no source)",
        },
        residual: miss(context, (places) => {
          const there = changes(places)
            .find(same(now))
            ?.bands.find((band) => band.centre === a.centre);
          return there?.changeDb;
        }),
        negligible: 0.2,
        says: `${where[0]!.toUpperCase()}${where.slice(1)} the level changes against the axis by up to ${signed(a.changeDb, 1)} dB (octave at ${hertz(a.centre)}) before and ${signed(b.changeDb, 1)} dB (octave at ${hertz(b.centre)}) after${spacing(context, now)}`,
        marks,
      }),
    ];
  });

  const sides = after.sides
    .filter(({ azimuth }) => azimuth <= listenerAngle + 0.01)
    .flatMap((now) => {
      const then = before.sides.find(({ azimuth }) => azimuth === now.azimuth);
      if (then === undefined) return [];
      return [
        decide({
          topic: TOPIC,
          code: "sides",
          subject: `difference between the sides at ±${now.azimuth}°`,
          before: Math.abs(then.differenceDb),
          after: Math.abs(now.differenceDb),
          unit: "dB",
          decimals: 1,
          better: "lower",
          threshold: {
            value: 2,
            comparison: "at most",
            reason: "two listeners beside each other should hear one loudspeaker (common practice, no source)",
          },
          residual: miss(context, (places) => {
            const side = sideDifferences(places, { distance, centre }).find(({ azimuth }) => azimuth === now.azimuth);
            return side === undefined ? undefined : Math.abs(side.differenceDb);
          }),
          negligible: 0.2,
          says: `Listeners ${now.azimuth}° to the left and to the right hear levels up to ${Math.abs(then.differenceDb).toFixed(1)} dB apart (at ${hertz(then.frequency)}) before and ${Math.abs(now.differenceDb).toFixed(1)} dB (at ${hertz(now.frequency)}) after`,
          marks,
        }),
      ];
    });
  return [...angles, ...sides, ...planeCauses(context)];
}

/** In each plane in which a place leaves its corridor: what makes the largest deviation. */
function planeCauses(context: Context): readonly Finding[] {
  const { before, after } = context;
  return PLANES.flatMap(([plane, within]) => {
    const cause = ({ causes }: Context["before"]) => causes.find(({ topic }) => topic === plane);
    if (cause(before) === undefined && cause(after) === undefined) return [];
    const said = (assessment: Context["before"]) => cause(assessment)?.sentence ?? "Every angle keeps its corridor";
    const worst = ({ quality }: Context["before"]) =>
      quality.places.filter(within).reduce((most, { worstDb }) => (Math.abs(worstDb) > Math.abs(most) ? worstDb : most), 0);
    return [
      decide({
        topic: TOPIC,
        code: "off-axis-cause",
        subject: `largest deviation ${plane}, in third octaves`,
        before: worst(before),
        after: worst(after),
        unit: "dB",
        decimals: 1,
        better: "neither",
        negligible: 0.2,
        says: `Before: ${said(before)}. After: ${said(after)}`,
        marks: marksIn(context, after.band),
      }),
    ];
  });
}

function direction({ azimuth, elevation }: { readonly azimuth: number; readonly elevation: number }): string {
  const side = azimuth === 0 ? "" : `${Math.abs(azimuth)}° to the loudspeaker's ${azimuth > 0 ? "left" : "right"}`;
  const height = elevation === 0 ? "" : `${Math.abs(elevation)}° ${elevation > 0 ? "up" : "down"}`;
  return [side, height].filter((text) => text !== "").join(" and ");
}

/** What the spacing of two in-phase drivers alone does there, 20 lg |cos(π Δ/λ)|, where there are two. */
function spacing(
  { after, centre: crossover }: Context,
  { azimuth, elevation }: { readonly azimuth: number; readonly elevation: number },
): string {
  const { drivers, air } = after.prediction.loudspeaker;
  if (drivers.length !== 2 || crossover === undefined) return "";
  const ahead = pointInDirection({ azimuth, elevation }, 1);
  const along = (position: Point) => position[0] * (ahead[0] - 1) + position[1] * ahead[1] + position[2] * ahead[2];
  const path = Math.abs(along(drivers[0]!.position) - along(drivers[1]!.position));
  const change = 20 * Math.log10(Math.abs(Math.cos((Math.PI * path * crossover) / checkAir("compare", air).speedOfSound)));
  return path < 1e-6
    ? "; in this plane the spacing of the drivers changes nothing"
    : `; two in-phase drivers so far apart change by ${signed(change, 1)} dB at ${hertz(crossover)}`;
}
