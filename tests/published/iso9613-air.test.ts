// Source: after ISO 9613-1 (1993), annex A (speed of sound) and equations 3 to 5 (absorption); density after ISO 2533.
// Provenance: speed recalled-then-recomputed; density recomputed; absorption formula seen in a secondary text, the rounded table digits (ISO 9613-2,
// table 2) from the same standing: recalled before computing.
import { airAbsorption, airDensity, speedOfSound } from "dividing-network/physics";
import { expect, it } from "vitest";
import { published } from "./standing";

/** Half a unit of the last printed digit. */
const half = (digits: string): number => {
  const [mantissa = "", exponent = "0"] = digits.split("e");
  return 0.5 * 10 ** (Number(exponent) - (mantissa.split(".")[1] ?? "").length);
};
const near = (value: number, digits: string): void =>
  expect(Math.abs(value - Number(digits))).toBeLessThanOrEqual(half(digits) * (1 + 1e-9));

published("recalled-then-recomputed", "air after ISO 9613-1", () => {
  it.each([
    [-10, "325.165168"],
    [0, "331.285885"],
    [10, "337.295551"],
    [15, "340.260583"],
    [20, "343.2"],
    [25, "346.114454"],
    [30, "349.004572"],
    [40, "354.714170"],
  ])("carries sound at %d °C with the speed %s m/s", (temperature, value) => near(speedOfSound({ temperature }), value));
});

published("recomputed", "air after ISO 9613-1", () => {
  it.each([
    [0, "1.292248"],
    [15, "1.224978"],
    [20, "1.204085"],
    [25, "1.183892"],
  ])("has at %d °C the density %s kg/m³", (temperature, value) => near(airDensity({ temperature }), value));

  it.each([
    [10, 70, "0.1217 0.411 1.043 1.928 3.658 9.664 32.77 116.9"],
    [20, 70, "0.08969 0.3395 1.132 2.798 4.978 9.016 22.91 76.62"],
    [15, 50, "0.1416 0.4789 1.217 2.236 4.164 10.79 36.22 128.6"],
  ])("absorbs at %d °C and %d %% the stated dB/km at the octave midbands", (temperature, humidity, digits) => {
    digits
      .split(" ")
      .forEach((value, i) =>
        near(1000 * airAbsorption({ frequency: 1000 * 10 ** (0.3 * (i - 4)), temperature, humidity, pressure: 101325 }), value),
      );
  });
});

published("seen-in-secondary-text", "air after ISO 9613-2, table 2", () => {
  it.each([
    [10, 70, "0.1 0.4 1.0 1.9 3.7 9.7 32.8 117"],
    [20, 70, "0.1 0.3 1.1 2.8 5.0 9.0 22.9 76.6"],
    [15, 50, "0.1 0.5 1.2 2.2 4.2 10.8 36.2 129"],
  ])("rounds to the table at %d °C and %d %%", (temperature, humidity, digits) => {
    digits
      .split(" ")
      .forEach((value, i) => near(1000 * airAbsorption({ frequency: 1000 * 10 ** (0.3 * (i - 4)), temperature, humidity }), value));
  });
});
