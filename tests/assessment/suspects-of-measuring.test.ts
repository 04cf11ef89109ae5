// Tests src/assessment/suspects/: faults.ts, trial.ts, groups.ts
// Tests src/assessment/: suspect-text.ts
// What is wrong with how drivers were measured: another drive than noted, and two files of impedance taken for each other's. The whole is that of a right
// drawing, so that the dB and the names are known beforehand.
import { suspects, suspectText } from "dividing-network/assessment";
import { predict, type Loudspeaker } from "dividing-network/loudspeaker";
import { solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { scaleResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { faultyCase } from "./faulty-networks";

const { drawn, measured } = faultyCase(30_001)!;
const grid = logGrid(30, 18_000, 280);
const asBuilt = {
  impedance: solve(drawn.network as never, grid).impedance,
  pressures: predict(drawn, { places: measured.pressures, voltage: 2.83 }).places.map((place) => ({ ...place, voltage: 2.83, response: place.sum })),
}; // prettier-ignore
const pressures = asBuilt.pressures.map(({ distance, azimuth, elevation, voltage, response }) => ({
  distance,
  azimuth,
  elevation,
  voltage,
  response,
}));
const whole = { impedance: asBuilt.impedance, pressures };
const louder = (names: readonly string[], db: number): Loudspeaker => ({
  ...drawn,
  drivers: drawn.drivers.map((driver) => ({
    ...driver,
    pressures: driver.pressures.map((each) =>
      names.includes(driver.name) ? { ...each, response: scaleResponse(each.response, 10 ** (db / 20)) } : each,
    ),
  })),
});
const named = (found: ReturnType<typeof suspects>) => [found[0]!, ...(found[0]!.alike ?? [])];

describe("how a driver was measured", () => {
  it("is suspected where it was at another drive than noted, with the dB", () => {
    expect(suspects(drawn, whole)).toEqual([]);
    for (const db of [-9, 6]) {
      const first = suspects(louder(["tweeter"], db), whole);
      expect(first[0]).toMatchObject({ parts: ["tweeter"], fault: "drive", unit: "dB", explains: true });
      // Noted 6 dB too loud, it plays 6 dB quieter than that.
      expect(first[0]!.value).toBeCloseTo(-db, 2);
      expect(suspectText(first[0]!)).toContain(
        `tweeter ${Math.abs(db).toFixed(1)} dB ${db > 0 ? "quieter" : "louder"} than measured alone`,
      );
      if (first[0]!.alike !== undefined) expect(first[0]!.wouldTell).toContain("with a meter at the terminals");
    }
  });

  it("is suspected of all together where the whole was", () => {
    const first = suspects(louder(["woofer", "tweeter"], -6), whole)[0]!;
    expect(first).toMatchObject({ parts: ["woofer", "tweeter"], fault: "drive", explains: true });
    expect(first.value).toBeCloseTo(6, 2);
  });

  it("is suspected where the files of two impedances were exchanged", () => {
    const { woofer, tweeter } = drawn.network as unknown as Record<string, readonly [unknown, ...string[]]>;
    const network = {
      ...drawn.network,
      woofer: [tweeter![0], ...woofer!.slice(1)],
      tweeter: [woofer![0], ...tweeter!.slice(1)],
    } as unknown as Loudspeaker["network"];
    const found = suspects({ ...drawn, network }, whole);
    expect(found[0]).toMatchObject({ parts: ["woofer", "tweeter"], fault: "impedances exchanged", explains: true });
    expect(suspectText(found[0]!)).toContain("the impedances of woofer and tweeter exchanged");
    // The drivers themselves in each other's place would sound otherwise; impedance alone can't tell.
    expect(named(suspects({ ...drawn, network }, { impedance: whole.impedance })).map(({ fault }) => fault).sort()).toEqual(["exchanged", "impedances exchanged"]); // prettier-ignore
  });
});
