// Tests src/assessment/suspects/: faults.ts, fit.ts, groups.ts, misfit-of-drawing.ts, misfit.ts, observed.ts, redrawn.ts
// Tests src/assessment/suspects/: repeatability.ts, trial.ts, try-fault.ts
// Tests src/network/solve/: nodal-changes.ts, nodal-solution.ts
// Faults are built into networks that are drawn without them, the whole is "measured" with 1 % of noise, and the search must name the fault.
// The measurement is made by the solver from the faulty network; the search uses changes of one solved network instead (Woodbury's identity,
// published as M. A. Woodbury, "Inverting modified matrices", 1950; from memory, not verified), so that the two routes share no arithmetic.
import { assess, compare, suspects, suspectText } from "dividing-network/assessment";
import { loudspeaker, predict, pressurePerVolt, type Loudspeaker } from "dividing-network/loudspeaker";
import { solve } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, inductor, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { faultyCase } from "./faulty-networks";

describe("what no single fault explains", () => {
  const { drawn, measured } = faultyCase(30_001)!;
  const redraw = (more: object): Loudspeaker => ({ ...drawn, network: { ...drawn.network, ...more } as unknown as Loudspeaker["network"] });
  const changed = (factor: (f: number) => number) => ({
    ...measured,
    pressures: measured.pressures.map((whole) => {
      const { frequencies, re, im } = whole.response;
      return {
        ...whole,
        response: frequencyResponse(
          frequencies,
          re.map((x, i) => x * factor(frequencies[i]!)),
          im.map((x, i) => x * factor(frequencies[i]!)),
        ),
      };
    }),
  });

  it("is told from what one does: a single fault leaves no more than the repeatability", () => {
    const [first] = suspects(drawn, measured);
    expect(first).toMatchObject({ parts: ["C2"], fault: "loss", explains: true });
    // The capacitance that fits beside the ohms is told: here it is as drawn.
    const [part] = drawn.network["C2"] as unknown as [{ capacitance: number }];
    expect(first!.capacitance! / part.capacitance).toBeCloseTo(1, 1);
  });

  it("is said of two faults at once, and of a wrong value beside the fault", () => {
    const [coil, ...nodes] = drawn.network["L1"] as unknown as [{ inductance: number; dcr: number }, ...string[]];
    const two = suspects(redraw({ L1: [inductor(2 * coil.inductance, { dcr: coil.dcr }), ...nodes] }), measured);
    expect(two.length).toBeGreaterThan(0);
    for (const { explains } of two) expect(explains).toBe(false);
    // Each of the two is among the first few all the same.
    expect(two.slice(0, 5).map(({ parts, fault }) => `${parts.join()} ${fault}`)).toContain("L1 value");
  });

  it("is said of responses that a microphone tilted, and of a drive that was noted wrong", () => {
    for (const factor of [(f: number) => 10 ** ((1.5 * Math.log2(f / 1000)) / 20), () => 2]) {
      const found = suspects(drawn, changed(factor));
      expect(found.length).toBeGreaterThan(0);
      for (const { explains } of found) expect(explains).toBe(false);
    }
  });

  it("is said of a drawing of another loudspeaker", () => {
    const { woofer, tweeter } = drawn.network as unknown as Record<"woofer" | "tweeter", [unknown, ...string[]]>;
    const bare = {
      ...drawn,
      network: { woofer: [woofer[0], "in", "gnd"], tweeter: [tweeter[0], "in", "gnd"] } as unknown as Loudspeaker["network"],
    };
    for (const { explains } of suspects(bare, measured)) expect(explains).toBe(false);
  });

  it("is said of a tilt that no fault comes near to, rather than that nothing is wrong", () => {
    const sound = predict(drawn, { places: measured.pressures, voltage: 2.83 });
    const pressures = measured.pressures.map((whole, index) => {
      const { frequencies, re, im } = sound.places[index]!.sum;
      const tilt = (x: number, i: number) => x * (frequencies[i]! / 1000) ** 0.5;
      return { ...whole, voltage: 2.83, response: frequencyResponse(frequencies, re.map(tilt), im.map(tilt)) };
    });
    const found = suspects(drawn, { pressures });
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]!.explains).toBe(false);
  });

  it("accuses nobody of having its own value: a coil that nobody drew, before a resistor that is as drawn", () => {
    const response = frequencyResponse([100, 10_000], [1, 1], [0, 0]);
    const pressures = [pressurePerVolt({ response, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" })];
    const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures }] });
    const grid = logGrid(20, 20_000, 200);
    const { impedance } = solve({ L: [inductor(1e-3), "in", "w"], cone: [resistor(8), "w", "gnd"] }, grid);
    const found = suspects(box, { impedance });
    expect(found).toMatchObject([{ parts: [], fault: "unknown", explains: false }]);
    expect(suspectText(found[0]!)).toBe("no single fault that is known");
    const judged = assess(box, { ratedImpedance: 8, goal: { band: { from: 200, to: 5000 } } });
    expect(compare(judged, judged, { measured: { impedance } }).verdict.sentence).toMatch(
      /No single fault of a part or a driver comes nearer to what was measured than the drawing does: more than one thing may be wrong, something that isn't drawn, or a measurement\.$/,
    );
    for (let seed = 7001; seed < 7016; seed++) {
      const made = faultyCase(seed);
      if (made === undefined) continue;
      for (const suspect of suspects(made.drawn, made.measured))
        for (const { parts, fault, value } of [suspect, ...(suspect.alike ?? [])])
          if (fault === "value") {
            const [part] = made.drawn.network[parts[0]!] as unknown as [Record<string, number>];
            const own = part["resistance"] ?? part["inductance"] ?? part["capacitance"] ?? NaN;
            expect(Math.abs(value! / own - 1), `seed ${seed}, ${parts.join()}`).toBeGreaterThan(0.005);
          }
    }
  });

  it("stands in the verdict's sentence", () => {
    const [coil, ...nodes] = drawn.network["L1"] as unknown as [{ inductance: number; dcr: number }, ...string[]];
    const wrong = assess(redraw({ L1: [inductor(2 * coil.inductance, { dcr: coil.dcr }), ...nodes] }), {
      ratedImpedance: 4,
      goal: { limits: "stated" },
    });
    const { verdict } = compare(wrong, wrong, { measured });
    expect(verdict.overall).toBe("no verdict");
    expect(verdict.sentence).toMatch(
      /None of them alone explains what was measured: more than one thing may be wrong, or a measurement\.$/,
    );
  });
});

describe("drawings at the edge of what can be solved", () => {
  const { drawn, measured } = faultyCase(30_001)!;
  it.each<[string, object]>([
    ["a thousandth of an ohm across the input", { R9: [resistor(1e-3), "in", "gnd"] }],
    ["a gigaohm", { R9: [resistor(1e9), "w", "gnd"] }],
    ["a picohenry", { L9: [inductor(1e-12), "w", "gnd"] }],
    ["a farad", { C9: [capacitor(1), "w", "gnd"] }],
  ])("give finite suspects: %s", (_, more) => {
    const found = suspects({ ...drawn, network: { ...drawn.network, ...more } as unknown as Loudspeaker["network"] }, measured);
    for (const { misfit, value = 0 } of found) expect([misfit, value].every(Number.isFinite)).toBe(true);
  });

  it("name what lies across the input as what is not there", () => {
    expect(
      suspects(
        { ...drawn, network: { ...drawn.network, R9: [resistor(1e-3), "in", "gnd"] } as unknown as Loudspeaker["network"] },
        measured,
      )[0],
    ).toMatchObject({ parts: ["R9"], fault: "open" });
  });
});

describe("a drawing with an ideal transformer", () => {
  // What a woofer and a tweeter behind a transformer of 1.5 : 1 are, once with each fault: measured by the solver, searched by changes of one solution.
  const heard = logGrid(100, 20_000, 200);
  const pressures = (gain: number) => [
    pressurePerVolt({
      response: frequencyResponse(
        heard,
        heard.map(() => gain),
        new Float64Array(heard.length),
      ),
      drive: { voltage: 1, at: "terminals" },
      distance: 1,
      timeZero: "common",
    }),
  ];
  const drawn = {
    L1: [inductor(1e-3, { dcr: 0.3 }), "in", "w"],
    woofer: [resistor(6), "w", "gnd"],
    C1: [capacitor(6.8e-6, { esr: 0.05 }), "in", "t"],
    L2: [inductor(0.5e-3, { dcr: 0.3 }), "t", "gnd"],
    T1: [transformer({ ratio: 1.5 }), "t", "gnd", "s", "gnd"],
    tweeter: [resistor(4), "s", "gnd"],
  } as const;
  const box = (network: object): Loudspeaker =>
    loudspeaker({
      network,
      drivers: [
        { name: "woofer", role: "woofer", pressures: pressures(0.1) },
        { name: "tweeter", role: "tweeter", pressures: pressures(0.12) },
      ],
    } as never) as unknown as Loudspeaker;
  const grid = logGrid(50, 20_000, 200);
  const place = { distance: 1, azimuth: 0, elevation: 0 };
  const measured = (network: object) => {
    const whole = box(network);
    const { sum } = predict(whole, { places: [place], voltage: 2 }).places[0]!;
    return { impedance: solve(whole.network as never, grid).impedance, pressures: [{ ...place, response: sum, voltage: 2 }] };
  };

  it("has no suspects where it is as drawn", () => {
    expect(suspects(box(drawn), measured(drawn))).toEqual([]);
  });

  it.each<[string, object, object]>([
    ["another capacitor", { C1: [capacitor(12e-6, { esr: 0.05 }), "in", "t"] }, { parts: ["C1"], fault: "value", value: 12e-6 }],
    ["another driver behind it", { tweeter: [resistor(2), "s", "gnd"] }, { parts: ["tweeter"], fault: "value", value: 2 }],
    ["a coil open", { L2: [resistor(1e9), "t", "gnd"] }, { parts: ["L2"], fault: "open" }],
  ])("names the fault by impedance alone, and with pressures: %s", (_, more, truth) => {
    const { impedance, pressures: whole } = measured({ ...drawn, ...more });
    for (const known of [{ impedance }, { impedance, pressures: whole }]) {
      const [first] = suspects(box(drawn), known);
      const { value, ...rest } = truth as { value?: number };
      expect(first).toMatchObject({ ...rest, explains: true });
      if (value !== undefined) expect(first!.value! / value).toBeCloseTo(1, 3);
    }
  });

  it("tells a winding turned round from the pressures", () => {
    const [first] = suspects(box(drawn), measured({ ...drawn, T1: [transformer({ ratio: 1.5 }), "t", "gnd", "gnd", "s"] }));
    const named = [first!, ...(first!.alike ?? [])].map(({ parts, fault }) => `${parts.join()} ${fault}`);
    expect(named).toContain("T1 reversed");
    expect(first!.explains).toBe(true);
  });
});

describe("something across the input that nobody drew", () => {
  const { drawn } = faultyCase(30_001)!;
  const across = (ohms: number): Loudspeaker => ({
    ...drawn,
    network: { ...drawn.network, R9: [resistor(ohms), "in", "gnd"] } as unknown as Loudspeaker["network"],
  });
  const grid = logGrid(20, 20_000, 200);
  const impedanceOf = (box: Loudspeaker) => solve(box.network as unknown as Parameters<typeof solve>[0], grid).impedance;

  it.each([1e-3, 0.05, 0.6, 20])("is named with its %f Ω, by impedance alone", (ohms) => {
    const [first] = suspects(drawn, { impedance: impedanceOf(across(ohms)) });
    expect(first).toMatchObject({ parts: ["in", "gnd"], fault: "short", unit: "Ω", explains: true });
    expect(first!.value! / ohms).toBeCloseTo(1, 2);
    expect(first!.wouldTell ?? "").toMatch(/^$|Take the wires off behind the terminals/);
  });

  it("is said in words, with the cause of the alike ones looked at behind the terminals", () => {
    expect(suspectText({ parts: ["in", "gnd"], fault: "short", value: 0.6, unit: "Ω", misfit: 0 })).toBe("in and gnd shorted by 0.6 Ω");
    const two = suspects(across(8), { impedance: impedanceOf(across(0.6)) });
    expect([two[0]!, ...two[0]!.alike!].map(({ parts, fault }) => `${parts.join()} ${fault}`)).toEqual(
      expect.arrayContaining(["in,gnd short", "R9 value"]),
    );
    expect(two[0]!.wouldTell).toMatch(/measure the resistance from in to gnd/);
  });

  it("takes level from everything where the source has a resistance, and shows in the pressures alone", () => {
    const weak = { ...drawn, sourceImpedance: 4 } as unknown as Loudspeaker;
    const places = weak.drivers[0]!.pressures.map(({ distance, azimuth, elevation }) => ({ distance, azimuth, elevation }));
    const pressures = predict({ ...across(2), sourceImpedance: 4 } as unknown as Loudspeaker, { places, voltage: 2.83 }).places.map(
      (place) => ({ distance: place.distance, azimuth: place.azimuth, elevation: place.elevation, response: place.sum, voltage: 2.83 }),
    );
    const [first] = suspects(weak, { pressures });
    expect(first).toMatchObject({ parts: ["in", "gnd"], fault: "short", explains: true });
    expect(first!.value).toBeCloseTo(2, 1);
  });
});
