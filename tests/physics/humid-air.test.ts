// Tests src/physics/: copper.ts
// Humid air by the kinetic theory of ideal gases, on a route of its own: mole fractions, molar masses (28.9647 and 18.015 g/mol, CODATA
// and IUPAC, from memory), heat capacities of 7/2 R for air and 4 R for vapour; c² = γ R T / M and ρ = p M / (R T). The saturation
// pressures are of another formula than the library's: Magnus after Sonntag (1990), recalled, good to 0.1 % from 0 to 50 °C.
import { airAbsorption, airDensity, copperResistivity, speedOfSound } from "dividing-network/physics";
import { DividingNetworkError } from "dividing-network/errors";
import { describe, expect, it } from "vitest";

const R = 8.314462618;
const air = 28.9647e-3;
const water = 18.015e-3;
/** Pa, at °C. */
const saturation = (t: number): number => 611.2 * Math.exp((17.62 * t) / (243.12 + t));

function mixture(t: number, humidity: number, pressure: number): { speed: number; density: number } {
  const share = ((humidity / 100) * saturation(t)) / pressure;
  const mass = (1 - share) * air + share * water;
  const heat = (1 - share) * 3.5 + share * 4;
  const gamma = heat / (heat - 1);
  const kelvin = t + 273.15;
  return { speed: Math.sqrt((gamma * R * kelvin) / mass), density: (pressure * mass) / (R * kelvin) };
}

function refusal(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error("nothing was refused");
}

describe("humid air (ideal gases; recomputed)", () => {
  const cases = [0, 10, 20, 30, 40, 50].flatMap((t) =>
    [10, 50, 100].flatMap((humidity) => [70_000, 101_325].map((pressure) => [t, humidity, pressure] as const)),
  );

  it.each(cases)("at %d °C, %d %% and %d Pa is as fast and as dense as a mixture of ideal gases", (temperature, humidity, pressure) => {
    const { speed, density } = mixture(temperature, humidity, pressure);
    const dry = mixture(temperature, 0, pressure);
    // What humidity changes, to 1 % of the change and what the two saturation formulas differ by.
    const change = speed / dry.speed - 1;
    const found = speedOfSound({ temperature, humidity, pressure }) / speedOfSound({ temperature }) - 1;
    expect(Math.abs(found - change)).toBeLessThan(0.02 * change + 2e-6);
    expect(Math.abs(airDensity({ temperature, humidity, pressure }) / density - 1)).toBeLessThan(4e-4);
    expect(Math.abs(airDensity({ temperature, pressure }) / dry.density - 1)).toBeLessThan(1e-4);
  });

  it("at 20 °C saturated is 0.3 to 0.4 % faster and 0.9 % lighter than dry", () => {
    expect(speedOfSound({ humidity: 100 }) / speedOfSound()).toBeGreaterThan(1.003);
    expect(speedOfSound({ humidity: 100 }) / speedOfSound()).toBeLessThan(1.004);
    expect(airDensity({ humidity: 100 }) / airDensity()).toBeCloseTo(0.9913, 3);
  });

  it("is refused where the vapour alone would have more than the pressure of the air, and right up to there", () => {
    for (const at of [speedOfSound, airDensity, (options: object) => airAbsorption({ frequency: 1000, ...options })]) {
      for (const options of [
        { temperature: 100, humidity: 100, pressure: 50_000 },
        { temperature: 60, humidity: 100, pressure: 10_000 },
        { temperature: 95, humidity: 60, pressure: 40_000 },
      ]) {
        expect(() => at(options)).toThrow(DividingNetworkError);
        expect(() => at(options)).toThrow(/"humidity" must be at most [\d.]+ % at [\d.]+ °C and \d+ Pa, got \d+/);
      }
    }
    // Steam: c = √(4/3 R T / M).
    const limit = Number(/at most ([\d.]+) %/.exec(refusal(() => speedOfSound({ temperature: 100, humidity: 100 })))![1]);
    const steam = Math.sqrt(((4 / 3) * R * 373.15) / water);
    expect(speedOfSound({ temperature: 100, humidity: limit * 0.999 })).toBeGreaterThan(0.98 * steam);
    expect(speedOfSound({ temperature: 100, humidity: limit * 0.999 })).toBeLessThan(steam);
    for (let temperature = -73; temperature <= 100; temperature += 1) {
      for (const pressure of [1e4, 3e4, 101_325, 1e6]) {
        for (const humidity of [0, 1, 30, 100]) {
          try {
            const speed = speedOfSound({ temperature, humidity, pressure });
            expect(speed).toBeGreaterThan(280);
            expect(speed).toBeLessThan(480);
          } catch (error) {
            expect(error).toBeInstanceOf(DividingNetworkError);
          }
        }
      }
    }
  });
});

describe("copper (IEC 60028, recalled-then-recomputed)", () => {
  it("has 1/58 Ω mm²/m at 20 °C, the stated coefficients at other temperatures, and R(75)/R(20) = 1.21615", () => {
    expect(copperResistivity() * 1e6).toBeCloseTo(0.0172413793, 10);
    expect(copperResistivity({ temperature: 75 }) / copperResistivity()).toBeCloseTo(1.21615, 6);
    // α at T₀ is 1/(T₀ + 234.45): 0.00426525 at 0 °C, 0.00385426 at 25 °C.
    const coefficient = (t: number): number =>
      (copperResistivity({ temperature: t + 1 }) - copperResistivity({ temperature: t })) / copperResistivity({ temperature: t });
    expect(coefficient(0)).toBeCloseTo(0.00426525, 8);
    expect(coefficient(25)).toBeCloseTo(0.00385426, 8);
    expect(() => copperResistivity({ temperature: NaN })).toThrow(DividingNetworkError);
  });
});
