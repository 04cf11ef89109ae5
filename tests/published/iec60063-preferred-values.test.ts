// Source: IEC 60063, preferred number series for resistors and capacitors.
// Provenance: E24 recalled-then-recomputed (the digits were recalled; 16 of 24 follow from rounding 10^(i/24), the other
// eight do not); E48 and E96 recomputed from the rounding rule; the exception of E192, 9.20, from memory.
import { Decimal } from "decimal.js";
import { preferredValues } from "dividing-network/quantity";
import { expect, it } from "vitest";
import { published } from "./standing";

const e24 = "1.0 1.1 1.2 1.3 1.5 1.6 1.8 2.0 2.2 2.4 2.7 3.0 3.3 3.6 3.9 4.3 4.7 5.1 5.6 6.2 6.8 7.5 8.2 9.1".split(" ");

/** 10^(i/n) to the decimal places given, by 40-digit arithmetic. */
function rule(count: number, places: number): string[] {
  const Precise = Decimal.clone({ precision: 40 });
  return Array.from({ length: count }, (_, i) => new Precise(10).pow(new Precise(i).div(count)).toFixed(places));
}

published("recalled-then-recomputed", "preferred values after IEC 60063", () => {
  it("are the historical list for E24", () => {
    expect(preferredValues("E24").map((value) => value.toFixed(1))).toEqual(e24);
  });

  it("are every second, fourth and eighth value of it for E12, E6 and E3", () => {
    expect(preferredValues("E12").map((value) => value.toFixed(1))).toEqual("1.0 1.2 1.5 1.8 2.2 2.7 3.3 3.9 4.7 5.6 6.8 8.2".split(" "));
    expect(preferredValues("E6").map((value) => value.toFixed(1))).toEqual("1.0 1.5 2.2 3.3 4.7 6.8".split(" "));
    expect(preferredValues("E3").map((value) => value.toFixed(1))).toEqual("1.0 2.2 4.7".split(" "));
  });

  it("depart from the rounding rule in eight places of E24", () => {
    const rounded = rule(24, 1);
    const departures = e24.filter((value, i) => value !== rounded[i]);
    expect(departures).toEqual(["2.7", "3.0", "3.3", "3.6", "3.9", "4.3", "4.7", "8.2"]);
    expect(rounded.filter((value, i) => value !== e24[i])).toEqual(["2.6", "2.9", "3.2", "3.5", "3.8", "4.2", "4.6", "8.3"]);
    expect(
      preferredValues("E24")
        .filter((value, i) => value.toFixed(1) !== rounded[i])
        .map((value) => value.toFixed(1)),
    ).toEqual(departures);
  });
});

published("recomputed", "preferred values after IEC 60063", () => {
  it("follow the rounding rule in E48 and E96", () => {
    expect(preferredValues("E48").map((value) => value.toFixed(2))).toEqual(rule(48, 2));
    expect(preferredValues("E96").map((value) => value.toFixed(2))).toEqual(rule(96, 2));
    const e96 = preferredValues("E96");
    expect([0, 1, 2, 48, 95].map((i) => e96[i]!.toFixed(2))).toEqual(["1.00", "1.02", "1.05", "3.16", "9.76"]);
  });
});

published("from-memory", "preferred values after IEC 60063", () => {
  it("follow the rounding rule in E192 too, but for 9.20 in the place of 9.19", () => {
    const expected = rule(192, 2);
    expect(expected[185]).toBe("9.19");
    expected[185] = "9.20";
    expect(preferredValues("E192").map((value) => value.toFixed(2))).toEqual(expected);
  });
});
