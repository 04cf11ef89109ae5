// Source: after IEC 61260-1:2014, clause 5 (mid-band frequencies); after IEC 61672-1:2013, table 3 and annex E (A and C weighting).
// Provenance: mid-bands recomputed; weighting seen in a secondary text and recomputed. The standards themselves were not opened.
// Tests src/response/: fractional-octave-bands.ts
import { fractionalOctaveBands, weightingDb } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const midbands = [
  "19.952623",
  "25.118864",
  "31.622777",
  "39.810717",
  "50.118723",
  "63.095734",
  "79.432823",
  "100.000000",
  "125.892541",
  "158.489319",
  "199.526231",
  "251.188643",
  "316.227766",
  "398.107171",
  "501.187234",
  "630.957344",
  "794.328235",
  "1000.000000",
  "1258.925412",
  "1584.893192",
  "1995.262315",
  "2511.886432",
  "3162.277660",
  "3981.071706",
  "5011.872336",
  "6309.573445",
  "7943.282347",
  "10000.000000",
  "12589.254118",
  "15848.931925",
  "19952.62315",
];
const aTable = [
  "-50.5",
  "-44.7",
  "-39.4",
  "-34.6",
  "-30.2",
  "-26.2",
  "-22.5",
  "-19.1",
  "-16.1",
  "-13.4",
  "-10.9",
  "-8.6",
  "-6.6",
  "-4.8",
  "-3.2",
  "-1.9",
  "-0.8",
  "0.0",
  "0.6",
  "1.0",
  "1.2",
  "1.3",
  "1.2",
  "1.0",
  "0.5",
  "-0.1",
  "-1.1",
  "-2.5",
  "-4.3",
  "-6.6",
  "-9.3",
];

published("recomputed", "third-octave bands (IEC 61260-1)", () => {
  const bands = fractionalOctaveBands({ fraction: 3 });
  it("from 20 Hz to 20 kHz are 31", () => expect(bands).toHaveLength(31));
  it("have the exact mid-band frequencies", () => bands.forEach(({ centre }, i) => expectPrinted(centre, midbands[i]!)));
  it("have edges at G^(±1/6) and meet", () => {
    bands.forEach(({ centre, lower, upper }, i) => {
      expect(upper / centre).toBeCloseTo(1.122018, 6);
      expect(lower / centre).toBeCloseTo(0.891251, 6);
      if (i > 0) expect(lower / bands[i - 1]!.upper).toBeCloseTo(1, 12);
    });
  });
  it("even fractions have an edge, not a centre, at 1 kHz", () => {
    const halves = fractionalOctaveBands({ fraction: 2, from: 500, to: 2000 });
    expect(halves.some(({ upper }) => Math.abs(upper - 1000) < 1e-9)).toBe(true);
  });
  it("of one octave are ten from 31.5 Hz to 16 kHz by nominal names", () =>
    expect(fractionalOctaveBands({ fraction: 1, from: 31.5, to: 16000 })).toHaveLength(10));
});

published("seen-in-secondary-text and recomputed", "frequency weighting (IEC 61672-1)", () => {
  it.each(aTable.map((digits, i) => [midbands[i]!, digits] as const))("A at %s Hz is %s dB", (f, digits) =>
    expectPrinted(weightingDb("A", Number(f)), digits),
  );
  it.each([
    ["31.622777", "-3.0"],
    ["63.095734", "-0.8"],
    ["1000", "0.0"],
    ["7943.282347", "-3.0"],
    ["15848.931925", "-8.5"],
    ["19952.62315", "-11.2"],
  ])("C at %s Hz is %s dB", (f, digits) => expectPrinted(weightingDb("C", Number(f)), digits));
  it("is −∞ dB at 0 Hz", () => expect(weightingDb("A", 0)).toBe(-Infinity));
});
