// Source: after IEC 60268-1, amendment 2: third-octave levels of the simulated programme signal, against pink noise.
// Provenance: from memory; a smooth curve fits the list to 0.1 dB, which shows that it is smooth and confirms no level.
import { network, stress } from "dividing-network/network";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { expect, it } from "vitest";
import { published } from "./standing";

const levelDb = [
  "-13.5",
  "-10.2",
  "-7.4",
  "-5.2",
  "-3.5",
  "-2.3",
  "-1.4",
  "-0.9",
  "-0.5",
  "-0.2",
  "-0.1",
  "0",
  "0",
  "0",
  "0",
  "0",
  "0",
  "-0.1",
  "-0.3",
  "-0.6",
  "-1.0",
  "-1.6",
  "-2.5",
  "-3.7",
  "-5.1",
  "-7.0",
  "-9.4",
  "-11.9",
  "-14.8",
  "-18.2",
  "-21.6",
];

published("from-memory", "simulated programme signal (IEC 60268-1)", () => {
  it("has in each third octave the level remembered: what a sharp resonance there takes", () => {
    // A band-pass of Q 200 takes a share of the power in proportion to the level at its middle.
    const taken = (frequency: number, spectrum: "pink" | "programme") => {
      const henries = 200 / (2 * Math.PI * frequency);
      return stress(
        network({
          L1: [inductor(henries), "in", "a"],
          C1: [capacitor(1 / ((2 * Math.PI * frequency) ** 2 * henries)), "a", "b"],
          R1: [resistor(1), "b", "gnd"],
        }),
        { voltage: 1, spectrum },
      ).parts.R1.power.mean;
    };
    const middle = taken(1000, "programme") / taken(1000, "pink");
    levelDb.forEach((digits, k) => {
      if (k < 2 || k > 28) return;
      const frequency = 1000 * 10 ** ((k - 17) / 10);
      const found = 10 * Math.log10(taken(frequency, "programme") / taken(frequency, "pink") / middle) + Number(levelDb[17]);
      // Half a digit, and what the straight lines between third octaves add.
      expect(Math.abs(found - Number(digits)), `${frequency.toFixed(0)} Hz`).toBeLessThan(0.06);
    });
  });
});
