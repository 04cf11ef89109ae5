import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Assessment } from "./assessment-data";
import type { Goal } from "./goal-types";

/** Two assessments that are to be compared are of one loudspeaker by one goal: only the network may differ, or better and worse would be of something else. */
export function checkOneLoudspeaker(caller: string, before: Assessment, after: Assessment): void {
  const apart =
    Math.abs(before.distance - after.distance) > 1e-3
    || before.ratedImpedance !== after.ratedImpedance
    || before.band.from !== after.band.from
    || before.band.to !== after.band.to;
  if (apart) {
    const of = ({ distance, ratedImpedance, band }: Assessment) => `${distance} m, ${ratedImpedance} Ω, ${band.from} Hz to ${band.to} Hz`;
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: both must be judged by one goal, at one distance, rated impedance and band, got ${of(before)} and ${of(after)}`,
      "Assess both with the same goal and the same drivers",
    );
  }
  const differing = (Object.keys({ ...before.goal, ...after.goal }) as (keyof Goal)[]).filter(
    (key) => plain(before.goal[key]) !== plain(after.goal[key]),
  );
  if (differing.length > 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: both must be judged by one goal, but theirs differ in ${differing.map((key) => `"${key}"`).join(", ")}`,
      "Make the goal once and assess both with it",
    );
  const [then, now] = [before.prediction.loudspeaker, after.prediction.loudspeaker];
  for (const { name, role } of now.drivers) {
    const old = then.drivers.find((driver) => driver.name === name);
    if (old !== undefined && old.role !== role)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: the driver ${show(name)} must have one role in both, got ${show(old.role)} and ${show(role)}`,
        "What must be spared hangs on it: give both loudspeakers the same drivers",
      );
  }
  if (plain(then.sourceImpedance) !== plain(now.sourceImpedance))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: both must be driven through one source impedance`,
      "Give both loudspeakers the same sourceImpedance, or put a cable that changes into their networks",
    );
}

/** A value as text, arrays of numbers as lists: equal texts are equal values. */
function plain(value: unknown): string | undefined {
  return JSON.stringify(value, (_, each: unknown) => (ArrayBuffer.isView(each) ? Array.from(each as Float64Array) : each));
}
