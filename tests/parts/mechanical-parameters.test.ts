import { parametersFromAddedMass, parametersFromKnownVolume, thieleSmall } from "dividing-network/parts";
import { describe, expect, it } from "vitest";

const truth = { re: 5.8, bl: 7, mms: 0.015, cms: 0.8e-3, rms: 1.2, sd: 0.0135 };

describe("mechanical parameters", () => {
  const { fs, qms, qes, vas } = thieleSmall(truth);
  const known = { re: truth.re, fs, qms, qes, sd: truth.sd };

  it.each([
    [
      "an added mass",
      () => parametersFromAddedMass({ ...known, addedMass: "10 g", fsWithMass: 1 / (2 * Math.PI * Math.sqrt(0.025 * 0.8e-3)) }),
    ],
    ["a known volume", () => parametersFromKnownVolume({ ...known, volume: "8 L", fc: fs * Math.sqrt(1 + vas / 0.008) })],
    [
      "a known volume with Q",
      () =>
        parametersFromKnownVolume({ ...known, volume: "8 L", fc: fs * Math.sqrt(1 + vas / 0.008), qec: qes * Math.sqrt(1 + vas / 0.008) }),
    ],
  ])("from %s undo thieleSmall", (_name, find) => {
    const found = find();
    for (const name of ["mms", "cms", "rms", "bl"] as const) expect(found[name] / truth[name], name).toBeCloseTo(1, 9);
    expect(found.vas / vas).toBeCloseTo(1, 9);
    expect(Object.isFrozen(found)).toBe(true);
  });

  it("follow the air that is stated", () => {
    // Vas = ρ c² Sd² Cms; the added mass finds Cms without the air, the box finds Vas without it.
    const air = { air: { density: 1.1, speedOfSound: 350 } };
    const mass = { ...known, addedMass: 0.01, fsWithMass: 1 / (2 * Math.PI * Math.sqrt(0.025 * 0.8e-3)) };
    const [one, other] = [parametersFromAddedMass(mass), parametersFromAddedMass({ ...mass, ...air })];
    expect(other.cms).toBe(one.cms);
    expect(other.vas / (1.1 * 350 ** 2 * 0.0135 ** 2 * one.cms)).toBeCloseTo(1, 12);
    const box = parametersFromKnownVolume({ ...known, ...air, volume: 0.01, fc: 2 * fs });
    expect(box.vas).toBeCloseTo(0.03, 12);
    expect(box.cms / (0.03 / (1.1 * 350 ** 2 * 0.0135 ** 2))).toBeCloseTo(1, 12);
  });

  it("with Q in the box hold although the air load differs there", () => {
    // An eighth more moving mass in the box: fc falls by √(9/8), Qec rises by it, their product stays.
    const stiff = Math.sqrt(1 + vas / 0.008);
    const load = Math.sqrt(9 / 8);
    const found = parametersFromKnownVolume({ ...known, volume: 0.008, fc: (fs * stiff) / load, qec: qes * stiff * load });
    expect(found.vas / vas).toBeCloseTo(1, 9);
  });

  it("refuse a mass that does not lower, and a box that does not raise, the resonance", () => {
    const mass = { ...known, addedMass: "10 g" } as const;
    for (const fsWithMass of [fs, fs + 1e-9, 50])
      expect(() => parametersFromAddedMass({ ...mass, fsWithMass })).toThrow(
        expect.objectContaining({ code: "undetermined", message: expect.stringMatching(/A mass lowers/) }),
      );
    for (const fc of [fs, 40])
      expect(() => parametersFromKnownVolume({ ...known, volume: "8 L", fc })).toThrow(
        expect.objectContaining({ code: "undetermined", message: expect.stringMatching(/must stiffen/) }),
      );
    expect(() => parametersFromKnownVolume({ ...known, volume: "8 L", fc: 2 * fs, qec: qes / 2 })).toThrow(
      /must stiffen the suspension, got 1 times/,
    );
  });

  it("refuse by name what is no driver's", () => {
    const mass = { ...known, addedMass: 0.01, fsWithMass: 30 };
    const box = { ...known, volume: 0.01, fc: 90, qec: 1 };
    for (const name of ["re", "fs", "qms", "qes", "sd", "addedMass", "fsWithMass"]) {
      for (const value of [0, -1, NaN])
        expect(() => parametersFromAddedMass({ ...mass, [name]: value }), name).toThrow(
          new RegExp(`"${name}" must be a finite number above 0`),
        );
    }
    for (const name of ["volume", "fc", "qec"]) {
      for (const value of [0, -1, NaN])
        expect(() => parametersFromKnownVolume({ ...box, [name]: value }), name).toThrow(
          new RegExp(`"${name}" must be a finite number above 0`),
        );
    }
    for (const name of ["density", "speedOfSound"])
      expect(() => parametersFromAddedMass({ ...mass, air: { [name]: 0 } })).toThrow(
        new RegExp(`"air.${name}" must be a finite number at least`),
      );
    expect(() => parametersFromAddedMass({ ...mass, fc: 3 } as never)).toThrow(/unknown option/);
    expect(() => parametersFromKnownVolume({ ...box, addedMass: 3 } as never)).toThrow(/unknown option/);
  });
});
