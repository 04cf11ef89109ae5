import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import type { Length } from "../quantity";
import type { Point } from "../physics";
import { measuredSource, type MeasuredAngle, type Source } from "../radiation";
import type { Mark } from "../response";
import { freezeResponse } from "../response/internal";
import { checkLoudspeaker } from "./check-loudspeaker";
import type { Loudspeaker, PlacedDriver } from "./loudspeaker-data";
import { oneDistance, planeAngle, type Plane } from "./plane-angle";
import { samePlace } from "./same-place";
import type { PressurePerVolt } from "./pressure-per-volt";

/** Options of `sourcesOf`. */
export interface SourcesOfOptions {
  /** m, of the measurements to use; may be left out when all have one distance. */
  readonly distance?: Length | undefined;
  /** What stands in for a side without measurements; see `measuredSource`. Default `"none"`, which refuses there. */
  readonly symmetry?: "none" | "mirror" | "axial" | undefined;
  /** Whether the outermost measurement is held beyond the measured angles; default false, which refuses. */
  readonly extrapolate?: boolean | undefined;
}

/**
 * A **model** of a loudspeaker at points that were not measured: each driver as a measured source, Pa per volt at its terminals, to be
 * driven with `drivenBy`. A driver's sound spreads from its own position: the path to the microphone is in the measurement, and only the
 * difference to the path asked for is added, $\frac{d}{r}e^{-jk(r-d)}$ with both counted from the driver; its directivity is that of
 * the direction from which the driver sees the point. At the measured places it gives what `predict` gives, to rounding. Every response
 * carries a mark of kind `"model"` that says so.
 *
 * Within 10° around the axis of a measured plane the other plane need not have been measured as far (a driver above the ears sees every
 * listener a little below the horizontal plane). What the model leaves out: an acoustic centre that lies x behind the stated position costs up to x/d of the level at other distances (20 mm at
 * 1 m: 0.17 dB), the mean path to a cone of radius a is a²/4d longer than far away (0.9 mm for 12 cm at 1 m), and the cabinet's edges are taken
 * to move along with the driver. Measurements off both planes through the axis aren't used.
 *
 * @param loudspeaker network, drivers and positions in m; every measurement from one common time zero
 * @param options distance in m of the measurements to use; what to do on sides and at angles without measurements
 * @returns one source per driver, in the order of the drivers, Pa/V; positions in m
 * @throws DividingNetworkError `not-measured` when a driver lacks that distance or its axis, `no-common-time-zero`, `invalid-argument`
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, predict, pressurePerVolt, resistor } from "dividing-network";
 * import { drivenBy, sourcesOf } from "dividing-network/loudspeaker";
 * import { pressureAt } from "dividing-network/radiation";
 *
 * const pressures = [-30, 0, 30].map((azimuth) => pressurePerVolt({
 *   response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common",
 * }));
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures }] });
 * const prediction = predict(box, { voltage: 2 });
 * const field = pressureAt(sourcesOf(box), prediction.frequencies, { ...drivenBy(prediction), points: [[2, 0, 0], [4, 0, 0]] });
 * Math.hypot(field.re[0]!, field.im[0]!); // 1
 * Math.hypot(field.re[2]!, field.im[2]!); // 0.5
 * field.marks?.[0]?.kind; // "model"
 * ```
 */
export function sourcesOf(loudspeaker: Loudspeaker, options: SourcesOfOptions = {}): readonly Source[] {
  const caller = "sourcesOf";
  const box = checkLoudspeaker(caller, loudspeaker);
  const {
    distance: asked,
    symmetry = "none",
    extrapolate = false,
  } = checkOptions(caller, options, ["distance", "symmetry", "extrapolate"]);
  checkOneOf(caller, "symmetry", symmetry, ["none", "mirror", "axial"]);
  const distance = oneDistance(
    caller,
    box.drivers.flatMap(({ pressures }) => pressures),
    asked,
  );
  return Object.freeze(
    box.drivers.map((driver) => {
      const pressures = driver.pressures.filter((pressure) => Math.abs(pressure.distance - distance) < 1e-3);
      const axis = pressures.find(({ azimuth, elevation }) =>
        samePlace({ distance, azimuth, elevation }, { distance, azimuth: 0, elevation: 0 }),
      );
      if (axis === undefined) {
        throw new DividingNetworkError(
          "not-measured",
          `${caller}: ${driver.name} must have been measured on the axis at ${distance} m, got ${pressures.length} other places there`,
          "Measure it straight ahead of the rotation centre too",
        );
      }
      for (const pressure of pressures) check(caller, driver, axis, pressure);
      const mark: Mark = Object.freeze({
        kind: "model",
        note: `${driver.name} at points that weren't measured: its measurements at ${distance} m, spread from its position and interpolated between angles`,
      });
      const [cx, cy, cz] = axis.rotationCentre;
      const [mx, my, mz] = driver.measuredAt;
      const [px, py, pz] = driver.position;
      const horizontal = cut(pressures, "horizontal", mark);
      const vertical = cut(pressures, "vertical", mark);
      return measuredSource({
        // The whole measurement goes along when a driver stands elsewhere than the one that was measured.
        distance: axis.distance,
        position: [cx + px - mx, cy + py - my, cz + pz - mz],
        acousticCentre: [mx - cx, my - cy, mz - cz] satisfies Point,
        horizontal,
        vertical,
        symmetry,
        extrapolate,
        planeToleranceDegrees: 10,
      });
    }),
  );
}

function check(caller: string, { name }: PlacedDriver, axis: PressurePerVolt, { label, timed, rotationCentre }: PressurePerVolt): void {
  if (!timed) {
    throw new DividingNetworkError(
      "no-common-time-zero",
      `${caller}: ${label} (${name}) shares no time zero with the other measurements, so that nothing can be interpolated between them`,
      "State its delay against the others",
    );
  }
  if (rotationCentre.some((value, i) => value !== axis.rotationCentre[i])) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: the measurements of ${name} must have one rotation centre in m, got [${axis.rotationCentre.join(", ")}] and [${rotationCentre.join(", ")}]`,
      "Use one session's measurements",
    );
  }
}

/** The measurements of one plane, marked; of a place that was measured twice the first. */
function cut(pressures: readonly PressurePerVolt[], plane: Plane, mark: Mark): MeasuredAngle[] {
  const entries: MeasuredAngle[] = [];
  for (const pressure of pressures) {
    const angle = planeAngle(pressure, plane);
    if (angle === undefined || entries.some((entry) => Math.abs(entry.angle - angle) < 0.01)) continue;
    const { frequencies, re, im, marks = [] } = pressure.response;
    entries.push({ angle: Math.abs(angle) < 0.01 ? 0 : angle, response: freezeResponse(frequencies, re, im, [...marks, mark]) });
  }
  return entries;
}
