import { frequencyResponse, pressurePerVolt, type PressurePerVolt } from "dividing-network";

/** A driver of the same pressure at every frequency (Pa per volt at its terminals, at 1 m), without delay, as it was measured at an azimuth in degrees. */
export function flatDriver(grid: Float64Array, size = 0.1, azimuth?: number): PressurePerVolt {
  return pressurePerVolt({
    response: frequencyResponse(
      grid,
      grid.map(() => size),
      grid.map(() => 0),
    ),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    ...(azimuth === undefined ? {} : { azimuth }),
    timeZero: "common",
  });
}
