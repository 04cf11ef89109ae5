// Tests src/project/: fit-delays.ts
// A driver on a clock of its own: its delay is fitted to the whole loudspeaker as measured. By construction the answer is known: the phase of each file of the
// example's tweeter is turned by a delay of our choice before it is read.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkModel } from "dividing-network/assessment";
import { loudspeaker, predict, pressurePerVolt, type PressurePerVolt } from "dividing-network/loudspeaker";
import { logGrid } from "dividing-network/numeric";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import { readProject, type LoadedProject } from "dividing-network/project";
import { frequencyResponse, type Mark } from "dividing-network/response";
import { fitTimeZeros } from "../../src/project/fit-time-zero";
import type { MeasuredLoudspeakerPressure } from "../../src/project/loaded-project";
import {
  load,
  over,
  plus,
  projectData,
  projectFiles,
  reIm,
  times,
  turned,
  tweeterImpedance,
  wooferImpedance,
  type Complexish,
} from "../support/fixture";

const folder = join(import.meta.dirname, "../../examples/desk-monitor");
const degreesOf = (f: number, delay: number) => 360 * f * delay;

/** The example, on and near the axis alone, one driver measured `late` seconds after the others' instant. */
async function withClock(
  late: Readonly<Record<string, number>>,
  change: (project: {
    measurements: { of: string; quantity: string; timeZero: unknown; files: { azimuth: number; elevation: number }[]; distance?: number }[];
  }) => void = () => undefined,
): Promise<LoadedProject> {
  const project = JSON.parse(readFileSync(join(folder, "project.json"), "utf8")) as Parameters<typeof change>[0];
  project.measurements = project.measurements.filter(({ distance }) => distance !== 2);
  for (const measurement of project.measurements) {
    if (measurement.quantity !== "pressure") continue;
    measurement.files = measurement.files.filter(({ azimuth, elevation }) => Math.abs(azimuth) <= 10 && elevation === 0);
    if (late[measurement.of] !== undefined) measurement.timeZero = { common: false };
  }
  change(project);
  const readFile = async (path: string): Promise<string> => {
    const text = readFileSync(join(folder, path), "utf8");
    const driver = Object.keys(late).find((name) => path.startsWith(`data/${name}-`) && !path.includes("impedance"));
    if (driver === undefined) return text;
    const [separator, decimal] = driver === "woofer" ? ["\t", "."] : [";", ","];
    return text
      .split("\n")
      .map((line) => {
        if (!/^[0-9]/.test(line)) return line;
        const [f, level, phase] = line.split(separator).map((cell) => Number(cell.replace(",", ".")));
        // A clock that starts later sees the sound earlier: its phase lags less.
        const turned = phase! + degreesOf(f!, late[driver]!);
        return [f!.toPrecision(8), level!.toFixed(3), ((((turned % 360) + 540) % 360) - 180).toFixed(2)]
          .map((cell) => cell.replace(".", decimal))
          .join(separator);
      })
      .join("\n");
  };
  return readProject(JSON.stringify(project), { readFile });
}

describe("a driver on a clock of its own", () => {
  it.each([0.4e-3, -1.3e-3, 2.1e-3])(
    "that starts %s s late has its delay fitted, as well as the data allow, and what was fitted to no longer checks the model",
    async (late) => {
      const { timeZeros, measured, found, notes } = await withClock({ tweeter: late });
      expect(timeZeros.map(({ driver, azimuth }) => [driver, azimuth])).toEqual([
        ["tweeter", -10],
        ["tweeter", 0],
        ["tweeter", 10],
      ]);
      // 3 mm of error for each driver in the measurement of the whole: 4.2 mm between them, and three of these.
      for (const { delay } of timeZeros) expect(Math.abs(delay - late) * 344).toBeLessThan(0.013);
      expect(measured.pressures).toEqual([]);
      expect(measured.impedance).toBeDefined();
      expect(notes.filter(({ code }) => code === "time-zero-fitted")).toHaveLength(3);
      expect(notes.find(({ code }) => code === "time-zero-fitted")!.message).toMatch(
        /tweeter .* fitted at 1 m, azimuth -10°.* no longer checks the model/,
      );
      const axis = predict(found).places.find(({ azimuth }) => azimuth === 0)!;
      expect(axis.sum.marks!.some(({ kind, note }) => kind === "model" && note.includes("time zero of tweeter was fitted"))).toBe(true);
    },
  );

  it("or both drivers on clocks of their own", async () => {
    const { timeZeros, measured } = await withClock({ woofer: 0.9e-3, tweeter: -0.5e-3 });
    expect(timeZeros).toHaveLength(3);
    for (const { delay } of timeZeros) expect(Math.abs(delay - (-0.5e-3 - 0.9e-3)) * 344).toBeLessThan(0.013);
    expect(measured.pressures).toEqual([]);
  });

  it("is left out where the whole wasn't measured, and measurements that nothing was fitted to go on checking the model", async () => {
    const { found, notes, measured } = await withClock({ tweeter: 1e-3 }, ({ measurements }) => {
      for (const measurement of measurements)
        if (measurement.of === "loudspeaker" && measurement.quantity === "pressure")
          measurement.files = measurement.files.filter(({ azimuth }) => azimuth === 0);
    });
    expect(predict(found).places.map(({ azimuth }) => azimuth)).toEqual([0]);
    expect(notes.some(({ code }) => code === "place-left-out")).toBe(true);
    expect(measured.pressures).toEqual([]);
  });

  it("which really is on the common one, is left alone", async () => {
    const { timeZeros, measured, found } = await withClock({});
    expect(timeZeros).toEqual([]);
    expect(measured.pressures).toHaveLength(3);
    expect(checkModel(found, measured).levelDb).toBeLessThan(1);
  });

  it("is left alone where no delay makes the whole: one measured at a thousandth of its voltage", async () => {
    const { timeZeros, measured, notes } = await withClock({ tweeter: 1e-3 }, ({ measurements }) => {
      for (const measurement of measurements)
        if (measurement.of === "loudspeaker" && measurement.quantity === "pressure")
          Object.assign(measurement, { drive: { voltage: 2830, at: "input" } });
    });
    expect(timeZeros).toEqual([]);
    expect(measured.pressures).toHaveLength(3);
    expect(notes.find(({ code }) => code === "time-zero-not-fitted")!.message).toMatch(
      /at most half of the louder branch may be left, got [\d.]+ times/,
    );
  });

  it("says so where another answer fits as well: two flat drivers in phase leave the sign of the offset open", async () => {
    const data = projectData();
    data.networks.found.parts = [
      { name: "woofer", kind: "driver", nodes: ["in", "gnd"] },
      { name: "tweeter", kind: "driver", nodes: ["in", "gnd"] },
    ] as never;
    data.measurements[1].timeZero = { common: false };
    const flat = reIm(() => ({ re: 1, im: 0 }));
    const whole = {
      ...structuredClone(data.measurements[1]),
      of: "loudspeaker",
      timeZero: { common: true },
      columns: "re-im",
      drive: { voltage: 2, at: "input" },
      files: [{ azimuth: 0, elevation: 0, file: "data/both.txt" }],
    };
    data.measurements.push(whole);
    data.measurements[0].drive = data.measurements[1].drive = { voltage: 2, at: "terminals" };
    data.amplifier = { outputResistance: 0, cableResistance: 0, cableInductance: 0 } as never;
    const both = reIm((f) => plus({ re: 1, im: 0 }, times({ re: 1, im: 0 }, turned(1, -360 * f * 50e-6))));
    const { notes, timeZeros } = await load(data, {
      ...projectFiles(),
      "data/woofer.txt": flat,
      "data/tweeter.txt": flat,
      "data/both.txt": both,
    });
    expect(Math.abs(timeZeros[0]!.delay)).toBeCloseTo(50e-6, 7);
    expect(timeZeros[0]!.runnerUp!.misfitRatio).toBeLessThan(1.5);
    expect(notes.find(({ code }) => code === "time-zero-ambiguous")!.message).toMatch(
      /it isn't certain: the drawn polarity and a path 34 mm (shorter|longer)/,
    );
  });
});

/** Three drivers on branches of their own from an ideal source, so that each voltage is a divider; drivers with slopes of their own. */
function threeWay(seed: number, clocks: Readonly<Record<string, number>>, noise: number) {
  const j = (x: number) => ({ re: 0, im: x });
  const w = (f: number) => 2 * Math.PI * f;
  const pole = (f: number, at: number) => over({ re: 1, im: 0 }, { re: 1, im: f / at });
  const zero = (f: number, at: number) => over({ re: 0, im: f / at }, { re: 1, im: f / at });
  const drivers = {
    woofer: {
      z: wooferImpedance,
      series: (f: number) => j(w(f) * 2e-3),
      p: (f: number) => times(turned(0.4, -360 * f * 2.95e-3), pole(f, 1500)),
      parts: [
        { name: "L1", kind: "inductor", inductance: 2e-3, dcr: 0, nodes: ["in", "w"] },
        { name: "woofer", kind: "driver", nodes: ["w", "gnd"] },
      ],
    },
    mid: {
      z: tweeterImpedance,
      series: (f: number) => plus(j(w(f) * 0.2e-3), j(-1 / (w(f) * 60e-6))),
      p: (f: number) => times(turned(0.35, -360 * f * 2.91e-3), times(pole(f, 6000), zero(f, 200))),
      parts: [
        { name: "C1", kind: "capacitor", capacitance: 60e-6, nodes: ["in", "m1"] },
        { name: "L2", kind: "inductor", inductance: 0.2e-3, dcr: 0, nodes: ["m1", "m"] },
        { name: "mid", kind: "driver", nodes: ["m", "gnd"] },
      ],
    },
    tweeter: {
      z: tweeterImpedance,
      series: (f: number) => j(-1 / (w(f) * 6e-6)),
      p: (f: number) => times(turned(0.3, -360 * f * 2.92e-3), zero(f, 1000)),
      parts: [
        { name: "C2", kind: "capacitor", capacitance: 6e-6, nodes: ["in", "t"] },
        { name: "tweeter", kind: "driver", nodes: ["t", "gnd"] },
      ],
    },
  };
  let state = seed;
  const chance = () => ((state = (1103515245 * state + 12345) % 2 ** 31) / 2 ** 31 - 0.5) * Math.sqrt(12);
  const noisy = (value: Complexish) => times(value, { re: 1 + noise * chance(), im: noise * chance() });
  const names = Object.keys(drivers) as (keyof typeof drivers)[];
  const data = projectData();
  data.amplifier = { outputResistance: 0, cableResistance: 0, cableInductance: 0 };
  data.drivers = names.map((name, index) => ({
    name,
    position: { x: 0, y: 0, z: 0.1 * index },
    impedance: { file: `data/${name}-z.txt`, columns: "re-im" },
    role: name === "mid" ? "midrange" : name,
  }));
  const one = data.measurements[0];
  data.measurements = [...names, "loudspeaker"].map((of) => ({
    ...one,
    of,
    ...(of === "loudspeaker" ? { drive: { voltage: 2, at: "input" } } : {}),
    timeZero: { common: !(of in clocks) },
    files: [{ azimuth: 0, elevation: 0, file: `data/${of}.txt` }],
  }));
  const parts = names.flatMap((name) => drivers[name].parts);
  data.networks = { found: { parts }, proposed: { parts } };
  const files = Object.fromEntries(
    names.flatMap((name) => [
      [`data/${name}-z.txt`, reIm(drivers[name].z)],
      [
        `data/${name}.txt`,
        reIm((f) => noisy(times({ re: 2, im: 0 }, times(drivers[name].p(f), turned(1, 360 * f * (clocks[name] ?? 0)))))),
      ],
    ]),
  );
  const branch = (name: keyof typeof drivers, f: number) =>
    times(drivers[name].p(f), over(drivers[name].z(f), plus(drivers[name].z(f), drivers[name].series(f))));
  return load(data, {
    ...files,
    "data/loudspeaker.txt": reIm((f) => noisy(times({ re: 2, im: 0 }, names.map((name) => branch(name, f)).reduce(plus)))),
  });
}

describe("three drivers on clocks of their own", () => {
  it.each([
    [1, { mid: 0.7e-3, tweeter: -1.1e-3 }],
    [2, { mid: -2.2e-3, tweeter: 3.4e-3 }],
    [3, { woofer: 1.5e-3, mid: 0.2e-3, tweeter: -0.6e-3 }],
    [4, { woofer: -0.4e-3, tweeter: 0.9e-3 }],
    [5, { woofer: 5e-3, mid: -3e-3, tweeter: 1e-3 }],
  ])(
    "have their delays fitted together, with errors that hold them: seed %s, %o",
    async (seed, clocks: Readonly<Record<string, number>>) => {
      const { timeZeros, measured, found, notes } = await threeWay(seed, clocks, 0.01);
      const all = "woofer" in clocks && "mid" in clocks;
      const [free, base] = all ? [["mid", "tweeter"], clocks["woofer"]!] : [Object.keys(clocks), 0];
      expect(timeZeros.map(({ driver }) => driver).sort()).toEqual([...free].sort());
      for (const { driver, delay, delayUncertainty, misfit } of timeZeros) {
        expect(Math.abs(delay - (clocks[driver]! - base)), driver).toBeLessThan(5 * delayUncertainty);
        expect(delayUncertainty * 343).toBeLessThan(0.003);
        expect(misfit).toBeLessThan(0.03);
      }
      expect(measured.pressures).toEqual([]);
      expect(notes.filter(({ code }) => code === "time-zero-fitted" || code === "time-zero-ambiguous")).toHaveLength(free.length);
      expect(predict(found).places).toHaveLength(1);
    },
  );

  it("are left alone where the whole isn't theirs", async () => {
    const data = await threeWay(6, { mid: 1e-3, tweeter: 2e-3 }, 30);
    expect(data.timeZeros).toEqual([]);
    expect(data.notes.find(({ code }) => code === "time-zero-not-fitted")!.message).toMatch(
      /the delay of mid and tweeter against the others/,
    );
  });
});

describe("an end without data", () => {
  // A tweeter that starts 0.8 ms after the woofer's time zero, and a whole that is nonsense below 220 Hz and above 10 kHz.
  const grid = logGrid(100, 12_000, 240);
  const late = 0.8e-3;
  const sampled = (of: (f: number) => Complexish, marks: readonly Mark[] = []) => {
    const values = [...grid].map(of);
    return frequencyResponse(grid, values.map(({ re }) => re), values.map(({ im }) => im), marks); // prettier-ignore
  };
  const [cone, dome] = [
    (f: number) => over(turned(0.4, -360 * f * 2.9e-3), { re: 1, im: f / 2500 }),
    (f: number) => times(turned(0.3, -360 * f * 2.9e-3), over({ re: 0, im: f / 1500 }, { re: 1, im: f / 1500 })),
  ] as const;
  const drive = { voltage: 1, at: "terminals" } as const;
  const pressures = new Map([
    ["woofer", [pressurePerVolt({ response: sampled(cone), drive, distance: 1, timeZero: "common", label: "w" })]],
    [
      "tweeter",
      [
        pressurePerVolt({
          response: sampled((f) => times(dome(f), turned(1, 360 * f * late))),
          drive,
          distance: 1,
          timeZero: "unknown",
          label: "t",
        }),
      ],
    ],
  ]);
  const network = {
    L1: [inductor(0.6e-3), "in", "w"],
    woofer: [resistor(6), "w", "gnd"],
    C1: [capacitor(8e-6), "in", "t"],
    tweeter: [resistor(6), "t", "gnd"],
  } as const;
  const built = (of: ReadonlyMap<string, readonly PressurePerVolt[]>) =>
    loudspeaker({ network, drivers: [...of].map(([name, list]) => ({ name: name as "woofer" | "tweeter", pressures: list })) }) as never;
  const fit = (marks: readonly Omit<Mark, "note">[]) => {
    const w = (f: number) => 2 * Math.PI * f;
    const truth = (f: number) =>
      plus(
        times(cone(f), over({ re: 6, im: 0 }, { re: 6, im: w(f) * 0.6e-3 })),
        times(dome(f), over({ re: 6, im: 0 }, { re: 6, im: -1 / (w(f) * 8e-6) })),
      );
    const response = sampled(
      (f) => times(truth(f), { re: f < 220 || f > 10_000 ? 30 : 1, im: 0 }),
      marks.map((mark) => ({ ...mark, note: "a gate" }) as Mark),
    );
    const whole = { distance: 1, azimuth: 0, elevation: 0, voltage: 1, response, label: "whole" } as unknown as MeasuredLoudspeakerPressure;
    return fitTimeZeros(built, pressures, [whole]);
  };

  it.each([
    [{ kind: "no-data", to: 250 }, { kind: "no-data", from: 9000 }],
    [{ kind: "no-data", from: 100, to: 250 }, { kind: "no-data", from: 9000, to: 12_000 }],
    [{ kind: "coarse", from: 50, to: 250 }, { kind: "coarse", from: 9000, to: 20_000 }],
  ] as const)("is nothing to fit to, be it open or stated: %o, %o", (...marks) => {
    const { fitted, notes } = fit(marks);
    expect(fitted.map(({ driver }) => driver), notes[0]?.message).toEqual(["tweeter"]);
    expect(Math.abs(fitted[0]!.delay - late)).toBeLessThan(2e-6);
    expect(fitted[0]!.misfit).toBeLessThan(0.01);
  }); // prettier-ignore

  it("leaves nothing where it is all there is, and says so", () => {
    const { fitted, notes } = fit([{ kind: "no-data" }]);
    expect(fitted).toEqual([]);
    expect(notes[0]!.message).toContain("must share an octave that can be trusted, got no band");
  });
});

describe("a near field joined to the rest", () => {
  const marksWith = async (nearField: object) => {
    const data = projectData();
    data.measurements[0].nearField = nearField;
    const { found, notes } = await load(data);
    return { mark: found.drivers[0]!.pressures[0]!.response.marks!.find(({ note }) => note.includes("near field")), notes };
  };

  it("is a splice where its space and baffle are stated", async () => {
    const { mark, notes } = await marksWith({ below: "400 Hz", space: "full", baffle: { width: "20 cm", height: 0.3 } });
    expect(mark).toMatchObject({ kind: "splice", to: 400 });
    expect(mark!.note).toMatch(/carried into full space with the step of a baffle of 200 mm × 300 mm/);
    expect(notes.some(({ code }) => code === "near-field-not-placed")).toBe(false);
  });

  it.each([[{ below: 400 }], [{ below: 400, space: "full" }]])("is marked as uncertain where they aren't: %o", async (nearField) => {
    const { mark, notes } = await marksWith(nearField);
    expect(mark).toMatchObject({ kind: "uncertain", to: 400 });
    expect(notes.find(({ code }) => code === "near-field-not-placed")!.message).toMatch(/6 dB/);
  });
});
